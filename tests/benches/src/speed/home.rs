//! Homes to measure in: an empty one, and ones with invented records.

use std::path::{Path, PathBuf};
use std::process::Command;
use tempfile::TempDir;

/// A person's home in a temporary folder.
pub struct Home(TempDir);

impl Home {
    /// Answers of a first run, and no record.
    pub fn empty(program: &Path) -> Self {
        let home = Self::of(program, 1);
        let journal = home.path().join("data/journal");
        std::fs::remove_dir_all(journal).expect("the one record goes");
        home
    }

    /// So many invented sets.
    pub fn of(program: &Path, sets: u64) -> Self {
        let folder = tempfile::tempdir().expect("a temporary folder");
        let written = Command::new(program)
            .args(["demo", "--write-only", "--seed", "1", "--home"])
            .arg(folder.path())
            .args(["--sets", &sets.to_string()])
            .output()
            .expect("the program runs");
        assert!(
            written.status.success(),
            "{}",
            String::from_utf8_lossy(&written.stderr)
        );
        Self(folder)
    }

    /// Where it is.
    pub fn path(&self) -> &Path {
        self.0.path()
    }

    /// The program, this being its home and nothing else of the machine coming through.
    pub fn run(&self, program: &Path, arguments: &[&str]) -> Command {
        let mut command = Command::new(program);
        command
            .env_clear()
            .env("RACKSIDE_HOME", self.path())
            .env("LANG", "C.UTF-8")
            .env("TZ", "UTC")
            .args(arguments);
        command
    }

    /// What may be deleted at any time.
    pub fn forget_caches(&self) {
        let cache = self.path().join("cache");
        if cache.exists() {
            std::fs::remove_dir_all(cache).expect("a cache goes");
        }
    }

    /// The journal's files.
    pub fn journal(&self) -> Vec<PathBuf> {
        let folder = self.path().join("data/journal");
        let entries = std::fs::read_dir(folder).expect("a journal");
        let mut paths: Vec<PathBuf> = entries.map(|entry| entry.expect("a name").path()).collect();
        paths.retain(|path| path.extension().is_some_and(|extension| extension == "ron"));
        paths.sort();
        paths
    }
}
