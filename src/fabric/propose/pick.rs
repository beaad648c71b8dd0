//! From the cells of a picture to a palette.
//!
//! Numbers without a source were found by trial, no figures kept; `cargo bench --bench likeness` shows what others do.

use super::cluster::{cluster, mean_error};
use super::samples::{Cells, Lab, MOST_COLOURS, Sample, nearest, samples, shown};
use super::shades::{add_shades, single};
use super::sketch::{beside, painted};
use crate::fabric::Rgb;

/// From so many colours on a third are second shades; of fewer, a distinct colour may matter more.
const PLENTY: usize = 12;
/// Colours nearer than this are one fabric, in HyAB.
const SAME: f64 = 3.0;
/// What is nearer than this to a held colour asks for none of its own.
const SERVED: f64 = 6.0;
/// An area of one shade only counts as if it were so far off, in HyAB.
const SINGLE: f64 = 12.0;

/// At most `colours` fabrics for a picture of `columns` by `rows` cells, light to dark.
///
/// `weights` says what counts, 4 being plain; empty where all is. The picture's colours are clustered
/// in CIELAB, with small things that stand out weighted up; painted colours of a flat sketch stay as
/// they are. Then large areas get a second shade, since a triangle unit wants two fabrics: about a third
/// of the colours are such shades, of a few colours less where a distinct colour would be lost. At least two colours come of any picture; none of no picture.
pub fn propose(cells: &[Rgb], columns: u32, rows: u32, weights: &[u8], colours: usize, seed: u64) -> Vec<Rgb> {
    propose_beside(&[], cells, [columns, rows], weights, colours, seed)
}

/// The same beside colours that are held as they are: with them at most `colours`, what comes out being those proposed.
pub fn propose_beside(
    held: &[Rgb],
    cells: &[Rgb],
    [columns, rows]: [u32; 2],
    weights: &[u8],
    colours: usize,
    seed: u64,
) -> Vec<Rgb> {
    let count = colours.clamp(2, MOST_COLOURS);
    let whole = (columns as usize).saturating_mul(rows as usize).min(cells.len());
    let cells = Cells::new(&cells[..whole], columns as usize, weights);
    if cells.colours.is_empty() || held.len() >= count {
        return Vec::new();
    }
    let all = samples(&cells);
    let held: Vec<Lab> = held.iter().map(|colour| colour.lab()).collect();
    let given = Given { painted: unlike(painted(&cells), &held), held };
    let least = (count - count / 3).max(given.held.len());
    let most = match () {
        // Which areas the held ones leave with one shade only is not known before.
        () if !given.held.is_empty() => count,
        () if count < PLENTY => least.max(count - 1),
        () => least,
    };
    let palettes = (least..=most).map(|bases| {
        let (mut palette, fixed) = base_colours(&cells, &all, &given, [bases, count], seed);
        let left = count - palette.len().min(count);
        add_shades(&mut palette, fixed, &all, left);
        (mean_error(&all, &palette) + SINGLE * SINGLE * single(&palette, &all), palette)
    });
    let best = palettes.min_by(|one, other| one.0.total_cmp(&other.0));
    best.map(|(_, mut palette)| in_order(palette.split_off(given.held.len()))).unwrap_or_default()
}

/// Colours that stay as they are.
struct Given {
    /// Those that the maker holds.
    held: Vec<Lab>,
    /// Those of a flat sketch, the most prominent first.
    painted: Vec<Rgb>,
}

/// Painted colours that no held one is the same as.
fn unlike(mut painted: Vec<Rgb>, held: &[Lab]) -> Vec<Rgb> {
    painted.retain(|colour| nearest(colour.lab(), held).is_none_or(|(_, far)| far >= SAME));
    painted
}

/// So many colours before their second shades, and how many of them, held and painted ones, are to stay.
fn base_colours(
    cells: &Cells,
    all: &[Sample],
    given: &Given,
    [bases, count]: [usize; 2],
    seed: u64,
) -> (Vec<Lab>, usize) {
    let held = given.held.len();
    let all_painted = held + given.painted.len() <= count;
    let most = if all_painted { count } else { bases };
    let painted = &given.painted[..given.painted.len().min(most - held)];
    let stay: Vec<Lab> = given.held.iter().copied().chain(painted.iter().map(|colour| colour.lab())).collect();
    let mut rest = if painted.is_empty() { all.to_vec() } else { samples(&beside(cells, painted)) };
    if !stay.is_empty() {
        let is_served = |sample: &Sample| nearest(sample.lab, &given.held).is_some_and(|(_, far)| far < SERVED);
        rest.retain(|sample| sample.weight > 0.0 && !is_served(sample));
    }
    (cluster(&rest, &stay, held, bases.max(stay.len()), seed), stay.len())
}

/// Eight-bit colours from light to dark, each once.
fn in_order(palette: Vec<Lab>) -> Vec<Rgb> {
    let mut colours: Vec<Rgb> = palette.into_iter().map(shown).collect();
    colours.sort_by(|one, other| other.lightness().total_cmp(&one.lightness()).then(one.cmp(other)));
    colours.dedup();
    colours
}
