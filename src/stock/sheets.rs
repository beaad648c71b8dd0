//! What cloth suffices for while a scene is sought: how much there is, how many squares or fillers it gives, and what is
//! left once some are cut off.
//!
//! Every sheet is cut into strips across its width, as `cutting::layout` cuts it: a piece comes off a strip that is as
//! high or higher, or else begins a strip. A sheet gives as many squares of one size whichever way it lies, so that
//! here it lies as the stash lists it.

#[cfg(test)]
mod tests;

use crate::fabric::Supply;
use crate::measure::Length;
use crate::unit::Square;

/// Sheets where cloth is free.
pub const PLENTY: u32 = u32::MAX / 8;

/// Sheets of one size, or what is left of one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Sheet {
    /// Its width.
    pub width: Length,
    /// Its height.
    pub height: Length,
    /// How many.
    pub count: u32,
    /// Whether it is a strip, which pieces come off beside each other, and none below.
    pub is_strip: bool,
}

impl Sheet {
    /// Cloth that nothing is cut off yet.
    pub fn whole(width: Length, height: Length, count: u32) -> Self {
        Self { width, height, count, is_strip: false }
    }

    /// What is left of one where a piece is cut off: of its strip, and of the sheet below that.
    pub fn cut(&self, width: Length, height: Length) -> (Self, Option<Self>) {
        let strip = if self.is_strip { self.height } else { height };
        let beside = Self { width: self.width - width, height: strip, count: 1, is_strip: true };
        let below = Self { height: self.height - strip, count: 1, ..*self };
        (beside, (!self.is_strip).then_some(below))
    }

    /// Squares of a side that they give.
    pub fn squares(&self, side: Length) -> u64 {
        let along = |length: Length| u64::try_from(length.floor_div(side)).unwrap_or(0);
        let down = if self.is_strip { u64::from(self.height >= side) } else { along(self.height) };
        along(self.width).saturating_mul(down).saturating_mul(self.count.into())
    }

    /// The share of one, in square ticks, that a piece has where it gives nothing else; none where it gives none.
    pub fn share(&self, [long, short]: [Length; 2]) -> Option<f64> {
        let ways = [[long, short], [short, long]].map(|[x, y]| self.width.floor_div(x) * self.height.floor_div(y));
        let most = ways[0].max(ways[1]);
        (most > 0).then(|| area(self.width, self.height) / most as f64)
    }

    fn order(&self) -> i128 {
        i128::from(self.width.ticks()) * i128::from(self.height.ticks())
    }
}

/// The sheets of one print, from which squares are taken one by one.
pub struct Sheets {
    piles: Vec<Pile>,
}

/// Sheets of one size.
struct Pile {
    whole: Sheet,
    /// Whether they are squares that are there.
    precut: bool,
    /// What is left of those that squares were cut off.
    opened: Vec<Sheet>,
}

impl Sheets {
    /// What a print has.
    pub fn of(supply: &Supply) -> Self {
        let square = |(side, count)| Pile::new(Sheet::whole(side, side, count), true);
        let pieces = supply.pieces().into_iter();
        let pieces = pieces.map(|piece| Pile::new(Sheet::whole(piece.width, piece.height, piece.count), false));
        Self { piles: supply.sizes().into_iter().map(square).chain(pieces).collect() }
    }

    /// Plenty of squares of these sides.
    pub fn plenty(sides: &[Length]) -> Self {
        Self { piles: sides.iter().map(|&side| Pile::new(Sheet::whole(side, side, PLENTY), true)).collect() }
    }

    /// Those that nothing is cut off.
    pub fn whole(&self) -> impl Iterator<Item = Sheet> {
        self.piles.iter().map(|pile| pile.whole)
    }

    /// All of those, in square ticks.
    pub fn area(&self) -> f64 {
        self.whole().map(|sheet| area(sheet.width, sheet.height) * f64::from(sheet.count)).sum()
    }

    /// How many more squares of this side they could give.
    pub fn left(&self, side: Length) -> u64 {
        self.piles.iter().map(|pile| pile.left(side)).fold(0, u64::saturating_add)
    }

    /// Whether a square of this side comes off a square that was opened before.
    pub fn has_opened(&self, side: Length) -> bool {
        let mut squares = self.piles.iter().filter(|pile| pile.precut);
        squares.any(|pile| pile.opened.iter().any(|sheet| sheet.squares(side) > 0))
    }

    /// Takes one square; `false` where there is no room for it.
    ///
    /// A square that is there at its side comes first, then room that is open already, the least of it that serves.
    pub fn take(&mut self, square: Square) -> bool {
        let side = square.cut;
        !square.quartered && self.take_whole(side)
            || self.take_opened(side, true, |strip| (strip.height, strip.width))
            || self.take_opened(side, false, |rest| (rest.height, Length::ZERO))
            || self.open(square)
    }

    fn take_whole(&mut self, side: Length) -> bool {
        let pile = self.piles.iter_mut().find(|pile| pile.precut && pile.whole.width == side && pile.whole.count > 0);
        pile.map(|pile| pile.whole.count -= 1).is_some()
    }

    /// Off an open strip, or in a strip more of an open sheet: of those that serve the one that ranks least.
    fn take_opened(&mut self, side: Length, strips: bool, rank: impl Fn(&Sheet) -> (Length, Length)) -> bool {
        let opened = self
            .piles
            .iter()
            .enumerate()
            .flat_map(|(pile, of)| of.opened.iter().enumerate().map(move |(at, sheet)| (pile, at, sheet)));
        let fits =
            opened.filter(|(_, _, sheet)| sheet.is_strip == strips && sheet.height >= side && sheet.width >= side);
        let Some((pile, at, _)) = fits.min_by_key(|(_, _, sheet)| rank(sheet)) else { return false };
        let sheet = self.piles[pile].opened.remove(at);
        self.piles[pile].cut(sheet, side);
        true
    }

    /// Opens a sheet: for quarters a square of twice their side, else the smallest.
    fn open(&mut self, square: Square) -> bool {
        let side = square.cut;
        let serves = |sheet: &Sheet| sheet.count > 0 && sheet.width.min(sheet.height) >= side;
        let rank = |pile: &&mut Pile| (!(pile.precut && pile.whole.width == square.bought()), pile.whole.order());
        let fits = self.piles.iter_mut().filter(|pile| serves(&pile.whole));
        let Some(pile) = fits.min_by_key(rank) else { return false };
        pile.whole.count -= 1;
        pile.cut(pile.whole, side);
        true
    }
}

impl Pile {
    fn new(whole: Sheet, precut: bool) -> Self {
        Self { whole, precut, opened: Vec::new() }
    }

    /// Cuts a square off one of the sheets and keeps what is left of that.
    fn cut(&mut self, sheet: Sheet, side: Length) {
        let (beside, below) = sheet.cut(side, side);
        self.opened.extend([Some(beside), below].into_iter().flatten());
    }

    fn left(&self, side: Length) -> u64 {
        self.opened.iter().map(|sheet| sheet.squares(side)).fold(self.whole.squares(side), u64::saturating_add)
    }
}

/// An area in square ticks.
pub fn area(width: Length, height: Length) -> f64 {
    width.ticks() as f64 * height.ticks() as f64
}
