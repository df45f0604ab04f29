//! The disk, call by call: what each leaves behind, and what it refuses.

use crate::rig::faulty::FaultyDisk;
use rackside::shell::{Disk, Storage};
use std::ffi::OsString;
use std::fs;
use std::io::{self, ErrorKind};
use std::os::unix::fs::{PermissionsExt, symlink};
use std::path::{Path, PathBuf};

/// A storage that has only what every one must have, and may read nothing.
struct Denied;

impl Storage for Denied {
    fn read(&self, _: &Path) -> io::Result<Vec<u8>> {
        Err(ErrorKind::PermissionDenied.into())
    }

    fn list(&self, _: &Path) -> io::Result<Vec<OsString>> {
        Err(ErrorKind::PermissionDenied.into())
    }

    fn append(&self, _: &Path, _: &[u8]) -> io::Result<()> {
        Err(ErrorKind::PermissionDenied.into())
    }

    fn create(&self, _: &Path, _: &[u8]) -> io::Result<()> {
        Err(ErrorKind::PermissionDenied.into())
    }

    fn replace(&self, _: &Path, _: &[u8]) -> io::Result<()> {
        Err(ErrorKind::PermissionDenied.into())
    }

    fn remove(&self, _: &Path) -> io::Result<()> {
        Err(ErrorKind::PermissionDenied.into())
    }
}

/// A file that is handed over a few bytes at a time.
struct InPieces;

const PIECES: &[u8] = b"twenty-one bytes long";

impl Storage for InPieces {
    fn read(&self, _: &Path) -> io::Result<Vec<u8>> {
        Ok(PIECES.to_vec())
    }

    fn scan(&self, _: &Path, take: &mut dyn FnMut(&[u8])) -> io::Result<()> {
        PIECES.chunks(6).for_each(take);
        Ok(())
    }

    fn list(&self, folder: &Path) -> io::Result<Vec<OsString>> {
        Denied.list(folder)
    }

    fn append(&self, path: &Path, lines: &[u8]) -> io::Result<()> {
        Denied.append(path, lines)
    }

    fn create(&self, path: &Path, bytes: &[u8]) -> io::Result<()> {
        Denied.create(path, bytes)
    }

    fn replace(&self, path: &Path, bytes: &[u8]) -> io::Result<()> {
        Denied.replace(path, bytes)
    }

    fn remove(&self, path: &Path) -> io::Result<()> {
        Denied.remove(path)
    }
}

/// What a file holds behind its first bytes, however it is handed over.
#[test]
fn a_file_is_read_from_any_of_its_bytes() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("file");
    fs::write(&path, PIECES).unwrap();
    for from in 0..PIECES.len() + 3 {
        let wanted = PIECES.get(from..).unwrap_or_default();
        for storage in [&Disk as &dyn Storage, &InPieces] {
            let mut found = Vec::new();
            let mut take = |bytes: &[u8]| found.extend_from_slice(bytes);
            storage.scan_from(&path, from as u64, &mut take).unwrap();
            assert_eq!(found, wanted, "from byte {from}");
        }
    }
}

fn kind<T: std::fmt::Debug>(result: io::Result<T>) -> ErrorKind {
    result.unwrap_err().kind()
}

fn mode(path: &Path) -> u32 {
    fs::symlink_metadata(path).unwrap().permissions().mode() & 0o777
}

fn names(folder: &Path) -> Vec<OsString> {
    Disk.list(folder).unwrap()
}

#[test]
fn a_file_that_is_not_there_has_no_length_and_one_that_cannot_be_looked_at_has_an_error() {
    let folder = tempfile::tempdir().unwrap();
    let (file, none) = (folder.path().join("file"), folder.path().join("none"));
    fs::write(&file, b"twelve bytes").unwrap();
    assert_eq!(
        (Disk.length(&file).unwrap(), Disk.length(&none).unwrap()),
        (12, 0)
    );
    assert_eq!(
        kind(Disk.length(&file.join("inside"))),
        ErrorKind::NotADirectory
    );
    let memory = FaultyDisk::new(None);
    memory.append(&file, b"five\n").unwrap();
    assert_eq!(
        (memory.length(&file).unwrap(), memory.length(&none).unwrap()),
        (5, 0)
    );
    assert_eq!(kind(Denied.length(&file)), ErrorKind::PermissionDenied);
}

#[test]
fn a_file_is_handed_over_whole_and_only_a_plain_one() {
    let folder = tempfile::tempdir().unwrap();
    let (file, link) = (folder.path().join("file"), folder.path().join("link"));
    let bytes: Vec<u8> = (0..200_000_u32).map(|k| (k % 251) as u8).collect();
    fs::write(&file, &bytes).unwrap();
    symlink(&file, &link).unwrap();
    let scan = |storage: &dyn Storage, path: &Path| {
        let mut all = Vec::new();
        let scanned = storage.scan(path, &mut |chunk| all.extend_from_slice(chunk));
        scanned.map(|()| all)
    };
    assert_eq!(scan(&Disk, &file).unwrap(), bytes);
    assert_eq!(kind(scan(&Disk, folder.path())), ErrorKind::InvalidInput);
    assert!(scan(&Disk, &link).is_err());
    assert_eq!(kind(scan(&Denied, &file)), ErrorKind::PermissionDenied);
    let memory = FaultyDisk::new(None);
    memory.append(&file, &bytes).unwrap();
    assert_eq!(scan(&memory, &file).unwrap(), bytes);
    assert!(Disk.is_plain(&file) && !Disk.is_plain(&link) && !Disk.is_plain(folder.path()));
    assert!(!Disk.is_plain(&folder.path().join("none")) && Denied.is_plain(&link));
}

#[test]
fn names_come_in_order_and_none_where_there_is_no_folder() {
    let folder = tempfile::tempdir().unwrap();
    let mut made: Vec<OsString> = (0..40)
        .map(|k| format!("{}", k * 7919 % 41).into())
        .collect();
    for name in &made {
        fs::write(folder.path().join(name), b"").unwrap();
    }
    made.sort();
    assert_eq!(names(folder.path()), made);
    assert_eq!(names(&folder.path().join("none")), Vec::<OsString>::new());
    let file = folder.path().join(&made[0]);
    assert_eq!(kind(Disk.list(&file)), ErrorKind::NotADirectory);
}

#[test]
fn a_line_goes_behind_what_is_there_into_a_plain_file_of_its_owners_alone() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("deep/er/journal.ron");
    Disk.append(&path, b"one\n").unwrap();
    Disk.append(&path, b"torn").unwrap();
    Disk.append(&path, b"two\n").unwrap();
    assert_eq!(fs::read(&path).unwrap(), b"one\ntorn\ntwo\n");
    let deep = folder.path().join("deep");
    let modes = (mode(&path), mode(&deep), mode(&deep.join("er")));
    assert_eq!(modes, (0o600, 0o700, 0o700));
    let link = folder.path().join("link");
    symlink(&path, &link).unwrap();
    assert!(
        Disk.append(&link, b"x\n").is_err(),
        "a link is not followed"
    );
    assert!(
        Disk.append(folder.path(), b"x\n").is_err(),
        "nor is a folder written"
    );
    let pipe = folder.path().join("pipe");
    let made = std::process::Command::new("mkfifo")
        .arg(&pipe)
        .status()
        .unwrap();
    assert!(made.success());
    assert_eq!(
        kind(Disk.append(&pipe, b"x\n")),
        ErrorKind::InvalidInput,
        "nor a pipe"
    );
    assert_eq!(fs::read(&path).unwrap(), b"one\ntorn\ntwo\n");
}

#[test]
fn a_new_file_is_never_made_over_another() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("deep/new.ron");
    Disk.create(&path, b"mine").unwrap();
    assert_eq!(kind(Disk.create(&path, b"other")), ErrorKind::AlreadyExists);
    assert_eq!(fs::read(&path).unwrap(), b"mine");
    assert_eq!((mode(&path), mode(path.parent().unwrap())), (0o600, 0o700));
}

#[test]
fn a_file_of_ours_is_replaced_whole_and_leaves_nothing_beside() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("state/draft.ron");
    Disk.replace(&path, b"one").unwrap();
    // What a run left that was killed in the act, and whose process number is ours now.
    let mut beside = path.clone().into_os_string();
    beside.push(format!(".{}.new", std::process::id()));
    fs::write(PathBuf::from(beside), b"half").unwrap();
    Disk.replace(&path, b"two").unwrap();
    assert_eq!(fs::read(&path).unwrap(), b"two");
    assert_eq!(names(path.parent().unwrap()), ["draft.ron"]);
    assert_eq!(mode(&path), 0o600);
    Disk.remove(&path).unwrap();
    Disk.remove(&path).expect("what is gone is as good");
    assert_eq!(names(path.parent().unwrap()), Vec::<OsString>::new());
    assert!(
        Disk.remove(folder.path()).is_err(),
        "a folder is no file of ours"
    );
}

#[test]
fn a_file_that_a_person_named_is_new_unless_they_say_otherwise() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("out/sets.csv");
    // What a run left that was killed in the act, and whose process number is ours now.
    let beside = folder
        .path()
        .join(format!("out/sets.csv.{}.new", std::process::id()));
    Disk.create(&beside, b"half").unwrap();
    Disk.publish(&path, b"one", false).unwrap();
    assert_eq!(fs::read(&path).unwrap(), b"one");
    assert_eq!(names(path.parent().unwrap()), ["sets.csv"]);
    assert_eq!(mode(&path), 0o600);
    let again = Disk.publish(&path, b"two", false);
    assert_eq!(kind(again), ErrorKind::AlreadyExists);
    assert_eq!(fs::read(&path).unwrap(), b"one");
    Disk.publish(&path, b"two", true).unwrap();
    assert_eq!(fs::read(&path).unwrap(), b"two");
    let link = folder.path().join("out/link");
    symlink(&path, &link).unwrap();
    assert_eq!(
        kind(Disk.publish(&link, b"x", true)),
        ErrorKind::InvalidInput
    );
    assert_eq!(
        kind(Disk.publish(&link, b"x", false)),
        ErrorKind::AlreadyExists
    );
    assert_eq!(fs::read(&path).unwrap(), b"two");
    assert_eq!(names(path.parent().unwrap()), ["link", "sets.csv"]);
}

#[test]
fn a_folder_for_this_process_alone_is_made_once_and_removed_with_all_in_it() {
    let name = format!("rackside-test-{}", std::process::id());
    let folder = Disk.make_temporary(&name).unwrap();
    assert_eq!(
        (folder.parent(), mode(&folder)),
        (Some(&*std::env::temp_dir()), 0o700)
    );
    assert_eq!(kind(Disk.make_temporary(&name)), ErrorKind::AlreadyExists);
    fs::write(folder.join("inside"), b"x").unwrap();
    let inside = Disk.remove_folder(&folder.join("inside"));
    assert_eq!(kind(inside), ErrorKind::NotADirectory);
    Disk.remove_folder(&folder).unwrap();
    assert!(!folder.exists());
}
