//! What is told apart: an event from what stands beside it in its line, a slip from a newer
//! version, one event told twice from two that share a name.

use super::lines::BY_HAND;
use crate::fuzzed::journal::alike_with_a_blank;
use rackside::domain::session::{Event, EventId, Stamped};
use rackside::domain::units::Civil;
use rackside::formats::journal::{
    Other, Problem, Read, Seal, Trouble, Unwritable, merge, read, salvage, union, write_line,
};

fn note(id: &str, n: u64, text: &str) -> Stamped {
    Stamped {
        id: EventId(id.to_owned()),
        n,
        session: None,
        at: Civil::parse("2026-11-19T18:22:05.123+01:00").unwrap(),
        event: Event::Note {
            text: text.to_owned(),
        },
    }
}

fn line(id: &str, n: u64, text: &str) -> String {
    write_line(&note(id, n, text)).unwrap()
}

fn bare() -> &'static str {
    BY_HAND.split_once(" // crc ").unwrap().0
}

fn troubles(read: &Read) -> Vec<(usize, &Trouble)> {
    let told = |problem: &'_ Problem| problem.offset;
    read.problems
        .iter()
        .map(|p| (told(p), &p.trouble))
        .collect()
}

#[test]
fn litter_on_every_side_of_two_events_is_no_part_of_them() {
    let (a, b) = (line("a-1", 1, "x"), line("a-2", 2, "y"));
    let text = format!("before {a} between {b} behind");
    let found = read(text.as_bytes(), "j");
    let places: Vec<_> = found.entries.iter().map(|e| (e.offset, e.length)).collect();
    let (first, second) = (7, 7 + a.len() + 9);
    assert_eq!(places, [(first, a.len()), (second, b.len())]);
    let litter = &Trouble::Litter;
    let expected = [
        (0, litter),
        (first + a.len() + 1, litter),
        (second + b.len() + 1, litter),
    ];
    assert_eq!(troubles(&found), expected);
}

#[test]
fn a_file_is_as_long_as_its_bytes() {
    for text in ["", "\n", "x", "\0\0", "a\n\0b\r\n\u{feff}"] {
        assert_eq!(read(text.as_bytes(), "j").length, text.len(), "{text:?}");
    }
}

/// What is as it was written and cannot be read was written by a version that knew more. The
/// checksum is that of another implementation (`zlib.crc32` of CPython 3).
#[test]
fn a_sealed_line_that_cannot_be_read_is_newer_and_kept() {
    let text = "(v:1,strange) // crc 1056bb40\n";
    let found = read(text.as_bytes(), "j");
    assert_eq!(troubles(&found), [(0, &Trouble::Newer)]);
    let kept = &found.unused[0];
    let expected = (None, false, 1, 0, text.len() - 1);
    assert_eq!(
        (
            kept.id.clone(),
            kept.damaged,
            kept.line,
            kept.offset,
            kept.length
        ),
        expected
    );
    // A byte of it changed, it is damage.
    let found = read(text.replace("strange", "strangs").as_bytes(), "j");
    assert!(matches!(found.problems[0].trouble, Trouble::Unreadable(_)));
    assert_eq!(found.unused, []);
}

#[test]
fn what_somebody_typed_behind_a_line_leaves_a_set_that_teaches_nothing() {
    let found = read(format!("{} oops", bare()).as_bytes(), "j");
    let entry = &found.entries[0];
    assert_eq!(entry.seal, Seal::Wrong);
    let id = entry.stamped.id.clone();
    assert_eq!(troubles(&found), [(0, &Trouble::DamagedSet(id))]);
    assert_eq!(found.highest_n, 0, "its n leads no other");
}

#[test]
fn a_word_that_is_not_known_inside_an_event_is_a_slip_and_an_event_that_is_not_is_news() {
    let slip = bare().replace("kind:Working", "kind:Wroking");
    let found = read(slip.as_bytes(), "j");
    assert!(matches!(&found.problems[0].trouble, Trouble::CutShort));
    let found = read(format!("{slip}\n").as_bytes(), "j");
    let Trouble::Unreadable(why) = &found.problems[0].trouble else {
        panic!("{:?}", found.problems);
    };
    assert!(why.contains("Wroking"), "{why}");
    assert_eq!(found.unused, []);
    let news = bare().replace("event:Set(", "event:Stretch(");
    let found = read(format!("{news}\n").as_bytes(), "j");
    assert_eq!(troubles(&found), [(0, &Trouble::Unknown)]);
    assert_eq!(found.unused.len(), 1);
}

/// The line of an opening without its session would be read with one: the writer says so.
#[test]
fn an_event_that_would_read_back_changed_is_not_written() {
    let of = r#"program:"p",phase:1,phase_name:"",week:1,weeks:1,day:1,day_name:"",place:"h""#;
    let at = "2026-11-19T18:22:05.123+01:00";
    let text = format!("(v:1,id:\"a-1\",n:1,at:\"{at}\",event:Opened({of},items:[]))\n");
    let mut opened = read(text.as_bytes(), "j").entries[0].stamped.clone();
    assert!(write_line(&opened).is_ok());
    opened.session = None;
    let lossy = Unwritable::Lossy("a value changes".to_owned());
    assert_eq!(write_line(&opened), Err(lossy));
}

#[test]
fn a_problem_shows_the_line_that_it_is_about_where_there_is_one() {
    let found = read(b"scrap\n\0\0\n", "j");
    let excerpt = |k: usize| found.problems[k].diagnostic().excerpt;
    assert_eq!((excerpt(0), excerpt(1)), (Some("scrap".to_owned()), None));
}

/// Numbers that people write in other ways mean the same to both readers of lines.
#[test]
fn numbers_written_otherwise_mean_the_same_to_both_readers() {
    let spellings = [
        "007",
        "00",
        "0",
        "+7",
        "-7",
        "0x10",
        "1_000",
        "7.",
        ".5",
        "00.5",
        "0.50",
        "1e1",
        "0.5e0",
        "7.0",
        "None",
        "Some(1)",
        "Some(0.5)",
        "",
        "inf",
        "NaN",
        "99999999999999999999",
    ];
    for spelt in spellings {
        for field in ["n:412", "spare:2", "item:1"] {
            let (name, _) = field.split_once(':').unwrap();
            let line = bare().replacen(field, &format!("{name}:{spelt}"), 1);
            alike_with_a_blank(line.as_bytes());
        }
        let odds = bare().replace("spare:2", &format!("spare:2,odds:{spelt}"));
        alike_with_a_blank(odds.as_bytes());
    }
}

fn merged(others: &[String]) -> (String, Vec<Problem>) {
    let other = |(k, text): (usize, &String)| Other {
        path: format!("o{k}"),
        bytes: text.clone().into_bytes(),
    };
    let others: Vec<Other> = others.iter().enumerate().map(other).collect();
    let found = merge(Vec::new(), &others);
    (String::from_utf8(found.lines).unwrap(), found.problems)
}

#[test]
fn a_merge_puts_lines_in_the_order_of_their_events_and_tells_what_is_wrong_with_the_files() {
    let (early, late) = (line("z-1", 1, "first"), line("a-1", 2, "second"));
    let (lines, problems) = merged(&[format!("{late}\nscrap\n"), early.clone()]);
    assert_eq!(lines, format!("{early}\n{late}\n"));
    assert_eq!((problems.len(), problems[0].path.as_str()), (1, "o0"));
}

#[test]
fn two_files_that_tell_one_event_differently_are_told_whatever_their_order() {
    let (one, two) = (line("a-1", 1, "one"), line("a-1", 1, "two"));
    let both = [merged(&[one.clone(), two.clone()]), merged(&[two, one])];
    for (_, problems) in &both {
        assert_eq!(problems.len(), 1);
        assert!(matches!(problems[0].trouble, Trouble::SameId { .. }));
    }
    assert_eq!(both[0].0, both[1].0, "and the same one is taken");
    assert_eq!(both[0].0.lines().count(), 1);
}

#[test]
fn of_an_event_that_nobody_here_knows_the_same_bytes_are_taken_whatever_the_order() {
    let newer = |text: &str| format!("(v:9,id:\"a-1\",n:1,dreamt:{text})");
    let (one, two) = (newer("1"), newer("2"));
    for others in [[one.clone(), two.clone()], [two, one.clone()]] {
        assert_eq!(merged(&others).0, format!("{one}\n"));
    }
}

/// Byte for byte, wherever in a line an event stands and whatever blanks are around it.
#[test]
fn what_is_salvaged_of_a_line_is_every_event_as_it_stands_there() {
    let (a, b) = (line("a-1", 1, "x"), line("a-2", 2, "y"));
    let by_hand = b.split_once(" // crc ").unwrap().0;
    let wanted = format!("{a}\n{by_hand}\n");
    for text in [
        format!("{a}{by_hand}"),
        format!("{a}  {by_hand}  "),
        format!("junk {a} {by_hand}"),
        format!("junk {a}\t \t{by_hand} \n"),
    ] {
        let saved = salvage(text.as_bytes());
        assert_eq!(String::from_utf8(saved.bytes).unwrap(), wanted, "{text:?}");
        let read = read(text.as_bytes(), "j");
        let last = read.entries.last().unwrap();
        let bytes = text.get(last.offset..last.offset + last.length);
        assert_eq!(bytes, Some(by_hand), "{text:?}");
    }
}

#[test]
fn nothing_is_written_without_a_minus() {
    let with = |load: &str| {
        let read = read(bare().replace("22.5 kg", load).as_bytes(), "j");
        let line = write_line(&read.entries[0].stamped).unwrap();
        line.split("load:\"")
            .nth(1)
            .unwrap()
            .split('"')
            .next()
            .unwrap()
            .to_owned()
    };
    for (load, written) in [
        ("0 kg", "0 kg"),
        ("-0 kg", "0 kg"),
        ("body +0 kg", "body"),
        ("body -0 lb", "body +0 lb"),
        ("body -1 lb", "body -1 lb"),
        ("-5 kg", "-5 kg"),
    ] {
        assert_eq!(with(load), written, "{load}");
    }
}

#[test]
fn what_an_editor_left_is_no_fault() {
    let text = format!(
        "\u{feff}scrap\r\n{}\r\n<<<<<<< mine\r\n",
        line("a-1", 1, "x")
    );
    let record = union(vec![read(text.as_bytes(), "j")]);
    assert_eq!((record.problems.len(), record.faults()), (4, 2));
}
