//! The thread that computes suggestions, so that no key ever waits for them.

use super::belief_store::BeliefStore;
use super::book::{self, ReadBack};
use super::desk::{Loaded, material};
use super::{Home, Past, Storage, now};
use crate::app::effect::{Foretelling, Question};
use crate::app::logbook::Depth;
use crate::app::model::Desk;
use crate::app::msg::Msg;
use crate::domain::advice::{Beliefs, Context, foretell, revise, stand_ins};
use crate::domain::exercise::ExerciseId;
use crate::domain::history::{History, Lifter};
use crate::domain::schedule::Wish;
use crate::domain::session::{EventId, Session, Stamped, Whereabouts};
use crate::domain::units::Civil;
use crate::formats::preview;
use std::collections::BTreeSet;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::Arc;
use std::sync::mpsc::{Sender, channel};

/// What can be asked.
pub enum Asked {
    /// A session.
    DrawUp {
        /// What is wished for.
        wish: Wish,
        /// What happened in this run.
        events: Vec<Stamped>,
    },
    /// The program that is followed, week by week.
    Preview {
        /// What happened in this run.
        events: Vec<Stamped>,
    },
    /// What the coming set should be now.
    Revise(Box<Question>),
    /// The odds of a coming set.
    Foretell(Box<Foretelling>),
    /// What can take an item's place.
    StandIns {
        /// For what.
        question: Box<Question>,
        /// What must not be loaded.
        avoid: Option<Whereabouts>,
    },
    /// Who trains was written down.
    Lifter(Box<Lifter>),
    /// What was recorded, for the logbook and for what is asked from now on.
    Book {
        /// What happened in this run.
        events: Vec<Stamped>,
        /// How far back.
        depth: Depth,
    },
    /// What was believed of an exercise after each of its sessions.
    Believe(ExerciseId),
}

impl Asked {
    /// What is said when no answer can be found.
    fn without_answer(&self) -> Option<Msg> {
        match self {
            Self::DrawUp { .. } => Some(Msg::NotDrawnUp(MISTAKE.to_owned())),
            Self::Preview { .. } | Self::Book { .. } => Some(Msg::Failed(MISTAKE.to_owned())),
            Self::Revise(question) => Some(Msg::Revised {
                item: question.index,
                after: question.session.sets.len(),
                revision: None,
            }),
            Self::Foretell(asked) => Some(Msg::Foretold {
                after: asked.after,
                ahead: asked.ahead,
                foretold: None,
            }),
            Self::StandIns { question, avoid } => Some(Msg::StandIns {
                item: question.index,
                avoid: *avoid,
                found: Vec::new(),
            }),
            Self::Lifter(_) | Self::Believe(_) => None,
        }
    }
}

const MISTAKE: &str = "a mistake in the program: this session cannot be drawn up";

/// The thread that computes suggestions.
#[derive(Clone, Debug)]
pub struct Advisor {
    questions: Sender<(Asked, Civil)>,
}

/// What the thread knows.
pub struct Knowledge {
    /// Exercises, places, programs.
    pub desk: Arc<Desk>,
    /// Who trains, as first asked.
    pub lifter: Lifter,
    /// What the settled part of the journal tells.
    pub settled: Arc<History>,
    /// The events behind it at the start of the run, without a session that was left open.
    pub events: Vec<Stamped>,
    /// How many events of this run are among them.
    pub taken: usize,
    /// Reads the journal for the logbook, until all of it was read.
    pub read: Option<ReadBack>,
    /// Which of them are sets read from damaged lines.
    pub damaged: BTreeSet<EventId>,
    /// The same, told.
    pub history: Arc<History>,
    /// What is believed of each exercise, as far as it was asked for.
    pub beliefs: Beliefs,
    /// Where it is kept for later runs.
    pub kept: BeliefStore,
}

impl Advisor {
    /// Starts it; answers go to `tell`.
    pub fn start(mut knowledge: Knowledge, tell: impl Fn(Msg) + Send + 'static) -> Self {
        let (questions, inbox) = channel::<(Asked, Civil)>();
        let thread = std::thread::Builder::new().name("advice".to_owned());
        let spawned = thread.spawn(move || {
            while let Ok((asked, now)) = inbox.recv() {
                let nothing = asked.without_answer();
                // A mistake here must not leave the lifter waiting for ever.
                let answer = catch_unwind(AssertUnwindSafe(|| knowledge.answer(asked, now)));
                if let Some(answer) = answer.unwrap_or(nothing) {
                    tell(answer);
                }
                knowledge.kept.keep(&knowledge.beliefs);
            }
        });
        // Without the thread the session runs on as planned: questions are then never answered.
        drop(spawned);
        Self { questions }
    }

    /// Asks; the answer comes as a message.
    pub fn ask(&self, asked: Asked, now: Civil) {
        let _ = self.questions.send((asked, now));
    }
}

impl Knowledge {
    /// What is known at the start of a run.
    pub fn of(home: &Home, storage: Arc<dyn Storage>, loaded: &Loaded, past: &Past) -> Self {
        let kept = BeliefStore::of(home, storage.clone());
        let lifter = loaded.lifter.clone();
        Self {
            desk: loaded.desk.clone(),
            lifter: lifter.unwrap_or_else(|| loaded.default_lifter()),
            settled: past.settled.clone(),
            events: past.events(now()),
            damaged: past.damaged.clone(),
            taken: 0,
            read: Some(book::read_back(home, storage)),
            history: Arc::new(past.history(now())),
            beliefs: kept.beliefs(),
            kept,
        }
    }

    fn answer(&mut self, asked: Asked, now: Civil) -> Option<Msg> {
        match asked {
            Asked::Lifter(lifter) => {
                self.lifter = *lifter;
                None
            }
            Asked::DrawUp { wish, events } => Some(self.draw_up(&wish, events, now)),
            Asked::Preview { events } => Some(self.preview(events, now)),
            Asked::Book { events, depth } => Some(self.book(&events, depth, now)),
            Asked::Believe(exercise) => Some(self.believe(exercise, now)),
            Asked::Revise(question) => Some(self.revise(&question, now)),
            Asked::Foretell(asked) => {
                let Foretelling {
                    session,
                    after,
                    ahead,
                } = *asked;
                let ask = |context: &Context<'_>| foretell(context, &session, &ahead);
                Some(Msg::Foretold {
                    after,
                    ahead,
                    foretold: self.at_place(&session, now, ask).flatten(),
                })
            }
            Asked::StandIns { question, avoid } => Some(self.stand_ins(&question, avoid, now)),
        }
    }

    /// What the journal tells with what happened in this run.
    fn history_with(&self, new: Vec<Stamped>) -> Arc<History> {
        if new.len() <= self.taken {
            return self.history.clone();
        }
        let mut events = self.events.clone();
        events.extend(new.into_iter().skip(self.taken));
        let settled = History::clone(&self.settled);
        Arc::new(settled.after(events, &self.damaged))
    }

    fn believe(&self, exercise: ExerciseId, now: Civil) -> Msg {
        let lifter = self.lifter.clone().after(&self.history.choices, now.date());
        let material = material(&self.desk, &self.history, &lifter, now);
        let material = material.believing(&self.beliefs);
        let place = self.desk.place(&lifter.place).or(self.desk.places.first());
        let known = self.desk.catalogue.get(&exercise);
        let believed = place.zip(known).map(|(place, known)| {
            let context = material.at(place);
            context.believed(known)
        });
        Msg::Believed(exercise, believed.unwrap_or_default())
    }

    fn preview(&self, new: Vec<Stamped>, now: Civil) -> Msg {
        let history = self.history_with(new);
        let lifter = self.lifter.clone().after(&history.choices, now.date());
        let Some(program) = self.desk.program(&lifter.program) else {
            return Msg::Failed("the program that you follow is not there any more".to_owned());
        };
        let material = material(&self.desk, &history, &lifter, now);
        match material.believing(&self.beliefs).preview(program) {
            Ok(shown) => {
                let text = preview::text(program, &shown, &self.desk.catalogue);
                Msg::Preview(text.lines().map(str::to_owned).collect())
            }
            Err(why) => Msg::Failed(why),
        }
    }

    fn draw_up(&self, wish: &Wish, new: Vec<Stamped>, now: Civil) -> Msg {
        let history = self.history_with(new);
        let lifter = self.lifter.clone().after(&history.choices, now.date());
        let material = material(&self.desk, &history, &lifter, now);
        match material.believing(&self.beliefs).brief(wish) {
            Ok(briefing) => Msg::DrawnUp(Box::new(briefing)),
            Err(why) => Msg::NotDrawnUp(why),
        }
    }

    /// Asks what advice says at the place of a running session; nothing where it is not known.
    fn at_place<T>(
        &self,
        session: &Session,
        now: Civil,
        ask: impl FnOnce(&Context<'_>) -> T,
    ) -> Option<T> {
        let lifter = self.lifter.clone().after(&self.history.choices, now.date());
        let material = material(&self.desk, &self.history, &lifter, now);
        let material = material.believing(&self.beliefs);
        let place = material.place(&session.plan.as_ref()?.place).ok()?;
        Some(ask(&material.at(place)))
    }

    fn revise(&self, question: &Question, now: Civil) -> Msg {
        let (session, item) = (&question.session, question.index);
        let revision = self.at_place(session, now, |context| revise(context, session, item));
        Msg::Revised {
            item,
            after: session.sets.len(),
            revision: revision.flatten(),
        }
    }

    fn stand_ins(&self, question: &Question, avoid: Option<Whereabouts>, now: Civil) -> Msg {
        let planned = &question.item.planned;
        let ask = |context: &Context<'_>| stand_ins(context, planned, avoid, &question.session);
        let mut found = self
            .at_place(&question.session, now, ask)
            .unwrap_or_default();
        let left = question
            .item
            .to_come()
            .filter(|set| !set.feeler)
            .count()
            .max(1);
        for item in &mut found {
            let sets = item.sets.len();
            item.sets.drain(..sets.saturating_sub(left));
        }
        Msg::StandIns {
            item: question.index,
            avoid,
            found,
        }
    }
}
