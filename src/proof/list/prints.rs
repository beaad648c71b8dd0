//! Where touching patches show one print.

use std::collections::BTreeMap;

use crate::measure::Length;
use crate::proof::paper::edges;
use crate::proof::scene::{Scene, Unit};

/// A side of a patch: from, to, its unit and its fabric.
type Side<'a> = (Length, Length, &'a Unit, &'a str);

/// Sides along each line of the top; those that run on and those that run back lie on either side of it.
type Lines<'a> = BTreeMap<(bool, Length), [Vec<Side<'a>>; 2]>;

/// How many times patches of two units share some of an edge and are of one fabric, fillers of one row apart.
pub fn touches(scene: &Scene) -> u64 {
    let mut lines = Lines::new();
    for unit in scene.bands.iter().flatten().flatten().flatten() {
        for patch in &unit.patches {
            for (from, to) in edges(&patch.outline) {
                let (line, from, to) = match (from.x == to.x, from.y == to.y) {
                    (true, false) => ((true, from.x), from.y, to.y),
                    (false, true) => ((false, from.y), from.x, to.x),
                    _ => continue,
                };
                let side = (from.min(to), from.max(to), unit, patch.fabric.as_str());
                lines.entry(line).or_default()[usize::from(from > to)].push(side);
            }
        }
    }
    lines.into_values().map(meet).sum()
}

fn meet([mut one, mut other]: [Vec<Side>; 2]) -> u64 {
    let key = |side: &Side| (side.0, side.1);
    one.sort_by_key(key);
    other.sort_by_key(key);
    let (mut i, mut j, mut found) = (0, 0, 0);
    while let (Some(a), Some(b)) = (one.get(i), other.get(j)) {
        let alike = a.3 == b.3 && !std::ptr::eq(a.2, b.2) && !one_stretch(a.2, b.2);
        found += u64::from(alike && a.0.max(b.0) < a.1.min(b.1));
        if a.1 < b.1 { i += 1 } else { j += 1 }
    }
    found
}

/// Two fillers of one row are a longer stretch of cloth.
fn one_stretch(one: &Unit, other: &Unit) -> bool {
    let row = |unit: &Unit| unit.address.rsplit_once('.').map(|(row, _)| row.to_owned());
    one.patches.len() == 1 && other.patches.len() == 1 && row(one) == row(other)
}
