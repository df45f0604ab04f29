//! The caution: shown once at the first run, and always by `--help`.
//!
//! A caution never diagnoses; it says whom to ask, when to stop, and who decides.

/// Who should ask a professional before training.
pub const ASK_FIRST: &str = "Strength work can hurt. Ask a doctor or physiotherapist before you \
    start if you are pregnant or gave birth recently, have heart disease or high blood pressure, \
    had surgery recently, or have a hernia or an eye disease. Under 16, train only with an adult \
    beside you who knows the work.";

/// The signs to stop at.
pub const STOP_SIGNS: &str = "Stop at once, and get help, for pain or pressure in the chest, a \
    sudden bad headache, faintness, breath that does not settle, or numb or weak limbs. Stop the \
    exercise for any sharp, sudden or growing pain.";

/// Whose word comes before the program's.
pub const GIVES_WAY: &str = "rackside suggests and never diagnoses. The rules of the place you \
    train in, and what a licensed professional tells you, come before anything it says.";

/// What is said when one of the stop signs is reported.
pub const ALARM: &str = "Stop the session. Sit down, tell someone near you, and call for medical \
    help now if it does not pass at once.";

/// The whole caution, a paragraph each.
pub const CAUTION: [&str; 3] = [ASK_FIRST, STOP_SIGNS, GIVES_WAY];
