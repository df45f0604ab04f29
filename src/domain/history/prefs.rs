//! What a person prefers, and what training does not depend on.

use crate::domain::cue::Volume;

/// What a person prefers, and what training does not depend on.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug, Default)]
pub struct Prefs {
    /// No sound.
    pub mute: bool,
    /// How loud signs are.
    pub volume: Volume,
    /// No notices on the desktop.
    pub no_notices: bool,
    /// The screen may go dark in a session.
    pub may_darken: bool,
    /// No big digits, but for the countdown of a rest.
    pub small: bool,
    /// On what ground to draw, where the person said so.
    pub ground: Option<Ground>,
}

/// One thing that a person prefers from now on.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Preference {
    /// Whether there is no sound.
    Mute(bool),
    /// How loud signs are.
    Volume(Volume),
    /// Whether there are no notices on the desktop.
    NoNotices(bool),
    /// Whether the screen may go dark in a session.
    MayDarken(bool),
    /// Whether there are no big digits, but for the countdown of a rest.
    Small(bool),
    /// On what ground to draw.
    Ground(Ground),
}

impl Prefs {
    /// One thing is preferred from now on; all others stay.
    pub const fn prefer(&mut self, preference: Preference) {
        match preference {
            Preference::Mute(mute) => self.mute = mute,
            Preference::Volume(volume) => self.volume = volume,
            Preference::NoNotices(no_notices) => self.no_notices = no_notices,
            Preference::MayDarken(may_darken) => self.may_darken = may_darken,
            Preference::Small(small) => self.small = small,
            Preference::Ground(ground) => self.ground = Some(ground),
        }
    }
}

/// What the screen is drawn on.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug, Default)]
pub enum Ground {
    /// Light letters on a dark ground.
    #[default]
    Dark,
    /// Dark letters on a light ground.
    Light,
    /// No colours: the terminal's own letters and ground.
    Plain,
}

impl Ground {
    /// All of them, in the order in which a key goes through them.
    pub const ALL: [Self; 3] = [Self::Dark, Self::Light, Self::Plain];

    /// What it is called on the command line and in files.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Dark => "dark",
            Self::Light => "light",
            Self::Plain => "plain",
        }
    }

    /// The ground of that name.
    pub fn named(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|ground| ground.name() == name)
    }

    /// The one that a key goes to from here.
    #[must_use]
    pub const fn next(self) -> Self {
        match self {
            Self::Dark => Self::Light,
            Self::Light => Self::Plain,
            Self::Plain => Self::Dark,
        }
    }
}
