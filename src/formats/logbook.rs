//! What the views of the logbook say, for scripts: JSON with stable keys. What each number means
//! stands in `shared/logbook.md`; what cannot be said is null.

use super::json;
use crate::domain::exercise::ExerciseId;
use crate::domain::logbook::backing_off::{BackingOff, Lately, Rest, Suggestion};
use crate::domain::logbook::balance::{Loads, Ratio, Says, balance as pairs};
use crate::domain::logbook::records::{Fell, Lifted, Records, Work};
use crate::domain::logbook::strength::{Measure, Strength};
use crate::domain::logbook::told::strength::{Asked, check};
use crate::domain::logbook::told::work::{RANGE, means, weeks};
use crate::domain::logbook::told::{Reading, backing_off as words, balance as told};
use crate::domain::logbook::trend::{Trend, Verdict};
use crate::domain::logbook::week::WeekDigest;
use crate::domain::session::Session;
use crate::domain::strength::belief::Believed;
use chrono::NaiveDate;
use serde_json::{Map, Value, json};

/// The version of what `trends` prints.
const VERSION: u32 = 1;
/// Weeks that are listed at most: more than a long life holds.
const MOST_WEEKS: u64 = 5200;

/// A session: `id`, `day`, `at`, `program`, `phase`, `week`, `plan_day`, `place`, `source`, `sets`,
/// `hard_sets`, `minutes`, `effort`, `load`, `volume_kg`, `notes`; asked for whole, also
/// `recorded`, each set as `journal list --json` has it with `planned_load` and `planned` beside.
pub fn session(reading: &Reading<'_>, place: usize, whole: bool) -> Value {
    let records = (
        reading.history.sessions.get(place),
        reading.logbook.sessions.get(place),
    );
    let (Some(session), Some(digest)) = records else {
        return Value::Null;
    };
    let plan = session.plan.as_ref();
    let mut object = json!({
        "v": VERSION,
        "id": session.id.to_string(),
        "day": digest.day.to_string(),
        "at": session.opened.to_string(),
        "program": plan.map(|plan| plan.program.as_str()),
        "phase": plan.map(|plan| plan.phase_name.as_str()),
        "week": plan.map(|plan| plan.week),
        "plan_day": plan.map(|plan| plan.day_name.as_str()),
        "place": plan.map(|plan| plan.place.as_str()),
        "source": session.source,
        "sets": session.sets.len(),
        "hard_sets": digest.hard(),
        "minutes": digest.minutes,
        "effort": digest.effort,
        "load": digest.load(),
        "volume_kg": digest.volume().kg(),
        "notes": session.notes.iter().map(|(_, note)| note).collect::<Vec<_>>(),
    });
    if let (true, Some(object)) = (whole, object.as_object_mut()) {
        object.insert("recorded".to_owned(), recorded(session));
    }
    object
}

fn recorded(session: &Session) -> Value {
    let of = |(k, set): (usize, &crate::domain::session::Performed)| {
        let mut value = json::set(set);
        let planned = session.planned_at(k);
        if let Some(object) = value.as_object_mut() {
            let load = planned.map(|planned| json::load(planned.load));
            object.insert("planned_load".to_owned(), json!(load));
            let count = planned.map(|planned| planned.asked.count());
            object.insert("planned".to_owned(), json!(count));
        }
        value
    };
    session.sets.iter().enumerate().map(of).collect()
}

/// Strength of an exercise: `exercise`, `measure` (`e1rm`, `reps`, `hold_s`), `unit` or `load`,
/// `sessions` (`day`, `id`, `sets`), `trend` (`verdict`, `per_month` and `give_or_take` as shares,
/// `whole`, `whole_give_or_take`, `sessions`, `days`), `believed` (`day`, `e1rm_kg`, `sd_ln`), and
/// with an equation `equation` and `by_equation` (`day`, `e1rm`).
pub fn strength(reading: &Reading<'_>, asked: &Asked, believed: &[Believed]) -> Value {
    let id = &asked.exercise;
    let records = (reading.history, reading.logbook);
    let exercise = reading.catalogue.get(id);
    let found = exercise.and_then(|e| Strength::of(records, e, reading.days, asked.load));
    let mut object = Map::new();
    object.insert("v".to_owned(), json!(VERSION));
    object.insert("exercise".to_owned(), json!(id.as_str()));
    object.insert("since".to_owned(), json!(reading.days.0.to_string()));
    object.insert("until".to_owned(), json!(reading.days.1.to_string()));
    if let Some(found) = &found {
        let (measure, key, of) = match found.measure {
            Measure::Max(unit) => ("e1rm", "unit", json!(unit.symbol())),
            Measure::Reps(load) => ("reps", "load", json::load(load)),
            Measure::Hold(load) => ("hold_s", "load", json::load(load)),
        };
        object.insert("measure".to_owned(), json!(measure));
        object.insert(key.to_owned(), of);
        let sessions = found.sessions.iter().map(|shown| {
            let session = reading.history.sessions.get(shown.session);
            json!({
                "day": shown.day.to_string(),
                "id": session.map(|session| session.id.to_string()),
                "sets": shown.sets,
            })
        });
        object.insert("sessions".to_owned(), sessions.collect());
        object.insert("trend".to_owned(), json!(found.trend.as_ref().map(trend)));
    }
    object.insert(
        "believed".to_owned(),
        believed.iter().map(believed_at).collect(),
    );
    if let Some(equation) = asked.equation {
        let by = check(reading, id, equation);
        let by = by
            .iter()
            .map(|(at, max)| json!({ "day": day(*at as i32), "e1rm": max }));
        object.insert("equation".to_owned(), json!(equation.name()));
        object.insert("by_equation".to_owned(), by.collect());
    }
    Value::Object(object)
}

fn day(number: i32) -> Option<String> {
    NaiveDate::from_num_days_from_ce_opt(number).map(|day| day.to_string())
}

fn believed_at(at: &Believed) -> Value {
    json!({ "day": day(at.day), "e1rm_kg": at.mean.exp(), "sd_ln": at.spread })
}

fn trend(trend: &Trend) -> Value {
    let (whole, band) = trend.whole();
    json!({
        "verdict": match trend.verdict() {
            Verdict::Up => "up",
            Verdict::Down => "down",
            Verdict::NoChange => "no_change",
        },
        "per_month": trend.monthly(),
        "give_or_take": trend.monthly_band(),
        "whole": whole,
        "whole_give_or_take": band,
        "sessions": trend.sessions,
        "days": trend.days,
    })
}

/// Work: `range` (least and most weekly sets), `mean` by muscle over whole weeks, `weeks` (`week`,
/// `monday`, `over`, `sessions`, `days`, `minutes`, `hard_sets`, `muscles`, `volume_kg`, `told`,
/// `loads` of the seven days, `load`, `monotony`, `strain`).
pub fn work(reading: &Reading<'_>) -> Value {
    let weeks = weeks(reading, MOST_WEEKS);
    json!({
        "v": VERSION,
        "range": { "least": RANGE.0, "most": RANGE.1 },
        "mean": by_muscle(&means(&weeks)),
        "weeks": weeks.iter().map(week).collect::<Vec<_>>(),
    })
}

fn by_muscle(
    sets: &std::collections::BTreeMap<crate::domain::exercise::Muscle, f64>,
) -> Map<String, Value> {
    let sets = sets.iter();
    sets.map(|(muscle, sets)| (muscle.to_string(), json!(sets)))
        .collect()
}

fn week(week: &WeekDigest) -> Value {
    let foster = week.foster();
    json!({
        "week": week.week.to_string(),
        "monday": week.week.monday().to_string(),
        "over": week.over,
        "sessions": week.sessions,
        "days": week.days,
        "minutes": week.minutes,
        "hard_sets": week.hard_sets,
        "muscles": by_muscle(&week.hard),
        "volume_kg": week.volume.kg(),
        "told": week.told,
        "loads": week.loads,
        "load": week.loads.iter().sum::<u32>(),
        "monotony": foster.and_then(|foster| foster.monotony),
        "strain": foster.and_then(|foster| foster.strain),
    })
}

const fn says(says: Says) -> &'static str {
    match says {
        Says::TooLittle => "too_little",
        Says::Even => "even",
        Says::FirstLags => "first_lags",
        Says::SecondLags => "second_lags",
    }
}

fn ratio(ratio: Ratio) -> Value {
    json!({ "ratio": ratio.ratio, "from": ratio.band.0, "to": ratio.band.1 })
}

/// Balance: `pairs`, each `first`, `second`, `weekly_sets` (of both), `sets` (`ratio`, `from`,
/// `to`), `range`, `source`, `says`, `advice`, and `loads` (`first`, `second`, `ratio`, `range`,
/// `source`, `says`) where two exercises can be compared.
pub fn balance(reading: &Reading<'_>) -> Value {
    let records = (reading.history, reading.logbook);
    let all = pairs(records, reading.catalogue, reading.today);
    let pair = |found: &crate::domain::logbook::balance::Balance| {
        let loads = |loads: &Loads| {
            json!({
                "first": loads.names.0,
                "second": loads.names.1,
                "ratio": ratio(loads.ratio),
                "range": found.pair.loads,
                "source": found.pair.loads_source,
                "says": says(loads.says),
            })
        };
        json!({
            "first": found.pair.names.0,
            "second": found.pair.names.1,
            "weekly_sets": [found.weekly.0, found.weekly.1],
            "sets": found.ratio.map(ratio),
            "range": found.pair.sets,
            "source": found.pair.source,
            "says": says(found.says),
            "advice": told::advice(found),
            "loads": found.loads.as_ref().map(loads),
        })
    };
    json!({ "v": VERSION, "pairs": all.iter().map(pair).collect::<Vec<_>>() })
}

/// Records of an exercise: `exercise`, `e1rm` (`kg`, `day`, `session`), `work`, and lists of
/// `load`, `count`, `day`, `session`: `heaviest`, `most`, `holds`.
pub fn records(reading: &Reading<'_>, id: &ExerciseId) -> Value {
    let found = Records::of(reading.history, reading.logbook, id);
    let session = |place: usize| {
        let session = reading.history.sessions.get(place);
        session.map(|session| session.id.to_string())
    };
    let list = |list: &[Fell<Lifted>]| -> Vec<Value> {
        let of = |fell: &Fell<Lifted>| {
            json!({
                "load": json::load(fell.best.load),
                "count": fell.best.count,
                "day": fell.day.to_string(),
                "session": session(fell.session),
            })
        };
        list.iter().map(of).collect()
    };
    let max = found.max.map(|max| {
        let (kg, day) = (max.best.mass.kg(), max.day.to_string());
        json!({ "kg": kg, "day": day, "session": session(max.session) })
    });
    let work = found.work.map(|work| {
        let (key, amount) = match work.best {
            Work::Volume(mass) => ("volume_kg", mass.kg()),
            Work::Reps(reps) => ("reps", f64::from(reps)),
            Work::Seconds(seconds) => ("seconds", f64::from(seconds)),
        };
        json!({ key: amount, "day": work.day.to_string(), "session": session(work.session) })
    });
    json!({
        "v": VERSION,
        "exercise": id.as_str(),
        "e1rm": max,
        "work": work,
        "heaviest": list(&found.heaviest),
        "most": list(&found.most),
        "holds": list(&found.holds),
    })
}

/// Deload and stall: `rest` (`kind` `easier` or `lay_off`, `ended`), `weeks` since, `load` of the
/// last whole week and the mean of the four before, `suggestion`, `words`, `lifts` (`exercise`,
/// `lately`, `change` as a share).
pub fn backing_off(reading: &Reading<'_>) -> Value {
    let records = (reading.history, reading.logbook);
    let found = BackingOff::of(records, reading.catalogue, reading.today);
    let rest = found.rest.map(|rest| {
        let kind = match rest {
            Rest::Easier(_) => "easier",
            Rest::LayOff(..) => "lay_off",
        };
        json!({ "kind": kind, "ended": rest.ended().to_string() })
    });
    let lifts = found.lifts.iter().map(|lift| {
        let lately = match lift.lately {
            Lately::Missed => "missed",
            Lately::Falls => "falls",
            Lately::Holds => "holds",
            Lately::TooFew => "too_few",
        };
        json!({ "exercise": lift.exercise.as_str(), "lately": lately, "change": lift.change })
    });
    json!({
        "v": VERSION,
        "rest": rest,
        "weeks": found.weeks,
        "load": found.load.map(|(week, usual)| json!({ "week": week, "usual": usual })),
        "suggestion": match found.suggestion {
            Suggestion::TooLittle => "too_little",
            Suggestion::Fresh => "fresh",
            Suggestion::GoOn => "go_on",
            Suggestion::Usual => "usual",
            Suggestion::Stopped => "stopped",
        },
        "words": words::suggestion(&found),
        "lifts": lifts.collect::<Vec<_>>(),
    })
}
