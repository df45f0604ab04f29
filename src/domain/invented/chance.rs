//! Chance that repeats itself for the same seed: the splitmix64 generator (Steele, Lea and Flood
//! 2014, "Fast splittable pseudorandom number generators", from memory).

/// A stream of numbers.
#[derive(Clone, Debug)]
pub struct Chance(u64);

impl Chance {
    pub const fn new(seed: u64) -> Self {
        Self(seed)
    }

    const fn bits(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// A whole number from 0 to one below the bound.
    pub fn below(&mut self, bound: i64) -> i64 {
        let bound = bound.max(1).unsigned_abs();
        i64::try_from((self.bits() >> 1) % bound).unwrap_or(0)
    }

    /// About a standard normal number: the sum of twelve uniform ones, less six.
    pub fn normal(&mut self) -> f64 {
        let uniform = |chance: &mut Self| (chance.bits() >> 11) as f64 / (1_u64 << 53) as f64;
        (0..12).map(|_| uniform(self)).sum::<f64>() - 6.0
    }
}
