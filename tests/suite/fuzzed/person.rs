//! Any bytes as the smaller files of a home: who trains, and what the program keeps for
//! itself.

use super::told;
use rackside::domain::units::{Boot, Civil, Now};
use rackside::formats::{lifter_file, state_files};

/// The first byte says which file.
pub fn run(input: &[u8]) {
    let Some((which, bytes)) = input.split_first() else {
        return;
    };
    let text = String::from_utf8_lossy(bytes);
    match which % 3 {
        0 => match lifter_file::read("l.ron", &text) {
            Err(problems) => told(&problems),
            Ok(lifter) => {
                let again = lifter_file::read("l.ron", &lifter_file::text(&lifter));
                assert_eq!(again, Ok(lifter));
            }
        },
        1 => draft(&text),
        _ => {
            let _ = state_files::read_prefs(&text);
            let _ = state_files::read_device(&text);
        }
    }
}

/// A draft that is read is kept as it was within one start of the machine.
fn draft(text: &str) {
    let now = Now {
        boot: Boot(1_000_000),
        civil: Civil::parse("2026-11-19T18:22:00.000+01:00").expect("a time"),
    };
    let _ = state_files::read_draft(text, "another start", now);
    if let Some(draft) = state_files::read_draft(text, "this start", now) {
        let kept = state_files::draft_text(&draft, "this start");
        let again = state_files::read_draft(&kept, "this start", now);
        assert_eq!(again, Some(draft));
    }
}
