//! The table itself: a row a binding, in the order in which help shows them.

use super::{Action, Binding, Key, Mode};

macro_rules! table {
    ($($mode:ident $place:ident $($key:ident $(($char:literal))?)|+ => $action:ident,
        $shown:literal, $help:literal;)+) => {
        /// Every key of the program, but digits and the letters of a text, which every mode that
        /// takes them takes alike.
        pub const TABLE: &[Binding] = &[$(Binding {
            mode: Mode::$mode,
            keys: &[$(Key::$key $(($char))?),+],
            action: Action::$action,
            shown: $shown,
            help: $help,
            in_menu: table!(@$place),
        }),+];
    };
    (@menu) => { true };
    (@key) => { false };
}

table! {
    // Floor
    Floor key Enter => Done, "Enter", "the coming set is done as asked";
    Floor key Char('.') | Char(',') => Point, ". digit", "reps spare of the set just done";
    Floor key Space | Char('*') => Lift, "Space *", "lifting now; starts a hold";
    Floor key Left | Char('-') => Lighter, "Left -", "a step lighter";
    Floor key Right | Char('+') => Heavier, "Right +", "a step heavier";
    Floor key Down => Forward, "Down", "forward along the tape";
    Floor key Char('/') => Menu, "/", "everything else, by number";
    // Floor, and in its numbered menu: for keypads, that have no other key for it
    Floor menu Char('p') => Pain, "p", "pain";
    Floor menu Char('u') => TakeBack, "u", "take back the last thing";
    Floor menu Char('U') => BringBack, "U", "bring it back";
    Floor menu Up => Back, "Up", "change an earlier set";
    Floor menu Backspace => Erase, "Backspace", "the last digit goes";
    Floor menu Esc => Cancel, "Esc", "never mind what is typed";
    Floor menu Char('r') => HandsFree, "r", "hands-free, by itself";
    Floor menu Char('b') => RestEarlier, "b", "rest began 15 s earlier";
    Floor menu Char('c') => Coaching, "c", "how it is done";
    Floor menu Char('w') => NameLoad, "w", "name a load";
    Floor menu Char('i') => Interrupted, "i", "last set interrupted";
    Floor menu Char('s') => Swap, "s", "swap for a stand-in";
    Floor menu Char('o') => PutOff, "o", "put this exercise off";
    Floor menu Char('k') => SkipSet, "k", "skip the coming set";
    Floor menu Char('K') => SkipExercise, "K", "skip what is left of it";
    Floor menu Char('a') => AddSet, "a", "add a set";
    Floor menu Char('n') => Note, "n", "write a note";
    Floor menu Char('t') => Pause, "t", "time out, and go on";
    Floor menu Char('m') => Mute, "m", "sound off or on";
    Floor menu Char('d') => BigDigits, "d", "big digits on or off";
    Floor menu Char('g') => Ground, "g", "dark, light, no colour";
    Floor menu Char('h') | Char('?') | F1 => Help, "h ? F1", "every key";
    Floor menu Char('f') => Finish, "f", "finish here";
    Floor menu Char('q') | CtrlC => Leave, "q", "leave; it waits as it is";
    // Floor
    Floor key KeypadOff | PageUp | PageDown => KeypadOff, "", "";
    // Briefing
    Briefing key Enter => Done, "Enter", "start";
    Briefing menu Char('o') => OtherSession, "o", "another session";
    Briefing menu Char('l') => OtherPlace, "l", "another place";
    Briefing menu Char('t') => LessTime, "t", "less time than it takes";
    Briefing menu Char('e') => LighterWeek, "e", "an easier week, or the full one again";
    Briefing menu Char('v') => ViewProgram, "v", "view the program";
    Briefing menu Char('b') => Logbook, "b", "the logbook: what months say";
    Briefing key Up | Char('-') => Back, "Up -", "up the list";
    Briefing key Down | Char('+') => Forward, "Down +", "down the list";
    Briefing menu Char('c') => Coaching, "c", "how it is done";
    Briefing menu Char('g') => Ground, "g", "dark, light, no colour";
    Briefing menu Char('p') => Pain, "p", "pain";
    Briefing key Char('/') => Menu, "/", "the same by number";
    Briefing menu Char('h') | Char('?') | F1 => Help, "h ? F1", "every key";
    Briefing menu Char('q') | Esc | CtrlC => Leave, "q", "leave";
    // Debrief
    Debrief key Enter => Done, "Enter", "close the session";
    Debrief key Up => Back, "Up", "up the page";
    Debrief key Down => Forward, "Down", "down the page";
    Debrief key PageUp | Char('-') => PageBack, "PgUp -", "a whole page up";
    Debrief key PageDown | Char('+') => PageForward, "PgDn +", "a whole page down";
    Debrief menu Backspace => Erase, "Backspace", "the last digit goes";
    Debrief key Char('.') | Char(',') => Point, ". digit", "reps spare of the last set";
    Debrief menu Char('u') => TakeBack, "u", "take back the last thing";
    Debrief menu Char('U') => BringBack, "U", "bring it back";
    Debrief menu Char('a') => AddSet, "a", "add a set";
    Debrief menu Esc => Cancel, "Esc", "back to the sets left";
    Debrief menu Char('n') => Note, "n", "write a note";
    Debrief menu Char('p') => Pain, "p", "pain";
    Debrief key Char('/') => Menu, "/", "the same by number";
    Debrief menu Char('h') | Char('?') | F1 => Help, "h ? F1", "every key";
    Debrief menu Char('q') | CtrlC => Leave, "q", "leave";
    // FirstRun
    FirstRun key Enter => Done, "Enter", "take what is marked";
    FirstRun key Up | Left | Char('-') => Back, "Up -", "the one before";
    FirstRun key Down | Right | Char('+') => Forward, "Down +", "the one after";
    FirstRun key Char('.') | Char(',') => Point, ".", "decimals";
    FirstRun key Backspace => Erase, "Backspace", "the last digit goes";
    FirstRun key Esc | CtrlC | Char('q') => Leave, "q", "leave";
    // Logbook
    Logbook key Enter => Done, "Enter", "open it; in a session, what was typed of the set holds";
    Logbook key Up | Char('-') => Back, "Up -", "up";
    Logbook key Down | Char('+') => Forward, "Down +", "down";
    Logbook key PageDown | Space => PageForward, "PgDn Space", "down by a page";
    Logbook key PageUp => PageBack, "PgUp", "up by a page";
    Logbook key Backspace => Erase, "Backspace", "the last digit goes; else up by a page";
    Logbook key Right => NextView, "Right", "the next view; 1 to 7 goes to one";
    Logbook key Left => ViewBefore, "Left", "the view before";
    Logbook key Char('/') => Search, "/", "look for a text";
    Logbook key Char('.') | Char(',') => Point, ". digit", "reps spare of the marked set";
    Logbook key Char('w') => NameLoad, "w", "load of the marked set";
    Logbook key Char('x') => VoidSet, "x", "the marked set did not happen";
    Logbook key Char('X') => VoidSession, "X", "the whole session did not happen";
    Logbook key Char('u') => TakeBack, "u", "take back the last change";
    Logbook key Char('U') => BringBack, "U", "bring it back";
    Logbook key Char('p') => Pain, "p", "pain";
    Logbook key Char('g') => Ground, "g", "dark, light, no colour";
    Logbook key Char('h') | Char('?') | F1 => Help, "h ? F1", "every key";
    Logbook key Esc | Char('q') => Cancel, "Esc", "back";
    Logbook key CtrlC => Leave, "Ctrl-C", "leave";
    // Menu
    Menu key Enter => Done, "Enter", "take the number typed, or what is marked";
    Menu key Up | Char('-') => Back, "Up -", "up the list";
    Menu key Down | Char('+') => Forward, "Down +", "down the list";
    Menu key Backspace => Erase, "Backspace", "the last digit goes";
    Menu key Esc | Char('/') => Cancel, "Esc /", "never mind";
    Menu key CtrlC => Leave, "Ctrl-C", "leave";
    // Question
    Question key Enter => Done, "Enter", "take what is marked";
    Question key Up | Char('-') => Back, "Up -", "up the list";
    Question key Down | Char('+') => Forward, "Down +", "down the list";
    Question key Backspace => Erase, "Backspace", "the last digit goes";
    Question key Esc | Char('/') => Cancel, "Esc /", "never mind";
    Question key Char('p') => Pain, "p", "pain";
    Question key CtrlC => Leave, "Ctrl-C", "leave";
    // Writing
    Writing key Enter => Done, "Enter", "keep it";
    Writing key Backspace => Erase, "Backspace", "the last letter goes";
    Writing key Esc => Cancel, "Esc", "never mind";
    Writing key CtrlC => Leave, "Ctrl-C", "leave";
    // Help
    Help key Up => Back, "Up", "up the page";
    Help key Down => Forward, "Down", "down the page";
    Help key PageUp | Char('-') => PageBack, "PgUp -", "a whole page up";
    Help key PageDown | Space | Char('+') => PageForward, "PgDn +", "a whole page down";
    Help key Char('p') => Pain, "p", "pain";
    Help key CtrlC => Leave, "Ctrl-C", "leave";
    Help key Esc | Enter | Char('h') | Char('?') | F1 | Char('q') => Cancel, "Esc", "back";
}
