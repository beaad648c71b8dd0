//! A row that does not measure what it must: what to ease, what to sew or cut again, and when to change the scene.

use super::{RowWork, Source};
use crate::cutting::Size;
use crate::measure::{Length, Ruler};
use crate::plan::{Address, Plan};

/// What can be done about one row.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Remedy {
    /// What it must measure, unfinished.
    pub due: Length,
    /// How much longer it is than that; shorter if below nothing.
    pub off: Length,
    /// What to do.
    pub way: RemedyWay,
    /// From how much on nothing but another scene helps.
    pub most: Length,
}

/// What to do about a row.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RemedyWay {
    /// Nothing: it measures what it must.
    Fits,
    /// It is eased into its neighbours as they are pinned.
    Ease,
    /// Every seam is sewn again, its allowance so much deeper, or narrower if below nothing.
    Seams {
        /// How many seams.
        seams: usize,
        /// How much deeper each allowance.
        deeper: Length,
    },
    /// A filler is cut again.
    Recut {
        /// Which.
        unit: Address,
        /// Its size as cut.
        cut: Size,
    },
    /// The scene is changed: the row is marked as lost.
    Change,
}

/// Most that easing hides: 1/8 in or 3 mm over a row (common practice, no source).
fn eased(ruler: Ruler) -> Length {
    match ruler {
        Ruler::Inch => Length::inches(1, 8),
        Ruler::Metric => Length::mm(3),
    }
}

/// Most that an allowance may be deeper or narrower before points of triangles are lost: 1/16 in or 1.5 mm (common
/// practice, no source).
fn deeper(ruler: Ruler) -> Length {
    eased(ruler) / 2i64
}

/// What to do about a row of this plan that measures so much, unfinished, where it is to be joined.
pub fn remedy(plan: &Plan, row: &RowWork, measured: Length) -> Remedy {
    let (due, ruler) = (row.unfinished.width, plan.request.ruler);
    let off = measured - due;
    let far = off.abs();
    let seams = row.units.len().saturating_sub(1);
    // Both allowances of a seam give way alike.
    let by_seams = deeper(ruler) * 2i64 * seams as i64;
    let widest = row.units.iter().filter(|unit| unit.second.is_none() && unit.source != Source::Sewn);
    let widest = widest.max_by_key(|unit| (unit.finished.width, std::cmp::Reverse(unit.placed.address)));
    let by_filler = widest.map_or(Length::ZERO, |unit| (unit.finished.width - plan.request.least).max(Length::ZERO));
    let way = if far == Length::ZERO {
        RemedyWay::Fits
    } else if far <= eased(ruler) {
        RemedyWay::Ease
    } else if far <= by_seams {
        RemedyWay::Seams { seams, deeper: off / (2 * seams as i64) }
    } else if let Some(unit) = widest.filter(|_| far <= by_filler) {
        let cut = unit.cut.unwrap_or(unit.unfinished);
        RemedyWay::Recut { unit: unit.placed.address, cut: Size { width: cut.width - off, ..cut } }
    } else {
        RemedyWay::Change
    };
    Remedy { due, off, way, most: eased(ruler).max(by_seams).max(by_filler) }
}
