//! Which squares to pair with which, by which method, and which unit comes from which pairs.

use std::cmp::Reverse;
use std::collections::BTreeMap;

use super::Batch;
use crate::fabric::Print;
use crate::unit::{Triangle, Vocabulary, pairings};

/// One pair of fabrics and one size.
type Key = (Print, Print, u32);

/// The pairs for units to be sewn: those that no other unit's strip stands for.
pub fn pair_up(units: &[Triangle<Print>], vocabulary: &Vocabulary) -> Vec<Batch> {
    let mut demand: BTreeMap<Key, u32> = BTreeMap::new();
    units.iter().for_each(|unit| *demand.entry(key(unit)).or_default() += 1);
    let mut batches: Vec<Batch> =
        demand.into_iter().flat_map(|(key, needed)| batches(key, needed, vocabulary)).collect();
    batches.sort_by_key(|b| (b.first, b.second, Reverse((b.finished, b.square.cut, b.at_a_time))));
    batches
}

/// What is left in each batch as units are taken from them in order.
pub struct UnitsLeft<'a> {
    batches: &'a [Batch],
    vocabulary: &'a Vocabulary,
    left: Vec<u32>,
}

impl<'a> UnitsLeft<'a> {
    /// Every batch as sewn.
    pub fn new(batches: &'a [Batch], vocabulary: &'a Vocabulary) -> Self {
        Self { batches, vocabulary, left: batches.iter().map(|batch| batch.needed).collect() }
    }

    /// Takes a unit from the first batch that still has one.
    pub fn take(&mut self, triangle: &Triangle<Print>) -> Option<usize> {
        let gives = |b: &Batch| (b.first, b.second, self.vocabulary.cells(b.finished)) == key(triangle);
        let mut stocked = self.batches.iter().zip(&self.left);
        let index = stocked.position(|(batch, left)| *left > 0 && gives(batch))?;
        self.left[index] -= 1;
        Some(index)
    }
}

fn key(triangle: &Triangle<Print>) -> Key {
    let (first, second) = triangle.pair();
    (first, second, triangle.block)
}

/// The pairs of one size; the first are used up before the next.
fn batches((first, second, block): Key, needed: u32, vocabulary: &Vocabulary) -> Vec<Batch> {
    let unit = vocabulary.blocks.iter().find(|b| vocabulary.cells(b.finished) == block);
    let unit = unit.expect("a unit is of a size that the squares give");
    let mut left = needed;
    let batch = |pairing: crate::unit::Pairing| {
        let needed = left.min(pairing.pairs.saturating_mul(pairing.at_a_time.yields()));
        left -= needed;
        Batch {
            id: String::new(),
            first,
            second,
            size: unit.at_a_time.size(),
            square: pairing.square,
            at_a_time: pairing.at_a_time,
            trimmed: unit.trimmed,
            finished: unit.finished,
            pairs: pairing.pairs,
            needed,
        }
    };
    pairings(vocabulary, unit.finished, needed).into_iter().map(batch).collect()
}
