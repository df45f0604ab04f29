//! The real program in a real pseudo-terminal, beside a bare one: the first frame, key to screen,
//! what a rest costs.

use crate::Bench;
use crate::home::Home;
use crate::table::Table;
use crate::timed::{middle, share};
use portable_pty::{Child, CommandBuilder, MasterPty, PtySize, native_pty_system};
use std::io::{Read, Write};
use std::path::Path;
use std::sync::mpsc::{Receiver, channel};
use std::thread::sleep;
use std::time::{Duration, Instant};

/// How long anything may take.
const PATIENCE: Duration = Duration::from_secs(60);

/// A terminal of 80x24 with a program in it.
struct Pty {
    begun: Instant,
    child: Box<dyn Child + Send + Sync>,
    _master: Box<dyn MasterPty + Send>,
    keys: Box<dyn Write + Send>,
    arrived: Receiver<(Instant, Vec<u8>)>,
}

impl Pty {
    fn start(program: &Path, arguments: &[&str], home: Option<&Home>) -> Self {
        let size = PtySize {
            rows: 24,
            cols: 80,
            pixel_width: 0,
            pixel_height: 0,
        };
        let pair = native_pty_system().openpty(size).expect("a terminal");
        let mut command = CommandBuilder::new(program);
        command.args(arguments);
        command.env_clear();
        let variables = [
            ("TERM", "xterm-256color"),
            ("LANG", "C.UTF-8"),
            ("TZ", "UTC"),
        ];
        for (name, value) in variables {
            command.env(name, value);
        }
        // No sound, no notices: what they wait for is not this program's.
        command.env("DBUS_SESSION_BUS_ADDRESS", "disabled:");
        if let Some(home) = home {
            command.env("RACKSIDE_HOME", home.path());
        }
        let mut reader = pair.master.try_clone_reader().expect("a reader");
        let keys = pair.master.take_writer().expect("a writer");
        let (send, arrived) = channel();
        std::thread::spawn(move || {
            let mut buffer = [0_u8; 65_536];
            while let Ok(read @ 1..) = reader.read(&mut buffer) {
                if send
                    .send((Instant::now(), buffer[..read].to_vec()))
                    .is_err()
                {
                    return;
                }
            }
        });
        let begun = Instant::now();
        let child = pair.slave.spawn_command(command).expect("started");
        Self {
            begun,
            child,
            _master: pair.master,
            keys,
            arrived,
        }
    }

    /// When such words had arrived, counted from the start. Words are looked for as they are sent:
    /// one cell after the other, not redrawn in parts.
    fn until(&self, words: &str) -> f64 {
        let mut seen = String::new();
        loop {
            let (when, bytes) = self
                .arrived
                .recv_timeout(PATIENCE)
                .unwrap_or_else(|_| panic!("waited for {words:?} in {seen:?}"));
            seen += &String::from_utf8_lossy(&bytes);
            if seen.contains(words) {
                return (when - self.begun).as_secs_f64();
            }
        }
    }

    fn press(&mut self, key: &str) {
        self.keys.write_all(key.as_bytes()).expect("pressed");
        self.keys.flush().expect("pressed");
    }

    /// Everything that comes until nothing has come for a while.
    fn settle(&self, quiet: Duration) -> usize {
        let mut bytes = 0;
        while let Ok((_, more)) = self.arrived.recv_timeout(quiet) {
            bytes += more.len();
        }
        bytes
    }

    /// Seconds of one processor used so far, as Linux counts them.
    fn used(&self) -> f64 {
        let pid = self.child.process_id().expect("it runs");
        let stat = std::fs::read_to_string(format!("/proc/{pid}/schedstat")).expect("Linux");
        let first = stat.split(' ').next().expect("a number");
        first.parse::<f64>().expect("nanoseconds") * 1e-9 + self.threads(pid)
    }

    /// The same for the threads beside the first.
    fn threads(&self, pid: u32) -> f64 {
        let tasks = std::fs::read_dir(format!("/proc/{pid}/task")).expect("Linux");
        let others = tasks
            .filter_map(Result::ok)
            .filter(|task| *task.file_name() != *pid.to_string());
        let used =
            others.filter_map(|task| std::fs::read_to_string(task.path().join("schedstat")).ok());
        used.filter_map(|text| text.split(' ').next()?.parse::<f64>().ok())
            .sum::<f64>()
            * 1e-9
    }
}

impl Drop for Pty {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

pub fn measure(bench: &Bench, table: &mut Table) {
    first_frame(bench, table);
    key_to_screen(bench, table);
    rest(bench, table);
}

const RUNS: usize = 11;
/// Stands in the first line of the first frame.
const HINT: &str = "Day ";
/// Stands behind a load that was suggested.
const ODDS: &str = "in 100";

fn first_frame(bench: &Bench, table: &mut Table) {
    let bare = || Pty::start(&bench.bare, &["once"], None).until("bare");
    let bare = middle((0..RUNS).map(|_| bare()).collect());
    for (name, home) in [
        ("an empty journal", &bench.empty),
        ("a long journal", &bench.long),
    ] {
        let start = || Pty::start(&bench.program, &[], Some(home));
        let first = middle((0..RUNS).map(|_| start().until(HINT)).collect());
        table.time(
            format!("first frame, {name}"),
            first,
            ("bare program", bare),
        );
    }
    let start = || Pty::start(&bench.program, &[], Some(&bench.long));
    let odds = middle((0..RUNS).map(|_| start().until(ODDS)).collect());
    table.time(
        "suggestions on screen, a long journal",
        odds,
        ("bare program", bare),
    );
}

fn key_to_screen(bench: &Bench, table: &mut Table) {
    let mut ours = pressed(Pty::start(&bench.program, &[], Some(&bench.long)), ODDS);
    let mut bare = pressed(Pty::start(&bench.bare, &["stay"], None), "bare");
    for (name, part) in [("median", 0.5), ("99th percentile", 0.99)] {
        let (ours, bare) = (share(&mut ours, part), share(&mut bare, part));
        table.time(
            format!("key to screen, {name}"),
            ours,
            ("bare program", bare),
        );
    }
}

/// Seconds from a key to the first byte of the screen that it changes: the help, there and back.
fn pressed(mut pty: Pty, hint: &str) -> Vec<f64> {
    pty.until(hint);
    pty.settle(Duration::from_millis(500));
    let mut seconds = Vec::new();
    for press in 0..200 {
        let begun = Instant::now();
        pty.press(if press % 2 == 0 { "?" } else { "\u{1b}[A" });
        match pty.arrived.recv_timeout(Duration::from_secs(2)) {
            Ok((when, _)) => seconds.push((when - begun).as_secs_f64()),
            Err(_) => continue,
        }
        pty.settle(Duration::from_millis(30));
    }
    assert!(
        seconds.len() >= 100,
        "{} of 200 keys were answered",
        seconds.len()
    );
    seconds
}

fn rest(bench: &Bench, table: &mut Table) {
    let home = Home::of(&bench.program, 600);
    let mut pty = Pty::start(&bench.program, &[], Some(&home));
    pty.until(ODDS);
    pty.settle(Duration::from_millis(300));
    pty.press("\r");
    pty.until("ready when you are");
    // A key so soon after another one would be taken for the same.
    sleep(Duration::from_secs(3));
    pty.settle(Duration::from_millis(300));
    // So soon that it asks whether the set is done already: yes.
    pty.press("\r");
    pty.until("already");
    pty.press("1");
    let (ours, bytes) = minute(&pty);
    assert!(
        bytes > 5.0,
        "a countdown that does not count: {bytes} bytes a second"
    );
    let (bare, bare_bytes) = minute(&Pty::start(&bench.bare, &["clock"], None));
    table.time(
        "processor time of a second of rest",
        ours,
        ("bare clock", bare),
    );
    table.bytes(
        "bytes to the terminal in it",
        bytes,
        ("bare clock", bare_bytes),
    );
}

/// Processor seconds and bytes of one second, over a minute.
fn minute(pty: &Pty) -> (f64, f64) {
    pty.settle(Duration::from_millis(200));
    let before = pty.used();
    sleep(Duration::from_secs(60));
    let used = pty.used() - before;
    let bytes: usize = pty.arrived.try_iter().map(|(_, bytes)| bytes.len()).sum();
    (used / 60.0, bytes as f64 / 60.0)
}
