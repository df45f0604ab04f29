//! Advice on a program: what may be meant so, and is worth a second look.

use super::{Phase, Program, Slot, SlotId, hard_sets};
use crate::domain::exercise::{Catalogue, Exercise, Muscle, Pattern, Role};
use crate::domain::gear::Place;
use crate::domain::words;
use std::collections::BTreeMap;

/// A number that advice goes by, and where it is from.
#[derive(Clone, PartialEq, Debug)]
pub struct Rule {
    /// The number.
    pub limit: f64,
    /// A publication, "common practice, no source" or "custom".
    pub source: String,
}

/// The numbers that advice goes by.
#[derive(Clone, PartialEq, Debug)]
pub struct Rules {
    /// Least seconds of rest of a heavy compound exercise.
    pub heavy_rest: Rule,
    /// Reps up to which it is heavy.
    pub heavy_reps: Rule,
    /// Least seconds of rest of any compound exercise.
    pub compound_rest: Rule,
    /// Latest opening of an isolation exercise's rest, in seconds.
    pub isolation_rest: Rule,
    /// Least hard sets a week of a large muscle.
    pub week_least: Rule,
    /// Most hard sets a week of a muscle.
    pub week_most: Rule,
    /// Most hard sets a week of a muscle for a novice.
    pub novice_week: Rule,
    /// Most hard sets a session of a muscle for a novice.
    pub novice_session: Rule,
    /// Most hard sets a session of a muscle.
    pub session_most: Rule,
    /// Least percent of pulling sets to pushing sets.
    pub pull_share: Rule,
    /// Isolation before compound work.
    pub isolation_first: Rule,
    /// What a place cannot do.
    pub place: Rule,
}

/// For whom, and where.
#[derive(Clone, Copy, Debug)]
pub struct For<'a> {
    /// All exercises.
    pub catalogue: &'a Catalogue,
    /// The place, where it is known.
    pub place: Option<&'a Place>,
    /// Whether the person is new to this.
    pub novice: bool,
    /// The numbers.
    pub rules: &'a Rules,
}

/// A piece of advice.
#[derive(Clone, PartialEq, Debug)]
pub struct Finding {
    /// The phase, from 0.
    pub phase: usize,
    /// The slot; none where it is about the phase.
    pub slot: Option<SlotId>,
    /// What is to be seen.
    pub message: String,
    /// What could be done, and the source of the advice.
    pub advice: String,
}

/// Muscles that a program for the whole body trains as such.
const LARGE: [Muscle; 3] = [Muscle::Chest, Muscle::Lats, Muscle::Quadriceps];

/// All advice on a program, phase by phase; what an earlier phase was told is not said again.
pub fn review(program: &Program, whom: For<'_>) -> Vec<Finding> {
    let mut found: Vec<Finding> = Vec::new();
    for (k, phase) in program.phases.iter().enumerate() {
        let mut review = Review {
            whom,
            phase: k,
            found: Vec::new(),
        };
        review.days(phase);
        review.week(program, phase);
        for finding in review.found {
            let again =
                |other: &Finding| other.slot == finding.slot && other.message == finding.message;
            if !found.iter().any(again) {
                found.push(finding);
            }
        }
    }
    found
}

struct Review<'a> {
    whom: For<'a>,
    phase: usize,
    found: Vec<Finding>,
}

impl Review<'_> {
    fn say(&mut self, slot: Option<&SlotId>, message: String, (advice, rule): (&str, &Rule)) {
        self.found.push(Finding {
            phase: self.phase,
            slot: slot.cloned(),
            message,
            advice: format!("{advice} ({})", rule.source),
        });
    }

    fn days(&mut self, phase: &Phase) {
        for day in &phase.days {
            for (k, slot) in day.slots.iter().enumerate() {
                let later = day.slots.get(k + 1..).unwrap_or_default();
                self.order(slot, later);
                self.rest(slot);
                self.here(slot);
            }
            self.session(&day.name, &day.slots);
        }
    }

    /// Isolation before compound work of the same muscle.
    fn order(&mut self, slot: &Slot, later: &[Slot]) {
        let get = |slot: &Slot| self.whom.catalogue.get(&slot.exercise);
        let Some(first) = get(slot).filter(|e| e.role == Role::Isolation) else {
            return;
        };
        let shares = |other: &&Exercise| {
            let muscles = |m: &Muscle| other.prime.contains(m) || other.assisting.contains(m);
            other.role == Role::Compound && first.prime.iter().any(muscles)
        };
        let Some(other) = later.iter().filter_map(get).find(shares) else {
            return;
        };
        let message = format!("{} tires what {} needs", first.name, other.name);
        let rule = &self.whom.rules.isolation_first;
        self.say(
            Some(&slot.id),
            message,
            ("put it behind the compound work", rule),
        );
    }

    /// A rest window that fights what the sets are for.
    fn rest(&mut self, slot: &Slot) {
        let Some(exercise) = self.whom.catalogue.get(&slot.exercise) else {
            return;
        };
        let rules = self.whom.rules;
        let opens = f64::from(slot.rest.opens.get());
        let heavy = f64::from(slot.ask.most()) <= rules.heavy_reps.limit;
        let holds = matches!(slot.ask, super::Ask::Hold { .. });
        let (message, advice, rule) = match exercise.role {
            Role::Compound if holds || slot.group.is_some() => return,
            Role::Compound if heavy && opens < rules.heavy_rest.limit => (
                format!(
                    "a rest from {} on between sets of {}",
                    slot.rest.opens, slot.ask
                ),
                "let heavy work rest 2:00 at least",
                &rules.heavy_rest,
            ),
            Role::Compound if opens < rules.compound_rest.limit => (
                format!(
                    "a rest from {} on between sets of a compound",
                    slot.rest.opens
                ),
                "let it rest 0:45 at least, or the load falls from set to set",
                &rules.compound_rest,
            ),
            Role::Isolation if opens > rules.isolation_rest.limit => (
                format!("a rest from {} on for isolation work", slot.rest.opens),
                "let it open after 3:00 at the latest",
                &rules.isolation_rest,
            ),
            Role::Compound | Role::Isolation => return,
        };
        self.say(Some(&slot.id), message, (advice, rule));
    }

    /// What the person's place cannot do.
    fn here(&mut self, slot: &Slot) {
        let exercise = self.whom.catalogue.get(&slot.exercise);
        let (Some(place), Some(exercise)) = (self.whom.place, exercise) else {
            return;
        };
        let lacks = place.lacks(&exercise.needs, exercise.implement());
        let none = lacks.is_empty() && place.makeable(exercise.implement()).is_empty();
        if lacks.is_empty() && !none {
            return;
        }
        let lacks: Vec<String> = lacks.iter().map(ToString::to_string).collect();
        let lacks = match lacks.as_slice() {
            [] => "no load for it".to_owned(),
            lacks => lacks.join(" and "),
        };
        let message = format!("{} at {}: {lacks}", exercise.name, place.name);
        let advice = "another exercise will stand in there, or name one yourself";
        self.say(Some(&slot.id), message, (advice, &self.whom.rules.place));
    }

    /// More hard sets of a muscle in one session than a person bears.
    fn session(&mut self, name: &str, slots: &[Slot]) {
        let rules = self.whom.rules;
        let (most, who) = if self.whom.novice {
            (&rules.novice_session, "a novice")
        } else {
            (&rules.session_most, "anyone")
        };
        let sets = slots.iter().map(|slot| (slot, slot.hard_sets()));
        for (muscle, sets) in hard_sets(self.whom.catalogue, sets) {
            if sets > most.limit {
                let message = format!("{sets} hard sets for {muscle} in \"{name}\"");
                let advice = format!("{} are plenty for {who} in one session", most.limit);
                let trains = |slot: &&Slot| {
                    let exercise = self.whom.catalogue.get(&slot.exercise);
                    exercise.is_some_and(|exercise| exercise.prime.contains(&muscle))
                };
                let first = slots.iter().find(trains).or(slots.first());
                self.say(first.map(|slot| &slot.id), message, (&advice, most));
            }
        }
    }

    /// The week as a whole: hard sets by muscle, pulling to match pushing.
    fn week(&mut self, program: &Program, phase: &Phase) {
        let days = phase.days.len().max(1) as f64;
        let times = match &program.rhythm {
            super::Rhythm::Weekdays(_) => 1.0,
            super::Rhythm::Rotation { .. } => program.rhythm.per_week() as f64 / days,
            super::Rhythm::Every { days: gap } => 7.0 / f64::from(*gap) / days,
        };
        let slots = || phase.days.iter().flat_map(|day| &day.slots);
        let all = slots().map(|slot| (slot, slot.hard_sets()));
        let mut week: BTreeMap<Muscle, f64> = hard_sets(self.whom.catalogue, all);
        week.values_mut()
            .for_each(|sets| *sets = (*sets * times * 10.0).round() / 10.0);
        let rules = self.whom.rules;
        for muscle in LARGE {
            let sets = week.get(&muscle).copied().unwrap_or(0.0);
            if sets < rules.week_least.limit {
                let message = format!("{sets} hard sets a week for {muscle}");
                let advice = "add a set or an exercise for it, where it is to grow";
                self.say(None, message, (advice, &rules.week_least));
            }
        }
        // The glutes share in every squat, lunge and hinge, not always as the hardest at work.
        let most = if self.whom.novice {
            &rules.novice_week
        } else {
            &rules.week_most
        };
        for (muscle, sets) in week {
            if sets > most.limit && muscle != Muscle::Glutes {
                let message = format!("{sets} hard sets a week for {muscle}");
                let advice = format!("{} are plenty", most.limit);
                self.say(None, message, (&advice, most));
            }
        }
        self.balance(slots());
    }

    fn balance<'s>(&mut self, slots: impl Iterator<Item = &'s Slot>) {
        let (mut push, mut pull) = (0, 0);
        for slot in slots {
            match self.whom.catalogue.get(&slot.exercise).map(|e| e.pattern) {
                Some(Pattern::PushAcross | Pattern::PushOverhead) => push += slot.hard_sets(),
                Some(Pattern::PullAcross | Pattern::PullOverhead) => pull += slot.hard_sets(),
                Some(_) | None => {}
            }
        }
        let rule = &self.whom.rules.pull_share;
        if f64::from(pull) * 100.0 < f64::from(push) * rule.limit {
            let message = format!(
                "{} of pulling to {push} of pushing",
                words::count(pull as usize, "set")
            );
            self.say(None, message, ("add rows or pull-ups to match", rule));
        }
    }
}
