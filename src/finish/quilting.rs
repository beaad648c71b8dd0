//! How the layers are quilted, and the thread that it takes.

use super::asked::pick;
use super::{Motif, Quilting};
use crate::measure::{Length, Ruler};

/// What is quilted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct QuiltingWork {
    /// Along what.
    pub motif: Motif,
    /// Most that lines are apart, or the radius of half circles.
    pub scale: Length,
    /// All that is stitched.
    pub stitched: Length,
    /// Thread for it, upper and lower together.
    pub thread: Length,
    /// What a bobbin holds.
    pub bobbin: Length,
    /// Bobbins to wind.
    pub bobbins: i64,
}

/// The seams of a top that quilting follows.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LongSeams {
    /// Height and width of every row.
    pub rows: Vec<[Length; 2]>,
    /// All seams between rows, columns, bands and borders.
    pub length: Length,
}

/// What one sheet of a stencil shows, so that it fits letter and A4.
pub const STENCIL_SHEET: [Length; 2] = [Length::inches(13, 2), Length::inches(25, 4)];

/// As many whole repeats of half circles as a sheet shows, one at least.
pub fn repeats(radius: Length) -> [Length; 2] {
    let repeat = radius * 2i64;
    STENCIL_SHEET.map(|room| repeat * room.floor_div(repeat).max(1))
}

impl Quilting {
    /// The most that lines are apart, or the radius of half circles: 2 in or 5 cm, and 3 in or 7.5 cm (common practice, no
    /// source).
    pub fn scale(&self, ruler: Ruler) -> Length {
        let usual = match self.motif {
            Motif::HalfCircles => pick(ruler, Length::INCH * 3i64, Length::mm(75)),
            Motif::Ditch | Motif::Rows => pick(ruler, Length::INCH * 2i64, Length::CM * 5i64),
        };
        self.scale.unwrap_or(usual)
    }

    /// What it comes to on a quilt of this size.
    ///
    /// Half circles of radius `r` in rows `r` apart, `2r` wide, take `π / 2r` of every area; all else is counted. A
    /// lockstitch takes two and a half times what is stitched, half of it from the bobbin (stitch class 301, from memory),
    /// and a bobbin holds 60 yd or 55 m (from memory).
    pub fn work(&self, size: [Length; 2], seams: &LongSeams, ruler: Ruler) -> QuiltingWork {
        let scale = self.scale(ruler);
        let stitched = match self.motif {
            Motif::Ditch => seams.length,
            Motif::Rows => {
                let between = seams.rows.iter().map(|[height, width]| *width * (lines(*height, scale) - 1));
                seams.length + between.sum()
            }
            Motif::HalfCircles => {
                let area = i128::from(size[0].ticks()) * i128::from(size[1].ticks());
                let ticks = area * 355 / (113 * 2 * i128::from(scale.ticks().max(1)));
                Length::from_ticks(i64::try_from(ticks).unwrap_or(i64::MAX / 8))
            }
        };
        let bobbin = pick(ruler, Length::YARD * 60i64, Length::METRE * 55i64);
        let (thread, lower) = (stitched * 5i64 / 2, stitched * 5i64 / 4);
        QuiltingWork { motif: self.motif, scale, stitched, thread, bobbin, bobbins: lower.ceil_div(bobbin).max(1) }
    }
}

/// Into how many strips lines part a row, so that none is wider than `scale`.
pub fn lines(height: Length, scale: Length) -> i64 {
    height.ceil_div(scale).max(1)
}
