//! Pieces on hand that a request leaves aside, and what would use them.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{Request, RowEnds};
use crate::fabric::{OnHand, Print};
use crate::measure::{Length, Ruler};
use crate::unit::{AtATime, Vocabulary};

/// Pieces of one size on hand that no scene of the request uses.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[cfg_attr(not(feature = "internals"), non_exhaustive)]
pub struct Unused {
    /// What they are.
    pub kind: UnusedKind,
    /// Finished sides, the shorter first; one where they are square.
    pub sides: Vec<Length>,
    /// How many.
    pub count: u64,
    /// Why they are left, and what would use them.
    pub why: UnusedWhy,
    /// The ruler of the request.
    pub ruler: Ruler,
}

/// A kind of piece on hand.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
#[non_exhaustive]
pub enum UnusedKind {
    /// A triangle unit.
    Unit,
    /// A strip off one.
    Strip,
    /// A filler.
    Filler,
}

/// Why a piece is left aside.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum UnusedWhy {
    /// A side is off the grid.
    OffGrid {
        /// The side.
        side: Length,
        /// The grid.
        grid: Length,
    },
    /// The squares give no unit of its size; squares of this side would, two at a time.
    NoUnit(Option<Length>),
    /// No strip that is asked for gives its width; a strip cut so wide would.
    NoStrip(Length),
    /// It is narrower than the narrowest piece.
    Narrow(Length),
    /// With spare row ends every filler is cut anew.
    SpareEnds,
    /// A print of it is to stand upright, and nothing says how it stands.
    NotStanding,
}

/// Every size that no scene of this request uses, from small to large; then pieces of prints that are to stand `upright`
/// of which nothing says how they do.
pub fn unused_on_hand(hand: &OnHand, upright: &dyn Fn(Print) -> bool, request: &Request) -> Vec<Unused> {
    let made = Vocabulary::new(&request.squares, request.seam, request.grid, &request.strips, request.least);
    let Ok(vocabulary) = made else { return Vec::new() };
    let units = hand.units.iter().map(|unit| (unit.finished, unit.count));
    let units = counts(units).into_iter().filter_map(|(side, count)| unit(request, &vocabulary, side, count));
    let slices = hand.slices.iter().map(|slice| ((slice.from, slice.width), slice.count));
    let slices = counts(slices).into_iter().filter_map(|(size, count)| slice(request, &vocabulary, size, count));
    let fillers = hand.fillers.iter().map(|f| ((f.width.min(f.height), f.width.max(f.height)), f.count));
    let fillers = counts(fillers).into_iter().filter_map(|(size, count)| filler(request, size, count));
    let mut unused: Vec<Unused> = units.chain(slices).chain(fillers).collect();
    unused.extend(not_standing(hand, upright, request));
    unused
}

fn not_standing(hand: &OnHand, upright: &dyn Fn(Print) -> bool, request: &Request) -> Vec<Unused> {
    let units = hand.units.iter().filter(|unit| unit.stands.is_none() && unit.fabrics.into_iter().any(upright));
    let units = counts(units.map(|unit| (vec![unit.finished], unit.count))).into_iter();
    let slices = hand.slices.iter().filter(|one| one.stands.is_none() && (upright(one.tip) || upright(one.rest)));
    let slices = counts(slices.map(|slice| (vec![slice.width, slice.from], slice.count))).into_iter();
    let kinds = units.map(|of| (UnusedKind::Unit, of)).chain(slices.map(|of| (UnusedKind::Strip, of)));
    kinds.map(|(kind, (sides, count))| unused(request, kind, sides, count, UnusedWhy::NotStanding)).collect()
}

fn counts<K: Ord>(pieces: impl Iterator<Item = (K, u32)>) -> BTreeMap<K, u64> {
    let mut counts = BTreeMap::new();
    for (key, count) in pieces.filter(|piece| piece.1 > 0) {
        *counts.entry(key).or_default() += u64::from(count);
    }
    counts
}

fn unit(request: &Request, vocabulary: &Vocabulary, side: Length, count: u64) -> Option<Unused> {
    let given = vocabulary.blocks.iter().any(|block| block.finished == side);
    (!given).then(|| unused(request, UnusedKind::Unit, vec![side], count, UnusedWhy::NoUnit(square_for(request, side))))
}

fn slice(request: &Request, vocabulary: &Vocabulary, (from, width): (Length, Length), count: u64) -> Option<Unused> {
    let blocks = || vocabulary.blocks.iter().filter(|block| block.finished == from);
    if blocks().flat_map(|block| &block.slices).any(|strip| strip.finished == width) {
        return None;
    }
    let why = match blocks().next() {
        None => UnusedWhy::NoUnit(square_for(request, from)),
        Some(_) if width < request.least => UnusedWhy::Narrow(request.least),
        Some(_) => UnusedWhy::NoStrip(width + request.seam.both()),
    };
    Some(unused(request, UnusedKind::Strip, vec![width, from], count, why))
}

fn filler(request: &Request, (short, long): (Length, Length), count: u64) -> Option<Unused> {
    let on_grid = [short, long].iter().all(|side| side.is_multiple_of(request.grid));
    let why = match request.row_ends {
        RowEnds::Spare => UnusedWhy::SpareEnds,
        RowEnds::Exact if on_grid && short >= request.least => return None,
        RowEnds::Exact => UnusedWhy::Narrow(request.least),
    };
    Some(unused(request, UnusedKind::Filler, vec![short, long], count, why))
}

/// The square that gives units of a size, two at a time.
fn square_for(request: &Request, side: Length) -> Option<Length> {
    let gives = |cut: &Length| AtATime::Two.finished(*cut, request.seam.working, request.grid) == side;
    let coarse = if request.ruler == Ruler::Metric { Length::CM } else { Length::INCH };
    let mut tried = [coarse, request.grid].into_iter().flat_map(|step| {
        let first = side.floor_div(step);
        (first..first.saturating_add(MOST_STEPS)).map(move |steps| step * steps)
    });
    tried.find(gives)
}

/// A square is never so many steps larger than its unit.
const MOST_STEPS: i64 = 24;

fn unused(request: &Request, kind: UnusedKind, sides: Vec<Length>, count: u64, why: UnusedWhy) -> Unused {
    let off = sides.iter().find(|side| !side.is_multiple_of(request.grid));
    let why = off.map_or(why, |side| UnusedWhy::OffGrid { side: *side, grid: request.grid });
    Unused { kind, sides, count, why, ruler: request.ruler }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fabric::{FillerOnHand, Lean, SliceOnHand, UnitOnHand};

    fn hand(units: &[i64], slices: &[(i64, i64)], fillers: &[(i64, i64)]) -> OnHand {
        let halves = |n: i64| Length::inches(n, 2);
        let unit = |&n: &i64| UnitOnHand { finished: halves(n), fabrics: [Print(0), Print(1)], stands: None, count: 3 };
        let slice = |&(from, width): &(i64, i64)| SliceOnHand {
            from: halves(from),
            width: halves(width),
            tip: Print(0),
            rest: Print(1),
            leans: Lean::Left,
            stands: None,
            count: 1,
        };
        let filler =
            |&(w, h): &(i64, i64)| FillerOnHand { fabric: Print(0), width: halves(w), height: halves(h), count: 2 };
        OnHand {
            units: units.iter().map(unit).collect(),
            slices: slices.iter().map(slice).collect(),
            fillers: fillers.iter().map(filler).collect(),
        }
    }

    /// Squares of 10 in give units of 9, 6 and 4 in, and strips of 1 1/2 and 2 1/2 in (README, "What the squares give").
    #[test]
    fn what_the_squares_give_is_used() {
        let asked = Request::usual(Ruler::Inch);
        assert_eq!(unused_on_hand(&hand(&[18, 12, 8], &[(18, 5), (12, 3)], &[(4, 12)]), &|_| false, &asked), []);
    }

    #[test]
    fn what_is_left_aside_is_found_with_what_would_use_it() {
        let asked = Request::usual(Ruler::Inch);
        let found = |hand: &OnHand| {
            let unused = unused_on_hand(hand, &|_| false, &asked);
            unused.into_iter().map(|unused| (unused.count, unused.sides.len(), unused.why)).collect::<Vec<_>>()
        };
        let square = UnusedWhy::NoUnit(Some(Length::INCH * 8i64));
        assert_eq!(found(&hand(&[14, 14], &[], &[])), [(6, 1, square)]);
        assert_eq!(found(&hand(&[], &[(18, 4)], &[])), [(1, 2, UnusedWhy::NoStrip(Length::inches(5, 2)))]);
        assert_eq!(found(&hand(&[], &[], &[(1, 9)])), [(2, 2, UnusedWhy::Narrow(Length::INCH))]);
        let side = Length::inches(17, 4);
        let off = OnHand {
            units: vec![UnitOnHand { finished: side, fabrics: [Print(0), Print(1)], stands: None, count: 1 }],
            ..OnHand::default()
        };
        assert_eq!(found(&off), [(1, 1, UnusedWhy::OffGrid { side, grid: asked.grid })]);
    }

    #[test]
    fn what_must_stand_and_does_not_say_how_is_left_aside() {
        let asked = Request::usual(Ruler::Inch);
        let mut hand = hand(&[18], &[(18, 5)], &[]);
        let found = |hand: &OnHand| {
            let unused = unused_on_hand(hand, &|print| print == Print(1), &asked);
            unused.into_iter().map(|unused| (unused.kind, unused.count, unused.why)).collect::<Vec<_>>()
        };
        let why = UnusedWhy::NotStanding;
        assert_eq!(found(&hand), [(UnusedKind::Unit, 3, why), (UnusedKind::Strip, 1, why)]);
        hand.units[0].stands = Some(crate::unit::Corner::UpperLeft);
        assert_eq!(found(&hand), [(UnusedKind::Strip, 1, why)]);
    }

    /// Every size up to 24 in is given by the square that the note names.
    #[test]
    fn the_square_named_gives_the_size() {
        let asked = Request::usual(Ruler::Inch);
        for halves in 2..48 {
            let side = Length::inches(halves, 2);
            let cut = square_for(&asked, side).unwrap();
            assert_eq!(AtATime::Two.finished(cut, asked.seam.working, asked.grid), side, "{cut}");
        }
    }
}
