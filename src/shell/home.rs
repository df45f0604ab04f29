//! Where a person's files live: the XDG directories, or all under `RACKSIDE_HOME`.

use super::Error;
use std::ffi::OsString;
use std::path::{Path, PathBuf};

/// Where a person's files live.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Home {
    /// The journal and what was rescued beside it.
    pub data: PathBuf,
    /// What the person writes: lifter, exercises, places, programs.
    pub config: PathBuf,
    /// Draft, device, preferences.
    pub state: PathBuf,
    /// What can be derived again.
    pub cache: PathBuf,
}

impl Home {
    /// The directories that an environment names.
    ///
    /// # Errors
    ///
    /// Neither `RACKSIDE_HOME` nor `HOME` is an absolute path, and an XDG directory is missing.
    pub fn find(environment: impl Fn(&str) -> Option<OsString>) -> Result<Self, Error> {
        let absolute = |name: &str| {
            let path = environment(name).map(PathBuf::from);
            path.filter(|path| path.is_absolute())
        };
        if let Some(given) = environment("RACKSIDE_HOME").filter(|given| !given.is_empty()) {
            return Self::under(given.as_ref());
        }
        let home = absolute("HOME");
        let place = |name: &str, below: &str| {
            let given = absolute(name).or_else(|| home.as_ref().map(|home| home.join(below)));
            given.map(|path| path.join("rackside")).ok_or_else(|| {
                Error::Said(format!(
                    "no place for a person's files: HOME is not set, nor {name}; set \
                     RACKSIDE_HOME=DIR to keep everything under DIR"
                ))
            })
        };
        Ok(Self {
            data: place("XDG_DATA_HOME", ".local/share")?,
            config: place("XDG_CONFIG_HOME", ".config")?,
            state: place("XDG_STATE_HOME", ".local/state")?,
            cache: place("XDG_CACHE_HOME", ".cache")?,
        })
    }

    /// Everything under one folder.
    ///
    /// # Errors
    ///
    /// The folder's path is relative, and the current folder is gone.
    pub fn under(folder: &Path) -> Result<Self, Error> {
        let root = std::path::absolute(folder).map_err(Error::file("find", folder))?;
        Ok(Self {
            data: root.join("data"),
            config: root.join("config"),
            state: root.join("state"),
            cache: root.join("cache"),
        })
    }

    /// The directories of this process's environment.
    ///
    /// # Errors
    ///
    /// As [`Home::find`].
    pub fn here() -> Result<Self, Error> {
        Self::find(|name| std::env::var_os(name))
    }

    /// Where the journal's files lie.
    pub fn journal(&self) -> PathBuf {
        self.data.join("journal")
    }

    /// Where sets are kept that the journal refused.
    pub fn rescue(&self) -> PathBuf {
        self.data.join("rescue")
    }

    /// The lock of the journal, beside it.
    pub fn lock(&self) -> PathBuf {
        self.data.join("lock")
    }

    /// What was noted of runs.
    pub fn log(&self) -> PathBuf {
        self.state.join("log")
    }

    /// The lifter's file.
    pub fn lifter(&self) -> PathBuf {
        self.config.join("lifter.ron")
    }

    /// The person's own exercises.
    pub fn exercises(&self) -> PathBuf {
        self.config.join("exercises.ron")
    }

    /// The person's places.
    pub fn places(&self) -> PathBuf {
        self.config.join("places")
    }

    /// The person's own sounds.
    pub fn sounds(&self) -> PathBuf {
        self.config.join("sounds")
    }

    /// The person's programs.
    pub fn programs(&self) -> PathBuf {
        self.config.join("programs")
    }
}
