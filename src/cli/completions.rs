//! `rackside completions SHELL`: lets a shell complete commands and options.

use super::{Exit, Failure, grammar};
use clap::ValueEnum;
use clap_complete::aot::{self, Shell};
use std::io::Write;

/// Prints what a shell reads to complete rackside's commands and options.
///
/// For bash: rackside completions bash > ~/.local/share/bash-completion/completions/rackside
///
/// For zsh: rackside completions zsh > DIR/_rackside, with DIR a folder in $fpath
///
/// For fish: rackside completions fish > ~/.config/fish/completions/rackside.fish
#[derive(Debug, clap::Args)]
pub struct Arguments {
    /// The shell that will read it.
    shell: Kind,
}

/// The shells that are written for.
#[derive(Clone, Copy, Debug, ValueEnum)]
enum Kind {
    Bash,
    Fish,
    Zsh,
}

/// Prints the completions of one shell.
pub fn run(arguments: &Arguments, out: &mut dyn Write) -> Result<Exit, Failure> {
    let shell = match arguments.shell {
        Kind::Bash => Shell::Bash,
        Kind::Fish => Shell::Fish,
        Kind::Zsh => Shell::Zsh,
    };
    // The library expects a writer that never fails: into memory first.
    let mut text = Vec::new();
    aot::generate(shell, &mut grammar(), "rackside", &mut text);
    out.write_all(&text)?;
    Ok(Exit::Done)
}
