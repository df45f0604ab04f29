//! What the person sees and hears, settled once at the start: each setting with where it came
//! from. What is typed at the command line holds over the environment, that over the kept
//! preferences, those over what is usual.

use crate::domain::history::{Ground, Prefs};
use crate::domain::words::Letters;
use crate::ui::theme::{Depth, Look};
use std::ffi::OsString;
use std::fmt;

/// When there are colours.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug, Default)]
pub enum When {
    /// Where the environment has nothing against it.
    #[default]
    Auto,
    /// In any case.
    Always,
    /// In no case.
    Never,
}

/// What was asked for at the command line.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub struct Flags {
    /// `--color`.
    pub colour: When,
    /// `--theme`.
    pub ground: Option<Ground>,
    /// `--ascii`.
    pub ascii: bool,
    /// `--lines`.
    pub lines: bool,
    /// `--progress`.
    pub progress: bool,
}

/// Where a setting came from.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Origin {
    /// From the command line.
    Flag(&'static str),
    /// From this environment variable.
    Variable(&'static str),
    /// From the kept preferences.
    Prefs,
    /// From nowhere: it is what is usual.
    Usual,
}

impl fmt::Display for Origin {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Flag(name) => write!(f, "the option {name}"),
            Self::Variable(name) => write!(f, "the variable {name}"),
            Self::Prefs => f.write_str("prefs.ron"),
            Self::Usual => f.write_str("as usual"),
        }
    }
}

/// A setting and where it came from.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Settled<T> {
    /// What holds.
    pub value: T,
    /// Why.
    pub origin: Origin,
}

const fn settled<T>(value: T, origin: Origin) -> Settled<T> {
    Settled { value, origin }
}

/// How the session is shown.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Form {
    /// On the whole screen.
    Screen,
    /// In lines, one after the other.
    Lines,
}

/// All settings.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Settings {
    /// Whether there are colours.
    pub colour: Settled<bool>,
    /// What the screen is drawn on; plain where there are no colours.
    pub ground: Settled<Ground>,
    /// Which characters can be shown.
    pub letters: Settled<Letters>,
    /// How the session is shown.
    pub form: Settled<Form>,
    /// Whether the terminal is told how far what is counted has come.
    pub progress: Settled<bool>,
    /// How many colours the terminal has.
    pub depth: Depth,
    /// What was preferred and kept.
    pub prefs: Prefs,
}

impl Settings {
    /// Settles everything from what was asked for, an environment and what was kept.
    pub fn settle(
        flags: Flags,
        environment: impl Fn(&str) -> Option<OsString>,
        prefs: Prefs,
    ) -> Self {
        let value = |name: &str| {
            let value = environment(name)?.to_string_lossy().into_owned();
            (!value.is_empty()).then_some(value)
        };
        let colour = colour(flags.colour, &value);
        Self {
            colour,
            ground: ground(flags, colour, (&value, prefs)),
            letters: letters(flags.ascii, &value),
            form: form(flags.lines, &value),
            progress: progress(flags.progress, &value),
            depth: depth(&value),
            prefs,
        }
    }

    /// What the terminal can show.
    pub const fn look(&self) -> Look {
        Look {
            depth: self.depth,
            letters: self.letters.value,
        }
    }
}

/// Empty variables count as missing: `value` gives neither.
type Value<'a> = &'a dyn Fn(&str) -> Option<String>;

/// `NO_COLOR` before `CLICOLOR_FORCE` before `CLICOLOR`, as their specifications say.
fn colour(flag: When, value: Value<'_>) -> Settled<bool> {
    let is = |name: &str, wanted: fn(&str) -> bool| value(name).is_some_and(|v| wanted(&v));
    match flag {
        When::Always => settled(true, Origin::Flag("--color")),
        When::Never => settled(false, Origin::Flag("--color")),
        When::Auto if is("NO_COLOR", |_| true) => settled(false, Origin::Variable("NO_COLOR")),
        When::Auto if is("CLICOLOR_FORCE", |v| v != "0") => {
            settled(true, Origin::Variable("CLICOLOR_FORCE"))
        }
        When::Auto if is("CLICOLOR", |v| v == "0") => settled(false, Origin::Variable("CLICOLOR")),
        When::Auto if is_dumb(value) => settled(false, Origin::Variable("TERM")),
        When::Auto => settled(true, Origin::Usual),
    }
}

fn is_dumb(value: Value<'_>) -> bool {
    value("TERM").is_none_or(|term| term == "dumb")
}

fn ground(
    flags: Flags,
    colour: Settled<bool>,
    (value, prefs): (Value<'_>, Prefs),
) -> Settled<Ground> {
    if !colour.value {
        return settled(Ground::Plain, colour.origin);
    }
    let named = || value("RACKSIDE_THEME").and_then(|name| Ground::named(&name));
    // Some terminals say "letters;ground" here; 7 and 15 are their whites.
    let light = || value("COLORFGBG").is_some_and(|v| v.ends_with(";7") || v.ends_with(";15"));
    if let Some(ground) = flags.ground {
        settled(ground, Origin::Flag("--theme"))
    } else if let Some(ground) = named() {
        settled(ground, Origin::Variable("RACKSIDE_THEME"))
    } else if let Some(ground) = prefs.ground {
        settled(ground, Origin::Prefs)
    } else if light() {
        settled(Ground::Light, Origin::Variable("COLORFGBG"))
    } else {
        settled(Ground::Dark, Origin::Usual)
    }
}

/// The first of the locale's variables that is set decides, as everywhere.
fn letters(flag: bool, value: Value<'_>) -> Settled<Letters> {
    if flag {
        return settled(Letters::Ascii, Origin::Flag("--ascii"));
    }
    let set = |name| value(name).map(|locale| (name, locale));
    let first = ["LC_ALL", "LC_CTYPE", "LANG"].into_iter().find_map(set);
    match first {
        Some((name, locale)) if is_utf8(&locale) => {
            settled(Letters::Unicode, Origin::Variable(name))
        }
        Some((name, _)) => settled(Letters::Ascii, Origin::Variable(name)),
        None => settled(Letters::Ascii, Origin::Usual),
    }
}

fn is_utf8(locale: &str) -> bool {
    let locale = locale.to_ascii_lowercase();
    locale.contains("utf-8") || locale.contains("utf8")
}

fn form(flag: bool, value: Value<'_>) -> Settled<Form> {
    if flag {
        settled(Form::Lines, Origin::Flag("--lines"))
    } else if is_dumb(value) {
        settled(Form::Lines, Origin::Variable("TERM"))
    } else {
        settled(Form::Screen, Origin::Usual)
    }
}

/// Only where it is asked for: a terminal that does not know the sequence may show it as a message.
fn progress(flag: bool, value: Value<'_>) -> Settled<bool> {
    match value("RACKSIDE_PROGRESS") {
        _ if flag => settled(true, Origin::Flag("--progress")),
        Some(set) => settled(set != "0", Origin::Variable("RACKSIDE_PROGRESS")),
        None => settled(false, Origin::Usual),
    }
}

/// Terminals that say nothing of 256 colours or more have sixteen.
fn depth(value: Value<'_>) -> Depth {
    let many = value("COLORTERM").is_some_and(|v| v == "truecolor" || v == "24bit")
        || value("TERM").is_some_and(|term| term.contains("256color") || term.contains("direct"));
    if many { Depth::Full } else { Depth::Sixteen }
}
