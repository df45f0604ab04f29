//! Numbers as spreadsheets write them.

use super::Refusal;

/// What stands before decimals.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Decimal {
    /// 22.5
    Point,
    /// 22,5
    Comma,
}

impl Decimal {
    const fn sign(self) -> char {
        match self {
            Self::Point => '.',
            Self::Comma => ',',
        }
    }

    /// The one that the numbers of a column show: one or two digits follow it.
    pub(super) fn of<'t>(texts: impl Iterator<Item = (u64, &'t str)>) -> Option<Self> {
        let (mut point, mut comma) = (false, false);
        for (_, text) in texts {
            point |= decimals(text, '.').is_some_and(|count| count != 3);
            comma |= decimals(text, ',').is_some_and(|count| count != 3);
        }
        match (point, comma) {
            (true, false) => Some(Self::Point),
            (false, true) => Some(Self::Comma),
            (true, true) | (false, false) => None,
        }
    }
}

/// How many digits follow the last of that sign.
fn decimals(text: &str, sign: char) -> Option<usize> {
    let (_, behind) = text.rsplit_once(sign)?;
    let count = behind.chars().take_while(char::is_ascii_digit).count();
    (count > 0).then_some(count)
}

pub(super) fn has_digit(text: &str) -> bool {
    text.bytes().any(|byte| byte.is_ascii_digit())
}

/// The number with a point before its decimals and nothing between its thousands.
pub(super) fn plain(text: &str, decimal: Option<Decimal>) -> Result<String, Refusal> {
    let signs: Vec<char> = text.chars().filter(|c| matches!(c, '.' | ',')).collect();
    let decimal = match (signs.as_slice(), decimal) {
        ([], _) => return Ok(text.to_owned()),
        ([.., last], _) if signs.len() > 1 && signs.iter().any(|sign| sign != last) => *last,
        ([sign], Some(decimal)) if *sign == decimal.sign() => *sign,
        ([sign], known)
            if decimals(text, *sign) != Some(3) || text.starts_with(['0', '.', ',']) =>
        {
            let _ = known;
            *sign
        }
        ([_], Some(decimal)) => decimal.sign(),
        _ => {
            return Err(Refusal::new(
                format!("\"{text}\" can be read in two ways"),
                "say what stands before decimals: --decimal point or --decimal comma",
            ));
        }
    };
    let kept = text
        .chars()
        .filter(|c| *c == decimal || !matches!(c, '.' | ','));
    Ok(kept.map(|c| if c == decimal { '.' } else { c }).collect())
}

/// A whole number, written so or with a decimal that is nought.
pub(super) fn whole(text: &str) -> Option<u32> {
    let bare = text
        .split_once(['.', ','])
        .map_or(Some(text), |(whole, rest)| {
            let nought =
                !rest.is_empty() && rest.bytes().all(|byte| byte == b'0') && rest.len() < 3;
            nought.then_some(whole)
        })?;
    let digits = !bare.is_empty() && bare.bytes().all(|byte| byte.is_ascii_digit());
    digits.then(|| bare.parse().ok())?
}
