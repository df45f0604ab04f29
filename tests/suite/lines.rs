//! The line mode: the same session by numbered prompts, an event a line, no escape sequence.

use crate::rig::cli::Cli;
use crate::rig::patience;
use crate::rig::pty::Pty;
use serde_json::Value;
use std::io::{BufRead, BufReader, Write};
use std::process::{Child, ChildStdin, Stdio};
use std::sync::mpsc::{Receiver, channel};
use std::time::Duration;

const LIFTER: &str = "(format: 1, unit: Kg, place: \"home\", program: \"own\")";
const OWN: &str = r#"(format: 1, name: "Own", rhythm: Rotation(per_week: 3),
    phases: [(name: "A", weeks: 4, days: [(name: "Day 1", slots: [
        (exercise: "push_up", sets: 2, reps: "1-5", rest: "0:02-0:20"),
        (exercise: "plank", sets: 1, hold: "2-5", rest: "0:02-0:20"),
    ])])])"#;

/// The program reading lines from a pipe.
struct Talk {
    child: Child,
    input: Option<ChildStdin>,
    lines: Receiver<String>,
    heard: Vec<String>,
}

impl Talk {
    fn start(cli: &Cli) -> Self {
        let mut command = cli.command(["--lines"]);
        let mut child = command.stderr(Stdio::inherit()).spawn().expect("started");
        let output = BufReader::new(child.stdout.take().expect("a pipe"));
        let (tell, lines) = channel();
        std::thread::spawn(move || {
            for line in output.lines() {
                drop(tell.send(line.expect("text")));
            }
        });
        let input = child.stdin.take();
        Self {
            child,
            input,
            lines,
            heard: Vec::new(),
        }
    }

    fn say(&mut self, line: &str) {
        let input = self.input.as_mut().expect("open");
        writeln!(input, "{line}").expect("sent");
    }

    /// Waits for a line that holds this, and gives it.
    #[track_caller]
    fn hear(&mut self, wanted: &str) -> String {
        loop {
            let line = self.lines.recv_timeout(patience());
            let line = line.unwrap_or_else(|_| panic!("{wanted} not in {:#?}", self.heard));
            self.heard.push(line.clone());
            if line.contains(wanted) {
                return line;
            }
        }
    }

    fn end(mut self) -> (Option<i32>, Vec<String>) {
        drop(self.input.take());
        let code = self.child.wait().expect("ended").code();
        self.heard.extend(self.lines.iter());
        (code, self.heard)
    }
}

fn home() -> Cli {
    let cli = Cli::new();
    cli.write("config/lifter.ron", LIFTER);
    cli.write("config/programs/own.ron", OWN);
    cli
}

/// A record is not followed by another within two seconds: nobody lifts so fast.
fn breathe() {
    std::thread::sleep(Duration::from_millis(2_100));
}

#[test]
fn a_whole_session_in_lines_from_the_first_question_to_the_last() {
    let cli = Cli::new();
    cli.write("config/programs/own.ron", OWN);
    let mut talk = Talk::start(&cli);
    talk.hear("Strength work can hurt");
    talk.hear("question 1 of 4");
    talk.say("1");
    talk.hear("question 2 of 4");
    talk.say("72.5");
    talk.hear("question 3 of 4");
    talk.say("");
    talk.hear("question 4 of 4");
    let own = talk.hear("Own");
    let number = own.split(' ').next().unwrap().to_owned();
    talk.say(&number);
    talk.hear("1 Push-up");
    talk.say("");
    talk.hear("1 of 3: Push-up");
    breathe();
    talk.say("3.2");
    talk.hear("3, 2 spare");
    talk.hear("2 of 3: Push-up, set 2 of 2");
    talk.hear("all recorded");
    talk.hear("rest: OPEN, closes in");
    talk.say(".1");
    talk.hear("set 1: 1 spare");
    talk.say("now");
    talk.hear("1 set done, 2 to come");
    talk.say("gibberish");
    talk.hear("means nothing here");
    talk.say("/");
    let note = talk.hear("write a note");
    talk.say("99");
    talk.hear("the numbers go from 1 to");
    talk.say(note.split(' ').next().unwrap());
    talk.hear("the note");
    talk.say("felt 8 out of 10");
    talk.hear("note kept");
    talk.say("");
    talk.hear("3 of 3: Plank");
    breathe();
    talk.say("space");
    talk.hear("get set");
    talk.hear("1");
    talk.hear("hold now");
    talk.hear("session done");
    talk.say("7");
    talk.hear("session closed");
    talk.say("");
    let (code, heard) = talk.end();
    assert_eq!(code, Some(0));
    // The bell alone: it is how signs are given.
    let steering = |line: &String| line.chars().any(|c| c.is_control() && c != '\x07');
    assert!(!heard.iter().any(steering), "{heard:#?}");
    let listed = cli.run(["journal", "list", "--json"]).ok();
    let sets: Vec<Value> = listed
        .lines()
        .map(|l| serde_json::from_str(l).unwrap())
        .collect();
    assert_eq!(sets.len(), 3, "{listed}");
    assert_eq!(
        (&sets[0]["reps"], &sets[0]["spare"]),
        (&3.into(), &1.into())
    );
}

#[test]
fn the_end_of_the_input_leaves_and_the_session_waits() {
    let cli = home();
    let mut talk = Talk::start(&cli);
    talk.hear("Enter: start");
    talk.say("");
    talk.hear("1 of 3");
    breathe();
    talk.say("4");
    talk.hear("all recorded");
    assert_eq!(talk.end().0, Some(0));
    let mut talk = Talk::start(&cli);
    talk.hear("the session goes on where it was left");
    talk.hear("2 of 3");
    talk.say("q");
    assert_eq!(talk.end().0, Some(0));
}

#[test]
fn numbers_answer_questions_and_never_fall_through_to_the_floor() {
    let cli = home();
    let mut talk = Talk::start(&cli);
    talk.hear("Enter: start");
    talk.say("5");
    talk.hear("means nothing here");
    talk.say("");
    talk.hear("1 of 3");
    talk.say("p");
    talk.hear("10 a muscle");
    talk.say("11");
    talk.hear("the numbers go from 1 to 10");
    talk.say("10");
    talk.hear("which muscle?");
    talk.say("esc");
    talk.hear("1 of 3");
    talk.say("k");
    talk.hear("set skipped");
    talk.say("f");
    talk.hear("finish with");
    talk.say("1");
    talk.hear("session done");
    talk.say("q");
    let (code, _) = talk.end();
    assert_eq!(code, Some(0));
    assert_eq!(
        cli.run(["journal", "list", "--json"]).ok(),
        "",
        "no set was done"
    );
}

/// A terminal that can do nothing but print, or says nothing of itself, gets lines: no escape
/// sequence at all. Ctrl-D leaves.
#[test]
fn a_dumb_terminal_gets_lines_and_no_escape_sequence() {
    for term in ["dumb", ""] {
        let cli = home();
        let mut pty = Pty::start_with(cli.home(), &[("TERM", term)]);
        pty.wait("Enter: start");
        pty.keys("\r");
        pty.wait("1 of 3");
        pty.keys("\x04");
        assert_eq!(pty.exit(), 0);
        assert!(!pty.bytes().contains(&0x1b), "{term:?}");
    }
}

/// Enter pressed once too often behind the last question is no second answer.
#[test]
fn the_first_run_is_written_once_however_often_enter_is_pressed() {
    let cli = Cli::new();
    let mut talk = Talk::start(&cli);
    for _ in 0..7 {
        talk.say("");
    }
    talk.hear("Enter: start");
    talk.say("q");
    let (code, heard) = talk.end();
    assert_eq!(code, Some(0), "{heard:#?}");
    assert!(
        !heard.iter().any(|line| line.contains("cannot")),
        "{heard:#?}"
    );
    assert!(cli.read("config/lifter.ron").contains("home"));
}

/// What runs by itself is told line by line, and any line stops it.
#[test]
fn what_runs_by_itself_is_counted_in_over_a_pipe() {
    let cli = home();
    let mut talk = Talk::start(&cli);
    talk.hear("Enter: start");
    talk.say("");
    talk.hear("1 of 3: Push-up");
    talk.say("r");
    talk.hear("circuits and holds run by themselves");
    talk.say("K");
    talk.hear("Plank, set 1 of 1");
    talk.say("r");
    talk.hear("runs by itself: any line stops it");
    talk.hear("get set");
    talk.hear("4");
    talk.say("now");
    talk.hear("0 sets done, 1 to come");
    talk.say("");
    talk.hear("stopped before the set");
    talk.say("q");
    assert_eq!(talk.end().0, Some(0), "and no set was recorded");
    assert_eq!(cli.run(["journal", "list", "--json"]).ok(), "");
}

/// The logbook by numbers: a list, an entry of it, a set changed and taken back, over a pipe and in
/// a terminal that can only print.
#[test]
fn the_logbook_is_read_and_mended_in_lines() {
    let cli = home();
    let mut talk = Talk::start(&cli);
    talk.hear("Enter: start");
    talk.say("");
    talk.hear("1 of 3");
    breathe();
    for (line, answer) in [
        ("4", "all recorded"),
        ("f", "finish with"),
        ("1", "session done"),
        ("", "session closed"),
    ] {
        talk.say(line);
        talk.hear(answer);
    }
    talk.say("");
    assert_eq!(talk.end().0, Some(0));
    let mut talk = Talk::start(&cli);
    for (line, answer) in [
        ("", "Enter: start"),
        ("b", "logbook: sessions"),
        ("2", "the numbers go from 1 to 1"),
        ("1", "body × 4"),
        ("5", "set changed"),
        ("", "body × 5"),
        ("u", "taken back"),
        ("", "body × 4"),
        ("esc", "1 "),
        ("right", "logbook: strength"),
        ("right", "logbook: work"),
        ("esc", "Enter: start"),
    ] {
        if !line.is_empty() {
            talk.say(line);
        }
        talk.hear(answer);
    }
    talk.say("q");
    assert_eq!(talk.end().0, Some(0));
    let mut pty = Pty::start_with(cli.home(), &[("TERM", "dumb")]);
    for (line, answer) in [
        ("b\r", "logbook: sessions"),
        ("1\r", "body × 4"),
        ("esc\r", "1 "),
    ] {
        pty.wait(if line.starts_with('b') {
            "Enter: start"
        } else {
            "logbook"
        });
        pty.keys(line);
        pty.wait(answer);
    }
    pty.keys("q\r");
    pty.keys("\x04");
    assert_eq!(pty.exit(), 0);
    assert!(!pty.bytes().contains(&0x1b));
}
