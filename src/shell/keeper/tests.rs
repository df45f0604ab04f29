//! A disk that does not answer holds up the keeper and nobody else.

use super::{Keep, Keeper};
use crate::domain::history::{Preference, Prefs};
use crate::shell::state_store::StateStore;
use crate::shell::{Disk, Home, Storage};
use std::ffi::OsString;
use std::io;
use std::path::Path;
use std::sync::mpsc::{Receiver, Sender, channel};
use std::sync::{Arc, Mutex};
use std::time::Duration;

/// A disk that replaces a file only when it is let.
struct Stuck {
    leave: Mutex<Receiver<()>>,
    asked: Sender<()>,
}

impl Storage for Stuck {
    fn read(&self, path: &Path) -> io::Result<Vec<u8>> {
        Disk.read(path)
    }

    fn list(&self, folder: &Path) -> io::Result<Vec<OsString>> {
        Disk.list(folder)
    }

    fn append(&self, path: &Path, line: &[u8]) -> io::Result<()> {
        Disk.append(path, line)
    }

    fn create(&self, path: &Path, bytes: &[u8]) -> io::Result<()> {
        Disk.create(path, bytes)
    }

    fn replace(&self, path: &Path, bytes: &[u8]) -> io::Result<()> {
        let _ = self.asked.send(());
        let _ = self.leave.lock().map(|leave| leave.recv());
        Disk.replace(path, bytes)
    }

    fn remove(&self, path: &Path) -> io::Result<()> {
        Disk.remove(path)
    }
}

#[test]
fn a_stuck_disk_holds_up_nobody_and_then_gets_the_newest() -> io::Result<()> {
    let root = tempfile::tempdir()?;
    let given = root.path().as_os_str().to_owned();
    let home = Home::find(|name| (name == "RACKSIDE_HOME").then(|| given.clone()))
        .map_err(|why| io::Error::other(why.to_string()))?;
    let (let_go, leave) = channel();
    let (asked, writes) = channel();
    let leave = Mutex::new(leave);
    let storage: Arc<dyn Storage> = Arc::new(Stuck { leave, asked });
    let store = || StateStore::of(&home, storage.clone());
    let keeper = Keeper::start(&home, storage.clone(), |_| ());
    let small = |small| Keep::Preference(Preference::Small(small));
    keeper.keep(small(false));
    assert!(writes.recv().is_ok(), "the first write has begun");
    // The disk is stuck now; each of these returns all the same.
    for _ in 0..100 {
        keeper.keep(small(false));
    }
    keeper.keep(small(true));
    keeper.keep(Keep::Preference(Preference::Mute(true)));
    assert_eq!(store().prefs(), Prefs::default(), "nothing is written yet");
    drop(let_go);
    keeper.finish(Duration::from_secs(20));
    let wanted = Prefs {
        small: true,
        mute: true,
        ..Prefs::default()
    };
    assert_eq!(store().prefs(), wanted);
    assert_eq!(
        writes.try_iter().count(),
        1,
        "what was overtaken is not written"
    );
    Ok(())
}
