//! The real binary in a real pseudo-terminal, its screen as text.

use super::cli::{ENVIRONMENT, coverage};
use super::patience;
use portable_pty::{Child, CommandBuilder, MasterPty, PtySize, native_pty_system};
use std::io::{Read, Write};
use std::path::Path;
use std::sync::{Arc, Condvar, Mutex, MutexGuard};
use std::time::{Duration, Instant};
use vt100::Parser;

/// What the terminal received.
struct Received {
    parser: Parser,
    bytes: Vec<u8>,
    closed: bool,
}

/// A terminal with the program in it.
pub struct Pty {
    child: Box<dyn Child + Send + Sync>,
    master: Box<dyn MasterPty + Send>,
    keys: Box<dyn Write + Send>,
    received: Arc<(Mutex<Received>, Condvar)>,
}

impl Pty {
    /// The program in a terminal of 80x24, its files under `home`.
    pub fn start(home: &Path) -> Self {
        Self::start_with(home, &[])
    }

    /// The same with more variables.
    pub fn start_with(home: &Path, more: &[(&str, &str)]) -> Self {
        let program = CommandBuilder::new(env!("CARGO_BIN_EXE_rackside"));
        Self::start_command(program, home, more)
    }

    /// `rackside demo`, its temporary files under `home`.
    pub fn start_demo(home: &Path) -> Self {
        let mut program = CommandBuilder::new(env!("CARGO_BIN_EXE_rackside"));
        program.arg("demo");
        let temporary = home.to_str().expect("a path");
        Self::start_command(program, home, &[("TMPDIR", temporary)])
    }

    /// The program under a shell, as people start it: a stop leaves somebody to go on from.
    pub fn start_under_shell(home: &Path) -> Self {
        let mut shell = CommandBuilder::new("/bin/sh");
        shell.args(["-c", "\"$0\"; exit $?", env!("CARGO_BIN_EXE_rackside")]);
        Self::start_command(shell, home, &[])
    }

    /// The program under a shell that lives on when the terminal goes, and writes the program's
    /// exit code to `code` in the home. The program gets no signal of it.
    pub fn start_under_deaf_shell(home: &Path) -> Self {
        let mut shell = CommandBuilder::new("/bin/sh");
        let script = "trap '' HUP; \"$0\"; echo $? > \"$RACKSIDE_HOME/code\"";
        shell.args(["-c", script, env!("CARGO_BIN_EXE_rackside")]);
        Self::start_command(shell, home, &[])
    }

    fn start_command(mut command: CommandBuilder, home: &Path, more: &[(&str, &str)]) -> Self {
        let size = PtySize {
            rows: 24,
            cols: 80,
            pixel_width: 0,
            pixel_height: 0,
        };
        let pair = native_pty_system().openpty(size).expect("a terminal");
        command.env_clear();
        let usual = [("TERM", "xterm-256color")];
        for (name, value) in ENVIRONMENT.iter().chain(&usual).chain(more) {
            command.env(name, value);
        }
        command.env("RACKSIDE_HOME", home);
        if let Some((name, value)) = coverage() {
            command.env(name, value);
        }
        let child = pair.slave.spawn_command(command).expect("started");
        drop(pair.slave);
        let parser = Parser::new(24.try_into().unwrap(), 80.try_into().unwrap(), 0);
        let received = Received {
            parser,
            bytes: Vec::new(),
            closed: false,
        };
        let received = Arc::new((Mutex::new(received), Condvar::new()));
        let mut reader = pair.master.try_clone_reader().expect("a reader");
        let shared = received.clone();
        std::thread::spawn(move || {
            let mut buffer = [0_u8; 4096];
            loop {
                let read = reader.read(&mut buffer).unwrap_or(0);
                let mut received = shared.0.lock().expect("unpoisoned");
                received.parser.process(&buffer[..read]);
                received.bytes.extend_from_slice(&buffer[..read]);
                received.closed = read == 0;
                shared.1.notify_all();
                if read == 0 {
                    return;
                }
            }
        });
        let keys = pair.master.take_writer().expect("a writer");
        Self {
            child,
            master: pair.master,
            keys,
            received,
        }
    }

    /// Sends bytes as a keyboard does.
    pub fn keys(&mut self, keys: &str) {
        let writer = &mut self.keys;
        writer.write_all(keys.as_bytes()).expect("sent");
        writer.flush().expect("sent");
    }

    /// Waits until the screen is as wanted.
    #[track_caller]
    pub fn wait(&self, wanted: &str) -> String {
        self.wait_for(|screen| screen.contains(wanted), wanted)
    }

    #[track_caller]
    pub fn wait_for(&self, wanted: impl Fn(&str) -> bool, what: &str) -> String {
        let end = Instant::now() + patience();
        let mut received = self.lock();
        loop {
            let screen = received.parser.screen().contents();
            if wanted(&screen) {
                return screen;
            }
            let left = end.saturating_duration_since(Instant::now());
            assert!(!left.is_zero(), "waited for: {what}\n{screen}");
            assert!(!received.closed, "ended before: {what}\n{screen}");
            received = self
                .received
                .1
                .wait_timeout(received, left)
                .expect("unpoisoned")
                .0;
        }
    }

    fn lock(&self) -> MutexGuard<'_, Received> {
        self.received.0.lock().expect("unpoisoned")
    }

    /// Everything that the terminal received.
    pub fn bytes(&self) -> Vec<u8> {
        self.lock().bytes.clone()
    }

    /// Whether the terminal shows its own screen again.
    pub fn is_restored(&self) -> bool {
        let received = self.lock();
        let screen = received.parser.screen();
        !screen.alternate_screen() && !screen.hide_cursor() && !screen.bracketed_paste()
    }

    /// Another size.
    pub fn resize(&self, rows: u16, cols: u16) {
        let size = PtySize {
            rows,
            cols,
            pixel_width: 0,
            pixel_height: 0,
        };
        let mut received = self.lock();
        received
            .parser
            .screen_mut()
            .set_size(rows.try_into().unwrap(), cols.try_into().unwrap());
        drop(received);
        self.master.resize(size).expect("resized");
    }

    /// The terminal's modes as `stty` tells them, or sets them.
    pub fn stty(&self, wanted: &[&str]) -> String {
        let terminal = self.master.tty_name().expect("a terminal's name");
        let mut stty = std::process::Command::new("stty");
        stty.arg("-F").arg(terminal).args(wanted);
        let output = stty.output().expect("stty runs");
        assert!(output.status.success(), "{output:?}");
        String::from_utf8_lossy(&output.stdout).into_owned()
    }

    /// Waits until something that the screen does not show is so.
    #[track_caller]
    pub fn wait_until(&self, is_so: impl Fn() -> bool, what: &str) {
        let end = Instant::now() + patience();
        while !is_so() {
            assert!(Instant::now() < end, "waited for: {what}");
            std::thread::sleep(Duration::from_millis(5));
        }
    }

    /// Sends a signal.
    pub fn signal(&self, name: &str) {
        self.signal_process(self.process(), name);
    }

    /// Sends a signal to a process of the terminal.
    pub fn signal_process(&self, id: u32, name: &str) {
        let id = id.to_string();
        let kill = std::process::Command::new("kill")
            .args(["-s", name, &id])
            .status();
        assert!(kill.expect("kill runs").success());
    }

    /// The program's process.
    pub fn process(&self) -> u32 {
        self.child.process_id().expect("running")
    }

    /// Waits for the program's end and gives its exit code.
    #[track_caller]
    pub fn exit(&mut self) -> u32 {
        let end = Instant::now() + patience();
        loop {
            if let Some(status) = self.child.try_wait().expect("asked") {
                // What it wrote last may still be on its way.
                self.wait_until(|| self.lock().closed, "the end of what it wrote");
                return status.exit_code();
            }
            assert!(Instant::now() < end, "still running");
            std::thread::sleep(Duration::from_millis(5));
        }
    }
}

impl Drop for Pty {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}
