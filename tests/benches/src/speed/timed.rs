//! How long something takes: criterion's median for what runs in this process, the median of
//! several runs for whole processes.

use criterion::Criterion;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

/// Seconds that one call takes, by criterion's median.
pub fn median<T>(name: &str, mut call: impl FnMut() -> T) -> f64 {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let mut criterion = Criterion::default()
        .without_plots()
        .sample_size(10)
        .warm_up_time(Duration::from_millis(300))
        .measurement_time(Duration::from_secs(1))
        .output_directory(folder.path());
    criterion.bench_function(name, |bencher| bencher.iter(&mut call));
    estimate(&folder.path().join(name).join("new/estimates.json"))
}

fn estimate(path: &Path) -> f64 {
    let text = std::fs::read_to_string(path).expect("criterion's estimates");
    let value: serde_json::Value = serde_json::from_str(&text).expect("JSON");
    value["median"]["point_estimate"]
        .as_f64()
        .expect("nanoseconds")
        * 1e-9
}

/// Seconds of one call that is too long, or changes too much, to be repeated at will.
pub fn once<T>(call: impl FnOnce() -> T) -> f64 {
    let begun = Instant::now();
    std::hint::black_box(call());
    begun.elapsed().as_secs_f64()
}

/// The median of so many.
pub fn middle(mut seconds: Vec<f64>) -> f64 {
    share(&mut seconds, 0.5)
}

/// The value below which such a share lies.
pub fn share(seconds: &mut [f64], share: f64) -> f64 {
    seconds.sort_by(f64::total_cmp);
    let last = seconds.len() - 1;
    seconds[((last as f64) * share).round() as usize]
}

/// Seconds of a whole process, the median of so many runs; what it prints goes nowhere.
pub fn process(runs: usize, command: impl Fn() -> Command) -> f64 {
    let run = || {
        let mut command = command();
        command
            .stdin(Stdio::null())
            .stdout(Stdio::null())
            .stderr(Stdio::null());
        once(|| assert!(command.status().expect("it runs").success()))
    };
    middle((0..runs).map(|_| run()).collect())
}
