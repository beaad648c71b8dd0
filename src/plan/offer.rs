//! A scene a little larger or smaller, round which a border comes out even.

use std::collections::BTreeSet;

use super::Plan;
use crate::finish::{BorderWork, Top};
use crate::measure::Length;

/// Columns and rows of squares more or less, of which one or both are one.
const STEPS: [[i64; 2]; 8] = [[-1, 0], [1, 0], [0, -1], [0, 1], [-1, -1], [1, 1], [-1, 1], [1, -1]];

/// What would come out more evenly.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Offer {
    /// Columns and rows of squares more, or less.
    pub steps: [i64; 2],
    /// Finished side of those squares.
    pub square: Length,
    /// What the top then finishes at.
    pub top: [Length; 2],
    /// Width of the border, all round.
    pub border: Length,
}

impl Plan {
    /// Where the border that is worked out to a size is not as wide at the sides as at the ends: the scene of a column or a
    /// row of its own squares more or less round which it is, the nearest first.
    pub fn offer(&self) -> Option<Offer> {
        let request = &self.request;
        let is_free = |border: &&BorderWork| border.asked.width.is_none() && border.pieced.is_none() && !border.evens;
        let (seam, cloth_width, ruler) = (request.seam.working, request.cloth_width, request.ruler);
        let round = |[width, height]: [Length; 2]| {
            let borders = request.finish.round(&Top { width, height, seam, cloth_width, ruler }).ok()?;
            borders.iter().find(is_free).map(|border| [border.sides, border.ends])
        };
        let [sides, ends] = round([request.width, request.height])?;
        if sides == ends {
            return None;
        }
        let rows = self.rows();
        let sizes = rows.iter().flat_map(|(_, row)| row.units.iter().map(|unit| (unit.width, row.height)));
        let squares: BTreeSet<u32> = sizes.filter_map(|(width, height)| (width == height).then_some(width)).collect();
        let mut offers = Vec::new();
        for square in squares.into_iter().map(|cells| request.grid * cells) {
            for steps in STEPS {
                let top = [request.width + square * steps[0], request.height + square * steps[1]];
                if top[0].min(top[1]) < square {
                    continue;
                }
                let even = round(top).filter(|[sides, ends]| sides == ends);
                offers.extend(even.map(|[border, _]| Offer { steps, square, top, border }));
            }
        }
        offers.into_iter().min_by_key(|offer| (offer.steps[0].abs() + offer.steps[1].abs(), offer.square))
    }
}
