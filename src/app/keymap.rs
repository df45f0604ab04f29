//! Keys and what they do: one table that handles them, shows them and documents them.

mod table;

pub use table::TABLE;

/// A key as this program knows it, whatever terminal sent it.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Key {
    /// A printed character; never a space.
    Char(char),
    /// Enter, on either side of the keyboard.
    Enter,
    /// The space bar.
    Space,
    /// Backspace.
    Backspace,
    /// Escape.
    Esc,
    /// Arrow left.
    Left,
    /// Arrow right.
    Right,
    /// Arrow up.
    Up,
    /// Arrow down.
    Down,
    /// Page up.
    PageUp,
    /// Page down.
    PageDown,
    /// F1.
    F1,
    /// Control and C.
    CtrlC,
    /// Control and Z.
    CtrlZ,
    /// A key that a numeric keypad sends while Num Lock is off.
    KeypadOff,
    /// Any other key.
    Other,
}

/// What the screen takes keys for.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Mode {
    /// The questions of the first run.
    FirstRun,
    /// Today's session, before it starts.
    Briefing,
    /// The session.
    Floor,
    /// After the last set.
    Debrief,
    /// The numbered menu.
    Menu,
    /// A question with numbered answers.
    Question,
    /// A line of text.
    Writing,
    /// The list of keys.
    Help,
    /// The logbook.
    Logbook,
}

/// What a key does.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Action {
    /// Yes, go on; on the floor, the coming set is done.
    Done,
    /// A digit.
    Digit(u8),
    /// The decimal point, or spare.
    Point,
    /// A printed character of a text.
    Letter(char),
    /// The last character goes.
    Erase,
    /// Never mind.
    Cancel,
    /// Lifting now.
    Lift,
    /// From here on by itself.
    HandsFree,
    /// One makeable step down.
    Lighter,
    /// One makeable step up.
    Heavier,
    /// The load by name.
    NameLoad,
    /// Back along the tape, or up a list.
    Back,
    /// Forward along the tape, or down a list.
    Forward,
    /// A page up.
    PageBack,
    /// A page down.
    PageForward,
    /// Take back the last thing.
    TakeBack,
    /// Bring it back.
    BringBack,
    /// The numbered menu.
    Menu,
    /// It hurts.
    Pain,
    /// Every key of this screen.
    Help,
    /// The rest began 15 s earlier.
    RestEarlier,
    /// Another exercise in this one's place.
    Swap,
    /// This exercise later.
    PutOff,
    /// The coming set left out.
    SkipSet,
    /// The rest of the exercise left out.
    SkipExercise,
    /// One set more.
    AddSet,
    /// The last set was interrupted.
    Interrupted,
    /// Write a note.
    Note,
    /// Stand still, and go on.
    Pause,
    /// Sound off and on.
    Mute,
    /// Big digits on and off.
    BigDigits,
    /// Dark, light, or no colour.
    Ground,
    /// How the exercise is done.
    Coaching,
    /// The session ends here.
    Finish,
    /// Leave; the session stays as it is.
    Leave,
    /// Stop for now, back to the shell.
    Suspend,
    /// Another session than today's.
    OtherSession,
    /// The program that is followed, week by week.
    ViewProgram,
    /// Another place.
    OtherPlace,
    /// Less time than the session takes.
    LessTime,
    /// A lighter week, or the full one again.
    LighterWeek,
    /// Num Lock is off.
    KeypadOff,
    /// What months of sessions say.
    Logbook,
    /// The next page of the logbook.
    NextView,
    /// The page before.
    ViewBefore,
    /// Look for a text.
    Search,
    /// The marked set did not happen.
    VoidSet,
    /// The session did not happen.
    VoidSession,
}

/// One row of the table.
#[derive(Clone, Copy, Debug)]
pub struct Binding {
    /// Where it holds.
    pub mode: Mode,
    /// The keys, any of which will do.
    pub keys: &'static [Key],
    /// What they do.
    pub action: Action,
    /// The keys as they are shown.
    pub shown: &'static str,
    /// What they do, in a few words.
    pub help: &'static str,
    /// Whether the numbered menu holds it.
    pub in_menu: bool,
}

/// Whether digits are taken in a mode.
const fn takes_digits(mode: Mode) -> bool {
    match mode {
        Mode::FirstRun
        | Mode::Floor
        | Mode::Debrief
        | Mode::Menu
        | Mode::Question
        | Mode::Logbook => true,
        Mode::Briefing | Mode::Writing | Mode::Help => false,
    }
}

/// What a key does in a mode.
pub fn action(mode: Mode, key: Key) -> Option<Action> {
    if key == Key::CtrlZ {
        return Some(Action::Suspend);
    }
    if let (Mode::Writing, Key::Char(c)) = (mode, key) {
        return Some(Action::Letter(c));
    }
    if let (Mode::Writing, Key::Space) = (mode, key) {
        return Some(Action::Letter(' '));
    }
    if let (true, Key::Char(c)) = (takes_digits(mode), key)
        && let Some(digit) = c.to_digit(10)
    {
        return Some(Action::Digit(digit as u8));
    }
    let row = TABLE
        .iter()
        .find(|row| row.mode == mode && row.keys.contains(&key));
    row.map(|row| row.action)
}

/// The rows of a mode that are shown in its help.
pub fn shown(mode: Mode) -> impl Iterator<Item = &'static Binding> {
    let of_mode = TABLE.iter().filter(move |row| row.mode == mode);
    of_mode.filter(|row| !row.shown.is_empty())
}

/// The entries of a mode's numbered menu, from 1.
pub fn menu_entries(mode: Mode) -> impl Iterator<Item = &'static Binding> {
    let of_mode = TABLE.iter().filter(move |row| row.mode == mode);
    of_mode.filter(|row| row.in_menu)
}
