//! How often stated odds came true, for people and for scripts.

use crate::domain::strength::calibration::{BINS, Bin, Calibration, Predictions, Score, TOO_FEW};
use serde_json::{Value, json};

/// One object: `v`, and under `next_set` and `exercise` each `stated` (how many), `came_true`,
/// `left_out`, `mean_odds`, `brier`, `calibration_error`, `bins` (`from`, `to`, `stated`,
/// `came_true`, `mean_odds`) and `reps`, those predicted to failure (`told`, `untold`,
/// `mean_distance`, and `mean_error`: predicted minus actual), the same of `seconds` held. Chances
/// go from 0 to 1; what cannot be said is null.
pub fn object(calibration: &Calibration) -> Value {
    json!({
        "v": 1,
        "next_set": score(&calibration.sets),
        "exercise": score(&calibration.exercises),
    })
}

fn score(score: &Score) -> Value {
    let bin = |(place, bin): (usize, &Bin)| {
        json!({
            "from": place as f64 / BINS as f64,
            "to": (place + 1) as f64 / BINS as f64,
            "stated": bin.count,
            "came_true": bin.happened,
            "mean_odds": bin.stated(),
        })
    };
    let whole = score.whole();
    json!({
        "stated": whole.count,
        "came_true": whole.happened,
        "left_out": score.left_out,
        "mean_odds": whole.stated(),
        "brier": score.brier(),
        "calibration_error": score.calibration_error(),
        "bins": score.bins.iter().enumerate().map(bin).collect::<Vec<_>>(),
        "reps": predictions(&score.reps),
        "seconds": predictions(&score.seconds),
    })
}

fn predictions(predictions: &Predictions) -> Value {
    json!({
        "told": predictions.told,
        "untold": predictions.untold,
        "mean_error": predictions.mean_error(),
        "mean_distance": predictions.mean_distance(),
    })
}

/// The same in lines.
pub fn lines(calibration: &Calibration) -> String {
    let mut lines = told("odds of the next set, started then", &calibration.sets);
    lines.push(String::new());
    lines.extend(told(
        "odds of the exercise, all sets",
        &calibration.exercises,
    ));
    lines.iter().map(|line| line.clone() + "\n").collect()
}

fn told(name: &str, score: &Score) -> Vec<String> {
    let whole = score.whole();
    let (Some(stated), Some(came_true)) = (whole.stated(), whole.came_true()) else {
        return vec![format!("{name}: none stated yet")];
    };
    let percent = |share: f64| (share * 100.0).round();
    let mut lines = vec![format!(
        "{name}: stated {} in 100 in the mean, came true {} in 100 ({} of {})",
        percent(stated),
        percent(came_true),
        whole.happened,
        whole.count,
    )];
    for (place, bin) in score.bins.iter().enumerate() {
        if bin.count > 0 {
            lines.push(format!(
                "  stated {:>2} to {:>3} in 100: {:>4} times, came true {:>4}",
                place * 100 / BINS,
                (place + 1) * 100 / BINS,
                bin.count,
                bin.happened,
            ));
        }
    }
    if whole.count < TOO_FEW {
        lines.push(format!(
            "  too few to judge by: from {TOO_FEW} on the scores are told"
        ));
    } else if let (Some(brier), Some(off)) = (score.brier(), score.calibration_error()) {
        lines.push(format!(
            "  Brier score {brier:.3} (0 is best), calibration error {off:.3}"
        ));
    }
    if score.left_out > 0 {
        lines.push(format!(
            "  {} left out: cut short, swapped, or done with another load",
            score.left_out
        ));
    }
    let told = "went to failure or had up to 3 spare told";
    lines.extend(predicted(&score.reps, "reps", told));
    lines.extend(predicted(
        &score.seconds,
        "seconds held",
        "came to their end",
    ));
    lines
}

/// How far predicted counts to failure were off; nothing where none were predicted.
fn predicted(of: &Predictions, what: &str, by: &str) -> Option<String> {
    let (told, untold) = (of.told, of.untold);
    let all = told + untold;
    let told_by = format!("{told} of {all} sets {by}");
    Some(match (of.mean_error(), of.mean_distance()) {
        _ if all == 0 => return None,
        (Some(error), Some(distance)) if told >= TOO_FEW => {
            let way = if error < 0.0 { "too few" } else { "too many" };
            let error = error.abs();
            format!(
                "  {what} to failure: predicted {error:.1} {way} in the mean, \
                 off by {distance:.1}; {told_by}"
            )
        }
        _ => format!("  {what} to failure: too few to judge by, {told_by}; from {TOO_FEW} on"),
    })
}
