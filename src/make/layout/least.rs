//! The fewest sheets that any layout can do with, two stages or not.

use super::model::Piece;
use super::order::Kind;
use super::place::Owners;
use crate::measure::Length;

/// The fewest sheets of `width` by `height` that can hold all `pieces`; none where a piece fits no sheet.
///
/// A side of a piece counts as its share of the sheet's side, as nothing where it is shorter than some length,
/// and as the whole side where it leaves less than that length. However the pieces lie, what counts of those on
/// one sheet is at most one sheet, so that the total bounds the number of sheets. All such lengths are tried.
pub fn least_sheets(pieces: &[Piece], width: Length, height: Length) -> Option<u64> {
    let (width, height) = (width.ticks(), height.ticks());
    let owners = Owners::new(pieces);
    let fits = |way: (i64, i64)| (way.0 <= width && way.1 <= height) || (way.0 <= height && way.1 <= width);
    if !owners.kinds.iter().all(|kind| fits((kind.width, kind.height))) {
        return None;
    }
    let counts = owners.counts();
    let (across, along) = (cuts(&owners.kinds, width), cuts(&owners.kinds, height));
    let pairs = across.iter().flat_map(|&x| along.iter().map(move |&y| (x, y)));
    let sheets = pairs.map(|(x, y)| {
        let counted = |kind: &Kind, count: &i64| count_of(*kind, (width, x), (height, y)) * i128::from(*count);
        let total: i128 = owners.kinds.iter().zip(&counts).map(|(kind, count)| counted(kind, count)).sum();
        let sheet = (i128::from(width) * i128::from(height)).max(1);
        u64::try_from((total + sheet - 1) / sheet).unwrap_or(u64::MAX)
    });
    sheets.max()
}

/// The lengths worth trying: no more than half the side.
fn cuts(kinds: &[Kind], side: i64) -> Vec<i64> {
    let sides = kinds.iter().flat_map(|kind| [kind.width, kind.height]);
    let mut cuts: Vec<i64> =
        sides.flat_map(|at| [at, side - at + 1]).filter(|&cut| 0 < cut && cut <= side / 2).collect();
    cuts.push(0);
    cuts.sort_unstable();
    cuts.dedup();
    cuts
}

/// What a kind counts for at least, as the sheet may lie either way.
fn count_of(kind: Kind, across: (i64, i64), along: (i64, i64)) -> i128 {
    let count = |(width, height): (i64, i64)| {
        let fits = width <= across.0 && height <= along.0;
        fits.then(|| side(width, across) * side(height, along))
    };
    [count((kind.width, kind.height)), count((kind.height, kind.width))].into_iter().flatten().min().unwrap_or(0)
}

fn side(piece: i64, (side, cut): (i64, i64)) -> i128 {
    i128::from(match piece {
        short if short < cut => 0,
        long if long > side - cut => side,
        between => between,
    })
}
