//! Roles, and what they look like. Nothing else names a colour.

use crate::domain::history::Ground;
use crate::domain::words::Letters;
use ratatui::style::{Color, Modifier, Style};

/// What the terminal can show.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug, Default)]
pub struct Look {
    /// How many colours it has.
    pub depth: Depth,
    /// Which characters.
    pub letters: Letters,
}

/// How many colours a terminal has.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug, Default)]
pub enum Depth {
    /// The fixed 240 of its table of 256, and more: a colour is what its number says.
    #[default]
    Full,
    /// Sixteen, which every terminal and person may set to something else.
    Sixteen,
}

/// How roles look.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct Theme {
    ground: Ground,
    depth: Depth,
}

/// What a piece of the screen is there for.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Role {
    /// Plain text.
    Text,
    /// What matters most.
    Strong,
    /// What is there for whoever looks for it.
    Quiet,
    /// Before the rest window.
    Recover,
    /// Inside it.
    Open,
    /// After it.
    Late,
    /// Something is not as it should be.
    Warning,
    /// The entry that is marked.
    Marked,
}

impl Role {
    /// All of them.
    pub const ALL: [Self; 8] = [
        Self::Text,
        Self::Strong,
        Self::Quiet,
        Self::Recover,
        Self::Open,
        Self::Late,
        Self::Warning,
        Self::Marked,
    ];
}

impl Theme {
    /// How roles look on a ground, with so many colours.
    pub const fn new(ground: Ground, depth: Depth) -> Self {
        Self { ground, depth }
    }

    /// How a role looks.
    pub fn style(self, role: Role) -> Style {
        let style = Style {
            fg: self.letters(role),
            bg: self.ground(),
            ..Style::new()
        };
        match role {
            Role::Strong | Role::Recover | Role::Open | Role::Late | Role::Warning => {
                style.add_modifier(Modifier::BOLD)
            }
            Role::Marked => style.add_modifier(Modifier::REVERSED),
            Role::Text | Role::Quiet => style,
        }
    }

    /// What everything is painted on; nothing where the terminal's own ground is kept.
    pub const fn ground(self) -> Option<Color> {
        match (self.depth, self.ground) {
            (Depth::Full, Ground::Dark) => Some(Color::Indexed(233)),
            (Depth::Full, Ground::Light) => Some(Color::Indexed(231)),
            (Depth::Full, Ground::Plain) | (Depth::Sixteen, _) => None,
        }
    }

    /// The colour of a role's letters; nothing where it is the terminal's own.
    const fn letters(self, role: Role) -> Option<Color> {
        match (self.depth, self.ground) {
            (_, Ground::Plain) => None,
            (Depth::Full, Ground::Dark) => Some(Color::Indexed(match role {
                Role::Text | Role::Marked => 253,
                Role::Strong => 231,
                Role::Quiet => 247,
                Role::Recover => 117,
                Role::Open => 120,
                Role::Late => 215,
                Role::Warning => 210,
            })),
            (Depth::Full, Ground::Light) => Some(Color::Indexed(match role {
                Role::Text | Role::Marked => 234,
                Role::Strong => 16,
                Role::Quiet => 240,
                Role::Recover => 19,
                Role::Open => 22,
                Role::Late => 90,
                Role::Warning => 124,
            })),
            (Depth::Sixteen, Ground::Dark) => sixteen_on_dark(role),
            (Depth::Sixteen, Ground::Light) => sixteen_on_light(role),
        }
    }
}

const fn sixteen_on_dark(role: Role) -> Option<Color> {
    match role {
        Role::Recover => Some(Color::LightCyan),
        Role::Open => Some(Color::LightGreen),
        Role::Late => Some(Color::LightYellow),
        Role::Warning => Some(Color::LightRed),
        Role::Text | Role::Strong | Role::Quiet | Role::Marked => None,
    }
}

/// Green, yellow and cyan do not stand off white: what is open is told by word and shape alone.
const fn sixteen_on_light(role: Role) -> Option<Color> {
    match role {
        Role::Recover => Some(Color::Blue),
        Role::Late | Role::Warning => Some(Color::Red),
        Role::Open | Role::Text | Role::Strong | Role::Quiet | Role::Marked => None,
    }
}
