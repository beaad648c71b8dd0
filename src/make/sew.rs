//! The rows in order: every unit with its turn, its source and its cut.

use super::{RowWork, Source, StripOff, UnitWork};
use crate::cutting::{Cuts, Size, UnitsLeft, cut_size};
use crate::fabric::Print;
use crate::measure::{Drift, Length};
use crate::plan::{Address, Piece, Placed, Plan, Row, State};
use crate::unit::{Triangle, Vocabulary};

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

/// What the units are made from, as they are taken in order.
pub struct Bench<'a> {
    plan: &'a Plan,
    vocabulary: &'a Vocabulary,
    cuts: &'a Cuts,
    left: UnitsLeft<'a>,
}

impl<'a> Bench<'a> {
    /// Lays out all that was paired and cut.
    pub fn new(plan: &'a Plan, vocabulary: &'a Vocabulary, cuts: &'a Cuts) -> Self {
        Self { plan, vocabulary, cuts, left: UnitsLeft::new(&cuts.batches, vocabulary) }
    }

    /// Every row as it is sewn.
    pub fn rows(mut self) -> Vec<RowWork> {
        let plan = self.plan;
        let mut placed = plan.placed().into_iter();
        let rows = plan.rows().into_iter().map(|(address, row)| {
            let units = placed.by_ref().take(row.units.len()).map(|placed| self.unit(placed)).collect();
            row_work(plan, address, row, units)
        });
        rows.collect()
    }

    fn unit(&mut self, placed: Placed) -> UnitWork {
        let request = &self.plan.request;
        let finished = Size { width: request.grid * placed.unit.width, height: request.grid * placed.height };
        let common = |first, second, source| UnitWork {
            placed,
            kind: placed.unit.piece.kind(self.vocabulary),
            first,
            second,
            turn: None,
            finished,
            unfinished: finished.unfinished(request.seam.both()),
            cut: None,
            source,
            strip: None,
            offcut_to: None,
            bias: Vec::new(),
        };
        let sewn = (placed.unit.state == State::Sewn).then_some(Source::Sewn);
        let held = sewn.or(self.cuts.hand.from.get(&placed.address).map(|&index| Source::Hand(index)));
        match placed.unit.piece {
            Piece::Filler(fabric) => {
                let cut = cut_size(self.plan, &placed);
                let source = held.unwrap_or_else(|| {
                    let index = self.cuts.fillers.iter().position(|f| (f.fabric, f.cut) == (fabric, cut));
                    Source::Filler(index.expect("a filler that is not on hand is cut"))
                });
                UnitWork { cut: sewn.is_none().then_some(cut), ..common(fabric, None, source) }
            }
            Piece::Triangle(t) => {
                let (first, second) = t.pair();
                let offcut = self.cuts.offcuts.from.get(&placed.address).map(|&from| Source::Offcut(from));
                let source = held.or(offcut).unwrap_or_else(|| {
                    Source::Batch(self.left.take(&t).expect("a unit that is neither on hand nor a strip is sewn"))
                });
                let offcut_to = self.cuts.offcuts.to.get(&placed.address).copied();
                let strip = strip(self.vocabulary, &t, &placed).filter(|_| sewn.is_none());
                UnitWork {
                    turn: sewn.is_none().then(|| t.turn()),
                    strip,
                    offcut_to,
                    ..common(first, Some(second), source)
                }
            }
        }
    }
}

fn row_work(plan: &Plan, address: Address, row: &Row, units: Vec<UnitWork>) -> RowWork {
    let width = units.iter().map(|unit| unit.finished.width).sum();
    let finished = Size { width, height: plan.request.grid * row.height };
    let unfinished = finished.unfinished(plan.request.seam.both());
    let spares = units.iter().map(|unit| unit.cut.map_or(Length::ZERO, |cut| cut.width - unit.unfinished.width));
    let sewn_width = unfinished.width + spares.sum();
    RowWork { address, units, finished, unfinished, sewn_width }
}

fn strip(vocabulary: &Vocabulary, triangle: &Triangle<Print>, placed: &Placed) -> Option<StripOff> {
    let (width, height) = (placed.unit.width, placed.height);
    let cut = vocabulary.strip_cut(triangle.shape(width, height))?;
    Some(StripOff { cut, side: triangle.strip_side(width, height)? })
}
