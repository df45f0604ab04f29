//! A belief as it is kept: what it was folded from, and all of its numbers.

use super::codec::{Bytes, Kept, kept_names};
use crate::domain::advice::Folded;
use crate::domain::strength::belief::{Learning, Noise, Track};

kept_names! {
    Learning { Novice, Returning, Trained }
}

impl Kept for Folded {
    fn put(&self, out: &mut Vec<u8>) {
        let Self {
            learning,
            sessions,
            evidence,
            track,
            noise,
        } = self;
        learning.put(out);
        sessions.put(out);
        evidence.put(out);
        track.numbers().put(out);
        noise.numbers().put(out);
    }

    fn take(from: &mut Bytes<'_>) -> Option<Self> {
        let learning = Kept::take(from)?;
        Some(Self {
            learning,
            sessions: Kept::take(from)?,
            evidence: Kept::take(from)?,
            track: Track::of_numbers(&Vec::take(from)?, learning)?,
            noise: Noise::of_numbers(&Vec::take(from)?)?,
        })
    }
}
