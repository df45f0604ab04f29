//! Random numbers that are the same everywhere: SplitMix64 (Steele, Lea & Flood 2014).

pub struct Chance(u64);

impl Chance {
    pub fn new(seed: u64) -> Self {
        Self(seed)
    }

    pub fn bits(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// From 0 to 1.
    pub fn unit(&mut self) -> f64 {
        (self.bits() >> 11) as f64 / (1_u64 << 53) as f64
    }

    pub fn happens(&mut self, p: f64) -> bool {
        self.unit() < p
    }

    pub fn normal(&mut self, mean: f64, sd: f64) -> f64 {
        let (a, b) = (self.unit().max(1e-300), self.unit());
        mean + sd * (-2.0 * a.ln()).sqrt() * (std::f64::consts::TAU * b).cos()
    }

    pub fn pick<'a, T>(&mut self, all: &'a [T]) -> &'a T {
        &all[(self.unit() * all.len() as f64) as usize % all.len()]
    }
}
