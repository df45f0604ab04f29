//! The interactive program without a terminal: keys in, a hand-moved clock, a journal in memory,
//! the screen as text.

use rackside::app::effect::{Cue, Effect};
use rackside::app::kept::{Access, Beginning, Open};
use rackside::app::keymap::{Key, Mode};
use rackside::app::logbook::Book;
use rackside::app::model::{Desk, Model, Screen};
use rackside::app::msg::Msg;
use rackside::app::update::{begin, deadline, mode, update};
use rackside::domain::advice::{Beliefs, foretell, revise, stand_ins};
use rackside::domain::gear::{Place, PlaceId};
use rackside::domain::history::{History, Lifter, Prefs};
use rackside::domain::logbook::Logbook;
use rackside::domain::program::ProgramId;
use rackside::domain::schedule::Material;
use rackside::domain::session::{
    Boldness, Draft, Event, EventId, Experience, Performed, SetRecord, Stamped,
};
use rackside::domain::units::{Boot, Civil, Load, Now, Unit};
use rackside::formats::{preview, program_file};
use rackside::ui::{draw, theme::Look};
use ratatui::Terminal;
use ratatui::backend::{Backend, TestBackend};
use ratatui::layout::Position;
use std::collections::BTreeSet;
use std::rc::Rc;
use std::sync::Arc;

/// A program small enough to be seen whole: reps, each side, a hold.
pub const PROGRAM: &str = r#"(
    format: 1,
    name: "Short",
    rhythm: Rotation(per_week: 3),
    phases: [(name: "Only", weeks: 4, days: [
        (name: "Day 1", slots: [
            (exercise: "dumbbell_bench_press", sets: 3, reps: "8", rest: "1:00-1:30", spare: 2),
            (exercise: "one_arm_row", sets: 2, reps: "8-10", rest: "1:00-1:30", spare: 2),
            (exercise: "plank", sets: 2, hold: "20-30", rest: "0:45-1:15"),
        ]),
    ])],
)"#;

/// The program while a test plays the lifter.
#[derive(Clone)]
pub struct Script {
    desk: Arc<Desk>,
    lifter: Lifter,
    pub model: Model,
    pub now: Now,
    pub journal: Vec<Stamped>,
    pub damaged: BTreeSet<EventId>,
    pub cues: Vec<Cue>,
    /// What was done for ear and eye, and when.
    pub signs: Vec<(Boot, Effect)>,
    pub quit: bool,
    pub draft: Option<Draft>,
    /// Whether the disk takes what is written.
    pub disk: bool,
    /// The first screen of a run that was begun again.
    pub began: String,
    /// Columns and rows of the screen.
    size: (u16, u16),
    runs: u32,
    beliefs: Rc<Beliefs>,
}

impl Script {
    /// At the briefing of [`PROGRAM`], nothing done before.
    pub fn new() -> Self {
        Self::of(PROGRAM)
    }

    /// At the briefing of a program, at the club, nothing done before.
    pub fn of(program: &str) -> Self {
        let mut places = crate::files::places();
        let club = places.iter().position(|place| place.id.as_str() == "club");
        Self::at(program, places.remove(club.expect("it ships")))
    }

    /// At the briefing of a program, at a place, nothing done before.
    pub fn at(program: &str, place: Place) -> Self {
        let catalogue = crate::files::catalogue();
        let id = ProgramId::new("short").expect("a name");
        let program = program_file::read("short.ron", &id, program, &catalogue);
        let program = program.unwrap_or_else(|problems| panic!("{}", problems[0]));
        let mut places = crate::files::places();
        places.retain(|other| other.id != place.id);
        let here = place.id.clone();
        places.push(place);
        places.sort_by(|one, other| one.id.cmp(&other.id));
        let desk = Arc::new(Desk {
            catalogue,
            places,
            programs: vec![program],
        });
        let lifter = Lifter {
            unit: Unit::Kg,
            body_weight: None,
            experience: Experience::Intermediate,
            boldness: Boldness::Steady,
            place: here,
            program: id,
        };
        let civil = Civil::parse("2026-11-19T18:22:00.000+01:00").expect("a time");
        let now = Now {
            boot: Boot(1_000_000),
            civil,
        };
        let (model, effects) = begin(
            beginning(&desk, Some(lifter.clone()), &[], (None, 0)),
            lifter.clone(),
            now,
        );
        let mut script = Self {
            desk,
            lifter,
            model,
            now,
            journal: Vec::new(),
            damaged: BTreeSet::new(),
            cues: Vec::new(),
            signs: Vec::new(),
            quit: false,
            draft: None,
            beliefs: Rc::default(),
            disk: true,
            began: String::new(),
            size: (80, 24),
            runs: 0,
        };
        script.perform(effects);
        script
    }

    /// As [`Script::known`], at home, where loads are made of plates.
    pub fn at_home() -> Self {
        let mut script = Self::new();
        script.lifter.place = PlaceId::new("home").expect("a name");
        Self::after_one(script.again())
    }

    /// At the briefing of the session after one that was done as planned, so that loads are known.
    pub fn known() -> Self {
        thread_local! {
            static KNOWN: Script = Script::after_one(Script::new());
        }
        KNOWN.with(Clone::clone)
    }

    fn after_one(script: Self) -> Self {
        let mut script = script.keys("<enter>");
        for _ in 0..40 {
            if matches!(script.model.screen, Screen::Debrief(_)) {
                break;
            }
            let set = script.floor().coming_set().expect("a set");
            let begins = script.floor().session.records(set.item).next().is_none();
            let load = if begins && matches!(set.load, Load::Mass(_)) {
                "w6<enter>"
            } else {
                ""
            };
            script = script.wait_s(150).keys(load).keys("<enter>").keys(".2");
        }
        script.cues.clear();
        script = script.keys("<enter>").wait_s(3 * 86_400);
        script.again()
    }

    /// The program ends, however, and is started again.
    pub fn again(mut self) -> Self {
        self.runs += 1;
        let whole = History::of(self.journal.clone());
        let open = whole.open_session().map(|session| session.id.clone());
        let past: Vec<Stamped> = self
            .journal
            .iter()
            .filter(|event| open.is_none() || event.session != open)
            .cloned()
            .collect();
        let history = History::of(past.clone());
        let material = material(&self.desk, &history, &self.lifter, self.now.civil);
        let open = whole.open_session().map(|session| Open {
            events: self
                .journal
                .iter()
                .filter(|e| e.session == open)
                .cloned()
                .collect(),
            damaged: self.damaged.clone(),
            briefing: material.of_plan(session.plan.as_ref().expect("a plan")),
            draft: self.draft.clone(),
        });
        let highest = self.journal.iter().map(|event| event.n).max().unwrap_or(0);
        let beginning = Beginning {
            open: open.map(Box::new),
            origin: format!("device-run{}", self.runs),
            ..beginning(
                &self.desk,
                Some(self.lifter.clone()),
                &past,
                (None, highest),
            )
        };
        let (model, effects) = begin(beginning, self.lifter.clone(), self.now);
        self.model = model;
        self.quit = false;
        self.began = self.screen();
        self.perform(effects);
        self
    }

    /// Presses keys: plain characters, and names in angle brackets.
    pub fn keys(mut self, keys: &str) -> Self {
        let mut rest = keys;
        while let Some(c) = rest.chars().next() {
            let named = rest.strip_prefix('<').and_then(|r| r.split_once('>'));
            let key = match named {
                Some((name, behind)) => {
                    rest = behind;
                    named_key(name)
                }
                None => {
                    rest = &rest[c.len_utf8()..];
                    if c == ' ' { Key::Space } else { Key::Char(c) }
                }
            };
            self.send(Msg::Key(key));
            self.look();
        }
        self
    }

    /// On a screen of that size from now on.
    pub fn sized(mut self, width: u16, height: u16) -> Self {
        self.size = (width, height);
        self.look();
        self
    }

    /// The screen is drawn where how far down it goes matters.
    fn look(&mut self) {
        let read = matches!(self.model.screen, Screen::Debrief(_) | Screen::Logbook(_));
        if !read && mode(&self.model) != Mode::Help {
            return;
        }
        let (width, height) = self.size;
        let mut terminal = Terminal::new(TestBackend::new(width, height)).expect("a terminal");
        let mut reach = 0;
        let (model, now) = (&self.model, self.now);
        let drawn = terminal.draw(|frame| reach = draw(model, Look::default(), now, frame));
        drawn.expect("drawn");
        self.send(Msg::Shown(reach));
    }

    /// Lets time pass, with every deadline that the model asks for on the way.
    pub fn wait_s(mut self, seconds: i64) -> Self {
        let end = self.now.boot.plus(seconds * 1000);
        if seconds > 3600 {
            return self.sleep_s(seconds);
        }
        while let Some(due) = deadline(&self.model, self.now).filter(|due| *due < end) {
            self.pass(due.since(self.now.boot).max(0));
            self.send(Msg::Tick);
        }
        self.pass(end.since(self.now.boot));
        self.send(Msg::Tick);
        self
    }

    /// Lets time pass while the machine sleeps: no deadline is met.
    pub fn sleep_s(mut self, seconds: i64) -> Self {
        self.pass(seconds * 1000);
        self
    }

    fn pass(&mut self, millis: i64) {
        self.now.boot = self.now.boot.plus(millis);
        self.now.civil = self.now.civil.plus(millis);
    }

    pub fn send(&mut self, msg: Msg) {
        let effects = update(&mut self.model, msg, self.now);
        self.perform(effects);
    }

    fn perform(&mut self, effects: Vec<Effect>) {
        for effect in effects {
            if is_sign(&effect) {
                self.signs.push((self.now.boot, effect.clone()));
            }
            match effect {
                Effect::Append(events) => self.append(events),
                Effect::KeepDraft(draft) => self.draft = draft.map(|draft| *draft),
                Effect::WriteLifter(lifter) => self.send(Msg::LifterWritten(lifter)),
                Effect::DrawUp { wish, .. } => {
                    let history = History::of(self.journal.clone());
                    let lifter = self
                        .lifter
                        .clone()
                        .after(&history.choices, self.now.civil.date());
                    let material = material(&self.desk, &history, &lifter, self.now.civil);
                    let briefing = material.believing(&self.beliefs).brief(&wish);
                    let briefing = briefing.expect("a briefing");
                    self.send(Msg::DrawnUp(Box::new(briefing)));
                }
                Effect::Preview { .. } => {
                    let history = History::of(self.journal.clone());
                    let (desk, lifter) = (self.desk.clone(), self.lifter.clone());
                    let material = material(&desk, &history, &lifter, self.now.civil);
                    let program = desk.program(&lifter.program).expect("a program");
                    let shown = material.preview(program).expect("a preview");
                    let text = preview::text(program, &shown, &desk.catalogue);
                    self.send(Msg::Preview(text.lines().map(str::to_owned).collect()));
                }
                Effect::ReadBook { events, .. } => {
                    let history = Arc::new(History::of(self.journal.clone()));
                    let body = self.lifter.body_weight;
                    let logbook = Logbook::of(&history, &self.desk.catalogue, body);
                    let book = Book {
                        events: self.journal.clone(),
                        taken: events.len(),
                        history,
                        logbook,
                        odds: Vec::new(),
                        earlier: 0,
                    };
                    self.send(Msg::Book(Arc::new(book)));
                }
                Effect::Believe { exercise } => {
                    let (desk, past) = (self.desk.clone(), self.model.past.clone());
                    let lifter = self.lifter.clone();
                    let material = material(&desk, &past, &lifter, self.now.civil);
                    let material = material.believing(&self.beliefs);
                    let context = material.at(desk.places.first().expect("a place"));
                    let known = desk.catalogue.get(&exercise).expect("known");
                    let found = context.believed(known);
                    self.send(Msg::Believed(exercise, found));
                }
                Effect::Revise(question) => {
                    let history = (*self.model.past).clone();
                    let desk = self.desk.clone();
                    let lifter = self.lifter.clone();
                    let material = material(&desk, &history, &lifter, self.now.civil);
                    let material = material.believing(&self.beliefs);
                    let id = &question.session.plan.as_ref().expect("a plan").place;
                    let context = material.at(material.place(id).expect("a place"));
                    let revision = revise(&context, &question.session, question.index);
                    let after = question.session.sets.len();
                    self.send(Msg::Revised {
                        item: question.index,
                        after,
                        revision,
                    });
                }
                Effect::Foretell(asked) => {
                    let (session, after, ahead) = (&asked.session, asked.after, asked.ahead);
                    let desk = self.desk.clone();
                    let past = self.model.past.clone();
                    let lifter = self.lifter.clone();
                    let material = material(&desk, &past, &lifter, self.now.civil);
                    let material = material.believing(&self.beliefs);
                    let id = &session.plan.as_ref().expect("a plan").place;
                    let context = material.at(material.place(id).expect("a place"));
                    let foretold = foretell(&context, session, &ahead);
                    self.send(Msg::Foretold {
                        after,
                        ahead,
                        foretold,
                    });
                }
                Effect::FindStandIns { question, avoid } => {
                    let history = (*self.model.past).clone();
                    let desk = self.desk.clone();
                    let lifter = self.lifter.clone();
                    let material = material(&desk, &history, &lifter, self.now.civil);
                    let id = &question.session.plan.as_ref().expect("a plan").place;
                    let context = material.at(material.place(id).expect("a place"));
                    let found =
                        stand_ins(&context, &question.item.planned, avoid, &question.session);
                    self.send(Msg::StandIns {
                        item: question.index,
                        avoid,
                        found,
                    });
                }
                Effect::Cue(cue) => self.cues.push(cue),
                Effect::CueAhead(_)
                | Effect::Notify(_)
                | Effect::Ring(_)
                | Effect::Prefer(_)
                | Effect::Suspend => {}
                Effect::Quit => self.quit = true,
            }
        }
    }

    fn append(&mut self, events: Vec<Stamped>) {
        let ids: Vec<EventId> = events.iter().map(|event| event.id.clone()).collect();
        if self.disk {
            self.journal.extend(events);
            self.send(Msg::Recorded(ids));
        } else {
            self.send(Msg::NotSaved {
                ids,
                why: "no space left".to_owned(),
            });
        }
    }

    /// The screen as text, trailing spaces cut; at 80x24 where nothing else was said.
    pub fn screen(&self) -> String {
        self.screen_of(self.size.0, self.size.1)
    }

    /// The screen at a size.
    pub fn screen_of(&self, width: u16, height: u16) -> String {
        self.screen_in(Look::default(), (width, height)).0
    }

    /// The screen of a terminal that can show so much, and where its cursor stands, if it shows.
    pub fn screen_in(&self, look: Look, size: (u16, u16)) -> (String, Option<Position>) {
        let (width, height) = size;
        let mut terminal = Terminal::new(TestBackend::new(width, height)).expect("a terminal");
        let model = &self.model;
        let now = self.now;
        terminal
            .draw(|frame| _ = draw(model, look, now, frame))
            .expect("drawn");
        let backend = terminal.backend_mut();
        let shown = backend.cursor_visible();
        let cursor = shown.then(|| backend.get_cursor_position().expect("a cursor"));
        let buffer = backend.buffer().clone();
        let row = |y: u16| {
            let cells = (0..width).map(|x| buffer[(x, y)].symbol().to_owned());
            cells.collect::<String>().trim_end().to_owned() + "\n"
        };
        ((0..height).map(row).collect(), cursor)
    }

    /// Whether the screen shows this text.
    #[track_caller]
    pub fn shows(self, text: &str) -> Self {
        let screen = self.screen();
        assert!(screen.contains(text), "not on the screen: {text}\n{screen}");
        self
    }

    /// The sets of the last session as the journal tells them.
    pub fn sets(&self) -> Vec<SetRecord> {
        self.performed().into_iter().map(|set| set.record).collect()
    }

    pub fn performed(&self) -> Vec<Performed> {
        let history = History::of(self.journal.clone());
        history
            .sessions
            .last()
            .map(|session| session.sets.clone())
            .unwrap_or_default()
    }

    /// What happened in the last session, by the names of events.
    pub fn last_event(&self) -> &Event {
        &self.journal.last().expect("an event").event
    }

    /// The briefing on the screen.
    #[track_caller]
    pub fn briefing(&self) -> &rackside::domain::schedule::Briefing {
        match &self.model.screen {
            Screen::Briefing(screen) => &screen.briefing,
            other => panic!("no briefing: {other:?}"),
        }
    }

    /// What is on the floor.
    #[track_caller]
    pub fn floor(&self) -> &rackside::app::model::Floor {
        self.model.floor().expect("the floor")
    }
}

fn beginning(
    desk: &Arc<Desk>,
    lifter: Option<Lifter>,
    past: &[Stamped],
    (open, highest): (Option<Box<Open>>, u64),
) -> Beginning {
    Beginning {
        desk: desk.clone(),
        lifter,
        origin: "device-run0".to_owned(),
        highest,
        past: Arc::new(History::of(past.to_vec())),
        open,
        prefs: Prefs::default(),
        access: Access::Writes,
        unread: 0,
    }
}

fn material<'a>(
    desk: &'a Desk,
    history: &'a History,
    lifter: &'a Lifter,
    now: Civil,
) -> Material<'a> {
    let Desk {
        catalogue,
        places,
        programs,
    } = desk;
    Material {
        catalogue,
        places,
        programs,
        history,
        lifter,
        now,
        beliefs: None,
    }
}

fn named_key(name: &str) -> Key {
    match name {
        "enter" => Key::Enter,
        "esc" => Key::Esc,
        "bs" => Key::Backspace,
        "left" => Key::Left,
        "right" => Key::Right,
        "up" => Key::Up,
        "down" => Key::Down,
        "pgup" => Key::PageUp,
        "pgdn" => Key::PageDown,
        "f1" => Key::F1,
        "ctrl-c" => Key::CtrlC,
        "keypad-off" => Key::KeypadOff,
        other => panic!("no key is called {other}"),
    }
}

const fn is_sign(effect: &Effect) -> bool {
    matches!(
        effect,
        Effect::Cue(_) | Effect::CueAhead(_) | Effect::Ring(_)
    )
}
