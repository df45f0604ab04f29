//! Quantities as a person writes them in a program: "8-12", "1:00-1:30", "30X0".

use crate::domain::program::{RestWindow, Tempo};
use crate::domain::units::Seconds;

/// A number or a range of numbers, "8" or "8-12", inside the bounds.
pub(super) fn range(text: &str, bounds: (u32, u32)) -> Option<(u32, u32)> {
    let (low, high) = text.split_once('-').unwrap_or((text, text));
    let low = low.trim().parse().ok()?;
    let high = high.trim().parse().ok()?;
    (bounds.0 <= low && low <= high && high <= bounds.1).then_some((low, high))
}

/// A rest window, "1:00-1:30"; seconds alone are taken too.
pub(super) fn window(text: &str) -> Option<RestWindow> {
    let (opens, closes) = text.split_once('-')?;
    let (opens, closes) = (clock(opens)?, clock(closes)?);
    (opens <= closes && closes.get() <= 900).then_some(RestWindow { opens, closes })
}

fn clock(text: &str) -> Option<Seconds> {
    let text = text.trim();
    let (minutes, seconds) = match text.split_once(':') {
        Some((minutes, seconds)) => (minutes.parse::<u32>().ok()?, seconds),
        None => (0, text),
    };
    let seconds = seconds.parse::<u32>().ok()?;
    let fits = seconds < 60 || minutes == 0;
    fits.then(|| Seconds::new(minutes.checked_mul(60)?.checked_add(seconds)?).ok())?
}

/// A tempo of four digits, X for as fast as possible in the third.
pub(super) fn tempo(text: &str) -> Option<Tempo> {
    let mut digits = text.chars();
    let mut next = || digits.next();
    let digit = |c: Option<char>| c?.to_digit(10).and_then(|d| u8::try_from(d).ok());
    let (lowering, bottom) = (digit(next())?, digit(next())?);
    let lifting = match next()? {
        'X' | 'x' => None,
        c => Some(digit(Some(c))?),
    };
    let top = digit(next())?;
    digits.next().is_none().then_some(Tempo {
        lowering,
        bottom,
        lifting,
        top,
    })
}
