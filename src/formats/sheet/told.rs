//! What is said of a spreadsheet: each row, and the whole.

use super::{Outcome, Refusal, Row, Sheet};
use crate::domain::diagnostic::neutral;
use crate::domain::exercise::Catalogue;
use crate::domain::logbook::told::sessions::recorded;
use crate::domain::session::SetRecord;
use crate::domain::words;
use crate::formats::json;
use chrono::NaiveDate;
use serde_json::{Map, Value, json};

/// A row and what it becomes, in a line.
pub fn row_line(row: &Row, catalogue: &Catalogue) -> String {
    let text = match &row.outcome {
        Outcome::Sets(date, sets) => {
            let alike = match sets.len() {
                1 => String::new(),
                count => format!("{count} times "),
            };
            let set = sets.first().map(|set| {
                let name = catalogue.name(&set.exercise);
                format!("{name}, {alike}{}", recorded(set))
            });
            format!("{} {date}  {}", date.format("%a"), set.unwrap_or_default())
        }
        Outcome::OtherSide(line) => format!("the other side of line {line}"),
        Outcome::Double(place) => format!("left out: {place} already"),
        Outcome::LeftOut => "left out: the names file says so".to_owned(),
        Outcome::Refused(refusals) => {
            let told = refusals
                .iter()
                .map(|Refusal { why, instead }| format!("{why}: {instead}"));
            format!("NOT TAKEN: {}", told.collect::<Vec<_>>().join("; "))
        }
    };
    neutral(&format!("line {:<4} {text}", row.line))
}

/// A row for scripts: `line`, and what it becomes as `row` ("taken", "other_side", "double",
/// "left_out" or "refused"), with `date` and `sets` (each with `exercise`, `kind`, `set`, `load`,
/// `reps` or `hold_s`, `spare`), or `problems` (each with `why` and `instead`).
pub fn row_object(row: &Row) -> Value {
    let mut object = Map::new();
    object.insert("line".into(), json!(row.line));
    let what = match &row.outcome {
        Outcome::Sets(date, sets) => {
            object.extend(taken(*date, sets));
            "taken"
        }
        Outcome::OtherSide(of) => {
            object.insert("of_line".into(), json!(of));
            "other_side"
        }
        Outcome::Double(place) => {
            object.insert("why".into(), json!(place));
            "double"
        }
        Outcome::LeftOut => "left_out",
        Outcome::Refused(refusals) => {
            let problems = refusals
                .iter()
                .map(|refusal| json!({ "why": refusal.why, "instead": refusal.instead }));
            object.insert("problems".into(), problems.collect());
            "refused"
        }
    };
    object.insert("row".into(), json!(what));
    Value::Object(object)
}

fn taken(date: NaiveDate, sets: &[SetRecord]) -> Map<String, Value> {
    let sets = sets.iter().map(|set| Value::Object(json::recorded(set)));
    let mut object = Map::new();
    object.insert("date".into(), json!(date.to_string()));
    object.insert("sets".into(), sets.collect());
    object
}

/// The whole in a few lines: what is taken, and what is not.
pub fn summary(sheet: &Sheet) -> Vec<String> {
    let span = match (sheet.days.first(), sheet.days.last()) {
        (Some(first), Some(last)) => format!(", {} to {}", first.date, last.date),
        _ => String::new(),
    };
    let mut lines = vec![format!(
        "{} on {}{span}",
        words::count(sheet.sets(), "set"),
        words::count(sheet.days.len(), "day"),
    )];
    let count = |is: fn(&Outcome) -> bool| sheet.rows.iter().filter(|row| is(&row.outcome)).count();
    let counted = [
        (
            count(|o| matches!(o, Outcome::Double(_))),
            "left out, there already",
        ),
        (
            count(|o| matches!(o, Outcome::LeftOut)),
            "left out, as the names file says",
        ),
        (sheet.refused(), "not taken, each named above"),
    ];
    for (number, what) in counted {
        if number > 0 {
            lines.push(format!("{} {what}", words::count(number, "row")));
        }
    }
    lines
}
