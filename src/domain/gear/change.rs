//! A change of plates, told as a person does it.

use super::Stack;
use super::stock::{Carrier, Standing, Stock};
use super::together::Step;
use super::turns::Turn;

impl Stock {
    /// A change from what stands.
    pub(super) fn told(&self, before: &Standing, turn: &Turn) -> Step {
        let first = self.first(before, turn);
        let then = self.then(before, turn);
        let change = match (first.is_empty(), then.is_empty()) {
            (true, true) => "as it is".to_owned(),
            (true, false) => then,
            (false, true) => format!("first {}", first.join(", ")),
            (false, false) => format!("first {}; {then}", first.join(", ")),
        };
        Step {
            stack: self.stack(&turn.stack),
            change,
            moves: turn.moves,
            after: turn.after.clone(),
        }
    }

    pub(super) fn stack(&self, kinds: &[usize]) -> Stack {
        let pools = kinds.iter().filter_map(|kind| self.pools.get(*kind));
        Stack(pools.map(|pool| pool.weight).collect())
    }

    /// What comes off what the set is not done with: "2 × 10 off the bar".
    fn first(&self, before: &Standing, turn: &Turn) -> Vec<String> {
        let mut giving: Vec<(Carrier, Vec<usize>, usize)> = Vec::new();
        let holders = self.holders.iter().zip(before.0.iter().zip(&turn.after.0));
        for (k, (holder, (was, is))) in holders.enumerate() {
            let off: Vec<usize> = was.iter().skip(is.len()).rev().copied().collect();
            if off.is_empty() || turn.holders.contains(&k) {
                continue;
            }
            let alike = |(carrier, plates, _): &&mut (Carrier, Vec<usize>, usize)| {
                *carrier == holder.carrier && *plates == off
            };
            match giving.iter_mut().find(alike) {
                Some((_, _, count)) => *count += 1,
                None => giving.push((holder.carrier, off, 1)),
            }
        }
        let told = giving.iter().map(|(carrier, off, count)| {
            let plates: Vec<String> = off
                .chunk_by(|a, b| a == b)
                .map(|run| {
                    let stack = self.stack(run.get(..1).unwrap_or_default());
                    format!("{} × {stack}", run.len() * count * 2)
                })
                .collect();
            let from = self.name(*carrier, (*count, turn));
            format!("{} off {from}", plates.join(" + "))
        });
        told.collect()
    }

    /// "the bar", "the handles", "the other handle" of so many.
    fn name(&self, carrier: Carrier, (count, turn): (usize, &Turn)) -> String {
        let of: Vec<usize> = self.of(carrier).collect();
        let name = of.first().and_then(|first| self.holders.get(*first));
        let name = name.map_or("handle", |holder| holder.name.as_str());
        let used = of.iter().any(|holder| turn.holders.contains(holder));
        match (used, count, of.len()) {
            (true, 1, _) => format!("the other {name}"),
            (true, _, _) => format!("the other {name}s"),
            (false, 1, 1) => format!("the {name}"),
            (false, 1, _) => format!("one {name}"),
            (false, _, _) => format!("the {name}s"),
        }
    }

    /// What changes on what the set is done with.
    fn then(&self, before: &Standing, turn: &Turn) -> String {
        let was: Vec<&Vec<usize>> = turn
            .holders
            .iter()
            .filter_map(|holder| before.0.get(*holder))
            .collect();
        let Some((one, others)) = was.split_first() else {
            return String::new();
        };
        if let Some(other) = others.iter().find(|other| *other != one) {
            let (one, other) = (self.ends(one, &turn.stack), self.ends(other, &turn.stack));
            return format!("one handle, {one}; the other, {other}");
        }
        let ends = self.ends(one, &turn.stack);
        // One of several that are not alike: which of them.
        let carrier = turn
            .holders
            .first()
            .and_then(|holder| self.holders.get(*holder));
        let rest = self.of(carrier.map_or(Carrier::Bar(0), |holder| holder.carrier));
        let mut rest = rest.filter(|holder| !turn.holders.contains(holder));
        let unlike = rest.any(|holder| before.0.get(holder) != Some(*one));
        if unlike && one.is_empty() {
            return format!("the empty one, {ends}");
        }
        if unlike {
            return format!("the one with {}, {ends}", self.stack(one));
        }
        ends
    }

    /// What a person does at each end of a handle or bar.
    fn ends(&self, was: &[usize], is: &[usize]) -> String {
        let shared = was.iter().zip(is).take_while(|(a, b)| a == b).count();
        let off: Vec<usize> = was.iter().skip(shared).rev().copied().collect();
        let on = is.get(shared..).unwrap_or_default();
        let (off, on) = (self.stack(&off), self.stack(on));
        match (off.0.is_empty(), on.0.is_empty()) {
            (true, true) => "as it is".to_owned(),
            (true, false) => format!("each end: on {on}"),
            (false, true) => format!("each end: off {off}"),
            (false, false) => format!("each end: off {off}, on {on}"),
        }
    }
}
