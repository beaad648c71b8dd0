//! Prints laid edge to edge, in rows or fanned out, where edges between some are too weak to part them one by one.
//!
//! Along a line between two prints the colours on both sides differ from end to end, and lines lie about as far apart
//! as the prints of a pack are wide. So the cloth is parted by straight lines, first into rows and then across these
//! (`lines`).

use std::ops::Range;

use super::level::{Level, Line, Stretch};
use super::lines::lines;
use super::outline::{Askew, area, hull_of};
use super::view::{Blocks, View};

/// How large what lies by itself is against the usual print, and how much of its hull it fills, to be one.
const USUAL: Range<f64> = 0.6..1.6;
const ALONE: f64 = 0.85;
/// The least prints found in what lies together.
const TOGETHER: usize = 6;
/// The least blocks of a print.
const LEAST: usize = 9;

/// What was found, with what lies edge to edge parted by lines, and what lies by itself whole.
pub(super) fn laid(view: &View, table: &[usize], mut found: Vec<Vec<usize>>) -> Vec<Vec<usize>> {
    let mut sizes: Vec<usize> = found.iter().map(Vec::len).collect();
    sizes.sort_unstable();
    let usual = sizes.get(sizes.len() / 2).copied().unwrap_or_default() as f64;
    let mut open = vec![true; view.blocks.sums.len()];
    table.iter().for_each(|&block| open[block] = false);
    for together in together(&view.blocks, &mut open) {
        let mut own = vec![false; view.blocks.sums.len()];
        together.iter().for_each(|&block| own[block] = true);
        let within: Vec<Vec<usize>> = found.extract_if(.., |blocks| own[blocks[0]]).collect();
        let alone = USUAL.contains(&(together.len() as f64 / usual))
            && together.len() as f64 > ALONE * area(&hull_of(&view.blocks, &together));
        let cells = match () {
            () if alone => Some(vec![together]),
            () if within.len() >= TOGETHER => parted(view, &together, &own, &within),
            () => None,
        };
        found.extend(cells.unwrap_or(within));
    }
    found
}

/// The blocks that are open, by what lies together; none is open after that.
fn together(blocks: &Blocks, open: &mut [bool]) -> Vec<Vec<usize>> {
    let mut all = Vec::new();
    for start in 0..open.len() {
        if !std::mem::take(&mut open[start]) {
            continue;
        }
        let (mut together, mut at) = (vec![start], 0);
        while at < together.len() {
            for beside in blocks.beside(together[at]) {
                if std::mem::take(&mut open[beside]) {
                    together.push(beside);
                }
            }
            at += 1;
        }
        all.push(together);
    }
    all
}

/// The cells of cloth that lies together; none where no lines are clear.
fn parted(view: &View, together: &[usize], own: &[bool], within: &[Vec<usize>]) -> Option<Vec<Vec<usize>>> {
    let blocks = &view.blocks;
    let frame = Askew::around(&hull_of(blocks, together));
    let mut sizes: Vec<f64> = within.iter().map(|of| area(&hull_of(blocks, of))).collect();
    sizes.sort_by(f64::total_cmp);
    let side = sizes[sizes.len() / 2].sqrt();
    let (upright, level) = (Level::of(view, own, &frame, true), Level::of(view, own, &frame, false));
    // Rows first, along which prints change, so in parts of about a print's side.
    let parts = (frame.width / side).round().max(1.0) as usize;
    let whole = Stretch { rows: 0..level.rows, columns: [0, level.columns], parts };
    let rows = lines(&level, &[whole]).remove(0).lines;
    // In parts of the height.
    let rows: Vec<Line> = rows.iter().map(|line| line.map(|at| at / level.columns as f64)).collect();
    let ends = [vec![[0.0; 2]], rows, vec![[1.0; 2]]].concat();
    let mut stretches = Vec::new();
    for pair in ends.windows(2) {
        let [top, bottom] = [pair[0], pair[1]].map(|line| (line[0] + line[1]) / 2.0 * upright.rows as f64);
        let rows = top.round() as usize..(bottom.round() as usize).min(upright.rows);
        for columns in upright.filled(&rows) {
            stretches.push(([pair[0], pair[1]], Stretch { rows: rows.clone(), columns, parts: 1 }));
        }
    }
    let (pairs, stretches): (Vec<[Line; 2]>, Vec<Stretch>) = stretches.into_iter().unzip();
    let cuts = lines(&upright, &stretches);
    if ends.len() == 2 && cuts.iter().all(|cuts| cuts.lines.is_empty()) {
        return None;
    }
    let mut cells = Vec::new();
    for ((pair, stretch), cuts) in pairs.iter().zip(&stretches).zip(&cuts) {
        let [from, to] = stretch.columns.map(|column| vec![[column as f64; 2]]);
        let sides = [from, cuts.lines.clone(), to].concat();
        cells.extend(sides.windows(2).map(|sides| (*pair, [sides[0], sides[1]], &stretch.rows)));
    }
    let mut of = vec![Vec::new(); cells.len()];
    for &block in together {
        let (column, row) = blocks.at(block);
        let [across, down] = frame.within([column as f64 + 0.5, row as f64 + 0.5]);
        let (x, y) = (across * upright.columns as f64, down * upright.rows as f64);
        let between = |line: Line, part: f64| line[0] + (line[1] - line[0]) * part;
        let holds = |[one, other]: [Line; 2], part: f64, at: f64| between(one, part) <= at && at < between(other, part);
        let at = cells.iter().position(|(pair, sides, rows)| {
            let along = ((y - rows.start as f64) / rows.len() as f64).clamp(0.0, 1.0);
            holds(*pair, across, down) && holds(*sides, along, x)
        });
        if let Some(at) = at {
            of[at].push(block);
        }
    }
    of.retain(|blocks| blocks.len() >= LEAST);
    Some(of)
}
