//! The fabrics of the plan as this check reads them.

use serde::Deserialize;

use super::laid::Kind;
use crate::measure::Length;

/// A fabric, and what there is of it.
#[derive(Debug, Deserialize)]
pub struct FabricFile {
    /// Its letter.
    pub letter: String,
    /// The maker's name for it.
    pub name: String,
    /// `#rrggbb`.
    pub colour: String,
    /// Prints that read as one share this.
    pub family: String,
    /// What is painted so is made of it.
    pub sketch: Option<String>,
    /// Side of the squares that its fillers are cut from, where these are bought.
    pub only_squares: Option<Length>,
    /// Whether its print has an up and a down.
    #[serde(default)]
    pub directional: bool,
    /// Whether it is to stand upright in triangle units too.
    #[serde(default)]
    pub upright: bool,
    /// What there is of it; none where it is bought.
    pub supply: Option<SupplyFile>,
    /// What is left of what was bought of it.
    pub remnants: Option<SupplyFile>,
    /// A small picture of it.
    pub thumbnail: Option<String>,
    /// How wide the cloth is that it shows.
    pub swatch_width: Option<Length>,
}

impl FabricFile {
    /// What there is of it, counted or left.
    pub fn cloth(&self) -> Option<&SupplyFile> {
        self.supply.as_ref().or(self.remnants.as_ref())
    }
}

impl FabricFile {
    /// Whether there is some cloth of it.
    pub fn has_cloth(&self) -> bool {
        self.supply.iter().flat_map(|supply| supply.sheets()).any(|(_, _, count)| count > 0)
    }
}

/// What there is of one fabric.
#[derive(Debug, Deserialize)]
pub struct SupplyFile {
    squares: Vec<SquaresFile>,
    yardage: Vec<YardageFile>,
    fat_quarters: u32,
    oddments: Vec<OddmentFile>,
}

/// Squares that are alike.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SquaresFile {
    /// Side.
    pub size: Length,
    /// How many.
    pub count: u32,
}

/// A length of cloth.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct YardageFile {
    /// Usable width.
    pub width: Length,
    /// Along the selvedge.
    pub length: Length,
}

/// Odd pieces that are alike.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct OddmentFile {
    /// Across the print.
    pub width: Length,
    /// Up the print.
    pub height: Length,
    /// How many.
    pub count: u32,
}

/// Width and height of a fat quarter.
pub const FAT_QUARTER: (Length, Length) = (Length::inches(22, 1), Length::inches(18, 1));

impl SupplyFile {
    /// How many sheets there are of a kind and a size; none where there is no such sheet.
    pub fn count(&self, kind: Kind, width: Length, height: Length) -> Option<u64> {
        let alike = self.sheets().filter(|sheet| (sheet.0, sheet.1) == (kind, (width, height)));
        let count: u64 = alike.map(|sheet| u64::from(sheet.2)).sum();
        (count > 0).then_some(count)
    }

    /// The largest square where there is no other cloth.
    pub fn only_squares(&self) -> Option<Length> {
        let none = self.yardage.is_empty() && self.fat_quarters == 0 && self.oddments.is_empty();
        self.squares.iter().map(|squares| squares.size).max().filter(|_| none)
    }

    /// Everything that there is: what it is, its width and height, and how many.
    pub fn sheets(&self) -> impl Iterator<Item = (Kind, (Length, Length), u32)> {
        let squares = self.squares.iter().map(|squares| (Kind::Square, (squares.size, squares.size), squares.count));
        let yardage = self.yardage.iter().map(|yardage| (Kind::Length, (yardage.width, yardage.length), 1));
        let oddments = self.oddments.iter().map(|odd| (Kind::Oddment, (odd.width, odd.height), odd.count));
        squares.chain(yardage).chain(oddments).chain([(Kind::FatQuarter, FAT_QUARTER, self.fat_quarters)])
    }
}
