//! Who may import whom: the architecture as a table.

use super::source::Source;
use super::{Rule, root};
use std::fs;

/// A folder of `src`, in layer order.
struct Layer {
    name: &'static str,
    /// What it may import beside itself, as paths from the crate's root.
    imports: &'static [&'static str],
    libraries: &'static [&'static str],
    /// What it must not take from the standard library.
    never: &'static [&'static str],
}

const LAYERS: [Layer; 8] = [
    Layer {
        name: "domain",
        imports: &[],
        libraries: &["chrono", "libm"],
        never: EFFECTS_AND_STREAMS,
    },
    Layer {
        name: "formats",
        imports: &["domain"],
        libraries: &[
            "chrono",
            "crc32fast",
            "csv",
            "hound",
            "icalendar",
            "plotters",
            "memchr",
            "ron",
            "serde",
            "serde_json",
            "strsim",
        ],
        never: EFFECTS,
    },
    Layer {
        name: "app",
        imports: &["domain"],
        libraries: &[],
        never: EFFECTS_AND_STREAMS,
    },
    Layer {
        name: "ui",
        imports: &["app", "domain"],
        libraries: &["ratatui", "unicode_width"],
        never: EFFECTS_AND_STREAMS,
    },
    Layer {
        name: "shell",
        imports: &["app", "domain", "formats", "ui"],
        libraries: &[
            "chrono",
            "crossterm",
            "notify_rust",
            "pulseaudio",
            "ratatui",
            "rodio",
            "rustix",
            "signal_hook",
            "zbus",
        ],
        never: NETWORK,
    },
    Layer {
        name: "cli",
        imports: &["app::keymap", "domain", "formats", "shell"],
        libraries: &["chrono", "clap", "clap_complete", "clap_mangen"],
        never: EFFECTS_BUT_ENVIRONMENT,
    },
    Layer {
        name: "lib",
        imports: &["app", "cli", "domain", "formats", "shell", "ui"],
        libraries: &[],
        never: EFFECTS_AND_STREAMS,
    },
    Layer {
        name: "main",
        imports: &["cli"],
        libraries: &["rackside"],
        never: EFFECTS_BUT_ENVIRONMENT,
    },
];

/// Inside the domain a module imports itself and those before it.
const DOMAIN: [&str; 14] = [
    "units",
    "cue",
    "diagnostic",
    "words",
    "gear",
    "exercise",
    "program",
    "session",
    "history",
    "strength",
    "logbook",
    "advice",
    "schedule",
    "invented",
];

const NETWORK: &[&str] = &["std::net"];
const EFFECTS_BUT_ENVIRONMENT: &[&str] = &["std::fs", "std::net", "std::thread", "std::os"];
const EFFECTS: &[&str] = &[
    "std::env",
    "std::fs",
    "std::io::stderr",
    "std::io::stdin",
    "std::io::stdout",
    "std::net",
    "std::os",
    "std::process",
    "std::thread",
];
const EFFECTS_AND_STREAMS: &[&str] = &[
    "std::env",
    "std::fs",
    "std::io",
    "std::net",
    "std::os",
    "std::process",
    "std::thread",
];

pub const RULES: &[Rule] = &[
    Rule {
        asks: "a folder imports only what stands before it (see DEVELOPERS.md)",
        check: layers,
        bad: &[
            ("src/app/model.rs", "use crate::shell::disk::Disk;"),
            (
                "src/ui/theme.rs",
                "fn f() { crate::formats::journal::read(); }",
            ),
            (
                "src/formats/journal/mod.rs",
                "use super::super::app::Model;",
            ),
            ("src/cli/brief.rs", "use crate::app::model::Model;"),
            ("src/cli/brief.rs", "use crate::{domain::units::Mass, ui};"),
            (
                "src/app/update.rs",
                "fn f() { assert!(crate::ui::draw()); }",
            ),
            ("src/shell/disk.rs", "use crate::*;"),
            ("src/attic/mod.rs", "use crate::domain::units::Mass;"),
        ],
        good: &[
            (
                "src/ui/theme.rs",
                "use crate::{app::model::Model, domain::units::Mass};",
            ),
            ("src/cli/keys.rs", "use crate::app::keymap::Key;"),
            (
                "src/shell/mod.rs",
                "use self::clock::Clock; use super::ui::draw;",
            ),
        ],
    },
    Rule {
        asks: "a module of the domain imports only those before it in the order of domain/mod.rs",
        check: leftwards,
        bad: &[
            ("src/domain/units/mass.rs", "use crate::domain::gear::Gear;"),
            ("src/domain/program/mod.rs", "use super::session::Plan;"),
            ("src/domain/history/mod.rs", "use crate::domain;"),
            ("src/domain/history/mod.rs", "use super::*;"),
            ("src/domain/attic/mod.rs", "use crate::domain::units::Mass;"),
        ],
        good: &[
            ("src/domain/gear/mod.rs", "use crate::domain::units::Mass;"),
            ("src/domain/session/set.rs", "use super::plan::Plan;"),
        ],
    },
    Rule {
        asks: "a folder uses only the libraries that its line in the import table allows",
        check: libraries,
        bad: &[
            ("src/domain/units/mass.rs", "use serde::Serialize;"),
            (
                "src/domain/units/mass.rs",
                "#[derive(serde::Serialize)] struct Mass;",
            ),
            ("src/ui/theme.rs", "use crossterm::style::Color;"),
            ("src/ui/theme.rs", "use ratatui::crossterm::style::Color;"),
            ("src/app/model.rs", "fn f(s: ratatui::Frame) {}"),
            (
                "src/shell/disk.rs",
                "fn f() { let s = ron::ser::to_string(&1); }",
            ),
        ],
        good: &[
            ("src/formats/journal/mod.rs", "use serde::Serialize;"),
            (
                "src/domain/units/mass.rs",
                "#[cfg(test)] mod tests { use proptest::prelude::*; }",
            ),
        ],
    },
    Rule {
        asks: "effects stay in the shell",
        check: effects,
        bad: &[
            ("src/formats/journal/mod.rs", "use std::fs::File;"),
            ("src/app/update.rs", "fn f() { std::thread::spawn(|| ()); }"),
            ("src/ui/theme.rs", "fn f() { std::env::var(\"NO_COLOR\"); }"),
            ("src/domain/units/mass.rs", "fn f() { println!(\"x\"); }"),
            ("src/shell/notify.rs", "use std::net::TcpStream;"),
            (
                "src/cli/export.rs",
                "fn f() { std::fs::write(\"x\", \"y\"); }",
            ),
        ],
        good: &[
            ("src/formats/export/mod.rs", "use std::io::Write;"),
            ("src/shell/disk.rs", "use std::fs::File;"),
        ],
    },
    Rule {
        asks: "the domain keeps to ordered maps, so that no result hangs on a hash",
        check: hashes,
        bad: &[(
            "src/domain/history/mod.rs",
            "use std::collections::HashMap;",
        )],
        good: &[(
            "src/domain/history/mod.rs",
            "use std::collections::BTreeMap;",
        )],
    },
];

/// The line of the table that a file stands under; tests of the suite stand under none.
fn layer(source: &Source) -> Option<Result<&'static Layer, String>> {
    let name = source.layer()?;
    let found = LAYERS.iter().find(|layer| layer.name == name);
    Some(found.ok_or_else(|| format!("1: the folder {name} is not in the import table")))
}

fn layers(source: &Source) -> Vec<String> {
    let layer = match layer(source) {
        None => return Vec::new(),
        Some(Err(finding)) => return vec![finding],
        Some(Ok(layer)) => layer,
    };
    let mut found = Vec::new();
    for used in source.used() {
        let ["crate", path @ ..] = &used.strs()[..] else {
            continue;
        };
        let path = path.join("::");
        let open = std::iter::once(&layer.name)
            .chain(layer.imports)
            .any(|open| is_below(&path, open));
        if !open {
            found.push(format!("{}: {} imports {path}", used.line, layer.name));
        }
    }
    found
}

fn leftwards(source: &Source) -> Vec<String> {
    let module = source.module();
    let [folder, own, ..] = module.as_slice() else {
        return Vec::new();
    };
    if source.layer() != Some("domain") || folder != "domain" {
        return Vec::new();
    }
    let place = |name: &str| DOMAIN.iter().position(|known| *known == name);
    let Some(own_place) = place(own) else {
        return vec![format!("1: {own} has no place in the domain's order")];
    };
    let mut found = Vec::new();
    for used in source.used() {
        let ["crate", "domain", rest @ ..] = &used.strs()[..] else {
            continue;
        };
        let other = rest.first().copied().unwrap_or("the whole domain");
        if place(other).is_none_or(|other| other > own_place) {
            found.push(format!("{}: {own} imports {other}", used.line));
        }
    }
    found
}

fn libraries(source: &Source) -> Vec<String> {
    let Some(Ok(layer)) = layer(source) else {
        return Vec::new();
    };
    let known = dependencies();
    let mut found = Vec::new();
    for used in source.used().into_iter().filter(|used| !used.test) {
        let library = match &used.strs()[..] {
            ["ratatui", "crossterm", ..] => "crossterm",
            [library, ..] if known.iter().any(|name| name == library) => library,
            _ => continue,
        };
        if !layer.libraries.contains(&library) {
            found.push(format!("{}: {} uses {library}", used.line, layer.name));
        }
    }
    found
}

fn effects(source: &Source) -> Vec<String> {
    let Some(Ok(layer)) = layer(source) else {
        return Vec::new();
    };
    let mut found = Vec::new();
    for used in source.used().into_iter().filter(|used| !used.test) {
        let path = used.names.join("::");
        if layer.never.iter().any(|never| is_below(&path, never)) {
            found.push(format!("{}: {} uses {path}", used.line, layer.name));
        }
    }
    if source.ships() {
        let prints = source.macros(&["dbg", "eprint", "eprintln", "print", "println"]);
        found.extend(
            prints
                .into_iter()
                .map(|(line, name)| format!("{line}: {name}!")),
        );
    }
    found
}

fn hashes(source: &Source) -> Vec<String> {
    let hash = |name: &String| name == "HashMap" || name == "HashSet";
    let used = source.used().into_iter();
    let used = used.filter(|used| used.names.iter().any(hash) && source.layer() == Some("domain"));
    used.map(|used| format!("{}: {}", used.line, used.names.join("::")))
        .collect()
}

fn is_below(path: &str, start: &str) -> bool {
    path.strip_prefix(start)
        .is_some_and(|rest| rest.is_empty() || rest.starts_with("::"))
}

/// The libraries that Cargo.toml names, as they are spelt in code, and the crate itself.
fn dependencies() -> Vec<String> {
    let manifest = fs::read_to_string(root().join("Cargo.toml")).expect("Cargo.toml");
    let mut names = vec!["rackside".to_owned()];
    let mut inside = false;
    for line in manifest.lines() {
        if line.starts_with('[') {
            inside = line.ends_with("dependencies]");
        } else if let (true, Some((name, _))) = (inside, line.split_once('=')) {
            names.push(name.trim().replace('-', "_"));
        }
    }
    names
}
