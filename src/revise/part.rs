//! Parts of a top as a maker names them.

use std::str::FromStr;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::measure::Length;
use crate::plan::{Address, Placed};

/// A part of the top.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(try_from = "String", into = "String")]
#[schemars(with = "String")]
#[non_exhaustive]
pub enum TopPart {
    /// All of it.
    All,
    /// A band.
    Band(usize),
    /// A column: band and column.
    Column(usize, usize),
    /// A row: band, column and row.
    Row(usize, usize, usize),
    /// A unit.
    Unit(Address),
    /// All units that lie wholly in a rectangle: left, top, width, height, finished.
    Rectangle([Length; 4]),
}

/// A text names no part.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error(
    "`{0}` is no part of a top: write a unit `1.1.3.7`, a row `1.1.3`, a column `1.1`, a band `1`, `all`, or left, top, width and height as `0in,9in,54in,18in`"
)]
pub struct PartError(String);

impl TopPart {
    /// Whether the unit lies in it; `grid` is the side of a cell.
    pub fn holds(&self, placed: &Placed, grid: Length) -> bool {
        let at = placed.address;
        match *self {
            Self::All => true,
            Self::Band(band) => at.band == band,
            Self::Column(band, column) => (at.band, at.column) == (band, column),
            Self::Row(band, column, row) => (at.band, at.column, at.row) == (band, column, row),
            Self::Unit(address) => at == address,
            Self::Rectangle([left, top, width, height]) => {
                let (x, y) = (grid * placed.x, grid * placed.y);
                let (right, bottom) = (x + grid * placed.unit.width, y + grid * placed.height);
                left <= x && top <= y && right <= left + width && bottom <= top + height
            }
        }
    }
}

impl From<TopPart> for String {
    /// As a maker writes it.
    fn from(part: TopPart) -> Self {
        match part {
            TopPart::All => "all".into(),
            TopPart::Band(band) => band.to_string(),
            TopPart::Column(band, column) => format!("{band}.{column}"),
            TopPart::Row(band, column, row) => format!("{band}.{column}.{row}"),
            TopPart::Unit(address) => address.to_string(),
            TopPart::Rectangle(sides) => sides.map(|side| side.to_string()).join(","),
        }
    }
}

impl TryFrom<String> for TopPart {
    type Error = PartError;

    fn try_from(text: String) -> Result<Self, PartError> {
        text.parse()
    }
}

impl std::fmt::Display for TopPart {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::All => write!(f, "all"),
            Self::Band(band) => write!(f, "band {band}"),
            Self::Column(band, column) => write!(f, "column {band}.{column}"),
            Self::Row(band, column, row) => write!(f, "row {band}.{column}.{row}"),
            Self::Unit(address) => write!(f, "unit {address}"),
            Self::Rectangle([left, top, width, height]) => write!(f, "the rectangle {left}, {top}, {width}, {height}"),
        }
    }
}

impl FromStr for TopPart {
    type Err = PartError;

    fn from_str(text: &str) -> Result<Self, PartError> {
        let wrong = || PartError(text.chars().take(40).collect());
        let text = text.trim();
        if text == "all" {
            return Ok(Self::All);
        }
        if text.contains(',') {
            let lengths: Option<Vec<Length>> = text.split(',').map(|part| part.trim().parse().ok()).collect();
            return lengths.and_then(|lengths| lengths.try_into().ok()).map(Self::Rectangle).ok_or_else(wrong);
        }
        let numbers: Option<Vec<usize>> = text.split('.').map(|part| part.parse().ok().filter(|n| *n > 0)).collect();
        match numbers.as_deref() {
            Some(&[band]) => Ok(Self::Band(band)),
            Some(&[band, column]) => Ok(Self::Column(band, column)),
            Some(&[band, column, row]) => Ok(Self::Row(band, column, row)),
            _ => text.parse().map(Self::Unit).map_err(|_| wrong()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_part_has_its_words() {
        assert_eq!("all".parse(), Ok(TopPart::All));
        assert_eq!("2".parse(), Ok(TopPart::Band(2)));
        assert_eq!(" 2.1.3 ".parse(), Ok(TopPart::Row(2, 1, 3)));
        assert_eq!("2.1.3.4".parse(), Ok(TopPart::Unit(Address { band: 2, column: 1, row: 3, unit: 4 })));
        let inch = Length::INCH;
        assert_eq!(
            "0in, 9in,54in,18in".parse(),
            Ok(TopPart::Rectangle([Length::ZERO, inch * 9i64, inch * 54i64, inch * 18i64]))
        );
        for part in [TopPart::All, TopPart::Column(1, 2), TopPart::Rectangle([inch, inch, inch * 9i64, Length::CM])] {
            assert_eq!(String::from(part).parse(), Ok(part));
        }
        for wrong in ["", "0", "1.2.3.4.5", "row 1", "1in,2in,3in", "-1.1"] {
            assert!(wrong.parse::<TopPart>().is_err(), "{wrong}");
        }
    }
}
