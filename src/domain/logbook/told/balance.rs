//! Balance in lines.

use super::{Reading, wrapped};
use crate::domain::logbook::balance::{Balance, Loads, Ratio, Says, WEEKS, balance};
use crate::domain::logbook::said::sets;

/// The view.
pub fn lines(reading: &Reading<'_>) -> Vec<String> {
    let records = (reading.history, reading.logbook);
    let mut lines = vec![format!("Weekly hard sets of the last {WEEKS} whole weeks")];
    for pair in balance(records, reading.catalogue, reading.today) {
        lines.push(String::new());
        lines.extend(
            told(&pair)
                .iter()
                .flat_map(|text| wrapped(text, reading.width)),
        );
    }
    lines
}

fn told(pair: &Balance) -> Vec<String> {
    let (first, second) = pair.pair.names;
    let (a, b) = (sets(pair.weekly.0), sets(pair.weekly.1));
    let ratio = pair.ratio.map(|found| format!(", {}", ratio(found)));
    let mut lines = vec![
        format!("{first} {a}, {second} {b}{}", ratio.unwrap_or_default()),
        format!("  {}", advice(pair)),
        range("sets", pair.pair.sets, pair.pair.source),
    ];
    if let (Some(loads), Some(limits)) = (&pair.loads, pair.pair.loads) {
        lines.push(load_line(loads));
        lines.push(range("loads", limits, pair.pair.loads_source));
    }
    lines
}

fn ratio(found: Ratio) -> String {
    let (low, high) = found.band;
    format!("{:.1} to one ({low:.1} to {high:.1})", found.ratio)
}

fn range(of: &str, (low, high): (f64, f64), source: &str) -> String {
    format!("  {of} let be from {low} to {high}: {source}")
}

/// Advice in one line.
pub fn advice(pair: &Balance) -> String {
    let (first, second) = pair.pair.names;
    match pair.says {
        Says::TooLittle => "too little done to say".to_owned(),
        Says::Even => "nothing to change".to_owned(),
        Says::FirstLags => format!("{first} lags: a set or an exercise more of it would even it"),
        Says::SecondLags => format!("{second} lags: a set or an exercise more of it would even it"),
    }
}

fn load_line(loads: &Loads) -> String {
    let (first, second) = &loads.names;
    let says = match loads.says {
        Says::TooLittle => "too few sessions to say".to_owned(),
        Says::Even => "nothing to change".to_owned(),
        Says::FirstLags => format!("{first} is light beside it: worth a look"),
        Says::SecondLags => format!("{second} is light beside it: worth a look"),
    };
    format!(
        "  loads: {first} by {second}, {}; {says}",
        ratio(loads.ratio)
    )
}
