//! The one module that writes to the disk. Nothing here can shorten or overwrite a journal.

use crate::formats::cache::Stamp;
use std::ffi::OsString;
use std::fs::{self, DirBuilder, File, OpenOptions};
use std::io::{self, Read, Seek, SeekFrom, Write};
use std::os::unix::fs::{DirBuilderExt, MetadataExt, OpenOptionsExt};
use std::path::{Path, PathBuf};
use std::time::Duration;

/// Files as the program uses them. Each call stands alone: nothing is held open between two.
pub trait Storage: Send + Sync {
    /// All bytes of a file.
    ///
    /// # Errors
    ///
    /// The file is missing or cannot be read.
    fn read(&self, path: &Path) -> io::Result<Vec<u8>>;

    /// Hands over all bytes of a file, a chunk at a time, so that its size needs no memory.
    ///
    /// # Errors
    ///
    /// The file is missing or cannot be read; what was handed over before stands.
    fn scan(&self, path: &Path, take: &mut dyn FnMut(&[u8])) -> io::Result<()> {
        self.read(path).map(|bytes| take(&bytes))
    }

    /// The same of the bytes behind the first so many.
    ///
    /// # Errors
    ///
    /// As [`Storage::scan`].
    fn scan_from(&self, path: &Path, from: u64, take: &mut dyn FnMut(&[u8])) -> io::Result<()> {
        let mut left = usize::try_from(from).unwrap_or(usize::MAX);
        self.scan(path, &mut |bytes| {
            let skipped = left.min(bytes.len());
            left -= skipped;
            take(bytes.get(skipped..).unwrap_or_default());
        })
    }

    /// What a file looks like from outside.
    ///
    /// # Errors
    ///
    /// It cannot be looked at, or this storage cannot tell one file from another.
    fn stamp(&self, _path: &Path) -> io::Result<Stamp> {
        Err(io::ErrorKind::Unsupported.into())
    }

    /// How many bytes a file has; none where there is no file.
    ///
    /// # Errors
    ///
    /// It cannot be looked at.
    fn length(&self, path: &Path) -> io::Result<u64> {
        match self.read(path) {
            Ok(bytes) => Ok(bytes.len() as u64),
            Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(0),
            Err(error) => Err(error),
        }
    }

    /// Whether a name in a folder is that of a plain file: no folder, no pipe, no link, which
    /// could lead anywhere.
    fn is_plain(&self, _path: &Path) -> bool {
        true
    }

    /// The names in a folder, in order; none where there is no folder.
    ///
    /// # Errors
    ///
    /// The folder cannot be read.
    fn list(&self, folder: &Path) -> io::Result<Vec<OsString>>;

    /// Appends whole lines (their line feeds included) and syncs them. Where the file does not end
    /// with a line feed, one goes before.
    ///
    /// # Errors
    ///
    /// They are not on the disk, or not surely: they must be written again, never just synced.
    fn append(&self, path: &Path, lines: &[u8]) -> io::Result<()>;

    /// Writes a new file, synced.
    ///
    /// # Errors
    ///
    /// The file exists already, or cannot be written.
    fn create(&self, path: &Path, bytes: &[u8]) -> io::Result<()>;

    /// Puts a file of ours (never one that a person wrote) in place of its former self, whole or
    /// not at all.
    ///
    /// # Errors
    ///
    /// It cannot be written; the former file is as it was.
    fn replace(&self, path: &Path, bytes: &[u8]) -> io::Result<()>;

    /// The same of a file that can be made again from others at any time: it is not synced.
    ///
    /// # Errors
    ///
    /// It cannot be written.
    fn replace_derived(&self, path: &Path, bytes: &[u8]) -> io::Result<()> {
        self.replace(path, bytes)
    }

    /// Removes a file of ours; a missing one is as good.
    ///
    /// # Errors
    ///
    /// It cannot be removed.
    fn remove(&self, path: &Path) -> io::Result<()>;
}

/// The real disk.
#[derive(Clone, Copy, Debug, Default)]
pub struct Disk;

impl Storage for Disk {
    fn read(&self, path: &Path) -> io::Result<Vec<u8>> {
        fs::read(path)
    }

    fn scan(&self, path: &Path, take: &mut dyn FnMut(&[u8])) -> io::Result<()> {
        self.scan_from(path, 0, take)
    }

    fn scan_from(&self, path: &Path, from: u64, take: &mut dyn FnMut(&[u8])) -> io::Result<()> {
        let mut options = OpenOptions::new();
        let mut file = options.read(true).custom_flags(plainly()).open(path)?;
        if !file.metadata()?.is_file() {
            return Err(not_plain());
        }
        file.seek(SeekFrom::Start(from))?;
        let mut chunk = vec![0; 1 << 16];
        loop {
            match file.read(&mut chunk) {
                Ok(0) => return Ok(()),
                Ok(count) => take(chunk.get(..count).unwrap_or_default()),
                Err(error) if error.kind() == io::ErrorKind::Interrupted => {}
                Err(error) => return Err(error),
            }
        }
    }

    fn stamp(&self, path: &Path) -> io::Result<Stamp> {
        let found = fs::symlink_metadata(path)?;
        let seconds = found.mtime().saturating_mul(1_000_000_000);
        Ok(Stamp {
            device: found.dev(),
            inode: found.ino(),
            size: found.len(),
            modified: seconds.saturating_add(found.mtime_nsec()),
        })
    }

    fn length(&self, path: &Path) -> io::Result<u64> {
        match fs::symlink_metadata(path) {
            Ok(found) => Ok(found.len()),
            Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(0),
            Err(error) => Err(error),
        }
    }

    fn is_plain(&self, path: &Path) -> bool {
        fs::symlink_metadata(path).is_ok_and(|found| found.is_file())
    }

    fn list(&self, folder: &Path) -> io::Result<Vec<OsString>> {
        let entries = match fs::read_dir(folder) {
            Ok(entries) => entries,
            Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(Vec::new()),
            Err(error) => return Err(error),
        };
        let names: io::Result<Vec<OsString>> = entries.map(|e| e.map(|e| e.file_name())).collect();
        let mut names = names?;
        names.sort();
        Ok(names)
    }

    fn append(&self, path: &Path, line: &[u8]) -> io::Result<()> {
        make_folder_of(path)?;
        let mut file = OpenOptions::new()
            .read(true)
            .append(true)
            .create(true)
            .mode(0o600)
            .custom_flags(plainly())
            .open(path)?;
        if !file.metadata()?.is_file() {
            return Err(not_plain());
        }
        let torn = !ends_with_line_feed(&mut file)?;
        let mut bytes = Vec::with_capacity(line.len() + 1);
        if torn {
            bytes.push(b'\n');
        }
        bytes.extend_from_slice(line);
        // One call writes the whole line; a short write leaves a torn tail, which the next append
        // isolates.
        file.write_all(&bytes)?;
        file.sync_data()?;
        // Every time: where an earlier attempt made the file and then failed, nobody knows whether
        // its name is on the disk.
        sync_folders_of(path)
    }

    fn create(&self, path: &Path, bytes: &[u8]) -> io::Result<()> {
        make_folder_of(path)?;
        let mut file = OpenOptions::new()
            .write(true)
            .create_new(true)
            .mode(0o600)
            .open(path)?;
        file.write_all(bytes)?;
        file.sync_all()?;
        sync_folders_of(path)
    }

    fn replace(&self, path: &Path, bytes: &[u8]) -> io::Result<()> {
        self.put(path, bytes, File::sync_all)
    }

    fn replace_derived(&self, path: &Path, bytes: &[u8]) -> io::Result<()> {
        self.put(path, bytes, |_| Ok(()))
    }

    fn remove(&self, path: &Path) -> io::Result<()> {
        match fs::remove_file(path) {
            Err(error) if error.kind() != io::ErrorKind::NotFound => Err(error),
            Ok(()) | Err(_) => Ok(()),
        }
    }
}

impl Disk {
    /// Writes a file that a person named, whole or not at all, for its owner alone: a new one, or,
    /// where they say so, one in place of another. A link of that name is never followed.
    ///
    /// # Errors
    ///
    /// There is one already, or it cannot be written; what was there is as it was.
    pub fn publish(self, path: &Path, bytes: &[u8], over: bool) -> io::Result<()> {
        if over {
            return match fs::symlink_metadata(path) {
                Ok(found) if !found.is_file() => Err(not_plain()),
                Ok(_) | Err(_) => self.replace(path, bytes),
            };
        }
        if fs::symlink_metadata(path).is_ok() {
            return Err(io::ErrorKind::AlreadyExists.into());
        }
        let beside = beside(path);
        self.remove(&beside)?;
        let written = self.create(&beside, bytes).and_then(|()| {
            // A second name for the whole file: never in place of another. Some file systems have
            // no second names; there the file is written under its own.
            match fs::hard_link(&beside, path) {
                Err(why) if why.kind() != io::ErrorKind::AlreadyExists => self.create(path, bytes),
                done => done,
            }
        });
        let removed = self.remove(&beside);
        written.and(removed).and_then(|()| sync_folders_of(path))
    }

    /// Writes a file beside its former self, and puts it in its place.
    fn put(self, path: &Path, bytes: &[u8], sync: fn(&File) -> io::Result<()>) -> io::Result<()> {
        make_folder_of(path)?;
        let beside = beside(path);
        self.remove(&beside)?;
        let mut file = OpenOptions::new()
            .write(true)
            .create_new(true)
            .mode(0o600)
            .open(&beside)?;
        let written = file.write_all(bytes).and_then(|()| sync(&file));
        let put = written.and_then(|()| fs::rename(&beside, path));
        if put.is_err() {
            // On a full disk the half of it would take the room that a set needs.
            let _ = self.remove(&beside);
        }
        put
    }

    /// Makes a folder for this process alone, among the system's temporary ones.
    ///
    /// # Errors
    ///
    /// It is there already, or cannot be made.
    pub fn make_temporary(self, name: &str) -> io::Result<PathBuf> {
        let folder = std::env::temp_dir().join(name);
        DirBuilder::new().mode(0o700).create(&folder)?;
        Ok(folder)
    }

    /// Removes a folder that this process made for itself alone, with all that is in it.
    ///
    /// # Errors
    ///
    /// Something in it cannot be removed.
    pub fn remove_folder(self, folder: &Path) -> io::Result<()> {
        // A thread that is about to end may put something back meanwhile.
        for _ in 0..20 {
            match fs::remove_dir_all(folder) {
                Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(()),
                Err(error) if error.kind() != io::ErrorKind::DirectoryNotEmpty => {
                    return Err(error);
                }
                Ok(()) | Err(_) => std::thread::sleep(Duration::from_millis(50)),
            }
        }
        Err(io::ErrorKind::DirectoryNotEmpty.into())
    }
}

/// Opens a lock file, which is made where there is none.
///
/// # Errors
///
/// It cannot be opened or made.
pub fn open_lock(path: &Path) -> io::Result<File> {
    make_folder_of(path)?;
    let mut options = OpenOptions::new();
    let options = options.read(true).write(true).create(true).truncate(false);
    options.mode(0o600).custom_flags(plainly()).open(path)
}

/// Takes a lock for this process, and writes into its file who holds it. The lock goes with the
/// process, however it ends; the file stays.
///
/// # Errors
///
/// Another process has it, or the file system has no locks.
pub fn lock(mut file: &File) -> Result<(), fs::TryLockError> {
    file.try_lock()?;
    // On a full disk nobody can say who holds it, and it is held all the same.
    let who = format!("{:<20}\n", std::process::id());
    let _ = file
        .seek(SeekFrom::Start(0))
        .and_then(|_| file.write_all(who.as_bytes()));
    Ok(())
}

/// The name of a file of this process, beside another.
fn beside(path: &Path) -> PathBuf {
    let mut beside = path.as_os_str().to_owned();
    beside.push(format!(".{}.new", std::process::id()));
    PathBuf::from(beside)
}

fn ends_with_line_feed(file: &mut File) -> io::Result<bool> {
    if file.seek(SeekFrom::End(0))? == 0 {
        return Ok(true);
    }
    file.seek(SeekFrom::End(-1))?;
    let mut last = [0_u8];
    file.read_exact(&mut last)?;
    Ok(last == [b'\n'])
}

fn make_folder_of(path: &Path) -> io::Result<()> {
    match path.parent() {
        Some(folder) => DirBuilder::new().recursive(true).mode(0o700).create(folder),
        None => Ok(()),
    }
}

/// Syncs the names on the way to a file: its own, its folder's, and that of the folder around.
fn sync_folders_of(path: &Path) -> io::Result<()> {
    let folders = path.ancestors().skip(1).take(3);
    for (depth, folder) in folders.filter(|f| !f.as_os_str().is_empty()).enumerate() {
        match File::open(folder).and_then(|folder| folder.sync_all()) {
            Ok(()) => {}
            // A file system that cannot sync folders, or a folder around that is not ours to open.
            Err(error) if error.kind() == io::ErrorKind::InvalidInput => {}
            Err(error) if depth > 0 && error.kind() == io::ErrorKind::PermissionDenied => {}
            Err(error) => return Err(error),
        }
    }
    Ok(())
}

/// Flags that open a plain file as ever, never follow a link, and never wait for a pipe.
const fn plainly() -> i32 {
    use rustix::fs::OFlags;
    OFlags::NOFOLLOW
        .union(OFlags::NONBLOCK)
        .bits()
        .cast_signed()
}

fn not_plain() -> io::Error {
    io::Error::new(io::ErrorKind::InvalidInput, "not a plain file")
}
