//! The rows in order: every unit with its turn, its source and its cut.

use super::batches::batch_of;
use super::fillers::{cut_size, sewn_width};
use super::{Batch, FillerCut, Press, RowWork, Size, Source, Strip, UnitWork};
use crate::measure::{Drift, Length};
use crate::plan::{Piece, Placed, Plan};
use crate::unit::{Cut, Triangle, Vocabulary};

/// What the measured seam makes of the top: by the units of its rows and the rows of its columns.
pub fn drift(plan: &Plan) -> Drift {
    let units = |band: &crate::plan::Band, most: bool| -> usize {
        let counts = |column: &crate::plan::Column| {
            let counts = column.rows.iter().map(|row| row.units.len());
            if most { counts.max() } else { counts.min() }.unwrap_or(0)
        };
        band.columns.iter().map(counts).sum()
    };
    let fewest = plan.bands.iter().map(|band| units(band, false)).min().unwrap_or(0);
    let most = plan.bands.iter().map(|band| units(band, true)).max().unwrap_or(0);
    let rows = |band: &crate::plan::Band| band.columns.iter().map(|c| c.rows.len()).max().unwrap_or(0);
    let request = &plan.request;
    request.seam.drift(request.width, request.height, fewest, most, plan.bands.iter().map(rows).sum())
}

/// Every row as it is sewn.
pub fn rows(plan: &Plan, vocabulary: &Vocabulary, batches: &[Batch], fillers: &[FillerCut]) -> Vec<RowWork> {
    let mut placed = plan.placed().into_iter();
    let both = plan.request.seam.both();
    let rows = plan.rows().into_iter().map(|(address, row)| {
        let units: Vec<UnitWork> = placed
            .by_ref()
            .take(row.units.len())
            .map(|placed| unit(plan, vocabulary, batches, fillers, placed))
            .collect();
        let width = units.iter().map(|unit| unit.finished.width).sum();
        let finished = Size { width, height: plan.request.grid * row.height };
        let unfinished = finished.unfinished(both);
        let spares = units.iter().map(|unit| unit.cut.map_or(Length::ZERO, |cut| cut.width - unit.unfinished.width));
        let sewn_width = sewn_width(unfinished, spares);
        let press = if address.row % 2 == 1 { Press::Left } else { Press::Right };
        RowWork { address, units, finished, unfinished, sewn_width, press }
    });
    rows.collect()
}

fn unit(plan: &Plan, vocabulary: &Vocabulary, batches: &[Batch], fillers: &[FillerCut], placed: Placed) -> UnitWork {
    let grid = plan.request.grid;
    let finished = Size { width: grid * placed.unit.width, height: grid * placed.height };
    let unfinished = finished.unfinished(plan.request.seam.both());
    let kind = placed.unit.piece.kind(vocabulary);
    let common = |first, second, source| UnitWork {
        placed,
        kind,
        first,
        second,
        turn: None,
        finished,
        unfinished,
        cut: None,
        source,
        strip: None,
        offcut_to: None,
    };
    match placed.unit.piece {
        Piece::Filler(fabric) => {
            let cut = cut_size(plan, &placed);
            let index = fillers.iter().position(|f| (f.fabric, f.cut) == (fabric, cut));
            UnitWork { cut: Some(cut), ..common(fabric, None, Source::Filler(index.unwrap_or(0))) }
        }
        Piece::Triangle(t) => {
            let (first, second) = t.pair();
            let source = Source::Batch(batch_of(batches, &t, vocabulary).unwrap_or(0));
            let strip = strip(vocabulary, &t, &placed);
            UnitWork { turn: Some(t.turn()), strip, ..common(first, Some(second), source) }
        }
    }
}

fn strip(vocabulary: &Vocabulary, triangle: &Triangle, placed: &Placed) -> Option<Strip> {
    let side = triangle.strip_side(placed.unit.width, placed.height)?;
    let part = vocabulary.grid * placed.unit.width.min(placed.height);
    let cut = match triangle.cut {
        Cut::Whole => return None,
        Cut::Trimmed => vocabulary.grid * triangle.block - part,
        Cut::Slice => part + vocabulary.seam.both(),
    };
    Some(Strip { cut, side })
}
