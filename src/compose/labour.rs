//! What the work costs, in the same measure as the picture's errors.

use crate::measure::Length;
use crate::plan::Request;
use crate::unit::{Cut, Vocabulary};

/// Labour in doubled cell costs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Labour {
    /// A whole triangle unit.
    pub triangle: u32,
    /// More for a unit with a strip cut off.
    pub trimmed: u32,
    /// A slice.
    pub slice: u32,
    /// A filler.
    pub filler: u32,
    /// More for each cell of a filler: plain cloth where triangles are wanted.
    pub filler_cell: u32,
    /// Each cell along a seam between rows.
    pub row_seam: u32,
    /// More for each cell along a low row and each cell that it is short of `low`.
    pub low_row: u32,
    /// Rows of fewer cells are low.
    pub low: u32,
    /// More for a triangle unit of two fabrics that are nearly one.
    pub quiet: u32,
    /// A triangle unit that leans against the alternating rule of position.
    pub lean: u32,
    /// A seam between columns, and each cell along it.
    pub column: u32,
    /// Each cell along a seam between columns.
    pub column_seam: u32,
}

impl Labour {
    /// No labour at all: likeness alone.
    #[cfg(feature = "internals")]
    pub const NONE: Self = Self {
        triangle: 0,
        trimmed: 0,
        slice: 0,
        filler: 0,
        filler_cell: 0,
        row_seam: 0,
        low_row: 0,
        low: 0,
        quiet: 0,
        lean: 0,
        column: 0,
        column_seam: 0,
    };

    /// Labour for the vocabulary at the dials of a request.
    ///
    /// The figures were found by eye on photos at 9 in and at 4 in and lie on a line between.
    pub fn new(vocabulary: &Vocabulary, request: &Request) -> Self {
        let cell = i128::from(vocabulary.grid.ticks().max(1));
        let half_inch = i128::from(Length::inches(1, 2).ticks());
        let largest = i128::from(vocabulary.largest_cells()) * cell;
        let detail = i128::from(request.detail.max(1));
        // Twice the figure at 9 in finished, less `step` for each inch below, at 1/2 in cells.
        let at = |nine: i128, step: i128| {
            let figure = nine * 18 * half_inch + step * (largest - 18 * half_inch) / 2 * 18;
            (figure * 2).max(nine * 2 * 18 * half_inch / 12) * 100 / detail
        };
        let each = |nine, step| clip(at(nine, step) * half_inch / (18 * cell * cell));
        let along = |nine, step| clip(at(nine, step) / (18 * cell));
        let triangle = each(2000, 260);
        let quiet = request.quiet.clamp(1, 100);
        let low = clip(4 * half_inch / cell);
        let row_seam = along(45, 6);
        let plain = |count: u32| count.saturating_mul(request.triangles) / 100;
        Self {
            triangle,
            trimmed: clip(i128::from(each(3600, 460)) * 100 / i128::from(request.trims.max(1))),
            slice: each(12_000, 1480),
            filler: each(1700, 150),
            filler_cell: plain(clip(18_500 / detail)),
            row_seam,
            // At 1/2 in cells a row is charged one seam more for each cell under 2 in.
            low_row: 4 * row_seam / low.max(1),
            low,
            lean: each(200, 26),
            quiet: triangle * (100 - quiet) / quiet,
            column: each(16_000, 1760),
            column_seam: along(50, 7),
        }
    }

    /// Labour of a triangle unit, apart from its lean.
    pub fn unit(&self, cut: Cut) -> u32 {
        match cut {
            Cut::Whole => self.triangle,
            Cut::Trimmed => self.triangle + self.trimmed,
            Cut::Slice => self.slice,
        }
    }

    /// Labour of each cell along a row of a height: its seam, and more where it is low.
    pub fn row(&self, height: usize) -> i64 {
        i64::from(self.row_seam) + i64::from(self.low_row) * i64::from(self.low.saturating_sub(height as u32))
    }

    /// Labour of a filler of so many cells.
    pub fn rectangle(&self, cells: usize) -> u32 {
        self.filler + self.filler_cell * cells as u32
    }
}

/// No figure may outgrow what the solver adds up in 32 bits.
fn clip(figure: i128) -> u32 {
    u32::try_from(figure.clamp(0, 1 << 22)).unwrap_or(0)
}
