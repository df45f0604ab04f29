//! Time comes in with each message: only the shell reads a clock.

use super::Rule;
use super::source::Source;

const CLOCKS: [&str; 5] = ["Instant", "SystemTime", "Local", "Utc", "ClockId"];

pub const RULES: &[Rule] = &[Rule {
    asks: "no clock is read outside the shell",
    check: clocks,
    bad: &[
        ("src/app/update.rs", "use std::time::Instant;"),
        (
            "src/app/update.rs",
            "fn f() { let now = std::time::SystemTime::now(); }",
        ),
        (
            "src/domain/units/time.rs",
            "fn f() { chrono::Local::now(); }",
        ),
        ("src/formats/journal/mod.rs", "use chrono::Local as Zone;"),
        ("src/cli/brief.rs", "fn f() { let today = Utc::now(); }"),
        (
            "src/ui/theme.rs",
            "fn f() { assert!(start.lt(&Instant::now())); }",
        ),
    ],
    good: &[
        ("src/shell/clock.rs", "use std::time::Instant;"),
        ("src/app/update.rs", "use std::time::Duration;"),
        (
            "src/domain/units/time.rs",
            "use chrono::Utc; fn f() { Now::now(); }",
        ),
    ],
}];

fn clocks(source: &Source) -> Vec<String> {
    if !source.ships() || source.layer() == Some("shell") {
        return Vec::new();
    }
    let read = |names: &[&str]| match names {
        ["std", "time", clock, ..] => CLOCKS.contains(clock),
        ["chrono", "Local", ..] => true,
        [.., clock, "now"] => CLOCKS.contains(clock),
        _ => false,
    };
    let used = source.used().into_iter().filter(|used| read(&used.strs()));
    used.map(|used| format!("{}: {}", used.line, used.names.join("::")))
        .collect()
}
