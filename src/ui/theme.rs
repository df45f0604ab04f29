//! Roles, and what they look like. Nothing else names a colour.

use ratatui::style::{Color, Modifier, Style};

/// How roles look.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug, Default)]
pub enum Theme {
    /// Colours that read on dark and on light ground alike.
    #[default]
    Colours,
    /// No colour: weight and reversal alone.
    Plain,
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
    /// A key that can be pressed.
    Key,
}

/// The colours of [`Theme::Colours`]: each has a relative luminance near 0.18, the one that stands
/// off black and white alike.
pub const COLOURS: [(Role, (u8, u8, u8)); 5] = [
    (Role::Recover, (0x1f, 0x78, 0xc8)),
    (Role::Open, (0x1b, 0x84, 0x4a)),
    (Role::Late, (0xb3, 0x5c, 0x00)),
    (Role::Warning, (0xd0, 0x3a, 0x3a)),
    (Role::Quiet, (0x75, 0x75, 0x75)),
];

impl Theme {
    /// The theme for a terminal of which these things are known.
    pub const fn of(colours: bool) -> Self {
        if colours { Self::Colours } else { Self::Plain }
    }

    /// How a role looks.
    pub fn style(self, role: Role) -> Style {
        let colour = COLOURS
            .iter()
            .find(|(other, _)| *other == role)
            .map(|(_, rgb)| rgb);
        let style = match (self, colour) {
            (Self::Colours, Some((r, g, b))) => Style::new().fg(Color::Rgb(*r, *g, *b)),
            (Self::Colours | Self::Plain, _) => Style::new(),
        };
        match role {
            Role::Strong | Role::Key => style.add_modifier(Modifier::BOLD),
            Role::Warning => style.add_modifier(Modifier::BOLD),
            Role::Marked => style.add_modifier(Modifier::REVERSED),
            Role::Text | Role::Quiet | Role::Recover | Role::Open | Role::Late => style,
        }
    }
}
