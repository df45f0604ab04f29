//! Files of ours under the state directory: device, preferences, draft.

use super::{Home, Storage};
use crate::domain::history::{Preference, Prefs};
use crate::domain::session::Draft;
use crate::domain::units::Now;
use crate::formats::state_files::{
    Device, device_text, draft_text, machine_mark, name_of, prefs_text, read_device, read_draft,
    read_prefs,
};
use std::io;
use std::path::PathBuf;
use std::sync::Arc;

/// The state directory.
pub struct StateStore {
    folder: PathBuf,
    storage: Arc<dyn Storage>,
    /// Names this start of the machine.
    start: String,
}

impl StateStore {
    /// The state directory of a home.
    pub fn of(home: &Home, storage: Arc<dyn Storage>) -> Self {
        let start = storage
            .read("/proc/sys/kernel/random/boot_id".as_ref())
            .unwrap_or_default();
        let start = machine_mark(&start);
        Self {
            folder: home.state.clone(),
            storage,
            start,
        }
    }

    fn text(&self, name: &str) -> Option<String> {
        let bytes = self.storage.read(&self.folder.join(name)).ok()?;
        String::from_utf8(bytes).ok()
    }

    fn put(&self, name: &str, text: &str) -> io::Result<()> {
        self.storage
            .replace(&self.folder.join(name), text.as_bytes())
    }

    /// This device's name in the journal: kept, or drawn at random where there is none yet or the
    /// home was copied from another machine.
    pub fn device(&self) -> String {
        let id = self
            .storage
            .read("/etc/machine-id".as_ref())
            .unwrap_or_default();
        let machine = machine_mark(&id);
        let kept = self.text("device.ron").and_then(|text| read_device(&text));
        if let Some(device) = kept.filter(|device| device.machine == machine) {
            return device.id;
        }
        let device = Device {
            id: new_name(),
            machine,
        };
        // Where it cannot be kept the next run draws another: ids stay unique all the same.
        let _ = self.put("device.ron", &device_text(&device));
        device.id
    }

    /// First parts of this run's event ids.
    pub fn origin(&self, device: &str) -> String {
        format!("{device}-{}", new_name())
    }

    /// What the person prefers.
    pub fn prefs(&self) -> Prefs {
        self.text("prefs.ron")
            .map(|text| read_prefs(&text))
            .unwrap_or_default()
    }

    /// Keeps what the person prefers, beside all that was kept before, by whichever process.
    ///
    /// # Errors
    ///
    /// It cannot be written.
    pub fn keep_preferences(&self, preferences: &[Preference]) -> io::Result<()> {
        let mut prefs = self.prefs();
        preferences.iter().for_each(|one| prefs.prefer(*one));
        self.put("prefs.ron", &prefs_text(prefs))
    }

    /// What was kept of a running session.
    pub fn draft(&self, now: Now) -> Option<Draft> {
        read_draft(&self.text("draft.ron")?, &self.start, now)
    }

    /// Keeps this of the running session, or nothing.
    ///
    /// # Errors
    ///
    /// It cannot be written.
    pub fn keep_draft(&self, draft: Option<&Draft>) -> io::Result<()> {
        match draft {
            Some(draft) => self.put("draft.ron", &draft_text(draft, &self.start)),
            None => self.storage.remove(&self.folder.join("draft.ron")),
        }
    }
}

/// A name that nobody has or guesses.
pub fn new_name() -> String {
    name_of(&random())
}

/// Ten random bytes: a run's name keeps fifty bits of them, so that no two runs ever share one.
fn random() -> [u8; 10] {
    let mut bytes = [0_u8; 10];
    if rustix::rand::getrandom(&mut bytes, rustix::rand::GetRandomFlags::empty()).is_err() {
        // Never seen; the clock and the process still tell runs apart.
        let seed = u64::from(std::process::id()) ^ super::now().boot.0.unsigned_abs();
        let seed = seed.to_le_bytes().into_iter().cycle();
        bytes
            .iter_mut()
            .zip(seed)
            .for_each(|(byte, part)| *byte = part);
    }
    bytes
}
