//! What is put together of regions: parts of a print that fill their hull better together than apart.

use std::collections::{BTreeMap, BTreeSet};

use super::edges::Edges;
use super::regions::Regions;
use super::view::Blocks;

/// How much better two must fill their hull together.
const BETTER: f64 = 0.04;
/// Parts of fewer blocks, of all the picture's, never stand alone.
const LEAST: f64 = 1.0 / 1400.0;
/// The strength of an edge from which it keeps two apart, and how much better each step more asks for.
const STRONG: f64 = 1.2;
const PER_STEP: f64 = 0.12;
/// The least of its hull that a swatch fills.
const FILLED: f64 = 0.62;
/// The least area against the middling swatch.
const OF_MIDDLING: f64 = 0.2;

/// A corner in blocks.
pub(super) type Corner = (i64, i64);

/// Corners of the hull of corners, clockwise (Andrew, 1979).
pub(super) fn hull(mut corners: Vec<Corner>) -> Vec<Corner> {
    corners.sort_unstable();
    corners.dedup();
    if corners.len() < 3 {
        return corners;
    }
    let turn = |a: Corner, b: Corner, c: Corner| (b.0 - a.0) * (c.1 - a.1) - (b.1 - a.1) * (c.0 - a.0);
    let half = |corners: &mut dyn Iterator<Item = Corner>| {
        let mut side: Vec<Corner> = Vec::new();
        for corner in corners {
            while let [.., a, b] = side[..]
                && turn(a, b, corner) <= 0
            {
                side.pop();
            }
            side.push(corner);
        }
        side.pop();
        side
    };
    let mut around = half(&mut corners.iter().copied());
    around.extend(half(&mut corners.iter().rev().copied()));
    around
}

/// The area that corners enclose.
pub(super) fn area(corners: &[Corner]) -> f64 {
    let next = corners.iter().cycle().skip(1);
    corners.iter().zip(next).map(|(a, b)| a.0 * b.1 - a.1 * b.0).sum::<i64>().abs() as f64 / 2.0
}

/// The hull of blocks.
pub(super) fn hull_of(blocks: &Blocks, of: &[usize]) -> Vec<Corner> {
    let mut rows: BTreeMap<usize, (usize, usize)> = BTreeMap::new();
    for &block in of {
        let (column, row) = blocks.at(block);
        let ends = rows.entry(row).or_insert((column, column));
        *ends = (ends.0.min(column), ends.1.max(column));
    }
    let corners = rows.into_iter().flat_map(|(row, (first, last))| {
        let (top, left, right) = (row as i64, first as i64, last as i64 + 1);
        [(left, top), (right, top), (left, top + 1), (right, top + 1)]
    });
    hull(corners.collect())
}

/// A part of a print, or all of it.
#[derive(Clone)]
struct Part {
    blocks: Vec<usize>,
    hull: Vec<Corner>,
}

impl Part {
    fn fill(&self) -> f64 {
        self.blocks.len() as f64 / area(&self.hull).max(1.0)
    }
}

/// The largest piece of a print without tails of two blocks and less: three by three blocks fit wherever it is.
fn body(blocks: &Blocks, of: &[usize]) -> Vec<usize> {
    let all: BTreeSet<usize> = of.iter().copied().collect();
    let around = |block: usize| {
        let (column, row) = (blocks.at(block).0 as i64, blocks.at(block).1 as i64);
        let each = (row - 1..=row + 1).flat_map(move |y| (column - 1..=column + 1).map(move |x| (x, y)));
        let inside = each.filter(|(x, y)| *x >= 0 && *y >= 0 && *x < blocks.columns as i64 && *y < blocks.rows as i64);
        inside.map(|(x, y)| y as usize * blocks.columns + x as usize).collect::<Vec<_>>()
    };
    let core = of.iter().copied().filter(|&block| around(block).iter().all(|beside| all.contains(beside)));
    let mut open: BTreeSet<usize> = core.flat_map(around).collect();
    let mut largest: Vec<usize> = Vec::new();
    while let Some(start) = open.pop_first() {
        let (mut piece, mut at) = (vec![start], 0);
        while at < piece.len() {
            for beside in blocks.beside(piece[at]).filter(|beside| open.remove(beside)) {
                piece.push(beside);
            }
            at += 1;
        }
        if piece.len() > largest.len() {
            largest = piece;
        }
    }
    if largest.is_empty() { of.to_vec() } else { largest }
}

/// The blocks of each print: regions that are no table, put together.
pub(super) fn prints(blocks: &Blocks, regions: &Regions, table: &[bool], edges: &Edges) -> Vec<Vec<usize>> {
    let part = |of: Vec<usize>| Part { hull: hull_of(blocks, &of), blocks: of };
    let mut parts: Vec<Option<Part>> =
        regions.blocks().into_iter().zip(table).map(|(of, &table)| (!table).then(|| part(of))).collect();
    let mut touching = regions.touching(blocks, edges);
    touching.retain(|(one, other), _| !table[*one] && !table[*other]);
    let least = LEAST * blocks.sums.len() as f64;
    let gain = |parts: &[Option<Part>], pair: (usize, usize), edge: (f64, f64)| -> Option<f64> {
        let (one, other) = (parts[pair.0].as_ref()?, parts[pair.1].as_ref()?);
        let (few, count) =
            (one.blocks.len().min(other.blocks.len()) as f64, (one.blocks.len() + other.blocks.len()) as f64);
        let apart = (one.blocks.len() as f64 * one.fill() + other.blocks.len() as f64 * other.fill()) / count;
        let hull = hull(one.hull.iter().chain(&other.hull).copied().collect());
        let better = count / area(&hull).max(1.0) - apart;
        let kept_apart = PER_STEP * (edge.0 / edge.1 - STRONG).max(0.0);
        // A scrap goes to whichever neighbour it stands out from least.
        match few < least {
            true => (better > -0.1).then_some(1.0 + better - kept_apart),
            false => (better > BETTER + kept_apart).then_some(better - kept_apart),
        }
    };
    let mut gains: BTreeMap<(usize, usize), f64> =
        touching.iter().filter_map(|(&pair, &edge)| Some((pair, gain(&parts, pair, edge)?))).collect();
    while let Some((&(one, other), _)) = gains.iter().max_by(|a, b| a.1.total_cmp(b.1).then(b.0.cmp(a.0))) {
        let gone = parts[other].take().expect("what touches is there");
        let kept = parts[one].as_mut().expect("what touches is there");
        kept.blocks.extend(gone.blocks);
        kept.hull = hull(kept.hull.iter().chain(&gone.hull).copied().collect());
        let moved: Vec<_> = touching.keys().copied().filter(|pair| pair.0 == other || pair.1 == other).collect();
        for pair in moved {
            let edge = touching.remove(&pair).expect("it was just seen");
            let third = if pair.0 == other { pair.1 } else { pair.0 };
            if third != one {
                let joined = touching.entry((one.min(third), one.max(third))).or_default();
                *joined = (joined.0 + edge.0, joined.1 + edge.1);
            }
        }
        gains.retain(|pair, _| ![pair.0, pair.1].iter().any(|part| [one, other].contains(part)));
        for (&pair, &edge) in touching.iter().filter(|(pair, _)| pair.0 == one || pair.1 == one) {
            gains.extend(gain(&parts, pair, edge).map(|gain| (pair, gain)));
        }
    }
    let whole = parts.into_iter().flatten().filter(|part| part.blocks.len() as f64 >= least && part.fill() >= FILLED);
    let whole: Vec<Part> = whole.map(|whole| part(body(blocks, &whole.blocks))).collect();
    let mut sizes: Vec<usize> = whole.iter().map(|part| part.blocks.len()).collect();
    sizes.sort_unstable();
    let middling = sizes.get(sizes.len() / 2).copied().unwrap_or_default() as f64;
    whole
        .into_iter()
        .filter(|part| part.blocks.len() as f64 >= OF_MIDDLING * middling)
        .map(|part| part.blocks)
        .collect()
}

/// A rectangle that may stand askew, in blocks.
#[derive(Clone, Copy, Debug)]
pub(super) struct Askew {
    pub middle: [f64; 2],
    /// Along its width, of length 1, nearer to level than to upright.
    pub along: [f64; 2],
    pub width: f64,
    pub height: f64,
}

impl Askew {
    /// The smallest around a hull: one side of it lies along one of the hull's (Freeman and Shapira, 1975).
    pub fn around(hull: &[Corner]) -> Self {
        let next = hull.iter().cycle().skip(1);
        let sides = hull.iter().zip(next).map(|(a, b)| [(b.0 - a.0) as f64, (b.1 - a.1) as f64]);
        let each = sides.filter(|side| *side != [0.0, 0.0]).map(|[x, y]| {
            let length = (x * x + y * y).sqrt();
            let [x, y] = if x.abs() >= y.abs() { [x, y] } else { [y, -x] };
            let sign = if x < 0.0 { -1.0 } else { 1.0 };
            Self::along(hull, [sign * x / length, sign * y / length])
        });
        let least = each.min_by(|a, b| (a.width * a.height).total_cmp(&(b.width * b.height)));
        least.unwrap_or_else(|| Self::along(hull, [1.0, 0.0]))
    }

    fn along(hull: &[Corner], [x, y]: [f64; 2]) -> Self {
        let reach = |x: f64, y: f64| {
            let all = hull.iter().map(|corner| corner.0 as f64 * x + corner.1 as f64 * y);
            all.fold([f64::INFINITY, f64::NEG_INFINITY], |[least, most], at| [least.min(at), most.max(at)])
        };
        let ([left, right], [top, bottom]) = (reach(x, y), reach(-y, x));
        let (u, v) = ((left + right) / 2.0, (top + bottom) / 2.0);
        Self { middle: [u * x - v * y, u * y + v * x], along: [x, y], width: right - left, height: bottom - top }
    }

    /// The place in the picture of a place in it, 0 to 1 across and down.
    pub fn place(&self, across: f64, down: f64) -> [f64; 2] {
        let ([x, y], u, v) = (self.along, (across - 0.5) * self.width, (down - 0.5) * self.height);
        [self.middle[0] + u * x - v * y, self.middle[1] + u * y + v * x]
    }

    /// The place in it, 0 to 1 across and down, of a place in the picture.
    pub fn within(&self, at: [f64; 2]) -> [f64; 2] {
        let ([x, y], dx, dy) = (self.along, at[0] - self.middle[0], at[1] - self.middle[1]);
        [(dx * x + dy * y) / self.width.max(1e-9) + 0.5, (dy * x - dx * y) / self.height.max(1e-9) + 0.5]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_hull_leaves_out_what_lies_within() {
        let around = hull(vec![(0, 0), (4, 0), (4, 3), (0, 3), (2, 1), (2, 0), (4, 0)]);
        assert_eq!(around.len(), 4);
        assert_eq!(area(&around), 12.0);
        assert_eq!(hull(vec![(1, 1)]).len(), 1);
    }

    /// A square on its corner: 45 degrees, side of the square root of 2 times 5.
    #[test]
    fn a_rectangle_stands_askew() {
        let askew = Askew::around(&[(5, 0), (10, 5), (5, 10), (0, 5)]);
        assert!((askew.width * askew.height - 50.0).abs() < 1e-9);
        assert!((askew.middle[0] - 5.0).abs() < 1e-9 && (askew.middle[1] - 5.0).abs() < 1e-9);
        let at = askew.place(0.25, 0.75);
        let [across, down] = askew.within(at);
        assert!((across - 0.25).abs() < 1e-9 && (down - 0.75).abs() < 1e-9);
    }
}
