//! `rackside man`: the manual's pages, made from the same words as `--help`.

use super::{Exit, Failure, grammar};
use clap::Command;
use clap_mangen::Man;
use std::io::Write;

/// Prints a page of the manual, in the form that `man` reads.
///
/// To read one at once: rackside man | man -l -
#[derive(Debug, clap::Args)]
pub struct Arguments {
    /// The command whose page is wanted, such as: journal check
    #[arg(value_name = "COMMAND")]
    command: Vec<String>,
    /// Names of all pages instead, one a line.
    #[arg(long, conflicts_with = "command")]
    list: bool,
}

/// Prints one page, or the names of all.
pub fn run(arguments: &Arguments, out: &mut dyn Write) -> Result<Exit, Failure> {
    let mut whole = grammar();
    whole.build();
    if arguments.list {
        for name in names(&whole) {
            writeln!(out, "{name}")?;
        }
        return Ok(Exit::Done);
    }
    let found = find(&whole, &arguments.command)?;
    let name = found.get_display_name().unwrap_or(found.get_name());
    let page = Man::new(found.clone())
        .title(name.to_uppercase())
        .source(concat!("rackside ", env!("CARGO_PKG_VERSION")))
        .date(GONE_OVER)
        .manual("rackside");
    let mut text = Vec::new();
    page.render(&mut text)?;
    out.write_all(tidied(&String::from_utf8_lossy(&text)).as_bytes())?;
    Ok(Exit::Done)
}

/// The day on which the words of the manual were last gone over.
const GONE_OVER: &str = "2026-11-28";

/// The library parts a text from its values by two breaks around an empty line, at which linters
/// of the language stumble: one space says the same.
fn tidied(page: &str) -> String {
    page.replace("\n.br\n\n.br\n", "\n.sp\n")
}

/// The names of a command's page and of all below it, as files are called: words joined by `-`.
fn names(command: &Command) -> Vec<String> {
    let own = command.get_display_name().unwrap_or(command.get_name());
    let below = command
        .get_subcommands()
        .filter(|each| each.get_name() != "help")
        .flat_map(names);
    std::iter::once(own.to_owned()).chain(below).collect()
}

fn find<'a>(whole: &'a Command, words: &[String]) -> Result<&'a Command, Failure> {
    let mut at = whole;
    for word in words {
        at = at.find_subcommand(word).ok_or_else(|| {
            Failure::usage(format!(
                "rackside: there is no command '{}'\nSee 'rackside man --list' for all pages.",
                words.join(" ")
            ))
        })?;
    }
    Ok(at)
}
