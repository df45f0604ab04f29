//! The cells of a belief: strength, rep slope, fatigue gain, bias of reports.

/// Points of ln(e1RM).
pub const THETA: usize = 141;
/// Nodes of the rep slope.
pub const SLOPES: usize = 5;
/// Nodes of the fatigue gain.
pub const GAINS: usize = 3;
/// Nodes of the bias of reports.
pub const BIASES: usize = 4;
/// Pairs of slope and gain: what capacity hangs on beside strength.
pub const LANES: usize = SLOPES * GAINS;
/// Cells without the bias.
pub const CAPACITY_CELLS: usize = LANES * THETA;
/// All cells, strength running fastest, then bias, gain, slope.
pub const CELLS: usize = CAPACITY_CELLS * BIASES;
/// Spacing of ln(e1RM).
pub const STEP: f64 = 0.02;
/// The middle point of ln(e1RM).
pub const MIDDLE: usize = THETA / 2;

/// Rep slope of the middle: between Epley's 1/30 and the NSCA chart; its spread between people is
/// that of the repetitions done at 75 to 80 % of the one-rep max.
const SLOPE: f64 = 0.036;
const SLOPE_SPREAD: f64 = 0.25;
/// Fatigue gain of the middle: sets to failure at 80 % fall to 5.6 and 4.8 of 10.8 reps with a
/// minute of rest, to 7.0 and 6.4 of 9.4 with three (`shared/reference/rest_interval_reps.csv`).
const GAIN: f64 = 1.1;
const GAIN_SPREAD: f64 = 0.4;
/// Reps left beyond those reported, near failure in sets of up to 12 reps: between 0.2 (Refalo et
/// al. 2024) and one (Halperin et al. 2022).
const BIAS: f64 = 0.5;
const BIAS_SPREAD: f64 = 0.9;
/// Outermost nodes, in standard deviations.
const OUTERMOST: f64 = 1.8;

/// Slope and gain of a lane.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Lane {
    /// Rep slope: share of the e1RM that a rep costs.
    pub slope: f64,
    /// Fatigue gain.
    pub gain: f64,
}

fn z(node: usize, nodes: usize) -> f64 {
    OUTERMOST * (2.0 * node as f64 / (nodes - 1) as f64 - 1.0)
}

/// Weights of so many nodes before anything was seen, summing to 1.
fn prior<const N: usize>() -> [f64; N] {
    let mut weights = [0.0; N];
    for (node, weight) in weights.iter_mut().enumerate() {
        *weight = libm::exp(-0.5 * z(node, N) * z(node, N));
    }
    let sum: f64 = weights.iter().sum();
    weights.map(|weight| weight / sum)
}

/// All lanes, gain running fastest.
pub fn lanes() -> [Lane; LANES] {
    let mut lanes = [Lane {
        slope: SLOPE,
        gain: GAIN,
    }; LANES];
    for (lane, at) in lanes.iter_mut().enumerate() {
        at.slope = SLOPE * libm::exp(SLOPE_SPREAD * z(lane / GAINS, SLOPES));
        at.gain = GAIN * libm::exp(GAIN_SPREAD * z(lane % GAINS, GAINS));
    }
    lanes
}

/// Reps left beyond those reported, by node.
pub fn biases() -> [f64; BIASES] {
    let mut biases = [0.0; BIASES];
    for (node, bias) in biases.iter_mut().enumerate() {
        *bias = (BIAS + BIAS_SPREAD * z(node, BIASES)).max(0.0);
    }
    biases
}

/// Weight of a lane and bias before anything was seen.
pub fn prior_of(lane: usize, bias: usize) -> f64 {
    let slope: [f64; SLOPES] = prior();
    let gain: [f64; GAINS] = prior();
    let biases: [f64; BIASES] = prior();
    let at = |weights: &[f64], node: usize| weights.get(node).copied().unwrap_or(0.0);
    at(&slope, lane / GAINS) * at(&gain, lane % GAINS) * at(&biases, bias)
}
