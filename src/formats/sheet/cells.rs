//! From the bytes of a file to lines of cells: encoding, separator, quotes.

use super::Refusal;

/// One row of the file.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) struct Line {
    /// The line that it begins in, from 1.
    pub(super) number: u64,
    /// Its cells, white space at their ends removed.
    pub(super) cells: Vec<String>,
}

/// All rows of a file.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) struct Cells {
    pub(super) lines: Vec<Line>,
    /// How the file was read, where that was not said.
    pub(super) remarks: Vec<String>,
}

/// What may stand between two cells, with its name.
const SEPARATORS: [(u8, &str, &str); 4] = [
    (b',', "comma", "commas"),
    (b';', "semicolon", "semicolons"),
    (b'\t', "tab", "tabs"),
    (b'|', "bar", "bars"),
];

/// So many rows show what stands between cells.
const LOOKED_AT: usize = 200;

/// The separator of that name, or written as it is.
///
/// # Errors
///
/// It is none: what to write.
pub fn separator(text: &str) -> Result<u8, String> {
    let is_it = |(byte, name, _): &&(u8, &str, &str)| *name == text || text.as_bytes() == [*byte];
    let found = SEPARATORS.iter().find(is_it).map(|(byte, _, _)| *byte);
    found.ok_or_else(|| "write comma, semicolon, tab or bar".to_owned())
}

impl Cells {
    pub(super) fn of(bytes: &[u8], wished: Option<u8>) -> Result<Self, Refusal> {
        let mut remarks = Vec::new();
        // One sign at the end of each line, so that lines are counted as people count them.
        let text = decoded(bytes, &mut remarks)?.replace("\r\n", "\n");
        let mut text = text.replace('\r', "\n");
        let mut before = 0;
        let mut told = None;
        if let Some((first, rest)) = text.split_once('\n')
            && let Some(sign) = first.trim_end().strip_prefix("sep=")
        {
            told = separator(sign).ok();
            text = rest.to_owned();
            before = 1;
        }
        let between = match wished.or(told) {
            Some(byte) => byte,
            None => {
                let (byte, names) = recognised(&text);
                remarks.push(format!("cells are separated by {names}"));
                byte
            }
        };
        let lines = split(&text, between)
            .map(|(number, cells)| Line {
                number: number + before,
                cells,
            })
            .collect();
        Ok(Self { lines, remarks })
    }
}

fn split(text: &str, separator: u8) -> impl Iterator<Item = (u64, Vec<String>)> {
    let mut builder = csv::ReaderBuilder::new();
    let builder = builder.has_headers(false).flexible(true);
    let reader = builder.delimiter(separator).from_reader(text.as_bytes());
    // From a text in memory, with rows of any length, nothing can fail.
    reader.into_records().flatten().map(|record| {
        let line = record.position().map_or(0, csv::Position::line);
        let trimmed = |cell: &str| cell.trim().to_owned();
        (line, record.iter().map(trimmed).collect())
    })
}

/// What most evenly splits the first rows into more than one cell.
fn recognised(text: &str) -> (u8, &'static str) {
    let evenness = |separator: u8| {
        let widths: Vec<usize> = split(text, separator)
            .take(LOOKED_AT)
            .map(|(_, cells)| cells.len())
            .collect();
        let alike = |width: usize| widths.iter().filter(|other| **other == width).count();
        let most = widths.iter().filter(|width| **width > 1);
        most.map(|width| (alike(*width), *width)).max()
    };
    let best = SEPARATORS
        .iter()
        .rev()
        .max_by_key(|(byte, _, _)| evenness(*byte));
    best.map_or((b',', "commas"), |(byte, _, names)| (*byte, *names))
}

/// The text of the file: UTF-8, UTF-16 with its mark, else one byte a letter as in western Europe.
fn decoded(bytes: &[u8], remarks: &mut Vec<String>) -> Result<String, Refusal> {
    if bytes.starts_with(b"PK\x03\x04") || bytes.starts_with(b"\xd0\xcf\x11\xe0") {
        return Err(Refusal::new(
            "this is a workbook, not rows of text",
            "open it in your spreadsheet program and save it as CSV",
        ));
    }
    let wide = |bytes: &[u8], pair: fn([u8; 2]) -> u16| {
        let units: Vec<u16> = bytes
            .chunks_exact(2)
            .filter_map(|two| two.try_into().ok().map(pair))
            .collect();
        String::from_utf16_lossy(&units)
    };
    if let Some(rest) = bytes.strip_prefix(b"\xff\xfe") {
        return Ok(wide(rest, u16::from_le_bytes));
    }
    if let Some(rest) = bytes.strip_prefix(b"\xfe\xff") {
        return Ok(wide(rest, u16::from_be_bytes));
    }
    let bytes = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
    if bytes.contains(&0) {
        return Err(Refusal::new("this is not a text", "save the sheet as CSV"));
    }
    Ok(std::str::from_utf8(bytes).map_or_else(
        |_| {
            remarks.push(
                "the file is not UTF-8: read as Latin-1; where letters look wrong, save it as UTF-8"
                    .to_owned(),
            );
            bytes.iter().map(|byte| char::from(*byte)).collect()
        },
        str::to_owned,
    ))
}
