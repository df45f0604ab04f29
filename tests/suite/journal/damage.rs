//! Damage: a journal cut, flipped, glued, garbled. Every undamaged line is used.

use crate::rig::events;
use proptest::prelude::*;
use proptest::strategy::ValueTree;
use proptest::test_runner::TestRunner;
use rackside::domain::session::{EventId, Stamped};
use rackside::formats::journal::{LONGEST, Read, Reader, Seal, Trouble, read, write_line};
use std::collections::BTreeSet;

/// Always the same events, so that a failure can be looked at.
fn sample(count: usize) -> Vec<Stamped> {
    let mut runner = TestRunner::deterministic();
    let strategy = events::stamped();
    let mut one = || strategy.new_tree(&mut runner).unwrap().current();
    let mut events: Vec<Stamped> = (0..count).map(|_| one()).collect();
    for (k, event) in events.iter_mut().enumerate() {
        event.id = EventId(format!("k3f9qa-8a1c2d-{k:04}"));
        event.n = k as u64;
        event.session = Some(EventId("k3f9qa-8a1c2d-0000".to_owned()));
    }
    events
}

fn lines(events: &[Stamped]) -> Vec<String> {
    events.iter().map(|e| write_line(e).unwrap()).collect()
}

fn file(events: &[Stamped]) -> String {
    lines(events)
        .iter()
        .map(|line| format!("{line}\n"))
        .collect()
}

/// The events that are used: undamaged.
fn used(read: &Read) -> Vec<&Stamped> {
    let sound = read.entries.iter().filter(|e| e.seal != Seal::Wrong);
    sound.map(|e| &e.stamped).collect()
}

/// Asks that every one of `sound` is used as it was, and nothing is used that never was.
#[track_caller]
fn check(bytes: &[u8], sound: &[&Stamped], all: &[Stamped]) -> Read {
    let read = read(bytes, "j");
    let used = used(&read);
    for event in sound {
        assert!(
            used.contains(event),
            "lost {:?}: {:?}",
            event.id,
            read.problems
        );
    }
    for event in used {
        assert!(all.contains(event), "made up {event:?}");
    }
    read
}

#[test]
fn cut_at_every_byte_only_the_cut_line_is_missing() {
    let events = sample(12);
    let text = file(&events);
    let mut ends = Vec::new();
    for line in text.split_inclusive('\n') {
        ends.push(ends.last().unwrap_or(&0) + line.len());
    }
    for cut in 0..=text.len() {
        let whole = ends.iter().filter(|end| **end <= cut).count();
        let sound: Vec<&Stamped> = events[..whole].iter().collect();
        check(&text.as_bytes()[..cut], &sound, &events);
    }
}

#[test]
fn cut_at_every_byte_the_next_line_stands_on_its_own() {
    let events = sample(4);
    let text = file(&events[..3]);
    let next = write_line(&events[3]).unwrap();
    for cut in 0..text.len() {
        let mut bytes = text.as_bytes()[..cut].to_vec();
        // What an append does after a tail without an end.
        if !bytes.is_empty() && !bytes.ends_with(b"\n") {
            bytes.push(b'\n');
        }
        bytes.extend(format!("{next}\n").bytes());
        check(&bytes, &[&events[3]], &events);
    }
}

/// Lines are framed by line feeds alone, so the line hit and its neighbours stand for the file.
#[test]
fn each_bit_of_the_last_4_kib_flipped_loses_no_other_line() {
    let events = sample(24);
    let lines: Vec<String> = lines(&events).iter().map(|l| format!("{l}\n")).collect();
    let mut left = 4096;
    for hit in (0..events.len()).rev() {
        let near = hit.saturating_sub(1)..(hit + 2).min(events.len());
        let others: Vec<&Stamped> = near
            .clone()
            .filter(|k| *k != hit)
            .map(|k| &events[k])
            .collect();
        let mut bytes = lines[near.clone()].concat().into_bytes();
        let start: usize = lines[near.start..hit].iter().map(String::len).sum();
        for at in (start..start + lines[hit].len()).rev().take(left) {
            for bit in 0..8 {
                bytes[at] ^= 1 << bit;
                check(&bytes, &others, &events);
                bytes[at] ^= 1 << bit;
            }
        }
        left = left.saturating_sub(lines[hit].len());
    }
    assert_eq!(left, 0, "the sample is longer than 4 KiB");
}

#[test]
fn a_lost_line_feed_costs_no_event() {
    let events = sample(6);
    let glued = lines(&events).concat();
    let all: Vec<&Stamped> = events.iter().collect();
    check(glued.as_bytes(), &all, &events);
    let with_litter = format!("\0\0x{}", lines(&events).join("(v:0,id:"));
    let read = check(with_litter.as_bytes(), &all, &events);
    assert!(!read.problems.is_empty());
}

#[test]
fn editors_and_merges_leave_marks_and_no_harm() {
    let events = sample(3);
    let all: Vec<&Stamped> = events.iter().collect();
    let [a, b, c] = <[String; 3]>::try_from(lines(&events)).unwrap();
    let crlf = format!("\u{feff}{a}\r\n\r\n{b}  \r\n{c}");
    let read = check(crlf.as_bytes(), &all, &events);
    let troubles: Vec<&Trouble> = read.problems.iter().map(|p| &p.trouble).collect();
    assert_eq!(
        troubles,
        [&Trouble::ByteOrderMark, &Trouble::CarriageReturns]
    );
    assert!(read.problems.iter().all(|p| p.is_harmless()));

    let merged = format!("<<<<<<< ours\n{a}\n=======\n{b}\n>>>>>>> theirs\n\n{c}\n");
    let read = check(merged.as_bytes(), &all, &events);
    let marks = read
        .problems
        .iter()
        .filter(|p| p.trouble == Trouble::MergeMark);
    let places: Vec<usize> = marks.map(|p| p.line).collect();
    assert_eq!(places, [1, 3, 5]);
}

#[test]
fn zeros_anywhere_are_told_and_passed_over() {
    let events = sample(3);
    let all: Vec<&Stamped> = events.iter().collect();
    let [a, b, c] = <[String; 3]>::try_from(lines(&events)).unwrap();
    let zeros = "\0".repeat(4096);
    let text = format!("{zeros}{a}\n{zeros}\n{b}{zeros}\n{c}\n{zeros}");
    let read = check(text.as_bytes(), &all, &events);
    let told = read
        .problems
        .iter()
        .filter(|p| p.trouble == Trouble::Zeros(4096));
    assert_eq!(told.count(), 4, "{:?}", read.problems);
}

#[test]
fn a_gigantic_line_is_passed_over() {
    let events = sample(2);
    let [a, b] = <[String; 2]>::try_from(lines(&events)).unwrap();
    let text = format!("{a}\n{}\n{b}\n", "(".repeat(LONGEST + 1));
    let read = check(text.as_bytes(), &[&events[0], &events[1]], &events);
    assert_eq!(read.problems[0].trouble, Trouble::TooLong(LONGEST + 1));
}

/// Lines made to cost as much as they can: the longest there are, of whatever is looked for.
#[test]
fn hostile_lines_cost_no_more_than_their_bytes() {
    let fill = |piece: &str| piece.repeat(LONGEST / piece.len());
    for piece in [
        "(v:",
        "(",
        ")",
        ") // crc 00000000",
        "(v:0) // crc 6a09e667",
        "[",
        "/*",
        "\"",
        "Some(",
    ] {
        let text = fill(piece);
        let read = read(text.as_bytes(), "j");
        assert_eq!(read.entries, []);
        assert!(!read.problems.is_empty());
    }
    let many = fill("x\n");
    let read = read(many.as_bytes(), "j");
    assert!(read.problems.len() <= 1001, "{}", read.problems.len());
}

#[test]
fn zeros_longer_than_any_line_hide_no_event() {
    let events = sample(3);
    let all: Vec<&Stamped> = events.iter().collect();
    let [a, b, c] = <[String; 3]>::try_from(lines(&events)).unwrap();
    let zeros = "\0".repeat(2 * LONGEST);
    check(
        format!("{zeros}{a}\n{b}{zeros}\n{c}").as_bytes(),
        &all,
        &events,
    );
}

proptest! {
    /// A file comes in chunks: where they are cut makes no difference.
    #[test]
    fn chunks_read_like_the_whole(
        cuts in prop::collection::vec(any::<prop::sample::Index>(), 0..12),
        hits in prop::collection::vec((any::<prop::sample::Index>(), any::<u8>()), 0..6),
    ) {
        let mut bytes = file(&sample(5)).into_bytes();
        for (at, byte) in hits {
            *at.get_mut(&mut bytes) = byte;
        }
        let mut cuts: Vec<usize> = cuts.iter().map(|cut| cut.index(bytes.len())).collect();
        cuts.sort_unstable();
        let mut reader = Reader::new("j");
        let mut from = 0;
        for cut in cuts {
            reader.feed(&bytes[from..cut]);
            from = cut;
        }
        reader.feed(&bytes[from..]);
        prop_assert_eq!(reader.finish(), read(&bytes, "j"));
    }

    /// Some bytes overwritten in one place: the lines that they do not touch are used.
    #[test]
    fn garbage_costs_the_lines_that_it_hits(
        at in any::<prop::sample::Index>(),
        garbage in prop_oneof![
            prop::collection::vec(Just(0_u8), 1..600),
            prop::collection::vec(Just(0xff_u8), 1..600),
            prop::collection::vec(any::<u8>(), 1..600),
        ],
    ) {
        let events = sample(8);
        let mut bytes = file(&events).into_bytes();
        let start = at.index(bytes.len());
        let end = (start + garbage.len()).min(bytes.len());
        let mut sound = BTreeSet::new();
        let mut offset = 0;
        for (k, line) in lines(&events).iter().enumerate() {
            let next = offset + line.len() + 1;
            if next <= start || offset >= end {
                sound.insert(k);
            }
            offset = next;
        }
        bytes.splice(start..end, garbage.into_iter().take(end - start));
        let sound: Vec<&Stamped> = sound.into_iter().map(|k| &events[k]).collect();
        check(&bytes, &sound, &events);
    }
}
