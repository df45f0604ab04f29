//! `rackside journal merge`, `salvage` and `reseal`: new files, made from others that stay as they
//! are.

use crate::cli::{Exit, Failure, tell};
use crate::domain::diagnostic::neutral;
use crate::domain::words;
use crate::formats::journal::{self, Change, Mended, Other};
use crate::shell::{Disk, Home, new_name, read_bytes, read_files, write_new};
use std::io::Write;
use std::path::{Path, PathBuf};

/// Add what journal files from elsewhere hold and this journal does not, each event once
#[derive(Debug, clap::Args)]
pub struct Merge {
    /// Journal files of another device, or copies that a synchronising tool made
    #[arg(value_name = "FILE", required = true)]
    files: Vec<PathBuf>,
    /// Only say what would be added
    #[arg(long, short = 'n')]
    dry_run: bool,
}

/// Show what can be read of a damaged file, and write it to a new one
#[derive(Debug, clap::Args)]
pub struct Salvage {
    /// The damaged file; it stays as it is
    file: PathBuf,
    /// Write the result to this new file; without it, only the difference is shown
    #[arg(long, value_name = "NEW")]
    to: Option<PathBuf>,
}

/// Show what right checksums would change in a file that you edited, and write it to a new one
#[derive(Debug, clap::Args)]
pub struct Reseal {
    /// The edited file; it stays as it is
    file: PathBuf,
    /// Write the result to this new file; without it, only the difference is shown
    #[arg(long, value_name = "NEW")]
    to: Option<PathBuf>,
}

/// Merges files into the journal.
///
/// # Errors
///
/// A file cannot be read, or the new one cannot be written.
pub fn merge(arguments: &Merge, out: &mut dyn Write) -> Result<Exit, Failure> {
    let home = Home::here()?;
    let (ours, _) = read_files(&home, &Disk)?;
    let mut others = Vec::with_capacity(arguments.files.len());
    for path in &arguments.files {
        others.push(Other {
            path: path.to_string_lossy().into_owned(),
            bytes: read_bytes(path, &Disk)?,
        });
    }
    let merged = journal::merge(ours, &others);
    for problem in &merged.problems {
        tell(&problem.diagnostic());
    }
    let mut added = words::count(merged.events, "event");
    if merged.unused > 0 {
        added += &format!(" and {} that this version cannot use", merged.unused);
    }
    if merged.lines.is_empty() {
        writeln!(out, "nothing new: the journal has all of it")?;
    } else if arguments.dry_run {
        writeln!(out, "{added} would be added")?;
    } else {
        let path = home.journal().join(format!("merged-{}.ron", new_name()));
        write_new(&path, &merged.lines, &Disk)?;
        let path = path.to_string_lossy();
        writeln!(out, "{added} added, in {}", neutral(&path))?;
    }
    Ok(Exit::Done)
}

/// Salvages a file.
///
/// # Errors
///
/// It cannot be read, or the new one cannot be written.
pub fn salvage(arguments: &Salvage, out: &mut dyn Write) -> Result<Exit, Failure> {
    let file = (arguments.file.as_path(), arguments.to.as_deref());
    mend(journal::salvage, file, out)
}

/// Reseals a file.
///
/// # Errors
///
/// It cannot be read, or the new one cannot be written.
pub fn reseal(arguments: &Reseal, out: &mut dyn Write) -> Result<Exit, Failure> {
    let file = (arguments.file.as_path(), arguments.to.as_deref());
    mend(journal::reseal, file, out)
}

fn mend(
    mend: fn(&[u8]) -> Mended,
    (file, to): (&Path, Option<&Path>),
    out: &mut dyn Write,
) -> Result<Exit, Failure> {
    let mended = mend(&read_bytes(file, &Disk)?);
    for change in &mended.changes {
        show(change, out)?;
    }
    if mended.changes.is_empty() {
        writeln!(out, "nothing to change")?;
        return Ok(Exit::Done);
    }
    let lines = words::count(mended.changes.len(), "line");
    let Some(to) = to else {
        writeln!(
            out,
            "{lines} would differ; add --to NEW to write it to a new file"
        )?;
        return Ok(Exit::Done);
    };
    out.flush()?;
    write_new(to, &mended.bytes, &Disk)?;
    let (to, file) = (to.to_string_lossy(), file.to_string_lossy());
    writeln!(
        out,
        "{lines} differ; written to {}. To use it, put it in place of {} yourself, and keep that",
        neutral(&to),
        neutral(&file)
    )?;
    Ok(Exit::Done)
}

fn show(change: &Change, out: &mut dyn Write) -> Result<(), Failure> {
    writeln!(out, "line {}", change.line)?;
    writeln!(out, "- {}", shortened(&change.before))?;
    for line in &change.after {
        writeln!(out, "+ {}", shortened(line))?;
    }
    Ok(())
}

/// A line's beginning and end: what it is, and its checksum.
fn shortened(line: &str) -> String {
    const WIDEST: usize = 76;
    const END: usize = 24;
    let chars: Vec<char> = neutral(line).chars().collect();
    if chars.len() <= WIDEST {
        return chars.into_iter().collect();
    }
    let start: String = chars.iter().take(WIDEST - END - 3).collect();
    let end: String = chars.iter().skip(chars.len() - END).collect();
    format!("{start}...{end}")
}
