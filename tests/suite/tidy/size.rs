//! Everything stays small enough to be read at once.

use super::Rule;
use super::source::{Source, attributes, is_test_only, line};
use syn::spanned::Spanned;
use syn::visit::{self, Visit};

const FUNCTION: usize = 60;
const FILE: usize = 400;
const MAIN: usize = 25;
const WIDTH: usize = 100;
const PARAMETERS: usize = 4;

pub const RULES: &[Rule] = &[
    Rule {
        asks: "a function has at most 60 lines and 4 parameters (above: a struct)",
        check: functions,
        bad: &[
            ("src/ui/theme.rs", LONG_FUNCTION),
            (
                "src/ui/theme.rs",
                "fn f(a: u8, b: u8, c: u8, d: u8, e: u8) {}",
            ),
            (
                "src/ui/theme.rs",
                "impl A { fn f(&self, a: u8, b: u8, c: u8, d: u8, e: u8) {} }",
            ),
            (
                "src/ui/theme.rs",
                "trait A { fn f(&self, a: u8, b: u8, c: u8, d: u8, e: u8); }",
            ),
        ],
        good: &[
            (
                "src/ui/theme.rs",
                "impl A { fn f(&self, a: u8, b: u8, c: u8, d: u8) {} }",
            ),
            // The shape of another crate's trait is not ours to choose.
            (
                "src/ui/theme.rs",
                "impl B for A { fn f(a: u8, b: u8, c: u8, d: u8, e: u8) {} }",
            ),
        ],
    },
    Rule {
        asks: "a file has at most 400 lines, its tests apart, and main.rs at most 25",
        check: files,
        bad: &[
            (
                "src/main.rs",
                "//! M.\n\n\n\n\n\n\n\n\n\n\n\n\n\n\n\n\n\n\n\n\n\n\n\n\nfn main() {}\n",
            ),
            ("src/ui/theme.rs", LONG_FILE),
        ],
        good: &[
            ("src/main.rs", "//! M.\nfn main() {}\n"),
            ("src/ui/tests.rs", LONG_FILE),
        ],
    },
    Rule {
        asks: "a line has at most 100 columns",
        check: widths,
        bad: &[(
            "src/ui/theme.rs",
            "// 34567 10 345678 20 345678 30 345678 40 345678 50 345678 60 345678 70 345678 80 \
             345678 90 34567 100x",
        )],
        good: &[("src/ui/theme.rs", "// ä")],
    },
];

/// A function of 61 lines.
const LONG_FUNCTION: &str = concat!(
    "fn f() {\n",
    "\n\n\n\n\n\n\n\n\n\n\n\n\n\n\n\n\n\n\n\n\n\n\n\n\n\n\n\n\n\n",
    "\n\n\n\n\n\n\n\n\n\n\n\n\n\n\n\n\n\n\n\n\n\n\n\n\n\n\n\n\n",
    "}\n",
);

/// Twenty lines.
macro_rules! twenty {
    () => {
        "\n\n\n\n\n\n\n\n\n\n\n\n\n\n\n\n\n\n\n\n"
    };
}

/// Five times twenty lines.
macro_rules! hundred {
    () => {
        concat!(twenty!(), twenty!(), twenty!(), twenty!(), twenty!())
    };
}

/// A file of 401 lines.
const LONG_FILE: &str = concat!(
    "//! Long.",
    hundred!(),
    hundred!(),
    hundred!(),
    hundred!(),
    "fn f() {}\n"
);

fn functions(source: &Source) -> Vec<String> {
    let mut functions = Functions(Vec::new());
    if source.ships() {
        functions.visit_file(&source.file);
    }
    functions.0
}

struct Functions(Vec<String>);

impl Functions {
    fn length(&mut self, signature: &syn::Signature, block: &syn::Block) {
        let start = line(signature.fn_token.span());
        let lines = block.brace_token.span.close().end().line - start + 1;
        if lines > FUNCTION {
            self.0
                .push(format!("{start}: {} has {lines} lines", signature.ident));
        }
    }

    fn parameters(&mut self, signature: &syn::Signature) {
        let inputs = signature.inputs.iter();
        let count = inputs
            .filter(|input| matches!(input, syn::FnArg::Typed(_)))
            .count();
        if count > PARAMETERS {
            let start = line(signature.fn_token.span());
            self.0.push(format!(
                "{start}: {} takes {count} parameters",
                signature.ident
            ));
        }
    }
}

impl<'ast> Visit<'ast> for Functions {
    fn visit_item(&mut self, item: &'ast syn::Item) {
        if !is_test_only(attributes(item)) {
            visit::visit_item(self, item);
        }
    }

    fn visit_item_fn(&mut self, item: &'ast syn::ItemFn) {
        self.length(&item.sig, &item.block);
        self.parameters(&item.sig);
        visit::visit_item_fn(self, item);
    }

    fn visit_item_impl(&mut self, item: &'ast syn::ItemImpl) {
        for inner in &item.items {
            if let syn::ImplItem::Fn(function) = inner {
                self.length(&function.sig, &function.block);
                if item.trait_.is_none() {
                    self.parameters(&function.sig);
                }
            }
        }
        visit::visit_item_impl(self, item);
    }

    fn visit_trait_item_fn(&mut self, item: &'ast syn::TraitItemFn) {
        self.parameters(&item.sig);
        visit::visit_trait_item_fn(self, item);
    }
}

fn files(source: &Source) -> Vec<String> {
    if !source.ships() {
        return Vec::new();
    }
    let tests: usize = source.file.items.iter().map(test_lines).sum();
    let lines = source.text.lines().count() - tests;
    let limit = if source.path == "src/main.rs" {
        MAIN
    } else {
        FILE
    };
    if lines > limit {
        vec![format!("1: {lines} lines")]
    } else {
        Vec::new()
    }
}

/// How many lines of the file an item takes that only tests build.
fn test_lines(item: &syn::Item) -> usize {
    if !is_test_only(attributes(item)) {
        return 0;
    }
    let span = item.span();
    span.end().line - span.start().line + 1
}

fn widths(source: &Source) -> Vec<String> {
    let wide = |(index, text): (usize, &str)| {
        let columns = text.chars().count();
        (columns > WIDTH).then(|| format!("{}: {columns} columns", index + 1))
    };
    source.text.lines().enumerate().filter_map(wide).collect()
}
