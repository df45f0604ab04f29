//! One source file, parsed, and what the rules ask of it.

use proc_macro2::{Spacing, Span, TokenStream, TokenTree};
use syn::spanned::Spanned;
use syn::visit::{self, Visit};

/// A file under `src` or `tests/suite`.
pub struct Source {
    /// Below the root of the project, with slashes.
    pub path: String,
    pub text: String,
    pub file: syn::File,
}

/// A path of names that the file uses, as far as it can be resolved.
pub struct Used {
    /// From the crate's root where the first name is `crate`, else from a library or a local name.
    pub names: Vec<String>,
    pub line: usize,
    /// Stands in code that only tests build.
    pub test: bool,
}

impl Used {
    pub fn strs(&self) -> Vec<&str> {
        self.names.iter().map(String::as_str).collect()
    }
}

impl Source {
    pub fn new(path: &str, text: &str) -> Self {
        let file = syn::parse_file(text).unwrap_or_else(|error| panic!("{path}: {error}"));
        Self {
            path: path.to_owned(),
            text: text.to_owned(),
            file,
        }
    }

    /// Whether the file is part of the program rather than of its tests.
    pub fn ships(&self) -> bool {
        self.path.starts_with("src/") && !self.path.ends_with("tests.rs")
    }

    /// The first folder or file below `src`: `domain`, `ui`, `main`; nothing for tests.
    pub fn layer(&self) -> Option<&str> {
        let below = self.path.strip_prefix("src/")?;
        let first = below.split('/').next()?;
        Some(first.strip_suffix(".rs").unwrap_or(first))
    }

    /// The module that the file is, from the crate's root.
    pub fn module(&self) -> Vec<String> {
        let below = self.path.strip_prefix("src/").unwrap_or(&self.path);
        let stem = below.strip_suffix(".rs").unwrap_or(below);
        let mut names: Vec<String> = stem.split('/').map(str::to_owned).collect();
        if names
            .last()
            .is_some_and(|last| ["mod", "lib", "main"].contains(&last.as_str()))
        {
            names.pop();
        }
        names
    }

    /// Every path of names that the file uses, those inside macros and attributes too.
    pub fn used(&self) -> Vec<Used> {
        let mut finder = Finder {
            module: self.module(),
            test: !self.ships(),
            used: Vec::new(),
        };
        finder.visit_file(&self.file);
        finder.used
    }

    /// The macros of these names that the program's own code calls, with their lines.
    pub fn macros(&self, names: &'static [&'static str]) -> Vec<(usize, String)> {
        let mut finder = Macros {
            names,
            found: Vec::new(),
        };
        finder.visit_file(&self.file);
        finder.found
    }
}

/// Whether an item is built for tests only.
pub fn is_test_only(attributes: &[syn::Attribute]) -> bool {
    attributes.iter().any(|attribute| {
        let cfg_test = attribute.path().is_ident("cfg")
            && attribute
                .parse_args::<syn::Ident>()
                .is_ok_and(|name| name == "test");
        cfg_test || attribute.path().is_ident("test")
    })
}

/// The attributes of the items that may carry `#[cfg(test)]`.
pub fn attributes(item: &syn::Item) -> &[syn::Attribute] {
    match item {
        syn::Item::Fn(item) => &item.attrs,
        syn::Item::Impl(item) => &item.attrs,
        syn::Item::Mod(item) => &item.attrs,
        syn::Item::Use(item) => &item.attrs,
        _ => &[],
    }
}

struct Finder {
    module: Vec<String>,
    test: bool,
    used: Vec<Used>,
}

impl Finder {
    fn add(&mut self, names: &[String], line: usize) {
        self.used.push(Used {
            names: resolve(&self.module, names),
            line,
            test: self.test,
        });
    }

    fn tree(&mut self, prefix: &[String], tree: &syn::UseTree) {
        let with = |name: String| [prefix, &[name]].concat();
        match tree {
            syn::UseTree::Path(path) => self.tree(&with(path.ident.to_string()), &path.tree),
            syn::UseTree::Group(group) => {
                for tree in &group.items {
                    self.tree(prefix, tree);
                }
            }
            syn::UseTree::Name(name) if name.ident == "self" => {
                self.add(prefix, line(name.span()));
            }
            syn::UseTree::Name(name) => self.add(&with(name.ident.to_string()), line(name.span())),
            syn::UseTree::Rename(name) => {
                self.add(&with(name.ident.to_string()), line(name.span()));
            }
            syn::UseTree::Glob(glob) => self.add(&with("*".to_owned()), line(glob.span())),
        }
    }

    /// Finds `a::b::c` in tokens that are not parsed: the inside of macros and attributes.
    fn tokens(&mut self, tokens: TokenStream) {
        let mut path: Vec<String> = Vec::new();
        let mut joined = false;
        for token in tokens {
            match token {
                TokenTree::Ident(name) if joined || path.is_empty() => {
                    path.push(name.to_string());
                    joined = false;
                }
                TokenTree::Punct(mark) if mark.as_char() == ':' && !path.is_empty() => {
                    joined = mark.spacing() == Spacing::Alone;
                }
                TokenTree::Group(group) => {
                    let line = line(group.span_open());
                    self.add_if_long(&mut path, line);
                    self.tokens(group.stream());
                }
                TokenTree::Ident(name) => {
                    self.add_if_long(&mut path, line(name.span()));
                    path.push(name.to_string());
                }
                TokenTree::Punct(other) => self.add_if_long(&mut path, line(other.span())),
                TokenTree::Literal(other) => self.add_if_long(&mut path, line(other.span())),
            }
        }
        self.add_if_long(&mut path, 0);
    }

    fn add_if_long(&mut self, path: &mut Vec<String>, line: usize) {
        if path.len() > 1 {
            self.add(path, line);
        }
        path.clear();
    }

    fn inside(&mut self, test: bool, visit: impl FnOnce(&mut Self)) {
        let before = self.test;
        self.test |= test;
        visit(self);
        self.test = before;
    }
}

impl<'ast> Visit<'ast> for Finder {
    fn visit_item(&mut self, item: &'ast syn::Item) {
        self.inside(is_test_only(attributes(item)), |finder| {
            visit::visit_item(finder, item)
        });
    }

    fn visit_item_mod(&mut self, item: &'ast syn::ItemMod) {
        self.module.push(item.ident.to_string());
        visit::visit_item_mod(self, item);
        self.module.pop();
    }

    fn visit_item_use(&mut self, item: &'ast syn::ItemUse) {
        self.tree(&[], &item.tree);
    }

    fn visit_item_extern_crate(&mut self, item: &'ast syn::ItemExternCrate) {
        self.add(&[item.ident.to_string()], line(item.span()));
    }

    fn visit_path(&mut self, path: &'ast syn::Path) {
        let names: Vec<String> = path.segments.iter().map(|s| s.ident.to_string()).collect();
        if names.len() > 1 {
            self.add(&names, line(path.span()));
        }
        visit::visit_path(self, path);
    }

    fn visit_macro(&mut self, mac: &'ast syn::Macro) {
        self.tokens(mac.tokens.clone());
        visit::visit_macro(self, mac);
    }

    fn visit_attribute(&mut self, attribute: &'ast syn::Attribute) {
        if let syn::Meta::List(list) = &attribute.meta {
            self.tokens(list.tokens.clone());
        }
        visit::visit_attribute(self, attribute);
    }
}

struct Macros {
    names: &'static [&'static str],
    found: Vec<(usize, String)>,
}

impl<'ast> Visit<'ast> for Macros {
    fn visit_item(&mut self, item: &'ast syn::Item) {
        if !is_test_only(attributes(item)) {
            visit::visit_item(self, item);
        }
    }

    fn visit_macro(&mut self, mac: &'ast syn::Macro) {
        let last = mac
            .path
            .segments
            .last()
            .map(|segment| segment.ident.to_string());
        let named = last.filter(|name| self.names.contains(&name.as_str()));
        self.found
            .extend(named.map(|name| (line(mac.span()), name)));
        visit::visit_macro(self, mac);
    }
}

/// Makes `self::` and `super::` start at the crate's root.
fn resolve(module: &[String], names: &[String]) -> Vec<String> {
    let climbs = names
        .iter()
        .take_while(|name| *name == "super" || *name == "self");
    let climbs: Vec<&String> = climbs.collect();
    if climbs.is_empty() {
        return names.to_vec();
    }
    let up = climbs.iter().filter(|name| **name == "super").count();
    let mut full = vec!["crate".to_owned()];
    full.extend_from_slice(&module[..module.len().saturating_sub(up)]);
    full.extend_from_slice(&names[climbs.len()..]);
    full
}

/// The line that a span starts on.
pub fn line(span: Span) -> usize {
    span.start().line
}
