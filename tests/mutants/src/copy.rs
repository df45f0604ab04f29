//! A copy of the repository that holds all changes, built once.

use crate::find;
use crate::rewrite::{Numbered, Written, rewrite};
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

/// A copy with its changes.
pub struct Copy {
    /// Where the copy lies.
    pub root: PathBuf,
    /// Where it is built.
    target: PathBuf,
    /// The sources that are changed, by their files, as they were.
    pub sources: BTreeMap<String, String>,
    /// The changes that can be built.
    pub mutants: Vec<Numbered>,
    /// How many were left out: the compiler refuses them.
    pub refused: usize,
    /// How many functions were left as they are, being evaluated by the compiler too.
    pub constant: usize,
}

const SWITCH: &str = include_str!("switch.rs.txt");

impl Copy {
    /// Copies what git knows of the repository, and finds the changes of the files.
    ///
    /// # Errors
    ///
    /// A file cannot be read, written or understood.
    pub fn make(repository: &Path, files: &[String]) -> Result<Self, String> {
        let work = repository.join("target/mutants");
        let root = work.join("copy");
        let listed = Command::new("git")
            .args(["ls-files", "-co", "--exclude-standard"])
            .current_dir(repository)
            .output();
        let listed = listed.map_err(|error| format!("git: {error}"))?;
        let listed = String::from_utf8_lossy(&listed.stdout).into_owned();
        let known: BTreeSet<PathBuf> = listed.lines().map(|name| root.join(name)).collect();
        sweep(&root, &known)?;
        for name in listed.lines() {
            let bytes = match fs::read(repository.join(name)) {
                Ok(bytes) => bytes,
                // Gone, and git does not know yet.
                Err(_) => continue,
            };
            write(&root.join(name), &bytes)?;
        }
        let mut copy = Self {
            root,
            target: work.join("build"),
            sources: BTreeMap::new(),
            mutants: Vec::new(),
            refused: 0,
            constant: 0,
        };
        copy.pass_the_switch_on()?;
        for path in files {
            let source = read(&repository.join(path))?;
            let (found, constant) = find::mutants(&source).map_err(|e| format!("{path}: {e}"))?;
            copy.constant += constant;
            for mutant in found {
                let number = copy.mutants.len() + 1;
                let path = path.clone();
                copy.mutants.push(Numbered {
                    number,
                    path,
                    mutant,
                });
            }
            copy.sources.insert(path.clone(), source);
        }
        copy.without_those_refused()?;
        Ok(copy)
    }

    /// Puts the switch into the library, and has tests that start the program hand it on.
    fn pass_the_switch_on(&self) -> Result<(), String> {
        let lib = read(&self.root.join("src/lib.rs"))?;
        write(
            &self.root.join("src/lib.rs"),
            format!("{lib}\n{SWITCH}").as_bytes(),
        )?;
        let cli = "tests/suite/rig/cli.rs";
        let text = read(&self.root.join(cli))?;
        let on = ".env_clear().envs(std::env::var(\"MUTANT\").map(|on| (\"MUTANT\", on)))";
        write(
            &self.root.join(cli),
            text.replace(".env_clear()", on).as_bytes(),
        )?;
        let pty = "tests/suite/rig/pty.rs";
        let text = read(&self.root.join(pty))?;
        let on = "command.env_clear();\
            if let Ok(on) = std::env::var(\"MUTANT\") { command.env(\"MUTANT\", on); }";
        write(
            &self.root.join(pty),
            text.replace("command.env_clear();", on).as_bytes(),
        )
    }

    /// Writes the changes, and takes out those that the compiler refuses, until it refuses none.
    fn without_those_refused(&mut self) -> Result<(), String> {
        loop {
            let mut written = Vec::new();
            for (path, source) in &self.sources {
                let here = self.mutants.iter().filter(|m| m.path == *path);
                let (text, places) = rewrite(source, &here.collect::<Vec<_>>());
                write(&self.root.join(path), text.as_bytes())?;
                written.push((path.clone(), places));
            }
            let problems = self.problems()?;
            if problems.is_empty() {
                return Ok(());
            }
            let refused: BTreeSet<usize> = problems
                .iter()
                .flat_map(|problem| problem.mutants(&written))
                .collect();
            if refused.is_empty() {
                let texts: Vec<&str> = problems.iter().map(|p| p.text.as_str()).collect();
                return Err(format!("the copy is not built:\n{}", texts.join("\n")));
            }
            println!("  {} refused by the compiler", refused.len());
            self.refused += refused.len();
            self.mutants.retain(|m| !refused.contains(&m.number));
        }
    }

    /// Cargo, on the copy.
    fn cargo(&self, arguments: &[&str]) -> Result<(bool, Vec<serde_json::Value>), String> {
        let ran = Command::new("cargo")
            .args(arguments)
            .args(["--locked", "--message-format=json"])
            .current_dir(&self.root)
            .env("CARGO_TARGET_DIR", &self.target)
            .env("RUSTFLAGS", "-Awarnings")
            .stderr(std::process::Stdio::inherit())
            .output();
        let ran = ran.map_err(|error| format!("cargo: {error}"))?;
        let text = String::from_utf8_lossy(&ran.stdout).into_owned();
        let messages = text
            .lines()
            .filter_map(|line| serde_json::from_str(line).ok());
        Ok((ran.status.success(), messages.collect()))
    }

    fn problems(&self) -> Result<Vec<Problem>, String> {
        let (fine, messages) = self.cargo(&["check", "--lib", "--quiet"])?;
        if fine {
            return Ok(Vec::new());
        }
        Ok(messages.iter().filter_map(Problem::of).collect())
    }

    /// Builds the tests; gives their programs.
    ///
    /// # Errors
    ///
    /// They cannot be built.
    pub fn tests(&self) -> Result<Vec<PathBuf>, String> {
        let (fine, messages) = self.cargo(&["test", "--no-run", "--quiet"])?;
        if !fine {
            let problems: Vec<Problem> = messages.iter().filter_map(Problem::of).collect();
            let texts: Vec<&str> = problems.iter().map(|p| p.text.as_str()).collect();
            return Err(format!("the tests are not built:\n{}", texts.join("\n")));
        }
        let programs = messages.iter().filter_map(|message| {
            let is_test = message["profile"]["test"].as_bool().unwrap_or(false);
            message["executable"].as_str().filter(|_| is_test)
        });
        Ok(programs.map(PathBuf::from).collect())
    }
}

/// An error of the compiler.
struct Problem {
    /// The files and bytes that it is about.
    places: Vec<(String, usize)>,
    text: String,
}

impl Problem {
    fn of(message: &serde_json::Value) -> Option<Self> {
        let message = &message["message"];
        if message["level"].as_str() != Some("error") {
            return None;
        }
        let spans = message["spans"].as_array()?;
        let primary = spans
            .iter()
            .filter(|span| span["is_primary"].as_bool() == Some(true));
        let place = |span: &serde_json::Value| {
            let file = span["file_name"].as_str()?.to_owned();
            Some((file, usize::try_from(span["byte_start"].as_u64()?).ok()?))
        };
        let places: Vec<_> = primary.filter_map(place).collect();
        let text = message["rendered"].as_str().unwrap_or_default().to_owned();
        (!places.is_empty()).then_some(Self { places, text })
    }

    /// The changes that it lies in: those whose own text it lies in, else the innermost around it.
    fn mutants(&self, written: &[(String, Vec<Written>)]) -> Vec<usize> {
        let mut found = Vec::new();
        for (file, at) in &self.places {
            let Some((_, places)) = written.iter().find(|(path, _)| path == file) else {
                continue;
            };
            let own = places.iter().find(|one| one.before.contains(at));
            let around = places.iter().filter(|one| one.whole.contains(at));
            let one = own.or_else(|| around.min_by_key(|one| one.whole.len()));
            found.extend(one.map(|one| one.number));
        }
        found
    }
}

fn read(path: &Path) -> Result<String, String> {
    fs::read_to_string(path).map_err(|error| format!("{}: {error}", path.display()))
}

/// Removes what an earlier copy left that is no longer there.
fn sweep(folder: &Path, known: &BTreeSet<PathBuf>) -> Result<(), String> {
    let Ok(entries) = fs::read_dir(folder) else {
        return Ok(());
    };
    for path in entries.flatten().map(|entry| entry.path()) {
        if path.is_dir() {
            sweep(&path, known)?;
        } else if !known.contains(&path) {
            fs::remove_file(&path).map_err(|error| format!("{}: {error}", path.display()))?;
        }
    }
    Ok(())
}

/// Writes a file where it is not so already, for a build does only what changed.
fn write(path: &Path, bytes: &[u8]) -> Result<(), String> {
    if fs::read(path).is_ok_and(|there| there == bytes) {
        return Ok(());
    }
    let said = |error: std::io::Error| format!("{}: {error}", path.display());
    if let Some(folder) = path.parent() {
        fs::create_dir_all(folder).map_err(said)?;
    }
    fs::write(path, bytes).map_err(said)
}
