//! What a person prefers, and what training does not depend on.

/// What a person prefers, and what training does not depend on.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug, Default)]
pub struct Prefs {
    /// No sound.
    pub mute: bool,
    /// Big digits all the time, not only in a rest.
    pub big: bool,
}
