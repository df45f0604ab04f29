//! `rackside sounds`: the signs for the ear.

use super::{Exit, Failure, warn};
use crate::domain::cue::{Cue, synthesize};
use crate::domain::diagnostic::neutral;
use crate::formats::sound_file;
use crate::shell::{Disk, Error, Home, Sounds, StateStore, Storage, play};
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// Lists the sounds of a session, plays them, writes them as files.
#[derive(Debug, clap::Args)]
#[command(after_help = OWN)]
pub struct Arguments {
    #[command(subcommand)]
    command: Option<Command>,
}

const OWN: &str = "\
A WAV file of yours, 5 seconds at most, in the folder that 'rackside paths' calls
sounds, is played in place of the sound whose name it has: rest_opens.wav.
'rackside settings volume 60' makes all fainter, 'settings sound off' silent.";

#[derive(Debug, clap::Subcommand)]
enum Command {
    /// Play a sound as a session would, and wait for its end
    Play {
        /// Its name, as the list has it
        #[arg(value_name = "NAME", value_parser = cue)]
        cue: Cue,
    },
    /// Write all sounds as WAV files into a folder, as the code makes them
    Write {
        /// The folder; files that are there already stay as they are
        #[arg(value_name = "DIR")]
        folder: PathBuf,
    },
}

fn cue(name: &str) -> Result<Cue, String> {
    let names = || Cue::ALL.map(Cue::name).join(", ");
    Cue::named(name).ok_or_else(|| format!("no such sound; there are {}", names()))
}

/// Does what was asked.
///
/// # Errors
///
/// A file cannot be written, or is there already; nothing here can play a sound.
pub fn run(arguments: &Arguments, out: &mut dyn Write) -> Result<Exit, Failure> {
    match &arguments.command {
        None => list(out),
        Some(Command::Play { cue }) => play_one(*cue),
        Some(Command::Write { folder }) => write_all(folder, out),
    }
}

fn list(out: &mut dyn Write) -> Result<Exit, Failure> {
    let sounds = Sounds::of(&Home::here()?);
    let mut exit = Exit::Done;
    for cue in Cue::ALL {
        let (name, says) = (cue.name(), cue.says());
        match sounds.own(cue) {
            None => writeln!(out, "{name:<12} {:<20} {says}", cue.sounds())?,
            Some(Ok(_)) => writeln!(out, "{name:<12} {:<20} {says}", "your own")?,
            Some(Err(why)) => {
                writeln!(out, "{name:<12} {:<20} {says}", cue.sounds())?;
                let path = sounds.path(cue);
                let path = neutral(&path.to_string_lossy());
                warn(&format!("{path} is not played: {why}"));
                exit = Exit::Problems;
            }
        }
    }
    Ok(exit)
}

/// Plays a sound at the volume that is kept, muted or not: that is what was asked for.
fn play_one(cue: Cue) -> Result<Exit, Failure> {
    let home = Home::here()?;
    let cannot = |why: String| Failure::error(format!("rackside: cannot play it: {why}"));
    let volume = StateStore::of(&home, Arc::new(Disk)).prefs().volume;
    let clip = Sounds::of(&home).clip(cue).map_err(cannot)?;
    play(&clip.at(volume)).map_err(cannot)?;
    Ok(Exit::Done)
}

fn write_all(folder: &Path, out: &mut dyn Write) -> Result<Exit, Failure> {
    for cue in Cue::ALL {
        let path = folder.join(format!("{}.wav", cue.name()));
        let bytes = sound_file::write(&synthesize(cue))
            .map_err(|why| Failure::error(format!("rackside: {}: {why}", cue.name())))?;
        let shown = neutral(&path.to_string_lossy());
        match Disk.create(&path, &bytes) {
            Ok(()) => writeln!(out, "{shown}")?,
            Err(error) if error.kind() == io::ErrorKind::AlreadyExists => {
                return Err(Failure::error(format!(
                    "rackside: {shown} is there already and stays as it is: name another folder"
                )));
            }
            Err(error) => return Err(Error::file("write", &path)(error).into()),
        }
    }
    Ok(Exit::Done)
}
