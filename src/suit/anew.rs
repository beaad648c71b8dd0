//! Colours chosen anew: k medians of a picture's cells, or of the patches of a scene.
//!
//! Numbers without a source were found by trial, no figures kept; `cargo bench --bench likeness` shows what others do.

use std::collections::BTreeMap;

use palette::color_difference::HyAb;

use super::choose::Items;
use super::fit::shown;
use super::guard::NEAR;
use super::median::{Lab, median, prominent};
use super::seen::{Patch, Scene, Sight};
use super::tones::Tones;
use crate::fabric::Rgb;

/// Side of the cubes of CIELAB in which near cells are one.
const CUBE: f64 = 3.0;
/// Candidates for the cells of a picture.
const FOR_CELLS: usize = 96;
/// Candidates for the patches of a scene: from their medians, and from cells.
const FOR_PATCHES: [usize; 2] = [60, 20];

/// Points with their weights.
type Points = Vec<(Lab, f64)>;

/// As many tones from the cells of the picture as these; none where all of these have to stay.
pub(super) fn of_cells(sight: &Sight, tones: &Tones) -> Option<Tones> {
    let cubes = cubes(sight);
    let units: Vec<Vec<Points>> = cubes.iter().map(|cube| vec![vec![*cube]]).collect();
    chosen(&units, tones, &prominent(&cubes, FOR_CELLS, NEAR))
}

/// The same from the patches of a scene; the two halves of a unit take different ones.
pub(super) fn of_patches(sight: &Sight, scene: &Scene, tones: &Tones) -> Option<Tones> {
    let points = |patch: &Patch| sight.weighted(patch);
    let units: Vec<Vec<Points>> = scene.units.iter().map(|unit| unit.iter().map(points).collect()).collect();
    let weight = |points: &Points| points.iter().map(|(_, weight)| weight).sum::<f64>();
    let middles: Points = units.iter().flatten().filter_map(|points| Some((median(points)?, weight(points)))).collect();
    let mut candidates = prominent(&middles, FOR_PATCHES[0], NEAR);
    candidates.extend(prominent(&cubes(sight), FOR_PATCHES[1], NEAR));
    chosen(&units, tones, &candidates)
}

/// The cells of the picture, near ones as one.
fn cubes(sight: &Sight) -> Points {
    let mut cubes: BTreeMap<[i32; 3], (Lab, f64)> = BTreeMap::new();
    for (lab, weight) in sight.labs.iter().zip(&sight.weights) {
        let key = [lab.l, lab.a, lab.b].map(|value| (value / CUBE).floor() as i32);
        let cube = cubes.entry(key).or_insert((Lab::new(0.0, 0.0, 0.0), 0.0));
        *cube = (cube.0 + *lab * *weight, cube.1 + weight);
    }
    cubes.into_values().filter(|(_, weight)| *weight > 0.0).map(|(sum, weight)| (sum / weight, weight)).collect()
}

/// The best of the tones' own colours and the candidates, each then moved to the median of what it serves; what would be
/// lost so stays as it is.
fn chosen(units: &[Vec<Points>], tones: &Tones, candidates: &[Lab]) -> Option<Tones> {
    let mut colours = tones.colours();
    let count = colours.len();
    for candidate in candidates.iter().filter_map(|lab| shown(*lab)) {
        if colours.iter().all(|colour| crate::fabric::hyab(*colour, candidate) >= NEAR) {
            colours.push(candidate);
        }
    }
    let labs: Vec<Lab> = colours.iter().map(|colour| colour.lab()).collect();
    let cost = |points: &Points, lab: &Lab| points.iter().map(|(at, weight)| lab.hybrid_distance(*at) * weight).sum();
    let mut items = Items::new(labs.len());
    for unit in units {
        let faces: Vec<Vec<f64>> =
            unit.iter().map(|points| labs.iter().map(|lab| cost(points, lab)).collect()).collect();
        items.push(&faces);
    }
    // The tones' own colours come first among the candidates.
    let held = tones.held().into_iter().enumerate().filter(|(_, held)| *held);
    let mut fixed: Vec<usize> = held.map(|(at, _)| at).collect();
    if fixed.len() >= count {
        return None;
    }
    loop {
        let choice = items.choose(&fixed, count);
        let palette: Vec<Rgb> = choice.iter().map(|&i| colours[i]).collect();
        let lost: Vec<usize> = tones.lost(&palette).into_iter().filter(|i| !fixed.contains(i)).collect();
        if lost.is_empty() {
            let palette = settled(units, &items.taken(&choice), &choice, palette, (tones, fixed.len()));
            return Some(tones.replaced(&palette));
        }
        fixed.extend(lost);
        if fixed.len() >= count {
            return None;
        }
    }
}

/// Each colour past the fixed ones moved to the median of what takes it, where it stays apart and nothing is lost.
fn settled(
    units: &[Vec<Points>],
    taken: &[usize],
    choice: &[usize],
    mut palette: Vec<Rgb>,
    (tones, fixed): (&Tones, usize),
) -> Vec<Rgb> {
    let faces: Vec<&Points> = units.iter().flatten().collect();
    for place in fixed..palette.len() {
        let own = faces.iter().zip(taken).filter(|(_, taken)| **taken == choice[place]);
        let points: Points = own.flat_map(|(points, _)| points.iter().copied()).collect();
        let Some(to) = median(&points).and_then(shown) else { continue };
        let from = palette[place];
        let sum = |colour: Rgb| -> f64 {
            let lab = colour.lab();
            points.iter().map(|(at, weight)| lab.hybrid_distance(*at) * weight).sum()
        };
        let apart = palette.iter().enumerate().all(|(i, other)| {
            i == place || crate::fabric::hyab(*other, to) >= NEAR.min(crate::fabric::hyab(*other, from))
        });
        if apart && sum(to) < sum(from) {
            palette[place] = to;
            if !tones.lost(&palette).is_empty() {
                palette[place] = from;
            }
        }
    }
    palette
}
