//! What there is of each family: cloth in cells, and pieces on hand.
//!
//! Numbers without a source were found by trial, no figures kept; `cargo bench --bench stashes` shows what others do.

use std::collections::BTreeMap;

use typed_index_collections::{TiSlice, TiVec};

use super::sheets::{Sheet, Sheets, area};
use crate::compose::{Parts, Ready, filler_cloth};
use crate::fabric::{Fabric, Family, Print, Supply};
use crate::measure::Length;
use crate::plan::Item;
use crate::unit::{pairable, pairings};

/// Part of a unit that a slice pays at first.
const SLICE: f64 = 0.3;

/// Cloth of each family in cells, none where it is free, and what is on hand.
#[derive(Clone, Debug, PartialEq)]
pub struct Have {
    /// Squares and lengths together.
    pub cloth: TiVec<Family, Option<f64>>,
    /// So much of it as can be paired with another print of the family.
    pub alike: TiVec<Family, Option<f64>>,
    /// Squares that pairs may want, by side: how many each family gives where it gives nothing else.
    pub squares: Vec<(Length, TiVec<Family, Option<f64>>)>,
    /// For each of these sides the blocks whose units take such squares and no others, or larger ones that hold a whole
    /// number of them.
    pub blocks: Vec<Vec<u32>>,
    /// Pieces on hand, by family.
    pub on_hand: BTreeMap<Item<Family>, u32>,
    /// How trimmed units and slices share the price of a unit.
    pub parts: Parts,
    /// One sheet of each size of a family, none where it is free.
    sheets: TiVec<Family, Vec<Sheet>>,
    /// Of what a sheet loses where it is cut into fillers of one size alone, the part that is counted with each, by family.
    pub offcuts: TiVec<Family, f64>,
    /// How many of a piece can be cut or sewn, where real sheets were found not to give more.
    pub most: BTreeMap<Item<Family>, u32>,
}

impl Have {
    /// The cloth of each family's prints; a print without counts makes its family free.
    pub fn new(ready: &Ready, fabrics: &TiSlice<Print, Fabric>) -> Self {
        let cell = area(ready.vocabulary.grid, ready.vocabulary.grid);
        let of_print = |&print: &Print| Some(Sheets::of(fabrics[print].supply.as_ref()?).area() / cell);
        let all = |prints: &Vec<Print>| prints.iter().map(of_print).sum::<Option<f64>>();
        // A print that has more than all others together cannot be paired away.
        let alike = |prints: &Vec<Print>| {
            let most = prints.iter().filter_map(of_print).fold(0.0, f64::max);
            all(prints).map(|all| (all - most).min(all / 2.0))
        };
        let squares = squares(ready, fabrics);
        Self {
            blocks: squares.iter().map(|(side, _)| blocks(ready, *side)).collect(),
            cloth: ready.families.iter().map(all).collect(),
            alike: ready.families.iter().map(alike).collect(),
            squares,
            on_hand: ready.on_hand.clone(),
            parts: Parts::default(),
            sheets: ready.families.iter().map(|prints| sheets(prints, fabrics)).collect(),
            offcuts: vec![0.0; ready.families.len()].into(),
            most: BTreeMap::new(),
        }
    }

    /// Counts strips: a trimmed unit and a slice each pay a part of the unit that they may both be cut from.
    ///
    /// Of each kind as many units are made as are whole or trimmed, at least, and as many as are whole or sliced; any
    /// mean of the two is a bound. Units that are there, or stand, give strips that nothing here counts.
    pub fn count_strips(&mut self) {
        self.parts = Parts { trimmed: 1.0 - SLICE, slice: SLICE };
    }

    /// Whether slices take cloth.
    pub fn strips_are_counted(&self) -> bool {
        self.parts.slice > 0.0
    }

    /// Cells of cloth for a filler of a family: its own with its seams, and its part of what a sheet loses.
    pub fn filler(&self, ready: &Ready, family: Family, [long, short]: [u32; 2]) -> f64 {
        let own = filler_cloth(&ready.vocabulary, long as usize, short as usize);
        if self.offcuts[family] == 0.0 {
            return own;
        }
        let (grid, seams) = (ready.vocabulary.grid, ready.vocabulary.seam.both());
        let piece = [long, short].map(|side| grid * side + seams);
        let alone = self.sheets[family].iter().filter_map(|sheet| sheet.share(piece)).min_by(f64::total_cmp);
        own + self.offcuts[family] * alone.map_or(0.0, |alone| (alone / area(grid, grid) - own).max(0.0))
    }

    /// Whether there is no cloth of a family at all.
    pub fn none_of(&self, family: Family) -> bool {
        self.cloth[family] == Some(0.0)
    }
}

/// Blocks whose units take squares of one size, a whole number of squares of this side.
fn blocks(ready: &Ready, side: Length) -> Vec<u32> {
    let vocabulary = &ready.vocabulary;
    let takes = |block: &u32| {
        let pairs = (1..=4).flat_map(|half| pairings(vocabulary, vocabulary.grid * *block, 2 * half));
        let mut sizes: Vec<Length> = pairs.map(|pairing| pairing.square.cut).collect();
        sizes.sort_unstable();
        sizes.dedup();
        matches!(sizes[..], [size] if side * size.floor_div(side) == size)
    };
    vocabulary.sides().into_iter().filter(takes).collect()
}

/// How many squares of each side that may be paired the families' cloth gives.
fn squares(ready: &Ready, fabrics: &TiSlice<Print, Fabric>) -> Vec<(Length, TiVec<Family, Option<f64>>)> {
    let mut sides: Vec<Length> = pairable(&ready.vocabulary).iter().map(|square| square.cut).collect();
    sides.sort_unstable();
    sides.dedup();
    let of_print = |&print: &Print, side: Length| Some(Sheets::of(fabrics[print].supply.as_ref()?).left(side) as f64);
    let of_all = |side: Length| {
        ready.families.iter().map(|prints| prints.iter().map(|print| of_print(print, side)).sum()).collect()
    };
    sides.into_iter().map(|side| (side, of_all(side))).collect()
}

/// A sheet of each size of some prints; none where one of them is free.
fn sheets(prints: &[Print], fabrics: &TiSlice<Print, Fabric>) -> Vec<Sheet> {
    let supplies: Option<Vec<&Supply>> = prints.iter().map(|&print| fabrics[print].supply.as_ref()).collect();
    let sheets = supplies.into_iter().flatten().flat_map(Supply::sheets);
    let mut sizes: Vec<[Length; 2]> = sheets.map(|sheet| [sheet.width, sheet.height]).collect();
    sizes.sort_unstable();
    sizes.dedup();
    sizes.into_iter().map(|[width, height]| Sheet::whole(width, height, 1)).collect()
}
