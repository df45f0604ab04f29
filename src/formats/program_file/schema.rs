//! What a program's file can say: an example with everything, and the table of its fields.

use super::fields::FIELDS;

/// The example: read by a test, so that it holds.
pub const EXAMPLE: &str = include_str!("example.ron");

/// A file to begin from, with `NAME` for the program's name.
const START: &str = include_str!("start.ron");

/// The example, and every field with what to write, its bounds and unit: a whole file that can be
/// read as it is.
pub fn schema() -> String {
    let mut text = EXAMPLE.to_owned();
    text.push_str("\n// Every field. Those marked * must be there.\n");
    let mut thing = "";
    for field in FIELDS {
        if field.thing != thing {
            thing = field.thing;
            text.push_str(&format!("//\n// {thing}\n"));
        }
        let must = if field.must { "*" } else { "" };
        let name = format!("{}{must}", field.name);
        text.push_str(&format!("//   {name:<17} {}\n", field.hint));
        if !field.means.is_empty() {
            text.push_str(&format!("//   {:<17}   {}\n", "", field.means));
        }
    }
    text
}

/// A commented file to begin from.
pub fn start(name: &str) -> String {
    START.replace("\"NAME\"", &format!("\"{name}\""))
}
