//! Regions of blocks that no strong edge parts: the two with the weakest edge between them become one, again and again.

use std::cmp::Reverse;
use std::collections::{BTreeMap, BinaryHeap};

use super::edges::{Edges, contrast};
use super::view::{Blocks, Sum, apart};

/// The strength from which an edge parts regions.
const PARTS: f64 = 1.05;
/// Regions of fewer blocks than about this give way to their neighbours sooner.
const FEW: f64 = 6.0;
/// From so many blocks on a region has a colour of its own, and how much it counts against the edge between two: where
/// an edge ends, at corners, regions would run together through the gap.
const OWN: f64 = 10.0;
const OF_OWN: f64 = 0.42;

/// The region of each block, numbered from 0 in reading order.
#[derive(Clone, Debug)]
pub(super) struct Regions {
    pub of: Vec<usize>,
    pub count: usize,
}

/// An edge between two regions: the sum of its lines' strengths, and how many there are.
type Edge = (f64, f64);

struct Growing {
    parent: Vec<usize>,
    size: Vec<f64>,
    sums: Vec<Sum>,
    edges: Vec<BTreeMap<usize, Edge>>,
    heap: BinaryHeap<Reverse<(u64, usize, usize)>>,
}

pub(super) fn regions(blocks: &Blocks, edges: &Edges) -> Regions {
    let count = blocks.sums.len();
    let mut growing = Growing {
        parent: (0..count).collect(),
        size: vec![1.0; count],
        sums: blocks.sums.clone(),
        edges: vec![BTreeMap::new(); count],
        heap: BinaryHeap::new(),
    };
    for block in 0..count {
        let (column, row) = blocks.at(block);
        if column + 1 < blocks.columns {
            growing.join(block, block + 1, edges.right[block]);
        }
        if row + 1 < blocks.rows {
            growing.join(block, block + blocks.columns, edges.below[block]);
        }
    }
    growing.grow();
    let roots: Vec<usize> = (0..count).map(|block| growing.root(block)).collect();
    without_ribbons(blocks, &roots)
}

/// Along edges regions run out into ribbons a block wide. What is left of each without them grows again, each block
/// going to the neighbour that it is most like.
fn without_ribbons(blocks: &Blocks, roots: &[usize]) -> Regions {
    let core = |block: usize| {
        let (column, row) = blocks.at(block);
        let beside = |dx: i64, dy: i64| {
            let (x, y) = ((column as i64 + dx), (row as i64 + dy));
            let inside = (0..blocks.columns as i64).contains(&x) && (0..blocks.rows as i64).contains(&y);
            inside.then(|| roots[y as usize * blocks.columns + x as usize])
        };
        let around = (-1..=1).flat_map(|dy| (-1..=1).map(move |dx| (dx, dy)));
        around.filter_map(|(dx, dy)| beside(dx, dy)).all(|root| root == roots[block])
    };
    const NONE: usize = usize::MAX;
    let mut of = vec![NONE; roots.len()];
    let mut sums: Vec<Sum> = Vec::new();
    for start in 0..roots.len() {
        if of[start] != NONE || !core(start) {
            continue;
        }
        let (region, mut next, mut sum) = (sums.len(), vec![start], Sum::default());
        of[start] = region;
        while let Some(block) = next.pop() {
            sum.add(&blocks.sums[block]);
            for beside in blocks.beside(block) {
                if of[beside] == NONE && roots[beside] == roots[start] && core(beside) {
                    of[beside] = region;
                    next.push(beside);
                }
            }
        }
        sums.push(sum);
    }
    let means: Vec<[f64; 3]> = sums.iter().map(Sum::mean).collect();
    let mut heap: BinaryHeap<Reverse<(u64, usize, usize)>> = BinaryHeap::new();
    let offer = |heap: &mut BinaryHeap<_>, of: &[usize], block: usize| {
        for beside in blocks.beside(block).filter(|&beside| of[beside] == NONE) {
            let far = apart(blocks.sums[beside].mean(), means[of[block]]);
            heap.push(Reverse((far.to_bits(), beside, of[block])));
        }
    };
    (0..of.len()).filter(|&block| of[block] != NONE).for_each(|block| offer(&mut heap, &of, block));
    while let Some(Reverse((_, block, region))) = heap.pop() {
        if of[block] == NONE {
            of[block] = region;
            offer(&mut heap, &of, block);
        }
    }
    Regions::numbered(&of)
}

impl Growing {
    fn join(&mut self, one: usize, other: usize, strength: f64) {
        self.edges[one].insert(other, (strength, 1.0));
        self.edges[other].insert(one, (strength, 1.0));
        self.push(one, other);
    }

    fn weight(&self, one: usize, other: usize) -> Option<u64> {
        let (sum, count) = self.edges[one].get(&other)?;
        let few = self.size[one].min(self.size[other]);
        let own = match few >= OWN {
            true => OF_OWN * contrast(&self.sums[one], &self.sums[other]),
            false => 0.0,
        };
        // Strengths are not negative, so their bits are in their order.
        Some((sum / count * few / (few + FEW)).max(own).to_bits())
    }

    fn push(&mut self, one: usize, other: usize) {
        let (one, other) = (one.min(other), one.max(other));
        if let Some(weight) = self.weight(one, other).filter(|&weight| weight < PARTS.to_bits()) {
            self.heap.push(Reverse((weight, one, other)));
        }
    }

    fn grow(&mut self) {
        while let Some(Reverse((weight, one, other))) = self.heap.pop() {
            let alive = self.parent[one] == one && self.parent[other] == other;
            if !alive || self.weight(one, other) != Some(weight) {
                continue;
            }
            let (kept, gone) =
                if self.edges[one].len() >= self.edges[other].len() { (one, other) } else { (other, one) };
            self.parent[gone] = kept;
            self.size[kept] += self.size[gone];
            let sum = self.sums[gone];
            self.sums[kept].add(&sum);
            for (beside, (sum, count)) in std::mem::take(&mut self.edges[gone]) {
                self.edges[beside].remove(&gone);
                if beside != kept {
                    for (from, to) in [(kept, beside), (beside, kept)] {
                        let edge = self.edges[from].entry(to).or_default();
                        *edge = (edge.0 + sum, edge.1 + count);
                    }
                }
            }
            let beside: Vec<usize> = self.edges[kept].keys().copied().collect();
            beside.into_iter().for_each(|beside| self.push(kept, beside));
        }
    }

    fn root(&mut self, block: usize) -> usize {
        let mut root = block;
        while self.parent[root] != root {
            self.parent[root] = self.parent[self.parent[root]];
            root = self.parent[root];
        }
        root
    }
}

impl Regions {
    /// Numbers what has the same mark, in the order of first blocks.
    pub fn numbered(marks: &[usize]) -> Self {
        let mut numbers: BTreeMap<usize, usize> = BTreeMap::new();
        let mut of = Vec::with_capacity(marks.len());
        for &mark in marks {
            let next = numbers.len();
            of.push(*numbers.entry(mark).or_insert(next));
        }
        Self { of, count: numbers.len() }
    }

    /// The blocks of each.
    pub fn blocks(&self) -> Vec<Vec<usize>> {
        let mut blocks = vec![Vec::new(); self.count];
        self.of.iter().enumerate().for_each(|(block, &region)| blocks[region].push(block));
        blocks
    }

    /// What the blocks of each add up to.
    pub fn sums(&self, blocks: &Blocks) -> Vec<Sum> {
        let mut sums = vec![Sum::default(); self.count];
        self.of.iter().zip(&blocks.sums).for_each(|(&region, sum)| sums[region].add(sum));
        sums
    }

    /// Lines between each two that touch, the smaller number first, with the sum of their strengths.
    pub fn touching(&self, blocks: &Blocks, edges: &Edges) -> BTreeMap<(usize, usize), Edge> {
        let mut touching: BTreeMap<(usize, usize), Edge> = BTreeMap::new();
        let mut line = |one: usize, other: usize, strength: f64| {
            let (one, other) = (self.of[one], self.of[other]);
            if one != other {
                let edge = touching.entry((one.min(other), one.max(other))).or_default();
                *edge = (edge.0 + strength, edge.1 + 1.0);
            }
        };
        for block in 0..blocks.sums.len() {
            let (column, row) = blocks.at(block);
            if column + 1 < blocks.columns {
                line(block, block + 1, edges.right[block]);
            }
            if row + 1 < blocks.rows {
                line(block, block + blocks.columns, edges.below[block]);
            }
        }
        touching
    }
}
