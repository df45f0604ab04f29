//! The real binary as a command: an empty environment, a private home, a fixed time zone.

use std::ffi::OsStr;
use std::fs::File;
use std::io::Write;
use std::path::Path;
use std::process::{Command, ExitStatus, Output, Stdio};
use tempfile::TempDir;

/// The environment of every run: nothing of the machine's own comes through.
pub const ENVIRONMENT: [(&str, &str); 5] = [
    ("DBUS_SESSION_BUS_ADDRESS", "disabled:"),
    ("DBUS_SYSTEM_BUS_ADDRESS", "disabled:"),
    ("LANG", "C.UTF-8"),
    ("PATH", "/usr/bin:/bin"),
    // An hour east of Greenwich all year: a forgotten offset shows.
    ("TZ", "CET-1"),
];

/// The one variable that does come through: where a build that measures its coverage writes it.
pub fn coverage() -> Option<(&'static str, String)> {
    let name = "LLVM_PROFILE_FILE";
    Some((name, std::env::var(name).ok()?))
}

/// A person's home, and the binary run in it as often as a test likes.
pub struct Cli {
    home: TempDir,
    environment: Vec<(String, String)>,
    stdin: String,
}

/// What a run left behind.
#[must_use]
pub struct Ran {
    pub status: ExitStatus,
    pub stdout: String,
    pub stderr: String,
}

impl Cli {
    /// An empty home.
    pub fn new() -> Self {
        Self {
            home: tempfile::tempdir().expect("a temporary folder"),
            environment: Vec::new(),
            stdin: String::new(),
        }
    }

    /// Where every file of the person lies.
    pub fn home(&self) -> &Path {
        self.home.path()
    }

    /// One more variable, or another value for one.
    #[must_use]
    pub fn env(mut self, name: &str, value: &str) -> Self {
        self.environment.push((name.to_owned(), value.to_owned()));
        self
    }

    /// What the next runs read from standard input.
    #[must_use]
    pub fn stdin(mut self, text: &str) -> Self {
        text.clone_into(&mut self.stdin);
        self
    }

    /// Writes a file below the home.
    pub fn write(&self, path: &str, text: &str) {
        let path = self.home().join(path);
        let folder = path.parent().expect("a file lies in a folder");
        std::fs::create_dir_all(folder).expect("a folder");
        std::fs::write(path, text).expect("a file");
    }

    /// Reads a file below the home.
    pub fn read(&self, path: &str) -> String {
        std::fs::read_to_string(self.home().join(path)).expect("a file to read")
    }

    /// Runs the binary to its end.
    pub fn run<S: AsRef<OsStr>>(&self, arguments: impl IntoIterator<Item = S>) -> Ran {
        Ran::from(self.output(arguments, Stdio::piped()))
    }

    /// Every command of the program that has none below it, as its own help lists them.
    pub fn commands(&self) -> Vec<Vec<String>> {
        let mut found = Vec::new();
        let mut open = vec![Vec::new()];
        while let Some(command) = open.pop() {
            let asked = command.iter().cloned().chain(["--help".to_owned()]);
            let help = self.run(asked).ok();
            let below = help.split("Commands:\n").nth(1).unwrap_or_default();
            let lines = below.lines().take_while(|line| !line.is_empty());
            let named = lines.filter(|line| line.starts_with("  ") && !line.starts_with("   "));
            let names: Vec<&str> = named.filter_map(|l| l.split_whitespace().next()).collect();
            if names.is_empty() {
                found.push(command);
                continue;
            }
            for name in names.into_iter().filter(|name| *name != "help") {
                open.push(command.iter().cloned().chain([name.to_owned()]).collect());
            }
        }
        found
    }

    /// Runs the binary with its standard output going into an opened device or file.
    pub fn run_into<S: AsRef<OsStr>>(
        &self,
        device: File,
        arguments: impl IntoIterator<Item = S>,
    ) -> Ran {
        Ran::from(self.output(arguments, Stdio::from(device)))
    }

    /// The command with its environment, for a test that needs the process itself.
    pub fn command<S: AsRef<OsStr>>(&self, arguments: impl IntoIterator<Item = S>) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_rackside"));
        command
            .current_dir(self.home())
            .env_clear()
            .envs(ENVIRONMENT)
            .envs(coverage())
            .env("HOME", self.home())
            .env("RACKSIDE_HOME", self.home())
            .envs(self.environment.iter().cloned())
            .args(arguments)
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped());
        command
    }

    fn output<S: AsRef<OsStr>>(
        &self,
        arguments: impl IntoIterator<Item = S>,
        stdout: Stdio,
    ) -> Output {
        let mut child = self
            .command(arguments)
            .stdout(stdout)
            .spawn()
            .expect("the binary starts");
        let mut stdin = child.stdin.take().expect("a pipe");
        // A program that reads nothing may have left already.
        let _ = stdin.write_all(self.stdin.as_bytes());
        drop(stdin);
        child.wait_with_output().expect("the binary ends")
    }
}

impl From<Output> for Ran {
    fn from(output: Output) -> Self {
        let text = |bytes| String::from_utf8(bytes).expect("output is UTF-8");
        Self {
            status: output.status,
            stdout: text(output.stdout),
            stderr: text(output.stderr),
        }
    }
}

impl Ran {
    /// The exit code; none where a signal ended the run.
    pub fn code(&self) -> Option<i32> {
        self.status.code()
    }

    /// The results of a run that ended well.
    #[track_caller]
    pub fn ok(self) -> String {
        assert!(self.status.success(), "{}: {}", self.status, self.stderr);
        self.stdout
    }

    /// The messages of a run that ended with this code and gave no result.
    #[track_caller]
    pub fn refused(self, code: i32) -> String {
        assert_eq!(self.code(), Some(code), "{}{}", self.stdout, self.stderr);
        assert_eq!(self.stdout, "", "a refusal has no result");
        self.stderr
    }
}
