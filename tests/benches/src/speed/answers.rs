//! Suggestions and stacks, beside bare loops over the same things.

use crate::table::Table;
use crate::timed::median;
use rackside::domain::advice::standalone::Answers;
use rackside::formats::{batch, gear_solve};
use serde_json::{Value, json};

pub fn measure(table: &mut Table) {
    suggestion(table);
    stacks(table);
}

/// A lifter's sessions as scripts ask about them.
fn request(sessions: usize) -> String {
    let set = |rest: u32| json!({"load": 24.0, "reps": 8, "target": 8, "rir": 2, "rest_s": rest});
    let session = |day: usize| json!({"day": day * 3, "sets": [set(0), set(120), set(120)]});
    let loads: Vec<f64> = (2..=20).map(|step| f64::from(step) * 2.0).collect();
    json!({
        "v": 1, "kind": "suggest", "lifter": 1, "experience": "intermediate", "exercise": "row",
        "day": sessions * 3, "loads": loads, "start": {"class_1rm": 32.0},
        "plan": {"sets": 3, "reps_min": 8, "reps_max": 10, "rest_s": 120, "target_rir": 2},
        "history": (0..sessions).map(session).collect::<Vec<Value>>(),
    })
    .to_string()
}

fn suggestion(table: &mut Table) {
    let line = request(30);
    let settled = median("suggestion", || {
        batch::answer(&mut Answers::default(), &line, 1)
    });
    let answer = batch::answer(&mut Answers::default(), &line, 1);
    assert!(answer.contains("p_success"), "{answer}");
    let parsed = median("parsed", || {
        serde_json::from_str::<Value>(&line).expect("JSON")
    });
    table.time(
        "a suggestion, from 30 sessions",
        settled,
        ("the request parsed", parsed),
    );
    let mut kept = Answers::default();
    batch::answer(&mut kept, &line, 1);
    let again = median("again", || batch::answer(&mut kept, &line, 1));
    table.time(
        "the same, its belief kept",
        again,
        ("the request parsed", parsed),
    );
}

fn stacks(table: &mut Table) {
    let plates = [20.0, 15.0, 10.0, 5.0, 2.5, 1.25];
    let stock: Vec<Value> = plates.iter().map(|plate| json!([plate, 4])).collect();
    let line = json!({
        "handles": 1, "handle_kg": 20.0, "plates": stock, "loads": [40.0, 60.0, 82.5, 60.0],
    })
    .to_string();
    let answer = gear_solve::answer(&line, 1);
    assert!(answer["exact"] == true, "{answer}");
    let solved = median("stacks", || gear_solve::answer(&line, 1));
    let loop_ = median("subsets", || {
        (0..1_u32 << 12)
            .map(|chosen| {
                let each = (0..12).filter(|bit| chosen >> bit & 1 == 1);
                each.map(|bit| plates[bit / 2]).sum::<f64>()
            })
            .filter(|sum| (*sum - 31.25).abs() < 1e-9)
            .count()
    });
    table.time(
        "stacks of four loads, fewest moves",
        solved,
        ("all stacks in a bare loop", loop_),
    );
}
