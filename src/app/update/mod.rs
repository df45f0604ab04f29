//! One message in, the model changed, effects out.

mod aside;
mod begin;
mod briefing;
mod debrief;
mod depth;
mod draft;
mod first_run;
mod floor;
mod hands_free;
mod lift;
mod logbook;
mod odds;
mod overlay;
mod pain;
mod plates;
mod record;
mod signs;
mod typing;

pub use begin::{begin, is_over};
pub use lift::{LEAD_IN, any_key_ends};
pub use logbook::typed as typed_in_logbook;
pub use overlay::below;
pub use signs::deadline;

use super::effect::{Cue, Effect};
use super::kept::Ledger;
use super::keymap::{Action, Key, Mode, action};
use super::model::{Floor, Model, Notice, Overlay, Screen};
use super::msg::Msg;
use crate::domain::history::Preference;
use crate::domain::session::{Event, EventId, Session, Stamped, resolve};
use crate::domain::units::{Civil, Millis, Now};
use std::collections::BTreeSet;

/// One call of [`update`]: its instant, and the effects so far.
pub(super) struct Turn {
    pub(super) now: Now,
    effects: Vec<Effect>,
}

impl Turn {
    const fn at(now: Now) -> Self {
        Self {
            now,
            effects: Vec::new(),
        }
    }

    pub(super) fn push(&mut self, effect: Effect) {
        self.effects.push(effect);
    }
}

/// How long a notice stays.
const NOTICE: Millis = 5_000;
/// After so long without a key, the first one only shows where things stand.
const IDLE: Millis = 600_000;
/// A message that comes so much later than it was due means that the machine slept.
const SLEPT: Millis = 10_000;

/// Takes one message in: changes the model and says what is to be done.
pub fn update(model: &mut Model, msg: Msg, now: Now) -> Vec<Effect> {
    let turn = &mut Turn::at(now);
    model.slept |= sleeps(model, now);
    match msg {
        Msg::Key(key) => press(model, key, turn),
        Msg::Tick => {}
        Msg::Recorded(ids) => model.ledger.recorded(&ids),
        Msg::NotSaved { ids, why } => model.ledger.not_saved(&ids, why),
        Msg::DrawnUp(briefing) => briefing::drawn_up(model, *briefing),
        Msg::NotDrawnUp(why) => {
            model.drawing_up = false;
            model.tell(why, now);
        }
        Msg::Failed(why) => model.tell(why, now),
        Msg::LifterWritten(lifter) => first_run::written(model, *lifter, turn),
        Msg::LifterNotWritten(why) => first_run::not_written(model, why, turn),
        Msg::Revised {
            item,
            after,
            revision,
        } => floor::revised(model, item, after, revision),
        Msg::Foretold {
            after,
            ahead,
            foretold,
        } => odds::told(model, (after, ahead), foretold),
        Msg::StandIns { item, avoid, found } => overlay::stand_ins(model, item, avoid, found),
        Msg::Preview(lines) => briefing::preview(model, lines),
        Msg::Book(book) => logbook::was_read(model, book),
        Msg::Believed(exercise, found) => logbook::believed(model, exercise, found),
        Msg::Unheard(cue) => signs::show(model, cue, turn),
        Msg::Shown(reach) => model.reach = reach,
        Msg::Continued => {}
    }
    plates::settle(model);
    odds::settle(model, turn);
    depth::deepen(model, turn);
    signs::give(model, turn);
    if model
        .notice
        .as_ref()
        .is_some_and(|notice| notice.until <= now.boot)
    {
        model.notice = None;
    }
    draft::keep(model, turn);
    model.due = deadline(model, now);
    let mut effects = std::mem::take(&mut turn.effects);
    if model.access.looks_only() {
        effects.retain(|effect| !effect.keeps_something());
    }
    effects
}

/// What keys are taken for.
pub fn mode(model: &Model) -> Mode {
    match (&model.overlay, &model.screen) {
        (Overlay::Menu(_), _) => Mode::Menu,
        (Overlay::Ask(_), _) => Mode::Question,
        (Overlay::Writing(_), _) => Mode::Writing,
        (Overlay::Help { .. } | Overlay::Coaching { .. } | Overlay::Page { .. }, _) => Mode::Help,
        (Overlay::None, screen) => below(screen),
    }
}

/// Whether the next key on the floor only shows where things stand, after a sleep or an idle time.
pub fn only_shows(model: &Model, now: Now) -> bool {
    let slept = model.slept || sleeps(model, now);
    let idle = now.boot.since(model.last_key) >= IDLE;
    matches!(model.screen, Screen::Floor(_)) && (idle || slept)
}

/// Whether the machine slept since the last message.
fn sleeps(model: &Model, now: Now) -> bool {
    model.due.is_some_and(|due| now.boot.since(due) > SLEPT)
}

fn press(model: &mut Model, key: Key, turn: &mut Turn) {
    let by_itself = model
        .floor()
        .is_some_and(|floor| floor.hands_free.is_some());
    let only_shows = !by_itself && only_shows(model, turn.now);
    model.last_key = turn.now.boot;
    model.slept = false;
    if only_shows && key != Key::CtrlC {
        model.tell(
            "here is where things stand; that key did nothing else",
            turn.now,
        );
        return;
    }
    let ended = key != Key::CtrlC && lift::ends_hold(model, key, turn);
    if by_itself {
        let goes_on = matches!(key, Key::Char('p') | Key::CtrlC | Key::CtrlZ);
        hands_free::stop(model, ended || goes_on, turn.now);
        if !goes_on {
            return;
        }
    } else if ended {
        return;
    }
    let mode = mode(model);
    match (action(mode, key), mode) {
        (Some(Action::Leave), _) => turn.push(Effect::Quit),
        (Some(Action::Suspend), _) => turn.push(Effect::Suspend),
        (Some(Action::Pain), _) => pain::ask(model, turn.now),
        (Some(Action::Ground), _) => change_ground(model, turn),
        (Some(Action::Help), _) => model.overlay = Overlay::Help { mode, scroll: 0 },
        (Some(action), Mode::FirstRun) => first_run::act(model, action, turn),
        (Some(action), Mode::Briefing) => briefing::act(model, action, turn),
        (Some(action), Mode::Floor) => floor::act(model, action, turn),
        (Some(action), Mode::Debrief) => debrief::act(model, action, turn),
        (Some(action), Mode::Logbook) => logbook::act(model, action, turn),
        (Some(action), Mode::Menu | Mode::Question | Mode::Writing | Mode::Help) => {
            overlay::act(model, action, turn);
        }
        (None, Mode::Menu) => overlay::menu_letter(model, key, turn),
        (None, Mode::Question) => {}
        (
            None,
            Mode::FirstRun
            | Mode::Briefing
            | Mode::Floor
            | Mode::Debrief
            | Mode::Writing
            | Mode::Help
            | Mode::Logbook,
        ) => {
            if mode == Mode::Floor {
                model.tell("no such key here: h shows them all", turn.now);
                turn.push(Effect::Cue(Cue::Mistake));
            }
        }
    }
}

/// Something is preferred, now and at the next start.
fn prefer(model: &mut Model, preference: Preference, turn: &mut Turn) {
    model.prefs.prefer(preference);
    turn.push(Effect::Prefer(preference));
}

/// From dark to light to no colour, now and at the next start.
fn change_ground(model: &mut Model, turn: &mut Turn) {
    model.ground = model.ground.next();
    prefer(model, Preference::Ground(model.ground), turn);
    model.tell(format!("ground: {}", model.ground.name()), turn.now);
}

impl Model {
    /// Shows one line for a while.
    pub(super) fn tell(&mut self, text: impl Into<String>, now: Now) {
        self.notice = Some(Notice {
            text: text.into(),
            until: now.boot.plus(NOTICE),
        });
    }

    /// The floor, also when the debrief lies behind it.
    pub fn floor(&self) -> Option<&Floor> {
        match &self.screen {
            Screen::Floor(floor) => Some(floor),
            Screen::Debrief(debrief) => Some(&debrief.floor),
            Screen::FirstRun(_) | Screen::Waiting(_) | Screen::Briefing(_) | Screen::Logbook(_) => {
                None
            }
        }
    }
}

impl Ledger {
    /// Gives the event its name and its place in the order, and notes it as on its way.
    pub(super) fn stamp(&mut self, session: Option<EventId>, event: Event, at: Civil) -> Stamped {
        self.given += 1;
        self.highest += 1;
        let id = EventId(format!("{}-{}", self.origin, self.given));
        let stamped = Stamped {
            id,
            n: self.highest,
            session,
            at,
            event,
        };
        self.saving.push(stamped.id.clone());
        self.written.push(stamped.clone());
        stamped
    }

    fn recorded(&mut self, ids: &[EventId]) {
        self.saving.retain(|id| !ids.contains(id));
        self.not_saved.retain(|id| !ids.contains(id));
    }

    fn not_saved(&mut self, ids: &[EventId], why: String) {
        self.why = why;
        self.saving.retain(|id| !ids.contains(id));
        for id in ids {
            if !self.not_saved.contains(id) {
                self.not_saved.push(id.clone());
            }
        }
    }
}

/// The session that these of its events tell.
pub(super) fn refold(events: &[Stamped], damaged: &BTreeSet<EventId>) -> Option<Session> {
    let mut session = Session::fold(&resolve(events.to_vec()).events)?;
    session.mark_damaged(damaged);
    Some(session)
}

/// Lets something happen in the running session: stamped, folded in, sent to the disk.
pub(super) fn happen(
    ledger: &mut Ledger,
    floor: &mut Floor,
    event: Event,
    now: Now,
) -> (EventId, Effect) {
    let stamped = ledger.stamp(Some(floor.session.id.clone()), event, now.civil);
    let id = stamped.id.clone();
    floor.events.push(stamped.clone());
    if let Some(session) = refold(&floor.events, &floor.damaged) {
        floor.session = session;
    }
    (id, Effect::Append(vec![stamped]))
}
