//! `rackside settings`: what holds, and where it came from; what is kept can be changed.

use super::{Exit, Failure};
use crate::domain::cue::Volume;
use crate::domain::diagnostic::neutral;
use crate::domain::history::Preference;
use crate::domain::words::Letters;
use crate::shell::{Disk, Flags, Form, Home, Origin, Settings, StateStore};
use std::io::Write;
use std::sync::Arc;

/// Prints what is set, and where each setting came from; sets what is kept.
#[derive(Debug, clap::Args)]
#[command(after_help = ORDER)]
pub struct Arguments {
    /// What to set for the sessions to come
    #[arg(value_enum, requires = "value")]
    name: Option<Kept>,
    /// on or off; of the volume 0 to 100
    #[arg(value_name = "VALUE")]
    value: Option<String>,
}

const ORDER: &str = "\
An option holds over a variable, a variable over prefs.ron, which keeps what
keys set on the floor (m, d, g) and what is set here. Variables: NO_COLOR,
CLICOLOR_FORCE, CLICOLOR, RACKSIDE_THEME (dark, light, plain), RACKSIDE_PROGRESS
(1, 0), COLORFGBG, TERM,
LC_ALL, LC_CTYPE, LANG.";

/// What can be set from here.
#[derive(Clone, Copy, Debug, clap::ValueEnum)]
enum Kept {
    /// Signs for the ear
    Sound,
    /// How loud they are
    Volume,
    /// Notices on the desktop when a rest opens and closes
    Notices,
    /// The screen is kept from going dark in a session
    Awake,
    /// Big digits
    Big,
}

/// Prints the settings to `out`, or sets one.
///
/// # Errors
///
/// No place for files is to be had, the value is none, or it cannot be kept.
pub fn run(arguments: &Arguments, flags: Flags, out: &mut dyn Write) -> Result<Exit, Failure> {
    let store = StateStore::of(&Home::here()?, Arc::new(Disk));
    if let (Some(name), Some(value)) = (arguments.name, &arguments.value) {
        let kept = store.keep_preferences(&[preference(name, value)?]);
        kept.map_err(|why| Failure::error(format!("rackside: cannot keep it: {why}")))?;
        return Ok(Exit::Done);
    }
    show(
        &Settings::settle(flags, |name| std::env::var_os(name), store.prefs()),
        out,
    )
}

fn preference(name: Kept, value: &str) -> Result<Preference, Failure> {
    let is_on = || match value {
        "on" => Ok(true),
        "off" => Ok(false),
        _ => Err(Failure::usage("rackside: on or off is wanted")),
    };
    Ok(match name {
        Kept::Sound => Preference::Mute(!is_on()?),
        Kept::Notices => Preference::NoNotices(!is_on()?),
        Kept::Awake => Preference::MayDarken(!is_on()?),
        Kept::Big => Preference::Small(!is_on()?),
        Kept::Volume => {
            let volume = value.parse().ok().and_then(Volume::new);
            let wanted = "rackside: a volume from 0 to 100 is wanted";
            Preference::Volume(volume.ok_or_else(|| Failure::usage(wanted))?)
        }
    })
}

fn show(settings: &Settings, out: &mut dyn Write) -> Result<Exit, Failure> {
    let Settings {
        colour,
        ground,
        letters,
        form,
        progress,
        prefs,
        ..
    } = settings;
    let yes = |yes: bool| if yes { "on" } else { "off" };
    let kept = |differs: bool| {
        if differs {
            Origin::Prefs
        } else {
            Origin::Usual
        }
    };
    let volume = prefs.volume.percent().to_string();
    let ascii = letters.value == Letters::Ascii;
    let rows = [
        ("colour", yes(colour.value), colour.origin),
        ("theme", ground.value.name(), ground.origin),
        ("ascii", yes(ascii), letters.origin),
        ("lines", yes(form.value == Form::Lines), form.origin),
        ("progress", yes(progress.value), progress.origin),
        ("sound", yes(!prefs.mute), kept(prefs.mute)),
        ("volume", &volume, kept(prefs.volume != Volume::FULL)),
        ("notices", yes(!prefs.no_notices), kept(prefs.no_notices)),
        ("awake", yes(!prefs.may_darken), kept(prefs.may_darken)),
        ("big", yes(!prefs.small), kept(prefs.small)),
    ];
    for (name, value, origin) in rows {
        writeln!(out, "{name:<9} {value:<6} {}", neutral(&origin.to_string()))?;
    }
    Ok(Exit::Done)
}
