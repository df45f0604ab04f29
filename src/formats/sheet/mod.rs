//! A spreadsheet of sets, read: what each of its rows becomes, and why another becomes nothing.

mod beside;
mod cells;
mod columns;
mod dates;
mod days;
mod doubles;
mod load;
mod names;
mod number;
mod row;
mod told;

pub use cells::separator;
pub use columns::{Column, list as column_list};
pub use dates::Order;
pub use names::{Names, Unknown, names_text, read_names};
pub use number::Decimal;
pub use told::{row_line, row_object, summary};

use crate::domain::exercise::Catalogue;
use crate::domain::history::History;
use crate::domain::session::{Imported, SetRecord};
use crate::domain::units::Unit;
use chrono::NaiveDate;
use columns::Layout;
use dates::Dates;
use row::Reader;

/// How a person says that the spreadsheet is to be read; what is not said is recognised.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Wish {
    /// What stands in each column, from the left.
    pub columns: Option<Vec<Column>>,
    /// What stands between two cells.
    pub separator: Option<u8>,
    /// What stands before decimals.
    pub decimal: Option<Decimal>,
    /// The unit of masses that name none.
    pub unit: Option<Unit>,
    /// Which comes first in dates like 3/4/2024.
    pub dates: Option<Order>,
    /// What the sheet's names of exercises mean.
    pub names: Names,
    /// Whether sets that seem to be there already are taken again.
    pub take_doubles: bool,
}

/// What a spreadsheet is read against.
#[derive(Clone, Copy, Debug)]
pub struct Ground<'a> {
    /// All exercises.
    pub catalogue: &'a Catalogue,
    /// What the journal holds already.
    pub history: &'a History,
    /// The unit that the lifter reads masses in.
    pub unit: Unit,
    /// The day: nothing can have been done later.
    pub today: NaiveDate,
}

/// Why something in a row cannot be used, and what to write instead.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Refusal {
    /// Why not.
    pub why: String,
    /// What to write or do instead.
    pub instead: String,
}

impl Refusal {
    fn new(why: impl Into<String>, instead: impl Into<String>) -> Self {
        Self {
            why: why.into(),
            instead: instead.into(),
        }
    }
}

/// What a row becomes.
#[derive(Clone, PartialEq, Debug)]
pub enum Outcome {
    /// These sets of that day.
    Sets(NaiveDate, Vec<SetRecord>),
    /// The other side of the set of an earlier line.
    OtherSide(u64),
    /// Nothing, since it is there already: where.
    Double(String),
    /// Nothing, since the person says so.
    LeftOut,
    /// Nothing: all that is wrong with it.
    Refused(Vec<Refusal>),
}

/// A row and what it becomes.
#[derive(Clone, PartialEq, Debug)]
pub struct Row {
    /// The line of the file that it begins in, from 1.
    pub line: u64,
    /// What it becomes.
    pub outcome: Outcome,
}

/// A spreadsheet, read.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Sheet {
    /// Its rows in order, those without any content left out.
    pub rows: Vec<Row>,
    /// The days that its rows become, in order.
    pub days: Vec<Imported>,
    /// How it was read, where that was not said.
    pub remarks: Vec<String>,
    /// Names of exercises that are not known.
    pub unknown: Vec<Unknown>,
}

impl Sheet {
    /// How many sets it becomes.
    pub fn sets(&self) -> usize {
        self.days.iter().map(|day| day.sets.len()).sum()
    }

    /// How many rows cannot be used.
    pub fn refused(&self) -> usize {
        let refused = |row: &&Row| matches!(row.outcome, Outcome::Refused(_));
        self.rows.iter().filter(refused).count()
    }
}

/// Reads a spreadsheet. `source` is the name that the journal will keep of it.
///
/// # Errors
///
/// It cannot be read at all: why, and what to do instead.
pub fn read(bytes: &[u8], source: &str, wish: &Wish, ground: Ground<'_>) -> Result<Sheet, Refusal> {
    let mut cells = cells::Cells::of(bytes, wish.separator)?;
    let layout = Layout::of(wish.columns.as_deref(), &mut cells)?;
    let mut sheet = Sheet {
        remarks: cells
            .remarks
            .iter()
            .chain(&layout.remarks)
            .cloned()
            .collect(),
        ..Sheet::default()
    };
    let lines: Vec<&cells::Line> = cells
        .lines
        .iter()
        .filter(|line| !layout.is_empty(line))
        .collect();
    let dates = Dates::of(layout.texts(&lines, Column::Date), wish.dates)?;
    let decimal = wish.decimal.or_else(|| {
        let loads = layout.texts(&lines, Column::Load);
        Decimal::of(loads.chain(layout.texts(&lines, Column::BodyWeight)))
    });
    let mut reader = Reader::new(&layout, wish, ground, (dates, decimal));
    let mut gathered = days::Days::new(source);
    for line in lines {
        gathered.take(line.number, reader.read(line));
    }
    let unitless = reader.finish(&mut sheet);
    let doubles = (!wish.take_doubles).then_some(ground.history);
    gathered.finish(doubles, &mut sheet);
    if unitless {
        let unit = wish.unit.or(layout.unit).unwrap_or(ground.unit);
        let whose = match (wish.unit, layout.unit) {
            (Some(_), _) => "as you said",
            (None, Some(_)) => "as the first row says",
            (None, None) => "your unit; --unit kg or --unit lb says otherwise",
        };
        let remark = format!("masses without a unit are taken as {unit}: {whose}");
        sheet.remarks.push(remark);
    }
    Ok(sheet)
}
