//! Two, four or eight triangle units from a pair of cut squares.

use std::str::FromStr;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::measure::{Length, LengthError};

/// How many triangle units one pair of squares yields for each of its squares, and so by which sewing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
#[cfg_attr(not(feature = "internals"), non_exhaustive)]
pub enum AtATime {
    /// A line on one diagonal, a seam each side of it, cut on the line: the big size.
    Two,
    /// A seam all round, cut on both diagonals: the small size, its outer edges on the bias.
    Four,
    /// Lines on both diagonals, seams each side of them, cut in eight: the mini size.
    Eight,
}

impl AtATime {
    /// The three methods, big to mini.
    pub const ALL: [Self; 3] = [Self::Two, Self::Four, Self::Eight];

    /// Units that one pair of squares gives.
    pub fn yields(self) -> u32 {
        match self {
            Self::Two => 2,
            Self::Four => 4,
            Self::Eight => 8,
        }
    }

    /// `big`, `small` or `mini`.
    pub fn size(self) -> &'static str {
        match self {
            Self::Two => "big",
            Self::Four => "small",
            Self::Eight => "mini",
        }
    }

    /// The method's name in words.
    pub fn words(self) -> &'static str {
        match self {
            Self::Two => "two at a time",
            Self::Four => "four at a time",
            Self::Eight => "eight at a time",
        }
    }

    /// The unfinished size that squares of `cut` give before trimming, rounded down to a whole tick.
    ///
    /// Two: c - s√2. Four: (c - 2s)/√2. Eight: c/2 - s√2. Only here does √2 occur.
    pub fn exact_unfinished(self, cut: Length, seam: Length) -> Length {
        let (c, s) = (i128::from(cut.ticks()), i128::from(seam.ticks()));
        let ticks = match self {
            Self::Two => c - root_above(2 * s * s),
            Self::Four => ((c - 2 * s).max(0).pow(2) / 2).isqrt(),
            Self::Eight => (c - root_above(8 * s * s)).div_euclid(2),
        };
        Length::from_ticks(i64::try_from(ticks.max(0)).unwrap_or(i64::MAX))
    }

    /// The largest multiple of `grid` that finishes from squares of `cut`; zero where none does.
    pub fn finished(self, cut: Length, seam: Length, grid: Length) -> Length {
        let room = self.exact_unfinished(cut, seam) - seam * 2i64;
        grid * room.floor_div(grid).max(0)
    }
}

/// The least whole number whose square is at least `n`.
fn root_above(n: i128) -> i128 {
    let root = n.isqrt();
    if root * root == n { root } else { root + 1 }
}

/// A square as it goes into pairs: bought at that size, or a quarter of a bought one.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Square {
    /// Side of the square that is paired.
    pub cut: Length,
    /// Whether four of them are first cut from a square of twice the side.
    pub quartered: bool,
}

impl Square {
    /// The side of the square as bought.
    pub fn bought(self) -> Length {
        if self.quartered { self.cut * 2i64 } else { self.cut }
    }

    /// A quarter of a square bought whole, where its side halves exactly.
    pub fn quarter(self) -> Option<Self> {
        let quarter = Self { cut: self.cut / 2, quartered: true };
        (!self.quartered && quarter.bought() == self.cut).then_some(quarter)
    }
}

/// Why a text is no square.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum SquareError {
    /// The side is no length.
    #[error(transparent)]
    Length(#[from] LengthError),
    /// The side cannot be halved exactly or is not positive.
    #[error("`{0}` is not the side of a square: write `10in`, or `10in/4` for squares quartered first")]
    Side(String),
}

impl FromStr for Square {
    type Err = SquareError;

    fn from_str(text: &str) -> Result<Self, SquareError> {
        let quartered = text.trim().strip_suffix("/4");
        let quartered = quartered.filter(|rest| rest.ends_with(|c: char| !c.is_ascii_digit()));
        let side: Length = quartered.unwrap_or(text).parse()?;
        let square = match quartered {
            Some(_) => Self { cut: side / 2, quartered: true },
            None => Self { cut: side, quartered: false },
        };
        let exact = square.bought() == side && side > Length::ZERO;
        exact.then_some(square).ok_or_else(|| SquareError::Side(text.trim().to_owned()))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const SEAM: Length = Length::inches(1, 4);
    const GRID: Length = Length::inches(1, 2);

    fn finished(cut: Length) -> [Length; 3] {
        AtATime::ALL.map(|method| method.finished(cut, SEAM, GRID))
    }

    #[test]
    fn ten_inch_squares_finish_at_9_6_and_4() {
        assert_eq!(finished(Length::inches(10, 1)), [9, 6, 4].map(|n| Length::inches(n, 1)));
    }

    #[test]
    fn five_inch_squares_finish_at_4_2_and_a_half_and_1_and_a_half() {
        assert_eq!(finished(Length::inches(5, 1)), [8, 5, 3].map(|n| Length::inches(n, 2)));
    }

    #[test]
    fn a_metric_square_four_at_a_time() {
        let (cut, seam) = (Length::mm(185), Length::MM * 15i64 / 2);
        assert_eq!(AtATime::Four.exact_unfinished(cut, seam).round_to(Length::MM / 10), Length::MM / 10 * 1202i64);
        assert_eq!(AtATime::Four.finished(cut, seam, Length::mm(5)), Length::mm(105));
    }

    #[test]
    fn a_seam_as_wide_as_the_square_gives_nothing() {
        for method in AtATime::ALL {
            assert_eq!(method.finished(GRID, GRID, GRID), Length::ZERO);
        }
    }

    #[test]
    fn reads_squares() {
        let five = Length::inches(5, 1);
        assert_eq!("10in/4".parse(), Ok(Square { cut: five, quartered: true }));
        assert_eq!("5 in".parse(), Ok(Square { cut: five, quartered: false }));
        assert_eq!("10 1/4in".parse(), Ok(Square { cut: Length::inches(41, 4), quartered: false }));
        assert!("0in".parse::<Square>().is_err());
        assert!("10/4".parse::<Square>().is_err());
    }
}
