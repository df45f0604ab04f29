//! The real binary in a real terminal: a whole session, killed and resumed, ended by signals.

use crate::rig::cli::Cli;
use crate::rig::pty::Pty;
use serde_json::Value;
use std::time::{Duration, Instant};

const ENTER: &str = "\r";

/// A program whose sets nobody can do too fast for the test: one rep each.
const SINGLES: &str = r#"(
    format: 1,
    name: "Singles",
    rhythm: Rotation(per_week: 3),
    phases: [(name: "Only", weeks: 4, days: [(name: "Day 1", slots: [
        (exercise: "push_up", sets: 4, reps: "1-5", rest: "0:10-0:40"),
        (exercise: "bodyweight_squat", sets: 4, reps: "1-5", rest: "0:10-0:40"),
    ])])],
)"#;

const LIFTER: &str = "(format: 1, unit: Kg, place: \"home\", program: \"singles\")";

/// A home whose person has answered the first run's questions.
fn home() -> Cli {
    let cli = Cli::new();
    let config = cli.home().join("config");
    std::fs::create_dir_all(config.join("programs")).unwrap();
    std::fs::write(config.join("programs/singles.ron"), SINGLES).unwrap();
    std::fs::write(config.join("lifter.ron"), LIFTER).unwrap();
    cli
}

fn sets(cli: &Cli) -> Vec<Value> {
    let listed = cli.run(["journal", "list", "--json"]);
    assert!(listed.status.success(), "{}", listed.stderr);
    listed
        .stdout
        .lines()
        .map(|line| serde_json::from_str(line).unwrap())
        .collect()
}

fn start(cli: &Cli) -> Pty {
    let mut pty = Pty::start(cli.home());
    pty.wait("Enter start");
    pty.keys(ENTER);
    pty.wait("set 1 of 4");
    // The Enter that starts the session is no set: another counts only 2 s later.
    std::thread::sleep(Duration::from_millis(2_100));
    pty
}

#[test]
fn four_questions_and_the_caution_lead_to_the_briefing() {
    let cli = Cli::new();
    let mut pty = Pty::start(cli.home());
    pty.wait("question 1 of 4");
    pty.wait("Strength work can hurt");
    // The caution is whole on a small screen too.
    pty.resize(20, 60);
    pty.wait("it says.");
    for question in 2..=4 {
        pty.keys(ENTER);
        pty.wait(&format!("question {question} of 4"));
    }
    pty.keys(ENTER);
    pty.wait("Enter start");
    if cfg!(target_os = "linux") {
        assert_ne!(modes(&pty), UNTOUCHED, "keys are read one by one");
    }
    pty.keys("q");
    assert_eq!(pty.exit(), 0);
    assert!(pty.is_restored());
    assert_eq!(modes(&pty), UNTOUCHED);
    let mut again = Pty::start(cli.home());
    again.wait("Enter start");
    again.keys("q");
    assert_eq!(again.exit(), 0);
}

/// What would have a terminal answer, late over a slow line and as if it were keys, or would take
/// the mouse from the person (XTerm Control Sequences, from memory): attributes, status and cursor,
/// modes, colours, sizes, keyboard, mouse.
const WANTING: [&str; 20] = [
    "[c", "[0c", "[>c", "[>0c", "[=c", "[>q", "[5n", "[6n", "[?6n", "[?996n", "[14t", "[16t",
    "[18t", "]10;?", "]11;?", "[?u", "P+q", "[?1000h", "[?1002h", "[?1003h",
];

fn wanted_of_the_terminal(bytes: &[u8]) -> Vec<&'static str> {
    let text = String::from_utf8_lossy(bytes);
    let after_escape: Vec<&str> = text.split('\u{1b}').skip(1).collect();
    assert!(after_escape.len() > 100, "a session was drawn");
    let sent = |wanting: &&str| after_escape.iter().any(|sent| sent.starts_with(wanting));
    WANTING.into_iter().filter(|w| sent(w)).collect()
}

#[test]
fn a_whole_session_with_one_key_a_set_and_another_suggestion_after_it() {
    let cli = home();
    let before: Value = serde_json::from_str(&cli.run(["brief", "--json"]).stdout).unwrap();
    assert_eq!(before["v"], 1);
    let mut pty = start(&cli);
    let planned: u64 = before["slots"]
        .as_array()
        .unwrap()
        .iter()
        .map(|s| s["sets"].as_u64().unwrap())
        .sum();
    for done in 1..=planned {
        pty.keys("5.3\r");
        let recorded = move |screen: &str| {
            screen.contains("all recorded")
                && (screen.contains("session done") == (done == planned))
                && (screen.contains("set 1:") || screen.contains(". u takes it back"))
        };
        pty.wait_for(recorded, "recorded");
        std::thread::sleep(Duration::from_millis(60));
    }
    pty.wait("session done");
    pty.keys("7\r");
    pty.wait("session closed");
    pty.wait("next:");
    pty.keys(ENTER);
    assert_eq!(pty.exit(), 0);
    assert_eq!(wanted_of_the_terminal(&pty.bytes()), Vec::<&str>::new());
    let sets = sets(&cli);
    assert_eq!(sets.len() as u64, planned);
    for key in [
        "id", "at", "exercise", "set", "kind", "load", "reps", "spare", "rest_s",
    ] {
        assert!(sets[1].get(key).is_some(), "no {key} in {}", sets[1]);
    }
    let after: Value = serde_json::from_str(&cli.run(["brief", "--json"]).stdout).unwrap();
    let slot = |brief: &Value| brief["slots"][0].clone();
    assert_ne!(slot(&before)["reason"], slot(&after)["reason"]);
    assert!(
        slot(&after)["reps"].as_u64() > slot(&before)["reps"].as_u64(),
        "{after}"
    );
    assert_eq!(slot(&after)["last"]["sets"][0]["id"], sets[0]["id"]);
}

#[test]
fn killed_in_a_rest_and_while_lifting_it_goes_on_as_it_was() {
    let cli = home();
    let mut pty = start(&cli);
    pty.keys(ENTER);
    pty.wait("set 2 of 4");
    pty.wait("all recorded");
    let began = Instant::now();
    pty.signal("KILL");
    pty.exit();
    let mut pty = Pty::start(cli.home());
    let screen = pty.wait("RECOVER, opens in");
    let left: u64 = screen.split("opens in 0:").nth(1).unwrap()[..2]
        .parse()
        .unwrap();
    let elapsed = began.elapsed().as_secs();
    assert!(
        (9 - elapsed.min(9)..=11 - elapsed.min(9)).contains(&left),
        "{left} s left, {elapsed}"
    );
    assert!(screen.contains("set 2 of 4"));
    pty.keys(" ");
    pty.wait("lifting");
    std::thread::sleep(Duration::from_millis(300));
    pty.signal("KILL");
    pty.exit();
    let mut pty = Pty::start(cli.home());
    pty.wait("lifting");
    std::thread::sleep(Duration::from_millis(1_900));
    pty.keys(ENTER);
    pty.wait("set 3 of 4");
    pty.wait("all recorded");
    let sets = sets(&cli);
    assert_eq!(sets.len(), 2);
    assert_eq!(sets[1]["rest_measured"], true);
    drop(pty);
}

/// What a program that reads keys one by one changes in a terminal, as it is without one.
const UNTOUCHED: [&str; 5] = ["icrnl", "opost", "isig", "icanon", "echo"];

/// Those of these modes that are on.
fn modes(pty: &Pty) -> Vec<&'static str> {
    let all = if cfg!(target_os = "linux") {
        pty.stty(&["-a"])
    } else {
        UNTOUCHED.join(" ")
    };
    let on: Vec<&str> = all.split_whitespace().collect();
    let mode = |mode: &&str| on.contains(mode);
    UNTOUCHED.into_iter().filter(mode).collect()
}

#[test]
fn signals_and_a_closed_terminal_lose_nothing() {
    for (signal, code) in [("TERM", 143), ("HUP", 129), ("INT", 130), ("QUIT", 131)] {
        let cli = home();
        let mut pty = start(&cli);
        pty.keys(ENTER);
        pty.wait("set 2 of 4");
        pty.signal(signal);
        let sent = Instant::now();
        assert_eq!(pty.exit(), code, "{signal}");
        assert!(sent.elapsed() < Duration::from_secs(5), "{signal}");
        assert!(pty.is_restored(), "{signal}");
        assert_eq!(modes(&pty), UNTOUCHED, "{signal}");
        assert_eq!(sets(&cli).len(), 1, "{signal}");
    }
}

#[test]
fn a_panic_restores_the_terminal_says_so_and_loses_nothing() {
    let cli = home();
    let mut pty = Pty::start_with(cli.home(), &[("RACKSIDE_TEST_PANIC", "1")]);
    pty.wait("Enter start");
    pty.keys(ENTER);
    pty.wait("set 1 of 4");
    std::thread::sleep(Duration::from_millis(2_100));
    pty.keys(ENTER);
    pty.wait("set 2 of 4");
    pty.keys("!");
    assert_eq!(pty.exit(), 1);
    assert!(pty.is_restored());
    assert_eq!(modes(&pty), UNTOUCHED);
    let said = String::from_utf8_lossy(&pty.bytes()).into_owned();
    assert!(said.contains("a mistake in the program"), "{said}");
    assert_eq!(sets(&cli).len(), 1);
}

/// Set for the process that plays a terminal and closes; its value is the home.
const CLOSING: &str = "TERMINAL_THAT_CLOSES";

/// Does one set in a terminal that then goes with its process, and gives the id of the one that
/// the terminal started.
fn close_after_a_set(cli: &Cli, test: &str, start: fn(&std::path::Path) -> Pty) -> u32 {
    if let Some(home) = std::env::var_os(CLOSING) {
        let mut pty = start(home.as_ref());
        pty.wait("Enter start");
        pty.keys(ENTER);
        pty.wait("set 1 of 4");
        std::thread::sleep(Duration::from_millis(2_100));
        pty.keys(ENTER);
        pty.wait("set 2 of 4");
        pty.wait("all recorded");
        println!("program {}", pty.process());
        std::process::exit(0);
    }
    let host = std::process::Command::new(std::env::current_exe().unwrap())
        .args(["--exact", &format!("terminal::{test}"), "--nocapture"])
        .env(CLOSING, cli.home())
        .output()
        .unwrap();
    let said = String::from_utf8_lossy(&host.stdout).into_owned();
    let id = said.split("program ").nth(1).expect("the host's word");
    id.split_whitespace().next().unwrap().parse().unwrap()
}

fn wait_for_the_end_of(process: u32) {
    let program = std::path::Path::new("/proc").join(process.to_string());
    let end = Instant::now() + Duration::from_secs(5);
    while program.join("exe").exists() {
        assert!(Instant::now() < end, "it outlived its terminal");
        std::thread::sleep(Duration::from_millis(10));
    }
}

#[test]
fn a_terminal_that_closes_takes_the_program_with_it_and_no_set() {
    let cli = home();
    let test = "a_terminal_that_closes_takes_the_program_with_it_and_no_set";
    wait_for_the_end_of(close_after_a_set(&cli, test, Pty::start));
    assert_eq!(sets(&cli).len(), 1);
}

#[test]
fn a_terminal_that_closes_without_a_signal_does_so_too() {
    let cli = home();
    let test = "a_terminal_that_closes_without_a_signal_does_so_too";
    wait_for_the_end_of(close_after_a_set(&cli, test, Pty::start_under_deaf_shell));
    assert_eq!(cli.read("code"), "129\n");
    assert_eq!(sets(&cli).len(), 1);
}

#[test]
fn a_second_one_is_told_who_has_the_journal() {
    let cli = home();
    let mut first = start(&cli);
    let mut second = Pty::start(cli.home());
    second.wait(&format!("process {}", first.process()));
    second.keys("2");
    assert_eq!(second.exit(), 0, "leaving is one of two answers");
    let mut second = Pty::start(cli.home());
    second.wait("look only");
    second.keys("1");
    second.wait("only looking");
    second.keys(ENTER);
    second.wait("nothing can be recorded here");
    let refused = cli.run(["journal", "void", "x"]).refused(1);
    assert!(refused.contains("has this journal open"), "{refused}");
    first.keys(ENTER);
    first.wait("all recorded");
    second.keys("mq");
    assert_eq!(second.exit(), 0);
    assert_eq!(sets(&cli).len(), 1, "the one that looks writes nothing");
    // A lock goes with its process: nothing is left to clean up.
    first.signal("KILL");
    first.exit();
    let third = Pty::start(cli.home());
    third.wait("goes on where it was left");
}

#[test]
fn a_journal_that_cannot_be_written_can_be_looked_at() {
    let cli = home();
    // A folder in the lock's place stands for whatever keeps a lock from being made.
    std::fs::create_dir_all(cli.home().join("data/lock")).unwrap();
    let mut pty = Pty::start(cli.home());
    pty.wait("cannot lock");
    pty.keys("1");
    pty.wait("Enter start");
    pty.keys("q");
    assert_eq!(pty.exit(), 0);
    // Before the answers of a first run there is nothing to look at.
    std::fs::remove_file(cli.home().join("config/lifter.ron")).unwrap();
    let mut pty = Pty::start(cli.home());
    assert_eq!(pty.exit(), 1);
    let said = String::from_utf8_lossy(&pty.bytes()).into_owned();
    assert!(
        said.contains("cannot lock") && said.contains("data/lock"),
        "{said}"
    );
}

/// What was chosen in this run holds for the page of the program too: at home a bench is missing
/// that the club has.
#[test]
fn the_program_is_shown_for_the_place_that_was_just_chosen() {
    let cli = Cli::new();
    let lifter = "(format: 1, unit: Kg, place: \"home\", program: \"three_steps\")";
    cli.write("config/lifter.ron", lifter);
    let mut pty = Pty::start(cli.home());
    pty.wait("At home");
    pty.keys("v");
    pty.wait("here Standing dumbbell press");
    pty.keys("ql1");
    pty.wait("at: Club");
    pty.keys("v");
    let club = pty.wait("Seated dumbbell press");
    assert!(!club.contains("here Standing dumbbell press"), "{club}");
}

#[test]
fn what_is_wrong_with_the_journal_is_told_in_the_briefing() {
    let cli = home();
    cli.write("data/journal/2026-x.ron", "scrap\n");
    let pty = Pty::start(cli.home());
    pty.wait("1 place in the journal cannot be used");
}

#[test]
fn any_size_is_drawn_and_a_small_one_says_so() {
    let cli = home();
    let pty = start(&cli);
    pty.resize(8, 30);
    pty.wait("needs 60x20");
    pty.resize(40, 120);
    pty.wait("set 1 of 4");
}

/// The one child of a process.
#[cfg(target_os = "linux")]
fn child_of(id: u32) -> u32 {
    let children = format!("/proc/{id}/task/{id}/children");
    let children = std::fs::read_to_string(children).unwrap();
    children.trim().parse().unwrap()
}

/// Whether a process stands still, stopped by a signal.
#[cfg(target_os = "linux")]
fn is_stopped(id: u32) -> bool {
    let stat = std::fs::read_to_string(format!("/proc/{id}/stat")).unwrap();
    stat.rsplit(')').next().unwrap().trim().starts_with('T')
}

#[cfg(target_os = "linux")]
const RAW: &str = "-icanon";

#[test]
#[cfg(target_os = "linux")]
fn a_stop_gives_the_terminal_back_and_going_on_takes_it_again() {
    let cli = home();
    let mut pty = Pty::start_under_shell(cli.home());
    pty.wait("Enter start");
    let program = child_of(pty.process());
    for how in ["key", "TSTP", "STOP"] {
        assert!(pty.stty(&["-a"]).contains(RAW), "{how}");
        match how {
            "key" => pty.keys("\x1a"),
            signal => pty.signal_process(program, signal),
        }
        pty.wait_until(|| is_stopped(program), "stopped");
        if how == "STOP" {
            // Nobody hears of this one; the shell makes the terminal usable by itself.
            pty.stty(&["sane"]);
        } else {
            pty.wait_until(|| pty.is_restored(), "restored");
            assert!(!pty.stty(&["-a"]).contains(RAW), "{how}");
        }
        let before = pty.bytes().len();
        pty.signal_process(program, "CONT");
        pty.wait_until(|| pty.stty(&["-a"]).contains(RAW), "raw again");
        let redrawn = || {
            let bytes = pty.bytes();
            String::from_utf8_lossy(&bytes[before..]).contains("Enter")
        };
        pty.wait_until(redrawn, "drawn again");
        pty.wait("Enter start");
    }
    pty.keys("q");
    assert_eq!(pty.exit(), 0);
}

#[test]
#[cfg(target_os = "linux")]
fn where_nobody_could_make_it_go_on_it_does_not_stop() {
    let cli = home();
    let mut pty = Pty::start(cli.home());
    pty.wait("Enter start");
    pty.keys("\x1a");
    pty.keys("q");
    assert_eq!(pty.exit(), 0);
    assert!(pty.is_restored());
}
