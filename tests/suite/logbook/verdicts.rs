//! The verdict on generated lifters whose lift truly rises, falls or stands still: of another form
//! than the program reckons with. Their reps follow an exponential curve (the family of Mayhew et
//! al. 1992) or a power of the reps, with a scatter between people; days differ, and weeks follow
//! one another; sets tire; reports of reserve are off, missing at times or always; loads climb in
//! steps from a careful beginning, or stand in waves of twelves, tens and eights.

use crate::rig::training::civil;
use crate::rig::written::{Written, Wrote, id};
use rackside::domain::exercise::Catalogue;
use rackside::domain::logbook::Logbook;
use rackside::domain::logbook::strength::Strength;
use rackside::domain::logbook::trend::Verdict;
use rackside::domain::session::{Ended, Event};
use rackside::domain::units::Civil;

/// A generator of one's own: splitmix64.
pub struct Chance(pub u64);

impl Chance {
    pub fn share(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
    }

    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.share()
    }

    pub fn normal(&mut self, sd: f64) -> f64 {
        (0..12)
            .map(|_| self.share())
            .sum::<f64>()
            .mul_add(sd, -6.0 * sd)
    }
}

/// A lifter.
struct Lifter {
    chance: Chance,
    base: f64,
    /// Change of ln-strength in all.
    change: f64,
    bend: f64,
    exponential: bool,
    day: f64,
    tires: f64,
    /// How often a reserve is told.
    tells: f64,
    bias: f64,
    waves: bool,
}

const WEEKS: i64 = 26;
const STEP: f64 = 2.0;

impl Lifter {
    fn new(seed: u64, direction: f64) -> Self {
        let mut chance = Chance(seed * 7919 + 17);
        let exponential = chance.share() < 0.5;
        Self {
            base: chance.between(30.0, 110.0),
            change: direction * (1.0 + chance.between(0.08, 0.25)).ln(),
            bend: chance.normal(0.25).exp() * if exponential { 0.049 } else { 0.0515 },
            exponential,
            day: chance.between(0.015, 0.04),
            tires: chance.between(0.01, 0.05),
            tells: [1.0, 0.5, 0.0][(seed % 3) as usize],
            bias: chance.normal(0.8),
            waves: chance.share() < 0.4,
            chance,
        }
    }

    fn reps(&self, max: f64, load: f64) -> f64 {
        let share = load / max;
        if share >= 1.0 {
            return if share > 1.02 { 0.0 } else { 1.0 };
        }
        if self.exponential {
            1.0 - ((share - 0.3).max(0.01) / 0.7).ln() / self.bend
        } else {
            1.0 + ((1.0 / share - 1.0) / self.bend).powf(1.0 / 0.85)
        }
    }

    /// The load for so many reps with some spare, a step of the gear.
    fn load(&self, reps: f64, spare: f64) -> f64 {
        let mut load = STEP;
        while self.reps(self.base, load + STEP) >= reps + spare {
            load += STEP;
        }
        load
    }

    fn trains(mut self, catalogue: &Catalogue) -> Written {
        let mut written = Written::with(catalogue.clone());
        let start = civil("2026-01-05T18:00:00+01:00");
        let spare = self.chance.between(1.0, 4.0);
        let (mut load, mut asked) = (self.load(10.0, spare), 10_u32);
        let (mut week_luck, mut misses) = (0.0, 0);
        for k in 0..2 * WEEKS {
            let day = k * 7 / 2;
            let phase = (day / 28) % 3;
            if self.waves && day % 28 < 4 {
                asked = [12, 10, 8][phase as usize];
                let along = self.change * day as f64 / (7 * WEEKS) as f64;
                self.base *= along.exp();
                load = self.load(f64::from(asked), spare);
                self.base /= along.exp();
            }
            week_luck = 0.8 * week_luck + self.chance.normal(0.01);
            let along = self.change * day as f64 / (7 * WEEKS) as f64;
            let luck = week_luck + self.chance.normal(self.day);
            let today = self.base * (along + luck).exp();
            let made = self.session(
                &mut written,
                start.plus(day * 86_400_000),
                (today, load, asked),
            );
            misses = if made { 0 } else { misses + 1 };
            match (self.waves, made) {
                (false, true) if asked >= 12 => (load, asked) = (load + STEP, 8),
                (false, true) => asked += 1,
                (_, false) if misses >= 2 => load = (load - STEP).max(STEP),
                (true, true) | (_, false) => {}
            }
        }
        written
    }

    /// Three sets; says whether all made it.
    fn session(
        &mut self,
        written: &mut Written,
        at: Civil,
        (today, load, asked): (f64, f64, u32),
    ) -> bool {
        let mut sets = Vec::new();
        let mut made = true;
        for set in 0..3 {
            let max = today * (1.0 - self.tires * f64::from(set));
            let can = (self.reps(max, load) + self.chance.normal(0.5))
                .max(0.0)
                .floor();
            let done = can.min(f64::from(asked));
            let told = self.chance.share() < self.tells;
            let felt = (can - done) * 0.85 - self.bias + self.chance.normal(1.0);
            let spare = (told && done >= f64::from(asked)).then(|| felt.round().max(0.0) as u32);
            made &= done >= f64::from(asked);
            let wrote = Wrote::work("back_squat", load, done as u32);
            sets.push(Wrote { spare, ..wrote });
        }
        let from = written.events.len();
        written.on(at, (30, false), &sets);
        for event in &mut written.events[from..] {
            if let Event::Set(record) = &mut event.event
                && record.done.deciding() < asked
            {
                record.ended = Ended::Short;
            }
        }
        made
    }
}

/// A verdict, the true change, and the band around the change found.
fn verdict(catalogue: &Catalogue, seed: u64, direction: f64) -> (Verdict, f64, f64) {
    let lifter = Lifter::new(seed, direction);
    let change = lifter.change;
    let written = lifter.trains(catalogue);
    let history = written.history();
    let logbook = Logbook::of(&history, &written.catalogue, None);
    let exercise = written.catalogue.get(&id("back_squat")).expect("known");
    let ever = (chrono::NaiveDate::MIN, chrono::NaiveDate::MAX);
    let strength = Strength::of((&history, &logbook), exercise, ever, None).expect("sessions");
    let trend = strength.trend.expect("enough of them");
    (trend.verdict(), change, trend.whole().1)
}

/// Lifters of each kind; of 700 of each, none that rose or fell was called the opposite, all were
/// called where the change was twice the band, and 3 that stood still were called something.
const LIFTERS: u64 = 60;

#[test]
fn the_verdict_is_never_the_opposite_of_the_truth() {
    let all = Written::new().catalogue;
    let squat = Catalogue::new(all.get(&id("back_squat")).cloned());
    let mut called = 0;
    for seed in 0..LIFTERS {
        for (direction, opposite) in [(1.0, Verdict::Down), (-1.0, Verdict::Up)] {
            let (verdict, change, band) = verdict(&squat, seed, direction);
            assert_ne!(verdict, opposite, "{seed} {direction}");
            let firm = verdict != Verdict::NoChange;
            assert!(firm || change.abs() < 2.0 * band, "{seed} {change} {band}");
            called += u64::from(firm);
        }
        let (verdict, ..) = verdict(&squat, seed, 0.0);
        assert_eq!(verdict, Verdict::NoChange, "{seed} stands still");
    }
    // Changes were 8 to 25 % in half a year: most of them must not go unseen.
    assert!(called * 100 > 2 * LIFTERS * 70, "{called}");
}
