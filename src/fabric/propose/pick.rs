//! From the cells of a picture to a palette.

use super::cluster::cluster;
use super::samples::{Cells, Lab, MOST_COLOURS, samples, shown};
use super::shades::add_shades;
use super::sketch::{beside, painted};
use crate::fabric::Rgb;

/// At most `colours` fabrics for a picture of `columns` by `rows` cells, light to dark.
///
/// `weights` says what counts, 4 being plain; empty where all is. The picture's colours are clustered
/// in CIELAB, with small things that stand out weighted up; painted colours of a flat sketch stay as
/// they are. Then large areas get a second shade, since a triangle unit wants two fabrics: about a third
/// of the colours are such shades. At least two colours come of any picture; none of no picture.
pub fn propose(cells: &[Rgb], columns: u32, rows: u32, weights: &[u8], colours: usize, seed: u64) -> Vec<Rgb> {
    let count = colours.clamp(2, MOST_COLOURS);
    let whole = (columns as usize).saturating_mul(rows as usize).min(cells.len());
    let cells = Cells::new(&cells[..whole], columns as usize, weights);
    if cells.colours.is_empty() {
        return Vec::new();
    }
    let all = samples(&cells);
    let bases = count - count / 3;
    let (mut palette, fixed) = match painted(&cells) {
        painted if painted.is_empty() => (cluster(&all, &[], bases, seed), 0),
        mut painted => {
            painted.truncate(if painted.len() <= count { count } else { bases });
            let given: Vec<Lab> = painted.iter().map(|colour| colour.lab()).collect();
            let mut rest = samples(&beside(&cells, &painted));
            rest.retain(|sample| sample.weight > 0.0);
            (cluster(&rest, &given, bases.max(given.len()), seed), given.len())
        }
    };
    let left = count - palette.len().min(count);
    add_shades(&mut palette, fixed, &all, left);
    in_order(palette)
}

/// Eight-bit colours from light to dark, each once.
fn in_order(palette: Vec<Lab>) -> Vec<Rgb> {
    let mut colours: Vec<Rgb> = palette.into_iter().map(shown).collect();
    colours.sort_by(|one, other| other.lightness().total_cmp(&one.lightness()).then(one.cmp(other)));
    colours.dedup();
    colours
}
