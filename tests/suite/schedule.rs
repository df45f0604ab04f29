//! Which session is today's: in turn, on weekdays, after missed days and long breaks.

use crate::files::programs;
use rackside::domain::history::History;
use rackside::domain::program::{Ask, Policy, Program, RestWindow, Rhythm, SlotId};
use rackside::domain::schedule::today;
use rackside::domain::session::{
    Asked, Closed, Ended, Event, EventId, Opened, Plan, PlannedItem, SetKind, SetRecord, Stamped,
    done_of,
};
use rackside::domain::units::{Civil, Load, Reps, Seconds, Unit};

struct Diary {
    program: Program,
    events: Vec<Stamped>,
    now: Civil,
}

impl Diary {
    /// Begins on a Monday.
    fn of(place: usize) -> Self {
        let now = Civil::parse("2026-01-05T18:00:00.000+00:00").unwrap();
        Self {
            program: programs().remove(place),
            events: Vec::new(),
            now,
        }
    }

    fn pass(&mut self, days: i64) {
        self.now = self.now.plus(days * 86_400_000);
    }

    fn today(&self) -> (u16, u16, u16) {
        let today = today(&self.program, &History::of(self.events.clone()), self.now);
        (today.phase, today.week, today.day)
    }

    fn why(&self) -> String {
        today(&self.program, &History::of(self.events.clone()), self.now).why
    }

    /// Does the session that is today's; with no set where nothing was done of it.
    fn train(&mut self, sets: usize) {
        let (phase, week, day) = self.today();
        let slot = self.program.phases[0].days[0].slots[0].clone();
        let window = RestWindow {
            opens: Seconds::clamped(60),
            closes: Seconds::clamped(90),
        };
        let one = Reps::clamped(8);
        let item = PlannedItem {
            slot: SlotId("x".into()),
            exercise: slot.exercise.clone(),
            sets: Vec::new(),
            ask: Ask::Reps { min: one, max: one },
            rest: window,
            spare: None,
            tempo: None,
            policy: Policy::default(),
            group: None,
            details: rackside::domain::program::Details::default(),
            deload: false,
            odds: None,
            reason: String::new(),
        };
        let plan = Plan {
            program: self.program.id.clone(),
            phase,
            phase_name: "p".into(),
            week,
            weeks: 4,
            day,
            day_name: format!("Day {day}"),
            place: rackside::domain::gear::PlaceId::new("home").unwrap(),
            items: vec![item],
        };
        let opened = self.write(None, Event::Opened(Box::new(Opened { plan })));
        for _ in 0..sets {
            let asked = Asked::Reps(one);
            let record = SetRecord {
                item: 0,
                exercise: slot.exercise.clone(),
                counts: rackside::domain::exercise::Counts::OneDumbbell,
                kind: SetKind::Working,
                number: 1,
                load: Load::body(Unit::Kg),
                done: done_of(asked, 8),
                asked,
                open: false,
                spare: None,
                rest: None,
                lifted: None,
                odds: None,
                predicted: None,
                ended: Ended::AsAsked,
            };
            self.write(Some(opened.clone()), Event::Set(Box::new(record)));
        }
        self.write(Some(opened), Event::Closed(Closed { effort: None }));
    }

    fn write(&mut self, session: Option<EventId>, event: Event) -> EventId {
        let n = self.events.len() as u64 + 1;
        let id = EventId(format!("d-r-{n}"));
        let session = session.or_else(|| Some(id.clone()));
        self.events.push(Stamped {
            id: id.clone(),
            n,
            session,
            at: self.now,
            event,
        });
        id
    }
}

#[test]
fn days_come_in_turn_and_three_make_a_week() {
    let mut diary = Diary::of(0);
    let mut seen = Vec::new();
    for _ in 0..14 {
        seen.push(diary.today());
        diary.train(1);
        diary.pass(2);
    }
    assert_eq!(seen[..4], [(1, 1, 1), (1, 1, 2), (1, 1, 3), (1, 2, 1)]);
    assert_eq!(
        seen[12],
        (2, 1, 1),
        "twelve sessions make the four weeks of a phase"
    );
}

#[test]
fn a_session_without_a_set_does_not_count() {
    let mut diary = Diary::of(0);
    diary.train(0);
    assert_eq!(diary.today(), (1, 1, 1));
}

#[test]
fn missed_days_move_nothing_and_long_breaks_propose_the_first_phase() {
    let mut diary = Diary::of(0);
    for _ in 0..13 {
        diary.train(1);
        diary.pass(2);
    }
    assert_eq!(diary.today(), (2, 1, 2));
    diary.pass(20);
    assert_eq!(
        diary.today(),
        (2, 1, 2),
        "three weeks away: the same session waits"
    );
    diary.pass(40);
    assert_eq!(diary.today(), (1, 1, 1));
    assert!(
        diary.why().contains("the first phase again"),
        "{}",
        diary.why()
    );
}

#[test]
fn an_easier_week_is_marked() {
    let mut diary = Diary::of(0);
    for _ in 0..9 {
        diary.train(1);
        diary.pass(2);
    }
    let found = today(
        &diary.program,
        &History::of(diary.events.clone()),
        diary.now,
    );
    assert_eq!((found.week, found.easier_week), (4, true));
}

#[test]
fn weekdays_hold_their_sessions_and_a_missed_one_is_offered_between() {
    let mut diary = Diary::of(2);
    assert!(matches!(diary.program.rhythm, Rhythm::Weekdays(_)));
    assert_eq!(diary.today(), (1, 1, 1), "Monday");
    diary.train(1);
    diary.pass(2);
    assert_eq!(diary.today(), (1, 1, 2), "Wednesday: Tuesday's was missed");
    assert_eq!(diary.why(), "missed on Tuesday");
    diary.pass(1);
    assert_eq!(diary.today(), (1, 1, 3), "Thursday has its own");
    diary.train(1);
    diary.pass(4);
    assert_eq!(diary.today(), (1, 2, 1), "Monday of the next week");
    diary.pass(14);
    assert_eq!(
        diary.today(),
        (1, 2, 1),
        "weeks without a session do not count"
    );
}

/// Monday, Tuesday, Thursday and Friday: what comes on every other day.
#[test]
fn between_weekdays_the_next_one_is_told() {
    let mut diary = Diary::of(2);
    diary.train(1);
    assert_eq!(
        (diary.today(), diary.why().as_str()),
        ((1, 1, 2), "its day is Tuesday")
    );
    diary.pass(1);
    assert_eq!(diary.why(), "it is its day");
    diary.train(1);
    assert_eq!(
        (diary.today(), diary.why().as_str()),
        ((1, 1, 3), "its day is Thursday")
    );
    diary.pass(4);
    let saturday = (diary.today(), diary.why());
    assert_eq!(saturday, ((1, 1, 3), "missed on Thursday".to_owned()));
    diary.train(1);
    assert_eq!(
        (diary.today(), diary.why().as_str()),
        ((1, 1, 4), "missed on Friday")
    );
    diary.train(1);
    diary.pass(1);
    assert_eq!(
        (diary.today(), diary.why().as_str()),
        ((1, 2, 1), "its day is Monday")
    );
}

#[test]
fn every_so_many_days_tells_when_it_is_due() {
    let mut diary = Diary::of(0);
    diary.program.rhythm = Rhythm::Every { days: 3 };
    diary.train(1);
    let mut said = Vec::new();
    for _ in 0..6 {
        said.push(diary.why());
        diary.pass(1);
    }
    let said: Vec<&str> = said.iter().map(String::as_str).collect();
    let name = "due today, Day 1 was 3 days ago";
    assert_eq!(
        said[..4],
        ["due in 3 days", "due in 2 days", "due in 1 day", name]
    );
    assert_eq!(said[4..], ["due 1 day ago", "due 2 days ago"]);
    // Seven days have room for two sessions: the third is in the second week.
    let mut seen = Vec::new();
    for _ in 0..3 {
        seen.push(diary.today());
        diary.train(1);
        diary.pass(3);
    }
    assert_eq!(seen, [(1, 1, 2), (1, 2, 3), (1, 2, 1)]);
}

#[test]
fn the_end_of_a_program_is_said() {
    let mut diary = Diary::of(0);
    for _ in 0..36 {
        diary.train(1);
        diary.pass(2);
    }
    assert_eq!(diary.today().0, 3);
    assert!(diary.why().contains("through"), "{}", diary.why());
}
