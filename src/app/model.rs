//! All that the interactive program knows.

use super::floor::ComingSet;
use super::kept::{Access, Ledger};
use super::keymap::Mode;
use super::logbook::LogbookScreen;
use crate::domain::advice::{Ahead, Foretold};
use crate::domain::exercise::{Catalogue, ExerciseId};
use crate::domain::gear::{Makeable, Place, PlaceId};
use crate::domain::history::{Ground, History, Lifter, Pace, Prefs};
use crate::domain::program::{Program, ProgramId};
use crate::domain::schedule::{Briefing, Outline, SetStack, Wish};
use crate::domain::session::{
    Amendment, Asides, Asked, Beat, Cued, Draft, EventId, PlannedItem, Session, SetKind, Stamped,
    Typed, Whereabouts,
};
use crate::domain::strength::records::Best;
use crate::domain::units::{Boot, Load};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// What does not change while the program runs.
#[derive(Clone, PartialEq, Debug)]
pub struct Desk {
    /// All exercises.
    pub catalogue: Catalogue,
    /// All places, in order of id.
    pub places: Vec<Place>,
    /// All programs, in order of id.
    pub programs: Vec<Program>,
}

impl Desk {
    /// The place of that id.
    pub fn place(&self, id: &PlaceId) -> Option<&Place> {
        self.places.iter().find(|place| place.id == *id)
    }

    /// The program of that id.
    pub fn program(&self, id: &ProgramId) -> Option<&Program> {
        self.programs.iter().find(|program| program.id == *id)
    }
}

/// All that the interactive program knows.
#[derive(Clone, PartialEq, Debug)]
pub struct Model {
    /// What does not change.
    pub desk: Arc<Desk>,
    /// What was done before this run.
    pub past: Arc<History>,
    /// Who trains, once they have said.
    pub lifter: Option<Lifter>,
    /// What is on the screen.
    pub screen: Screen,
    /// Whether a session is being drawn up, in place of the one on the screen.
    pub drawing_up: bool,
    /// What lies over it.
    pub overlay: Overlay,
    /// What was written in this run.
    pub ledger: Ledger,
    /// What this run may do to the journal.
    pub access: Access,
    /// Places in the journal that could not be used as they are.
    pub unread: usize,
    /// One line for the person, until it has been read.
    pub notice: Option<Notice>,
    /// Whether a stop sign was reported: then nothing is suggested any more.
    pub alarm: bool,
    /// What these records are, where they are no person's.
    pub mark: Option<&'static str>,
    /// What the screen is drawn on.
    pub ground: Ground,
    /// What the person prefers.
    pub prefs: Prefs,
    /// When the last key came.
    pub last_key: Boot,
    /// When the next message was due, by the deadline that the model asked for.
    pub due: Option<Boot>,
    /// Whether the machine slept since the last key.
    pub slept: bool,
    /// How far down what is read on the screen can go: the first line shown then.
    pub reach: usize,
    /// Until when the screen is reversed, in place of a sound.
    pub flash: Option<Boot>,
    /// What was last kept as a draft.
    pub kept: Option<Box<Draft>>,
}

/// One line for the person.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Notice {
    /// What it says.
    pub text: String,
    /// When it goes.
    pub until: Boot,
}

/// What is on the screen.
#[derive(Clone, PartialEq, Debug)]
pub enum Screen {
    /// The questions of the first run.
    FirstRun(Box<FirstRun>),
    /// A session is being drawn up: what is known of it.
    Waiting(Box<Outline>),
    /// Today's session, before it starts.
    Briefing(Box<BriefingScreen>),
    /// The session.
    Floor(Box<Floor>),
    /// After the last set.
    Debrief(Box<Debrief>),
    /// What months of sessions say.
    Logbook(Box<LogbookScreen>),
}

/// What lies over the screen.
#[derive(Clone, PartialEq, Debug)]
pub enum Overlay {
    /// Nothing.
    None,
    /// The numbered menu.
    Menu(List),
    /// A question.
    Ask(Box<Ask>),
    /// A note being written.
    Writing(String),
    /// The keys of a mode.
    Help {
        /// Of which mode.
        mode: Mode,
        /// First line shown.
        scroll: usize,
    },
    /// How an exercise is done.
    Coaching {
        /// Which.
        exercise: ExerciseId,
        /// First line shown.
        scroll: usize,
    },
    /// A page to be read.
    Page {
        /// Its lines.
        lines: Vec<String>,
        /// First line shown.
        scroll: usize,
    },
}

/// A list with a mark and a number being typed.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct List {
    /// Which entry is marked, from 0.
    pub marked: usize,
    /// Digits typed so far.
    pub digits: String,
}

/// A question with answers.
#[derive(Clone, PartialEq, Debug)]
pub struct Ask {
    /// What is asked.
    pub question: String,
    /// The answers, each with what it does; number 1 first.
    pub answers: Vec<(String, Answer)>,
    /// What it comes to when it is not answered.
    pub never_mind: Answer,
    /// Which is marked.
    pub list: List,
}

/// What an answer does.
#[derive(Clone, PartialEq, Debug)]
pub enum Answer {
    /// Nothing.
    Nothing,
    /// The coming set is done as asked, whatever the clock says.
    Record,
    /// Two sets were done.
    RecordTwo,
    /// It hurts there.
    Hurts(Whereabouts),
    /// Ask which muscle.
    HurtsInMuscle,
    /// This takes the exercise's place.
    Swap(Box<PlannedItem>),
    /// What is left of the exercise is left out.
    SkipExercise,
    /// The session ends here.
    Finish,
    /// The stop sign was reported by mistake.
    NoStopSign,
    /// Draw up that session.
    Session(Wish),
    /// Train at that place.
    Place(PlaceId),
    /// Void that event.
    Void(EventId),
    /// Leave the program.
    Leave,
}

/// The questions of the first run.
#[derive(Clone, PartialEq, Debug)]
pub struct FirstRun {
    /// Which question, from 0.
    pub step: FirstStep,
    /// What is marked, or typed.
    pub list: List,
    /// The answers so far.
    pub lifter: Lifter,
    /// Whether they are on their way to the disk: then nothing more is answered.
    pub writing: bool,
}

/// A question of the first run.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum FirstStep {
    /// Kilograms or pounds.
    Units,
    /// Body weight or none.
    BodyWeight,
    /// Where.
    Place,
    /// Which program.
    Program,
}

impl FirstStep {
    /// All of them, in order.
    pub const ALL: [Self; 4] = [Self::Units, Self::BodyWeight, Self::Place, Self::Program];
}

/// Today's session, before it starts.
#[derive(Clone, PartialEq, Debug)]
pub struct BriefingScreen {
    /// What is planned, and from what.
    pub briefing: Briefing,
    /// Which exercise is marked.
    pub marked: usize,
}

/// The session as it runs.
#[derive(Clone, PartialEq, Debug)]
pub struct Floor {
    /// What was planned, and last time's numbers, by item.
    pub briefing: Briefing,
    /// The session: the fold of `events`.
    pub session: Session,
    /// Its events, in order, unresolved.
    pub events: Vec<Stamped>,
    /// Which of them are sets read from damaged lines: done, and no evidence.
    pub damaged: BTreeSet<EventId>,
    /// What the lifter is doing.
    pub beat: Beat,
    /// Whether the clock begins and ends sets, until a key is pressed.
    pub hands_free: Option<HandsFree>,
    /// What is being typed.
    pub typed: Typed,
    /// The set of an earlier time that is looked at: its place among the session's sets.
    pub edit: Option<Edit>,
    /// What the coming sets of an item and kind should be, other than planned.
    pub ways: BTreeMap<(usize, SetKind), Way>,
    /// The loads that can be made for each item, from light to heavy.
    pub makeable: Vec<Vec<Makeable>>,
    /// The plates of the coming set, from what is on now.
    pub plates: Option<SetStack>,
    /// For which set and load they were worked out.
    pub plates_for: Option<(usize, ComingSet)>,
    /// The odds of the coming set, once they are worked out.
    pub foretold: Option<Foretold>,
    /// For which set they were asked, after how many events.
    pub foretold_for: Option<(usize, Ahead)>,
    /// When sets ended, by the clock that counts suspend.
    pub ends: BTreeMap<EventId, Boot>,
    /// When the session was opened, by the same clock.
    pub opened: Boot,
    /// Which signs of the current rest were given.
    pub cued: Cued,
    /// How fast this lifter is.
    pub pace: Pace,
    /// What was done before, for the records.
    pub past: Arc<History>,
    /// What changed without an event, and can be taken back all the same.
    pub asides: Asides,
}

/// A session that runs by itself.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct HandsFree {
    /// Whether a key led to the set that is on or comes; else the clock alone does.
    pub by_key: bool,
}

/// A set of an earlier time being changed.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Edit {
    /// Its place among the session's sets.
    pub set: usize,
    /// What is different so far.
    pub change: Amendment,
}

/// What the coming sets of an item should be, other than planned.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Way {
    /// With what.
    pub load: Option<Load>,
    /// How much.
    pub asked: Option<Asked>,
    /// Whether the person chose the load.
    pub chosen: bool,
    /// What to tell about it.
    pub say: String,
}

impl Way {
    /// The person's own load.
    pub const fn chosen(load: Load) -> Self {
        Self {
            load: Some(load),
            asked: None,
            chosen: true,
            say: String::new(),
        }
    }
}

/// After the last set.
#[derive(Clone, PartialEq, Debug)]
pub struct Debrief {
    /// The floor that led here; taking back leads there again.
    pub floor: Floor,
    /// Digits of the effort.
    pub digits: String,
    /// Whether the next digit says the spare of the last set.
    pub spare: bool,
    /// What was better than ever before.
    pub records: Vec<Best>,
    /// The next session, once it has been drawn up.
    pub next: Option<Box<Briefing>>,
    /// Whether the session is closed.
    pub closed: bool,
    /// First line shown.
    pub scroll: usize,
}
