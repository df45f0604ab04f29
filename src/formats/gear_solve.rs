//! `gear solve`: JSON Lines in, the loads that can be made and the stacks with fewest moves out.
//!
//! A request is `{"handles": 2, "handle_kg": 2.0, "plates": [[5.0, 4], [2.5, 8]], "order":
//! "largest_inside", "loads": [12.0, 17.0]}`: so many handles alike that carry the same plates,
//! plates as mass and count over all of them, `order` (or `"free"`), and the loads of one handle in
//! turn. The answer is `makeable` (every load, from light to heavy), `stacks` (by load: one end,
//! inner to outer), `moves` (by load, over all ends, the handles begun empty), `total_moves`, and
//! `exact`: whether no plan has fewer. Masses are in kilograms. What cannot be answered gives
//! `{"error": ..., "line": n}`; where a load cannot be made also `load`, the two `nearest` that
//! can, and of these the one `below` and the one `above`, or null.

use crate::domain::gear::{Order, Rack, Supply};
use crate::domain::units::{Mass, Unit};
use serde::Deserialize;
use serde_json::{Value, json};

#[derive(Deserialize)]
struct Request {
    handles: u8,
    handle_kg: f64,
    plates: Vec<(f64, u32)>,
    #[serde(default)]
    order: WireOrder,
    loads: Vec<f64>,
}

#[derive(Clone, Copy, Default, Deserialize)]
#[serde(rename_all = "snake_case")]
enum WireOrder {
    #[default]
    LargestInside,
    Free,
}

/// Handles that carry the same plates, at the most.
const HANDLES: u8 = 100;

/// Answers one line; `number` counts lines from 1.
pub fn answer(line: &str, number: usize) -> Value {
    match solve(line) {
        Ok(answer) => answer,
        Err(mut error) => {
            if let Some(error) = error.as_object_mut() {
                error.insert("line".into(), json!(number));
            }
            error
        }
    }
}

fn wrong(text: impl Into<String>) -> Value {
    json!({ "error": text.into() })
}

fn solve(line: &str) -> Result<Value, Value> {
    let request: Request = serde_json::from_str(line).map_err(|e| wrong(unread(&e)))?;
    if !(1..=HANDLES).contains(&request.handles) {
        return Err(wrong(format!("handles must be 1 to {HANDLES}")));
    }
    let mass = |kg: f64| {
        let mass = Mass::nearest(kg, Unit::Kg).filter(|mass| *mass >= Mass::ZERO);
        mass.ok_or_else(|| wrong(format!("{kg} is no mass in kilograms")))
    };
    let plates = request
        .plates
        .iter()
        .map(|(kg, count)| Ok((mass(*kg)?, *count)));
    let rack = Rack {
        ends: request.handles.saturating_mul(2),
        bare: mass(request.handle_kg)?,
        supply: Supply {
            sleeve: None,
            plates: plates.collect::<Result<_, Value>>()?,
        },
    };
    let loads = request
        .loads
        .iter()
        .map(|kg| mass(*kg))
        .collect::<Result<Vec<Mass>, Value>>()?;
    let order = match request.order {
        WireOrder::LargestInside => Order::LargestInside,
        WireOrder::Free => Order::Free,
    };
    let kg = |masses: &[Mass]| masses.iter().map(|mass| mass.kg()).collect::<Vec<f64>>();
    let makeable = kg(&rack.makeable());
    match rack.plan(&loads, order) {
        Ok(plan) => Ok(json!({
            "makeable": makeable,
            "stacks": plan.stacks.iter().map(|stack| kg(stack)).collect::<Vec<_>>(),
            "moves": plan.moves,
            "total_moves": plan.total(),
            "exact": plan.exact,
        })),
        Err(not) => {
            let load = request.loads.get(not.index).copied().unwrap_or_default();
            Err(unmakeable(load, &kg(&not.nearest)))
        }
    }
}

/// What is wrong with a text that is no request. There is but one line in it: its number says
/// nothing.
fn unread(error: &serde_json::Error) -> String {
    let text = error.to_string().replace(" at line 1 column ", ", column ");
    format!("not a request: {text}")
}

fn unmakeable(load: f64, nearest: &[f64]) -> Value {
    let names: Vec<String> = nearest.iter().map(|kg| format!("{kg} kg")).collect();
    json!({
        "error": format!("{load} kg cannot be made: nearest are {}", names.join(" and ")),
        "load": load,
        "nearest": nearest,
        "below": nearest.iter().rfind(|kg| **kg < load),
        "above": nearest.iter().find(|kg| **kg > load),
    })
}
