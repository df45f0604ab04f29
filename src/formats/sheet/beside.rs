//! What may stand in a row beside the set itself.

use super::Refusal;
use super::cells::Line;
use super::columns::{Column, Layout};
use super::load::Masses;
use super::number::whole;
use crate::domain::session::SetKind;
use crate::domain::units::{Seconds, Spare, Weight};

/// What a row says beside exercise, load and reps.
#[derive(Clone, PartialEq, Debug)]
pub(super) struct Beside {
    pub(super) number: Option<u16>,
    pub(super) kind: SetKind,
    pub(super) spare: Option<Spare>,
    /// How long a set that counts reps took.
    pub(super) seconds: Option<Seconds>,
    pub(super) effort: Option<u8>,
    pub(super) minutes: Option<u32>,
    pub(super) body_weight: Option<Weight>,
    pub(super) note: Option<String>,
}

/// The longest note that is taken, in characters.
const LONGEST: usize = 2000;
/// A body weight that somebody has, in kilograms.
const BODY: std::ops::RangeInclusive<f64> = 20.0..=400.0;

impl Beside {
    pub(super) fn of(layout: &Layout, line: &Line, masses: Masses) -> Result<Self, Vec<Refusal>> {
        let mut wrong = Vec::new();
        let cells = Cells { layout, line };
        let number = cells.bounded(Column::Set, 999, &mut wrong);
        let seconds = cells.bounded(Column::Seconds, 3600, &mut wrong);
        let effort = cells.bounded(Column::Effort, 10, &mut wrong);
        let minutes = cells.bounded(Column::Minutes, 1440, &mut wrong);
        let mut note_wrong = |refusal| wrong.push(refusal);
        let kind = kind(cells.cell(Column::Kind)).map_err(&mut note_wrong);
        let spare = spare(&cells).map_err(&mut note_wrong);
        let body = body_weight(cells.cell(Column::BodyWeight), masses).map_err(&mut note_wrong);
        let note = note(cells.cell(Column::Notes)).map_err(&mut note_wrong);
        match (kind, spare, body, note) {
            (Ok(kind), Ok(spare), Ok(body_weight), Ok(note)) if wrong.is_empty() => Ok(Self {
                number: number.and_then(|number| u16::try_from(number).ok()),
                kind,
                spare,
                seconds: seconds.map(Seconds::clamped),
                effort: effort.and_then(|effort| u8::try_from(effort).ok()),
                minutes,
                body_weight,
                note,
            }),
            _ => Err(wrong),
        }
    }
}

struct Cells<'a> {
    layout: &'a Layout,
    line: &'a Line,
}

impl<'a> Cells<'a> {
    fn cell(&self, column: Column) -> &'a str {
        self.layout.cell(self.line, column)
    }

    /// A whole number up to a bound, where there is one.
    fn bounded(&self, column: Column, most: u32, wrong: &mut Vec<Refusal>) -> Option<u32> {
        let cell = self.cell(column);
        // What is held may be written otherwise; there it was read before.
        let marked = column == Column::Seconds && cell.contains([':', 's']);
        if cell.is_empty() || marked {
            return None;
        }
        let number = whole(cell).filter(|number| *number <= most);
        if number.is_none() {
            wrong.push(Refusal::new(
                format!("\"{cell}\" cannot be {}", column.name()),
                format!("write a whole number, 0 to {most}, or leave the cell empty"),
            ));
        }
        number
    }
}

fn kind(cell: &str) -> Result<SetKind, Refusal> {
    let plain: String = cell
        .to_lowercase()
        .chars()
        .filter(char::is_ascii_alphabetic)
        .collect();
    match plain.as_str() {
        "" | "working" | "work" | "normal" => Ok(SetKind::Working),
        "ramp" | "warmup" => Ok(SetKind::Ramp),
        "backoff" => Ok(SetKind::BackOff),
        _ => Err(Refusal::new(
            format!("\"{cell}\" is no kind of set"),
            "write ramp, working or back_off, or nothing for working",
        )),
    }
}

/// Reps in reserve: as such, or by the exertion of the set, of which ten says none, nine one and so
/// on; half a point between two says the lower of them (Zourdos et al. 2016, J Strength Cond Res
/// 30(1):267-275). Below five it says too little.
fn spare(cells: &Cells<'_>) -> Result<Option<Spare>, Refusal> {
    let (told, rpe) = (cells.cell(Column::Spare), cells.cell(Column::Rpe));
    if !told.is_empty() {
        let bare = told.strip_suffix('+').unwrap_or(told);
        let spare = whole(bare).and_then(|number| Spare::new(number).ok());
        return spare.map(Some).ok_or_else(|| {
            Refusal::new(
                format!("\"{told}\" cannot be reps in reserve"),
                "write 0 to 9, or leave the cell empty",
            )
        });
    }
    if rpe.is_empty() {
        return Ok(None);
    }
    let refusal = || {
        Refusal::new(
            format!("\"{rpe}\" cannot be exertion"),
            "write 1 to 10, or leave the cell empty",
        )
    };
    let exertion: f64 = rpe.replace(',', ".").parse().map_err(|_| refusal())?;
    if !(1.0..=10.0).contains(&exertion) {
        return Err(refusal());
    }
    let spare = (10.0 - exertion).floor();
    Ok((spare <= 5.0).then(|| Spare::clamped(spare as u32)))
}

fn body_weight(cell: &str, masses: Masses) -> Result<Option<Weight>, Refusal> {
    if cell.is_empty() {
        return Ok(None);
    }
    let (weight, _) = masses.read(cell)?;
    match BODY.contains(&weight.mass.kg()) {
        true => Ok(Some(weight)),
        false => Err(Refusal::new(
            format!("\"{cell}\" cannot be a body weight"),
            "write it as in 80 kg, or leave the cell empty",
        )),
    }
}

fn note(cell: &str) -> Result<Option<String>, Refusal> {
    match cell.chars().count() {
        0 => Ok(None),
        count if count <= LONGEST => Ok(Some(cell.to_owned())),
        count => Err(Refusal::new(
            format!("the note has {count} letters"),
            format!("keep it to {LONGEST}"),
        )),
    }
}
