//! Bad surroundings: no home, one that cannot be written, closed and full outputs, few files,
//! little memory, an open umask. A clear message, an exit code, and nothing lost or left open.

use crate::rig::cli::{Cli, Ran};
use std::fs::File;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

const LIFTER: &str = "(format: 1, unit: Kg, place: \"home\", program: \"three_steps\")";

fn home() -> Cli {
    let cli = Cli::new();
    cli.write("config/lifter.ron", LIFTER);
    cli
}

#[test]
fn without_a_home_every_command_says_what_to_set() {
    let cli = Cli::new().env("HOME", "").env("RACKSIDE_HOME", "");
    for command in cli.commands() {
        let ran = cli.run(&command);
        let needs_none = ran.code() == Some(0) || ran.code() == Some(2);
        let told = ran.code() == Some(1) && ran.stderr.contains("set RACKSIDE_HOME=DIR");
        assert!(needs_none || told, "{command:?}: {}", ran.stderr);
    }
    let said = cli.run(["paths"]).refused(1);
    assert!(said.contains("HOME is not set"), "{said}");
    let said = cli.run(["--lines"]).refused(1);
    assert!(said.contains("HOME is not set"), "{said}");
}

/// XDG Base Directory Specification 0.8: unset or empty is the default, relative is ignored.
#[test]
fn empty_and_relative_directories_count_as_missing() {
    for given in ["", "relative/data", "./data", "~/data"] {
        let cli = Cli::new()
            .env("RACKSIDE_HOME", "")
            .env("XDG_DATA_HOME", given);
        let said = cli.run(["paths"]).ok();
        let wanted = cli.home().join(".local/share/rackside/journal");
        assert!(said.contains(wanted.to_str().unwrap()), "{given:?}: {said}");
    }
    let cli = Cli::new()
        .env("RACKSIDE_HOME", "")
        .env("XDG_DATA_HOME", "/elsewhere");
    assert!(
        cli.run(["paths"])
            .ok()
            .contains("/elsewhere/rackside/journal")
    );
}

/// Nobody, not even root, can make a folder there.
const NOWHERE: &str = "/proc/rackside";

#[test]
#[cfg(target_os = "linux")]
fn a_home_that_cannot_be_written_is_named_with_a_way_out() {
    let cli = Cli::new().env("RACKSIDE_HOME", NOWHERE);
    assert!(
        cli.run(["brief"]).ok().contains("week 1"),
        "reading goes on"
    );
    let said = cli.run(["--lines"]).refused(1);
    for wanted in [NOWHERE, "cannot lock", "set RACKSIDE_HOME=DIR"] {
        assert!(said.contains(wanted), "no {wanted:?} in {said}");
    }
}

#[test]
#[cfg(target_os = "linux")]
fn a_full_output_is_an_error_for_every_command() {
    let cli = home();
    for command in cli.commands() {
        let printed = cli.run(&command);
        let full = File::options().write(true).open("/dev/full").unwrap();
        let ran = cli.run_into(full, &command);
        if printed.stdout.is_empty() {
            assert_eq!(ran.code(), printed.code(), "{command:?}");
        } else {
            assert_eq!(ran.code(), Some(1), "{command:?}: {}", ran.stderr);
            let said = "rackside: cannot write the result: ";
            assert!(ran.stderr.contains(said), "{command:?}: {}", ran.stderr);
        }
    }
    let full = File::options().write(true).open("/dev/full").unwrap();
    let ran = cli.run_into(full, ["--lines"]);
    assert_eq!(ran.code(), Some(1), "{}", ran.stderr);
    assert!(
        ran.stderr.contains("cannot write the result"),
        "{}",
        ran.stderr
    );
}

#[test]
fn a_reader_that_went_away_or_no_output_at_all_ends_every_command_quietly() {
    let cli = home();
    let mut commands = cli.commands();
    commands.push(vec!["--lines".to_owned()]);
    for command in commands {
        let (reader, writer) = std::io::pipe().unwrap();
        drop(reader);
        let gone = cli
            .command(&command)
            .stdin(Stdio::null())
            .stdout(writer)
            .output();
        let gone = Ran::from(gone.unwrap());
        assert!(
            gone.code() == Some(0) || gone.code() == Some(2),
            "{command:?}: {}",
            gone.stderr
        );
        assert!(
            !gone.stderr.contains("panicked"),
            "{command:?}: {}",
            gone.stderr
        );
        let closed = under(&cli, "exec \"$@\" <&- >&- 2>&-", &command)
            .output()
            .unwrap();
        let closed = closed.status.code();
        assert!(matches!(closed, Some(0..=2)), "{command:?}: {closed:?}");
    }
}

/// The program under a shell that does something first: `"$@"` is the program.
fn under<S: AsRef<str>>(cli: &Cli, script: &str, arguments: &[S]) -> Command {
    let program = cli.command::<&str>([]);
    let mut shell = Command::new("/bin/sh");
    shell
        .env_clear()
        .args(["-c", script, "sh"])
        .arg(program.get_program());
    for (name, value) in program.get_envs() {
        if let Some(value) = value {
            shell.env(name, value);
        }
    }
    shell.args(arguments.iter().map(AsRef::as_ref));
    shell
}

/// A session in lines under a shell that does something first: so many lines at once, and these
/// once the session is drawn up, however long that takes.
fn session(first: &str, (at_once, then): (&str, &str)) -> String {
    format!(
        "({at_once} until grep -q 'Enter: start' \"$HOME/said\" || [ -e \"$HOME/ended\" ]; \
         do sleep 0.1; done; {then}) 2>/dev/null | \
         ( ({first}; exec \"$@\") >\"$HOME/said\"; : >\"$HOME/ended\"); cat \"$HOME/said\""
    )
}

/// However few files may be open, nothing is called recorded that is not read back.
#[test]
#[cfg(target_os = "linux")]
fn few_open_files_never_make_a_false_record() {
    let run = |limit: u32| {
        let cli = home();
        let a_set = "echo; sleep 2.2; echo 4; sleep 0.6";
        let script = session(&format!("ulimit -n {limit}"), ("", a_set));
        let output = under(&cli, &script, &["--lines"]).output().unwrap();
        let ran = Ran::from(output);
        assert!(!ran.stderr.contains("panicked"), "{limit}: {}", ran.stderr);
        let after = ran.stdout.split("set 1: ").nth(1).unwrap_or_default();
        let recorded = after.contains("all recorded");
        let listed = cli.run(["journal", "list", "--json"]).ok().lines().count();
        assert!(
            listed == 1 || !recorded,
            "{limit}: said to be recorded\n{}",
            ran.stdout
        );
        let told = !ran.stderr.is_empty() || after.contains("NOT SAVED");
        assert!(
            recorded || told,
            "{limit}: nothing was said\n{}",
            ran.stdout
        );
        recorded
    };
    let runs: Vec<_> = [4, 5, 6, 7, 8, 12, 64]
        .map(|l| std::thread::spawn(move || run(l)))
        .into();
    let recorded: Vec<bool> = runs.into_iter().map(|run| run.join().unwrap()).collect();
    assert!(!recorded[0] && recorded[6], "{recorded:?}");
}

/// With too little memory it ends, and the journal is as it was.
#[test]
#[cfg(target_os = "linux")]
fn little_memory_leaves_the_journal_as_it_was() {
    let cli = Cli::new();
    let folder = cli.home().to_str().unwrap().to_owned();
    let wrote = ["demo", "--write-only", "--home", &folder, "--sets", "4000"];
    cli.run(wrote).ok();
    let before = journal(cli.home());
    let mut ended = Vec::new();
    for kib in [40_000, 60_000, 100_000, 2_000_000] {
        let script = format!("ulimit -v {kib}; exec \"$@\"");
        let output = under(&cli, &script, &["brief"]).output().unwrap();
        let said = String::from_utf8_lossy(&output.stderr).into_owned();
        assert!(
            output.status.success() || !said.is_empty(),
            "{kib}: {}",
            output.status
        );
        ended.push(output.status.success());
    }
    assert!(ended[3], "with enough it works");
    assert_eq!(journal(cli.home()), before);
}

fn journal(home: &Path) -> Vec<(PathBuf, Vec<u8>)> {
    let files = files(&home.join("data/journal"));
    files
        .into_iter()
        .map(|path| (path.clone(), std::fs::read(path).unwrap()))
        .collect()
}

/// All files and folders below one, itself first.
fn files(root: &Path) -> Vec<PathBuf> {
    let mut found = vec![];
    let mut open = vec![root.to_owned()];
    while let Some(path) = open.pop() {
        if path.is_dir() {
            open.extend(
                std::fs::read_dir(&path)
                    .unwrap()
                    .map(|entry| entry.unwrap().path()),
            );
        }
        found.push(path);
    }
    found.retain(|path| path != root && path.is_file());
    found.sort();
    found
}

/// What a first run and a session leave behind is for its owner alone, and the log holds nothing
/// that a person wrote.
#[test]
fn files_are_private_whatever_the_umask_and_the_log_holds_no_text_of_a_person() {
    use std::os::unix::fs::PermissionsExt;
    const MARK: &str = "ZINNOBERROT";
    let outer = Cli::new();
    let home = outer.home().join("new");
    let cli = Cli::new().env("RACKSIDE_HOME", home.to_str().unwrap());
    let a_set = "echo; sleep 2.2; echo 4; echo n; echo MARK; echo g; sleep 0.6; echo q";
    let a_set = a_set.replace("MARK", MARK);
    let script = session("umask 000", ("echo; echo; echo; echo;", &a_set));
    let ran = Ran::from(under(&cli, &script, &["--lines"]).output().unwrap());
    assert!(
        ran.stdout.contains("note kept"),
        "{}\n{}",
        ran.stdout,
        ran.stderr
    );
    for command in cli.commands() {
        drop(
            under(&cli, "umask 000; exec \"$@\"", &command)
                .stdin(Stdio::null())
                .output(),
        );
    }
    let all = files(&home);
    for wanted in ["lifter.ron", "prefs.ron", "device.ron", "draft.ron", "log"] {
        let is = |path: &&PathBuf| path.ends_with(wanted);
        assert!(all.iter().any(|path| is(&path)), "no {wanted} in {all:?}");
    }
    for path in &all {
        for path in path.ancestors().take_while(|path| path.starts_with(&home)) {
            let open = std::fs::metadata(path).unwrap().permissions().mode() & 0o077;
            assert_eq!(open, 0, "{}", path.display());
        }
    }
    let log = std::fs::read_to_string(home.join("state/log")).unwrap();
    assert!(log.contains("started") && log.contains("left"), "{log}");
    assert!(!log.contains(MARK) && !log.contains("quat"), "{log}");
    let noted = |path: &&PathBuf| {
        std::fs::read_to_string(path)
            .unwrap_or_default()
            .contains(MARK)
    };
    let holding: Vec<_> = all.iter().filter(noted).collect();
    assert!(
        holding
            .iter()
            .all(|path| path.starts_with(home.join("data"))),
        "{holding:?}"
    );
}

/// The log does not grow for ever.
#[test]
fn a_large_log_loses_its_older_half() {
    let cli = home().stdin("q\n");
    let old: String = (0..5_000)
        .map(|k| format!("line {k} of an old log\n"))
        .collect();
    cli.write("state/log", &old);
    cli.run(["--lines"]).ok();
    let log = cli.read("state/log");
    assert!(log.len() < old.len() / 2 + 1_000, "{}", log.len());
    assert!(log.starts_with("line ") && log.contains("line 4999 of an old log\n"));
    assert!(
        log.contains("started") && log.ends_with("left\n"),
        "{}",
        &log[log.len() - 200..]
    );
}
