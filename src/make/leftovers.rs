//! What is left when the top is sewn: units, parts of units, quarters of squares.

use std::cmp::Reverse;
use std::collections::BTreeMap;

use super::{Source, Work};
use crate::cutting::{Batch, FabricCut, Ribbon, SheetCut, SheetKind, cut_off, remains};
use crate::fabric::{Lean, OnHand, Print};
use crate::measure::Length;
use crate::plan::{Item, Plan};
use crate::unit::Corner;

/// All that is left over, sizes exact.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Leftovers {
    /// Whole triangle units, by fabrics and then large to small.
    pub units: Vec<SpareUnits>,
    /// Strips, and what remained where a slice was cut: by fabrics and then large to small.
    pub strips: Vec<SpareStrips>,
    /// Quarters of squares, by fabric and then large to small.
    pub squares: Vec<SpareSquares>,
    /// Sheets of the stash that are not cut, and what stays whole of those that are: by fabric and then large to small.
    pub cloth: Vec<SpareCloth>,
}

/// Whole triangle units that are alike.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SpareUnits {
    /// First fabric.
    pub first: Print,
    /// Second fabric.
    pub second: Print,
    /// Finished side.
    pub finished: Length,
    /// The corner that the first fabric fills, where a print stands upright.
    pub stands: Option<Corner>,
    /// How many.
    pub count: u32,
}

/// Parts of triangle units that are alike, however they are turned.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SpareStrips {
    /// Fabric of the small triangle in the corner.
    pub tip: Print,
    /// Fabric of the rest.
    pub rest: Print,
    /// Finished side of the whole unit, which is the finished length.
    pub from: Length,
    /// Finished width.
    pub width: Length,
    /// Stood up with its tip on top: the corner that the tip is in.
    pub leans: Lean,
    /// The corner that the tip is in, where a print stands upright.
    pub stands: Option<Corner>,
    /// How many.
    pub count: u32,
}

/// Squares of cloth that are alike.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SpareSquares {
    /// Fabric.
    pub fabric: Print,
    /// Side as cut.
    pub side: Length,
    /// How many.
    pub count: u32,
}

/// Rectangles of cloth that are alike.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SpareCloth {
    /// Fabric.
    pub fabric: Print,
    /// What it is.
    pub kind: SheetKind,
    /// Width across the print.
    pub width: Length,
    /// Height up the print.
    pub height: Length,
    /// How many.
    pub count: u32,
}

/// What is left of the cloth of one fabric, the largest first.
type Rest = BTreeMap<(SheetKind, Reverse<Length>, Reverse<Length>), u32>;

impl Leftovers {
    /// Whether nothing is left.
    pub fn is_empty(&self) -> bool {
        self.units.is_empty() && self.strips.is_empty() && self.squares.is_empty() && self.cloth.is_empty()
    }
}

impl Work {
    /// What is left when the top is sewn; parts that two seams would take whole are not counted.
    pub fn leftovers(&self, plan: &Plan) -> Leftovers {
        Leftovers {
            units: self.spare_units(),
            strips: self.spare_strips(plan),
            squares: self.spare_squares(),
            cloth: self.spare_cloth(plan),
        }
    }

    /// What was on hand and is not used.
    pub fn hand_left(&self, plan: &Plan) -> OnHand {
        let mut used: BTreeMap<Item, u32> = self.hand.iter().map(|piece| (piece.item, piece.used)).collect();
        let grid = plan.request.grid;
        let mut take = |item: Option<Item>, count: &mut u32| {
            if let Some(used) = item.and_then(|item| used.get_mut(&item)) {
                let taken = (*count).min(*used);
                (*count, *used) = (*count - taken, *used - taken);
            }
            *count > 0
        };
        let mut left = plan.hand.clone();
        left.units.retain_mut(|unit| take(Item::of_unit(unit, grid), &mut unit.count));
        left.slices.retain_mut(|slice| take(Item::of_slice(slice, grid), &mut slice.count));
        left.fillers.retain_mut(|filler| take(Item::of_filler(filler, grid), &mut filler.count));
        left
    }

    fn spare_units(&self) -> Vec<SpareUnits> {
        let mut units: Vec<SpareUnits> = Vec::new();
        let spares = |batch: &Batch| {
            let &Batch { first, second, finished, .. } = batch;
            let spare = move |(stands, count)| SpareUnits { first, second, finished, stands, count };
            batch.spares().into_iter().map(spare)
        };
        for spare in self.batches.iter().flat_map(spares).filter(|spare| spare.count > 0) {
            match units.iter_mut().find(|unit| SpareUnits { count: spare.count, ..**unit } == spare) {
                Some(unit) => unit.count += spare.count,
                None => units.push(spare),
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
            stands: part.stands,
            count,
        });
        let mut strips: Vec<SpareStrips> = strips.collect();
        let fabrics = |strip: &SpareStrips| (strip.tip.min(strip.rest), strip.tip.max(strip.rest));
        strips.sort_by_key(|strip| (fabrics(strip), Reverse((strip.from, strip.width)), strip.tip));
        strips
    }

    fn spare_squares(&self) -> Vec<SpareSquares> {
        let mut spare: BTreeMap<(Print, Reverse<Length>), u32> = BTreeMap::new();
        for (fabric, cut) in self.cloth.iter_enumerated() {
            for (sheet, quarters) in cut.sheets.iter().filter_map(|sheet| Some((sheet, sheet.spare_quarters()?))) {
                *spare.entry((fabric, Reverse(sheet.layout.width / 2))).or_default() += quarters * sheet.count;
            }
        }
        spare.into_iter().map(|((fabric, side), count)| SpareSquares { fabric, side: side.0, count }).collect()
    }

    /// Nothing is left of a length to buy, and only what a filler could be cut from counts.
    fn spare_cloth(&self, plan: &Plan) -> Vec<SpareCloth> {
        let least = plan.request.least + plan.request.seam.both();
        let mut spare = Vec::new();
        for (fabric, cut) in self.cloth.iter_enumerated() {
            let mut rest = Rest::new();
            not_cut(cut, &mut rest);
            cut.sheets.iter().for_each(|sheet| remains_of(sheet, least, &mut rest));
            spare.extend(rest.into_iter().map(|((kind, width, height), count)| SpareCloth {
                fabric,
                kind,
                width: width.0,
                height: height.0,
                count,
            }));
        }
        spare
    }
}

fn not_cut(cut: &FabricCut, rest: &mut Rest) {
    for (index, there) in cut.cloth.iter().enumerate().filter(|(_, there)| !there.kind.is_bought()) {
        let used = cut.sheets.iter().filter(|sheet| sheet.layout.sheet == index).map(|sheet| sheet.count).sum::<u32>();
        let size = (Reverse(there.sheet.width), Reverse(there.sheet.height.unwrap_or(Length::ZERO)));
        if there.sheet.count > used {
            let count = rest.entry((there.kind, size.0, size.1)).or_default();
            *count = count.saturating_add(there.sheet.count - used);
        }
    }
}

/// The rest of a length is a length; all else is an odd piece.
fn remains_of(sheet: &SheetCut, least: Length, rest: &mut Rest) {
    if sheet.layout.height.is_none() || sheet.spare_quarters().is_some() {
        return;
    }
    for remain in sheet.layout.remains(least) {
        let (width, height) = match sheet.layout.turned {
            false => (remain.width, remain.height),
            true => (remain.height, remain.width),
        };
        let length = sheet.kind == SheetKind::Length && remain.width == sheet.layout.width;
        let kind = if length { SheetKind::Length } else { SheetKind::Oddment };
        let count = rest.entry((kind, Reverse(width), Reverse(height))).or_default();
        *count = count.saturating_add(sheet.count);
    }
}
