//! Simulated lifters, of another form than the program believes in: reps by an exponential curve
//! (the family of Mayhew et al. 1992), fatigue with two time constants that costs strength, noisy
//! and missing reports, illness, interruptions, novices and returning lifters, coarse gear.

use crate::chance::Chance;
use rackside::domain::strength::belief::Learning;

/// A population of lifters.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum World {
    /// An exponential rep curve, reports from never to always, usual noise.
    Usual,
    /// The same with about twice the noise and many more lapses.
    Noisy,
    /// A hyperbola of a power of the reps as curve, reports mostly missing.
    Silent,
}

/// Share of the one-rep max against reps to failure.
#[derive(Clone, Copy)]
enum Curve {
    /// Falls toward a floor.
    Exponential { floor: f64, bend: f64 },
    /// Falls as one over a power of the reps.
    Hyperbola { slope: f64 },
}

/// Power of the reps in the hyperbola.
const BENT: f64 = 0.85;

impl Curve {
    fn new(chance: &mut Chance, world: World) -> Self {
        match world {
            World::Usual | World::Noisy => Self::Exponential {
                floor: chance.normal(0.30, 0.04).clamp(0.2, 0.4),
                bend: 0.049 * chance.normal(0.0, 0.25).exp(),
            },
            World::Silent => Self::Hyperbola {
                slope: 0.0515 * chance.normal(0.0, 0.25).exp(),
            },
        }
    }

    /// A curve like this.
    fn near(self, chance: &mut Chance) -> Self {
        let by = chance.normal(0.0, 0.15).exp();
        match self {
            Self::Exponential { floor, bend } => Self::Exponential {
                floor,
                bend: bend * by,
            },
            Self::Hyperbola { slope } => Self::Hyperbola { slope: slope * by },
        }
    }

    /// Share of the one-rep max at which so many reps are the most.
    fn share(self, reps: f64) -> f64 {
        match self {
            Self::Exponential { floor, bend } => {
                floor + (1.0 - floor) * (-bend * (reps - 1.0)).exp()
            }
            Self::Hyperbola { slope } => 1.0 / (1.0 + slope * (reps - 1.0).powf(BENT)),
        }
    }

    /// Reps to failure at a share of the one-rep max.
    fn reps(self, share: f64) -> f64 {
        let reps = match self {
            Self::Exponential { floor, bend } if share > floor + 1e-6 => {
                1.0 - ((share - floor) / (1.0 - floor)).ln() / bend
            }
            Self::Exponential { .. } => 60.0,
            Self::Hyperbola { slope } => {
                1.0 + ((1.0 / share - 1.0).max(0.0) / slope).powf(1.0 / BENT)
            }
        };
        reps.clamp(0.0, 60.0)
    }
}

/// A set that was done: reps to failure that were there, reps done, spare that is told.
pub struct Lifted {
    pub there: u32,
    pub done: u32,
    pub told: Option<f64>,
}

/// A lifter in one exercise.
pub struct Lifter {
    pub learning: Learning,
    pub class_max: f64,
    pub guess: Option<f64>,
    pub loads: Vec<f64>,
    pub sets: u32,
    pub least: u32,
    pub most: u32,
    pub rest: u32,
    pub spare: Option<u32>,
    pub weeks: u32,
    /// One-rep max now, without the day's luck.
    max: f64,
    former: f64,
    curve: Curve,
    tires: f64,
    day_spread: f64,
    set_spread: f64,
    lapse: f64,
    pub tells: f64,
    bias: f64,
    always: Option<u32>,
    ill: i32,
    sessions: u32,
    /// Today.
    today: f64,
    fast: f64,
    slow: f64,
}

const EXERCISES: [(f64, f64, f64); 6] = [
    // class max, lightest, share of lower body (unused)
    (26.0, 2.0, 0.0),
    (34.0, 2.0, 0.0),
    (10.0, 1.0, 0.0),
    (75.0, 20.0, 0.0),
    (110.0, 20.0, 1.0),
    (16.0, 2.0, 0.0),
];

const RANGES: [(u32, u32); 6] = [(8, 8), (6, 10), (8, 12), (5, 5), (10, 15), (10, 10)];

impl Lifter {
    pub fn new(chance: &mut Chance, world: World) -> Self {
        let learning = *chance.pick(&[Learning::Novice, Learning::Trained, Learning::Returning]);
        let (class, ..) = *chance.pick(&EXERCISES);
        let max = class * chance.normal(0.0, 0.33).exp();
        let (least, most) = *chance.pick(&RANGES);
        let sets = *chance.pick(&[3, 3, 4]);
        let rest = *chance.pick(&[60, 75, 90, 120, 180]);
        let far = world == World::Noisy;
        let mut lifter = Self {
            learning,
            class_max: class,
            guess: None,
            loads: gear(chance, class),
            sets,
            least,
            most,
            rest,
            spare: None,
            weeks: 12 + (chance.unit() * 13.0) as u32,
            max,
            former: max * chance.normal(1.18, 0.05),
            curve: Curve::new(chance, world),
            tires: chance.normal(0.0, 0.35).exp(),
            day_spread: if far { 0.07 } else { 0.033 } * chance.normal(0.0, 0.25).exp(),
            set_spread: if far { 0.11 } else { 0.055 } * chance.normal(0.0, 0.2).exp(),
            lapse: if far { 0.06 } else { 0.012 },
            tells: match world {
                World::Usual | World::Noisy => *chance.pick(&[0.0, 0.3, 0.7, 1.0]),
                World::Silent => *chance.pick(&[0.0, 0.0, 0.2, 0.5]),
            },
            bias: chance.normal(0.7, 0.7),
            always: None,
            ill: 0,
            sessions: 0,
            today: 0.0,
            fast: 0.0,
            slow: 0.0,
        };
        if chance.happens(0.12) {
            lifter.always = Some(2);
        }
        if chance.happens(0.5) {
            let good = lifter.suits(lifter.max);
            lifter.guess = Some(good * chance.normal(0.0, 0.15).exp());
        }
        lifter
    }

    /// The same lifter in another exercise: the person's habits, and near the same curve.
    pub fn in_another_exercise(&self, chance: &mut Chance, world: World) -> Self {
        let mut other = Self::new(chance, world);
        other.learning = self.learning;
        other.curve = self.curve.near(chance);
        other.tires = self.tires * chance.normal(0.0, 0.2).exp();
        (other.day_spread, other.set_spread) = (self.day_spread, self.set_spread);
        (other.lapse, other.tells) = (self.lapse, self.tells);
        (other.bias, other.always) = (self.bias, self.always);
        other.weeks = self.weeks;
        if other.guess.is_some() {
            other.guess = Some(other.suits(other.max) * chance.normal(0.0, 0.15).exp());
        }
        other
    }

    /// A load of which the plan's sets just go, with two spare in the first.
    fn suits(&self, max: f64) -> f64 {
        max * self.curve.share(f64::from(self.least) + 2.5)
    }

    /// Days until the next session.
    pub fn gap(&mut self, chance: &mut Chance) -> i64 {
        if chance.happens(0.02) {
            return 10 + (chance.unit() * 40.0) as i64;
        }
        if chance.happens(0.08) {
            return 7;
        }
        *chance.pick(&[2, 3, 3, 4, 4])
    }

    /// Begins a session, so many days after the last.
    pub fn begin(&mut self, chance: &mut Chance, days: i64) {
        if self.sessions > 0 {
            let n = f64::from(self.sessions);
            let gain = match self.learning {
                Learning::Novice => 0.011 * (-n / 22.0).exp() + 0.0012,
                Learning::Trained => 0.0014,
                Learning::Returning => (0.12 * (self.former / self.max - 1.0)).max(0.0008),
            };
            let lost = 0.0022 * (days - 21).max(0) as f64;
            self.max *= (gain - lost + chance.normal(0.0, 0.006)).exp();
        }
        self.ill = (self.ill - 1).max(0);
        if chance.happens(0.02) {
            self.ill = 2;
        }
        let ill = if self.ill > 0 { -0.08 } else { 0.0 };
        self.today = self.max * (chance.normal(0.0, self.day_spread) + ill).exp();
        (self.fast, self.slow) = (0.0, 0.0);
        self.sessions += 1;
    }

    fn rests(&mut self, seconds: f64) {
        self.fast *= (-seconds / 60.0).exp();
        self.slow *= (-seconds / 600.0).exp();
    }

    fn tire(&mut self, done: f64, there: f64, reps: f64) {
        let effort = (done / there.max(0.5)).clamp(0.0, 1.0).powi(2);
        self.fast += 0.17 * effort * self.tires;
        self.slow += 0.05 * effort * self.tires;
        self.rests(3.0 * reps * 0.2);
    }

    /// Reps to failure with `load` now, but for luck.
    fn there(&self, load: f64) -> f64 {
        let strength = self.today * (1.0 - self.fast - self.slow).max(0.3);
        self.curve.reps(load / strength)
    }

    /// Reps to failure with `load` in the next set, after its rest, but for luck.
    pub fn expected(&self, load: f64) -> f64 {
        let mut copy = Self {
            loads: Vec::new(),
            ..*self
        };
        if copy.fast > 0.0 {
            copy.rests(f64::from(copy.rest));
        }
        copy.there(load)
    }

    /// Does a set.
    pub fn lift(&mut self, chance: &mut Chance, load: f64, target: u32, rest: f64) -> Lifted {
        self.rests(rest);
        let there = self.there(load);
        let luck = chance.normal(0.0, self.set_spread).exp();
        let most = (there * luck + chance.normal(0.0, 0.5)).max(0.0);
        let most = most.floor() as u32;
        let mut done = target.min(most);
        if chance.happens(self.lapse) {
            done = done.min((chance.unit() * f64::from(target)) as u32);
        } else if most < target && done > 1 && chance.happens(0.2) {
            done -= 1;
        }
        self.tire(f64::from(done), f64::from(most), f64::from(done));
        let told = chance.happens(self.tells);
        let told = told.then(|| self.tell(chance, most, done, target));
        Lifted {
            there: most,
            done,
            told,
        }
    }

    fn tell(&self, chance: &mut Chance, most: u32, done: u32, target: u32) -> f64 {
        if done < target && most < target {
            return 0.0;
        }
        let left = f64::from(most - done);
        if let Some(always) = self.always.filter(|_| left <= 5.0) {
            return f64::from(always);
        }
        let long = 0.1 * (f64::from(most) - 12.0).max(0.0);
        let sd = match left {
            ..2.5 => 1.0,
            ..4.5 => 1.5,
            _ => 2.5,
        };
        let said = left - self.bias - long + chance.normal(0.0, sd);
        said.round().clamp(0.0, 9.0)
    }

    /// The heaviest load with which all sets make the least today, but for the luck of sets; the
    /// lightest where none does.
    pub fn best(&self) -> f64 {
        self.best_of(self.sets)
    }

    /// The same for so many sets from here on.
    pub fn best_of(&self, sets: u32) -> f64 {
        let fresh = sets == self.sets;
        let makes = |load: f64| {
            let mut copy = Self {
                loads: Vec::new(),
                ..*self
            };
            (0..sets).all(|set| {
                if set > 0 || !fresh {
                    copy.rests(f64::from(copy.rest));
                }
                let there = copy.there(load);
                copy.tire(f64::from(copy.least), there, f64::from(copy.least));
                there >= f64::from(copy.least) + 0.5
            })
        };
        let heaviest = self.loads.iter().rev().copied().find(|load| makes(*load));
        heaviest.unwrap_or(self.loads[0])
    }
}

/// One of four kinds of gear.
fn gear(chance: &mut Chance, class: f64) -> Vec<f64> {
    let kind = (chance.unit() * 4.0) as u32;
    let (first, step): (f64, f64) = match kind {
        0 => (2.0, 2.0),
        1 => (2.268, 2.268),
        2 => (1.0, 1.0),
        _ if class > 50.0 => (20.0, 2.5),
        _ => (2.5, 2.5),
    };
    let first = if class > 50.0 { first.max(10.0) } else { first };
    (0..)
        .map(|k| first + step * f64::from(k))
        .take_while(|load| *load <= class * 2.2)
        .collect()
}
