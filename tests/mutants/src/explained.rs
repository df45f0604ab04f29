//! Changes that no test can see, each with its reason.

use std::fs;
use std::path::Path;

/// What names a change from one build to the next: its file, its line and itself.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct Key {
    /// The file, from the root of the repository.
    pub path: String,
    /// The line as it stands there, without its indent.
    pub line: String,
    /// The change in words.
    pub what: String,
}

/// Reads keys: three lines each, a reason of any number of lines behind, then an empty one.
///
/// # Errors
///
/// The file cannot be read, or an entry has fewer lines.
pub fn read(path: &Path, reasons: bool) -> Result<Vec<Key>, String> {
    let text = match fs::read_to_string(path) {
        Ok(text) => text,
        Err(error) => return Err(format!("{}: {error}", path.display())),
    };
    let mut keys = Vec::new();
    let entries = text.split("\n\n").filter(|entry| !entry.trim().is_empty());
    for entry in entries {
        let lines: Vec<&str> = entry.trim().lines().map(str::trim).collect();
        match lines.as_slice() {
            [path, line, what, reason @ ..] if !(reasons && reason.is_empty()) => keys.push(Key {
                path: (*path).to_owned(),
                line: (*line).to_owned(),
                what: (*what).to_owned(),
            }),
            _ => {
                return Err(format!(
                    "{}: an entry lacks lines:\n{entry}",
                    path.display()
                ));
            }
        }
    }
    Ok(keys)
}

/// Writes keys as they are read.
///
/// # Errors
///
/// The file cannot be written.
pub fn write(path: &Path, keys: &[Key]) -> Result<(), String> {
    let entries = keys
        .iter()
        .map(|k| format!("{}\n  {}\n  {}\n\n", k.path, k.line, k.what));
    fs::write(path, entries.collect::<String>())
        .map_err(|error| format!("{}: {error}", path.display()))
}
