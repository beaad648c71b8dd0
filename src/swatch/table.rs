//! Which regions are the table: the one along the picture's sides, and those of its colour.

use super::outline::{area, hull_of};
use super::regions::Regions;
use super::view::{Blocks, apart};

/// The least share of the picture's sides that a table has.
const SIDES: f64 = 0.3;
/// How far from the table's colour what belongs to it may be, in steps of CIELAB and in parts of its spread.
const NEAR: f64 = 3.5;
const NEAR_SPREAD: f64 = 0.35;
/// The least lightness of the table in a shadow, of that beside it.
const SHADE: f64 = 0.6;
/// How much busier than the table what belongs to it may be: in parts, and in steps of CIELAB.
const BUSIER: f64 = 2.0;
const BUSIER_STEP: f64 = 3.0;
/// How light and how dark the table is along the sides, as the cube root of light.
const LIT: std::ops::Range<f64> = 0.75..1.35;
/// How many of nine blocks are busy in a print.
const MANY: usize = 5;
/// What fills less of its hull has no print's shape.
const SCRAP: f64 = 0.7;

/// The blocks of the table: those of its regions, but where most around are much busier than it is, as in a print whose
/// mean is the table's own colour.
pub(super) fn tabled(blocks: &Blocks, regions: &Regions, table: &[bool]) -> Vec<usize> {
    let all: Vec<usize> = (0..regions.of.len()).filter(|&block| table[regions.of[block]]).collect();
    let most = BUSIER * grain(blocks, &all) + BUSIER_STEP;
    let mut busy = vec![false; regions.of.len()];
    all.iter().for_each(|&block| busy[block] = blocks.sums[block].variance().sqrt() > most);
    let plain = |block: &usize| {
        let (column, row) = blocks.at(*block);
        let (columns, rows) = (
            column.saturating_sub(1)..(column + 2).min(blocks.columns),
            row.saturating_sub(1)..(row + 2).min(blocks.rows),
        );
        let around = rows.flat_map(|row| columns.clone().map(move |column| row * blocks.columns + column));
        around.filter(|&block| busy[block]).count() < MANY
    };
    all.into_iter().filter(plain).collect()
}

/// Whether each region is table; none where no region runs along enough of the sides.
pub(super) fn table(blocks: &Blocks, regions: &Regions) -> Vec<bool> {
    let mut sides = vec![0_usize; regions.count];
    let mut all = 0;
    for (block, &region) in regions.of.iter().enumerate() {
        let (column, row) = blocks.at(block);
        if column == 0 || row == 0 || column + 1 == blocks.columns || row + 1 == blocks.rows {
            sides[region] += 1;
            all += 1;
        }
    }
    let sums = regions.sums(blocks);
    let first = (0..regions.count).max_by_key(|&region| (sides[region], std::cmp::Reverse(region)));
    let mut table = vec![false; regions.count];
    let Some(first) = first.filter(|&first| sides[first] as f64 >= SIDES * all as f64) else { return table };
    table[first] = true;
    let near = NEAR + NEAR_SPREAD * sums[first].variance().sqrt();
    // Beside each block of the region, the table's own colour there: light falls off over a table.
    let of = regions.blocks();
    let own = grain(blocks, &of[first]);
    for region in (0..regions.count).filter(|&region| region != first) {
        let (mean, here) = (sums[region].mean(), around(blocks, regions, first, &of[region]));
        let plain = grain(blocks, &of[region]) < BUSIER * own + BUSIER_STEP;
        table[region] = (plain && apart(mean, here).sqrt() < near)
            || shaded(mean, here, near, blocks, &of[region])
            || (sides[region] >= 2 && lit(mean, here, near));
    }
    table
}

/// Whether a region is the table in a shadow: as dim in colour as in lightness, and of no print's shape.
fn shaded(mean: [f64; 3], table: [f64; 3], near: f64, blocks: &Blocks, of: &[usize]) -> bool {
    let part = mean[0] / table[0].max(1.0);
    let dimmed = [mean[0], table[1] * part, table[2] * part];
    let fill = || of.len() as f64 / area(&hull_of(blocks, of)).max(1.0);
    (SHADE..1.0).contains(&part) && apart(mean, dimmed).sqrt() < near && fill() < SCRAP
}

/// Whether a region that runs along the picture's sides is the table in stronger or weaker light.
fn lit(mean: [f64; 3], table: [f64; 3], near: f64) -> bool {
    // All of CIELAB but 16 goes with the cube root of light.
    let part = (mean[0] + 16.0) / (table[0] + 16.0);
    let there = [mean[0], table[1] * part, table[2] * part];
    LIT.contains(&part) && apart(mean, there).sqrt() < near
}

/// How busy blocks are, each by itself, in steps of CIELAB.
fn grain(blocks: &Blocks, of: &[usize]) -> f64 {
    let mut each: Vec<f64> = of.iter().map(|&block| blocks.sums[block].variance()).collect();
    each.sort_by(f64::total_cmp);
    each.get(each.len() / 2).copied().unwrap_or_default().sqrt()
}

/// The mean colour of a region near a set of blocks: the nearer, the more it counts.
fn around(blocks: &Blocks, regions: &Regions, region: usize, near: &[usize]) -> [f64; 3] {
    let middle = |of: usize| near.iter().map(|&block| [blocks.at(block).0, blocks.at(block).1][of]).sum::<usize>();
    let count = near.len().max(1);
    let (x, y) = ((middle(0) / count) as i64, (middle(1) / count) as i64);
    let mut sum = [0.0; 4];
    for block in (0..blocks.sums.len()).filter(|&block| regions.of[block] == region) {
        let (column, row) = (blocks.at(block).0 as i64 - x, blocks.at(block).1 as i64 - y);
        let weight = 1.0 / (100 + column * column + row * row) as f64;
        let mean = blocks.sums[block].mean();
        (0..3).for_each(|i| sum[i] += weight * mean[i]);
        sum[3] += weight;
    }
    [0, 1, 2].map(|i| sum[i] / sum[3].max(f64::MIN_POSITIVE))
}
