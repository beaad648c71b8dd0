//! From the cells of a picture to a palette.
//!
//! Numbers without a source were found by trial, no figures kept; `cargo bench --bench likeness` shows what others do.

use super::cluster::{cluster, mean_error};
use super::samples::{Cells, Lab, MOST_COLOURS, Sample, samples, shown};
use super::shades::{add_shades, single};
use super::sketch::{beside, painted};
use crate::fabric::Rgb;

/// From so many colours on a third are second shades; of fewer, a distinct colour may matter more.
const PLENTY: usize = 12;
/// An area of one shade only counts as if it were so far off, in HyAB.
const SINGLE: f64 = 12.0;

/// At most `colours` fabrics for a picture of `columns` by `rows` cells, light to dark.
///
/// `weights` says what counts, 4 being plain; empty where all is. The picture's colours are clustered
/// in CIELAB, with small things that stand out weighted up; painted colours of a flat sketch stay as
/// they are. Then large areas get a second shade, since a triangle unit wants two fabrics: about a third
/// of the colours are such shades, of a few colours less where a distinct colour would be lost. At least two colours come of any picture; none of no picture.
pub fn propose(cells: &[Rgb], columns: u32, rows: u32, weights: &[u8], colours: usize, seed: u64) -> Vec<Rgb> {
    let count = colours.clamp(2, MOST_COLOURS);
    let whole = (columns as usize).saturating_mul(rows as usize).min(cells.len());
    let cells = Cells::new(&cells[..whole], columns as usize, weights);
    if cells.colours.is_empty() {
        return Vec::new();
    }
    let all = samples(&cells);
    let painted = painted(&cells);
    let least = count - count / 3;
    let most = if count < PLENTY { least.max(count - 1) } else { least };
    let palettes = (least..=most).map(|bases| {
        let (mut palette, fixed) = base_colours(&cells, &all, &painted, [bases, count], seed);
        let left = count - palette.len().min(count);
        add_shades(&mut palette, fixed, &all, left);
        (mean_error(&all, &palette) + SINGLE * SINGLE * single(&palette, &all), palette)
    });
    palettes.min_by(|one, other| one.0.total_cmp(&other.0)).map(|(_, palette)| in_order(palette)).unwrap_or_default()
}

/// So many colours before their second shades, and how many of them, painted ones, are to stay.
fn base_colours(
    cells: &Cells,
    all: &[Sample],
    painted: &[Rgb],
    [bases, count]: [usize; 2],
    seed: u64,
) -> (Vec<Lab>, usize) {
    if painted.is_empty() {
        return (cluster(all, &[], bases, seed), 0);
    }
    let painted = if painted.len() <= count { painted } else { &painted[..bases] };
    let given: Vec<Lab> = painted.iter().map(|colour| colour.lab()).collect();
    let mut rest = samples(&beside(cells, painted));
    rest.retain(|sample| sample.weight > 0.0);
    (cluster(&rest, &given, bases.max(given.len()), seed), given.len())
}

/// Eight-bit colours from light to dark, each once.
fn in_order(palette: Vec<Lab>) -> Vec<Rgb> {
    let mut colours: Vec<Rgb> = palette.into_iter().map(shown).collect();
    colours.sort_by(|one, other| other.lightness().total_cmp(&one.lightness()).then(one.cmp(other)));
    colours.dedup();
    colours
}
