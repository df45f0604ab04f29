//! A session made to fit into the time there is: the cuts in their fixed order, as few of them as
//! will do. So a longer time never cuts more.
//!
//! Rests go toward the opening of their windows and never below it; then isolation exercises that
//! do not compete are done in turn; then isolation sets go, then compound sets down to two each.
//! The first compound exercise and ramp sets stay. Who loses first changes from session to session.

use super::briefing::{Drawn, slots_of};
use super::{Material, Plates, Today, in_turn, whole};
use crate::domain::exercise::{Catalogue, Exercise, Role};
use crate::domain::gear::Place;
use crate::domain::history::Pace;
use crate::domain::program::{Program, RestWindow, Slot};
use crate::domain::session::{Plan, PlannedItem, SetKind};
use crate::domain::units::Seconds;
use std::fmt;

/// How much of its window a rest may take, in quarters, cut by cut.
const QUARTERS: [u32; 5] = [4, 3, 2, 1, 0];
/// Hard sets of a compound exercise that stay.
const COMPOUND_KEEPS: usize = 2;
/// The groups of pairs made here begin behind all that a program can name.
const OWN_GROUPS: u8 = 100;

/// One cut.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Cut {
    /// Rests end at so many quarters of their windows.
    Rests(u32),
    /// These two exercises are done in turn.
    Pair(String, String),
    /// An isolation exercise has so many sets, not as many as before.
    Isolation(String, usize),
    /// A compound exercise has so many sets.
    Compound(String, usize),
}

impl Cut {
    /// Its place in the order of cuts.
    pub const fn stage(&self) -> u8 {
        match self {
            Self::Rests(_) => 1,
            Self::Pair(..) => 2,
            Self::Isolation(..) => 3,
            Self::Compound(..) => 4,
        }
    }
}

impl fmt::Display for Cut {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Rests(0) => f.write_str("rests end as their windows open"),
            Self::Rests(quarters) => write!(f, "rests end by {} % of their windows", quarters * 25),
            Self::Pair(one, other) => write!(f, "{one} and {other} in turn"),
            Self::Isolation(name, 0) => write!(f, "{name} left out"),
            Self::Isolation(name, sets) | Self::Compound(name, sets) => {
                write!(f, "{name}: {}", crate::domain::words::count(*sets, "set"))
            }
        }
    }
}

/// A session that was made to fit, or could not be.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Boxed {
    /// The time there is, in minutes.
    pub minutes: u32,
    /// What was cut: of one kind and exercise the last cut alone.
    pub cuts: Vec<Cut>,
    /// Where it cannot fit: the shortest that can be done.
    pub shortest: Option<Seconds>,
}

impl Boxed {
    /// What is told of it; nothing where nothing was cut.
    pub fn told(&self) -> Option<String> {
        let cuts: Vec<String> = self.cuts.iter().map(ToString::to_string).collect();
        let cuts = cuts.join("; ");
        match self.shortest {
            Some(shortest) => {
                let least = shortest.get().div_ceil(60);
                let minutes = self.minutes;
                Some(format!(
                    "{minutes} minutes are too few, {least} the fewest: {cuts}"
                ))
            }
            None if cuts.is_empty() => None,
            None => Some(format!("to fit {} minutes: {cuts}", self.minutes)),
        }
    }

    /// Adds a cut; an earlier one of the same thing is told no more.
    fn add(&mut self, cut: Cut) {
        let same = |other: &Cut| match (other, &cut) {
            (Cut::Rests(_), Cut::Rests(_)) => true,
            (Cut::Isolation(a, _), Cut::Isolation(b, _)) => a == b,
            (Cut::Compound(a, _), Cut::Compound(b, _)) => a == b,
            (Cut::Pair(..), _)
            | (Cut::Rests(_), _)
            | (Cut::Isolation(..), _)
            | (Cut::Compound(..), _) => false,
        };
        self.cuts.retain(|other| !same(other));
        self.cuts.push(cut);
    }
}

/// Slots whose rests end at so many quarters of their windows.
fn with_rests(slots: &[Slot], quarters: u32) -> Vec<Slot> {
    let nearer = |rest: RestWindow| {
        let span = rest.closes.get().saturating_sub(rest.opens.get());
        RestWindow {
            opens: rest.opens,
            closes: Seconds::clamped(rest.opens.get() + span * quarters / 4),
        }
    };
    let mut slots = slots.to_vec();
    for slot in &mut slots {
        slot.rest = nearer(slot.rest);
        slot.details.inside = slot.details.inside.map(nearer);
    }
    slots
}

/// Pairs of isolation exercises next to each other among those alone that share no muscle.
fn pairs(plan: &Plan, catalogue: &Catalogue) -> Vec<(usize, usize)> {
    let alone = |k: &usize| {
        let item = plan.items.get(*k);
        item.is_some_and(|item| item.group.is_none() && role(item, catalogue) == Role::Isolation)
    };
    let mut free: Vec<usize> = (0..plan.items.len()).filter(alone).collect();
    let mut pairs = Vec::new();
    while let Some(first) = free.first().copied() {
        free.remove(0);
        let competes = |other: &usize| compete(plan, catalogue, (first, *other));
        if let Some(place) = free.iter().position(|other| !competes(other)) {
            pairs.push((first, free.remove(place)));
        }
    }
    pairs
}

/// Has two items done in turn; their names.
fn pair(plan: &mut Plan, (one, other): (usize, usize), catalogue: &Catalogue) -> Option<Cut> {
    let group = OWN_GROUPS.saturating_add(u8::try_from(one).ok()?);
    for place in [one, other] {
        plan.items.get_mut(place)?.group = Some(group);
    }
    let name = |place: usize| Some(catalogue.name(&plan.items.get(place)?.exercise).to_owned());
    Some(Cut::Pair(name(one)?, name(other)?))
}

/// Takes the next hard set away from the plan, in the order of cuts; none where none may go. `turn`
/// counts the lifter's sessions, so that another exercise loses first the next time.
fn drop_set(plan: &mut Plan, catalogue: &Catalogue, turn: usize) -> Option<Cut> {
    let of = |wanted: Role| -> Vec<usize> {
        let items = plan.items.iter().enumerate();
        let same = items.filter(|(_, item)| role(item, catalogue) == wanted);
        same.map(|(k, _)| k).collect()
    };
    let (isolation, mut compound) = (of(Role::Isolation), of(Role::Compound));
    if !compound.is_empty() {
        compound.remove(0);
    }
    if let Some(k) = next(plan, isolation, (0, turn)) {
        let (name, left) = take(plan, k, catalogue)?;
        return Some(Cut::Isolation(name, left));
    }
    let k = next(plan, compound, (COMPOUND_KEEPS, turn))?;
    let (name, left) = take(plan, k, catalogue)?;
    Some(Cut::Compound(name, left))
}

/// Who loses the next set: who has most left of those that may lose, and of these the last one,
/// counted on from where `turn` says.
fn next(plan: &Plan, mut items: Vec<usize>, (keeps, turn): (usize, usize)) -> Option<usize> {
    items.reverse();
    if !items.is_empty() {
        let by = turn % items.len();
        items.rotate_left(by);
    }
    let sets = |k: &usize| plan.items.get(*k).map_or(0, hard);
    let most = items.iter().map(sets).max()?;
    let may = |k: &usize| sets(k) > keeps && sets(k) == most;
    items.into_iter().find(may)
}

fn take(plan: &mut Plan, place: usize, catalogue: &Catalogue) -> Option<(String, usize)> {
    let item = plan.items.get_mut(place)?;
    let last = item
        .sets
        .iter()
        .rposition(|set| set.kind != SetKind::Ramp)?;
    let gone = item.sets.remove(last);
    if gone.open
        && let Some(set) = item
            .sets
            .iter_mut()
            .rfind(|set| set.kind == SetKind::Working)
    {
        set.open = true;
    }
    let left = hard(item);
    if left == 0 {
        item.sets.clear();
    }
    Some((catalogue.name(&item.exercise).to_owned(), left))
}

fn hard(item: &PlannedItem) -> usize {
    let hard = item.sets.iter().filter(|set| set.kind != SetKind::Ramp);
    hard.count()
}

fn role(item: &PlannedItem, catalogue: &Catalogue) -> Role {
    let exercise = catalogue.get(&item.exercise);
    exercise.map_or(Role::Compound, |exercise| exercise.role)
}

/// Whether two exercises want the same muscles.
fn compete(plan: &Plan, catalogue: &Catalogue, (one, other): (usize, usize)) -> bool {
    let get = |k: usize| -> Option<&Exercise> { catalogue.get(&plan.items.get(k)?.exercise) };
    let (Some(one), Some(other)) = (get(one), get(other)) else {
        return true;
    };
    let muscles = |e: &Exercise| [e.prime.clone(), e.assisting.clone()].concat();
    muscles(one)
        .iter()
        .any(|muscle| muscles(other).contains(muscle))
}

impl<'a> Material<'a> {
    /// The session with as few cuts as fit it into so many minutes; with all of them where it
    /// cannot fit.
    pub(super) fn fitted(
        &self,
        which: (&Program, &'a Place, &Today),
        minutes: u32,
    ) -> (Drawn<'a>, Boxed) {
        let (program, _, today) = which;
        let slots = slots_of(program, today);
        let fits = |drawn: &Drawn<'_>| self.takes(drawn).get() <= minutes.saturating_mul(60);
        let mut boxed = Boxed {
            minutes,
            cuts: Vec::new(),
            shortest: None,
        };
        let mut drawn = self.plan_of(which, &slots);
        for quarters in QUARTERS {
            let nearer = with_rests(&slots, quarters);
            if nearer != slots {
                drawn = self.plan_of(which, &nearer);
                boxed.add(Cut::Rests(quarters));
            }
            if fits(&drawn) {
                return (drawn, boxed);
            }
        }
        for two in pairs(&drawn.0, self.catalogue) {
            self.try_pair(&mut drawn, two, &mut boxed);
            if fits(&drawn) {
                return (drawn, boxed);
            }
        }
        let turn = self.history.count();
        while let Some(cut) = drop_set(&mut drawn.0, self.catalogue, turn) {
            boxed.add(cut);
            if fits(&drawn) {
                drawn.0.items.retain(|item| !item.sets.is_empty());
                return (drawn, boxed);
            }
        }
        boxed.shortest = Some(self.takes(&drawn));
        drawn.0.items.retain(|item| !item.sets.is_empty());
        (drawn, boxed)
    }

    /// Has two exercises done in turn, where the gear has both at once and it takes less time.
    fn try_pair(&self, drawn: &mut Drawn<'a>, two: (usize, usize), boxed: &mut Boxed) {
        let Drawn(plan, _, plates) = &*drawn;
        let mut tried = plan.clone();
        let Some(cut) = pair(&mut tried, two, self.catalogue) else {
            return;
        };
        let clashes = !in_turn::part(&mut tried, plates, self.catalogue).is_empty();
        let shorter = self.time_of(&tried, plates) < self.time_of(plan, plates);
        if shorter && !clashes {
            drawn.0 = tried;
            boxed.add(cut);
        }
    }

    fn takes(&self, Drawn(plan, _, plates): &Drawn<'_>) -> Seconds {
        self.time_of(plan, plates)
    }

    /// How long a plan takes this lifter, without the exercises that it leaves out.
    pub(super) fn time_of(&self, plan: &Plan, plates: &Plates<'_>) -> Seconds {
        let mut plan = plan.clone();
        plan.items.retain(|item| !item.sets.is_empty());
        let stacks = plates.stacks(&plan);
        whole(&plan, self.catalogue, (Pace::of(self.history), &stacks))
    }
}
