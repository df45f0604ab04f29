//! Any messy spreadsheet, imported and exported: every row that was taken is there again, and every
//! other row is named.

use chrono::NaiveDate;
use proptest::prelude::*;
use proptest::sample::select;
use rackside::domain::exercise::Catalogue;
use rackside::domain::history::History;
use rackside::domain::logbook::Logbook;
use rackside::domain::session::{Event, EventId, Stamped};
use rackside::domain::units::{Civil, Unit};
use rackside::formats::export::{self, Rows};
use rackside::formats::journal;
use rackside::formats::sheet::{self, Outcome, Sheet, Wish};
use std::sync::LazyLock;

static CATALOGUE: LazyLock<Catalogue> = LazyLock::new(crate::files::catalogue);

/// A set as an export tells it: date, exercise, load, reps or seconds, spare.
type Told = [String; 5];

/// A row as it is typed, and what it should become: nothing where something in it is wrong.
#[derive(Clone, Debug)]
struct Typed {
    /// Date, exercise, load, reps, spare, notes.
    cells: [String; 6],
    told: Option<Told>,
}

/// How a whole sheet is typed.
#[derive(Clone, Debug)]
struct Hand {
    separator: char,
    comma: bool,
    ends: &'static str,
    mark: bool,
    quotes: bool,
    order: Vec<usize>,
    date: &'static str,
}

const NAMES: [&str; 6] = ["date", "exercise", "load", "reps", "spare", "notes"];

/// Exercises, ways to write each, and whether it has a load or is held.
const EXERCISES: [(&str, [&str; 3], bool, bool); 5] = [
    (
        "goblet_squat",
        ["Goblet squat", "goblet_squat", " GOBLET  SQUATS "],
        true,
        false,
    ),
    (
        "dumbbell_bench_press",
        [
            "DB Bench Press",
            "Bench press, dumbbell",
            "dumbbell_bench_press",
        ],
        true,
        false,
    ),
    (
        "one_arm_row",
        ["One-arm row", "one arm row", "Row (one arm)"],
        true,
        false,
    ),
    ("push_up", ["Push-ups", "push up", "PUSH_UP"], false, false),
    ("plank", ["Plank", "planks", "plank"], false, true),
];

fn hand() -> impl Strategy<Value = Hand> {
    let order = Just((0..NAMES.len()).collect::<Vec<_>>()).prop_shuffle();
    let forms = [
        "%Y-%m-%d",
        "%d.%m.%Y",
        "%-d %b %Y",
        "%b %-d, %Y",
        "%Y/%m/%d",
        "%d-%b-%y",
    ];
    let signs = (
        select(vec![',', ';', '\t', '|']),
        any::<bool>(),
        any::<bool>(),
        any::<bool>(),
    );
    (
        signs,
        select(vec!["\n", "\r\n", "\r"]),
        order,
        select(forms.to_vec()),
    )
        .prop_map(
            |((separator, comma, mark, quotes), ends, order, date)| Hand {
                separator,
                comma,
                ends,
                mark,
                quotes,
                order,
                date,
            },
        )
}

/// A row whose every cell is right.
fn right(hand: Hand) -> impl Strategy<Value = Typed> {
    let unit = select(vec![
        (Unit::Kg, "kg"),
        (Unit::Kg, " KG"),
        (Unit::Lb, " lbs"),
        (Unit::Lb, "lb"),
    ]);
    let what = (select(EXERCISES.to_vec()), 0..3_usize, 0..400_i64);
    let much = (1..2000_u32, unit, 0..40_u32, prop::option::of(0..=9_u32));
    let notes = select(vec![
        "",
        "felt good",
        "two; or, \"more\"",
        "=1+1",
        "línea\nnueva",
        "'quoted'",
    ]);
    (what, much, notes).prop_map(
        move |((exercise, way, day), (quarters, unit, count, spare), note)| {
            let (id, ways, loaded, held) = exercise;
            let date =
                NaiveDate::from_ymd_opt(2023, 1, 1).expect("a day") + chrono::TimeDelta::days(day);
            let number = f64::from(quarters) / 4.0;
            let typed = number
                .to_string()
                .replace('.', if hand.comma { "," } else { "." });
            let (load, told_load) = match loaded {
                true => (format!("{typed}{}", unit.1), format!("{number} {}", unit.0)),
                false => (String::new(), "body".to_owned()),
            };
            let count = if held { count + 1 } else { count };
            let reps = if held {
                format!("{count} s")
            } else {
                count.to_string()
            };
            let spare = spare.map_or_else(String::new, |spare| spare.to_string());
            let cells = [
                date.format(hand.date).to_string(),
                ways[way].to_owned(),
                load,
                reps,
                spare.clone(),
                note.to_owned(),
            ];
            let told = [
                date.to_string(),
                id.to_owned(),
                told_load,
                count.to_string(),
                spare,
            ];
            Typed {
                cells,
                told: Some(told),
            }
        },
    )
}

/// A right row in which one cell was spoilt.
fn row(hand: Hand) -> impl Strategy<Value = Typed> {
    let spoilt = select(vec![
        (0, "Total"),
        (0, "32.13.2024"),
        (0, "2999-01-01"),
        (1, "Squeaky thing"),
        (2, "heavy"),
        (2, "20+20 kg"),
        (3, "8-12"),
        (3, "many"),
        (3, "-3"),
        (4, "12"),
        (4, "some"),
    ]);
    (right(hand), prop::option::weighted(0.25, spoilt)).prop_map(|(mut typed, spoilt)| {
        if let Some((cell, text)) = spoilt {
            text.clone_into(&mut typed.cells[cell]);
            typed.told = None;
        }
        typed
    })
}

fn sheet() -> impl Strategy<Value = (Hand, Vec<Typed>)> {
    hand().prop_flat_map(|hand| {
        let rows = prop::collection::vec(row(hand.clone()), 1..25);
        (Just(hand), rows)
    })
}

/// The file, and the line that each row begins in.
fn typed(hand: &Hand, rows: &[Typed]) -> (String, Vec<u64>) {
    let quoted = |cell: &str| {
        let needed = cell.contains([hand.separator, '"', '\n', '\r']);
        match needed || hand.quotes {
            true => format!("\"{}\"", cell.replace('"', "\"\"")),
            false => cell.to_owned(),
        }
    };
    let line = |cells: &[String]| {
        let cells: Vec<String> = hand.order.iter().map(|k| quoted(&cells[*k])).collect();
        cells.join(&hand.separator.to_string()) + hand.ends
    };
    let mut text = if hand.mark {
        "\u{feff}".to_owned()
    } else {
        String::new()
    };
    text += &line(&NAMES.map(str::to_owned));
    let (mut places, mut place) = (Vec::new(), 2);
    for row in rows {
        places.push(place);
        place += 1 + row.cells[5].matches('\n').count() as u64;
        text += &line(&row.cells);
    }
    (text, places)
}

/// The sets of the exported table, as they are told.
fn exported(days: &Sheet) -> Vec<Told> {
    let at = Civil::parse("2026-11-19T18:22:05.123+01:00").expect("a time");
    let events = (1..).zip(&days.days).map(|(n, day)| Stamped {
        id: EventId(format!("dev1-run1-{n}")),
        n,
        session: None,
        at,
        event: Event::Imported(Box::new(day.clone())),
    });
    // Through the journal's own lines.
    let lines = events.map(|event| journal::write_line(&event).expect("a line") + "\n");
    let read = journal::read(lines.collect::<String>().as_bytes(), "sheet");
    assert_eq!(read.problems, []);
    let history = History::of(
        read.entries
            .into_iter()
            .map(|entry| entry.stamped)
            .collect(),
    );
    let logbook = Logbook::of(&history, &CATALOGUE, None);
    let ground = export::Ground {
        history: &history,
        logbook: &logbook,
        catalogue: &CATALOGUE,
        body_weight: None,
        today: at.date(),
    };
    let csv = export::table(Rows::Sets, ground).csv();
    let mut reader = csv::Reader::from_reader(csv.as_slice());
    let names = reader.headers().expect("names").clone();
    let place = |name: &str| {
        names
            .iter()
            .position(|other| other == name)
            .expect("a column")
    };
    let columns = ["date", "exercise", "load", "reps", "spare", "seconds"].map(place);
    let rows = reader.records().map(|row| row.expect("a row"));
    rows.map(|row| {
        let [date, exercise, load, reps, spare, seconds] = columns.map(|k| row[k].to_owned());
        [
            date,
            exercise,
            load,
            if reps.is_empty() { seconds } else { reps },
            spare,
        ]
    })
    .collect()
}

fn sorted(mut rows: Vec<Told>) -> Vec<Told> {
    rows.sort();
    rows
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    #[test]
    fn every_row_comes_back_or_is_named((hand, rows) in sheet(), take_doubles in any::<bool>()) {
        let (text, places) = typed(&hand, &rows);
        let ground = sheet::Ground {
            catalogue: &CATALOGUE,
            history: &History::default(),
            unit: Unit::Kg,
            today: NaiveDate::from_ymd_opt(2026, 11, 28).expect("a day"),
        };
        let wish = Wish { take_doubles, ..Wish::default() };
        let found = sheet::read(text.as_bytes(), "messy.csv", &wish, ground);
        let found = found.map_err(|why| TestCaseError::fail(format!("{why:?}\n{text}")))?;
        let lines: Vec<u64> = found.rows.iter().map(|row| row.line).collect();
        prop_assert_eq!(lines, places, "every row is told of, by its line\n{}", text);
        let mut taken = Vec::new();
        for (row, typed) in found.rows.iter().zip(&rows) {
            match (&row.outcome, &typed.told) {
                (Outcome::Sets(..), Some(told)) => taken.push(told.clone()),
                (Outcome::Double(_), Some(told)) => {
                    let alike = |other: &Told| other[..4] == told[..4];
                    prop_assert!(!take_doubles && taken.iter().any(alike));
                }
                (Outcome::Refused(why), None) => {
                    prop_assert!(why.iter().all(|w| !w.why.is_empty() && !w.instead.is_empty()));
                }
                (outcome, told) => prop_assert!(false, "{told:?} became {outcome:?}\n{text}"),
            }
        }
        prop_assert_eq!(sorted(exported(&found)), sorted(taken), "{}", text);
    }
}
