//! Flat sketches: the colours that were painted, kept as they are.
//!
//! Numbers without a source were found by trial, no figures kept; `cargo bench --bench likeness` shows what others do.

use std::collections::BTreeMap;

use palette::color_difference::HyAb;

use super::samples::{Cells, Lab, MOST_COLOURS};
use crate::fabric::Rgb;

/// Share of the picture in even patches from which it is a flat sketch.
const FLAT: f64 = 0.5;
/// Painted colours nearer than this are one.
const SAME: f64 = 1.0;
/// How far a colour lies off every mix of two painted ones before it counts itself.
const OFF_MIX: f64 = 8.0;

/// The painted colours, the most prominent first; none where the picture is no flat sketch.
pub(super) fn painted(cells: &Cells) -> Vec<Rgb> {
    let width = cells.width;
    let mut counts: BTreeMap<Rgb, usize> = BTreeMap::new();
    let blocks = cells.colours.len().saturating_sub(width + 1);
    for i in (0..blocks).filter(|i| i % width + 1 < width) {
        let colour = cells.colours[i];
        let even = [i + 1, i + width, i + width + 1].iter().all(|&j| cells.colours[j] == colour);
        if even {
            *counts.entry(colour).or_default() += 1;
        }
    }
    let flat: usize = counts.values().sum();
    let is_sketch = flat as f64 >= FLAT * cells.colours.len() as f64;
    if is_sketch { by_prominence(&counts) } else { Vec::new() }
}

/// The largest first; then always the one that most area misses, by area and distance.
fn by_prominence(counts: &BTreeMap<Rgb, usize>) -> Vec<Rgb> {
    let mut left: Vec<(Rgb, Lab, f64, f64)> =
        counts.iter().map(|(colour, count)| (*colour, colour.lab(), (*count as f64).sqrt(), 1e6)).collect();
    let mut found = Vec::new();
    while found.len() < MOST_COLOURS {
        let best = left.iter().max_by(|one, other| (one.2 * one.3).total_cmp(&(other.2 * other.3)));
        let Some((colour, lab)) = best.map(|best| (best.0, best.1)) else { break };
        found.push(colour);
        for other in &mut left {
            other.3 = other.3.min(other.1.hybrid_distance(lab));
        }
        left.retain(|other| other.3 >= SAME);
    }
    found
}

/// Cells that are neither painted colours nor mixes of two along their edges.
pub(super) fn beside(cells: &Cells, painted: &[Rgb]) -> Cells {
    let lines: Vec<[[f64; 3]; 2]> = (painted.iter().enumerate())
        .flat_map(|(i, one)| painted[i..].iter().map(|other| [one.linear(), other.linear()]))
        .collect();
    let mut known: BTreeMap<Rgb, bool> = BTreeMap::new();
    let counts: Vec<bool> = (cells.colours.iter())
        .map(|colour| *known.entry(*colour).or_insert_with(|| lines.iter().all(|line| off_line(*colour, line))))
        .collect();
    let focus = cells.focus.iter().zip(counts).map(|(focus, counts)| if counts { *focus } else { 0.0 });
    Cells { colours: cells.colours.clone(), focus: focus.collect(), width: cells.width }
}

/// Whether the colour is far from every mix, in linear light, of the line's two ends.
fn off_line(colour: Rgb, [from, to]: &[[f64; 3]; 2]) -> bool {
    let point = colour.linear();
    let along: [f64; 3] = std::array::from_fn(|i| to[i] - from[i]);
    let length: f64 = along.iter().map(|value| value * value).sum();
    let part: f64 = (0..3).map(|i| along[i] * (point[i] - from[i])).sum();
    let part = if length > 0.0 { (part / length).clamp(0.0, 1.0) } else { 0.0 };
    let mix = Rgb::from_linear(std::array::from_fn(|i| from[i] + part * along[i]));
    crate::fabric::hyab(colour, mix) > OFF_MIX
}
