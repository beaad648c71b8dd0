//! What to buy of each fabric, and what is taken of a stash.

use std::cmp::Reverse;
use std::collections::BTreeMap;

use super::Work;
use crate::cutting::SheetKind;
use crate::fabric::Print;
use crate::measure::{Length, pieces_from_cloth};
use crate::plan::Request;

/// What to buy of one fabric.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ToBuy {
    /// Fabric.
    pub fabric: Print,
    /// Squares, the largest first.
    pub squares: Vec<SquaresToBuy>,
    /// A length of cloth.
    pub length: Option<LengthToBuy>,
}

/// Squares of one size.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SquaresToBuy {
    /// Side as bought.
    pub side: Length,
    /// Squares that are cut.
    pub needed: u32,
    /// The same with the maker's margin.
    pub buy: u32,
    /// The length to buy instead, for who cuts them herself: none where the cloth is narrower.
    pub yardage: Option<Length>,
}

/// A length off the bolt.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LengthToBuy {
    /// Usable width.
    pub width: Length,
    /// The length that strips take.
    pub needed: Length,
    /// The same and what straightens its end, with the maker's margin, rounded up to what a shop cuts.
    pub buy: Length,
}

/// Sheets of one kind and size that are taken of the stash.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Taken {
    /// Fabric.
    pub fabric: Print,
    /// What they are.
    pub kind: SheetKind,
    /// Width across the print.
    pub width: Length,
    /// Height up the print.
    pub height: Length,
    /// How many are cut.
    pub count: u32,
    /// The length that strips take, of all of them.
    pub used: Length,
}

impl Work {
    /// What to buy of each fabric that is not of the stash.
    pub fn shopping(&self, request: &Request) -> Vec<ToBuy> {
        let fabrics = self.cloth.keys().map(|fabric| self.to_buy(fabric, request));
        fabrics.filter(|to_buy| !to_buy.squares.is_empty() || to_buy.length.is_some()).collect()
    }

    fn to_buy(&self, fabric: Print, request: &Request) -> ToBuy {
        let sheets = || self.cloth[fabric].sheets.iter();
        let mut squares: BTreeMap<Reverse<Length>, u32> = BTreeMap::new();
        for sheet in sheets().filter(|sheet| sheet.kind == SheetKind::BoughtSquare) {
            *squares.entry(Reverse(sheet.layout.width)).or_default() += sheet.count;
        }
        let squares = squares.into_iter().map(|(side, needed)| SquaresToBuy {
            side: side.0,
            needed,
            buy: u32::try_from(request.over(needed.into())).unwrap_or(u32::MAX),
            yardage: pieces_from_cloth(needed.into(), side.0, side.0, request.cloth_width)
                .map(|strips| request.to_shop(strips.length)),
        });
        let lengths = sheets().filter(|sheet| sheet.kind == SheetKind::BoughtLength);
        let needed: Length = lengths.map(|sheet| sheet.layout.used_length).sum();
        let length = LengthToBuy { width: request.cloth_width, needed, buy: request.to_shop(needed) };
        ToBuy { fabric, squares: squares.collect(), length: Some(length).filter(|_| needed > Length::ZERO) }
    }

    /// What is taken of the stash, by fabric and then as its cloth is listed: sheets of one size together, but lengths.
    pub fn taken(&self) -> Vec<Taken> {
        let mut all: Vec<Taken> = Vec::new();
        for (fabric, cut) in self.cloth.iter_enumerated() {
            let of_stash = |kind: SheetKind| !kind.is_bought();
            let listed = |taken: &Taken| {
                let size = (taken.width, Some(taken.height));
                cut.cloth.iter().position(|bin| (bin.kind, (bin.sheet.width, bin.sheet.height)) == (taken.kind, size))
            };
            let mut taken: Vec<Taken> = Vec::new();
            for sheet in cut.sheets.iter().filter(|sheet| of_stash(sheet.kind)) {
                let ((width, height), used) = (sheet.size(), sheet.layout.used_length * sheet.count);
                let one = Taken { fabric, kind: sheet.kind, width, height, count: sheet.count, used };
                let alike = |other: &&mut Taken| {
                    (other.kind, other.width, other.height) == (one.kind, width, height)
                        && one.kind != SheetKind::Length
                };
                match taken.iter_mut().find(alike) {
                    Some(sum) => (sum.count, sum.used) = (sum.count + one.count, sum.used + used),
                    None => taken.push(one),
                }
            }
            taken.sort_by_key(|taken| (taken.kind, listed(taken), taken.used));
            all.extend(taken);
        }
        all
    }
}
