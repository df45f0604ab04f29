//! `rackside settings`: what holds, and where it came from.

use super::{Exit, Failure};
use crate::domain::diagnostic::neutral;
use crate::domain::words::Letters;
use crate::shell::{Disk, Flags, Form, Home, Origin, Settings, StateStore};
use std::io::Write;
use std::sync::Arc;

/// Prints what is set, and where each setting came from.
#[derive(Debug, clap::Args)]
#[command(after_help = ORDER)]
pub struct Arguments {}

const ORDER: &str = "\
An option holds over a variable, a variable over prefs.ron, which keeps what keys
set on the floor (m, d, g). Variables: NO_COLOR, CLICOLOR_FORCE, CLICOLOR,
RACKSIDE_THEME (dark, light, plain), RACKSIDE_PROGRESS (1, 0), COLORFGBG, TERM,
LC_ALL, LC_CTYPE, LANG.";

/// Prints the settings to `out`.
///
/// # Errors
///
/// No place for files is to be had.
pub fn run(flags: Flags, out: &mut dyn Write) -> Result<Exit, Failure> {
    let home = Home::here()?;
    let prefs = StateStore::of(&home, Arc::new(Disk)).prefs();
    let Settings {
        colour,
        ground,
        letters,
        form,
        progress,
        prefs,
        ..
    } = Settings::settle(flags, |name| std::env::var_os(name), prefs);
    let yes = |yes: bool| if yes { "on" } else { "off" };
    let kept = |differs: bool| {
        if differs {
            Origin::Prefs
        } else {
            Origin::Usual
        }
    };
    let rows = [
        ("colour", yes(colour.value), colour.origin),
        ("theme", ground.value.name(), ground.origin),
        (
            "ascii",
            yes(letters.value == Letters::Ascii),
            letters.origin,
        ),
        ("lines", yes(form.value == Form::Lines), form.origin),
        ("progress", yes(progress.value), progress.origin),
        ("sound", yes(!prefs.mute), kept(prefs.mute)),
        ("big", yes(!prefs.small), kept(prefs.small)),
    ];
    for (name, value, origin) in rows {
        writeln!(out, "{name:<9} {value:<6} {}", neutral(&origin.to_string()))?;
    }
    Ok(Exit::Done)
}
