//! Hostile text (from a friend's file or the web) is refused or neutral on every way out: standard
//! output, messages, the screen, the window's title, the lines.

use crate::rig::cli::Cli;
use crate::rig::pty::Pty;
use crate::rig::script::Script;
use rackside::domain::session::{Event, EventId, Stamped};
use rackside::formats::journal;
use rackside::ui::title;

/// Sets the title, clears the screen by a C1 control, turns text round, hides, marks up, counts.
const HOSTILE: &str = "\u{1b}]0;pwned\u{7}\u{9b}2J\u{202e}eman\u{200b}\u{2066}<b>=1+1";

/// The characters of it that steer or hide.
const STEERING: [char; 6] = [
    '\u{1b}', '\u{7}', '\u{9b}', '\u{202e}', '\u{200b}', '\u{2066}',
];

#[track_caller]
fn assert_neutral(text: &str, what: &str) {
    let steers = |c: &char| (c.is_control() && *c != '\n') || STEERING.contains(c);
    let found: Vec<char> = text.chars().filter(steers).collect();
    assert!(found.is_empty(), "{what}: {found:?} in {text:?}");
}

/// The text as RON spells it.
fn ron(text: &str) -> String {
    text.chars()
        .map(|c| c.escape_unicode().to_string())
        .collect()
}

/// A home with a session that is on: every name in it that a journal can hold is hostile.
fn home() -> Cli {
    let cli = Cli::new();
    cli.write(
        "config/lifter.ron",
        "(format: 1, unit: Kg, place: \"club\", program: \"three_steps\")",
    );
    let now = rackside::shell::now().civil;
    let mut events: Vec<Stamped> = Script::known().keys("<enter>").journal;
    events.drain(..events.len() - 1);
    let mut opened = events.pop().expect("opened");
    opened.at = now;
    if let Event::Opened(opened) = &mut opened.event {
        opened.plan.day_name = HOSTILE.to_owned();
        opened.plan.phase_name = HOSTILE.to_owned();
        for item in &mut opened.plan.items {
            item.reason = HOSTILE.to_owned();
        }
    }
    let note = Stamped {
        id: EventId("elsewhere-run-2".to_owned()),
        n: opened.n + 1,
        event: Event::Note {
            text: HOSTILE.to_owned(),
        },
        ..opened.clone()
    };
    let lines = [opened, note].map(|event| journal::write_line(&event).expect("a line"));
    let year = now.year();
    cli.write(
        &format!("data/journal/{year}-elsewhere.ron"),
        &lines.concat(),
    );
    // And what nothing of ours wrote.
    let foreign = format!("{HOSTILE}\n(v:1,id:\"{HOSTILE}\")\n");
    cli.write(&format!("data/journal/{year}-foreign.ron"), &foreign);
    cli
}

#[test]
fn no_command_lets_it_through() {
    let cli = home();
    let commands = cli.commands();
    assert!(commands.len() >= 8, "{commands:?}");
    for command in commands {
        for more in [&[][..], &["--json"], &["--ascii"], &[HOSTILE]] {
            let arguments = command
                .iter()
                .map(String::as_str)
                .chain(more.iter().copied());
            let ran = cli.run(arguments);
            // Lines of a calendar end in CR LF.
            let stdout = ran.stdout.replace("\r\n", "\n");
            assert_neutral(&stdout, &format!("{command:?} {more:?}"));
            assert_neutral(&ran.stderr, &format!("{command:?} {more:?}"));
            assert!(
                ran.code().is_some_and(|code| code < 100),
                "{command:?}: {}",
                ran.stderr
            );
        }
    }
    let listed = cli.run(["journal", "list"]);
    assert!(
        listed.ok().contains("=1+1"),
        "the session is listed, its name made harmless"
    );
}

#[test]
fn the_screen_and_its_title_do_not_let_it_through() {
    let cli = home();
    let pty = Pty::start(cli.home());
    let screen = pty.wait("set 1 of");
    assert!(
        screen.contains("=1+1"),
        "the name is on the screen\n{screen}"
    );
    assert_neutral(&screen, "the screen");
    let bytes = pty.bytes();
    let text = String::from_utf8_lossy(&bytes);
    for steering in STEERING.into_iter().filter(|c| !"\u{1b}\u{7}".contains(*c)) {
        assert!(
            !text.contains(steering),
            "{steering:?} went to the terminal"
        );
    }
    assert!(!text.contains("\u{1b}]0;pwned"), "the title was set");
}

#[test]
fn the_lines_do_not_let_it_through() {
    let cli = home().stdin("now\nc\n\nn\n\u{1b}]0;pwned\u{7}\n");
    let ran = cli.run(["--lines"]);
    assert!(ran.stdout.contains("1 of"), "{}", ran.stdout);
    assert_neutral(&ran.stdout, "lines");
    assert_neutral(&ran.stderr, "lines");
}

#[test]
fn a_name_cannot_end_the_title() {
    let mut script = Script::known().keys("<enter>");
    let mut desk = (*script.model.desk).clone();
    let hostile = |exercise: &rackside::domain::exercise::Exercise| {
        let mut exercise = exercise.clone();
        exercise.name = HOSTILE.to_owned();
        exercise
    };
    let exercises: Vec<_> = desk.catalogue.iter().map(hostile).collect();
    desk.catalogue = rackside::domain::exercise::Catalogue::new(exercises);
    script.model.desk = std::sync::Arc::new(desk);
    assert_neutral(&title(&script.model, script.now), "the title");
    for size in [(60, 20), (80, 24), (120, 40), (200, 60)] {
        assert_neutral(&script.screen_of(size.0, size.1), "the screen");
    }
}

/// A file that a person was sent: refused, with its place, and the message is harmless.
#[test]
fn files_that_hold_it_are_refused() {
    let program = |name: &str| {
        format!(
            "(format: 1, name: \"{name}\", rhythm: Rotation(per_week: 3), phases: [(name: \"A\", \
             weeks: 4, days: [(name: \"D\", slots: [(exercise: \"push_up\", sets: 3, reps: \"8\", \
             rest: \"1:00-1:30\")])])])"
        )
    };
    let lifter =
        |program: &str| format!("(format: 1, unit: Kg, place: \"home\", program: \"{program}\")");
    let files = [
        ("config/programs/sent.ron", program(HOSTILE)),
        ("config/programs/sent.ron", program(&ron(HOSTILE))),
        ("config/lifter.ron", lifter(HOSTILE)),
        ("config/lifter.ron", lifter(&ron(HOSTILE))),
        (
            "config/places/sent.ron",
            format!("(format: 1, name: \"{}\", unit: Kg)", ron(HOSTILE)),
        ),
        (
            "config/exercises.ron",
            format!("(format: 1, exercises: [(id: \"{}\")])", ron(HOSTILE)),
        ),
        ("config/places/sent.ron", HOSTILE.repeat(50)),
    ];
    for (path, text) in files {
        let cli = Cli::new();
        cli.write(path, &text);
        let ran = cli.run(["brief"]);
        assert_eq!(ran.code(), Some(3), "{path}: {text:?}\n{}", ran.stderr);
        assert_neutral(&ran.stderr, path);
        let file = path.rsplit('/').next().unwrap();
        assert!(ran.stderr.contains(file), "{}", ran.stderr);
    }
}

/// A spreadsheet that a person was sent: its cells are shown, and named in the file beside it.
#[test]
fn a_spreadsheet_does_not_let_it_through() {
    let cli = Cli::new();
    let quoted = format!("\"{}\"", HOSTILE.replace('"', "\"\""));
    let text = format!(
        "date,exercise,load,reps,notes,{quoted}\n2024-03-04,goblet squat,20 kg,8,{quoted},\n\
         2024-03-04,{quoted},20 kg,8,,\n{quoted},goblet squat,{quoted},{quoted},,\n"
    );
    cli.write("sheet.csv", &text);
    let file = cli.home().join("sheet.csv");
    let file = file.to_str().unwrap();
    for more in [&[][..], &["--json"], &["--record"], &["--columns", HOSTILE]] {
        let ran = cli.run(["import", "csv", file].iter().chain(more));
        assert_neutral(&ran.stdout, "import");
        assert_neutral(&ran.stderr, "import");
        assert!(ran.code().is_some_and(|code| code > 1), "{}", ran.stderr);
    }
    let names = cli.read("sheet.names.ron");
    assert_neutral(&names, "the names file");
    let named = cli.home().join("sheet.names.ron");
    let ran = cli.run(["import", "csv", file, "--names", named.to_str().unwrap()]);
    assert!(
        ran.stderr.contains("does not say what these are yet"),
        "{}",
        ran.stderr
    );
    assert!(cli.run(["journal", "list"]).ok().contains("goblet_squat"));
}

#[test]
fn names_of_files_and_folders_are_harmless_too() {
    let outer = Cli::new();
    let home = outer.home().join(HOSTILE.replace('/', ""));
    std::fs::create_dir_all(home.join("config/programs")).unwrap();
    std::fs::write(
        home.join("config/programs").join(format!("{HOSTILE}.ron")),
        "(",
    )
    .unwrap();
    let cli = Cli::new().env("RACKSIDE_HOME", home.to_str().unwrap());
    for command in cli.commands() {
        let ran = cli.run(&command);
        assert_neutral(&ran.stdout, &format!("{command:?}"));
        assert_neutral(&ran.stderr, &format!("{command:?}"));
    }
}
