//! A disk in memory whose operations fail when a test says so.

use rackside::shell::Storage;
use std::collections::BTreeMap;
use std::ffi::OsString;
use std::io::{self, ErrorKind};
use std::path::{Path, PathBuf};
use std::sync::Mutex;

/// How an operation fails.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Fault {
    /// Nothing is written.
    Refused,
    /// A part of the bytes is written: the disk is full.
    Short,
    /// All bytes are written, and the sync fails: nobody knows what is on the disk.
    Unsynced,
}

/// Which operations fail.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Plan {
    /// The first one, from 0.
    pub from: usize,
    /// How many after it as well.
    pub count: usize,
    pub fault: Fault,
}

#[derive(Default)]
struct State {
    files: BTreeMap<PathBuf, Vec<u8>>,
    done: usize,
}

/// A disk in memory.
pub struct FaultyDisk {
    plan: Option<Plan>,
    state: Mutex<State>,
}

impl FaultyDisk {
    pub fn new(plan: Option<Plan>) -> Self {
        Self {
            plan,
            state: Mutex::default(),
        }
    }

    /// How many writing operations there were.
    pub fn done(&self) -> usize {
        self.state.lock().unwrap().done
    }

    fn put(&self, path: &Path, bytes: &[u8]) -> io::Result<()> {
        let mut state = self.state.lock().unwrap();
        let number = state.done;
        state.done += 1;
        let fault = self
            .plan
            .filter(|p| (p.from..p.from + p.count).contains(&number));
        let file = state.files.entry(path.to_owned()).or_default();
        match fault.map(|plan| plan.fault) {
            None => file.extend_from_slice(bytes),
            Some(Fault::Refused) => return Err(ErrorKind::PermissionDenied.into()),
            Some(Fault::Short) => {
                file.extend_from_slice(&bytes[..bytes.len() / 2]);
                return Err(ErrorKind::StorageFull.into());
            }
            Some(Fault::Unsynced) => {
                file.extend_from_slice(bytes);
                return Err(io::Error::other("input/output error"));
            }
        }
        Ok(())
    }
}

impl Storage for FaultyDisk {
    fn read(&self, path: &Path) -> io::Result<Vec<u8>> {
        let state = self.state.lock().unwrap();
        state
            .files
            .get(path)
            .cloned()
            .ok_or_else(|| ErrorKind::NotFound.into())
    }

    fn list(&self, folder: &Path) -> io::Result<Vec<OsString>> {
        let state = self.state.lock().unwrap();
        let inside = state
            .files
            .keys()
            .filter(|path| path.parent() == Some(folder));
        Ok(inside
            .filter_map(|path| path.file_name().map(OsString::from))
            .collect())
    }

    fn append(&self, path: &Path, line: &[u8]) -> io::Result<()> {
        let torn = self
            .read(path)
            .is_ok_and(|bytes| bytes.last().is_some_and(|b| *b != b'\n'));
        let mut bytes = if torn { vec![b'\n'] } else { Vec::new() };
        bytes.extend_from_slice(line);
        self.put(path, &bytes)
    }

    fn create(&self, path: &Path, bytes: &[u8]) -> io::Result<()> {
        if self.read(path).is_ok() {
            return Err(ErrorKind::AlreadyExists.into());
        }
        self.put(path, bytes)
    }

    fn replace(&self, path: &Path, bytes: &[u8]) -> io::Result<()> {
        self.state.lock().unwrap().files.remove(path);
        self.put(path, bytes)
    }

    fn remove(&self, path: &Path) -> io::Result<()> {
        self.state.lock().unwrap().files.remove(path);
        Ok(())
    }
}
