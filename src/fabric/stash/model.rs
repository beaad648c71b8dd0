//! The stash as it was read and checked.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::FAT_QUARTER;
use crate::fabric::{Fabrics, Print, stand_together};
use crate::measure::Length;
use crate::unit::Corner;

/// What the maker has to sew with.
///
/// The file is TOML. Lengths carry their unit; colours are `#rrggbb` or a name as `cornflower blue`; a line may be left
/// out where a word says so below. What there is of a fabric is optional: one with no counts is free to use.
///
/// ```
/// # let stash = rowscape::fabric::Stash::read(r##"
/// [[fabric]]
/// letter = "A"                  # optional: one to three letters or digits, on every chart
/// name = "evening sky"
/// colour = "#8fb0c9"            # as it reads from across the room
/// family = "sky"                # optional: prints that read as one
/// sketch = "#90b0d0"            # optional: what is painted so is made of this and no other
/// squares = [{ size = "10in", count = 4 }]
/// yardage = [{ width = "42in", length = "1 1/2 yd" }]   # or "1 1/2 yd"
///
/// [[fabric]]
/// letter = "B"
/// name = "morning sky"
/// colour = "#a5c2d6"
/// family = "sky"
/// directional = true            # optional: the print has an up and a down, and stands upright in fillers
/// upright_in_triangles = true   # optional: in triangle units too, it and all prints of its family
/// fat_quarters = 2              # pieces of 18 by 22 in
/// oddments = [{ width = "7in", height = "12in", count = 1 }]
///
/// [[pack]]                      # squares shared out evenly, the first prints one more
/// size = "10in"
/// count = 5
/// prints = ["A", "B"]
///
/// [[unit]]                      # triangle units sewn already, finished size
/// finished = "6in"
/// fabrics = ["A", "B"]
/// count = 12
///
/// [[slice]]                     # strips that came off triangle units
/// from = "9in"                  # finished size of the whole unit
/// width = "2 1/2in"             # finished width of the strip
/// tip = "A"                     # the small triangle in the corner
/// rest = "B"
/// leans = "left"                # stood up with the tip on top: the corner that the tip is in
/// count = 3
///
/// [[filler]]                    # rectangles cut already, finished size
/// fabric = "B"
/// width = "4in"
/// height = "9in"
/// count = 2
/// # "##).unwrap();
/// # assert_eq!(stash.prints.len(), 2);
/// # assert_eq!(stash.prints[rowscape::fabric::Print(0)].supply.as_ref().unwrap().squares[1].count, 3);
/// ```
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stash {
    /// The fabrics with what there is of each, in the file's order.
    pub prints: Fabrics,
    /// What is sewn and cut already.
    pub hand: OnHand,
}

/// What is sewn and cut already.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct OnHand {
    /// Triangle units sewn already.
    pub units: Vec<UnitOnHand>,
    /// Strips that came off triangle units.
    pub slices: Vec<SliceOnHand>,
    /// Rectangles cut already.
    pub fillers: Vec<FillerOnHand>,
}

/// What there is of one fabric, as cut or bought.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Supply {
    /// Squares, those of packs last.
    pub squares: Vec<Squares>,
    /// Lengths of cloth.
    pub yardage: Vec<Yardage>,
    /// Pieces of 18 by 22 in.
    pub fat_quarters: u32,
    /// Other pieces.
    pub oddments: Vec<Oddment>,
}

/// Squares of one size.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Squares {
    /// Side as cut.
    pub size: Length,
    /// How many.
    pub count: u32,
}

/// A length of cloth.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Yardage {
    /// Usable width.
    pub width: Length,
    /// Length along the selvedge.
    pub length: Length,
}

/// Pieces of one size.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Oddment {
    /// Width across the print.
    pub width: Length,
    /// Height up the print.
    pub height: Length,
    /// How many.
    pub count: u32,
}

/// Triangle units sewn already.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct UnitOnHand {
    /// Finished side.
    pub finished: Length,
    /// The two fabrics.
    pub fabrics: [Print; 2],
    /// The corner that the first of them fills as a print in it stands upright; none where that is not known.
    pub stands: Option<Corner>,
    /// How many.
    pub count: u32,
}

/// Which way a slice leans: stood up with its tip on top, the corner that the tip is in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum Lean {
    /// The tip is in the upper left corner.
    Left,
    /// The tip is in the upper right corner.
    Right,
}

/// Strips that came off triangle units, all of one kind.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SliceOnHand {
    /// Finished side of the whole unit, which is the strip's finished length.
    pub from: Length,
    /// Finished width of the strip.
    pub width: Length,
    /// Fabric of the small triangle in the corner.
    pub tip: Print,
    /// Fabric of the rest.
    pub rest: Print,
    /// Which way it leans; turned it stays the same, mirrored it does not.
    pub leans: Lean,
    /// The corner that the tip is in as a print in it stands upright; none where that is not known.
    pub stands: Option<Corner>,
    /// How many.
    pub count: u32,
}

/// Rectangles cut already.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct FillerOnHand {
    /// Its fabric.
    pub fabric: Print,
    /// Finished width.
    pub width: Length,
    /// Finished height.
    pub height: Length,
    /// How many.
    pub count: u32,
}

impl Supply {
    /// Takes in as much more.
    pub fn add(&mut self, more: &Self) {
        self.squares.extend_from_slice(&more.squares);
        self.yardage.extend_from_slice(&more.yardage);
        self.oddments.extend_from_slice(&more.oddments);
        self.fat_quarters = self.fat_quarters.saturating_add(more.fat_quarters);
    }

    /// Squares by size, the largest first, each size once.
    pub fn sizes(&self) -> Vec<(Length, u32)> {
        let mut sums: BTreeMap<Length, u32> = BTreeMap::new();
        for Squares { size, count } in &self.squares {
            let sum = sums.entry(*size).or_default();
            *sum = sum.saturating_add(*count);
        }
        sums.into_iter().rev().collect()
    }

    /// The two sides of the largest sheet, if there is any.
    pub fn largest(&self) -> Option<[Length; 2]> {
        let sheets = self.sheets().filter(|sheet| sheet.count > 0).map(|sheet| [sheet.width, sheet.height]);
        sheets.max_by_key(|[one, other]| (i128::from(one.ticks()) * i128::from(other.ticks()), *one))
    }

    /// All cloth that there is: squares by size, then all that is not squares.
    pub fn sheets(&self) -> impl Iterator<Item = Oddment> {
        let squares = self.sizes().into_iter().map(|(side, count)| Oddment { width: side, height: side, count });
        squares.chain(self.pieces())
    }

    /// Lengths of cloth as pieces.
    pub fn lengths(&self) -> impl Iterator<Item = Oddment> {
        self.yardage.iter().map(|y| Oddment { width: y.width, height: y.length, count: 1 })
    }

    /// Fat quarters as they lie: wider than they are long.
    pub fn fat_quarters(&self) -> Option<Oddment> {
        let [height, width] = FAT_QUARTER;
        (self.fat_quarters > 0).then_some(Oddment { width, height, count: self.fat_quarters })
    }

    /// Lengths, fat quarters and oddments: all cloth that is not squares.
    pub fn pieces(&self) -> Vec<Oddment> {
        self.lengths().chain(self.fat_quarters()).chain(self.oddments.iter().copied()).collect()
    }
}

impl UnitOnHand {
    /// Whether both are of one size and the same two fabrics.
    pub fn same(&self, other: &Self) -> bool {
        let ([one, two], stands) = (other.fabrics, other.stands);
        let ways = [([one, two], stands), ([two, one], stands.map(Corner::opposite))];
        self.finished == other.finished && ways.contains(&(self.fabrics, self.stands))
    }
}

impl SliceOnHand {
    /// Whether only their counts may differ.
    pub fn same(&self, other: &Self) -> bool {
        Self { count: 0, ..*self } == Self { count: 0, ..*other }
    }
}

impl FillerOnHand {
    /// Whether only their counts may differ.
    pub fn same(&self, other: &Self) -> bool {
        Self { count: 0, ..*self } == Self { count: 0, ..*other }
    }
}

impl OnHand {
    /// Whether there is nothing at all.
    pub fn is_empty(&self) -> bool {
        let counts = self.units.iter().map(|unit| unit.count).chain(self.slices.iter().map(|slice| slice.count));
        counts.chain(self.fillers.iter().map(|filler| filler.count)).all(|count| count == 0)
    }

    /// What is all of the fabrics `taken`, which are numbered anew in that order.
    pub fn of(&self, taken: &[Print]) -> Self {
        let place = |print: Print| taken.iter().position(|&other| other == print).map(Print);
        let unit = |unit: &UnitOnHand| {
            Some(UnitOnHand { fabrics: [place(unit.fabrics[0])?, place(unit.fabrics[1])?], ..*unit })
        };
        let slice =
            |slice: &SliceOnHand| Some(SliceOnHand { tip: place(slice.tip)?, rest: place(slice.rest)?, ..*slice });
        Self {
            units: self.units.iter().filter_map(unit).collect(),
            slices: self.slices.iter().filter_map(slice).collect(),
            fillers: self
                .fillers
                .iter()
                .filter_map(|f| Some(FillerOnHand { fabric: place(f.fabric)?, ..*f }))
                .collect(),
        }
    }
}

impl Stash {
    /// Most fabrics in a stash.
    pub const MOST_FABRICS: usize = 400;
    /// Most pieces that one count may say.
    pub const MOST_PIECES: u32 = 100_000;
    /// Most entries in one list of the file.
    pub const MOST_ENTRIES: usize = 200;
    /// Most characters in a name.
    pub const MOST_CHARACTERS: usize = 60;
    /// Most bytes in a file.
    pub const MOST_BYTES: usize = 8 << 20;
    /// The longest length.
    pub const LONGEST: Length = Length::from_ticks(Length::METRE.ticks() * 50);

    /// Lets every print with an up and a down stand upright in triangle units too; whether there is one.
    pub(crate) fn stand_upright(&mut self) -> bool {
        self.prints.iter_mut().for_each(|print| print.upright |= print.directional);
        stand_together(&mut self.prints);
        self.prints.iter().any(|print| print.upright)
    }

    /// Forgets the corner that a piece on hand stands in, where no print of it has to stand.
    pub(crate) fn turn_the_rest(&mut self) {
        let upright = |print: Print| self.prints[print].upright;
        for unit in &mut self.hand.units {
            unit.stands = unit.stands.filter(|_| unit.fabrics.into_iter().any(upright));
        }
        for slice in &mut self.hand.slices {
            slice.stands = slice.stands.filter(|_| upright(slice.tip) || upright(slice.rest));
        }
    }

    /// The fabrics as a plan holds them, in the file's order.
    pub fn fabrics(&self) -> Fabrics {
        self.prints.clone()
    }
}
