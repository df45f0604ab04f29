//! Each piece of a file told in its place, in these words: what is read, what is wrong with the
//! rest, and what files from elsewhere add.

use super::lines::BY_HAND;
use super::order::by_hand;
use rackside::domain::session::{Event, EventId, Stamped};
use rackside::domain::units::{Civil, Load, Unit};
use rackside::formats::journal::{
    Change, Check, HIGHEST, LONGEST, Merged, Other, Problem, Read, Reader, Seal, Trouble, check,
    load_like, merge, read, reseal, salvage, union, write_line,
};

fn id(k: u64) -> EventId {
    EventId(format!("d-r-{k}"))
}

fn note(k: u64, text: &str) -> Stamped {
    Stamped {
        id: id(k),
        n: k,
        session: None,
        at: Civil::parse("2026-11-19T18:22:05.123+01:00").unwrap(),
        event: Event::Note {
            text: text.to_owned(),
        },
    }
}

fn sealed(k: u64) -> String {
    write_line(&note(k, "x")).unwrap()
}

fn bare(k: u64) -> String {
    let line = sealed(k);
    line.split_once(" //").unwrap().0.to_owned()
}

/// Line, byte, trouble and excerpt of each problem.
fn told(read: &Read) -> Vec<(usize, usize, Trouble, &str)> {
    let problems = read.problems.iter();
    let told = problems.map(|p| (p.line, p.offset, p.trouble.clone(), p.excerpt.as_str()));
    told.collect()
}

/// Id, seal, line, byte and length of each event.
fn places(read: &Read) -> Vec<(EventId, Seal, usize, usize, usize)> {
    let entries = read.entries.iter();
    let places = entries.map(|e| (e.stamped.id.clone(), e.seal, e.line, e.offset, e.length));
    places.collect()
}

#[test]
fn events_and_all_between_them_are_told_with_their_places() {
    let (a, b, c) = (sealed(1), sealed(2), bare(3));
    let text = format!("\u{feff}{a}\r\n\0\0  {b} junk\n\n{a}x{c}\n{c} \0\0\0\n=======\r\n{{");
    let found = read(text.as_bytes(), "j");
    let (two, four) = (3 + a.len() + 2, 3 + a.len() + 2 + 4 + b.len() + 6 + 1);
    let five = four + a.len() + 1 + c.len() + 1;
    let six = five + c.len() + 5;
    let places_expected = [
        (id(1), Seal::Right, 1, 3, a.len()),
        (id(2), Seal::Right, 2, two + 4, b.len()),
        (id(1), Seal::Right, 4, four, a.len()),
        (id(3), Seal::Absent, 5, five, c.len()),
    ];
    assert_eq!(places(&found), places_expected);
    let litter = format!("x{c}");
    let shown: String = litter.chars().take(80).collect();
    let expected = [
        (1, 0, Trouble::ByteOrderMark, ""),
        (1, 3, Trouble::CarriageReturns, ""),
        (2, two, Trouble::Zeros(2), ""),
        (2, two + 4 + b.len() + 1, Trouble::Litter, "junk"),
        (4, four + a.len(), Trouble::Litter, shown.as_str()),
        (5, five, Trouble::Zeros(3), ""),
        (6, six, Trouble::MergeMark, "======="),
        (7, six + 9, Trouble::CutShort, "{"),
    ];
    assert_eq!(told(&found), expected);
    assert_eq!(found.highest_n, 3);
}

#[test]
fn an_event_behind_litter_is_used_and_one_without_its_end_is_not() {
    let (a, b) = (sealed(1), sealed(2));
    let found = read(format!("(v:1 lost{a}{b}").as_bytes(), "j");
    let (first, second) = (9, 9 + a.len());
    let expected = [
        (id(1), Seal::Right, 1, first, a.len()),
        (id(2), Seal::Right, 1, second, b.len()),
    ];
    assert_eq!(places(&found), expected);
    let [(1, 0, Trouble::Unreadable(_), "(v:1 lost")] = told(&found).as_slice() else {
        panic!("{:?}", told(&found));
    };
    let cut = &b[..20];
    let found = read(format!("{a}{cut}").as_bytes(), "j");
    assert_eq!(told(&found), [(1, a.len(), Trouble::CutShort, cut)]);
    let found = read(format!("{a}{cut}\n").as_bytes(), "j");
    let problems = told(&found);
    let [(1, place, Trouble::Unreadable(_), shown)] = problems.as_slice() else {
        panic!("{problems:?}");
    };
    assert_eq!((*place, *shown), (a.len(), cut));
}

#[test]
fn a_wrong_checksum_is_told_and_what_it_leads_is_not() {
    let (a, set) = (sealed(7), BY_HAND.replace("22.5 kg", "92.5 kg"));
    let changed = a.replace("\"x\"", "\"y\"");
    let newer = a.replace("v:1", "v:2");
    let text = format!("{changed}\n{set}\n{newer}\n{} extra)\n", bare(8));
    let found = read(text.as_bytes(), "j");
    let unused = |k: usize| (found.unused[k].id.clone(), found.unused[k].damaged);
    assert_eq!(found.unused.len(), 2);
    assert_eq!(
        (unused(0), unused(1)),
        ((Some(id(7)), true), (Some(id(7)), true))
    );
    let first = &found.unused[0];
    assert_eq!(
        (first.line, first.offset, first.length),
        (1, 0, changed.len())
    );
    let set_id = EventId("k3f9qa-8a1c2d-0004".to_owned());
    let length = set.len();
    let place = (set_id.clone(), Seal::Wrong, 2, changed.len() + 1, length);
    assert_eq!(places(&found), [place]);
    let troubles: Vec<&Trouble> = found.problems.iter().map(|p| &p.trouble).collect();
    assert_eq!(troubles[0], &Trouble::DamagedEvent(id(7)));
    assert_eq!(troubles[1], &Trouble::DamagedSet(set_id));
    assert_eq!(
        troubles[2],
        &Trouble::Unreadable("its checksum is wrong".to_owned())
    );
    assert!(
        matches!(troubles[3], Trouble::Unreadable(_)),
        "{troubles:?}"
    );
    assert_eq!((found.highest_n, troubles.len()), (0, 4));
}

#[test]
fn what_is_newer_or_not_known_counts_its_number_and_is_kept() {
    let newer = bare(5).replace("v:1", "v:2");
    let unknown = bare(6).replace("Note(", "Sang(");
    let beyond = bare(7)
        .replace("Note(", "Sang(")
        .replace("n:7", &format!("n:{}", HIGHEST + 1));
    let text = format!("{newer}\n{unknown}\n{beyond}\n");
    let found = read(text.as_bytes(), "j");
    let ids: Vec<_> = found
        .unused
        .iter()
        .map(|u| (u.id.clone(), u.damaged))
        .collect();
    let of = |k| (Some(id(k)), false);
    assert_eq!(ids, [of(5), of(6), of(7)]);
    let troubles: Vec<&Trouble> = found.problems.iter().map(|p| &p.trouble).collect();
    assert_eq!(
        troubles,
        [&Trouble::Newer, &Trouble::Unknown, &Trouble::Unknown]
    );
    assert_eq!(
        found.highest_n, 6,
        "a number beyond all counting leads nothing"
    );
    let last = bare(7).replace("n:7", &format!("n:{HIGHEST}"));
    assert_eq!(read(last.as_bytes(), "j").highest_n, HIGHEST);
    let beyond = bare(7).replace("n:7", &format!("n:{}", HIGHEST + 1));
    let why = format!("n is {}, more than any journal counts", HIGHEST + 1);
    let found = read(format!("{beyond}\n").as_bytes(), "j");
    assert_eq!(found.problems[0].trouble, Trouble::Unreadable(why));
}

#[test]
fn a_thousand_problems_are_listed_and_the_rest_counted() {
    let found = read("x\n".repeat(1000).as_bytes(), "j");
    assert_eq!(
        (found.problems.len(), found.problems[999].line),
        (1000, 1000)
    );
    let found = read("x\n".repeat(1003).as_bytes(), "j");
    let last = &found.problems[1000];
    assert_eq!(
        (found.problems.len(), last.line, last.offset),
        (1001, 1000, 1998)
    );
    assert_eq!(
        (&last.trouble, last.excerpt.as_str()),
        (&Trouble::More(3), "")
    );
    let long = read("y".repeat(500).as_bytes(), "j");
    assert_eq!(long.problems[0].excerpt, "y".repeat(80));
}

#[test]
fn the_longest_line_is_read_and_one_byte_more_is_not() {
    let value = bare(1);
    let with_comment =
        |length: usize| format!("{value} //{}", "c".repeat(length - value.len() - 3));
    let found = read(with_comment(LONGEST).as_bytes(), "j");
    assert_eq!((found.entries.len(), found.problems.len()), (1, 0));
    for longer in [LONGEST + 1, LONGEST + 100] {
        let text = format!("{}\n{}\n", with_comment(longer), sealed(2));
        let found = read(text.as_bytes(), "j");
        let shown = &text[..80];
        assert_eq!(told(&found), [(1, 0, Trouble::TooLong(longer), shown)]);
        let length = sealed(2).len();
        assert_eq!(
            places(&found),
            [(id(2), Seal::Right, 2, longer + 1, length)]
        );
    }
    // The end of the line comes with another chunk.
    let mut reader = Reader::new("j");
    for chunk in [with_comment(LONGEST + 100).as_str(), "c", "\n", &sealed(2)] {
        reader.feed(chunk.as_bytes());
    }
    let told_then = reader.finish().problems[0].trouble.clone();
    assert_eq!(told_then, Trouble::TooLong(LONGEST + 101));
    let fits = LONGEST - write_line(&note(1, "")).unwrap().len();
    assert_eq!(
        write_line(&note(1, &"t".repeat(fits))).unwrap().len(),
        LONGEST
    );
    let refused = write_line(&note(1, &"t".repeat(fits + 1))).unwrap_err();
    assert_eq!(
        refused.to_string(),
        "it is too long for a line of the journal"
    );
}

#[test]
fn an_id_is_short_and_plain() {
    let fine = |name: &str| {
        let found = read(bare(1).replace("d-r-1", name).as_bytes(), "j");
        (found.entries.len(), found.problems.len()) == (1, 0)
    };
    assert!(fine("a") && fine("A-_9") && fine(&"a".repeat(100)));
    assert!(!fine("") && !fine(&"a".repeat(101)) && !fine("a b") && !fine("a.b") && !fine("ä"));
    let foreign = Stamped {
        id: EventId("a b".to_owned()),
        ..note(1, "x")
    };
    let why = "it would not read back as it is: an id has 1 to 100 letters, digits and hyphens";
    assert_eq!(write_line(&foreign).unwrap_err().to_string(), why);
}

/// What a load is written as, or why it is none.
fn written(load: &str) -> Result<String, String> {
    let line = BY_HAND
        .split_once(" //")
        .unwrap()
        .0
        .replace("22.5 kg", load);
    let found = read(format!("{line}\n").as_bytes(), "j");
    match (found.entries.first(), found.problems.first()) {
        (Some(entry), _) => {
            let line = write_line(&entry.stamped).unwrap();
            let (_, behind) = line.split_once("load:\"").unwrap();
            Ok(behind.split_once('"').unwrap().0.to_owned())
        }
        (None, Some(problem)) => match &problem.trouble {
            Trouble::Unreadable(why) => Err(why.clone()),
            other => Err(format!("{other:?}")),
        },
        (None, None) => Err("nothing".to_owned()),
    }
}

#[test]
fn loads_are_read_as_people_write_them_and_written_one_way() {
    for (read, wanted) in [
        ("22.5 kg", "22.5 kg"),
        ("24kg", "24 kg"),
        (" 50 lb ", "50 lb"),
        ("-5 kg", "-5 kg"),
        ("0.25 kg", "0.25 kg"),
        ("20 kg in lb", "20 kg in lb"),
        ("body", "body"),
        ("body +10 kg", "body +10 kg"),
        ("body + 10 kg", "body +10 kg"),
        ("body -15 kg", "body -15 kg"),
        ("body - 15 kg", "body -15 kg"),
        ("band 3", "band 3"),
        ("band 255", "band 255"),
    ] {
        assert_eq!(written(read).as_deref(), Ok(wanted), "{read}");
    }
    for (read, why) in [
        ("band 256", "is not a band: write band 1 to band 255"),
        ("5", "is not a mass: write its unit, as in 22.5 kg"),
        ("five kg", "\"five kg\" is not a mass"),
        ("body 5", "is not a mass: write its unit"),
    ] {
        let said = written(read).unwrap_err();
        assert!(said.replace('\\', "").contains(why), "{read}: {said}");
    }
}

#[test]
fn a_note_that_looks_like_a_checksum_hides_none() {
    let stamped = note(1, "(so) // crc 00000000 and (so) // crc 11111111");
    let line = write_line(&stamped).unwrap();
    let found = read(line.as_bytes(), "j");
    assert_eq!(places(&found), [(id(1), Seal::Right, 1, 0, line.len())]);
    assert_eq!(
        (&found.entries[0].stamped, told(&found)),
        (&stamped, vec![])
    );
}

#[test]
fn effort_goes_up_to_ten() {
    let read = |effort: u8| {
        read(
            by_hand(1, &format!("Closed(effort:{effort})")).as_bytes(),
            "j",
        )
    };
    assert_eq!((read(10).entries.len(), read(11).entries.len()), (1, 0));
}

#[test]
fn a_bare_number_is_in_the_other_loads_unit() {
    let parse = |text: &str| load_like(text, Load::body(Unit::Kg)).unwrap();
    let (kg, lb) = (parse("20 kg"), parse("45 lb"));
    assert_eq!(load_like("22.5", kg), Ok(parse("22.5 kg")));
    assert_eq!(load_like("22,5", lb), Ok(parse("22.5 lb")));
    assert_eq!(load_like(" 40 ", lb), Ok(parse("40 lb")));
    assert_eq!(load_like("40 kg", lb), Ok(parse("40 kg")));
    assert!(load_like("40", Load::body(Unit::Kg)).is_err());
}

#[test]
fn times_and_tempos_that_are_none_are_told_with_what_is_wanted() {
    let why = |line: String| match &read(format!("{line}\n").as_bytes(), "j").problems[..] {
        [one] => one.diagnostic().message.replace('\\', ""),
        other => panic!("{other:?}"),
    };
    let late = why(bare(1).replace("2026-11-19T18:22:05.123+01:00", "yesterday"));
    let wanted = "\"yesterday\" is not a time: write it as in 2026-11-19T18:22:05.123+01:00";
    assert!(late.contains(wanted), "{late}");
    let adopted = "Adopted(program:\"p\",from:\"soon\",phase:1)";
    let date = why(by_hand(1, adopted));
    assert!(
        date.contains("\"soon\" is not a date: write it as in 2026-11-19"),
        "{date}"
    );
    let opened = |tempo: &str| {
        by_hand(
            1,
            &format!(
                "Opened(program:\"p\",phase:1,phase_name:\"\",week:1,weeks:1,day:1,day_name:\"\",\
             place:\"home\",items:[(slot:\"\",exercise:\"row\",sets:[],ask:Reps(min:1,max:2),\
             rest:(opens_s:1,closes_s:2),tempo:\"{tempo}\",policy:TwoForTwo,reason:\"\")])"
            ),
        )
    };
    for (tempo, wanted) in [
        ("3-1-X-0", "3-1-X-0"),
        ("2-0-x-1", "2-0-X-1"),
        ("3-1-2-0", "3-1-2-0"),
    ] {
        let found = read(opened(tempo).as_bytes(), "j");
        let line = write_line(&found.entries[0].stamped).unwrap();
        assert!(line.contains(&format!("tempo:\"{wanted}\"")), "{line}");
    }
    for tempo in ["3-1-X", "3-1-X-0-0", "a-1-X-0", "3-1-y-0", ""] {
        let told = why(opened(tempo));
        assert!(
            told.contains("is not a tempo: write four parts, as in 3-1-X-0"),
            "{told}"
        );
    }
}

#[test]
fn findings_stand_in_order_of_check_and_place() {
    let set = BY_HAND.split_once(" //").unwrap().0;
    let second = set.replace("0004", "0005");
    let alone = set
        .replace("0004", "0006")
        .replace("session:\"k3f9qa-8a1c2d-0000\",", "");
    let void = by_hand(9, "Voided(event:\"x-y-1\")");
    let b = format!("{set}\n{second}\n{alone}\n{void}\nrubbish\n");
    let a = format!("{set}\r\n{}\n", sealed(1).replace("\"x\"", "\"y\""));
    let files = || {
        vec![
            read(b.as_bytes(), "b copy.ron"),
            read(a.as_bytes(), "dir x/a-1.ron"),
        ]
    };
    let others = vec![Problem::not_plain("a pipe.ron")];
    let found = check(files(), others, &Check::ALL);
    let shown: Vec<(Check, String, Option<usize>, String)> = found
        .into_iter()
        .map(|f| {
            let d = f.diagnostic;
            (f.check, d.path, d.span.map(|s| s.line), d.message)
        })
        .collect();
    let of =
        |check, path: &str, line, message: &str| (check, path.to_owned(), line, message.to_owned());
    let expected = [
        of(
            Check::Lines,
            "a pipe.ron",
            Some(1),
            "this is no plain file, and is not read (byte 0)",
        ),
        of(Check::Lines, "b copy.ron", Some(5), &shown[1].3),
        of(
            Check::Checksums,
            "dir x/a-1.ron",
            Some(2),
            &format!(
                "the checksum of d-r-1 is wrong: the line changed since it was written (byte {})",
                set.len() + 2
            ),
        ),
        of(
            Check::Targets,
            "b copy.ron",
            Some(4),
            "a-b-0009 acts on x-y-1, which is in no file",
        ),
        of(
            Check::Sessions,
            "b copy.ron",
            Some(1),
            "nothing in any file opened session k3f9qa-8a1c2d-0000",
        ),
        of(
            Check::Sessions,
            "b copy.ron",
            Some(3),
            "set k3f9qa-8a1c2d-0006 belongs to no session",
        ),
        of(
            Check::Copies,
            "b copy.ron",
            None,
            "something else made this file: it may be a copy",
        ),
        of(Check::Habits, "dir x/a-1.ron", Some(1), &shown[7].3),
    ];
    assert_eq!(shown, expected);
    let only = check(files(), vec![], &[Check::Habits]);
    assert_eq!(only.len(), 1);
}

#[test]
fn the_highest_number_of_all_files_counts_and_harmless_problems_are_no_faults() {
    let a = format!("{}\r\n", sealed(4));
    let b = format!("{}\nrubbish\n", sealed(9));
    let record = union(vec![read(b.as_bytes(), "b"), read(a.as_bytes(), "a")]);
    assert_eq!(
        (record.highest_n, record.problems.len(), record.faults()),
        (9, 2, 1)
    );
}

fn merged(journal: &str, others: &[&str]) -> Merged {
    let other = |(k, text): (usize, &&str)| Other {
        path: format!("{k}"),
        bytes: text.as_bytes().to_vec(),
    };
    let others: Vec<Other> = others.iter().enumerate().map(other).collect();
    merge(vec![read(journal.as_bytes(), "j")], &others)
}

#[test]
fn a_merge_adds_lines_byte_for_byte_in_order_and_none_twice() {
    let (a, b, c) = (sealed(1), sealed(2), sealed(3));
    let newer = sealed(4).replace("v:1", "v:2");
    let newer = newer.split_once(" //").unwrap().0;
    let other = format!("{c}\n{a}\n{b}\n{newer}\n");
    let found = merged(&format!("{a}\n"), &[&other, &other]);
    let lines = format!("{b}\n{c}\n{newer}\n");
    assert_eq!(String::from_utf8(found.lines).unwrap(), lines);
    assert_eq!((found.events, found.unused), (2, 1));
    let known = format!("{a}\n{lines}");
    let again = merged(&known, &[&other]);
    assert_eq!((again.lines.len(), again.events, again.unused), (0, 0, 0));
}

#[test]
fn a_merge_takes_what_is_better_than_the_journals_own_and_tells_of_the_other() {
    let set = BY_HAND;
    let wrong = set.replace("crc a23241f6", "crc 00000000");
    let better = merged(&format!("{wrong}\n"), &[set]);
    assert_eq!(String::from_utf8(better.lines).unwrap(), format!("{set}\n"));
    let worse = merged(&format!("{set}\n"), &[&wrong]);
    assert_eq!((worse.lines.len(), worse.events), (0, 0));
    // Without a checksum it is as good, and nothing new.
    let bare = set.split_once(" //").unwrap().0;
    assert_eq!(merged(&format!("{bare}\n"), &[set]).events, 0);
    assert_eq!(merged(&format!("{set}\n"), &[bare]).events, 0);
    // Written in two ways elsewhere, the bytes that sort first are taken, whatever the order.
    let spaced = bare.replace("n:412", "n: 412");
    let (one, two) = (merged("", &[bare, &spaced]), merged("", &[&spaced, bare]));
    assert_eq!((&one.lines, one.events), (&two.lines, 1));
    assert_eq!(String::from_utf8(one.lines).unwrap(), format!("{spaced}\n"));
    // Another content of the same id is told, and the more trusted one is used.
    let other = bare.replace("22.5 kg", "25 kg");
    let told = merged(&format!("{set}\n"), &[&other]);
    assert_eq!((told.events, told.problems.len()), (0, 1));
    assert!(matches!(told.problems[0].trouble, Trouble::SameId { .. }));
}

#[test]
fn salvage_and_reseal_say_line_by_line_what_differs() {
    let (a, b, bare) = (sealed(1), sealed(2), bare(3));
    let wrong = a.replace("\"x\"", "\"y\"");
    let file = format!("{a}\n\nrubbish\n{a}{b}\n{wrong}\n{bare}");
    let saved = salvage(file.as_bytes());
    let change = |line, before: &str, after: &[&str]| Change {
        line,
        before: before.to_owned(),
        after: after.iter().map(|line| (*line).to_owned()).collect(),
    };
    let both = format!("{a}{b}");
    let expected = [change(3, "rubbish", &[]), change(4, &both, &[&a, &b])];
    assert_eq!(saved.changes, expected);
    let text = format!("{a}\n{a}\n{b}\n{wrong}\n{bare}\n");
    assert_eq!(String::from_utf8(saved.bytes).unwrap(), text);
    let anew = reseal(file.as_bytes());
    let right = write_line(&note(1, "y")).unwrap();
    let expected = [
        change(5, &wrong, &[&right]),
        change(6, &bare, &[&sealed(3)]),
    ];
    assert_eq!(anew.changes, expected);
    let text = format!("{a}\n\nrubbish\n{a}{b}\n{right}\n{}\n", sealed(3));
    assert_eq!(String::from_utf8(anew.bytes).unwrap(), text);
    // An event behind a damaged one, in its line, is not drawn into its comment.
    let glued = format!("{wrong}{b}");
    assert_eq!(reseal(glued.as_bytes()).changes, []);
}
