//! The mass that a set moves: its load, and of body-weight work the body's part.

use crate::domain::exercise::Counts;
use crate::domain::units::{Load, Mass, Unit, Weight};

/// Body weight where the person gave none: 75 kg, to be called assumed wherever it matters.
pub const ASSUMED_BODY: Weight = Weight::new(Mass::from_ng(75 * Unit::Kg.nanograms()), Unit::Kg);

/// The part of the body that moves; nothing of it with an implement or a band.
pub fn body_part(counts: Counts, body_weight: Option<Weight>) -> Mass {
    let percent = match counts {
        Counts::Body { percent } | Counts::BodyPlus { percent } => percent,
        Counts::PerHand | Counts::OneDumbbell | Counts::BarTotal | Counts::Band => 0,
    };
    let body = body_weight.unwrap_or(ASSUMED_BODY).mass.ng();
    Mass::from_ng(body / 100 * i64::from(percent))
}

/// What is moved with a load, beside that part of the body; `None` for a band, or where the body
/// is helped by all that it weighs.
pub fn moved(body_part: Mass, load: Load) -> Option<Mass> {
    match load {
        Load::Mass(weight) => Some(weight.mass),
        Load::Body(weight) => Some(body_part + weight.mass),
        Load::Band(_) => None,
    }
    .filter(|mass| *mass > Mass::ZERO)
}
