//! Keys and what they do: one table that handles them, shows them and documents them.

use Action as A;
use Key as K;
use Mode as M;

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
    /// F1.
    F1,
    /// Control and C.
    CtrlC,
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
    /// How the exercise is done.
    Coaching,
    /// The session ends here.
    Finish,
    /// Leave; the session stays as it is.
    Leave,
    /// Another session than today's.
    OtherSession,
    /// Another place.
    OtherPlace,
    /// Num Lock is off.
    KeypadOff,
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

const fn row(
    mode: Mode,
    keys: &'static [Key],
    action: Action,
    shown_help: (&'static str, &'static str),
) -> Binding {
    Binding {
        mode,
        keys,
        action,
        shown: shown_help.0,
        help: shown_help.1,
        in_menu: false,
    }
}

const fn menu(
    letter: &'static [Key],
    action: Action,
    shown_help: (&'static str, &'static str),
) -> Binding {
    Binding {
        in_menu: true,
        ..row(Mode::Floor, letter, action, shown_help)
    }
}

const HELP_KEYS: &[Key] = &[K::Char('h'), K::Char('?'), K::F1];

/// Every key of the program, but digits and letters of a text, which every mode that takes them
/// takes alike.
pub const TABLE: &[Binding] = &[
    row(
        M::Floor,
        &[K::Enter],
        A::Done,
        ("Enter", "the coming set is done as asked"),
    ),
    row(
        M::Floor,
        &[K::Char('.'), K::Char(',')],
        A::Point,
        (". digit", "reps spare of the set just done"),
    ),
    row(
        M::Floor,
        &[K::Space, K::Char('*')],
        A::Lift,
        ("Space *", "lifting now; starts a hold"),
    ),
    row(
        M::Floor,
        &[K::Left, K::Char('-')],
        A::Lighter,
        ("Left -", "a step lighter"),
    ),
    row(
        M::Floor,
        &[K::Right, K::Char('+')],
        A::Heavier,
        ("Right +", "a step heavier"),
    ),
    row(
        M::Floor,
        &[K::Up],
        A::Back,
        ("Up", "back along the tape, to change a set"),
    ),
    row(
        M::Floor,
        &[K::Down],
        A::Forward,
        ("Down", "forward along the tape"),
    ),
    row(
        M::Floor,
        &[K::Char('u')],
        A::TakeBack,
        ("u", "take back the last thing"),
    ),
    row(
        M::Floor,
        &[K::Char('U')],
        A::BringBack,
        ("U", "bring it back"),
    ),
    row(
        M::Floor,
        &[K::Char('/')],
        A::Menu,
        ("/", "everything else, by number"),
    ),
    row(
        M::Floor,
        &[K::Backspace],
        A::Erase,
        ("Backspace", "the last digit goes"),
    ),
    row(
        M::Floor,
        &[K::Esc],
        A::Cancel,
        ("Esc", "never mind what was typed"),
    ),
    menu(&[K::Char('p')], A::Pain, ("p", "pain")),
    menu(
        &[K::Char('s')],
        A::Swap,
        ("s", "swap for a stand-in, or gear is busy"),
    ),
    menu(&[K::Char('o')], A::PutOff, ("o", "put this exercise off")),
    menu(&[K::Char('k')], A::SkipSet, ("k", "skip the coming set")),
    menu(
        &[K::Char('K')],
        A::SkipExercise,
        ("K", "skip the rest of the exercise"),
    ),
    menu(&[K::Char('a')], A::AddSet, ("a", "add a set")),
    menu(
        &[K::Char('i')],
        A::Interrupted,
        ("i", "the last set was interrupted"),
    ),
    menu(&[K::Char('w')], A::NameLoad, ("w", "name a load")),
    menu(
        &[K::Char('b')],
        A::RestEarlier,
        ("b", "the rest began 15 s earlier"),
    ),
    menu(
        &[K::Char('u')],
        A::TakeBack,
        ("u", "take back the last thing"),
    ),
    menu(&[K::Char('U')], A::BringBack, ("U", "bring it back")),
    menu(&[K::Char('n')], A::Note, ("n", "write a note")),
    menu(&[K::Char('t')], A::Pause, ("t", "time out, and go on")),
    menu(&[K::Char('m')], A::Mute, ("m", "sound off or on")),
    menu(&[K::Char('d')], A::BigDigits, ("d", "big digits on or off")),
    menu(&[K::Char('c')], A::Coaching, ("c", "how it is done")),
    menu(HELP_KEYS, A::Help, ("h ? F1", "every key")),
    menu(&[K::Char('f')], A::Finish, ("f", "finish here")),
    menu(
        &[K::Char('q'), K::CtrlC],
        A::Leave,
        ("q", "leave; the session waits as it is"),
    ),
    row(M::Floor, &[K::KeypadOff], A::KeypadOff, ("", "")),
    row(M::Briefing, &[K::Enter], A::Done, ("Enter", "start")),
    row(
        M::Briefing,
        &[K::Char('o')],
        A::OtherSession,
        ("o", "another session"),
    ),
    row(
        M::Briefing,
        &[K::Char('l')],
        A::OtherPlace,
        ("l", "another place"),
    ),
    row(M::Briefing, &[K::Up], A::Back, ("Up", "up the list")),
    row(
        M::Briefing,
        &[K::Down],
        A::Forward,
        ("Down", "down the list"),
    ),
    row(
        M::Briefing,
        &[K::Char('c')],
        A::Coaching,
        ("c", "how it is done"),
    ),
    row(M::Briefing, &[K::Char('p')], A::Pain, ("p", "pain")),
    row(M::Briefing, HELP_KEYS, A::Help, ("h ? F1", "every key")),
    row(
        M::Briefing,
        &[K::Char('q'), K::Esc, K::CtrlC],
        A::Leave,
        ("q", "leave"),
    ),
    row(
        M::Debrief,
        &[K::Enter],
        A::Done,
        ("Enter", "close the session"),
    ),
    row(M::Debrief, &[K::Up], A::Back, ("Up", "up the page")),
    row(
        M::Debrief,
        &[K::Down],
        A::Forward,
        ("Down", "down the page"),
    ),
    row(
        M::Debrief,
        &[K::Backspace],
        A::Erase,
        ("Backspace", "the last digit goes"),
    ),
    row(
        M::Debrief,
        &[K::Char('.'), K::Char(',')],
        A::Point,
        (". digit", "reps spare of the last set"),
    ),
    row(
        M::Debrief,
        &[K::Char('u')],
        A::TakeBack,
        ("u", "take back the last thing"),
    ),
    row(
        M::Debrief,
        &[K::Char('U')],
        A::BringBack,
        ("U", "bring it back"),
    ),
    row(M::Debrief, &[K::Char('a')], A::AddSet, ("a", "add a set")),
    row(M::Debrief, &[K::Char('n')], A::Note, ("n", "write a note")),
    row(M::Debrief, &[K::Char('p')], A::Pain, ("p", "pain")),
    row(M::Debrief, HELP_KEYS, A::Help, ("h ? F1", "every key")),
    row(
        M::Debrief,
        &[K::Char('q'), K::CtrlC],
        A::Leave,
        ("q", "leave"),
    ),
    row(
        M::FirstRun,
        &[K::Enter],
        A::Done,
        ("Enter", "take what is marked"),
    ),
    row(
        M::FirstRun,
        &[K::Up, K::Left],
        A::Back,
        ("Up", "the one before"),
    ),
    row(
        M::FirstRun,
        &[K::Down, K::Right],
        A::Forward,
        ("Down", "the one after"),
    ),
    row(
        M::FirstRun,
        &[K::Char('.'), K::Char(',')],
        A::Point,
        (".", "decimals"),
    ),
    row(
        M::FirstRun,
        &[K::Backspace],
        A::Erase,
        ("Backspace", "the last digit goes"),
    ),
    row(
        M::FirstRun,
        &[K::Esc, K::CtrlC, K::Char('q')],
        A::Leave,
        ("q", "leave"),
    ),
    row(
        M::Menu,
        &[K::Enter],
        A::Done,
        ("Enter", "take the number typed, or what is marked"),
    ),
    row(M::Menu, &[K::Up], A::Back, ("Up", "up the list")),
    row(M::Menu, &[K::Down], A::Forward, ("Down", "down the list")),
    row(
        M::Menu,
        &[K::Backspace],
        A::Erase,
        ("Backspace", "the last digit goes"),
    ),
    row(
        M::Menu,
        &[K::Esc, K::Char('/')],
        A::Cancel,
        ("Esc /", "never mind"),
    ),
    row(M::Menu, &[K::CtrlC], A::Leave, ("Ctrl-C", "leave")),
    row(
        M::Question,
        &[K::Enter],
        A::Done,
        ("Enter", "take what is marked"),
    ),
    row(M::Question, &[K::Up], A::Back, ("Up", "up the list")),
    row(
        M::Question,
        &[K::Down],
        A::Forward,
        ("Down", "down the list"),
    ),
    row(
        M::Question,
        &[K::Backspace],
        A::Erase,
        ("Backspace", "the last digit goes"),
    ),
    row(
        M::Question,
        &[K::Esc, K::Char('/')],
        A::Cancel,
        ("Esc", "never mind"),
    ),
    row(M::Question, &[K::Char('p')], A::Pain, ("p", "pain")),
    row(M::Question, &[K::CtrlC], A::Leave, ("Ctrl-C", "leave")),
    row(M::Writing, &[K::Enter], A::Done, ("Enter", "keep it")),
    row(
        M::Writing,
        &[K::Backspace],
        A::Erase,
        ("Backspace", "the last letter goes"),
    ),
    row(M::Writing, &[K::Esc], A::Cancel, ("Esc", "never mind")),
    row(M::Writing, &[K::CtrlC], A::Leave, ("Ctrl-C", "leave")),
    row(M::Help, &[K::Up], A::Back, ("Up", "up the page")),
    row(M::Help, &[K::Down], A::Forward, ("Down", "down the page")),
    row(M::Help, &[K::Char('p')], A::Pain, ("p", "pain")),
    row(M::Help, &[K::CtrlC], A::Leave, ("Ctrl-C", "leave")),
    row(
        M::Help,
        &[
            K::Esc,
            K::Enter,
            K::Char('h'),
            K::Char('?'),
            K::F1,
            K::Char('q'),
        ],
        A::Cancel,
        ("Esc", "back"),
    ),
];

/// Whether digits are taken in a mode.
const fn takes_digits(mode: Mode) -> bool {
    match mode {
        M::FirstRun | M::Floor | M::Debrief | M::Menu | M::Question => true,
        M::Briefing | M::Writing | M::Help => false,
    }
}

/// What a key does in a mode.
pub fn action(mode: Mode, key: Key) -> Option<Action> {
    if let (M::Writing, K::Char(c)) = (mode, key) {
        return Some(A::Letter(c));
    }
    if let (M::Writing, K::Space) = (mode, key) {
        return Some(A::Letter(' '));
    }
    if let (true, K::Char(c)) = (takes_digits(mode), key)
        && let Some(digit) = c.to_digit(10)
    {
        return Some(A::Digit(digit as u8));
    }
    let row = TABLE
        .iter()
        .find(|row| row.mode == mode && row.keys.contains(&key));
    row.map(|row| row.action)
}

/// The rows of a mode that are shown in its help.
pub fn shown(mode: Mode) -> impl Iterator<Item = &'static Binding> {
    TABLE.iter().filter(move |row| {
        let again = row.in_menu && matches!(row.action, A::TakeBack | A::BringBack);
        row.mode == mode && !row.shown.is_empty() && !again
    })
}

/// The entries of the numbered menu, from 1.
pub fn menu_entries() -> impl Iterator<Item = &'static Binding> {
    TABLE.iter().filter(|row| row.in_menu)
}
