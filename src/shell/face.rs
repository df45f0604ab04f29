//! What the person has before them: the whole screen, or lines one after the other.

use super::event_loop::{Ended, HANGUP};
use super::settings::{Form, Settings};
use super::signals;
use super::terminal::{self, Guard, Input, Screen};
use crate::app::model::Model;
use crate::domain::units::Now;
use crate::ui::lines::Teller;
use crate::ui::theme::Look;
use crate::ui::{self, Progress};
use std::io::{self, Write};

/// What the person has before them.
pub enum Face {
    /// The whole screen.
    Screen(Box<OnScreen>),
    /// Lines.
    Lines {
        /// What was told.
        teller: Teller,
        /// What the terminal can show.
        look: Look,
    },
}

/// The screen while it is ours.
pub struct OnScreen {
    terminal: Screen,
    guard: Guard,
    look: Look,
    title: String,
    /// What was told last, where it is told.
    progress: Option<Progress>,
}

impl Face {
    /// Takes the terminal, and hands what is typed to `tell`.
    ///
    /// # Errors
    ///
    /// The terminal is none, or refuses.
    pub fn take(
        settings: &Settings,
        tell: impl Fn(Input) -> bool + Send + 'static,
    ) -> io::Result<Self> {
        let look = settings.look();
        match settings.form.value {
            Form::Screen => {
                let (terminal, guard) = terminal::take()?;
                terminal::listen(tell)?;
                let title = String::new();
                let progress = settings.progress.value.then_some(Progress::Nothing);
                Ok(Self::Screen(Box::new(OnScreen {
                    terminal,
                    guard,
                    look,
                    title,
                    progress,
                })))
            }
            Form::Lines => {
                terminal::listen_for_lines(tell)?;
                let teller = Teller::default();
                Ok(Self::Lines { teller, look })
            }
        }
    }

    /// Shows the model as it is at an instant; says how far down what is to be read can go.
    ///
    /// # Errors
    ///
    /// The terminal is gone.
    pub fn show(&mut self, model: &Model, now: Now) -> io::Result<usize> {
        match self {
            Self::Screen(on) => on.show(model, now),
            Self::Lines { teller, look } => {
                let lines = teller.tell(model, now);
                print(&lines, *look).map(|()| 0)
            }
        }
    }

    /// Says where things stand, or what was not understood: on lines alone, as it was asked there.
    ///
    /// # Errors
    ///
    /// The terminal is gone.
    pub fn say(&self, lines: &[String]) -> io::Result<()> {
        match self {
            Self::Screen(_) => Ok(()),
            Self::Lines { look, .. } => print(lines, *look),
        }
    }

    /// How it ends when nothing can be shown any more. A reader of lines that went away has heard
    /// enough.
    pub fn gone(&self, why: &io::Error) -> Ended {
        match self {
            Self::Screen(_) => Ended::Signal(HANGUP),
            Self::Lines { .. } if why.kind() == io::ErrorKind::BrokenPipe => Ended::Left,
            Self::Lines { .. } => Ended::Untold(why.to_string()),
        }
    }

    /// Gives the terminal back for a stop.
    fn rest(&mut self) {
        match self {
            Self::Screen(on) => {
                on.tell_no_progress();
                terminal::give_back();
            }
            Self::Lines { .. } => {}
        }
    }

    /// Stops for now: the terminal is given back, and taken again when the process goes on.
    pub fn suspend(&mut self) {
        if signals::can_stop() {
            self.rest();
            let _ = signals::stop();
            self.go_on();
        }
    }

    /// Takes it again: others may have used it meanwhile.
    pub fn go_on(&mut self) {
        match self {
            Self::Screen(on) => {
                terminal::give_back();
                let _ = terminal::enter();
                on.title.clear();
                let screen = &mut on.terminal;
                let _ = screen.size().map(|size| screen.resize(size.into()));
            }
            Self::Lines { .. } => {}
        }
    }

    /// Gives the terminal back for good.
    pub fn leave(self) {
        match self {
            Self::Screen(on) => {
                let mut on = on;
                on.tell_no_progress();
                let OnScreen {
                    terminal, guard, ..
                } = *on;
                drop(guard);
                // Its own way of dropping complains to a terminal that may be gone, and panics
                // where it is.
                std::mem::forget(terminal);
            }
            Self::Lines { .. } => {}
        }
    }
}

impl OnScreen {
    /// What was told of progress goes with the screen.
    fn tell_no_progress(&mut self) {
        if let Some(told) = &mut self.progress {
            *told = Progress::Nothing;
            let _ = terminal::progress(Progress::Nothing);
        }
    }

    fn show(&mut self, model: &Model, now: Now) -> io::Result<usize> {
        let look = self.look;
        let mut reach = 0;
        self.terminal
            .draw(|frame| reach = ui::draw(model, look, now, frame))?;
        let title = look.letters.spell(&ui::title(model, now));
        if title != self.title {
            terminal::entitle(&title)?;
            self.title = title;
        }
        let progress = self.progress.map(|_| ui::progress(model, now));
        if let Some(new) = progress.filter(|_| progress != self.progress) {
            terminal::progress(new)?;
            self.progress = progress;
        }
        Ok(reach)
    }
}

fn print(lines: &[String], look: Look) -> io::Result<()> {
    let mut out = io::stdout().lock();
    for line in lines {
        writeln!(out, "{}", look.letters.spell(line))?;
    }
    out.flush()
}
