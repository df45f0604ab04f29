//! The loop: a key, a deadline or a finished effect comes in, the model decides, effects go out.

use super::advisor::{Advisor, Asked, Knowledge};
use super::cache_store;
use super::desk::{Loaded, material};
use super::desktop::Desktop;
use super::face::Face;
use super::hold::Hold;
use super::journal_writer::{JournalWriter, Left, Report};
use super::keeper::{Keep, Keeper};
use super::log::Entry;
use super::settings::{Flags, Settings};
use super::signals::{self, Signal};
use super::sound::Player;
use super::state_store::StateStore;
use super::terminal::{self, Input};
use super::{Disk, Error, Home, Past, Storage, clock, read_both};
use crate::app::effect::Effect;
use crate::app::kept::{Access, Beginning, Open};
use crate::app::model::{Model, Screen};
use crate::app::msg::Msg;
use crate::app::update;
use crate::domain::history::{History, Prefs};
use crate::domain::session::Stamped;
use crate::domain::units::Now;
use crate::domain::words;
use crate::ui::lines::{self, Entered};
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::Arc;
use std::sync::mpsc::{Receiver, RecvTimeoutError, Sender, channel};
use std::time::Duration;

/// How long leaving waits for a slow disk when a person asked for it.
const LEAVING: Duration = Duration::from_secs(30);
/// How long it waits after a signal: then the sets are rescued, or lie on the disk soon after.
const LEAVING_AT_ONCE: Duration = Duration::from_millis(800);
/// How long it then waits for what is no journal, and can be lost.
const KEEPING: Duration = Duration::from_secs(3);
const KEEPING_AT_ONCE: Duration = Duration::from_millis(100);
/// The signal that says that the terminal is gone.
pub(super) const HANGUP: u8 = 1;

/// How the interactive program ended.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Ended {
    /// The person left.
    Left,
    /// A signal of this number asked for it.
    Signal(u8),
    /// What was to be told could not be written, and why.
    Untold(String),
    /// The program was wrong somewhere; what was recorded is on the disk.
    Panicked,
    /// Sets were kept outside the journal; words say where, or hold the lines themselves.
    Rescued(String),
}

/// What wakes the loop.
enum Wake {
    Input(Input),
    Signal(Signal),
    Msg(Msg),
}

/// What a run begins from.
#[derive(Clone, Copy, Debug)]
pub struct Start<'h> {
    /// Where the files are.
    pub home: &'h Home,
    /// What was asked for at the command line.
    pub flags: Flags,
    /// How many minutes there are, where the time is short.
    pub minutes: Option<u32>,
    /// What these records are, where they are no person's: it stays on the screen.
    pub mark: Option<&'static str>,
}

/// Runs the interactive program in a home until it is left.
///
/// # Errors
///
/// Files have problems, another process holds the journal, the terminal refuses.
pub fn run(start: Start<'_>) -> Result<Ended, Error> {
    let Start {
        home,
        flags,
        minutes,
        mark,
    } = start;
    let storage: Arc<dyn Storage> = Arc::new(Disk);
    let mut held = Hold::take(home, storage.as_ref());
    let (loaded, past) = read_both(home, storage.as_ref());
    let loaded = loaded?;
    let access = held.access();
    if loaded.lifter.is_none() {
        // Where nothing can be kept there is no first run, and nothing to look at.
        held = Hold::Ours(held.writable()?);
    }
    let past = past?;
    let state = StateStore::of(home, storage.clone());
    let (wake, inbox) = channel();
    let settings = Settings::settle(flags, |name| std::env::var_os(name), state.prefs());
    let mut shell = Shell::start(home, (storage, state, wake.clone()), &loaded, &past);
    let signals = wake.clone();
    signals::listen(move |signal| drop(signals.send(Wake::Signal(signal))))
        .map_err(|why| Error::Said(format!("cannot hear signals: {why}")))?;
    let gone = |why| Error::Said(format!("the terminal cannot be used: {why}"));
    let (mut model, mut effects) = shell.begin(&loaded, &past, access);
    for effect in &mut effects {
        if let Effect::DrawUp { wish, .. } = effect {
            wish.minutes = minutes;
        }
    }
    let mut face = Face::take(&settings, move |input| {
        wake.send(Wake::Input(input)).is_ok()
    })
    .map_err(gone)?;
    model.mark = mark;
    model.ground = settings.ground.value;
    let over = shell.perform(effects, &mut face);
    let ended = match over {
        Some(ended) => Ok(ended),
        // A panic in deciding or drawing must not take what is on its way to the disk with it.
        None => catch_unwind(AssertUnwindSafe(|| shell.run(model, &mut face, &inbox))),
    };
    face.leave();
    let ended = shell.leave(ended.unwrap_or(Ended::Panicked));
    drop(held);
    Ok(ended)
}

/// The threads and stores behind the loop.
struct Shell {
    state: StateStore,
    device: String,
    writer: JournalWriter,
    keeper: Keeper,
    advisor: Advisor,
    history: Arc<History>,
    player: Player,
    desktop: Desktop,
    prefs: Prefs,
    /// Done once there is something to look at.
    afterwards: Option<Box<dyn FnOnce()>>,
}

impl Shell {
    fn start(
        home: &Home,
        (storage, state, wake): (Arc<dyn Storage>, StateStore, Sender<Wake>),
        loaded: &Loaded,
        past: &Past,
    ) -> Self {
        let device = state.device();
        let report = wake.clone();
        let writer = JournalWriter::start(home, &device, storage.clone(), move |outcome| {
            let msg = match outcome {
                Report::Recorded(ids) => Msg::Recorded(ids),
                Report::NotSaved { ids, why } => Msg::NotSaved { ids, why },
            };
            drop(report.send(Wake::Msg(msg)));
        });
        let knowledge = Knowledge::of(home, storage.clone(), loaded, past);
        let history = knowledge.history.clone();
        let prefs = state.prefs();
        let tell = move |msg| drop(wake.send(Wake::Msg(msg)));
        let unheard = tell.clone();
        let player = Player::start(home, move |cue| unheard(Msg::Unheard(cue)));
        let afterwards = cache_store::verification(home, storage.clone(), tell.clone());
        let keeper = Keeper::start(home, storage, tell.clone());
        let problems = past.problems;
        keeper.keep(Keep::Log(Entry::Started { problems }));
        let advisor = Advisor::start(knowledge, tell);
        Self {
            state,
            device,
            writer,
            keeper,
            advisor,
            history,
            player,
            desktop: Desktop::start(),
            prefs,
            afterwards: Some(afterwards),
        }
    }

    /// The model that this run begins with.
    fn begin(&mut self, loaded: &Loaded, past: &Past, access: Access) -> (Model, Vec<Effect>) {
        let now = clock::now();
        let default = loaded.default_lifter();
        let beginning = Beginning {
            desk: loaded.desk.clone(),
            lifter: loaded.lifter.clone(),
            origin: self.state.origin(&self.device),
            highest: past.highest_n,
            past: self.history.clone(),
            open: self.open(loaded, past, now).map(Box::new),
            prefs: self.prefs,
            access,
            unread: past.faults,
        };
        update::begin(beginning, default, now)
    }

    /// The session that was left open, with what was kept of it.
    fn open(&self, loaded: &Loaded, past: &Past, now: Now) -> Option<Open> {
        let session = past.open()?;
        self.writer.resume(&session.id, session.opened);
        let lifter = loaded
            .lifter
            .clone()
            .unwrap_or_else(|| loaded.default_lifter());
        let material = material(&loaded.desk, &self.history, &lifter, now.civil);
        let briefing = material.of_plan(session.plan.as_ref()?);
        let ours = |event: &&Stamped| event.session.as_ref() == Some(&session.id);
        let events = past.later.iter().filter(ours).cloned().collect();
        Some(Open {
            events,
            damaged: past.damaged.clone(),
            briefing,
            draft: self.state.draft(now),
        })
    }

    /// Draws and waits in turn until it is over.
    fn run(&mut self, mut model: Model, face: &mut Face, inbox: &Receiver<Wake>) -> Ended {
        loop {
            let reach = match face.show(&model, clock::now()) {
                Ok(reach) => reach,
                Err(why) => return face.gone(&why),
            };
            if reach != model.reach {
                let effects = update::update(&mut model, Msg::Shown(reach), clock::now());
                if let Some(ended) = self.perform(effects, face) {
                    return ended;
                }
            }
            self.desktop
                .keep_awake(matches!(model.screen, Screen::Floor(_)), self.prefs);
            if let Some(afterwards) = self.afterwards.take() {
                afterwards();
            }
            if let Some(ended) = self.turn(&mut model, face, inbox) {
                return ended;
            }
        }
    }

    /// Waits for one thing to happen, and everything that comes of it; says when it is over.
    fn turn(
        &mut self,
        model: &mut Model,
        face: &mut Face,
        inbox: &Receiver<Wake>,
    ) -> Option<Ended> {
        let now = clock::now();
        let due = update::deadline(model, now).map_or(60_000, |due| due.since(now.boot).max(0));
        let wait = Duration::from_millis(u64::try_from(due).unwrap_or(0));
        let msg = match inbox.recv_timeout(wait) {
            Ok(Wake::Input(Input::Key(key))) => {
                // How the tests see what a mistake of ours does.
                assert!(
                    !(cfg!(debug_assertions) && terminal::is_to_panic(key)),
                    "asked to panic"
                );
                Msg::Key(key)
            }
            Ok(Wake::Signal(Signal::Resized)) | Err(RecvTimeoutError::Timeout) => Msg::Tick,
            Ok(Wake::Input(Input::Line(line))) => return self.line(model, face, &line),
            Ok(Wake::Input(Input::Focus(focused))) => {
                self.desktop.focus(focused);
                return None;
            }
            Ok(Wake::Input(Input::Gone)) if matches!(face, Face::Lines { .. }) => {
                return Some(Ended::Left);
            }
            Ok(Wake::Input(Input::Gone)) => return Some(Ended::Signal(HANGUP)),
            Ok(Wake::Signal(Signal::Leave(code))) => return Some(Ended::Signal(code)),
            Ok(Wake::Signal(Signal::Stop)) => {
                face.suspend();
                Msg::Continued
            }
            Ok(Wake::Signal(Signal::Continue)) => {
                // After a stop that nobody could hear of, others may have used the terminal.
                face.go_on();
                Msg::Continued
            }
            Ok(Wake::Msg(msg)) => {
                if let Msg::NotSaved { ids, .. } = &msg {
                    let events = ids.len();
                    self.keeper.keep(Keep::Log(Entry::NotSaved { events }));
                }
                msg
            }
            Err(RecvTimeoutError::Disconnected) => return Some(Ended::Left),
        };
        let effects = update::update(model, msg, clock::now());
        self.perform(effects, face)
    }

    /// A line that was typed: its keys, one after the other. Where the first one only shows where
    /// things stand, or ends a hold, the others are not meant for what comes behind.
    fn line(&mut self, model: &mut Model, face: &mut Face, line: &str) -> Option<Ended> {
        let now = clock::now();
        match lines::entered(model, line) {
            Entered::Keys(keys) => {
                let shows = update::only_shows(model, now);
                let alone = shows || update::any_key_ends(model);
                let many = if alone { 1 } else { keys.len() };
                for key in keys.into_iter().take(many) {
                    let effects = update::update(model, Msg::Key(key), now);
                    if let Some(ended) = self.perform(effects, face) {
                        return Some(ended);
                    }
                }
                let standing = if shows {
                    lines::standing(model, now)
                } else {
                    Vec::new()
                };
                face.say(&standing)
            }
            Entered::Standing => face.say(&lines::standing(model, now)),
            Entered::Unknown(words) => face.say(&[words]),
        }
        .err()
        .map(|why| face.gone(&why))
    }

    fn perform(&mut self, effects: Vec<Effect>, face: &mut Face) -> Option<Ended> {
        let now = clock::now().civil;
        for effect in effects {
            match effect {
                Effect::Append(events) => self.writer.append(events),
                Effect::KeepDraft(draft) => self.keeper.keep(Keep::Draft(draft)),
                Effect::WriteLifter(lifter) => {
                    self.advisor.ask(Asked::Lifter(lifter.clone()), now);
                    self.keeper.keep(Keep::Lifter(lifter));
                }
                Effect::DrawUp { wish, events } => {
                    self.advisor.ask(Asked::DrawUp { wish, events }, now);
                }
                Effect::Preview { events } => self.advisor.ask(Asked::Preview { events }, now),
                Effect::ReadBook { events, depth } => {
                    self.advisor.ask(Asked::Book { events, depth }, now);
                }
                Effect::Believe { exercise } => self.advisor.ask(Asked::Believe(exercise), now),
                Effect::Revise(question) => self.advisor.ask(Asked::Revise(question), now),
                Effect::Foretell(asked) => self.advisor.ask(Asked::Foretell(asked), now),
                Effect::FindStandIns { question, avoid } => {
                    self.advisor.ask(Asked::StandIns { question, avoid }, now);
                }
                Effect::Cue(cue) => self.player.play(cue, self.prefs),
                Effect::CueAhead(cue) => self.player.ahead(cue, self.prefs),
                Effect::Notify(told) => self.desktop.notify(told, self.prefs),
                Effect::Ring(times) => terminal::ring(times),
                Effect::Prefer(preference) => {
                    self.prefs.prefer(preference);
                    self.keeper.keep(Keep::Preference(preference));
                }
                Effect::Suspend => face.suspend(),
                Effect::Quit => return Some(Ended::Left),
            }
        }
        None
    }

    /// Sees to what is not on the disk yet.
    fn leave(self, ended: Ended) -> Ended {
        let (within, keeping) = match ended {
            Ended::Signal(_) | Ended::Panicked => (LEAVING_AT_ONCE, KEEPING_AT_ONCE),
            Ended::Left | Ended::Untold(_) | Ended::Rescued(_) => (LEAVING, KEEPING),
        };
        self.keeper.keep(Keep::Log(match ended {
            Ended::Signal(number) => Entry::Signal(number),
            Ended::Panicked => Entry::Panicked,
            Ended::Left | Ended::Untold(_) | Ended::Rescued(_) => Entry::Left,
        }));
        let left = self.writer.finish(within, |events| {
            let lines = words::count(events, "line");
            terminal::say(&format!("waiting for the disk: {lines} not on it yet"));
        });
        self.keeper.finish(keeping);
        match left {
            Left::Nothing => ended,
            Left::Rescued { events, path } => Ended::Rescued(format!(
                "{events} lines could not be written to the journal; they are kept in {} and read \
                 at the next start",
                path.display()
            )),
            Left::Lost { lines } => Ended::Rescued(format!(
                "these lines are not surely on the disk; keep them:\n{}",
                lines.join("\n")
            )),
        }
    }
}
