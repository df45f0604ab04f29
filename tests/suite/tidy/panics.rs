//! What a lifter typed or wrote never ends the program.

use super::Rule;
use super::source::{Source, attributes, is_test_only, line};
use syn::spanned::Spanned;
use syn::visit::{self, Visit};

pub const RULES: &[Rule] = &[Rule {
    asks: "code that ships cannot panic by choice, and lets off no lint that says so",
    check: panics,
    bad: &[
        ("src/ui/theme.rs", "#[allow(clippy::expect_used)] fn f() {}"),
        ("src/ui/theme.rs", "#![allow(clippy::unwrap_used)]"),
        (
            "src/ui/theme.rs",
            "fn f() { #[expect(clippy::panic, reason = \"x\")] g(); }",
        ),
        ("src/ui/theme.rs", "fn f() { unreachable!() }"),
    ],
    good: &[
        ("src/ui/theme.rs", "#[allow(missing_docs)] fn f() {}"),
        (
            "src/ui/theme.rs",
            "#[cfg(test)] #[allow(clippy::unwrap_used)] mod tests {}",
        ),
        ("src/ui/tests.rs", "#![allow(clippy::unwrap_used)]"),
    ],
}];

const LINTS: [&str; 5] = [
    "expect_used",
    "panic",
    "todo",
    "unimplemented",
    "unwrap_used",
];

fn panics(source: &Source) -> Vec<String> {
    if !source.ships() {
        return Vec::new();
    }
    let mut allowed = Allowed(Vec::new());
    allowed.visit_file(&source.file);
    let calls = source.macros(&["panic", "todo", "unimplemented", "unreachable"]);
    let calls = calls
        .into_iter()
        .map(|(line, name)| format!("{line}: {name}!"));
    allowed.0.into_iter().chain(calls).collect()
}

/// Lints let off.
struct Allowed(Vec<String>);

impl<'ast> Visit<'ast> for Allowed {
    fn visit_item(&mut self, item: &'ast syn::Item) {
        if !is_test_only(attributes(item)) {
            visit::visit_item(self, item);
        }
    }

    fn visit_attribute(&mut self, attribute: &'ast syn::Attribute) {
        let lets_off = attribute.path().is_ident("allow") || attribute.path().is_ident("expect");
        if let (true, syn::Meta::List(list)) = (lets_off, &attribute.meta) {
            let tokens = list.tokens.to_string();
            let named = |lint: &&&str| tokens.split([' ', ',', ':']).any(|word| word == **lint);
            let start = line(attribute.span());
            let found = LINTS
                .iter()
                .filter(named)
                .map(|lint| format!("{start}: lets off {lint}"));
            self.0.extend(found);
        }
    }
}
