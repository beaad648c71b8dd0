//! How long the work takes: counts of what is done, and a rate for each.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{Source, UnitWork, Work};
use crate::cutting::SheetCut;
use crate::finish::{BindingCut, Finishing};
use crate::measure::Length;
use crate::plan::Plan;
use crate::unit::AtATime;

/// Seconds that each thing takes. By eye, on nobody in particular: the maker gives her own.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Rates {
    /// One cut with the rotary cutter, ruler laid.
    pub cut: u32,
    /// One seam, from picking up to pressing, beside its stitching.
    pub seam: u32,
    /// A yard of piecing, stitched by machine.
    pub yard: u32,
    /// Trimming a unit to its size.
    pub trim: u32,
    /// A yard of quilting by machine.
    pub quilting: u32,
    /// A yard sewn by hand.
    pub hand: u32,
}

impl Default for Rates {
    fn default() -> Self {
        Self { cut: 20, seam: 45, yard: 45, trim: 40, quilting: 75, hand: 600 }
    }
}

/// What a part of the work is made of.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Effort {
    /// Cuts.
    pub cuts: u64,
    /// Seams.
    pub seams: u64,
    /// Units that are trimmed.
    pub trims: u64,
    /// What is stitched by machine.
    pub stitched: Length,
    /// What is quilted.
    pub quilted: Length,
    /// What is sewn by hand.
    pub by_hand: Length,
}

impl Effort {
    /// How long it takes, in seconds.
    pub fn seconds(&self, rates: &Rates) -> u64 {
        let yards = |length: Length, rate: u32| {
            (length.ticks().max(0) as u128 * u128::from(rate)).div_ceil(Length::YARD.ticks() as u128) as u64
        };
        let times = |count: u64, rate: u32| count.saturating_mul(u64::from(rate));
        times(self.cuts, rates.cut)
            + times(self.seams, rates.seam)
            + times(self.trims, rates.trim)
            + yards(self.stitched, rates.yard)
            + yards(self.quilted, rates.quilting)
            + yards(self.by_hand, rates.hand)
    }
}

/// The parts of the work in their order: cutting, pairs, rows, joining, finishing, quilting. What is sewn already is none.
pub fn efforts(plan: &Plan, work: &Work, finishing: Option<&Finishing>) -> [(&'static str, Effort); 6] {
    [
        ("cutting", cutting(work)),
        ("pairs", pairs(work)),
        ("rows", rows(plan, work)),
        ("joining", joining(plan)),
        ("finishing", finishing.map(finish).unwrap_or_default()),
        ("quilting", finishing.map(|finishing| quilting(plan, finishing)).unwrap_or_default()),
    ]
}

/// A cut for each strip and each piece, as the sheets are laid out.
fn cutting(work: &Work) -> Effort {
    let sheets = work.cloth.iter().flat_map(|cut| &cut.sheets);
    let cuts = |sheet: &SheetCut| {
        let of = sheet.layout.strips.iter().map(|strip| 1 + strip.cuts.len() as u64).sum::<u64>();
        of * u64::from(sheet.count)
    };
    Effort { cuts: sheets.map(cuts).sum(), ..Effort::default() }
}

/// Pairs sewn and cut apart; every unit that is used is trimmed, and its strip cut off.
fn pairs(work: &Work) -> Effort {
    let mut effort = Effort::default();
    for batch in &work.batches {
        let side = batch.square.cut;
        let diagonal = Length::from_ticks(side.ticks() / 1_000 * 1_414);
        let (seams, cuts, each) = match batch.at_a_time {
            AtATime::Two => (2, 1, diagonal),
            AtATime::Four => (4, 2, side),
            AtATime::Eight => (4, 4, diagonal),
        };
        let count = u64::from(batch.pairs);
        effort.seams += count * seams;
        effort.cuts += count * cuts;
        effort.trims += u64::from(batch.needed);
        effort.stitched += each * (seams as i64) * i64::from(batch.pairs);
    }
    let made = |unit: &&UnitWork| unit.strip.is_some() && unit.source != Source::Sewn;
    effort.cuts += work.rows.iter().flat_map(|row| &row.units).filter(made).count() as u64;
    effort
}

/// Seams between the units of a row.
fn rows(plan: &Plan, work: &Work) -> Effort {
    let mut effort = Effort::default();
    for row in &work.rows {
        let sewn = |pair: &&[UnitWork]| pair.iter().any(|unit| unit.source != Source::Sewn);
        let seams = row.units.windows(2).filter(sewn).count();
        effort.seams += seams as u64;
        effort.stitched += (row.finished.height + plan.request.seam.both()) * (seams as i64);
    }
    effort
}

/// Seams between rows, columns and bands.
fn joining(plan: &Plan) -> Effort {
    let seams = plan.bands.iter().flat_map(|band| &band.columns).map(|column| column.rows.len() as u64 - 1);
    let columns = plan.bands.iter().map(|band| band.columns.len() as u64 - 1);
    let seams = seams.sum::<u64>() + columns.sum::<u64>() + plan.bands.len() as u64 - 1;
    Effort { seams, stitched: plan.long_seams().length, ..Effort::default() }
}

/// Borders, back, binding and sleeve: strips cut and joined, sewn on, and what is sewn down by hand.
fn finish(finishing: &Finishing) -> Effort {
    let mut effort = Effort::default();
    for border in &finishing.borders {
        let strips: i64 = border.runs.iter().map(|run| run.count).sum();
        effort.cuts += strips.max(0) as u64 + 4;
        effort.seams += (strips - border.runs.len() as i64).max(0) as u64 + 4;
        effort.stitched += border.pieces.iter().map(|pieces| pieces.length * 2i64).sum();
        if let Some(units) = &border.pieced {
            let places = units.places() as u64;
            (effort.cuts, effort.seams) = (effort.cuts + places, effort.seams + places);
            effort.stitched += border.sides * (places as i64);
            if let Some(side) = units.pair {
                // Each unit has a seam of its own, and is trimmed.
                (effort.seams, effort.trims) = (effort.seams + places, effort.trims + places);
                effort.stitched += side * (places as i64);
            }
        }
        if border.cornerstones.is_some() {
            (effort.cuts, effort.seams) = (effort.cuts + 4, effort.seams + 4);
        }
    }
    if let Some(backing) = &finishing.backing {
        let lengths = backing.lengths;
        (effort.cuts, effort.seams) = (effort.cuts + 4 + lengths as u64, effort.seams + lengths as u64 - 1);
        effort.stitched += backing.length * (lengths - 1);
        if let Some(middle) = &backing.middle {
            (effort.seams, effort.stitched) = (effort.seams + 2, effort.stitched + middle.length * 2i64);
        }
    }
    if let Some(binding) = &finishing.binding {
        let strips = match binding.cut {
            BindingCut::Straight(run) => run.count,
            BindingCut::Bias { squares, .. } => squares * 2,
        };
        // The edge is squared up on four sides.
        (effort.cuts, effort.seams) = (effort.cuts + 4 + strips as u64, effort.seams + 4 + strips as u64);
        (effort.stitched, effort.by_hand) = (effort.stitched + binding.edge, effort.by_hand + binding.edge);
    }
    if let Some(facing) = &finishing.facing {
        let strips = facing.run.count;
        // It is sewn on, stitched down beside its seam, and sewn down by hand.
        (effort.cuts, effort.seams) = (effort.cuts + 8 + strips as u64, effort.seams + 7 + strips as u64);
        (effort.stitched, effort.by_hand) =
            (effort.stitched + facing.run.needed * 2i64, effort.by_hand + facing.run.needed);
    }
    if let Some(sleeve) = &finishing.sleeve {
        let (strips, width) = (sleeve.run.count, sleeve.run.needed);
        (effort.cuts, effort.seams) = (effort.cuts + strips as u64, effort.seams + strips as u64 + 2);
        (effort.stitched, effort.by_hand) = (effort.stitched + width, effort.by_hand + width * 2i64);
    }
    effort
}

fn quilting(plan: &Plan, finishing: &Finishing) -> Effort {
    let is_layered = finishing.backing.is_some() || finishing.batting.is_some();
    let quilted = if is_layered { plan.quilting(finishing).stitched } else { Length::ZERO };
    Effort { quilted, ..Effort::default() }
}
