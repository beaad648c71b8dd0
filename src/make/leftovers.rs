//! What is left when the top is sewn: units, parts of units, quarters of squares.

use std::collections::BTreeMap;

use super::offcuts::{Ribbon, cut_off, remains};
use super::{Source, Work};
use crate::fabric::Lean;
use crate::measure::Length;
use crate::plan::{Item, Plan};

/// All that is left over, sizes exact.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Leftovers {
    /// Whole triangle units, by fabrics and then large to small.
    pub units: Vec<SpareUnits>,
    /// Strips, and what remained where a slice was cut: by fabrics and then large to small.
    pub strips: Vec<SpareStrips>,
    /// Quarters of squares, by fabric and then large to small.
    pub squares: Vec<SpareSquares>,
}

/// Whole triangle units that are alike.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SpareUnits {
    /// First fabric, by index.
    pub first: usize,
    /// Second fabric, by index.
    pub second: usize,
    /// Finished side.
    pub finished: Length,
    /// How many.
    pub count: u32,
}

/// Parts of triangle units that are alike, however they are turned.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SpareStrips {
    /// Fabric of the small triangle in the corner, by index.
    pub tip: usize,
    /// Fabric of the rest, by index.
    pub rest: usize,
    /// Finished side of the whole unit, which is the finished length.
    pub from: Length,
    /// Finished width.
    pub width: Length,
    /// Stood up with its tip on top: the corner that the tip is in.
    pub leans: Lean,
    /// How many.
    pub count: u32,
}

/// Squares of cloth that are alike.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SpareSquares {
    /// Fabric, by index.
    pub fabric: usize,
    /// Side as cut.
    pub side: Length,
    /// How many.
    pub count: u32,
}

impl Leftovers {
    /// Whether nothing is left.
    pub fn is_empty(&self) -> bool {
        self.units.is_empty() && self.strips.is_empty() && self.squares.is_empty()
    }
}

impl Work {
    /// What is left when the top is sewn; parts that two seams would take whole are not counted.
    pub fn leftovers(&self, plan: &Plan) -> Leftovers {
        Leftovers { units: self.spare_units(), strips: self.spare_strips(plan), squares: self.spare_squares() }
    }

    fn spare_units(&self) -> Vec<SpareUnits> {
        let mut units: Vec<SpareUnits> = Vec::new();
        for batch in self.batches.iter().filter(|batch| batch.spare() > 0) {
            let (first, second, finished, count) = (batch.first, batch.second, batch.finished, batch.spare());
            match units.last_mut() {
                Some(last) if (last.first, last.second, last.finished) == (first, second, finished) => {
                    last.count += count;
                }
                _ => units.push(SpareUnits { first, second, finished, count }),
            }
        }
        units
    }

    fn spare_strips(&self, plan: &Plan) -> Vec<SpareStrips> {
        let vocabulary = plan.vocabulary();
        let mut counts: BTreeMap<Ribbon, u32> = BTreeMap::new();
        for unit in self.rows.iter().flat_map(|row| &row.units) {
            let whole = match unit.source {
                Source::Batch(_) => true,
                Source::Hand(index) => self.hand.get(index).is_some_and(|used| matches!(used.item, Item::Unit { .. })),
                _ => false,
            };
            let open = whole && unit.offcut_to.is_none();
            let part = open.then(|| cut_off(&unit.placed, &vocabulary).or_else(|| remains(&unit.placed, &vocabulary)));
            let part = part.flatten();
            if let Some(part) = part.filter(|part| part.cut > vocabulary.seam.both()) {
                *counts.entry(part).or_default() += 1;
            }
        }
        let strips = counts.into_iter().map(|(part, count)| SpareStrips {
            tip: part.tip,
            rest: part.rest,
            from: vocabulary.grid * part.block,
            width: part.cut - vocabulary.seam.both(),
            leans: part.leans,
            count,
        });
        let mut strips: Vec<SpareStrips> = strips.collect();
        let fabrics = |strip: &SpareStrips| (strip.tip.min(strip.rest), strip.tip.max(strip.rest));
        strips.sort_by_key(|strip| (fabrics(strip), std::cmp::Reverse((strip.from, strip.width)), strip.tip));
        strips
    }

    fn spare_squares(&self) -> Vec<SpareSquares> {
        let left = self.squares().into_iter().filter(|needed| needed.spare_quarters() > 0);
        left.map(|needed| SpareSquares { fabric: needed.fabric, side: needed.side / 2, count: needed.spare_quarters() })
            .collect()
    }
}
