//! Any bytes as a line that a script asks with: always one line of JSON comes back.

use super::printable;
use rackside::domain::advice::standalone::Answers;
use rackside::formats::{batch, gear_solve, json};

/// The first byte says who is asked.
pub fn run(input: &[u8]) {
    let Some((which, bytes)) = input.split_first() else {
        return;
    };
    let text = String::from_utf8_lossy(bytes);
    for line in text.lines().take(3) {
        let answer = if which % 2 == 0 {
            json::line(&gear_solve::answer(line, 1))
        } else {
            batch::answer(&mut Answers::default(), line, 1)
        };
        printable(&answer);
        assert!(!answer.contains('\n'));
        let read = serde_json::from_str::<serde_json::Value>(&answer);
        assert!(read.is_ok_and(|read| read.is_object()), "{answer}");
    }
}
