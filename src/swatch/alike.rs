//! The same fabric seen in two photos.

use super::{Swatch, Twin};
use crate::fabric::ciede2000;

/// How far the colours of one fabric may be apart in two photos, in CIEDE2000.
const COLOUR: f64 = 5.0;
/// How far its grain and the spread of its values may be, in parts of the larger and in steps of CIELAB.
const GRAIN: [f64; 2] = [0.35, 1.2];
const VALUES: [f64; 2] = [0.25, 5.0];
/// The next one like it must be so much further.
const CLEAR: f64 = 1.25;

/// Swatches of different photos that look like one fabric: each the other's nearest, and clearly.
pub fn twice(photos: &[Vec<Swatch>]) -> Vec<Twin> {
    let all: Vec<([usize; 2], &Swatch)> = photos
        .iter()
        .enumerate()
        .flat_map(|(photo, swatches)| swatches.iter().enumerate().map(move |(at, swatch)| ([photo, at], swatch)))
        .collect();
    let nearest = |of: &([usize; 2], &Swatch), photo: usize| -> Option<([usize; 2], f64)> {
        let mut others: Vec<([usize; 2], f64)> = all
            .iter()
            .filter(|(at, _)| at[0] == photo)
            .filter_map(|(at, other)| Some((*at, distance(of.1, other)?)))
            .collect();
        others.sort_by(|one, other| one.1.total_cmp(&other.1).then(one.0.cmp(&other.0)));
        let clear = others.get(1).is_none_or(|next| next.1 >= CLEAR * others[0].1 + 0.2);
        others.first().copied().filter(|_| clear)
    };
    let mut twins = Vec::new();
    for one in &all {
        for photo in one.0[0] + 1..photos.len() {
            let Some((found, _)) = nearest(one, photo) else { continue };
            let other = all.iter().find(|(at, _)| *at == found).expect("it was found among them");
            if nearest(other, one.0[0]).is_some_and(|(back, _)| back == one.0) {
                twins.push(Twin { one: one.0, other: found, apart: ciede2000(one.1.colour, other.1.colour) });
            }
        }
    }
    twins
}

/// How little two look like one fabric; none where they cannot be one.
fn distance(one: &Swatch, other: &Swatch) -> Option<f64> {
    let colour = ciede2000(one.colour, other.colour) / COLOUR;
    let apart = |one: f64, other: f64, [part, step]: [f64; 2]| (one - other).abs() / (part * one.max(other) + step);
    let grain = (0..3).map(|i| apart(one.marks.grain[i], other.marks.grain[i], GRAIN)).fold(0.0, f64::max);
    let reach = |swatch: &Swatch| swatch.marks.values[2] - swatch.marks.values[0];
    let values = apart(reach(one), reach(other), VALUES);
    let far = colour.max(grain).max(values);
    (far <= 1.0).then_some(colour + 0.5 * (grain + values))
}
