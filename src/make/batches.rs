//! Which squares to pair with which, by which method.

use std::collections::BTreeMap;

use super::Batch;
use crate::plan::{Piece, Placed};
use crate::unit::{Triangle, Vocabulary};

/// Units of one pair of fabrics and one size.
type Demand = BTreeMap<(usize, usize, u32), u32>;

/// The fewest pairs for every unit of the scene: each size from the first square that gives it.
pub fn pair_up(placed: &[Placed], vocabulary: &Vocabulary) -> Vec<Batch> {
    let mut demand = Demand::new();
    for unit in placed {
        if let Piece::Triangle(t) = unit.unit.piece {
            *demand.entry(key(&t)).or_default() += 1;
        }
    }
    let mut batches: Vec<Batch> =
        demand.into_iter().filter_map(|(key, needed)| batch(key, needed, vocabulary)).collect();
    batches.sort_by_key(|b| (b.first, b.second, b.at_a_time, std::cmp::Reverse(b.finished)));
    for (number, batch) in (1..).zip(&mut batches) {
        batch.id = format!("P{number}");
    }
    batches
}

/// The batch that a unit comes from.
pub fn batch_of(batches: &[Batch], triangle: &Triangle, vocabulary: &Vocabulary) -> Option<usize> {
    let (first, second, block) = key(triangle);
    batches.iter().position(|b| (b.first, b.second, vocabulary.cells(b.finished)) == (first, second, block))
}

fn key(triangle: &Triangle) -> (usize, usize, u32) {
    let (first, second) = triangle.pair();
    (first, second, triangle.block)
}

fn batch((first, second, block): (usize, usize, u32), needed: u32, vocabulary: &Vocabulary) -> Option<Batch> {
    let unit = vocabulary.blocks.iter().find(|b| vocabulary.cells(b.finished) == block)?;
    Some(Batch {
        id: String::new(),
        first,
        second,
        square: unit.square,
        at_a_time: unit.at_a_time,
        trimmed: unit.trimmed,
        finished: unit.finished,
        pairs: needed.div_ceil(unit.at_a_time.yields()),
        needed,
    })
}
