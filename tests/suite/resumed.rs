//! A session that went on after a kill, to its end and beyond.

use crate::rig::cli::Cli;
use crate::rig::pty::Pty;
use std::time::Duration;

const TWO_DAYS: &str = r#"(
    format: 1,
    name: "Two days",
    rhythm: Rotation(per_week: 3),
    phases: [(name: "Only", weeks: 4, days: [
        (name: "Day 1", slots: [(exercise: "push_up", sets: 2, reps: "1-5", rest: "0:10-0:40")]),
        (name: "Day 2", slots: [(exercise: "plank", sets: 2, hold: "20", rest: "0:10-0:40")]),
    ])],
)"#;

/// What comes next is drawn up from the whole session, also from what was done before the kill.
#[test]
fn after_a_killed_session_comes_the_next_one() {
    let cli = Cli::new();
    cli.write("config/programs/two_days.ron", TWO_DAYS);
    let lifter = "(format: 1, unit: Kg, place: \"home\", program: \"two_days\")";
    cli.write("config/lifter.ron", lifter);
    let mut pty = Pty::start(cli.home());
    pty.wait("Enter start");
    pty.keys("\r");
    pty.wait("set 1 of 2");
    // An Enter so soon after another is the same one.
    std::thread::sleep(Duration::from_millis(2_100));
    pty.keys("\r");
    pty.wait("set 2 of 2");
    pty.wait("all recorded");
    pty.signal("KILL");
    pty.exit();
    let mut pty = Pty::start(cli.home());
    pty.wait("goes on where it was left");
    std::thread::sleep(Duration::from_millis(2_100));
    pty.keys("\r");
    pty.wait("how hard was it");
    pty.keys("\r");
    pty.wait("next: Day 2");
}
