//! The logbook by keys: leafing, searching, changing what was recorded, and what follows from it.

use crate::rig::script::Script;
use rackside::app::logbook::Book;
use rackside::app::model::Screen;
use rackside::domain::exercise::Catalogue;
use rackside::domain::logbook::Logbook;
use rackside::domain::session::{Event, SetRecord};
use rackside::domain::units::Spare;
use rackside::domain::words::Letters;
use rackside::ui::theme::Look;
use std::sync::Arc;

/// At the briefing, one session done: presses, rows each side, a plank.
fn known() -> Script {
    Script::known()
}

fn first_set(script: &Script) -> SetRecord {
    script.sets().first().expect("a set").clone()
}

#[test]
fn one_key_opens_it_and_escape_leads_back() {
    let script = known()
        .keys("b")
        .shows("1 sessions  2 strength")
        .shows("Day 1 · Only");
    let script = script.keys("<enter>").shows("Dumbbell bench press");
    let script = script.keys("<esc><esc>");
    assert!(matches!(script.model.screen, Screen::Briefing(_)));
}

#[test]
fn every_view_is_shown_in_every_size_and_in_ascii() {
    let ascii = Look {
        letters: Letters::Ascii,
        ..Look::default()
    };
    let open = known().keys("b");
    for (key, told) in [
        ("1", "Day 1"),
        ("2", "Dumbbell bench press"),
        ("2<enter>", "bench press, estimated one-rep max"),
        ("3", "hard sets"),
        ("4", "push across"),
        ("5", "e1RM"),
        ("5<enter>", "most work in a session"),
        ("6", ""),
        ("7", "Lifts of the last three weeks"),
    ] {
        let script = open.clone().keys(key);
        for size in [(80, 24), (60, 20), (140, 50)] {
            let screen = script.screen_of(size.0, size.1);
            assert!(screen.contains(told), "{key} {size:?}\n{screen}");
            let screen = script.screen_in(ascii, size).0;
            assert!(
                screen.is_ascii() && !screen.contains('?'),
                "{key}\n{screen}"
            );
        }
    }
    // Right and left go round.
    let script = known()
        .keys("b<left>")
        .shows("Lifts of the last three weeks");
    script.keys("<right>").shows("Day 1 · Only");
}

#[test]
fn a_set_of_an_earlier_session_is_changed_and_taken_back() {
    let script = known();
    let before = first_set(&script);
    let script = script.keys("b<enter>3.1<enter>").shows("set changed");
    assert!(matches!(script.last_event(), Event::Amended { .. }));
    let changed = first_set(&script);
    assert_eq!(
        (changed.done.deciding(), changed.spare),
        (3, Some(Spare::clamped(1)))
    );
    // What is on the screen is what was read anew.
    let script = script.shows("× 3 (1 spare)").keys("u");
    assert!(matches!(script.last_event(), Event::Voided { .. }));
    assert_eq!(first_set(&script), before);
    let script = script.keys("U").shows("brought back");
    assert_eq!(first_set(&script), changed);
    assert_eq!(first_set(&script.keys("u")), before);
}

/// By hand: the rows are the sets behind the presses; a set with sides asks for the other one.
#[test]
fn each_side_of_a_set_is_changed() {
    let script = known();
    let sets = script.sets();
    let row = sets
        .iter()
        .position(|set| set.exercise.as_str() == "one_arm_row");
    let down = "<down>".repeat(row.expect("a row"));
    let script = script.keys("b<enter>").keys(&down).keys("9<enter>");
    let script = script.shows("left 9; the right side?").keys("7<enter>");
    let set = &script.sets()[row.expect("a row")];
    assert_eq!(set.done.by_side(), (9, 7));
    script.shows("9 left and 7 right");
}

#[test]
fn a_load_is_changed_by_name() {
    let script = known().keys("b<enter>w7.5<enter>");
    assert_eq!(first_set(&script).load.to_string(), "7.5 kg");
    let script = script.keys("w0<enter>").shows("is no load");
    assert_eq!(first_set(&script).load.to_string(), "7.5 kg");
}

#[test]
fn a_set_and_a_session_are_voided_and_brought_back() {
    let script = known();
    let number = script.sets().len();
    let script = script.keys("b<enter>x");
    let script = script.shows("the marked set did not happen?").keys("2");
    assert_eq!(script.sets().len(), number - 1);
    let script = script.keys("u");
    assert_eq!(script.sets().len(), number);
    let script = script.keys("X2");
    assert_eq!(script.sets().len(), 0);
    let script = script.keys("u");
    assert_eq!(script.sets().len(), number);
    // No, and nothing is voided.
    let script = script.keys("<enter>x1");
    assert_eq!(script.sets().len(), number);
}

/// What was changed is what the next session is drawn up from.
#[test]
fn what_comes_next_is_drawn_up_anew() {
    let last = |script: &Script| {
        let item = &script.briefing().items[0];
        let outing = item.last.as_ref().expect("it was done");
        outing
            .sets
            .iter()
            .map(|set| set.record.done.deciding())
            .collect::<Vec<_>>()
    };
    let before = known();
    let after = before.clone().keys("b<enter>1<enter><esc><esc>");
    assert_ne!(last(&before), last(&after));
    assert_eq!(last(&after)[0], 1);
    let told = |script: &Script| script.model.past.sessions[0].sets[0].record.done.deciding();
    assert_eq!(told(&after), 1);
    // A session that never happened leaves nothing to go by.
    let after = before.keys("b<enter>X2<esc>");
    assert!(after.briefing().items[0].last.is_none());
    assert_eq!(after.model.past.sessions.len(), 0);
}

#[test]
fn a_search_keeps_what_mentions_the_text() {
    let script = known().keys("b/").shows("search:");
    let script = script
        .keys("row<enter>")
        .shows("with \"row\"")
        .shows("Day 1 · Only");
    let script = script
        .keys("/<bs><bs><bs>nowhere<enter>")
        .shows("nothing to show here");
    let script = script.keys("<esc>").shows("Day 1 · Only");
    script.keys("2/row<enter>").shows("One-arm row");
}

#[test]
fn pain_is_one_key_from_here_too() {
    let script = known().keys("bp").shows("Where does it hurt?");
    assert!(matches!(script.model.screen, Screen::Briefing(_)));
}

/// The logbook of one session, where none was read.
fn read_in_part(script: Script) -> Script {
    let mut script = script.keys("b");
    let Screen::Logbook(screen) = &script.model.screen else {
        panic!("no logbook");
    };
    let book = screen.book.as_ref().expect("a book");
    let mut sessions = book.history.sessions.clone();
    let history = Arc::new(
        book.history
            .as_ref()
            .clone()
            .reaching(sessions.split_off(1)),
    );
    let logbook = Logbook::of(&history, &Catalogue::default(), None);
    let part = Book {
        earlier: history.forgotten,
        logbook,
        history,
        ..book.as_ref().clone()
    };
    assert_eq!(part.earlier, 1);
    let Screen::Logbook(screen) = &mut script.model.screen else {
        panic!("no logbook");
    };
    screen.book = Some(Arc::new(part));
    script
}

fn sessions_read(script: &Script) -> usize {
    let Screen::Logbook(screen) = &script.model.screen else {
        panic!("no logbook");
    };
    let book = screen.book.as_ref().expect("a book");
    book.history.sessions.len()
}

#[test]
fn further_back_is_read_where_the_screen_looks_further_back() {
    let part = read_in_part(known());
    assert_eq!(sessions_read(&part), 0);
    // Months are enough for these.
    let part = part.keys("3");
    assert_eq!(sessions_read(&part), 0);
    for keys in ["1", "5", "6"] {
        assert_eq!(sessions_read(&part.clone().keys(keys)), 1, "{keys}");
    }
}
