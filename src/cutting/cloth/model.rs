//! What is cut of one fabric, and out of what.

use crate::cutting::layout::{PieceToCut, Sheet, SheetLayout, Unplaced};
use crate::fabric::{Fabric, Oddment, Supply};
use crate::measure::Length;
use crate::plan::Request;
use crate::unit::Square;

/// Where a fabric's cloth comes from.
#[derive(Clone, Copy, Debug)]
pub enum Cloth<'a> {
    /// What there is, and what comes off the end of each length to make it straight.
    Stash(&'a Supply, Length),
    /// Squares as large as they are paired; fillers from yardage, or from squares of a side where that is all.
    ToBuy {
        /// Usable width of the yardage.
        width: Length,
        /// Side of the squares that fillers are cut from.
        squares: Option<Length>,
        /// Whether the maker cuts the squares of pairs from yardage as well.
        own: bool,
        /// What is left of what was bought before, which is cut up first, and what comes off the end of each length.
        remnants: Option<(&'a Supply, Length)>,
    },
}

/// Squares of one fabric for pairs that are sewn alike.
#[derive(Clone, Debug)]
pub struct PairSquares {
    /// The pairs, such as `P3`.
    pub id: String,
    /// As paired.
    pub square: Square,
    /// How many.
    pub count: u32,
}

/// How one fabric is cut.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct FabricCut {
    /// What is cut: the squares of its pairs, then its fillers.
    pub pieces: Vec<PieceToCut>,
    /// How many of these are squares of pairs.
    pub squares: usize,
    /// The sheets that there are, or that may be bought.
    pub cloth: Vec<Bin>,
    /// The sheets that are cut.
    pub sheets: Vec<SheetCut>,
    /// What found no room.
    pub unplaced: Vec<Unplaced>,
}

/// Sheets of one size that are cut alike.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SheetCut {
    /// `A-1`, `A-2` and so on: the fabric's letter and a number.
    pub id: String,
    /// What it is.
    pub kind: SheetKind,
    /// How many are cut so.
    pub count: u32,
    /// Its strips and pieces.
    pub layout: SheetLayout,
}

/// What a sheet of cloth is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum SheetKind {
    /// A square of the stash.
    Square,
    /// A length of cloth of the stash.
    Length,
    /// A fat quarter of the stash.
    FatQuarter,
    /// An odd piece of the stash.
    Oddment,
    /// A square to buy.
    BoughtSquare,
    /// A length of cloth to buy, as long as it needs to be.
    BoughtLength,
}

/// Sheets of one size that there are.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Bin {
    /// What they are.
    pub kind: SheetKind,
    /// Their size and their number.
    pub sheet: Sheet,
}

impl<'a> Cloth<'a> {
    /// The fabric's stash, or what is to be bought of it.
    pub fn of(fabric: &'a Fabric, request: &Request) -> Self {
        match &fabric.supply {
            Some(supply) => Self::Stash(supply, request.end_cut()),
            None => Self::ToBuy {
                width: request.cloth_width,
                squares: fabric.only_squares,
                own: request.cut_squares,
                remnants: fabric.remnants.as_ref().map(|remnants| (remnants, request.end_cut())),
            },
        }
    }
}

impl SheetKind {
    /// The kind in words.
    pub fn words(self) -> &'static str {
        match self {
            Self::Square => "square",
            Self::Length => "length",
            Self::FatQuarter => "fat quarter",
            Self::Oddment => "oddment",
            Self::BoughtSquare => "bought square",
            Self::BoughtLength => "bought length",
        }
    }

    /// Whether it is yet to be bought.
    pub fn is_bought(self) -> bool {
        matches!(self, Self::BoughtSquare | Self::BoughtLength)
    }

    /// Whether it is a square, of the stash or to buy.
    pub fn is_square(self) -> bool {
        matches!(self, Self::Square | Self::BoughtSquare)
    }
}

impl SheetCut {
    /// Width and length as the sheet is before it is turned; a length to buy is as long as its strips.
    pub fn size(&self) -> (Length, Length) {
        let (width, height) = (self.layout.width, self.layout.height.unwrap_or(self.layout.used_length));
        if self.layout.turned { (height, width) } else { (width, height) }
    }

    /// Quarters left where it is a square that was quartered and no more.
    pub fn spare_quarters(&self) -> Option<u32> {
        let cuts = || self.layout.strips.iter().flat_map(|strip| &strip.cuts);
        let half = |side: Length| side + side == self.layout.width;
        let quartered = self.kind.is_square() && cuts().all(|cut| half(cut.width) && half(cut.height));
        let count = u32::try_from(cuts().count()).unwrap_or(4);
        (quartered && count < 4).then(|| 4 - count)
    }

    /// Whether it stays as it is: one piece of its own size.
    pub fn is_whole(&self) -> bool {
        let size = (self.layout.width, self.layout.height);
        matches!(self.layout.strips.as_slice(), [strip] if matches!(strip.cuts.as_slice(), [cut]
            if (cut.width, Some(cut.height)) == size))
    }
}

impl FabricCut {
    /// Numbers the sheets after the fabric's letter.
    pub fn name(&mut self, letter: &str) {
        for (number, sheet) in (1..).zip(&mut self.sheets) {
            sheet.id = format!("{letter}-{number}");
        }
    }

    /// The same with what is cut of more sheets: of the pieces that found no room here.
    pub(super) fn and(mut self, more: Self) -> Self {
        let sheets = more.sheets.into_iter().map(|mut sheet| {
            sheet.layout.sheet += self.cloth.len();
            sheet
        });
        self.sheets.extend(sheets);
        self.cloth.extend(more.cloth);
        Self { unplaced: more.unplaced, ..self }
    }

    /// How many of each piece found no room, in the order of the pieces.
    pub fn unplaced(&self) -> Vec<u32> {
        let mut counts = vec![0; self.pieces.len()];
        self.unplaced.iter().for_each(|left| counts[left.piece] += left.count);
        counts
    }

    /// Sheets that are cut, equal ones counted.
    pub fn count(&self) -> u64 {
        self.sheets.iter().map(|sheet| u64::from(sheet.count)).sum()
    }
}

impl Bin {
    /// Everything that there is of one fabric: squares from the largest, then the rest as the stash lists it.
    pub(super) fn of(supply: &Supply) -> Vec<Self> {
        let bin = |kind: SheetKind, piece: Oddment| Self::new(kind, piece.width, Some(piece.height), piece.count);
        let squares = supply.sizes().into_iter().map(|(size, count)| Self::square(SheetKind::Square, size, count));
        let lengths = supply.lengths().map(|piece| bin(SheetKind::Length, piece));
        let quarters = supply.fat_quarters().map(|piece| bin(SheetKind::FatQuarter, piece));
        let oddments = supply.oddments.iter().map(|&piece| bin(SheetKind::Oddment, piece));
        squares.chain(lengths).chain(quarters).chain(oddments).collect()
    }

    pub(super) fn new(kind: SheetKind, width: Length, height: Option<Length>, count: u32) -> Self {
        Self { kind, sheet: Sheet { id: format!("the {}", kind.words()), width, height, count } }
    }

    pub(super) fn square(kind: SheetKind, side: Length, count: u32) -> Self {
        Self::new(kind, side, Some(side), count)
    }
}
