//! A line written is the same event read, and reads as the published format says.

use crate::fuzzed::journal::{alike_with_a_blank, value_of};
use crate::rig::events;
use proptest::prelude::*;
use rackside::domain::session::{Event, Stamped};
use rackside::formats::journal::{Read, Seal, Trouble, read, write_line};

proptest! {
    /// Whatever happened is read back as it was, and stays on one line.
    #[test]
    fn a_line_reads_back_as_it_was_written(stamped in events::stamped()) {
        let line = write_line(&stamped).unwrap();
        prop_assert!(!line.contains(['\n', '\r']), "{line}");
        let read = read(line.as_bytes(), "2026-x.ron");
        prop_assert_eq!(&read.problems, &Vec::new());
        prop_assert_eq!(&read.entries[0].stamped, &stamped);
        prop_assert_eq!(read.entries[0].seal, Seal::Right);
        prop_assert_eq!(read.highest_n, stamped.n);
    }

    /// Blanks keep a line from the reader of what the program writes: with them and without,
    /// whole, cut short or with a byte changed, a line means the same.
    #[test]
    fn both_readers_of_lines_agree(
        stamped in events::stamped(),
        at in any::<prop::sample::Index>(),
        byte in any::<u8>(),
        how in 0..3,
    ) {
        let line = write_line(&stamped).unwrap();
        let mut value = line.split(" // crc ").next().unwrap().as_bytes().to_vec();
        let at = at.index(value.len());
        match how {
            0 => {}
            1 => value.truncate(at),
            _ => value[at] = byte,
        }
        alike_with_a_blank(&value);
    }

    /// Any bytes at all: an answer, never a panic.
    #[test]
    fn any_bytes_can_be_read(bytes in prop::collection::vec(any::<u8>(), 0..400)) {
        let _ = read(&bytes, "2026-x.ron");
    }
}

/// The same of every line that lies among the samples, each as it is and with each byte gone.
#[test]
fn both_readers_agree_on_the_samples() {
    let folders = ["tests/data/journals", "tests/fuzz/corpus/journal"];
    for folder in folders {
        for file in std::fs::read_dir(folder).unwrap() {
            let bytes = std::fs::read(file.unwrap().path()).unwrap();
            for line in bytes
                .split(|byte| *byte == b'\n')
                .filter(|l| l.len() < 2000)
            {
                let value = value_of(line);
                alike_with_a_blank(value);
                for gone in (0..value.len()).step_by(7) {
                    let without = [&value[..gone], &value[gone + 1..]].concat();
                    alike_with_a_blank(&without);
                }
            }
        }
    }
}

/// A line by hand, its checksum taken from another implementation of CRC-32 (`zlib.crc32` of
/// CPython 3), which is the one of the zip format.
pub(super) const BY_HAND: &str = concat!(
    r#"(v:1,id:"k3f9qa-8a1c2d-0004",n:412,session:"k3f9qa-8a1c2d-0000","#,
    r#"at:"2026-11-19T18:22:05.123+01:00",event:Set(exercise:"one_arm_row",kind:Working,number:3,"#,
    r#"load:"22.5 kg",done:Reps(8),asked:Reps(8),ended:AsAsked,"#,
    r#"spare:2,rest_s:Measured(88),counts:OneDumbbell,item:1)) // crc a23241f6"#,
);

#[track_caller]
fn only(read: &Read) -> &Stamped {
    assert_eq!(read.entries.len(), 1, "{:?}", read.problems);
    &read.entries[0].stamped
}

#[test]
fn the_published_line_is_what_is_written() {
    let read = read(BY_HAND.as_bytes(), "2026-k3f9qa.ron");
    assert_eq!(read.problems, []);
    assert_eq!(read.entries[0].seal, Seal::Right);
    assert_eq!(write_line(only(&read)).unwrap(), BY_HAND);
    // The page of the format shows the same line, wrapped.
    let page = include_str!("../../../shared/journal.md");
    let shown: String = page.lines().map(str::trim_start).collect();
    assert!(shown.contains(BY_HAND));
}

#[test]
fn a_line_without_its_checksum_is_as_good() {
    let (value, _) = BY_HAND.split_once(" //").unwrap();
    let edited = value
        .replace("22.5 kg", "24kg")
        .replace("spare:2", "spare: Some(3)");
    let read = read(edited.as_bytes(), "2026-k3f9qa.ron");
    assert_eq!(read.problems, []);
    assert_eq!(read.entries[0].seal, Seal::Absent);
    let Event::Set(set) = &only(&read).event else {
        panic!("a set");
    };
    assert_eq!(set.load.to_string(), "24 kg");
    assert_eq!(set.spare.unwrap().get(), 3);
}

#[test]
fn a_comment_behind_a_line_is_the_persons_own() {
    let (value, _) = BY_HAND.split_once(" //").unwrap();
    let line = format!("{value} // felt good (for once)\n");
    assert_eq!(read(line.as_bytes(), "j").problems, []);
}

#[test]
fn an_edited_line_that_kept_its_checksum_is_damaged() {
    let edited = BY_HAND.replace("22.5 kg", "92.5 kg");
    let read = read(edited.as_bytes(), "j");
    let id = only(&read).id.clone();
    assert_eq!(read.entries[0].seal, Seal::Wrong);
    assert_eq!(read.problems[0].trouble, Trouble::DamagedSet(id));
    assert_eq!(read.highest_n, 0, "its n leads no other");
}

#[test]
fn fields_that_are_not_known_are_ignored() {
    let (value, _) = BY_HAND.split_once(" //").unwrap();
    let line = value.replace("item:1", "item:1,bar_speed:[0.4,0.3],belt:Yes(tight:true)");
    let read = read(line.as_bytes(), "j");
    assert_eq!(read.problems, []);
    only(&read);
}

#[test]
fn what_is_newer_is_kept_and_skipped() {
    let unknown = r#"(v:0,id:"a-b-1",n:7,at:"2026-11-19T18:22:05+01:00",event:Sauna(heat:90))"#;
    let newer = r#"(v:9,id:"a-b-2",n:9,at:[2026,11],event:Set(what:"?"))"#;
    let read = read(format!("{unknown}\n{newer}\n").as_bytes(), "j");
    let troubles: Vec<_> = read.problems.iter().map(|p| &p.trouble).collect();
    assert_eq!(troubles, [&Trouble::Unknown, &Trouble::Newer]);
    assert!(read.entries.is_empty());
    assert_eq!(read.highest_n, 9, "the next event stands behind them");
}

#[test]
fn a_slip_of_the_pen_is_told_in_its_place() {
    let (value, _) = BY_HAND.split_once(" //").unwrap();
    for (from, to, told) in [
        ("Reps(8),asked", "Reps(8000),asked", "reps must be 0 to 999"),
        ("22.5 kg", "22.5", "write its unit"),
        ("18:22:05.123+01:00", "18:22", "is not a time"),
        ("one_arm_row", "One Arm Row", "lower-case"),
        ("k3f9qa-8a1c2d-0004", "\\u{1b}[2J", "an id has"),
        ("spare:2", "spare:-2", "out of bounds"),
        ("n:412", "n:18446744073709551615", "more than any"),
    ] {
        let line = format!("\n{}\n", value.replace(from, to));
        let read = read(line.as_bytes(), "j");
        let said = read.problems[0].diagnostic().to_string();
        assert!(said.starts_with("j:2:1: error"), "{said}");
        assert!(said.contains(told), "{said}");
        assert!(!said.contains('\u{1b}'), "{said}");
        assert_eq!(read.entries, []);
    }
}
