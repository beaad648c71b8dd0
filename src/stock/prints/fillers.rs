//! Fillers on real sheets, print after print, as `make` will cut them.

use std::collections::BTreeMap;

use super::{Prints, Size};
use crate::cutting::layout::PieceToCut as Cut;
use crate::cutting::{PairSquares, cut_of};
use crate::fabric::{Family, Print};
use crate::plan::Item;
use crate::stock::ledger::Short;
use crate::unit::Square;

impl Prints<'_> {
    /// Lays a family's fillers out, print after print; what found no room.
    pub(super) fn lay_out_family(&mut self, family: Family, fillers: &BTreeMap<Size, u32>) -> Option<Short> {
        let mut left: Vec<(Size, u32)> =
            fillers.iter().filter(|(size, _)| size.0 == family).map(|(&size, &count)| (size, count)).collect();
        let mut short = 0.0;
        for &print in &self.ready.families[family] {
            if self.supply(print).is_none() {
                for (size, count) in &mut left {
                    self.cut
                        .entry(*size)
                        .or_default()
                        .extend(std::iter::repeat_n(print, std::mem::take(count) as usize));
                }
                continue;
            }
            short += self.lay_out_print(print, &mut left);
        }
        for (size, _) in left.iter().filter(|(_, count)| *count > 0) {
            let item = |&(family, width, height): &Size| Item::filler(family, width, height);
            let alike = |(other, count): &(Size, u32)| (item(other) == item(size)).then(|| fillers[other] - count);
            self.most.insert(item(size), left.iter().filter_map(alike).sum());
        }
        let cell = self.order.request.grid.ticks() as f64;
        let cells = |(size, count): &(Size, u32)| area(&self.filler([size.1, size.2], *count)) / (cell * cell);
        let cells = short + left.iter().filter(|(_, count)| *count > 0).map(cells).sum::<f64>();
        (cells > 0.0).then_some(Short { family, cells })
    }

    /// Cuts the print's squares, what stands, and as many fillers as its cloth holds, as `make` will; cells short.
    fn lay_out_print(&mut self, print: Print, left: &mut [(Size, u32)]) -> f64 {
        let fabric = &self.order.fabrics[print];
        let wanted = self.given.iter().filter(|((given, ..), _)| *given == print);
        let squares = wanted.map(|((_, side, quartered), &count)| {
            let cut = if *quartered { *side / 2 } else { *side };
            PairSquares { id: String::new(), square: Square { cut, quartered: *quartered }, count }
        });
        let squares: Vec<PairSquares> = squares.collect();
        let standing = self.standing.iter().filter(|(size, _)| size.0 == print);
        let standing: Vec<([u32; 2], u32)> = standing.map(|(size, count)| ([size.1, size.2], *count)).collect();
        let fillers = standing.iter().copied().chain(left.iter().map(|(size, count)| ([size.1, size.2], *count)));
        let fillers = fillers.map(|(size, count)| self.filler(size, count)).collect();
        let laid = cut_of(fabric, self.order.request, &squares, fillers);
        let unplaced = laid.unplaced();
        let due = squares.len() + standing.len();
        for ((size, count), unplaced) in left.iter_mut().zip(&unplaced[due..]) {
            let placed = *count - unplaced;
            *count = *unplaced;
            self.cut.entry(*size).or_default().extend(std::iter::repeat_n(print, placed as usize));
        }
        let cell = self.order.request.grid.ticks() as f64;
        let short = laid.pieces.iter().zip(&unplaced).take(due);
        short.map(|(piece, &count)| area(&Cut { count, ..piece.clone() })).sum::<f64>() / (cell * cell)
    }

    /// A filler as it is cut; a spare row end may fall to any.
    fn filler(&self, [width, height]: [u32; 2], count: u32) -> Cut {
        let request = self.order.request;
        let cut = |cells: u32| request.grid * cells + request.seam.both();
        let width = cut(width) + request.row_ends.extra(request.ruler);
        Cut { id: String::new(), width, height: cut(height), count, turn: true }
    }
}

fn area(piece: &Cut) -> f64 {
    piece.width.ticks() as f64 * piece.height.ticks() as f64 * f64::from(piece.count)
}
