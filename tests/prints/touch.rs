//! Which patches touch, every two sides tried, and how many of them show one print.

use rowscape::fabric::Print;
use rowscape::plan::{Piece, Placed, Plan};

use super::case::Case;

/// Patches of one family that share a part of a side, as unit and print's place in it; pairs of sides are all tried.
pub fn touching(case: &Case, placed: &[Placed]) -> Vec<[(usize, usize); 2]> {
    let mut found = Vec::new();
    for (u, one) in placed.iter().enumerate() {
        for (v, other) in placed.iter().enumerate().skip(u + 1) {
            let row = |p: &Placed| (p.address.band, p.address.column, p.address.row);
            let fillers = [one, other].iter().all(|p| matches!(p.unit.piece, Piece::Filler(_)));
            if fillers && row(one) == row(other) {
                continue;
            }
            for (i, a) in one.patches().iter().enumerate() {
                for (j, b) in other.patches().iter().enumerate() {
                    if case.family(a.fabric) == case.family(b.fabric) && sides_meet(&a.outline, &b.outline) {
                        found.push([(u, i), (v, j)]);
                    }
                }
            }
        }
    }
    found
}

type Corners = [(u32, u32)];

fn sides_meet(one: &Corners, other: &Corners) -> bool {
    fn sides(corners: &Corners) -> impl Iterator<Item = [(i64, i64); 2]> {
        let point = |(x, y): (u32, u32)| (i64::from(x), i64::from(y));
        (0..corners.len()).map(move |at| [point(corners[at]), point(corners[(at + 1) % corners.len()])])
    }
    sides(one).any(|[a, b]| {
        sides(other).any(|[c, d]| {
            let along = |p: (i64, i64)| (p.0 - a.0) * (b.0 - a.0) + (p.1 - a.1) * (b.1 - a.1);
            let across = |p: (i64, i64)| (p.0 - a.0) * (b.1 - a.1) - (p.1 - a.1) * (b.0 - a.0);
            let (from, to) = (along(c).min(along(d)), along(c).max(along(d)));
            across(c) == 0 && across(d) == 0 && from.max(0) < to.min(along(b))
        })
    })
}

pub fn prints_of(placed: &Placed) -> Vec<Print> {
    placed.unit.piece.fabrics().collect()
}

pub fn clashes(case: &Case, plan: &Plan) -> usize {
    let placed = plan.placed();
    let shown = |(unit, patch): (usize, usize)| prints_of(&placed[unit])[patch];
    touching(case, &placed).iter().filter(|[one, other]| shown(*one) == shown(*other)).count()
}
