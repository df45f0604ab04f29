//! Modules say what they hold: an opening sentence, and no drawer for odds and ends.

use super::Rule;
use super::source::{Source, line};
use syn::visit::{self, Visit};

pub const RULES: &[Rule] = &[
    Rule {
        asks: "every module opens with //!",
        check: opening,
        bad: &[
            ("src/ui/theme.rs", "use ratatui::style::Color;"),
            ("src/ui/theme.rs", "// Colours.\nuse ratatui::style::Color;"),
            ("tests/suite/floor.rs", "/// Not the module's.\nfn f() {}"),
            ("src/ui/theme.rs", "//!\nuse ratatui::style::Color;"),
        ],
        good: &[(
            "src/ui/theme.rs",
            "//! Colours by role.\nuse ratatui::style::Color;",
        )],
    },
    Rule {
        asks: "a module is named for what it holds, never utils, helpers, common or misc",
        check: drawers,
        bad: &[
            ("src/ui/utils.rs", "//! Odds and ends."),
            ("src/domain/common/mass.rs", "//! Odds and ends."),
            ("tests/suite/helpers.rs", "//! Odds and ends."),
            ("src/ui/theme.rs", "mod misc {}"),
        ],
        good: &[("src/ui/theme.rs", "mod contrast {}")],
    },
];

const DRAWERS: [&str; 10] = [
    "common",
    "helper",
    "helpers",
    "misc",
    "shared",
    "stuff",
    "tools",
    "util",
    "utilities",
    "utils",
];

fn opening(source: &Source) -> Vec<String> {
    let first = source.text.lines().next().unwrap_or_default();
    let said = first
        .strip_prefix("//!")
        .is_some_and(|text| !text.trim().is_empty());
    if said {
        Vec::new()
    } else {
        vec![format!("1: opens with {first:?}")]
    }
}

fn drawers(source: &Source) -> Vec<String> {
    let stem = source.path.strip_suffix(".rs").unwrap_or(&source.path);
    let mut found: Vec<String> = stem
        .split('/')
        .filter(|part| DRAWERS.contains(part))
        .map(|part| format!("1: the name {part}"))
        .collect();
    let mut inner = Inner(Vec::new());
    inner.visit_file(&source.file);
    found.extend(inner.0);
    found
}

/// Modules written inside a file.
struct Inner(Vec<String>);

impl<'ast> Visit<'ast> for Inner {
    fn visit_item_mod(&mut self, item: &'ast syn::ItemMod) {
        let name = item.ident.to_string();
        if DRAWERS.contains(&name.as_str()) {
            self.0
                .push(format!("{}: the name {name}", line(item.ident.span())));
        }
        visit::visit_item_mod(self, item);
    }
}
