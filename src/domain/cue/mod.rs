//! Signs for the ear: which there are, and how each sounds.

mod synthesis;
mod volume;

pub use synthesis::{RATE, synthesize};
pub use volume::Volume;

/// A sign for the ear.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Cue {
    /// The rest window opens.
    Opens,
    /// Ten seconds to its close.
    ClosesSoon,
    /// It has closed.
    Closed,
    /// One second of a lead-in.
    LeadIn,
    /// A hold begins.
    HoldBegins,
    /// A hold is over.
    HoldOver,
    /// A record.
    Record,
    /// Something that was typed does not fit.
    Mistake,
}

impl Cue {
    /// All of them, in the order of a session.
    pub const ALL: [Self; 8] = [
        Self::Opens,
        Self::ClosesSoon,
        Self::Closed,
        Self::LeadIn,
        Self::HoldBegins,
        Self::HoldOver,
        Self::Record,
        Self::Mistake,
    ];

    /// What it is called on the command line, and its file before the ending.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Opens => "rest_opens",
            Self::ClosesSoon => "ten_seconds",
            Self::Closed => "rest_closed",
            Self::LeadIn => "lead_in",
            Self::HoldBegins => "hold_begins",
            Self::HoldOver => "hold_over",
            Self::Record => "record",
            Self::Mistake => "mistake",
        }
    }

    /// The cue of that name.
    pub fn named(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|cue| cue.name() == name)
    }

    /// What it says.
    pub const fn says(self) -> &'static str {
        match self {
            Self::Opens => "the rest is long enough: the next set may start",
            Self::ClosesSoon => "ten seconds, and the rest is longer than planned",
            Self::Closed => "the rest is longer than planned",
            Self::LeadIn => "one second less until the hold begins",
            Self::HoldBegins => "hold now",
            Self::HoldOver => "the hold is over",
            Self::Record => "better than ever before",
            Self::Mistake => "that key or number does not fit",
        }
    }

    /// How it sounds, in words.
    pub const fn sounds(self) -> &'static str {
        match self {
            Self::Opens => "two notes up",
            Self::ClosesSoon => "two quick taps",
            Self::Closed => "two long notes down",
            Self::LeadIn => "a tick",
            Self::HoldBegins => "a slide up",
            Self::HoldOver => "a long slide down",
            Self::Record => "four notes up",
            Self::Mistake => "a low growl",
        }
    }
}

/// A piece of sound.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Clip {
    /// Frames a second.
    pub rate: u32,
    /// Samples a frame: 1 or 2.
    pub channels: u8,
    /// The samples, those of a frame side by side.
    pub samples: Vec<i16>,
}

impl Clip {
    /// Nothing to hear, so many milliseconds long.
    pub fn silence(ms: u32) -> Self {
        Self {
            rate: RATE,
            channels: 1,
            samples: vec![0; (RATE as usize * ms as usize) / 1000],
        }
    }

    /// How long it lasts, in milliseconds; none where it has no rate or channel.
    pub fn ms(&self) -> u64 {
        let a_second = u64::from(self.rate) * u64::from(self.channels);
        (self.samples.len() as u64 * 1000)
            .checked_div(a_second)
            .unwrap_or(0)
    }

    /// The same at another volume.
    #[must_use]
    pub fn at(mut self, volume: Volume) -> Self {
        for sample in &mut self.samples {
            *sample = volume.of(*sample);
        }
        self
    }
}
