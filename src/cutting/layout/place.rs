//! From what each strip holds to where each piece lies.

use super::build::Pattern;
use super::model::{PieceAt, PieceToCut, StripCut};
use super::order::{Kind, Order};
use crate::measure::Length;

/// Pieces by kind: whose they are, and how many of each are still to be placed.
pub(super) struct Owners {
    pub kinds: Vec<Kind>,
    owners: Vec<Vec<(usize, u32)>>,
}

impl Owners {
    /// Pieces of the same size together, in the order of their sizes.
    pub fn new(pieces: &[PieceToCut]) -> Self {
        let mut sizes = std::collections::BTreeMap::<Kind, Vec<(usize, u32)>>::new();
        for (index, piece) in pieces.iter().enumerate().filter(|(_, piece)| piece.count > 0) {
            let (width, height) = (piece.width.ticks(), piece.height.ticks());
            let kind = match piece.turn {
                true => Kind { width: width.max(height), height: width.min(height), turn: width != height },
                false => Kind { width, height, turn: false },
            };
            sizes.entry(kind).or_default().push((index, piece.count));
        }
        let (kinds, owners) = sizes.into_iter().unzip();
        Self { kinds, owners }
    }

    /// How many of each kind are still to be placed.
    pub fn counts(&self) -> Vec<i64> {
        self.owners.iter().map(|owners| owners.iter().map(|owner| i64::from(owner.1)).sum()).collect()
    }

    /// What is still to be placed, by piece.
    pub fn left(&self) -> Vec<(usize, u32)> {
        let mut left: Vec<_> = self.owners.iter().flatten().copied().filter(|owner| owner.1 > 0).collect();
        left.sort_unstable();
        left
    }

    fn take(&mut self, kind: usize) -> Option<usize> {
        let owner = self.owners.get_mut(kind)?.iter_mut().find(|owner| owner.1 > 0)?;
        owner.1 -= 1;
        Some(owner.0)
    }

    /// The strips of one sheet from the top: highest first, equal ones together.
    pub fn place(&mut self, pieces: &[PieceToCut], order: &Order, patterns: &[Pattern]) -> Vec<StripCut> {
        let mut strips: Vec<(i64, Vec<Lies>)> = patterns.iter().map(|pattern| lies(order, pattern)).collect();
        strips.sort_by(|one, other| other.cmp(one));
        let mut top = Length::ZERO;
        let mut placed = Vec::new();
        for (height, lies) in strips {
            let height = Length::from_ticks(height);
            placed.push(StripCut { at: top, height, cuts: self.cuts(pieces, &lies) });
            top += height;
        }
        placed
    }

    fn cuts(&mut self, pieces: &[PieceToCut], lies: &[Lies]) -> Vec<PieceAt> {
        let mut left = Length::ZERO;
        let mut cuts = Vec::new();
        for &(height, width, kind) in lies {
            let (width, height) = (Length::from_ticks(width), Length::from_ticks(height));
            let Some(piece) = self.take(kind) else { continue };
            let turned = pieces.get(piece).is_some_and(|piece| piece.width != width);
            cuts.push(PieceAt { piece, at: left, width, height, turned });
            left += width;
        }
        cuts
    }
}

/// Height, width and kind of one piece in its strip.
type Lies = (i64, i64, usize);

/// A strip's height and its pieces, highest first.
fn lies(order: &Order, pattern: &Pattern) -> (i64, Vec<Lies>) {
    let piece = |&(kind, count): &(usize, i64)| {
        let (width, height) = order.way(pattern.height, kind).unwrap_or_default();
        std::iter::repeat_n((height, width, kind), usize::try_from(count).unwrap_or(0))
    };
    let mut lies: Vec<Lies> = pattern.cuts.iter().flat_map(piece).collect();
    lies.sort_unstable_by(|one, other| other.cmp(one));
    (order.height(pattern.height), lies)
}
