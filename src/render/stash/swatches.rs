//! The stash as a picture: families in rows, all from light to dark, units on hand.

use super::chips::{INK, SOFT, SWATCH, UNIT, WHOLE, step, swatch, unit};
use crate::fabric::{Fabric, Stash};
use crate::render::RenderError;
use crate::render::lettering::Hand;
use crate::render::png::sheet;
use crate::render::text::{count, px};

const WIDTH: f64 = 1360.0;
const MARGIN: f64 = 56.0;
const ROOM: f64 = WIDTH - 2.0 * MARGIN;
/// Most fabrics side by side from light to dark: three letters still fit.
const MOST_STEPS: usize = 60;

const TITLE: Hand = Hand { height: 28.0, weight: 0.75, ink: INK };
const PART: Hand = Hand { height: 18.0, weight: 0.85, ink: INK };
const FAMILY: Hand = Hand { height: 15.0, weight: 0.85, ink: SOFT };

/// Swatches of all fabrics as PNG under a title.
pub fn stash_png(stash: &Stash, title: &str) -> Result<Vec<u8>, RenderError> {
    let (body, height) = drawing(stash, title);
    sheet(&body, WIDTH, height).map_err(RenderError::Swatches)
}

/// The drawing, without its frame, and its height.
fn drawing(stash: &Stash, title: &str) -> (String, f64) {
    let mut y = MARGIN + TITLE.height;
    let mut out = TITLE.line(MARGIN, y, &TITLE.cut(title, ROOM));
    y += 44.0;
    let families = families(stash);
    let mut families = families.as_slice();
    while !families.is_empty() {
        let line = line_of(families);
        let mut x = MARGIN;
        let mut bottom = y;
        for family in &families[..line] {
            let (part, height) = family_at(family, x, y);
            out += &part;
            x += family_width(family);
            bottom = bottom.max(y + height);
        }
        y = bottom + 14.0;
        families = &families[line..];
    }
    let (steps, height) = light_to_dark(stash, y);
    out += &steps;
    y += height;
    let (units, height) = units(stash, y);
    out += &units;
    y += height + MARGIN / 2.0;
    (out, y)
}

/// The families in the file's order, the prints of each from light to dark.
fn families(stash: &Stash) -> Vec<Vec<&Fabric>> {
    let mut families: Vec<Vec<&Fabric>> = Vec::new();
    for print in &stash.prints {
        match families.iter_mut().find(|family| family[0].family == print.family) {
            Some(family) => family.push(print),
            None => families.push(vec![print]),
        }
    }
    families.iter_mut().for_each(|family| family.sort_by(|one, other| lighter(one, other)));
    families
}

fn lighter(one: &Fabric, other: &Fabric) -> std::cmp::Ordering {
    let lightness = |print: &Fabric| print.colour.lightness();
    lightness(other).total_cmp(&lightness(one)).then_with(|| one.letter.cmp(&other.letter))
}

/// Swatches side by side in one row of a family.
fn across(family: &[&Fabric]) -> usize {
    family.len().min((ROOM / WHOLE.0) as usize).max(1)
}

fn family_width(family: &[&Fabric]) -> f64 {
    across(family) as f64 * WHOLE.0 + 18.0
}

/// How many of the families stand side by side in the next row.
fn line_of(families: &[Vec<&Fabric>]) -> usize {
    let mut width = -18.0;
    let fits = families.iter().take_while(|family| {
        width += family_width(family);
        width <= ROOM + 22.0
    });
    fits.count().max(1)
}

/// A family below its name, and its height.
fn family_at(family: &[&Fabric], x: f64, y: f64) -> (String, f64) {
    let wide = (across(family) as f64 - 1.0) * WHOLE.0 + SWATCH.0;
    let name = family.first().map_or("", |print| print.family.as_str());
    let mut out = format!("<path d=\"M{} {}h{}\" stroke=\"{SOFT}\" stroke-width=\"1\"/>\n", px(x), px(y), px(wide));
    out += &FAMILY.line(x, y + 24.0, &FAMILY.cut(name, wide));
    let mut height = 0.0;
    for (row, prints) in (0_u8..).zip(family.chunks(across(family))) {
        let top = y + 36.0 + f64::from(row) * WHOLE.1;
        for (at, print) in (0_u8..).zip(prints) {
            out += &swatch(print, x + f64::from(at) * WHOLE.0, top);
        }
        height = top + WHOLE.1 - y;
    }
    (out, height)
}

/// All fabrics from light to dark, with their greys below, and the height that they take.
fn light_to_dark(stash: &Stash, y: f64) -> (String, f64) {
    let mut prints: Vec<&Fabric> = stash.prints.iter().collect();
    prints.sort_by(|one, other| lighter(one, other));
    let across = prints.len().div_ceil(prints.len().div_ceil(MOST_STEPS).max(1)).max(1);
    let width = (ROOM / across as f64).min(90.0);
    let mut out = PART.line(MARGIN, y + 18.0, "From light to dark, and as greys");
    let mut under = y + 34.0;
    for prints in prints.chunks(across) {
        for (at, print) in (0_u8..).zip(prints) {
            out += &step(print, MARGIN + f64::from(at) * width, under, width);
        }
        under += 116.0;
    }
    (out, under - y + 10.0)
}

/// Units on hand, and the height that they take.
fn units(stash: &Stash, y: f64) -> (String, f64) {
    if stash.hand.units.is_empty() {
        return (String::new(), 0.0);
    }
    let mut units: Vec<_> = stash.hand.units.iter().collect();
    units.sort_by_key(|unit| std::cmp::Reverse(unit.finished));
    let all: u64 = units.iter().map(|unit| u64::from(unit.count)).sum();
    let title = format!("On hand: {}", count(all, "triangle unit", "triangle units"));
    let mut out = PART.line(MARGIN, y + 22.0, &title);
    let (wide, high) = (UNIT + 20.0, UNIT + 40.0);
    let mut height = 0.0;
    for (row, units) in (0_u8..).zip(units.chunks((ROOM / wide) as usize)) {
        let top = y + 44.0 + f64::from(row) * high;
        for (at, piece) in (0_u8..).zip(units) {
            out += &unit(stash, piece, MARGIN + f64::from(at) * wide, top);
        }
        height = top + high - y;
    }
    (out, height)
}
