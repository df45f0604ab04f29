//! Quantities as a person writes them in a program: "8-12", "1:00-1:30", "30X0".

use crate::domain::program::{RestWindow, Tempo};
use crate::domain::units::Seconds;

/// What is wrong with a quantity, and what to write.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) struct Unread {
    pub message: String,
    pub advice: String,
}

fn unread(message: String, advice: impl Into<String>) -> Unread {
    Unread {
        message,
        advice: advice.into(),
    }
}

/// A number or a range of numbers, "8" or "8-12", inside the bounds.
pub(super) fn range(text: &str, (least, most): (u32, u32)) -> Result<(u32, u32), Unread> {
    let not_read = || {
        let message = format!("\"{text}\" is no number or range");
        unread(message, meant(text, most))
    };
    let (low, high) = text.split_once('-').unwrap_or((text, text));
    if let Some(wrong) = other_dash(text) {
        return Err(wrong);
    }
    let low: u32 = low.trim().parse().map_err(|_| not_read())?;
    let high: u32 = high.trim().parse().map_err(|_| not_read())?;
    if low > high {
        let message = format!("\"{text}\" runs backwards");
        return Err(unread(message, format!("write \"{high}-{low}\"")));
    }
    if low < least || high > most {
        let message = format!("\"{text}\" is outside {least} to {most}");
        return Err(unread(message, format!("write {least} to {most}")));
    }
    Ok((low, high))
}

/// What may be meant by a text that is no number or range.
fn meant(text: &str, most: u32) -> String {
    let numbers: Vec<u32> = text
        .split(|c: char| !c.is_ascii_digit())
        .filter_map(|digits| digits.parse().ok())
        .collect();
    let open = text.ends_with('+') || text.to_lowercase().contains("amrap");
    match numbers.as_slice() {
        [] if open => "write the least, like \"5\", and open_last: true beside it".to_owned(),
        [one] if open => format!("write \"{one}\", and open_last: true beside it"),
        [one] if (1..=most).contains(one) => format!("write \"{one}\""),
        [low, high] if (1..=*high).contains(low) && *high <= most => {
            format!("write \"{low}-{high}\"")
        }
        _ => "write a number, or the lower and the upper one, like \"8-12\"".to_owned(),
    }
}

/// A rest window, "1:00-1:30"; seconds alone are taken too.
pub(super) fn window(text: &str, (_, most): (u32, u32)) -> Result<RestWindow, Unread> {
    if let Some(wrong) = other_dash(text) {
        return Err(wrong);
    }
    let advice = "write the shortest and the longest rest, like \"1:00-1:30\"";
    let Some((opens, closes)) = text.split_once('-') else {
        let advice = match clock(text) {
            Some(one) => {
                let other = Seconds::clamped(one.get() + one.get().div_ceil(2).min(60));
                format!("write both ends of the window, like \"{one}-{other}\"")
            }
            None => advice.to_owned(),
        };
        return Err(unread(format!("\"{text}\" is no rest window"), advice));
    };
    let (Some(opens), Some(closes)) = (clock(opens), clock(closes)) else {
        return Err(unread(format!("\"{text}\" is no rest window"), advice));
    };
    if opens > closes {
        let message = format!("the rest \"{text}\" runs backwards");
        return Err(unread(message, format!("write \"{closes}-{opens}\"")));
    }
    if closes.get() > most {
        let message = format!("a rest of {closes}");
        let most = Seconds::clamped(most);
        return Err(unread(message, format!("write {most} at most")));
    }
    Ok(RestWindow { opens, closes })
}

/// A dash that is no hyphen.
fn other_dash(text: &str) -> Option<Unread> {
    let other = |c: &char| matches!(c, '\u{2010}'..='\u{2015}' | '\u{2212}');
    let dash = text.chars().find(other)?;
    let message = format!("the dash in \"{text}\" is not the one of the keyboard");
    let plain = text.replace(dash, "-");
    Some(unread(message, format!("write \"{plain}\"")))
}

fn clock(text: &str) -> Option<Seconds> {
    let text = text.trim();
    let (minutes, seconds) = match text.split_once(':') {
        Some((minutes, seconds)) => (minutes.parse::<u32>().ok()?, seconds),
        None => (0, text),
    };
    let seconds = seconds.parse::<u32>().ok()?;
    let fits = seconds < 60 || !text.contains(':');
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
