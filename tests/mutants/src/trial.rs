//! Tests run with a change switched on, within bounds of time and memory.

use std::collections::BTreeSet;
use std::fs;
use std::os::unix::process::CommandExt;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::time::{Duration, Instant};

/// Tests of the house rules and the pages read the source and run none of it.
const OF_THE_SOURCE: [&str; 2] = ["tidy::", "readme::"];
/// A test that takes longer is left out.
const LONGEST: Limit = Limit {
    processor: 10,
    clock: Duration::from_secs(120),
};
/// How many seconds a test waits for what does not come: enough where nothing is changed.
const PATIENCE: &str = "8";
/// Address space of a run of tests, in KiB, the size of its files, in blocks of 512 bytes, and its
/// seconds of the processor.
const BOUNDS: &str = "ulimit -v 6000000; ulimit -f 400000; ulimit -t \"$0\"; exec nice \"$@\"";

/// How long a run of tests may take.
#[derive(Clone, Copy, Debug)]
pub struct Limit {
    /// Seconds of the processor, for what turns in circles.
    pub processor: u64,
    /// By the clock, for what waits; long, for a busy machine.
    pub clock: Duration,
}

/// A test.
#[derive(Clone, Debug)]
pub struct Test {
    /// The program that holds it.
    pub program: PathBuf,
    /// Its name.
    pub name: String,
    /// How long it takes.
    pub seconds: f64,
    /// The changes that it comes by.
    pub reached: BTreeSet<usize>,
}

/// How a run of tests ended.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Outcome {
    /// All passed.
    Passed,
    /// These failed; none where the run itself broke off.
    Failed(Vec<String>),
    /// It did not end in time.
    Late,
}

/// Where tests run.
pub struct Ground<'a> {
    /// The copy.
    pub root: &'a Path,
    /// A folder for what they leave behind.
    pub work: &'a Path,
    /// Whether tests of random cases play all of them, and not a dozen.
    pub all_cases: bool,
}

/// Does a job for each of so many, two at a time.
pub fn two_at_a_time(count: usize, job: impl Fn(usize) + Sync) {
    let next = AtomicUsize::new(0);
    std::thread::scope(|scope| {
        for _ in 0..2 {
            scope.spawn(|| {
                loop {
                    let k = next.fetch_add(1, Ordering::Relaxed);
                    if k >= count {
                        break;
                    }
                    job(k);
                }
            });
        }
    });
}

impl Ground<'_> {
    /// The tests of the programs that pass as things are, each with the changes that it comes by:
    /// all, or those with one of these words in their names.
    ///
    /// # Errors
    ///
    /// A program does not list its tests.
    pub fn tests(&self, programs: &[PathBuf], named: &[String]) -> Result<Vec<Test>, String> {
        let mut all = Vec::new();
        for program in programs {
            let listed = Command::new(program)
                .args(["--list", "--format", "terse"])
                .current_dir(self.root)
                .output()
                .map_err(|error| format!("{}: {error}", program.display()))?;
            let text = String::from_utf8_lossy(&listed.stdout).into_owned();
            let names = text.lines().filter_map(|line| line.strip_suffix(": test"));
            let of_code = names.filter(|name| !OF_THE_SOURCE.iter().any(|o| name.starts_with(o)));
            let wanted = of_code
                .filter(|name| named.is_empty() || named.iter().any(|word| name.contains(word)));
            all.extend(wanted.map(|name| (program.clone(), name.to_owned())));
        }
        let found = Mutex::new(Vec::new());
        two_at_a_time(all.len(), |k| {
            let (program, name) = &all[k];
            let reach = self.work.join(format!("reach-{k}"));
            let _ = fs::remove_file(&reach);
            let began = Instant::now();
            let switch = format!("reach:{}", reach.display());
            let outcome = self.run(&switch, program, &[name.as_str()], LONGEST);
            let seconds = began.elapsed().as_secs_f64();
            if outcome != Outcome::Passed {
                println!("  left out, for it does not pass here: {name}");
                return;
            }
            let reached = fs::read_to_string(&reach).unwrap_or_default();
            let reached = reached
                .lines()
                .filter_map(|line| line.parse().ok())
                .collect();
            let _ = fs::remove_file(&reach);
            let test = Test {
                program: program.clone(),
                name: name.clone(),
                seconds,
                reached,
            };
            if let Ok(mut found) = found.lock() {
                found.push(test);
            }
        });
        found.into_inner().map_err(|error| error.to_string())
    }

    /// Runs tests of one program with the switch so.
    pub fn run(&self, switch: &str, program: &Path, names: &[&str], limit: Limit) -> Outcome {
        static RUNS: AtomicUsize = AtomicUsize::new(0);
        let own = self
            .work
            .join(format!("run-{}", RUNS.fetch_add(1, Ordering::Relaxed)));
        let _ = fs::create_dir_all(&own);
        let outcome = self.run_in(&own, switch, (program, names), limit);
        let _ = fs::remove_dir_all(&own);
        outcome
    }

    fn run_in(
        &self,
        own: &Path,
        switch: &str,
        (program, names): (&Path, &[&str]),
        limit: Limit,
    ) -> Outcome {
        let said = own.join("said");
        let Ok(out) = fs::File::create(&said) else {
            return Outcome::Failed(Vec::new());
        };
        let mut command = Command::new("sh");
        if !self.all_cases {
            command.env("PROPTEST_CASES", "12");
        }
        let spawned = command
            .args(["-c", BOUNDS, &limit.processor.to_string()])
            .arg(program)
            .args(["--exact", "--test-threads=1"])
            .args(names)
            .current_dir(self.root)
            .env("MUTANT", switch)
            .env("TMPDIR", own)
            .env("PATIENCE", PATIENCE)
            .env("CARGO_MANIFEST_DIR", self.root)
            .stdin(Stdio::null())
            .stdout(out)
            .stderr(Stdio::null())
            .process_group(0)
            .spawn();
        let Ok(mut child) = spawned else {
            return Outcome::Failed(Vec::new());
        };
        let end = Instant::now() + limit.clock;
        let stop = |child: &mut Child| {
            let group = format!("-{}", child.id());
            let _ = Command::new("kill").args(["-9", "--", &group]).status();
            let _ = child.wait();
        };
        loop {
            match child.try_wait() {
                Ok(Some(status)) if status.success() => return Outcome::Passed,
                Ok(Some(_)) | Err(_) => {
                    let said = fs::read_to_string(&said).unwrap_or_default();
                    return Outcome::Failed(failed(&said));
                }
                Ok(None) if Instant::now() > end => {
                    stop(&mut child);
                    return Outcome::Late;
                }
                // The first failure is enough.
                Ok(None) => match failed(&fs::read_to_string(&said).unwrap_or_default()) {
                    none if none.is_empty() => std::thread::sleep(Duration::from_millis(4)),
                    some => {
                        stop(&mut child);
                        return Outcome::Failed(some);
                    }
                },
            }
        }
    }
}

/// The names of tests that a run says failed.
fn failed(said: &str) -> Vec<String> {
    let lines = said.lines().filter_map(|line| line.strip_prefix("test "));
    let failed = lines.filter_map(|line| line.strip_suffix(" ... FAILED"));
    failed.map(str::to_owned).collect()
}
