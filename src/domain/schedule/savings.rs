//! Neighbouring loads that would save plate moves.

use super::{Plates, Stacks};
use crate::domain::advice::{Context, heaviest, moved};
use crate::domain::gear::{Makeable, above, below};
use crate::domain::session::{Asked, Plan, SetKind};
use crate::domain::strength::equations::for_records;
use crate::domain::units::{Load, Spare};
use crate::domain::words;
use std::cmp::Ordering;
use std::fmt;

/// A neighbouring load that would save plate moves.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Saving {
    /// Which item of the plan.
    pub item: usize,
    /// The load instead of the one suggested for its working sets.
    pub instead: Load,
    /// Plate moves saved in the whole session.
    pub moves: u32,
    /// What it costs or spares, in percent of all that is moved, the body's part too: negative is
    /// lighter.
    pub percent: i32,
    /// Reps by which a set ends nearer to the last possible one, by Epley's equation; none where
    /// ten reps or more would go, of which it says too little.
    pub harder: Option<i32>,
}

impl fmt::Display for Saving {
    /// "16 kg would save 8 plate moves: 7 % heavier, about 2 reps harder".
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let moves = words::count(self.moves as usize, "plate move");
        let way = if self.percent < 0 {
            "lighter"
        } else {
            "heavier"
        };
        write!(
            f,
            "{} would save {moves}: {} % {way}",
            self.instead,
            self.percent.abs()
        )?;
        let Some(harder) = self.harder.filter(|reps| *reps != 0) else {
            return Ok(());
        };
        let reps = words::count(harder.unsigned_abs() as usize, "rep");
        let way = if harder < 0 { "easier" } else { "harder" };
        write!(f, ", about {reps} {way}")
    }
}

/// Fewer moves than this are not worth another load.
const WORTH: u32 = 4;
/// A load further away, in percent, is other work; common practice, no source.
const FAR: i32 = 20;

/// For each item, the neighbouring load that saves the most plate moves, where that is worth it
/// and the rails leave room for it; `now` are the plates of the loads suggested.
pub fn savings(plan: &Plan, plates: &Plates<'_>, ctx: &Context<'_>, now: &Stacks) -> Vec<Saving> {
    let mut found = Vec::new();
    for (k, item) in plan.items.iter().enumerate() {
        let Some(exercise) = ctx.catalogue.get(&item.exercise) else {
            continue;
        };
        let made = plates.made(exercise);
        let working = item
            .sets
            .iter()
            .find(|set| set.kind != SetKind::Ramp && !set.feeler);
        let Some((load, asked)) = working.map(|set| (set.load, set.asked)) else {
            continue;
        };
        if plates.demand(exercise, load).is_none() {
            continue;
        }
        let room = |above: &&Makeable| {
            let most = heaviest(ctx, item).and_then(|most| most.heavier(above.load));
            matches!(most, Some(Ordering::Equal | Ordering::Greater))
        };
        let near = [below(made, load), above(made, load).filter(room)];
        let near = near.into_iter().flatten();
        let body = ctx.lifter.body_weight;
        let best = near.filter_map(|other| {
            let mut instead = plan.clone();
            let sets = instead.items.get_mut(k).map(|item| &mut item.sets);
            let alike = sets.into_iter().flatten().filter(|set| set.load == load);
            alike.for_each(|set| set.load = other.load);
            let moves = now.moves().checked_sub(plates.stacks(&instead).moves());
            let moves = moves.filter(|saved| *saved >= WORTH)?;
            let ratio = moved(exercise, body, other.load)? / moved(exercise, body, load)?;
            let percent = libm::round((ratio - 1.0) * 100.0) as i32;
            (percent.abs() <= FAR).then(|| Saving {
                item: k,
                instead: other.load,
                moves,
                percent,
                harder: harder(ratio, asked, item.spare),
            })
        });
        found.extend(best.max_by_key(|saving| saving.moves));
    }
    found
}

/// How many reps a load of so many times the suggested one is harder: the reps that would go with
/// the one, less those with the other, where the equation gives both the same one-rep max.
fn harder(ratio: f64, asked: Asked, spare: Option<Spare>) -> Option<i32> {
    let Asked::Reps(reps) = asked else {
        return None;
    };
    let most = reps.get() + spare.map_or(0, Spare::get);
    let max = for_records(1.0, most)?;
    // Epley's w (1 + n / 30), solved for n.
    let instead = 30.0 * (max / ratio - 1.0);
    Some(libm::round(f64::from(most) - instead) as i32)
}
