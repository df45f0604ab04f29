//! What only the whole shows: names that stand twice, changes of nothing.

use super::wire::WirePhase;
use super::{At, Check};
use crate::domain::program::{Day, Phase};

impl<'d> Check<'d> {
    /// A phase's name must be its own: others build on it by name.
    pub(super) fn own_name(&mut self, wire: &WirePhase, at: At<'d>, earlier: &[Phase]) {
        if earlier.iter().any(|phase| phase.name == wire.name.trim()) {
            let message = format!("another phase is called \"{}\" too", wire.name.trim());
            self.say(
                at.field("name"),
                &message,
                "give each phase a name of its own",
            );
        }
    }

    /// Days of one phase must differ by name: slots keep their history by it.
    /// The first of them are taken over, and were looked over with the phase that has them.
    pub(super) fn own_days(&mut self, days: &[Day], taken_over: usize, at: At<'d>) {
        for (k, day) in days.iter().enumerate().skip(taken_over) {
            if days.iter().take(k).any(|other| other.name == day.name) {
                let message = format!("two days of the phase are called \"{}\"", day.name);
                let place = at.field("days").item(k - taken_over).field("name");
                self.say(
                    place,
                    &message,
                    "give each day of a phase a name of its own",
                );
            }
        }
    }

    /// Easier weeks must be weeks that the phase has.
    pub(super) fn easier_weeks(&mut self, wire: &WirePhase, at: At<'d>) {
        if wire.weeks == 0 || at.field("weeks").is_made_up() {
            return;
        }
        for (k, week) in wire.easier_weeks.iter().enumerate() {
            if !(1..=wire.weeks).contains(week) {
                let message = format!("week {week} of a phase of {}", wire.weeks);
                let place = at.field("easier_weeks").item(k);
                self.say(
                    place,
                    &message,
                    &format!("write weeks from 1 to {}", wire.weeks),
                );
            }
        }
    }

    /// What changes an earlier phase says nothing where none is built on.
    pub(super) fn nothing_to_change(&mut self, wire: &WirePhase, at: At<'d>) {
        let fields = [
            ("more_sets", wire.more_sets > 0),
            ("shorter_rests_s", wire.shorter_rests_s > 0),
            ("change", !wire.change.is_empty()),
            ("add", !wire.add.is_empty()),
        ];
        for (field, given) in fields {
            if given && wire.builds_on.is_none() {
                let message = format!("{field} without a phase that this one builds on");
                let advice = "write builds_on: and the name of an earlier phase, or leave it out";
                self.say(at.field(field), &message, advice);
            }
        }
    }

    /// Sets added to every slot must leave each with twenty at most.
    pub(super) fn more_sets(&mut self, wire: &WirePhase, days: &[Day], at: At<'d>) {
        let most = days
            .iter()
            .flat_map(|day| &day.slots)
            .map(|slot| slot.sets)
            .max();
        let most = most.unwrap_or(0);
        if most.saturating_add(wire.more_sets) > 20 {
            let message = format!("{} sets more than {most}", wire.more_sets);
            self.say(
                at.field("more_sets"),
                &message,
                "write so few that no slot has over 20",
            );
        }
    }
}
