//! Reading lengths as makers write them.

use std::str::FromStr;

use super::Length;

/// Why a text is no length.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum LengthError {
    /// No unit follows the number.
    #[error("`{0}` has no unit: write `{0}in` or `{0}cm`")]
    NoUnit(String),
    /// The number cannot be read.
    #[error("`{0}` is not a length: write it as `9 1/2 in`, `9.5in` or `24.1cm`")]
    Unreadable(String),
    /// The number is finer than lengths are kept.
    #[error("`{0}` is finer than 1/64 in, 0.001 in or 0.01 mm: round it")]
    TooFine(String),
    /// The number is out of range.
    #[error("`{0}` is too long: the limit is 1 km")]
    TooLong(String),
}

const UNITS: [(&str, Length); 10] = [
    ("inches", Length::INCH),
    ("inch", Length::INCH),
    ("in", Length::INCH),
    ("\"", Length::INCH),
    ("″", Length::INCH),
    ("yd", Length::YARD),
    ("cm", Length::CM),
    ("mm", Length::MM),
    ("ft", Length::inches(12, 1)),
    ("m", Length::METRE),
];

impl FromStr for Length {
    type Err = LengthError;

    fn from_str(text: &str) -> Result<Self, LengthError> {
        let trimmed = text.trim();
        let (number, unit) = UNITS
            .iter()
            .find_map(|(name, unit)| Some((trimmed.strip_suffix(name)?.trim_end(), *unit)))
            .ok_or_else(|| no_unit(trimmed))?;
        let (negative, digits) = match number.strip_prefix('-') {
            Some(rest) => (true, rest),
            None => (false, number),
        };
        let (top, bottom) = fraction(digits).ok_or_else(|| LengthError::Unreadable(shorten(trimmed)))?;
        let ticks = exact_ticks(top, bottom, unit).ok_or_else(|| LengthError::TooLong(shorten(trimmed)))?;
        let ticks = ticks.map_err(|()| LengthError::TooFine(shorten(trimmed)))?;
        Ok(Length::from_ticks(if negative { -ticks } else { ticks }))
    }
}

fn no_unit(text: &str) -> LengthError {
    match fraction(text.trim_start_matches('-')) {
        Some(_) => LengthError::NoUnit(shorten(text)),
        None => LengthError::Unreadable(shorten(text)),
    }
}

fn shorten(text: &str) -> String {
    let mut short: String = text.chars().take(40).collect();
    if short.len() < text.len() {
        short.push('…');
    }
    short
}

/// `None` where out of range, `Some(Err)` where not a whole number of ticks.
fn exact_ticks(top: i128, bottom: i128, unit: Length) -> Option<Result<i64, ()>> {
    let scaled = top.checked_mul(i128::from(unit.ticks()))?;
    let ticks = i64::try_from(scaled / bottom).ok().filter(|t| *t <= Length::LIMIT.ticks())?;
    Some(if scaled % bottom == 0 { Ok(ticks) } else { Err(()) })
}

/// Reads `9`, `9.5`, `1/2` and `9 1/2` as numerator and denominator.
fn fraction(text: &str) -> Option<(i128, i128)> {
    let mut words = text.split_whitespace();
    let (first, second) = (words.next()?, words.next());
    if words.next().is_some() {
        return None;
    }
    match second {
        None => slashed(first).or_else(|| decimal(first)),
        Some(part) => {
            let (top, bottom) = slashed(part)?;
            Some((whole(first)?.checked_mul(bottom)?.checked_add(top)?, bottom))
        }
    }
}

fn slashed(text: &str) -> Option<(i128, i128)> {
    let (top, bottom) = text.split_once('/')?;
    Some((whole(top)?, whole(bottom).filter(|b| *b > 0)?))
}

fn decimal(text: &str) -> Option<(i128, i128)> {
    let (units, places) = text.split_once('.').unwrap_or((text, ""));
    if places.len() > 12 || (units.is_empty() && places.is_empty()) {
        return None;
    }
    let scale = 10_i128.pow(places.len() as u32);
    let units = if units.is_empty() { 0 } else { whole(units)? };
    let places = if places.is_empty() { 0 } else { whole(places)? };
    Some((units.checked_mul(scale)?.checked_add(places)?, scale))
}

fn whole(text: &str) -> Option<i128> {
    let plain = !text.is_empty() && text.len() <= 18 && text.bytes().all(|b| b.is_ascii_digit());
    plain.then(|| text.parse().ok())?
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str) -> Length {
        text.parse().expect(text)
    }

    #[test]
    fn reads_what_makers_write() {
        assert_eq!(read("9 1/2 in"), Length::inches(19, 2));
        assert_eq!(read("9.5in"), Length::inches(19, 2));
        assert_eq!(read("24.1cm"), Length::mm(241));
        assert_eq!(read("1/64 in"), Length::from_ticks(15_875));
        assert_eq!(read("0.001 in"), Length::from_ticks(1_016));
        assert_eq!(read("0.01mm"), Length::from_ticks(400));
        assert_eq!(read("1/3 yd"), Length::inches(12, 1));
        assert_eq!(read("-1/4in"), -Length::inches(1, 4));
    }

    #[test]
    fn refuses_what_is_no_length() {
        for text in ["", "in", "nan in", "1e9 in", "1/0 in", "9,5 in", "9 1/2 1/2 in", "99999999999999999999cm"] {
            assert!(text.parse::<Length>().is_err(), "{text}");
        }
        assert_eq!("9".parse::<Length>(), Err(LengthError::NoUnit("9".into())));
        assert_eq!("1/3 in".parse::<Length>(), Err(LengthError::TooFine("1/3 in".into())));
        assert_eq!("2000m".parse::<Length>(), Err(LengthError::TooLong("2000m".into())));
    }

    #[test]
    fn prints_what_it_reads() {
        for ticks in (0..4_000_000).step_by(15_875) {
            let length = Length::from_ticks(ticks);
            assert_eq!(read(&length.to_string()), length);
        }
        for hundredths in 0..2_000 {
            let length = Length::from_ticks(hundredths * 400);
            assert_eq!(read(&length.to_string()), length);
        }
    }
}
