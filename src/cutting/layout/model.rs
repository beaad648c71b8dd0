//! What is asked of a cutting layout, and what it answers.

use crate::measure::{Length, ShopCuts};

/// Pieces of one size to cut.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PieceToCut {
    /// What the maker calls it, such as `F2`.
    pub id: String,
    /// Along the strip.
    pub width: Length,
    /// Across the strip, along the cloth's length.
    pub height: Length,
    /// How many.
    pub count: u32,
    /// Whether it may be turned by a quarter; not where a print has a direction.
    pub turn: bool,
}

impl PieceToCut {
    /// Area in square ticks.
    pub fn area(&self) -> i128 {
        i128::from(self.width.ticks()) * i128::from(self.height.ticks())
    }
}

/// Cloth of one size to cut from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sheet {
    /// What the maker calls it, such as `fat quarter`.
    pub id: String,
    /// Usable width.
    pub width: Length,
    /// Length; none for yardage to buy, which is as long as it needs to be.
    pub height: Option<Length>,
    /// How many; yardage to buy counts once.
    pub count: u32,
}

/// How every piece is cut.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Layout {
    /// Sheets that are cut, in the order of the sheets given.
    pub sheets: Vec<SheetLayout>,
    /// Pieces that found no room, in the order of the pieces given.
    pub unplaced: Vec<Unplaced>,
}

/// How one sheet is cut.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SheetLayout {
    /// The sheet, by index.
    pub sheet: usize,
    /// Which one of its count, from 0.
    pub copy: u32,
    /// Whether it is turned by a quarter before it is cut.
    pub turned: bool,
    /// Width as it lies.
    pub width: Length,
    /// Length as it lies; none for yardage to buy.
    pub height: Option<Length>,
    /// Strips from the top, widest cut first.
    pub strips: Vec<StripCut>,
    /// Length that the strips take.
    pub used_length: Length,
    /// Least length that any layout of two stages takes for these pieces; zero where none was worked out.
    pub bound: Length,
}

/// One strip across the whole width.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StripCut {
    /// Where it begins, from the top.
    pub at: Length,
    /// How wide the maker cuts it.
    pub height: Length,
    /// Pieces from the left.
    pub cuts: Vec<PieceAt>,
}

/// One piece in its strip; where it is lower than the strip, it is trimmed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PieceAt {
    /// The piece, by index.
    pub piece: usize,
    /// Where it begins, from the left.
    pub at: Length,
    /// Size along the strip.
    pub width: Length,
    /// Size across the strip.
    pub height: Length,
    /// Whether its width and height change places as the sheet lies.
    pub turned: bool,
}

/// A rectangle of cloth that stays whole.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Remain {
    /// From the left.
    pub left: Length,
    /// From the top.
    pub top: Length,
    /// Size from left to right.
    pub width: Length,
    /// Size from top to bottom.
    pub height: Length,
}

/// How long a layout is looked for, in steps and not by the clock, so that it stays the same.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum LayoutEffort {
    /// For one order that is cut once.
    #[default]
    Thorough,
    /// For a scene's every fabric.
    Quick,
}

impl LayoutEffort {
    /// Steps of work that one look for a layout may take.
    pub(super) fn steps(self) -> usize {
        match self {
            Self::Thorough => 300_000_000,
            Self::Quick => 15_000_000,
        }
    }
}

/// Pieces that found no room.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Unplaced {
    /// The piece, by index.
    pub piece: usize,
    /// How many of it.
    pub count: u32,
}

/// Why pieces cannot be laid out.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum LayoutError {
    /// A side is not between nothing and a kilometre.
    #[error("{id} measures {width} by {height}: give it a width and a height of more than 0 and at most 1 km")]
    Size {
        /// What it is called.
        id: String,
        /// Its width.
        width: Length,
        /// Its height.
        height: Length,
    },
    /// More pieces than are laid out at once.
    #[error("{asked} pieces are more than are laid out at once: ask for at most {most}, fabric by fabric")]
    Pieces {
        /// How many were asked for.
        asked: u64,
        /// The most.
        most: u64,
    },
    /// More sizes than are laid out at once.
    #[error("{asked} sizes of pieces and of cloth are more than are laid out at once: ask for at most {most}")]
    Sizes {
        /// How many were asked for.
        asked: usize,
        /// The most.
        most: usize,
    },
}

impl SheetLayout {
    /// Yardage to buy, rounded up to what the shop cuts.
    pub fn to_buy(&self, cuts: ShopCuts) -> Length {
        cuts.round_up(self.used_length)
    }

    /// How many of each piece it gives, by index.
    pub fn counts(&self) -> std::collections::BTreeMap<usize, u32> {
        let mut counts = std::collections::BTreeMap::new();
        for cut in self.strips.iter().flat_map(|strip| &strip.cuts) {
            *counts.entry(cut.piece).or_default() += 1;
        }
        counts
    }

    /// Rectangles that stay whole once it is cut, largest first.
    ///
    /// Each has both sides of at least `least`. The rest of the length comes whole, then the end of each strip,
    /// then what is trimmed off a piece that is lower than its strip.
    pub fn remains(&self, least: Length) -> Vec<Remain> {
        let (zero, used) = (Length::ZERO, self.used_length);
        let rest = self.height.map(|height| Remain { left: zero, top: used, width: self.width, height: height - used });
        let strips = self.strips.iter().flat_map(|strip| strip.remains(self.width));
        let whole = |remain: &Remain| remain.width.min(remain.height) >= least.max(Length::from_ticks(1));
        let mut remains: Vec<Remain> = rest.into_iter().chain(strips).filter(whole).collect();
        remains.sort_by_key(|remain| (std::cmp::Reverse(remain.area()), remain.top, remain.left));
        remains
    }
}

impl StripCut {
    fn remains(&self, width: Length) -> Vec<Remain> {
        let end = self.cuts.last().map_or(Length::ZERO, |cut| cut.at + cut.width);
        let tail = Remain { left: end, top: self.at, width: width - end, height: self.height };
        let trim = |cut: &PieceAt| Remain {
            left: cut.at,
            top: self.at + cut.height,
            width: cut.width,
            height: self.height - cut.height,
        };
        std::iter::once(tail).chain(self.cuts.iter().map(trim)).collect()
    }
}

impl Remain {
    /// Area in square ticks.
    pub fn area(&self) -> i128 {
        i128::from(self.width.ticks()) * i128::from(self.height.ticks())
    }
}
