//! Load of a week, its monotony and strain (Foster 1998; Foster et al. 2001).

/// What the loads of the seven days of a week say.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Foster {
    /// Sum of the daily loads, in effort times minutes.
    pub load: u32,
    /// Mean daily load by the spread of daily loads, days of rest counting as 0. The spread is the
    /// sample standard deviation, with n - 1; none where all days are alike.
    pub monotony: Option<f64>,
    /// Load times monotony.
    pub strain: Option<f64>,
}

impl Foster {
    /// Of seven days, each with the sum of its sessions' loads.
    pub fn of(days: [u32; 7]) -> Self {
        let load = days.iter().fold(0_u32, |sum, day| sum.saturating_add(*day));
        let number = days.len() as f64;
        let mean = f64::from(load) / number;
        let off = |day: &u32| (f64::from(*day) - mean) * (f64::from(*day) - mean);
        let spread = (days.iter().map(off).sum::<f64>() / (number - 1.0)).sqrt();
        let monotony = (spread > 0.0).then(|| mean / spread);
        Self {
            load,
            monotony,
            strain: monotony.map(|monotony| f64::from(load) * monotony),
        }
    }
}
