//! Options that say how things are shown: they hold for every command.

use crate::domain::history::Ground;
use crate::domain::words::Letters;
use crate::shell::{Flags, When};
use std::io::{self, Write};

/// How things are shown.
#[derive(Clone, Copy, Debug, clap::Args)]
pub struct Appearance {
    /// Whether the screen has colours; commands print none
    #[arg(long, alias = "colour", value_name = "WHEN", global = true)]
    #[arg(value_enum, default_value_t = Colour::Auto)]
    color: Colour,
    /// What the screen is drawn on
    #[arg(long, value_name = "GROUND", global = true, value_enum)]
    theme: Option<Theme>,
    /// Use ASCII characters alone; JSON stays as it is
    #[arg(long, global = true)]
    ascii: bool,
    /// Run the session in lines, for a screen reader or a pipe
    #[arg(long, global = true)]
    pub lines: bool,
    /// Tell the terminal how far the rest has come, for its window's button or tab
    #[arg(long, global = true)]
    progress: bool,
}

#[derive(Clone, Copy, PartialEq, Eq, Debug, clap::ValueEnum)]
enum Colour {
    Auto,
    Always,
    Never,
}

#[derive(Clone, Copy, PartialEq, Eq, Debug, clap::ValueEnum)]
enum Theme {
    Dark,
    Light,
    Plain,
}

impl Appearance {
    /// The same as the shell takes it.
    pub fn flags(self) -> Flags {
        Flags {
            colour: match self.color {
                Colour::Auto => When::Auto,
                Colour::Always => When::Always,
                Colour::Never => When::Never,
            },
            ground: self.theme.map(|theme| match theme {
                Theme::Dark => Ground::Dark,
                Theme::Light => Ground::Light,
                Theme::Plain => Ground::Plain,
            }),
            ascii: self.ascii,
            lines: self.lines,
            progress: self.progress,
        }
    }
}

/// Passes on what is written, spelled in the characters that can be shown.
pub struct Speller<'w> {
    /// Which can.
    pub letters: Letters,
    /// Where it goes.
    pub out: &'w mut dyn Write,
}

impl Write for Speller<'_> {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        match self.letters {
            Letters::Unicode => self.out.write_all(bytes)?,
            // What comes here was formatted: a piece is whole characters.
            Letters::Ascii => {
                let text = String::from_utf8_lossy(bytes);
                self.out.write_all(self.letters.spell(&text).as_bytes())?;
            }
        }
        Ok(bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        self.out.flush()
    }
}
