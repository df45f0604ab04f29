//! The manual's pages and the shells' completions: every command has its page, every page the words
//! of `--help`, every shell each command.

use crate::rig::cli::Cli;

fn pages(cli: &Cli) -> Vec<String> {
    let list = cli.run(["man", "--list"]).ok();
    list.lines().map(str::to_owned).collect()
}

/// The arguments that ask for a page by the name that its file has.
fn asked(page: &str) -> Vec<&str> {
    std::iter::once("man")
        .chain(page.split('-').skip(1))
        .collect()
}

#[test]
fn every_command_of_the_help_has_a_page() {
    let cli = Cli::new();
    let pages = pages(&cli);
    let help = cli.run(["--help"]).ok();
    let commands = help.split("Commands:\n").nth(1).unwrap();
    let commands = commands.split("\n\n").next().unwrap();
    let names = commands
        .lines()
        .filter(|line| line.starts_with("  ") && !line.starts_with("   "));
    let mut count = 0;
    for name in names.filter_map(|line| line.split_whitespace().next()) {
        count += 1;
        let page = format!("rackside-{name}");
        assert!(
            name == "help" || pages.contains(&page),
            "no {page} in {pages:?}"
        );
    }
    assert!(count > 10, "{help}");
}

#[test]
fn every_page_opens_with_its_name_and_tells_what_help_tells() {
    let cli = Cli::new();
    for page in pages(&cli) {
        let text = cli.run(asked(&page)).ok();
        let title = format!(".TH {} 1 ", page.to_uppercase());
        assert!(text.contains(&title), "{page}: no {title:?} in\n{text}");
        let mut arguments = asked(&page);
        arguments.remove(0);
        arguments.push("--help");
        let help = cli.run(arguments).ok();
        for option in help
            .split_whitespace()
            .filter(|word| word.starts_with("--"))
        {
            let option = option.trim_end_matches([',', '.', ';', ')']);
            let spelt = option.replace('-', "\\-");
            assert!(text.contains(&spelt), "{page}: no {option}");
        }
    }
}

#[test]
fn the_first_page_carries_the_caution() {
    let text = Cli::new().run(["man"]).ok().replace("\\-", "-");
    for words in rackside::domain::words::caution::CAUTION {
        let found = text.contains(&words.replace('\'', "\\*(Aq"));
        assert!(found, "no {words:?} in\n{text}");
    }
}

#[test]
fn a_page_that_is_not_there_says_how_to_find_those_that_are() {
    let said = Cli::new().run(["man", "journal", "erase"]).refused(2);
    assert!(
        said.contains("'journal erase'") && said.contains("man --list"),
        "{said}"
    );
}

#[test]
fn each_shell_is_told_every_command() {
    let cli = Cli::new();
    for shell in ["bash", "fish", "zsh"] {
        let text = cli.run(["completions", shell]).ok();
        for page in pages(&cli) {
            let word = page.rsplit('-').next().unwrap();
            assert!(text.contains(word), "{shell}: no {word} of {page}");
        }
    }
}
