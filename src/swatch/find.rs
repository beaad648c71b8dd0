//! All swatches of a photo, with what she says of them.

use std::cmp::Ordering;

use super::colour::{Reading, inside, reading};
use super::edges::edges;
use super::laid::laid;
use super::light::{Known, Light};
use super::outline::{Askew, Corner, area, hull_of, prints};
use super::regions::regions;
use super::table::{table, tabled};
use super::thumbnail::{SHOWN, thumbnail};
use super::view::{BLOCK, View, apart};
use super::{Amid, Asked, Doubt, Found, Neutral, Point, Swatch};
use crate::fabric::names;
use crate::picture::{Picture, PictureError};

/// How far from the tapped colour a tapped print goes, in steps of CIELAB and in parts of the spread there.
const TAPPED: f64 = 5.0;
const TAPPED_SPREAD: f64 = 1.6;
/// The most that a photo can be certain of.
const CERTAIN: f64 = 0.92;
/// Most swatches of a photo.
const MOST: usize = 200;

/// The swatches of a photo, in reading order.
pub fn find(picture: &Picture, asked: &Asked) -> Result<Found, PictureError> {
    let view = View::of(picture)?;
    let edges = edges(&view.blocks);
    let regions = regions(&view.blocks, &edges);
    let table = table(&view.blocks, &regions);
    let tabled = tabled(&view.blocks, &regions, &table);
    let lying = |block: &usize| view.blocks.beside(*block).all(|beside| table[regions.of[beside]]);
    let open: Vec<usize> = tabled.iter().copied().filter(lying).collect();
    let mut found = if asked.only_given {
        Vec::new()
    } else {
        laid(&view, &tabled, prints(&view.blocks, &regions, &table, &edges))
    };
    let neutral = neutral(&view, &found, &asked.neutral);
    let light = Light::of(&view, &open, &neutral);
    for (what, _) in &neutral {
        if let Neutral::Paper(point) | Neutral::Card(point) = what {
            found.retain(|blocks| !holds(&view, blocks, *point));
        } else if let Neutral::PaperIn(amid) | Neutral::CardIn(amid) = what {
            found.retain(|blocks| !holds(&view, blocks, middle(amid)));
        }
    }
    given(&view, asked, &mut found);
    found.truncate(MOST);
    let mut read: Vec<(Vec<Corner>, Reading)> = found
        .iter()
        .map(|blocks| {
            let hull = hull_of(&view.blocks, blocks);
            let askew = Askew::around(&hull);
            (hull, reading(&view, &light, &inside(&view, blocks), &askew))
        })
        .collect();
    sort(&mut read);
    let mut sizes: Vec<f64> = read.iter().map(|(hull, _)| area(hull)).collect();
    sizes.sort_by(f64::total_cmp);
    let middling = sizes.get(sizes.len() / 2).copied().unwrap_or(1.0).max(1.0);
    let names = names(&read.iter().map(|(_, reading)| reading.colour).collect::<Vec<_>>());
    let whole = |(name, (hull, reading)): (String, (Vec<Corner>, Reading))| {
        let askew = Askew::around(&hull);
        let (thumbnail, marks) = thumbnail(picture, &view, &light, &askew);
        let fill = fill(&hull, &askew);
        let (certainty, doubts) = certainty(&reading, light.known, fill, area(&hull) / middling);
        let outline = hull.iter().map(|corner| point(&view, *corner)).collect();
        let Reading { colour, spread, one_colour, .. } = reading;
        let value = colour.lightness();
        Swatch { outline, colour, name, value, spread, one_colour, certainty, doubts, thumbnail, shown: SHOWN, marks }
    };
    let swatches = names.into_iter().zip(read).map(whole).collect();
    Ok(Found { swatches, size: [picture.width(), picture.height()], notes: picture.notes().to_vec() })
}

/// A corner of a block as a place in the photo.
fn point(view: &View, corner: Corner) -> Point {
    let part = |blocks: i64, whole: usize| ((blocks as f64 * BLOCK as f64) / whole as f64).clamp(0.0, 1.0);
    Point { x: part(corner.0, view.width), y: part(corner.1, view.height) }
}

/// The block at a place.
fn block(view: &View, at: Point) -> usize {
    let along = |part: f64, whole: usize, blocks: usize| {
        // What is no number is 0.
        ((part.clamp(0.0, 1.0) * whole as f64 / BLOCK as f64) as usize).min(blocks - 1)
    };
    let (columns, rows) = (view.blocks.columns, view.blocks.rows);
    along(at.y, view.height, rows) * columns + along(at.x, view.width, columns)
}

fn middle(amid: &Amid) -> Point {
    Point { x: (amid.from.x + amid.to.x) / 2.0, y: (amid.from.y + amid.to.y) / 2.0 }
}

fn holds(view: &View, blocks: &[usize], at: Point) -> bool {
    blocks.contains(&block(view, at))
}

/// The blocks of a box, one at least.
fn boxed(view: &View, amid: &Amid) -> Vec<usize> {
    let (one, other) = (block(view, amid.from), block(view, amid.to));
    let ((left, top), (right, bottom)) = (view.blocks.at(one), view.blocks.at(other));
    let (left, right) = (left.min(right), left.max(right));
    let columns = view.blocks.columns;
    (top.min(bottom)..=top.max(bottom))
        .flat_map(|row| (left..=right).map(move |column| row * columns + column))
        .collect()
}

/// The blocks around a tap that look like it, from neighbour to neighbour.
fn grown(view: &View, at: Point) -> Vec<usize> {
    let blocks = &view.blocks;
    let start = block(view, at);
    let (column, row) = blocks.at(start);
    let (column, row) = (column as i64, row as i64);
    let seen = blocks.over(column - 1..column + 2, row - 1..row + 2);
    let near = TAPPED + TAPPED_SPREAD * seen.variance().sqrt();
    let mut taken = vec![false; blocks.sums.len()];
    taken[start] = true;
    let mut next = vec![start];
    let mut all = Vec::new();
    while let Some(block) = next.pop() {
        all.push(block);
        for beside in blocks.beside(block) {
            if !taken[beside] && apart(blocks.sums[beside].mean(), seen.mean()).sqrt() < near {
                taken[beside] = true;
                next.push(beside);
            }
        }
    }
    all.sort_unstable();
    all
}

/// What is neutral, with its pixels: of the sheet found there, or grown from the tap.
fn neutral(view: &View, found: &[Vec<usize>], neutral: &[Neutral]) -> Vec<(Neutral, Vec<usize>)> {
    let blocks = |what: &Neutral| match what {
        Neutral::Paper(at) | Neutral::Card(at) => {
            let sheet = found.iter().find(|blocks| holds(view, blocks, *at)).cloned();
            sheet.unwrap_or_else(|| grown(view, *at))
        }
        Neutral::PaperIn(amid) | Neutral::CardIn(amid) => boxed(view, amid),
    };
    neutral.iter().map(|what| (*what, inside(view, &blocks(what)))).collect()
}

/// Taps, boxes, merges and what is taken away.
fn given(view: &View, asked: &Asked, found: &mut Vec<Vec<usize>>) {
    let free = |found: &[Vec<usize>], at: Point| found.iter().position(|blocks| holds(view, blocks, at)).is_none();
    for &tap in &asked.taps {
        if free(found, tap) {
            found.push(grown(view, tap));
        }
    }
    for amid in &asked.boxes {
        // A box takes the place of what was found under its middle.
        found.retain(|blocks| !holds(view, blocks, middle(amid)));
        found.push(boxed(view, amid));
    }
    for [one, other] in &asked.merges {
        let at = |point: &Point| found.iter().position(|blocks| holds(view, blocks, *point));
        if let (Some(one), Some(other)) = (at(one), at(other))
            && one != other
        {
            let gone = found[other].clone();
            found[one].extend(gone);
            found.remove(other);
        }
    }
    for &point in &asked.without {
        found.retain(|blocks| !holds(view, blocks, point));
    }
}

/// Reading order: row by row of swatches, from the left.
fn sort(read: &mut [(Vec<Corner>, Reading)]) {
    let middle = |hull: &[Corner]| {
        let askew = Askew::around(hull);
        (askew.middle[0], askew.middle[1], askew.height)
    };
    let mut heights: Vec<f64> = read.iter().map(|(hull, _)| middle(hull).2).collect();
    heights.sort_by(f64::total_cmp);
    let row = 0.6 * heights.get(heights.len() / 2).copied().unwrap_or(1.0).max(1.0);
    read.sort_by(|one, other| middle(&one.0).1.total_cmp(&middle(&other.0).1).then(Ordering::Equal));
    let mut from = 0;
    while from < read.len() {
        let top = middle(&read[from].0).1;
        let end = (from..read.len()).find(|&at| middle(&read[at].0).1 > top + row).unwrap_or(read.len());
        read[from..end].sort_by(|one, other| middle(&one.0).0.total_cmp(&middle(&other.0).0));
        from = end;
    }
}

/// How much of the rectangle around it a swatch fills.
fn fill(hull: &[Corner], askew: &Askew) -> f64 {
    area(hull) / (askew.width * askew.height).max(1.0)
}

/// How certain a swatch is by how much of its rectangle it fills and how large it is against the middling one, and why
/// not more: what costs most first. The factors are by eye, on rendered packs.
fn certainty(reading: &Reading, known: Known, fill: f64, size: f64) -> (f64, Vec<Doubt>) {
    let mut costs: Vec<(f64, Doubt)> = Vec::new();
    let mut doubt = |factor: f64, doubt: Doubt| costs.push((factor, doubt));
    if !known.neutral {
        doubt(0.6, Doubt::NoPaper);
    }
    if known.bright {
        doubt(0.7, Doubt::BrightPaper);
    }
    if known.cast > 1.8 {
        doubt(0.8, Doubt::Lamp);
    }
    if reading.left_out > 0.15 {
        doubt(1.0 - 0.8 * reading.left_out, Doubt::Uneven);
    }
    if reading.colour.lightness() < 12.0 {
        doubt(0.75, Doubt::Dark);
    }
    if reading.full > 0.2 {
        doubt(0.65, Doubt::Bright);
    }
    if reading.pixels < 260 {
        doubt(0.75, Doubt::Small);
    }
    if fill < 0.72 || !(0.55..=1.7).contains(&size) {
        doubt(0.7, Doubt::Edges);
    }
    costs.sort_by(|one, other| one.0.total_cmp(&other.0).then(one.1.cmp(&other.1)));
    let all: f64 = costs.iter().map(|(factor, _)| factor).product();
    (CERTAIN * all, costs.into_iter().map(|(_, doubt)| doubt).collect())
}
