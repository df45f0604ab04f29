//! What the logbook says as one page that stands alone: HTML with its charts and its style inside,
//! without a script, a link or a request.

mod charts;
mod ink;
mod parts;

use crate::domain::diagnostic::neutral;
use crate::domain::exercise::Exercise;
use crate::domain::logbook::said::day;
use crate::domain::logbook::told::Reading;
use crate::domain::strength::belief::Believed;

/// What nothing on the page may do: load anything, from anywhere.
const POLICY: &str = "default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; \
    form-action 'none'";

/// The page. `believed` gives what was believed of an exercise after each session.
pub fn html(reading: &Reading<'_>, believed: &dyn Fn(&Exercise) -> Vec<Believed>) -> String {
    let (since, until) = reading.days;
    let title = format!("Training, {} to {}", day(since), day(until));
    let sections = [
        parts::summary(reading),
        parts::strength(reading, believed),
        parts::work(reading),
        parts::balance(reading),
        parts::records(reading),
        parts::odds(reading),
        parts::backing_off(reading),
        parts::meanings(),
    ];
    format!(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n\
         <meta http-equiv=\"Content-Security-Policy\" content=\"{POLICY}\">\n\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n\
         <meta name=\"color-scheme\" content=\"light dark\">\n<title>{title}</title>\n\
         <style>\n{}{}</style>\n</head>\n<body>\n<h1>{title}</h1>\n{}</body>\n</html>\n",
        include_str!("style.css"),
        ink::style(),
        sections.concat(),
    )
}

/// A text as it stands in HTML.
fn escaped(text: &str) -> String {
    let mut plain = String::with_capacity(text.len());
    for c in neutral(text).chars() {
        match c {
            '&' => plain.push_str("&amp;"),
            '<' => plain.push_str("&lt;"),
            '>' => plain.push_str("&gt;"),
            '"' => plain.push_str("&quot;"),
            '\'' => plain.push_str("&#39;"),
            c => plain.push(c),
        }
    }
    plain
}
