//! Units of the same families and size that lie near each other, and what it costs where they look alike.
//!
//! Numbers without a source were found by trial, no figures kept; `cargo bench --bench prints` shows what others do.

use std::collections::BTreeMap;

use crate::plan::Placed;

/// How near units are felt to be one pattern, in sides of the whole unit.
const REACH: i64 = 4;
/// What two units cost that look alike and lie side by side.
const BESIDE: i64 = 256;
/// What they cost a whole unit's side apart; farther apart it falls with the square of the distance.
const APART: i64 = 64;

/// By unit: the others of its class within reach, and their costs.
pub fn near<C: Ord + Copy>(placed: &[Placed], classes: &[Option<C>]) -> Vec<Vec<(usize, i64)>> {
    let mut members: BTreeMap<C, Vec<usize>> = BTreeMap::new();
    for (unit, class) in classes.iter().enumerate() {
        if let Some(class) = class {
            members.entry(*class).or_default().push(unit);
        }
    }
    let mut near = vec![Vec::new(); placed.len()];
    for class in members.values() {
        let side = class.iter().map(|&unit| placed[unit].unit.width.max(placed[unit].height)).max().unwrap_or(1);
        for (at, &unit) in class.iter().enumerate() {
            for &other in &class[at + 1..] {
                if let Some(cost) = cost(&placed[unit], &placed[other], i64::from(side)) {
                    near[unit].push((other, cost));
                    near[other].push((unit, cost));
                }
            }
        }
    }
    near
}

fn cost(one: &Placed, other: &Placed, side: i64) -> Option<i64> {
    if beside(one, other) {
        return Some(BESIDE);
    }
    // Middles are measured in half cells.
    let middle = |p: &Placed| [2 * p.x + p.unit.width, 2 * p.y + p.height].map(i64::from);
    let [(x, y), (u, v)] = [one, other].map(|p| middle(p).into());
    let apart: i64 = (x - u).pow(2) + (y - v).pow(2);
    let cost = APART * (2 * side).pow(2) / apart.max(1);
    (apart <= (2 * REACH * side).pow(2)).then_some(cost.min(BESIDE / 2))
}

/// Whether two units share a part of a side.
fn beside(one: &Placed, other: &Placed) -> bool {
    let overlap = |a: u32, b: u32, c: u32, d: u32| i64::from(b.min(d)) - i64::from(a.max(c));
    let across = overlap(one.x, one.x + one.unit.width, other.x, other.x + other.unit.width);
    let down = overlap(one.y, one.y + one.height, other.y, other.y + other.height);
    across.min(down) == 0 && across.max(down) > 0
}
