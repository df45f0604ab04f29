//! A belief as it is kept: what it was folded from, and all of its numbers.

use super::codec::{Bytes, Kept, kept_names, kept_struct};
use crate::domain::advice::{Folded, Learned};
use crate::domain::strength::belief::{Holds, Learning, Noise, Track};

kept_names! {
    Learning { Novice, Returning, Trained }
}

kept_struct! {
    Folded { sessions, evidence, learned }
}

impl Kept for Learned {
    fn put(&self, out: &mut Vec<u8>) {
        match self {
            Self::Reps {
                learning,
                track,
                noise,
            } => {
                out.push(0);
                learning.put(out);
                track.numbers().put(out);
                noise.numbers().put(out);
            }
            Self::Holds { first, holds } => {
                out.push(1);
                first.put(out);
                holds.numbers().put(out);
            }
        }
    }

    fn take(from: &mut Bytes<'_>) -> Option<Self> {
        Some(match u8::take(from)? {
            0 => {
                let learning = Kept::take(from)?;
                Self::Reps {
                    learning,
                    track: Track::of_numbers(&Vec::take(from)?, learning)?,
                    noise: Box::new(Noise::of_numbers(&Vec::take(from)?)?),
                }
            }
            1 => Self::Holds {
                first: Kept::take(from)?,
                holds: Holds::of_numbers(&Vec::take(from)?)?,
            },
            _ => return None,
        })
    }
}
