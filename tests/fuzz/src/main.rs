//! One fuzzer for every target of the suite: `FUZZED` names it, each input has its memory bounded.
#![no_main]
#![allow(
    dead_code,
    reason = "the suite's rigs offer more than one target needs"
)]

use cap::Cap;
use fuzzed::{TARGETS, Target};
use libfuzzer_sys::fuzz_target;
use std::alloc::System;
use std::sync::LazyLock;

#[path = "../../suite/files.rs"]
mod files;
#[path = "../../suite/fuzzed/mod.rs"]
mod fuzzed;
mod rig;

/// One input may not hold more than this at once.
const MOST: usize = 192 << 20;

#[global_allocator]
static MEMORY: Cap<System> = Cap::new(System, usize::MAX);

static TARGET: LazyLock<Target> = LazyLock::new(|| {
    let wanted = std::env::var("FUZZED").unwrap_or_default();
    let found = TARGETS.iter().find(|(name, _)| *name == wanted);
    found.copied().unwrap_or_else(|| {
        let names = TARGETS.map(|(name, _)| name).join(", ");
        eprintln!("FUZZED names what is to be fuzzed: {names}");
        std::process::exit(2)
    })
});

fuzz_target!(|input: &[u8]| {
    let (_, run) = *TARGET;
    // More than this fails to be allocated, and ends the fuzzer.
    let _ = MEMORY.set_limit(MEMORY.allocated() + MOST);
    run(input);
    let _ = MEMORY.set_limit(usize::MAX);
});
