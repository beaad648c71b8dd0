//! Which patches touch: they share an edge of some length, corners apart.

use std::collections::BTreeMap;

use crate::plan::Placed;

/// Patches of a scene are numbered two a unit: its tip or the whole filler, then its rest.
pub const PATCHES: usize = 2;

/// A side of a patch along a line of the grid.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct Side {
    from: u32,
    to: u32,
    patch: usize,
}

/// Every two patches of different units that touch, by number.
///
/// Diagonal sides lie within a unit, so only those along the grid can meet another unit's. Outlines run clockwise, so
/// on every line those that run one way lie on one side of it, and meet none but those that run the other way.
pub fn touching(placed: &[Placed]) -> Vec<(usize, usize)> {
    let mut lines: BTreeMap<(bool, u32), [Vec<Side>; 2]> = BTreeMap::new();
    for (unit, placed) in placed.iter().enumerate() {
        for (part, patch) in placed.patches().iter().enumerate() {
            let next = patch.outline.iter().cycle().skip(1);
            for (&(x, y), &(then_x, then_y)) in patch.outline.iter().zip(next) {
                let (line, from, to) = match (x == then_x, y == then_y) {
                    (true, _) => ((true, x), y, then_y),
                    (_, true) => ((false, y), x, then_x),
                    _ => continue,
                };
                let side = Side { from: from.min(to), to: from.max(to), patch: unit * PATCHES + part };
                lines.entry(line).or_default()[usize::from(from > to)].push(side);
            }
        }
    }
    let mut found: Vec<(usize, usize)> = lines.into_values().flat_map(meet).collect();
    found.sort_unstable();
    found
}

/// Sides on either side of one line that overlap.
fn meet([mut one, mut other]: [Vec<Side>; 2]) -> Vec<(usize, usize)> {
    one.sort_unstable();
    other.sort_unstable();
    let mut found = Vec::new();
    let (mut i, mut j) = (0, 0);
    while let (Some(a), Some(b)) = (one.get(i), other.get(j)) {
        if a.from.max(b.from) < a.to.min(b.to) {
            found.push((a.patch.min(b.patch), a.patch.max(b.patch)));
        }
        if a.to < b.to { i += 1 } else { j += 1 }
    }
    found
}

/// Whether two units are fillers side by side in one row: a longer stretch of cloth, whose seam is no matter.
pub fn one_stretch(a: &Placed, b: &Placed) -> bool {
    let fillers = [a, b].iter().all(|placed| placed.unit.piece.filler().is_some());
    let row = |placed: &Placed| (placed.address.band, placed.address.column, placed.address.row);
    fillers && row(a) == row(b)
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use proptest::prelude::*;

    use super::*;
    use crate::fabric::Print;
    use crate::plan::{Band, Column, Piece, Row, State, Unit, places};
    use crate::unit::{Corner, Cut, Triangle};

    /// The patch in each quarter of each cell (above, right, below, left of its middle), by the tip's diagonal.
    fn quarters(placed: &[Placed]) -> BTreeMap<(u32, u32, usize), usize> {
        let mut quarters = BTreeMap::new();
        for (unit, p) in placed.iter().enumerate() {
            let (w, h) = (p.unit.width, p.height);
            for (dx, dy) in (0..w).flat_map(|dx| (0..h).map(move |dy| (dx, dy))) {
                for (quarter, (ox, oy)) in [(2, 1), (3, 2), (2, 3), (1, 2)].into_iter().enumerate() {
                    // Quarter cells from the corner, along and down.
                    let (along, down) = (4 * dx + ox, 4 * dy + oy);
                    let part = match p.unit.piece {
                        Piece::Filler(_) => 0,
                        Piece::Triangle(t) => {
                            let along = if t.corner.is_left() { along } else { 4 * w - along };
                            let down = if t.corner.is_upper() { down } else { 4 * h - down };
                            usize::from(along + down > 4 * w.min(h))
                        }
                    };
                    quarters.insert((p.x + dx, p.y + dy, quarter), unit * PATCHES + part);
                }
            }
        }
        quarters
    }

    /// Patches of different units on the two sides of an edge of a cell.
    fn slowly(placed: &[Placed]) -> Vec<(usize, usize)> {
        let quarters = quarters(placed);
        let mut found = BTreeSet::new();
        for (&(x, y, quarter), &patch) in &quarters {
            let other = match quarter {
                1 => quarters.get(&(x + 1, y, 3)),
                2 => quarters.get(&(x, y + 1, 0)),
                _ => None,
            };
            if let Some(&other) = other.filter(|other| **other / PATCHES != patch / PATCHES) {
                found.insert((patch.min(other), patch.max(other)));
            }
        }
        found.into_iter().collect()
    }

    fn unit(width: u32, height: u32, corner: usize, filler: bool) -> Unit {
        let cut = if width == height { Cut::Whole } else { Cut::Trimmed };
        let triangle = Triangle {
            block: width.max(height),
            cut,
            corner: Corner::ALL[corner % 4],
            tip: Print(0),
            rest: Print(1),
            upright: false,
        };
        let piece = if filler { Piece::Filler(Print(0)) } else { Piece::Triangle(triangle) };
        Unit { width, piece, state: State::Free }
    }

    /// Two columns of 12 cells, their rows cut where the dice fall.
    fn bands(dice: &[u32]) -> Vec<Band> {
        let mut dice = dice.iter().copied().cycle();
        let mut roll = |low: u32, high: u32| low + dice.next().unwrap() % (high - low + 1);
        let mut column = |width: u32| {
            let mut rows: Vec<Row> = Vec::new();
            let mut left = 12;
            while left > 0 {
                let height = roll(1, 5).min(left);
                let mut units = Vec::new();
                let mut room = width;
                while room > 0 {
                    let width = roll(1, 6).min(room);
                    units.push(unit(width, height, roll(0, 3) as usize, roll(0, 2) == 0));
                    room -= width;
                }
                rows.push(Row { height, units });
                left -= height;
            }
            Column { width, rows }
        };
        vec![Band { height: 12, columns: vec![column(7), column(9)] }, Band { height: 12, columns: vec![column(16)] }]
    }

    proptest! {
        #[test]
        fn the_sides_that_meet_are_those_of_the_cells(dice in proptest::collection::vec(0..60_u32, 97)) {
            let placed = places(&bands(&dice));
            prop_assert_eq!(touching(&placed), slowly(&placed));
        }
    }

    #[test]
    fn corners_alone_do_not_touch() {
        let row = |units| Row { height: 2, units };
        let filler = |width| unit(width, 2, 0, true);
        let rows = vec![row(vec![filler(2), filler(3)]), row(vec![filler(2), filler(3)])];
        let placed = places(&[Band { height: 4, columns: vec![Column { width: 5, rows }] }]);
        assert_eq!(touching(&placed), [(0, 2), (0, 4), (2, 6), (4, 6)]);
        assert!(one_stretch(&placed[0], &placed[1]) && !one_stretch(&placed[0], &placed[2]));
    }
}
