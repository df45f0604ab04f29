//! Questions and answers of scripts: every line has its answer, and a bad one says what is wrong
//! and what to write instead.

use rackside::domain::advice::standalone::Answers;
use rackside::formats::batch;
use serde_json::{Value, json};

fn request() -> Value {
    json!({
        "v": 1, "kind": "suggest", "lifter": 1, "experience": "novice", "exercise": "row",
        "day": 8, "set_index": 0,
        "plan": {"sets": 3, "reps_min": 8, "reps_max": 12, "rest_s": 90},
        "loads": [6.0, 8.0, 10.0, 12.0, 14.0, 16.0, 18.0, 20.0],
        "start": {"class_1rm": 25.0, "own_guess": null},
        "history": [
            {"day": 0, "sets": [{"load": 10.0, "reps": 10, "target": 10, "rir": 3, "rest_s": null,
                                 "amrap": false, "deload": false}]},
            {"day": 4, "sets": [{"load": 12.0, "reps": 10, "target": 10, "rir": 2, "rest_s": null,
                                 "amrap": false, "deload": false}]},
        ],
        "session": [],
    })
}

fn answer(answers: &mut Answers, line: &str) -> Value {
    serde_json::from_str(&batch::answer(answers, line, 7)).expect("one JSON object")
}

#[test]
fn a_bad_line_says_what_is_wrong_and_what_to_write_and_the_next_is_answered() {
    type Spoil = fn(&mut Value);
    let spoilt: [(&str, Spoil, &str); 13] = [
        (
            "journal: \"curl\"",
            |r| {
                r["journal"] =
                    json!({"curl": [{"day": 0, "sets": [{"load": -1.0, "reps": 8, "target": 8}]}]})
            },
            "above 0",
        ),
        ("v", |r| r["v"] = json!(2), "write v 1"),
        ("kind", |r| r["kind"] = json!("ask"), "kind \"suggest\""),
        ("loads", |r| r["loads"] = json!([]), "give 1 to"),
        ("loads", |r| r["loads"] = json!([0.0]), "above 0"),
        (
            "loads",
            |r| r["loads"] = json!("heavy"),
            "write one JSON object",
        ),
        ("plan.sets", |r| r["plan"]["sets"] = json!(0), "write 1 to"),
        (
            "reps_min",
            |r| r["plan"]["reps_min"] = json!(13),
            "smaller first",
        ),
        (
            "plan.rest_s",
            |r| r["plan"]["rest_s"] = json!(-1),
            "write 0 to",
        ),
        (
            "start.class_1rm",
            |r| r["start"]["class_1rm"] = json!(-5.0),
            "above 0",
        ),
        (
            "own_guess",
            |r| r["start"]["own_guess"] = json!(9e9),
            "above 0",
        ),
        ("day", |r| r["day"] = json!(9_000_000), "write -1000000"),
        (
            "a set",
            |r| r["history"][0]["sets"][0]["reps"] = json!(5000),
            "at most",
        ),
    ];
    let mut answers = Answers::default();
    for (what, spoil, instead) in spoilt {
        let mut bad = request();
        spoil(&mut bad);
        let told = answer(&mut answers, &bad.to_string());
        let error = told["error"].as_str().expect("an error");
        assert!(error.contains(what), "{what}: {error}");
        assert!(error.contains(instead), "{instead}: {error}");
        assert_eq!(told["line"], 7);
        let next = answer(&mut answers, &request().to_string());
        assert!(next["p_success"].is_number(), "{next}");
    }
    for line in ["{", "[]", "null", "8 8 8", "{\"v\":1}", "\u{0}"] {
        let told = answer(&mut answers, line);
        let error = told["error"].as_str().expect("an error");
        assert!(error.contains("write one JSON object"), "{error}");
    }
}

#[test]
fn no_odds_rise_with_the_load() {
    for rest in [45, 90, 240] {
        for range in [(8, 8), (8, 12), (5, 5), (12, 20)] {
            let mut asked = request();
            asked["plan"]["rest_s"] = json!(rest);
            asked["plan"]["reps_min"] = json!(range.0);
            asked["plan"]["reps_max"] = json!(range.1);
            let told = answer(&mut Answers::default(), &asked.to_string());
            let odds = |key: &str| told[key].as_f64();
            let success = odds("p_success").expect("odds");
            assert!((0.0..=1.0).contains(&success));
            assert!(odds("p_down").is_none_or(|down| down >= success), "{told}");
            assert!(odds("p_up").is_none_or(|up| up <= success), "{told}");
            assert!(!told["predicted_reps"].as_array().expect("reps").is_empty());
        }
    }
}
