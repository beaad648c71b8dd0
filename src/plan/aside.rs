//! Pieces on hand that a request leaves aside, and what would use them.

use std::collections::BTreeMap;

use super::{Request, RowEnds};
use crate::fabric::OnHand;
use crate::measure::Length;
use crate::unit::{AtATime, Vocabulary};

/// One sentence for each size that no scene of this request uses; sizes from small to large.
pub fn left_aside(hand: &OnHand, request: &Request) -> Vec<String> {
    let made = Vocabulary::new(&request.squares, request.seam, request.grid, &request.strips, request.least);
    let Ok(vocabulary) = made else { return Vec::new() };
    let units = hand.units.iter().map(|unit| (unit.finished, unit.count));
    let units = counts(units).into_iter().filter_map(|(side, count)| unit(request, &vocabulary, side, count));
    let slices = hand.slices.iter().map(|slice| ((slice.from, slice.width), slice.count));
    let slices = counts(slices).into_iter().filter_map(|(size, count)| slice(request, &vocabulary, size, count));
    let fillers = hand.fillers.iter().map(|f| ((f.width.min(f.height), f.width.max(f.height)), f.count));
    let fillers = counts(fillers).into_iter().filter_map(|(size, count)| filler(request, size, count));
    units.chain(slices).chain(fillers).collect()
}

fn counts<K: Ord>(pieces: impl Iterator<Item = (K, u32)>) -> BTreeMap<K, u64> {
    let mut counts = BTreeMap::new();
    for (key, count) in pieces.filter(|piece| piece.1 > 0) {
        *counts.entry(key).or_default() += u64::from(count);
    }
    counts
}

fn unit(request: &Request, vocabulary: &Vocabulary, side: Length, count: u64) -> Option<String> {
    let given = vocabulary.blocks.iter().any(|block| block.finished == side);
    let what = format!("{} of {}", counted(count, "unit"), request.ruler.show(side));
    (!given).then(|| aside(request, &what, count, &[side], &ungiven(request, side)))
}

fn slice(request: &Request, vocabulary: &Vocabulary, (from, width): (Length, Length), count: u64) -> Option<String> {
    let blocks = || vocabulary.blocks.iter().filter(|block| block.finished == from);
    if blocks().flat_map(|block| &block.slices).any(|strip| strip.finished == width) {
        return None;
    }
    let what = format!("{} of {} x {}", counted(count, "strip"), request.ruler.number(width), request.ruler.show(from));
    let why = match blocks().next() {
        None => ungiven(request, from),
        Some(_) if width < request.least => narrow(request),
        Some(_) => {
            let cut = request.ruler.show(width + request.seam.both());
            format!("no strip asked for gives that width, a strip of {cut} (`--strips`) would")
        }
    };
    Some(aside(request, &what, count, &[from, width], &why))
}

fn filler(request: &Request, (short, long): (Length, Length), count: u64) -> Option<String> {
    let what =
        format!("{} of {} x {}", counted(count, "filler"), request.ruler.number(short), request.ruler.show(long));
    let on_grid = [short, long].iter().all(|side| side.is_multiple_of(request.grid));
    let why = match request.row_ends {
        RowEnds::Spare => "with spare row ends every filler is cut anew".into(),
        RowEnds::Exact if on_grid && short >= request.least => return None,
        RowEnds::Exact => narrow(request),
    };
    Some(aside(request, &what, count, &[short, long], &why))
}

fn narrow(request: &Request) -> String {
    format!("the narrowest piece is {} (`--least`)", request.ruler.show(request.least))
}

/// Which square would give units of a size.
fn ungiven(request: &Request, side: Length) -> String {
    let none = "the squares asked for give no unit of that size";
    let gives = |cut: &Length| AtATime::Two.finished(*cut, request.seam.working, request.grid) == side;
    let coarse = if request.ruler == crate::measure::Ruler::Metric { Length::CM } else { Length::INCH };
    let tried = [coarse, request.grid].into_iter().flat_map(|step| {
        let first = side.floor_div(step);
        (first..first.saturating_add(MOST_STEPS)).map(move |steps| step * steps)
    });
    match tried.into_iter().find(gives) {
        Some(cut) => format!("{none}, squares of {} two at a time would (`--square`)", request.ruler.show(cut)),
        None => none.into(),
    }
}

/// A square is never so many steps larger than its unit.
const MOST_STEPS: i64 = 24;

fn aside(request: &Request, what: &str, count: u64, sides: &[Length], why: &str) -> String {
    let are = if count == 1 { "is" } else { "are" };
    let off = sides.iter().find(|side| !side.is_multiple_of(request.grid));
    let grid = off.map(|off| {
        format!("{} is not on the grid of {} (`--grid`)", request.ruler.show(*off), request.ruler.show(request.grid))
    });
    format!("{what} on hand {are} left aside: {}", grid.as_deref().unwrap_or(why))
}

fn counted(count: u64, what: &str) -> String {
    if count == 1 { format!("1 {what}") } else { format!("{count} {what}s") }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fabric::{FillerOnHand, Lean, Print, SliceOnHand, UnitOnHand};
    use crate::measure::Ruler;

    fn hand(units: &[i64], slices: &[(i64, i64)], fillers: &[(i64, i64)]) -> OnHand {
        let halves = |n: i64| Length::inches(n, 2);
        let unit = |&n: &i64| UnitOnHand { finished: halves(n), fabrics: [Print(0), Print(1)], count: 3 };
        let slice = |&(from, width): &(i64, i64)| SliceOnHand {
            from: halves(from),
            width: halves(width),
            tip: Print(0),
            rest: Print(1),
            leans: Lean::Left,
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
        assert_eq!(left_aside(&hand(&[18, 12, 8], &[(18, 5), (12, 3)], &[(4, 12)]), &asked), [""; 0]);
    }

    #[test]
    fn what_is_left_aside_is_told_with_what_would_use_it() {
        let asked = Request::usual(Ruler::Inch);
        let told = |hand: &OnHand| left_aside(hand, &asked);
        // A square of 8 in sewn two at a time is 7 5/8 in across before trimming, so it finishes at 7 in.
        assert_eq!(
            told(&hand(&[14, 14], &[], &[])),
            [
                "6 units of 7 in on hand are left aside: the squares asked for give no unit of that size, squares of 8 in two at a time would (`--square`)"
            ]
        );
        assert_eq!(
            told(&hand(&[], &[(18, 4)], &[])),
            [
                "1 strip of 2 x 9 in on hand is left aside: no strip asked for gives that width, a strip of 2 1/2 in (`--strips`) would"
            ]
        );
        assert_eq!(
            told(&hand(&[], &[], &[(1, 9)])),
            ["2 fillers of 1/2 x 4 1/2 in on hand are left aside: the narrowest piece is 1 in (`--least`)"]
        );
        let off = OnHand {
            units: vec![UnitOnHand { finished: Length::inches(17, 4), fabrics: [Print(0), Print(1)], count: 1 }],
            ..OnHand::default()
        };
        assert_eq!(
            told(&off),
            ["1 unit of 4 1/4 in on hand is left aside: 4 1/4 in is not on the grid of 1/2 in (`--grid`)"]
        );
    }

    /// Every size up to 24 in is given by the square that the note names.
    #[test]
    fn the_square_named_gives_the_size() {
        let asked = Request::usual(Ruler::Inch);
        for halves in 2..48 {
            let side = Length::inches(halves, 2);
            let why = ungiven(&asked, side);
            let cut: Length = why.split("squares of ").nth(1).unwrap().split(" two").next().unwrap().parse().unwrap();
            assert_eq!(AtATime::Two.finished(cut, asked.seam.working, asked.grid), side, "{why}");
        }
    }
}
