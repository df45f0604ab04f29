//! How fast rackside is, each figure beside a baseline of the same run.
//!
//!     cargo build --release --manifest-path Cargo.toml      # the program
//!     cd tests/benches && cargo build --release
//!     target/release/speed ../../target/release/rackside [SETS]
//!
//! Prints one table and a plotted line. SETS is how long the long journal is: a million, where it
//! is not said. Times differ between machines and hours; ratios of one run differ little.

mod answers;
mod beside;
mod files;
mod frames;
mod growth;
mod home;
mod journal;
mod table;
mod terminal;
mod timed;
mod whole;

use home::Home;
use std::path::PathBuf;
use table::Table;

/// What is measured, and where.
pub struct Bench {
    /// The release program.
    pub program: PathBuf,
    /// The bare program beside this one.
    pub bare: PathBuf,
    /// An empty home, its four questions answered.
    pub empty: Home,
    /// A home with the long journal.
    pub long: Home,
    /// How many sets the long journal holds.
    pub sets: u64,
}

fn main() {
    let mut arguments = std::env::args().skip(1);
    let program = arguments.next().map(PathBuf::from);
    let program = program.filter(|path| path.is_file());
    let Some(program) = program.and_then(|path| path.canonicalize().ok()) else {
        eprintln!("speed: say where the release program is: speed PROGRAM [SETS]");
        std::process::exit(2);
    };
    let sets = arguments.next().map_or(Ok(1_000_000), |text| text.parse());
    let Ok(sets) = sets else {
        eprintln!("speed: SETS is a whole number, such as 1000000");
        std::process::exit(2);
    };
    let bare = std::env::current_exe().expect("this program has a path");
    eprintln!("inventing {sets} sets");
    let bench = Bench {
        bare: bare.with_file_name("bare"),
        empty: Home::empty(&program),
        long: Home::of(&program, sets),
        program,
        sets,
    };
    let mut table = Table::default();
    terminal::measure(&bench, &mut table);
    journal::measure(&bench, &mut table);
    answers::measure(&mut table);
    frames::measure(&mut table);
    whole::measure(&bench, &mut table);
    beside::measure(&bench, &mut table);
    println!("{sets} sets in the long journal\n\n{table}");
    println!("{}", growth::chart(&bench));
}
