//! Changes the program in many small ways, one at a time, and asks whether a test sees each.
//!
//! All changes of the files that are named are built at once, each behind a number that a variable
//! of the environment switches on. Every test is run once to learn which changes it comes by; then
//! each change is switched on, and the tests that come by it run until one fails. `again` tries
//! what was left, with all cases of tests that play random ones.
//!
//!     rackside-mutants [again] FILE-OR-FOLDER... [-- WORD-OF-TESTS...]

mod copy;
mod explained;
mod find;
mod results;
mod rewrite;
mod trial;

use copy::Copy;
use explained::Key;
use rewrite::Numbered;
use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::sync::Mutex;
use std::time::Duration;
use trial::{Ground, Limit, Outcome, Test, two_at_a_time};

/// What became of a change.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Fate {
    Killed,
    Late,
    Survived,
    NeverRun,
}

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    match run(&arguments) {
        Ok(0) => ExitCode::SUCCESS,
        Ok(_) => ExitCode::from(1),
        Err(error) => {
            eprintln!("mutants: {error}");
            ExitCode::from(2)
        }
    }
}

/// Tries the changes; gives how many were neither seen nor explained.
fn run(arguments: &[String]) -> Result<usize, String> {
    let repository = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
    let repository = repository
        .canonicalize()
        .map_err(|error| error.to_string())?;
    let mut halves = arguments.splitn(2, |argument| argument == "--");
    let (paths, words) = (halves.next().unwrap_or(&[]), halves.next().unwrap_or(&[]));
    let (again, named) = match paths {
        [first, rest @ ..] if first == "again" => (true, rest),
        all => (false, all),
    };
    let mut files = Vec::new();
    for name in named {
        sources(&repository, Path::new(name), &mut files)?;
    }
    let copy = Copy::make(&repository, &files)?;
    let left = repository.join("target/mutants/left.txt");
    let last = if again {
        explained::read(&left, false)?
    } else {
        Vec::new()
    };
    let tried: Vec<(&Numbered, Key)> = copy.mutants.iter().zip(keys(&copy)).collect();
    let tried: Vec<(&Numbered, Key)> = tried
        .into_iter()
        .filter(|(_, key)| !again || last.contains(key))
        .collect();
    println!(
        "{} changes of {} files; {} refused by the compiler, {} functions evaluated by it",
        copy.mutants.len(),
        files.len(),
        copy.refused,
        copy.constant,
    );
    let programs = copy.tests()?;
    let work = repository.join("target/mutants/runs");
    fs::create_dir_all(&work).map_err(|error| error.to_string())?;
    let ground = Ground {
        root: &copy.root,
        work: &work,
        all_cases: again,
    };
    let tests = ground.tests(&programs, words)?;
    println!("{} tests", tests.len());
    let fates = fates(&ground, &tests, &tried);
    let _ = fs::remove_dir_all(&work);
    report(&repository, &tried, &fates)
}

/// The Rust files under a path, without those that hold tests alone.
fn sources(repository: &Path, path: &Path, files: &mut Vec<String>) -> Result<(), String> {
    let whole = repository.join(path);
    if !whole.is_dir() {
        files.push(path.to_string_lossy().into_owned());
        return Ok(());
    }
    let said = |error: std::io::Error| format!("{}: {error}", path.display());
    let entries = fs::read_dir(&whole).map_err(said)?;
    let mut names: Vec<PathBuf> = entries
        .flatten()
        .map(|e| path.join(e.file_name()))
        .collect();
    names.sort();
    for name in names {
        let is_source = name.extension().is_some_and(|ending| ending == "rs");
        let is_test = name.file_stem().is_some_and(|stem| stem == "tests");
        if repository.join(&name).is_dir() || is_source && !is_test {
            sources(repository, &name, files)?;
        }
    }
    Ok(())
}

/// What names each change in the next build too.
fn keys(copy: &Copy) -> Vec<Key> {
    let key = |numbered: &Numbered| {
        let source = copy.sources.get(&numbered.path);
        let line = source.and_then(|text| text.lines().nth(numbered.mutant.line - 1));
        Key {
            path: numbered.path.clone(),
            line: line.unwrap_or_default().trim().to_owned(),
            what: numbered.mutant.what.clone(),
        }
    };
    copy.mutants.iter().map(key).collect()
}

/// What became of each.
fn fates(ground: &Ground<'_>, tests: &[Test], tried: &[(&Numbered, Key)]) -> Vec<Fate> {
    let fates = Mutex::new(vec![Fate::NeverRun; tried.len()]);
    let kills: Mutex<BTreeMap<String, usize>> = Mutex::new(BTreeMap::new());
    two_at_a_time(tried.len(), |k| {
        let (numbered, _) = tried[k];
        let known = kills.lock().map(|kills| kills.clone()).unwrap_or_default();
        let (fate, by) = fate(ground, tests, numbered, &known);
        if matches!(fate, Fate::Survived | Fate::NeverRun) {
            let Numbered { path, mutant, .. } = numbered;
            println!("{fate:?}: {path}:{} {}", mutant.line, mutant.what);
        }
        if let (Some(by), Ok(mut kills)) = (by, kills.lock()) {
            *kills.entry(by).or_default() += 1;
        }
        if let Ok(mut fates) = fates.lock() {
            fates[k] = fate;
        }
    });
    fates.into_inner().unwrap_or_default()
}

fn fate(
    ground: &Ground<'_>,
    tests: &[Test],
    numbered: &Numbered,
    kills: &BTreeMap<String, usize>,
) -> (Fate, Option<String>) {
    let mut coming: Vec<&Test> = tests
        .iter()
        .filter(|test| test.reached.contains(&numbered.number))
        .collect();
    if coming.is_empty() {
        return (Fate::NeverRun, None);
    }
    // First those that saw much already, then the quick ones.
    coming.sort_by(|a, b| {
        let seen = |test: &Test| kills.get(&test.name).copied().unwrap_or(0).min(3);
        let quicker = a.seconds.total_cmp(&b.seconds);
        seen(b).cmp(&seen(a)).then(quicker)
    });
    let mut most = 1.0;
    while !coming.is_empty() {
        let program = coming[0].program.clone();
        let (mut batch, mut seconds, mut rest) = (Vec::new(), 0.0, Vec::new());
        for test in coming {
            let fits = batch.is_empty() || seconds + test.seconds <= most && batch.len() < 60;
            if test.program == program && fits {
                seconds += test.seconds;
                batch.push(test.name.as_str());
            } else {
                rest.push(test);
            }
        }
        let limit = Limit {
            processor: 5 + (8.0 * seconds) as u64,
            clock: Duration::from_secs_f64(30.0 + 8.0 * seconds),
        };
        let switch = numbered.number.to_string();
        match ground.run(&switch, &program, &batch, limit) {
            Outcome::Passed => {}
            Outcome::Failed(names) => return (Fate::Killed, names.into_iter().next()),
            Outcome::Late => return (Fate::Late, None),
        }
        (coming, most) = (rest, 10.0);
    }
    (Fate::Survived, None)
}

/// Prints what came of it; gives how many were neither seen nor explained.
fn report(repository: &Path, tried: &[(&Numbered, Key)], fates: &[Fate]) -> Result<usize, String> {
    let reasons = explained::read(&repository.join("tests/mutants/explained.txt"), true)?;
    let mut lines: BTreeMap<&str, [usize; 5]> = BTreeMap::new();
    let mut left = Vec::new();
    for ((_, key), fate) in tried.iter().zip(fates) {
        let counts = lines.entry(&key.path).or_default();
        counts[0] += 1;
        match fate {
            Fate::Killed | Fate::Late => counts[1] += 1,
            Fate::Survived | Fate::NeverRun if reasons.contains(key) => counts[2] += 1,
            Fate::Survived => counts[3] += 1,
            Fate::NeverRun => counts[4] += 1,
        }
        let seen = matches!(fate, Fate::Killed | Fate::Late);
        if !seen && !reasons.contains(key) {
            left.push(key.clone());
        }
    }
    println!("{:<44} made seen expl surv never-run", "");
    let mut sum = [0; 5];
    for (path, counts) in &lines {
        for (all, one) in sum.iter_mut().zip(counts) {
            *all += one;
        }
        println!("{path:<44} {}", row(counts));
    }
    let late = fates.iter().filter(|fate| **fate == Fate::Late).count();
    println!(
        "{:<44} {} ({late} seen by the clock alone)",
        "all",
        row(&sum)
    );
    explained::write(&repository.join("target/mutants/left.txt"), &left)?;
    Ok(left.len())
}

fn row([made, seen, explained, survived, never]: &[usize; 5]) -> String {
    format!("{made:>4} {seen:>4} {explained:>4} {survived:>4} {never:>4}")
}
