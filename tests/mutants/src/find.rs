//! Where a source file can be changed, and into what.

use crate::results;
use proc_macro2::Span;
use std::ops::Range;
use syn::spanned::Spanned;
use syn::visit::{self, Visit};
use syn::{Attribute, BinOp, Block, Expr, ItemFn, ReturnType, Signature, Stmt, UnOp};

/// How a change is put beside what stands there.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Form {
    /// The expression is another one.
    Instead,
    /// The statement is left out.
    LeftOut,
    /// The function returns at once.
    Returns,
    /// The arm of a match never matches; the guard it has must hold too.
    NoArm { guarded: bool },
}

/// A change.
#[derive(Clone, Debug)]
pub struct Mutant {
    /// What is changed, in bytes of the source.
    pub range: Range<usize>,
    /// What stands there instead.
    pub text: String,
    /// How it is put there.
    pub form: Form,
    /// The line, from 1.
    pub line: usize,
    /// The change in words.
    pub what: String,
}

/// Every change of a source, and how many functions cannot be changed, being evaluated by the
/// compiler too.
///
/// # Errors
///
/// The source is not Rust.
pub fn mutants(source: &str) -> Result<(Vec<Mutant>, usize), String> {
    let file = syn::parse_file(source).map_err(|error| error.to_string())?;
    let mut finder = Finder {
        source,
        found: Vec::new(),
        constant: 0,
    };
    finder.visit_file(&file);
    Ok((finder.found, finder.constant))
}

/// Methods that answer yes or no.
const ANSWERS: [&str; 14] = [
    "is_empty",
    "contains",
    "contains_key",
    "starts_with",
    "ends_with",
    "is_some",
    "is_none",
    "is_ok",
    "is_err",
    "is_some_and",
    "is_none_or",
    "any",
    "all",
    "exists",
];

/// Methods with an opposite.
const OPPOSITES: [(&str, &str); 4] = [
    ("min", "max"),
    ("first", "last"),
    ("any", "all"),
    ("saturating_sub", "saturating_add"),
];

struct Finder<'a> {
    source: &'a str,
    found: Vec<Mutant>,
    constant: usize,
}

impl Finder<'_> {
    fn text(&self, span: Span) -> &str {
        self.source.get(span.byte_range()).unwrap_or_default()
    }

    fn add(&mut self, span: Span, form: Form, text: String, what: String) {
        self.found.push(Mutant {
            range: span.byte_range(),
            text,
            form,
            line: span.start().line,
            what,
        });
    }

    fn instead(&mut self, whole: Span, text: String) {
        let what = format!("{} -> {}", one_line(self.text(whole)), one_line(&text));
        self.add(whole, Form::Instead, text, what);
    }

    /// The same expression, with something else in the place of a part of it.
    fn with(&mut self, whole: Span, part: Span, other: &str) {
        let (all, part) = (whole.byte_range(), part.byte_range());
        let before = self.source.get(all.start..part.start).unwrap_or_default();
        let behind = self.source.get(part.end..all.end).unwrap_or_default();
        let text = format!("{before}{other}{behind}");
        self.instead(whole, text);
    }

    fn function(&mut self, signature: &Signature, block: &Block) {
        let ReturnType::Type(_, kind) = &signature.output else {
            return self.returns(signature, block, "()");
        };
        for value in results::of(kind) {
            self.returns(signature, block, &value);
        }
    }

    fn returns(&mut self, signature: &Signature, block: &Block, value: &str) {
        // What does nothing already is not changed by doing nothing.
        let (Some(first), Some(last)) = (block.stmts.first(), block.stmts.last()) else {
            return;
        };
        let body = first.span().byte_range().start..last.span().byte_range().end;
        if self.source.get(body.clone()) == Some(value) {
            return;
        }
        self.found.push(Mutant {
            range: body,
            text: value.to_owned(),
            form: Form::Returns,
            line: signature.span().start().line,
            what: format!("{} returns {value}", signature.ident),
        });
    }

    fn condition(&mut self, condition: &Expr, opposite: bool) {
        let known = match condition {
            Expr::Let(_) | Expr::Macro(_) => true,
            Expr::Binary(_) => true,
            Expr::Unary(unary) => matches!(unary.op, UnOp::Not(_)),
            Expr::MethodCall(call) => answers(&call.method.to_string()),
            _ => false,
        };
        if known {
            return;
        }
        let span = condition.span();
        let text = match opposite {
            true => format!("!({})", self.text(span)),
            false => "false".to_owned(),
        };
        self.instead(span, text);
    }
}

fn answers(method: &str) -> bool {
    ANSWERS.contains(&method)
}

/// What stands in the place of an operator.
fn others(op: &BinOp) -> &'static [&'static str] {
    match op {
        BinOp::Eq(_) => &["!="],
        BinOp::Ne(_) => &["=="],
        BinOp::Lt(_) => &["<=", ">="],
        BinOp::Le(_) => &["<", ">"],
        BinOp::Gt(_) => &[">=", "<="],
        BinOp::Ge(_) => &[">", "<"],
        BinOp::And(_) => &["||"],
        BinOp::Or(_) => &["&&"],
        BinOp::Add(_) | BinOp::Div(_) => match op {
            BinOp::Add(_) => &["-"],
            _ => &["*"],
        },
        BinOp::Sub(_) => &["+"],
        BinOp::Mul(_) | BinOp::Rem(_) => &["/"],
        BinOp::BitAnd(_) => &["|"],
        BinOp::BitOr(_) | BinOp::BitXor(_) => &["&"],
        BinOp::Shl(_) => &[">>"],
        BinOp::Shr(_) => &["<<"],
        BinOp::AddAssign(_) => &["-="],
        BinOp::SubAssign(_) => &["+="],
        BinOp::MulAssign(_) => &["/="],
        BinOp::DivAssign(_) => &["*="],
        _ => &[],
    }
}

/// Whether a condition is a chain that binds something, which can stand nowhere else.
fn binds(expr: &Expr) -> bool {
    match expr {
        Expr::Let(_) => true,
        Expr::Binary(binary) => binds(&binary.left) || binds(&binary.right),
        _ => false,
    }
}

fn is_test(attributes: &[Attribute]) -> bool {
    attributes.iter().any(|attribute| {
        let path = attribute.path();
        let list = attribute.meta.require_list();
        let tokens = list.map(|list| list.tokens.to_string());
        path.is_ident("test") || path.is_ident("cfg") && tokens.is_ok_and(|t| t.contains("test"))
    })
}

/// On one line, without the indents of the source.
fn one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

impl<'ast> Visit<'ast> for Finder<'_> {
    fn visit_item_mod(&mut self, item: &'ast syn::ItemMod) {
        if !is_test(&item.attrs) {
            visit::visit_item_mod(self, item);
        }
    }

    fn visit_item_fn(&mut self, item: &'ast ItemFn) {
        if is_test(&item.attrs) {
            return;
        }
        if item.sig.constness.is_some() {
            self.constant += 1;
            return;
        }
        self.function(&item.sig, &item.block);
        visit::visit_item_fn(self, item);
    }

    fn visit_impl_item_fn(&mut self, item: &'ast syn::ImplItemFn) {
        if item.sig.constness.is_some() {
            self.constant += 1;
            return;
        }
        self.function(&item.sig, &item.block);
        visit::visit_impl_item_fn(self, item);
    }

    // Evaluated by the compiler, or no code.
    fn visit_item_const(&mut self, _: &'ast syn::ItemConst) {}
    fn visit_item_static(&mut self, _: &'ast syn::ItemStatic) {}
    fn visit_impl_item_const(&mut self, _: &'ast syn::ImplItemConst) {}
    fn visit_type(&mut self, _: &'ast syn::Type) {}
    fn visit_pat(&mut self, _: &'ast syn::Pat) {}
    fn visit_attribute(&mut self, _: &'ast Attribute) {}

    fn visit_stmt(&mut self, stmt: &'ast Stmt) {
        let expr = match stmt {
            Stmt::Expr(expr, Some(_)) => Some(expr),
            _ => None,
        };
        let inner = match expr {
            Some(Expr::Try(tried)) => Some(&*tried.expr),
            other => other,
        };
        let acts = match inner {
            Some(Expr::Call(_) | Expr::MethodCall(_) | Expr::Assign(_)) => true,
            Some(Expr::Binary(binary)) => !others(&binary.op).is_empty(),
            _ => matches!(stmt, Stmt::Macro(_)),
        };
        if acts {
            let what = format!("{} -> nothing", one_line(self.text(stmt.span())));
            self.add(stmt.span(), Form::LeftOut, String::new(), what);
        }
        visit::visit_stmt(self, stmt);
    }

    fn visit_expr_binary(&mut self, binary: &'ast syn::ExprBinary) {
        if !binds(&binary.left) && !binds(&binary.right) {
            for other in others(&binary.op) {
                self.with(binary.span(), binary.op.span(), other);
            }
        }
        visit::visit_expr_binary(self, binary);
    }

    fn visit_expr_unary(&mut self, unary: &'ast syn::ExprUnary) {
        if matches!(unary.op, UnOp::Not(_) | UnOp::Neg(_)) {
            let text = self.text(unary.expr.span()).to_owned();
            self.instead(unary.span(), text);
        }
        visit::visit_expr_unary(self, unary);
    }

    fn visit_expr_macro(&mut self, call: &'ast syn::ExprMacro) {
        if call.mac.path.is_ident("matches") {
            let text = format!("!{}", self.text(call.span()));
            self.instead(call.span(), text);
        }
    }

    fn visit_expr_method_call(&mut self, call: &'ast syn::ExprMethodCall) {
        let method = call.method.to_string();
        if answers(&method) {
            let text = format!("!{}", self.text(call.span()));
            self.instead(call.span(), text);
        }
        for (one, other) in OPPOSITES {
            if method == one || method == other {
                let other = if method == one { other } else { one };
                self.with(call.span(), call.method.span(), other);
            }
        }
        visit::visit_expr_method_call(self, call);
    }

    fn visit_expr_if(&mut self, branch: &'ast syn::ExprIf) {
        self.condition(&branch.cond, true);
        visit::visit_expr_if(self, branch);
    }

    fn visit_expr_while(&mut self, turns: &'ast syn::ExprWhile) {
        self.condition(&turns.cond, false);
        visit::visit_expr_while(self, turns);
    }

    fn visit_expr_match(&mut self, matched: &'ast syn::ExprMatch) {
        let catches = matched.arms.last().is_some_and(|arm| match &arm.pat {
            syn::Pat::Wild(_) => true,
            // A name in small letters is bound, `None` is a case.
            syn::Pat::Ident(ident) => ident.ident.to_string().starts_with(char::is_lowercase),
            _ => false,
        });
        let arms = matched.arms.len();
        for (k, arm) in matched.arms.iter().enumerate() {
            if catches && k + 1 < arms {
                let guarded = arm.guard.is_some();
                let what = format!("arm {} -> none", one_line(self.text(arm.pat.span())));
                let span = arm.guard.as_ref().map(|(_, guard)| guard.span());
                let span = span.unwrap_or_else(|| arm.pat.span());
                self.add(span, Form::NoArm { guarded }, String::new(), what);
            }
            if let Some((_, guard)) = &arm.guard
                && !binds(guard)
            {
                self.instead(guard.span(), "true".to_owned());
            }
        }
        visit::visit_expr_match(self, matched);
    }
}
