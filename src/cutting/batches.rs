//! Which squares to pair with which, by which method, and which unit comes from which pairs.

use std::cmp::Reverse;
use std::collections::BTreeMap;

use super::{Batch, Upright};
use crate::fabric::{Fabric, Print};
use crate::unit::{Block, ByCorner, Corner, Pairing, Triangle, UprightPairing, UprightWays, Vocabulary, pairings};
use typed_index_collections::TiSlice;

/// One pair of fabrics and one size, and whether a print of it stands upright.
type Key = (Print, Print, u32, bool);

/// The pairs for units to be sewn: those that no other unit's strip stands for.
pub fn pair_up(units: &[Triangle<Print>], vocabulary: &Vocabulary, fabrics: &TiSlice<Print, Fabric>) -> Vec<Batch> {
    let mut demand: BTreeMap<Key, ByCorner> = BTreeMap::new();
    units.iter().for_each(|unit| demand.entry(key(unit)).or_default()[unit.turn() as usize] += 1);
    let of = |((first, second, block, upright), needed): (Key, ByCorner)| {
        let bench = Bench { first, second, unit: block_of(vocabulary, block), vocabulary };
        if upright { bench.upright(needed, fabrics) } else { bench.turned(needed.iter().sum()) }
    };
    let mut batches: Vec<Batch> = demand.into_iter().flat_map(of).collect();
    let diagonal = |batch: &Batch| batch.upright.map(|upright| upright.diagonal);
    batches.sort_by_key(|b| (b.first, b.second, Reverse((b.finished, b.square.cut, b.at_a_time)), diagonal(b)));
    batches
}

/// What is left in each batch as units are taken from them in order.
pub struct UnitsLeft<'a> {
    batches: &'a [Batch],
    vocabulary: &'a Vocabulary,
    /// By corner where a print stands upright, else all in the first place.
    left: Vec<ByCorner>,
}

impl<'a> UnitsLeft<'a> {
    /// Every batch as sewn.
    pub fn new(batches: &'a [Batch], vocabulary: &'a Vocabulary) -> Self {
        let left = |batch: &Batch| batch.upright.map_or([batch.needed, 0, 0, 0], |upright| upright.needed);
        Self { batches, vocabulary, left: batches.iter().map(left).collect() }
    }

    /// Takes a unit from the first batch that still has one.
    pub fn take(&mut self, triangle: &Triangle<Print>) -> Option<usize> {
        let of = |b: &Batch| (b.first, b.second, self.vocabulary.cells(b.finished), b.upright.is_some());
        let place = triangle.stands().map_or(0, |corner| corner as usize);
        let mut stocked = self.batches.iter().zip(&self.left);
        let index = stocked.position(|(batch, left)| left[place] > 0 && of(batch) == key(triangle))?;
        self.left[index][place] -= 1;
        Some(index)
    }
}

fn key(triangle: &Triangle<Print>) -> Key {
    let (first, second) = triangle.pair();
    (first, second, triangle.block, triangle.upright)
}

fn block_of(vocabulary: &Vocabulary, block: u32) -> &Block {
    let unit = vocabulary.blocks.iter().find(|b| vocabulary.cells(b.finished) == block);
    unit.expect("a unit is of a size that the squares give")
}

/// Two fabrics, and the units of one size that are sewn of them.
struct Bench<'a> {
    first: Print,
    second: Print,
    unit: &'a Block,
    vocabulary: &'a Vocabulary,
}

impl Bench<'_> {
    fn batch(&self, Pairing { square, at_a_time, pairs }: Pairing, needed: u32, upright: Option<Upright>) -> Batch {
        Batch {
            id: String::new(),
            first: self.first,
            second: self.second,
            size: self.unit.at_a_time.size(),
            square,
            at_a_time,
            trimmed: self.unit.trimmed,
            finished: self.unit.finished,
            pairs,
            needed,
            upright,
        }
    }

    /// The pairs of units that may be turned; the first are used up before the next.
    fn turned(&self, needed: u32) -> Vec<Batch> {
        let mut left = needed;
        let batch = |pairing: Pairing| {
            let needed = left.min(pairing.pairs.saturating_mul(pairing.at_a_time.yields()));
            left -= needed;
            self.batch(pairing, needed, None)
        };
        pairings(self.vocabulary, self.unit.finished, needed).into_iter().map(batch).collect()
    }

    /// The pairs of units that stand, by corner; the first are used up before the next.
    fn upright(&self, needed: ByCorner, fabrics: &TiSlice<Print, Fabric>) -> Vec<Batch> {
        let (one, other) = (fabrics[self.first].upright, fabrics[self.second].upright);
        let mut left = needed;
        let ways = UprightWays::new(self.vocabulary, self.unit.finished, one && other);
        let batch = |pairing: UprightPairing| {
            let yields = pairing.yields();
            let needed: ByCorner = Corner::ALL.map(|corner| {
                let at = corner as usize;
                let taken = left[at].min(pairing.pairs.saturating_mul(yields[at]));
                left[at] -= taken;
                taken
            });
            let upright = Upright { diagonal: pairing.diagonal, second_below: !one, both: one && other, needed };
            let UprightPairing { square, at_a_time, pairs, .. } = pairing;
            self.batch(Pairing { square, at_a_time, pairs }, needed.iter().sum(), Some(upright))
        };
        ways.pairings(needed).into_iter().map(batch).collect()
    }
}
