//! A source with all of its changes in it, each behind its number.

use crate::find::{Form, Mutant};
use std::ops::Range;

/// A change with its number.
#[derive(Clone, Debug)]
pub struct Numbered {
    /// Its number: that of the switch.
    pub number: usize,
    /// The file, from the root of the repository.
    pub path: String,
    /// The change.
    pub mutant: Mutant,
}

/// Where a change lies in what was written.
pub struct Written {
    /// Its number.
    pub number: usize,
    /// All of it, with what it stands beside.
    pub whole: Range<usize>,
    /// What was put in before.
    pub before: Range<usize>,
}

/// Text that goes in between two bytes of the source. What opens further out goes first, what
/// closes further in too.
struct Put {
    at: usize,
    closes: bool,
    /// The length of what is enclosed.
    length: usize,
    number: usize,
    text: String,
}

/// The source with the changes, and where each lies.
pub fn rewrite(source: &str, mutants: &[&Numbered]) -> (String, Vec<Written>) {
    let mut puts: Vec<Put> = mutants.iter().flat_map(|mutant| puts(mutant)).collect();
    puts.sort_by_key(|put| {
        let inner = if put.closes {
            put.length
        } else {
            usize::MAX - put.length
        };
        let number = if put.closes {
            usize::MAX - put.number
        } else {
            put.number
        };
        (put.at, !put.closes, inner, number)
    });
    let (mut out, mut from) = (String::new(), 0);
    let mut written: Vec<Written> = Vec::new();
    for put in puts {
        out.push_str(source.get(from..put.at).unwrap_or_default());
        from = put.at;
        let begins = out.len();
        out.push_str(&put.text);
        if put.closes {
            let one = written.iter_mut().find(|one| one.number == put.number);
            if let Some(one) = one {
                one.whole.end = out.len();
            }
        } else {
            let before = begins..out.len();
            let (number, whole) = (put.number, before.clone());
            written.push(Written {
                number,
                whole,
                before,
            });
        }
    }
    out.push_str(source.get(from..).unwrap_or_default());
    (out, written)
}

fn puts(numbered: &Numbered) -> Vec<Put> {
    let Numbered { number, mutant, .. } = numbered;
    let text = &mutant.text;
    let on = format!("crate::mutant({number})");
    let (open, close) = match mutant.form {
        Form::Instead => (format!("(if {on} {{ {text} }} else {{ "), " })"),
        Form::LeftOut => (format!("if !{on} {{ "), " }"),
        Form::Returns => (format!("if {on} {{ return {text}; }} "), ""),
        Form::NoArm { guarded: true } => (format!("!{on} && ("), ")"),
        Form::NoArm { guarded: false } => (String::new(), ""),
    };
    let close = match mutant.form {
        Form::NoArm { guarded: false } => format!(" if !{on}"),
        _ => close.to_owned(),
    };
    let (at, end) = (mutant.range.start, mutant.range.end);
    let put = |at, closes, text| Put {
        at,
        closes,
        length: end - mutant.range.start,
        number: *number,
        text,
    };
    vec![put(at, false, open), put(end, true, close)]
}
