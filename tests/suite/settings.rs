//! Where settings come from: options over the environment over what was kept over what is usual.

use crate::rig::cli::Cli;
use crate::rig::pty::Pty;
use rackside::domain::history::{Ground, Prefs};
use rackside::domain::words::Letters;
use rackside::shell::{Flags, Form, Origin, Settings, When};

/// Variables and their values.
type Variables<'v> = &'v [(&'v str, &'v str)];

fn settle(flags: Flags, environment: Variables<'_>, prefs: Prefs) -> Settings {
    let value = |name: &str| {
        let found = environment.iter().find(|(known, _)| *known == name);
        found.map(|(_, value)| (*value).into())
    };
    Settings::settle(flags, value, prefs)
}

/// `NO_COLOR` as no-color.org says: any value that is not empty; before `CLICOLOR_FORCE` before
/// `CLICOLOR`; an option before them all.
#[test]
fn colours_are_settled_as_the_conventions_say() {
    let (always, never, auto) = (When::Always, When::Never, When::Auto);
    let matrix: [(When, Variables, bool); 14] = [
        (auto, &[], true),
        (auto, &[("NO_COLOR", "1")], false),
        (auto, &[("NO_COLOR", "0")], false),
        (auto, &[("NO_COLOR", "")], true),
        (auto, &[("NO_COLOR", "1"), ("CLICOLOR_FORCE", "1")], false),
        (auto, &[("CLICOLOR_FORCE", "1"), ("CLICOLOR", "0")], true),
        (auto, &[("CLICOLOR_FORCE", "0"), ("CLICOLOR", "0")], false),
        (auto, &[("CLICOLOR_FORCE", ""), ("CLICOLOR", "0")], false),
        (auto, &[("CLICOLOR", "0")], false),
        (auto, &[("CLICOLOR", "1")], true),
        (always, &[("NO_COLOR", "1"), ("CLICOLOR", "0")], true),
        (never, &[("CLICOLOR_FORCE", "1")], false),
        (always, &[], true),
        (never, &[], false),
    ];
    for (colour, environment, wanted) in matrix {
        let flags = Flags {
            colour,
            ..Flags::default()
        };
        let environment = [environment, &[("TERM", "xterm")]].concat();
        let settings = settle(flags, &environment, Prefs::default());
        assert_eq!(settings.colour.value, wanted, "{colour:?} {environment:?}");
        assert_eq!(
            settings.ground.value == Ground::Plain,
            !wanted,
            "{environment:?}"
        );
    }
}

#[test]
fn an_option_holds_over_a_variable_over_what_was_kept() {
    let kept = Prefs {
        ground: Some(Ground::Light),
        ..Prefs::default()
    };
    let variable = [("TERM", "xterm"), ("RACKSIDE_THEME", "plain")];
    let flag = Flags {
        ground: Some(Ground::Dark),
        ..Flags::default()
    };
    let steps = [
        (
            flag,
            &variable[..],
            kept,
            Ground::Dark,
            Origin::Flag("--theme"),
        ),
        (
            Flags::default(),
            &variable,
            kept,
            Ground::Plain,
            Origin::Variable("RACKSIDE_THEME"),
        ),
        (
            Flags::default(),
            &variable[..1],
            kept,
            Ground::Light,
            Origin::Prefs,
        ),
        (
            Flags::default(),
            &variable[..1],
            Prefs::default(),
            Ground::Dark,
            Origin::Usual,
        ),
    ];
    for (flags, environment, prefs, ground, origin) in steps {
        let found = settle(flags, environment, prefs).ground;
        assert_eq!((found.value, found.origin), (ground, origin));
    }
    let hint = [("TERM", "xterm"), ("COLORFGBG", "0;15")];
    assert_eq!(
        settle(Flags::default(), &hint, Prefs::default())
            .ground
            .value,
        Ground::Light
    );
}

/// The first of `LC_ALL`, `LC_CTYPE` and `LANG` that is set and not empty decides (POSIX).
#[test]
fn letters_follow_the_locale() {
    let ascii = Letters::Ascii;
    let cases: [(Variables, Letters); 6] = [
        (&[("LC_ALL", "C"), ("LANG", "en_GB.UTF-8")], ascii),
        (&[("LC_ALL", ""), ("LANG", "en_GB.UTF-8")], Letters::Unicode),
        (
            &[("LC_CTYPE", "de_DE.utf8"), ("LANG", "C")],
            Letters::Unicode,
        ),
        (&[("LANG", "de_DE.ISO-8859-1")], ascii),
        (&[("LANG", "POSIX")], ascii),
        (&[], ascii),
    ];
    for (environment, wanted) in cases {
        let found = settle(Flags::default(), environment, Prefs::default()).letters;
        assert_eq!(found.value, wanted, "{environment:?}");
    }
}

#[test]
fn a_terminal_that_can_do_nothing_gets_lines() {
    for (term, form) in [
        ("dumb", Form::Lines),
        ("", Form::Lines),
        ("xterm", Form::Screen),
    ] {
        let found = settle(Flags::default(), &[("TERM", term)], Prefs::default()).form;
        assert_eq!(found.value, form, "{term:?}");
    }
}

#[test]
fn the_command_says_what_holds_and_why() {
    let cli = Cli::new().env("NO_COLOR", "1").env("TERM", "xterm");
    let said = cli.run(["settings", "--ascii"]).ok();
    let row = |name: &str| said.lines().find(|line| line.starts_with(name)).unwrap();
    assert!(
        row("colour").contains("off    the variable NO_COLOR"),
        "{said}"
    );
    assert!(row("ascii").contains("on     the option --ascii"), "{said}");
    assert!(row("sound").contains("on     as usual"), "{said}");
    cli.write("state/prefs.ron", "(mute: true, ground: Some(\"light\"))");
    let said = cli.run(["settings", "--color=always"]).ok();
    assert!(said.contains("theme     light  prefs.ron"), "{said}");
    assert!(said.contains("sound     off    prefs.ron"), "{said}");
}

#[test]
fn ascii_is_for_people_and_json_stays_as_it_is() {
    for cli in [Cli::new().env("LANG", "C"), Cli::new().env("LC_ALL", "C")] {
        let said = cli.run(["brief"]);
        assert!(
            said.stdout.is_ascii() && said.stderr.is_ascii(),
            "{}",
            said.stdout
        );
        assert!(said.stdout.contains(" x "), "{}", said.stdout);
    }
    let cli = Cli::new();
    assert!(!cli.run(["brief"]).ok().is_ascii());
    assert!(cli.run(["brief", "--ascii"]).ok().is_ascii());
    cli.write(
        "config/lifter.ron",
        "(format: 1, unit: Kg, place: \"home\", program: \"own\")",
    );
    cli.write("config/programs/own.ron", &OWN.replace("NAME", "Größe"));
    let plain = cli.run(["brief", "--json"]).ok();
    assert!(plain.contains("Größe"), "{plain}");
    assert_eq!(cli.run(["brief", "--json", "--ascii"]).ok(), plain);
    assert!(cli.run(["brief", "--ascii"]).ok().contains("Grose"));
}

const OWN: &str = r#"(format: 1, name: "Own", rhythm: Rotation(per_week: 3),
    phases: [(name: "A", weeks: 4, days: [(name: "NAME", slots: [
        (exercise: "push_up", sets: 3, reps: "8", rest: "1:00-1:30")])])])"#;

/// Letters in colour, on the screen alone: commands print none whatever is asked for.
#[test]
fn the_screen_has_colours_or_none_and_commands_never() {
    let coloured = |more: &[(&str, &str)]| {
        let cli = Cli::new();
        let mut pty = Pty::start_with(cli.home(), more);
        pty.wait("question 1 of 4");
        pty.keys("q");
        assert_eq!(pty.exit(), 0);
        let bytes = String::from_utf8_lossy(&pty.bytes()).into_owned();
        ["\x1b[3", "\x1b[4", "\x1b[9"].iter().any(|begin| {
            let sequences = bytes.split(begin).skip(1);
            sequences
                .filter_map(|s| s.split_once('m'))
                .any(|(inside, _)| {
                    let digits = |c: char| c.is_ascii_digit() || c == ';';
                    inside.starts_with(|c: char| ('0'..='8').contains(&c))
                        && inside.chars().all(digits)
                })
        })
    };
    assert!(coloured(&[]));
    assert!(!coloured(&[("NO_COLOR", "1")]));
    assert!(!coloured(&[("CLICOLOR", "0")]));
    let cli = Cli::new().env("CLICOLOR_FORCE", "1");
    for command in [
        &["brief"][..],
        &["gear"],
        &["--help"],
        &["paths"],
        &["settings"],
    ] {
        let arguments = command.iter().copied().chain(["--color=always"]);
        let said = cli.run(arguments);
        assert!(
            !said.stdout.contains('\x1b') && !said.stderr.contains('\x1b'),
            "{command:?}"
        );
    }
}

#[test]
fn what_is_kept_can_be_set_from_the_command_line() {
    let cli = Cli::new();
    let row = |name: &str| {
        let said = cli.run(["settings"]).ok();
        let line = said
            .lines()
            .find(|line| line.starts_with(name))
            .map(str::to_owned);
        line.expect("a row")
            .split_whitespace()
            .skip(1)
            .collect::<Vec<_>>()
            .join(" ")
    };
    assert_eq!(row("volume"), "100 as usual");
    for (name, value, shown) in [
        ("volume", "60", "60 prefs.ron"),
        ("sound", "off", "off prefs.ron"),
        ("big", "off", "off prefs.ron"),
        ("sound", "on", "on as usual"),
    ] {
        assert_eq!(cli.run(["settings", name, value]).ok(), "");
        assert_eq!(row(name), shown);
    }
    assert_eq!(row("volume"), "60 prefs.ron", "the others stay");
    for value in ["101", "-1", "loud", ""] {
        let said = cli.run(["settings", "volume", "--", value]).refused(2);
        assert!(said.contains("0 to 100"), "{said}");
    }
    let said = cli.run(["settings", "sound", "maybe"]).refused(2);
    assert!(said.contains("on or off"), "{said}");
}

/// A key that sets something in a session leaves what another process has set since.
#[test]
fn what_another_process_sets_during_a_session_stays() {
    let cli = Cli::new();
    cli.write(
        "config/lifter.ron",
        "(format: 1, unit: Kg, place: \"home\", program: \"own\")",
    );
    cli.write("config/programs/own.ron", OWN);
    let mut pty = Pty::start_with(cli.home(), &[]);
    pty.wait("Enter start");
    assert_eq!(cli.run(["settings", "volume", "60"]).ok(), "");
    pty.keys("g");
    pty.wait("ground: light");
    pty.keys("q");
    assert_eq!(pty.exit(), 0);
    let said = cli.run(["settings", "--color=always"]).ok();
    assert!(said.contains("volume    60     prefs.ron"), "{said}");
    assert!(said.contains("theme     light  prefs.ron"), "{said}");
}
