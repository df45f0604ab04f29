//! A sheet's names of exercises: those that are ours, near matches, and the file that says what
//! the others mean.

use super::Refusal;
use crate::domain::diagnostic::{Diagnostic, neutral};
use crate::domain::exercise::{Catalogue, Exercise, ExerciseId};
use crate::domain::words;
use crate::formats::ron_text::{Source, draft, near};
use serde::Deserialize;
use std::collections::{BTreeMap, BTreeSet};

/// What a name in a sheet means.
#[derive(Clone, PartialEq, Eq, Debug)]
enum Meaning {
    Exercise(ExerciseId),
    LeftOut,
}

/// What the names in a sheet mean, as a person says.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Names(BTreeMap<String, Meaning>);

/// A name that is not known.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Unknown {
    /// As it stands in the sheet.
    pub name: String,
    /// How many rows have it.
    pub rows: usize,
    /// What may be meant, the most likely first.
    pub near: Vec<ExerciseId>,
}

/// What a cell names.
#[derive(Clone)]
pub(super) enum Named<'a> {
    /// An exercise that is known.
    Exercise(&'a Exercise),
    /// One that the person leaves out.
    LeftOut,
    /// Nothing that is known: what may be meant.
    Unknown(Vec<ExerciseId>),
}

/// Short forms of the trade.
const SHORT: [(&str, &str); 4] = [
    ("bb", "barbell"),
    ("db", "dumbbell"),
    ("ohp", "overhead press"),
    ("rdl", "romanian deadlift"),
];

/// The words of a name in lower case, in order of the alphabet.
fn words_of(name: &str) -> BTreeSet<String> {
    let lower = name.to_lowercase();
    let words = lower.split(|c: char| !c.is_alphanumeric());
    let words = words.filter(|word| !word.is_empty());
    let bare = |word: &str| word.strip_suffix('s').unwrap_or(word).to_owned();
    let long = |word: &str| SHORT.iter().find(|(short, _)| *short == word);
    words
        .flat_map(|word| match long(word) {
            Some((_, long)) => long.split(' ').map(bare).collect(),
            None => vec![bare(word)],
        })
        .collect()
}

impl Names {
    pub(super) fn find<'a>(&self, name: &str, catalogue: &'a Catalogue) -> Named<'a> {
        match self.0.get(&folded(name)) {
            Some(Meaning::LeftOut) => return Named::LeftOut,
            Some(Meaning::Exercise(id)) => {
                if let Some(exercise) = catalogue.get(id) {
                    return Named::Exercise(exercise);
                }
            }
            None => {}
        }
        let (plain, run) = (words_of(name), run_together(name));
        let is_it = |known: &str| words_of(known) == plain || run_together(known) == run;
        let same = |exercise: &&Exercise| is_it(&exercise.name) || is_it(exercise.id.as_str());
        let mut same = catalogue.iter().filter(same);
        match (same.next(), same.next()) {
            (Some(exercise), None) => Named::Exercise(exercise),
            _ => Named::Unknown(likely(name, catalogue)),
        }
    }
}

/// So many near matches are offered.
const OFFERED: usize = 3;
/// The least likeness of a near match, 0 to 1.
const LEAST: f64 = 0.45;

/// The letters and digits of a name, its plural set aside: "Pullups" is "pull-up".
fn run_together(name: &str) -> String {
    let lower = name.to_lowercase();
    let letters: String = lower.chars().filter(|c| c.is_alphanumeric()).collect();
    letters.strip_suffix('s').unwrap_or(&letters).to_owned()
}

/// Whether a word is another, but for a slip of the fingers.
fn is_slip(word: &str, known: &str) -> bool {
    let longest = word.chars().count().max(known.chars().count());
    strsim::osa_distance(word, known) * 4 <= longest
}

/// What may be meant: by the words that two names share, and by their letters.
fn likely(name: &str, catalogue: &Catalogue) -> Vec<ExerciseId> {
    let plain = words_of(name);
    let joined = |words: &BTreeSet<String>| words.iter().cloned().collect::<Vec<_>>().join(" ");
    let likeness = |other: &str| {
        let other = words_of(other);
        let shared = plain
            .iter()
            .filter(|word| other.iter().any(|known| is_slip(word, known)));
        let by_words = 2.0 * shared.count() as f64 / (plain.len() + other.len()).max(1) as f64;
        let by_letters = strsim::sorensen_dice(&joined(&plain), &joined(&other));
        f64::midpoint(by_words, by_letters)
    };
    let mut scored: Vec<(f64, &Exercise)> = catalogue
        .iter()
        .map(|exercise| {
            let likeness = likeness(&exercise.name).max(likeness(exercise.id.as_str()));
            (likeness, exercise)
        })
        .filter(|(likeness, _)| *likeness >= LEAST)
        .collect();
    scored.sort_by(|a, b| b.0.total_cmp(&a.0).then_with(|| a.1.id.cmp(&b.1.id)));
    let best = scored.into_iter().take(OFFERED);
    best.map(|(_, exercise)| exercise.id.clone()).collect()
}

/// What to say of a name that is not known.
pub(super) fn refusal(name: &str, near: &[ExerciseId]) -> Refusal {
    let near: Vec<&str> = near.iter().map(ExerciseId::as_str).collect();
    let instead = match near.as_slice() {
        [] => "say what it is in the names file, or add it to config/exercises.ron".to_owned(),
        near => format!(
            "say in the names file which it is; near: {}",
            near.join(", ")
        ),
    };
    Refusal::new(format!("\"{name}\" is no exercise that is known"), instead)
}

/// Case, white space and what does not show set aside.
fn folded(name: &str) -> String {
    let lower = neutral(name).to_lowercase();
    lower.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[derive(Deserialize)]
#[serde(rename = "names", deny_unknown_fields)]
struct WireNames {
    format: u32,
    names: Vec<WireName>,
}

#[derive(Deserialize)]
#[serde(rename = "name", deny_unknown_fields)]
struct WireName {
    sheet: String,
    exercise: String,
}

fn hints(_: &str, field: &str) -> Option<&'static str> {
    Some(match field {
        "sheet" => "the name as the spreadsheet has it",
        "exercise" => "an exercise, like \"goblet_squat\"; \"-\" leaves its rows out",
        _ => return None,
    })
}

/// Reads a names file. A name whose exercise is left empty stays unknown.
///
/// # Errors
///
/// Everything that is wrong with the text.
pub fn read_names(path: &str, text: &str, catalogue: &Catalogue) -> Result<Names, Vec<Diagnostic>> {
    let draft = draft::<WireNames>(Source::new(path, text), hints)?;
    let list = draft.root().field("names");
    let mut found = Vec::new();
    if draft.value.format != 1 {
        let place = draft.root().field("format");
        found.extend(draft.problem(place, "this is not format 1", "write format: 1"));
    }
    let mut names = Names::default();
    for (k, wire) in draft.value.names.iter().enumerate() {
        let place = list.item(k);
        let meaning = match wire.exercise.as_str() {
            "" => continue,
            "-" => Meaning::LeftOut,
            id => match ExerciseId::new(id).filter(|id| catalogue.get(id).is_some()) {
                Some(id) => Meaning::Exercise(id),
                None => {
                    let known = catalogue.iter().map(|exercise| exercise.id.as_str());
                    let hint = near(id, known).map(|near| format!(" (near: {near})"));
                    let hint = hint.unwrap_or_default();
                    let message = format!("no exercise is called {id:?}");
                    let advice = format!("write the name of an exercise{hint}, or \"-\"");
                    found.extend(draft.problem(place.field("exercise"), message, &advice));
                    continue;
                }
            },
        };
        if names.0.insert(folded(&wire.sheet), meaning).is_some() {
            let message = "this name stands here for the second time";
            found.extend(draft.problem(place.field("sheet"), message, "delete one of them"));
        }
    }
    draft.finish(names, found).map(|(names, _)| names)
}

/// The text of a new names file: each unknown name with the most likely exercise.
pub fn names_text(unknown: &[Unknown], source: &str) -> String {
    let mut text = format!(
        "// What names in {} mean. Look over each line: what is filled in is a guess.\n\
         // \"\" is still open; \"-\" leaves its rows out. Exercises of your own go to\n\
         // config/exercises.ron. Then: rackside import csv FILE --names THIS_FILE\n\
         (\n    format: 1,\n    names: [\n",
        neutral(source)
    );
    for Unknown { name, rows, near } in unknown {
        let near: Vec<&str> = near.iter().map(ExerciseId::as_str).collect();
        let guess = near.first().copied().unwrap_or_default();
        let others = match near.get(1..) {
            Some([_, ..]) => format!("; also near: {}", near[1..].join(", ")),
            Some([]) | None => String::new(),
        };
        let rows = words::count(*rows, "row");
        let quoted = neutral(name).replace('\\', "\\\\").replace('"', "\\\"");
        text += &format!(
            "        // {rows}{others}\n        (sheet: \"{quoted}\", exercise: \"{guess}\"),\n"
        );
    }
    text + "    ],\n)\n"
}
