//! Nothing that a person wrote is overwritten: one module opens files for writing.

use super::Rule;
use super::source::{Source, line};
use syn::spanned::Spanned;
use syn::visit::{self, Visit};

pub const RULES: &[Rule] = &[Rule {
    asks: "only shell/disk.rs creates, writes, renames or removes files",
    check: writers,
    bad: &[
        ("src/shell/sound.rs", "fn f() { File::create(\"x\"); }"),
        (
            "src/shell/sound.rs",
            "fn f() { std::fs::File::create_new(\"x\"); }",
        ),
        ("src/shell/sound.rs", "use std::fs::OpenOptions;"),
        (
            "src/cli/export.rs",
            "fn f() { std::fs::write(path, text); }",
        ),
        (
            "src/shell/journal_writer.rs",
            "fn f() { fs::rename(a, b); }",
        ),
        (
            "src/shell/journal_writer.rs",
            "fn f() { options.truncate(true); }",
        ),
        ("src/shell/journal_writer.rs", "fn f() { file.set_len(0); }"),
    ],
    good: &[
        (
            "src/shell/disk.rs",
            "fn f() { std::fs::File::create_new(\"x\"); }",
        ),
        ("src/shell/disk/append.rs", "use std::fs::OpenOptions;"),
        (
            "src/shell/journal_writer.rs",
            "fn f() { line.truncate(80); File::open(path); }",
        ),
    ],
}];

const WRITERS: [&str; 8] = [
    "copy",
    "create_dir",
    "create_dir_all",
    "remove_dir_all",
    "remove_file",
    "rename",
    "set_permissions",
    "write",
];

fn writers(source: &Source) -> Vec<String> {
    let own = source.path == "src/shell/disk.rs" || source.path.starts_with("src/shell/disk/");
    if !source.ships() || own {
        return Vec::new();
    }
    let writes = |names: &[&str]| match names {
        [.., "OpenOptions"] | [.., "OpenOptions", _] => true,
        [.., "File", call] => ["create", "create_new", "options"].contains(call),
        [.., "fs", call] => WRITERS.contains(call),
        _ => false,
    };
    let used = source.used().into_iter();
    let used = used.filter(|used| !used.test && writes(&used.strs()));
    let mut found: Vec<String> = used
        .map(|used| format!("{}: {}", used.line, used.names.join("::")))
        .collect();
    let mut cuts = Cuts(Vec::new());
    cuts.visit_file(&source.file);
    found.extend(cuts.0);
    found
}

/// Method calls that cut a file short.
struct Cuts(Vec<String>);

impl<'ast> Visit<'ast> for Cuts {
    fn visit_expr_method_call(&mut self, call: &'ast syn::ExprMethodCall) {
        let name = call.method.to_string();
        let bool_literal = |argument: &syn::Expr| {
            let syn::Expr::Lit(literal) = argument else {
                return false;
            };
            matches!(literal.lit, syn::Lit::Bool(_))
        };
        if name == "set_len" || name == "truncate" && call.args.iter().all(bool_literal) {
            self.0.push(format!("{}: .{name}(…)", line(call.span())));
        }
        visit::visit_expr_method_call(self, call);
    }
}
