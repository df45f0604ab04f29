//! Plays the suggestions, published rules and an oracle against simulated lifters, and prints the
//! table of what came of them.
//!
//!     cargo run --release --bin simulate -- [LIFTERS] [SEED]
//!     cargo run --release --bin simulate -- LIFTERS SEED detail
//!     cargo run --release --bin simulate -- trace SEED
//!
//! The second form plays the suggestions alone and prints where they err; the third prints every
//! session of one lifter.

mod chance;
mod play;
mod policy;
mod score;
mod truth;

use play::{Scope, play};
use policy::Policy;
use score::Score;
use truth::World;

const ROWS: [(&str, World, Scope, Policy); 8] = [
    ("suggestions", World::Usual, Scope::One, Policy::Engine),
    (
        "  far noisier lifters",
        World::Noisy,
        Scope::One,
        Policy::Engine,
    ),
    (
        "  other curve, few reports",
        World::Silent,
        Scope::One,
        Policy::Engine,
    ),
    (
        "  three exercises, apart",
        World::Usual,
        Scope::Apart,
        Policy::Engine,
    ),
    (
        "  the same, together",
        World::Usual,
        Scope::Together,
        Policy::Engine,
    ),
    (
        "double progression",
        World::Usual,
        Scope::One,
        Policy::DoubleProgression,
    ),
    (
        "two-for-two",
        World::Usual,
        Scope::One,
        Policy::TwoForTwo,
    ),
    ("oracle", World::Usual, Scope::One, Policy::Oracle),
];

fn main() {
    let args: Vec<String> = std::env::args().skip(1).collect();
    let number = |place: usize| args.get(place).and_then(|arg| arg.parse::<u64>().ok());
    if args.first().is_some_and(|arg| arg == "trace") {
        let seed = number(1).unwrap_or(1);
        play(
            seed,
            (World::Usual, Scope::One, Policy::Engine),
            &mut Score::default(),
            true,
        );
        return;
    }
    let (lifters, seed) = (number(0).unwrap_or(240), number(1).unwrap_or(1));
    println!("{lifters} lifters, seed {seed}\n{}", Score::HEAD);
    let detail = args.get(2).is_some_and(|arg| arg == "detail");
    let rows = if detail { 1 } else { ROWS.len() };
    for (name, world, scope, policy) in ROWS.into_iter().take(rows) {
        let mut score = Score::default();
        for lifter in 0..lifters {
            let how = (world, scope, policy);
            play(seed * 1_000_003 + lifter, how, &mut score, false);
        }
        println!("{}", score.row(name));
        if detail {
            println!("{}\n{}", score.bins(), score.errors());
        }
    }
}
