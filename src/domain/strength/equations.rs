//! The published one-rep-max equations and the percent chart. Sources and worked values stand in
//! `shared/reference/`.

pub use crate::domain::history::MOST_REPS;

/// A published equation from a load and the reps done with it to failure to a one-rep max.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Equation {
    /// Epley 1985: w (1 + n/30).
    Epley,
    /// Brzycki 1993: 36 w / (37 - n).
    Brzycki,
    /// Lander 1985: 100 w / (101.3 - 2.67123 n).
    Lander,
    /// Lombardi 1989: w n^0.10.
    Lombardi,
    /// Mayhew, Ball, Arnold & Bowen 1992: 100 w / (52.2 + 41.9 e^(-0.055 n)).
    Mayhew,
    /// O'Conner, Simmons & O'Shea 1989: w (1 + 0.025 n).
    OConner,
    /// Wathan 1994: 100 w / (48.8 + 53.8 e^(-0.075 n)).
    Wathan,
}

impl Equation {
    /// All of them.
    pub const ALL: [Self; 7] = [
        Self::Epley,
        Self::Brzycki,
        Self::Lander,
        Self::Lombardi,
        Self::Mayhew,
        Self::OConner,
        Self::Wathan,
    ];

    /// Its name for options and scripts: that of its first author.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Epley => "epley",
            Self::Brzycki => "brzycki",
            Self::Lander => "lander",
            Self::Lombardi => "lombardi",
            Self::Mayhew => "mayhew",
            Self::OConner => "oconner",
            Self::Wathan => "wathan",
        }
    }

    /// The one-rep max in the unit of `load`, from `reps` to failure. One rep is the load itself,
    /// whatever the equation says of it; `None` of no reps, or where the equation has no value.
    pub fn one_rep_max(self, load: f64, reps: u32) -> Option<f64> {
        if reps <= 1 {
            return (reps == 1).then_some(load);
        }
        let n = f64::from(reps);
        let ratio = match self {
            Self::Epley => 1.0 + n / 30.0,
            Self::Brzycki => 36.0 / (37.0 - n),
            Self::Lander => 100.0 / (101.3 - 2.671_23 * n),
            Self::Lombardi => libm::pow(n, 0.10),
            Self::Mayhew => 100.0 / (52.2 + 41.9 * libm::exp(-0.055 * n)),
            Self::OConner => 1.0 + 0.025 * n,
            Self::Wathan => 100.0 / (48.8 + 53.8 * libm::exp(-0.075 * n)),
        };
        (ratio.is_finite() && ratio > 0.0).then_some(load * ratio)
    }
}

impl std::fmt::Display for Equation {
    /// As it is cited: "Epley 1985".
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(match self {
            Self::Epley => "Epley 1985",
            Self::Brzycki => "Brzycki 1993",
            Self::Lander => "Lander 1985",
            Self::Lombardi => "Lombardi 1989",
            Self::Mayhew => "Mayhew et al. 1992",
            Self::OConner => "O'Conner et al. 1989",
            Self::Wathan => "Wathan 1994",
        })
    }
}

/// The one-rep max that records go by: Epley's, from ten reps or fewer.
pub fn for_records(load: f64, reps: u32) -> Option<f64> {
    (reps <= MOST_REPS).then(|| Equation::Epley.one_rep_max(load, reps))?
}

/// Percent of the one-rep max at which so many reps are the most, by the NSCA training load chart;
/// `None` where the chart has no row.
pub const fn percent_of_max(reps: u32) -> Option<u32> {
    Some(match reps {
        1 => 100,
        2 => 95,
        3 => 93,
        4 => 90,
        5 => 87,
        6 => 85,
        7 => 83,
        8 => 80,
        9 => 77,
        10 => 75,
        12 => 70,
        _ => return None,
    })
}
