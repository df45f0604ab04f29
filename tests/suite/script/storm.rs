//! Ten thousand random keys, sizes and jumps of the clocks: no panic, no lost set, no impossible
//! screen.

use crate::rig::script::Script;
use rackside::app::keymap::Key;
use rackside::app::model::Screen;
use rackside::app::msg::Msg;
use rackside::domain::session::{Event, Session, resolve};
use rackside::domain::units::Civil;
use rackside::ui::lines::{Entered, Teller, entered, standing};
use rackside::ui::theme::Look;
use rackside::ui::title;

/// Numbers from a seed (Steele et al. 2014, SplitMix64).
struct Chance(u64);

impl Chance {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    fn below(&mut self, many: u64) -> u64 {
        self.next() % many
    }

    fn of<'t, T>(&mut self, all: &'t [T]) -> &'t T {
        &all[usize::try_from(self.below(all.len() as u64)).unwrap()]
    }
}

/// Every kind of key; those that go on are pressed more often, those that leave never.
fn key(chance: &mut Chance) -> Key {
    use Key::{Backspace, Char, CtrlZ, Down, Enter, Esc, F1, KeypadOff, Left, Other, Right};
    const OFTEN: [Key; 6] = [Enter, Enter, Char('.'), Char('2'), Key::Space, Key::Up];
    const NAMED: [Key; 12] = [
        Backspace,
        CtrlZ,
        Down,
        Esc,
        F1,
        KeypadOff,
        Left,
        Other,
        Right,
        Enter,
        Key::PageUp,
        Key::PageDown,
    ];
    match chance.below(4) {
        0 | 1 => *chance.of(&OFTEN),
        2 => *chance.of(&NAMED),
        _ => {
            let letters: Vec<char> = "0123456789.,abcdghikKlmnoprrrrstuUw/?*+-é漢"
                .chars()
                .collect();
            Char(*chance.of(&letters))
        }
    }
}

const SIZES: [(u16, u16); 10] = [
    (0, 0),
    (1, 1),
    (5, 2),
    (59, 19),
    (60, 20),
    (61, 20),
    (80, 24),
    (109, 30),
    (110, 31),
    (200, 60),
];

/// Time passes: a breath, a rest, a night; or the clock on the wall is set, or the zone changes.
fn pass(mut script: Script, chance: &mut Chance) -> Script {
    match chance.below(12) {
        0..=5 => script.wait_s(i64::try_from(chance.below(6)).unwrap()),
        6 | 7 => script.wait_s(i64::try_from(30 + chance.below(200)).unwrap()),
        8 => script.sleep_s(i64::try_from(chance.below(3 * 3600)).unwrap()),
        9 => {
            let jump = i64::try_from(chance.below(48 * 3_600_000)).unwrap() - 24 * 3_600_000;
            script.now.civil = script.now.civil.plus(jump);
            script
        }
        10 => {
            let at = script.now.civil.to_string();
            let zone = *chance.of(&["-09:30", "+00:00", "+01:00", "+14:00"]);
            let moved = format!("{}{zone}", &at[..at.len() - 6]);
            script.now.civil = Civil::parse(&moved).expect("a time");
            script
        }
        _ if script.disk => {
            script.disk = false;
            script
        }
        _ => mend(script),
    }
}

/// The disk takes again what is written, and what it refused is written to it anew.
fn mend(mut script: Script) -> Script {
    script.disk = true;
    let refused = script.model.ledger.not_saved.clone();
    let written = script.model.ledger.written.iter();
    let again = written.filter(|event| refused.contains(&event.id)).cloned();
    script.journal.extend(again);
    script.send(Msg::Recorded(refused));
    script
}

/// What must hold of any screen, whatever came before.
#[track_caller]
fn assert_possible(script: &Script, size: (u16, u16), step: &str) {
    let (screen, cursor) = script.screen_in(Look::default(), size);
    if size.0 > 0 && size.1 > 0 {
        let cursor = cursor.unwrap_or_else(|| panic!("{step}: no cursor\n{screen}"));
        assert!(
            cursor.x < size.0 && cursor.y < size.1,
            "{step}: {cursor:?} outside {size:?}"
        );
    }
    let drawn = size.0 >= 60 && size.1 >= 20;
    let covered = !matches!(script.model.overlay, rackside::app::model::Overlay::None);
    if let (true, Screen::Floor(floor)) = (drawn && !covered, &script.model.screen) {
        let coming = floor
            .coming_set()
            .unwrap_or_else(|| panic!("{step}: a floor without a set"));
        assert!(screen.contains(" of "), "{step}\n{screen}");
        assert!(
            usize::from(coming.number) <= coming.of,
            "{step}: {coming:?}"
        );
        if let Some(rest) = floor.rest(script.now) {
            assert!(rest.elapsed >= 0 && rest.counts() >= 0, "{step}: {rest:?}");
        }
    }
    assert!(
        !title(&script.model, script.now).contains(|c: char| c.is_control()),
        "{step}"
    );
    assert!(!standing(&script.model, script.now).is_empty(), "{step}");
}

/// No set is lost: what the model shows of the session is what its events tell, and all of them are
/// in the journal, or said not to be.
#[track_caller]
fn assert_nothing_lost(script: &Script, step: &str) {
    let Some(floor) = script.model.floor() else {
        return;
    };
    let told = Session::fold(&resolve(floor.events.clone()).events).expect("a session");
    assert_eq!(told.sets, floor.session.sets, "{step}");
    let ledger = &script.model.ledger;
    for event in &floor.events {
        let written = script.journal.iter().any(|known| known.id == event.id);
        let open = ledger.not_saved.contains(&event.id) || ledger.saving.contains(&event.id);
        assert!(
            written != open,
            "{step}: {:?} written {written}, open {open}",
            event.id
        );
    }
    let ids: std::collections::BTreeSet<_> = script.journal.iter().map(|e| &e.id).collect();
    assert_eq!(
        ids.len(),
        script.journal.len(),
        "{step}: an id was given twice"
    );
}

/// A circuit of reps and holds, sides among them, that runs by itself when told to.
const CIRCUIT: &str = r#"(format: 1, name: "Short", rhythm: Rotation(per_week: 3), phases: [
    (name: "Only", weeks: 4, days: [(name: "Day 1", slots: [
        (exercise: "push_up", sets: 3, reps: "8", rest: "0:10-0:40", group: 1, inside: "0:05-0:20"),
        (exercise: "side_plank", sets: 3, hold: "10", rest: "0:10-0:40", group: 1),
        (exercise: "plank", sets: 3, hold: "20", rest: "0:30-1:00"),
    ])]),
])"#;

/// Where a storm begins: loads to be chosen, or a circuit.
fn beginning(seed: u64) -> Script {
    if seed.is_multiple_of(2) {
        Script::of(CIRCUIT)
    } else {
        Script::known()
    }
}

/// Sets recorded, sessions closed, sets that the clock alone began.
fn storm(seed: u64, steps: usize) -> (usize, usize, usize) {
    let mut chance = Chance(seed);
    let mut script = beginning(seed);
    let mut by_clock = 0;
    let (mut size, mut sets, mut sessions) = ((80, 24), 0, 0);
    let mut teller = Teller::default();
    for k in 0..steps {
        let step = format!("seed {seed}, step {k}");
        let floor = script.model.floor();
        let runs = floor.is_some_and(|floor| floor.hands_free.is_some());
        let before = script.journal.len();
        match chance.below(10) {
            // What runs by itself is left to run for a while.
            0..=6 if runs && chance.below(3) > 0 => script = pass(script, &mut chance),
            0..=6 => script.send(Msg::Key(key(&mut chance))),
            7 | 8 => script = pass(script, &mut chance),
            _ => size = *chance.of(&SIZES),
        }
        let new = script.journal.iter().skip(before);
        let done = new.filter(|event| matches!(event.event, Event::Set(_)));
        by_clock += if runs { done.count() } else { 0 };
        assert_possible(&script, size, &step);
        assert_nothing_lost(&script, &step);
        let lines = teller.tell(&script.model, script.now);
        let steering = lines.iter().any(|line| line.contains(char::is_control));
        assert!(!steering, "{step}: {lines:?}");
        let closed = matches!(&script.model.screen, Screen::Debrief(d) if d.closed);
        if script.quit || closed {
            sets += script
                .model
                .floor()
                .map_or(0, |floor| floor.session.sets.len());
            sessions += usize::from(closed);
            script = mend(script).sleep_s(86_400).again();
            teller = Teller::default();
        }
    }
    (sets, sessions, by_clock)
}

#[test]
fn ten_thousand_keys_sizes_and_jumps_of_the_clock() {
    let mut all = (0, 0, 0);
    for seed in 1..=10 {
        let (sets, sessions, by_clock) = storm(seed, 1_000);
        all = (all.0 + sets, all.1 + sessions, all.2 + by_clock);
    }
    println!("sets, sessions, sets by the clock: {all:?}");
    let came = all.0 > 20 && all.1 > 2 && all.2 > 5;
    assert!(came, "the keys came to nothing: {all:?}");
}

/// Lines that nobody meant.
#[test]
fn any_line_is_taken_or_refused() {
    let mut chance = Chance(7);
    let mut script = Script::known();
    let words = [
        "",
        "8",
        "8.2",
        ".2",
        "..",
        "99999999999",
        "w",
        "w22",
        "w1e9",
        "now",
        "esc",
        "é",
        "8 2",
        "p",
        "n",
        "/",
        "-",
        "+",
        "u",
        "U",
        "1",
        "12",
        "漢字",
        "\u{1b}[2J",
        "a b c",
        "k",
        "o",
        "f",
    ];
    for k in 0..3_000 {
        let line = chance.of(&words).to_owned();
        match entered(&script.model, line) {
            Entered::Keys(keys) => keys.into_iter().for_each(|key| script.send(Msg::Key(key))),
            Entered::Standing | Entered::Unknown(_) => {}
        }
        script = script.wait_s(i64::try_from(chance.below(40)).unwrap());
        assert_nothing_lost(&script, &format!("line {k}: {line:?}"));
        if script.quit || matches!(&script.model.screen, Screen::Debrief(d) if d.closed) {
            script = script.sleep_s(86_400).again();
        }
    }
    let done = script
        .journal
        .iter()
        .filter(|e| matches!(e.event, Event::Set(_)))
        .count();
    assert!(done > 10, "{done} sets");
}
