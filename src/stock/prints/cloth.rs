//! The cloth of one print as squares for pairs are cut off it, all sizes from the same sheets.
//!
//! Every sheet is cut into strips across its width, as `cutting::layout` cuts it: a square takes its side of a strip that
//! is as high or higher, or else begins a strip. A sheet gives as many squares of one size whichever way it lies, so
//! that here it lies as the stash lists it.

#[cfg(test)]
mod tests;

use crate::fabric::Supply;
use crate::measure::Length;
use crate::unit::Square;

/// Squares of each size where cloth is free.
const PLENTY: u32 = u32::MAX / 8;

/// Sheets of one print, by size.
pub(super) struct Cloth {
    piles: Vec<Pile>,
}

/// Sheets of one size.
struct Pile {
    width: Length,
    height: Length,
    /// Sheets that nothing is cut off.
    whole: u32,
    /// Whether they are squares that are there.
    precut: bool,
    opened: Vec<Sheet>,
}

/// A sheet that squares were cut off.
struct Sheet {
    strips: Vec<Strip>,
    /// Length below its strips.
    rest: Length,
}

/// A strip across a sheet.
struct Strip {
    height: Length,
    /// Width beside its squares.
    rest: Length,
}

impl Cloth {
    /// What a print has; without a supply plenty of squares of these sides.
    pub fn new(supply: Option<&Supply>, sides: &[Length]) -> Self {
        let square = |(side, whole): (Length, u32)| Pile::new([side, side], whole, true);
        let Some(supply) = supply else {
            return Self { piles: sides.iter().map(|&side| square((side, PLENTY))).collect() };
        };
        let pieces = supply.pieces().into_iter();
        let pieces = pieces.map(|piece| Pile::new([piece.width, piece.height], piece.count, false));
        Self { piles: supply.sizes().into_iter().map(square).chain(pieces).collect() }
    }

    /// How many more squares of this side it could give.
    pub fn left(&self, side: Length) -> u64 {
        self.piles.iter().map(|pile| pile.left(side)).fold(0, u64::saturating_add)
    }

    /// Whether a square of this side comes off a square that was opened before.
    pub fn has_opened(&self, side: Length) -> bool {
        let mut squares = self.piles.iter().filter(|pile| pile.precut);
        squares.any(|pile| pile.opened.iter().any(|sheet| sheet.left(side, pile.width) > 0))
    }

    /// Takes one square; `false` where there is no room for it.
    ///
    /// A square that is there at its side comes first, then room that is open already, the least of it that serves.
    pub fn take(&mut self, square: Square) -> bool {
        let side = square.cut;
        !square.quartered && self.take_whole(side)
            || self.take_from_strip(side)
            || self.begin_strip(side)
            || self.open(square)
    }

    fn take_whole(&mut self, side: Length) -> bool {
        let pile = self.piles.iter_mut().find(|pile| pile.precut && pile.width == side && pile.whole > 0);
        pile.map(|pile| pile.whole -= 1).is_some()
    }

    fn take_from_strip(&mut self, side: Length) -> bool {
        let sheets = self.piles.iter_mut().flat_map(|pile| &mut pile.opened);
        let strips = sheets.flat_map(|sheet| &mut sheet.strips);
        let fits = strips.filter(|strip| strip.height >= side && strip.rest >= side);
        fits.min_by_key(|strip| (strip.height, strip.rest)).map(|strip| strip.rest = strip.rest - side).is_some()
    }

    fn begin_strip(&mut self, side: Length) -> bool {
        let wide = self.piles.iter_mut().filter(|pile| pile.width >= side);
        let sheets = wide.flat_map(|pile| pile.opened.iter_mut().map(|sheet| (pile.width, sheet)));
        let fits = sheets.filter(|(_, sheet)| sheet.rest >= side);
        fits.min_by_key(|(_, sheet)| sheet.rest).map(|(width, sheet)| sheet.begin(side, width)).is_some()
    }

    /// Opens a sheet: for quarters a square of twice their side, else the smallest.
    fn open(&mut self, square: Square) -> bool {
        let side = square.cut;
        let fits = self.piles.iter_mut().filter(|pile| pile.whole > 0 && pile.width.min(pile.height) >= side);
        let rank = |pile: &&mut Pile| (!(pile.precut && pile.width == square.bought()), pile.area());
        let Some(pile) = fits.min_by_key(rank) else { return false };
        pile.whole -= 1;
        let mut sheet = Sheet { strips: Vec::new(), rest: pile.height };
        sheet.begin(side, pile.width);
        pile.opened.push(sheet);
        true
    }
}

impl Pile {
    fn new([width, height]: [Length; 2], whole: u32, precut: bool) -> Self {
        Self { width, height, whole, precut, opened: Vec::new() }
    }

    fn area(&self) -> i128 {
        i128::from(self.width.ticks()) * i128::from(self.height.ticks())
    }

    fn left(&self, side: Length) -> u64 {
        let each = squares(self.width, side).saturating_mul(squares(self.height, side));
        let opened = self.opened.iter().map(|sheet| sheet.left(side, self.width));
        opened.fold(each.saturating_mul(self.whole.into()), u64::saturating_add)
    }
}

impl Sheet {
    /// Begins a strip with a square, across a sheet of this width.
    fn begin(&mut self, side: Length, width: Length) {
        self.rest = self.rest - side;
        self.strips.push(Strip { height: side, rest: width - side });
    }

    fn left(&self, side: Length, width: Length) -> u64 {
        let strips = self.strips.iter().filter(|strip| strip.height >= side);
        let more = squares(self.rest, side).saturating_mul(squares(width, side));
        strips.map(|strip| squares(strip.rest, side)).fold(more, u64::saturating_add)
    }
}

/// Squares side by side along a length.
fn squares(along: Length, side: Length) -> u64 {
    u64::try_from(along.floor_div(side)).unwrap_or(0)
}
