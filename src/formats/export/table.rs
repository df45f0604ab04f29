//! A table, written as CSV or as JSON.

use super::Cell;
use crate::formats::json;
use serde_json::{Map, Value};

/// Rows of cells under named columns.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Table {
    /// The columns' names, in order.
    pub columns: Vec<String>,
    /// The rows, each with a cell for every column.
    pub rows: Vec<Vec<Cell>>,
}

impl Table {
    pub(super) fn new(columns: &[&str]) -> Self {
        Self {
            columns: columns.iter().map(|name| (*name).to_owned()).collect(),
            rows: Vec::new(),
        }
    }

    /// As CSV (RFC 4180): a first row of names, lines that end in CR LF, quotes where needed.
    pub fn csv(&self) -> Vec<u8> {
        let mut builder = csv::WriterBuilder::new();
        let builder = builder.terminator(csv::Terminator::CRLF);
        let mut writer = builder.from_writer(Vec::new());
        // Into memory, with as many cells in each row, nothing can fail.
        let _ = writer.write_record(&self.columns);
        for row in &self.rows {
            let _ = writer.write_record(row.iter().map(Cell::csv));
        }
        writer.into_inner().unwrap_or_default()
    }

    /// As JSON, one object a line, each with every column: null where nothing is known.
    pub fn json_lines(&self) -> String {
        let mut text = String::new();
        for row in &self.rows {
            let pairs = self.columns.iter().cloned().zip(row.iter().map(Cell::json));
            text += &json::line(&Value::Object(pairs.collect::<Map<_, _>>()));
            text.push('\n');
        }
        text
    }
}
