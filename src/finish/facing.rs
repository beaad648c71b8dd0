//! Strips that face the edge: sewn to it, and turned wholly to the back.

use super::asked::pick;
use super::strips::Run;
use super::{Facing, FinishError, Fold, Joins, Top};
use crate::measure::{Length, Ruler};

/// The facing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct FacingWork {
    /// How its strips are folded.
    pub fold: Fold,
    /// Length of the two at the sides, as cut: that of the raw edge.
    pub sides: Length,
    /// Length of the two at the top and the bottom, as cut.
    pub ends: Length,
    /// What is turned in at both ends of those, level with the sides.
    pub turned: Length,
    /// How far it lies on the back.
    pub shows: Length,
    /// Its strips, joined before they are cut to length.
    pub run: Run,
}

impl Facing {
    /// Width that its strips are cut: 2 1/2 in or 6.5 cm (common practice, no source).
    pub fn strip(&self, ruler: Ruler) -> Length {
        self.strip.unwrap_or_else(|| pick(ruler, Length::inches(5, 2), Length::mm(65)))
    }
}

/// The facing of a quilt of `size`. Its seam is turned with it, so that the quilt stays as large as its top.
///
/// The sides are faced and turned first; the strips at the top and the bottom then run across them, and their ends are
/// turned in by 1/2 in or 1 cm (common practice, no source).
pub(super) fn facing(asked: &Facing, [width, height]: [Length; 2], top: &Top) -> Result<FacingWork, FinishError> {
    let (ruler, seam, cloth) = (top.ruler, top.seam, top.cloth_width);
    let strip = asked.strip(ruler);
    // Less leaves no more than a seam to sew down; more is no facing but a back.
    let [least, most] = [seam * 4i64, pick(ruler, Length::INCH * 6i64, Length::CM * 15i64)];
    if strip < least || strip > most {
        return Err(FinishError::Facing { strip, least, most, ruler });
    }
    let turned = pick(ruler, Length::inches(1, 2), Length::CM);
    let (sides, ends) = (height + seam * 2i64, width + turned * 2i64);
    let shows = match asked.fold {
        Fold::Double => strip / 2 - seam,
        Fold::Single => strip - seam * 2i64,
    };
    let wide = FinishError::WideStrip { what: "the facing", strip, cloth, ruler };
    let run = Run::new(strip, (sides + ends) * 2i64, cloth, Joins::Bias.takes(strip, seam)).ok_or(wide)?;
    Ok(FacingWork { fold: asked.fold, sides, ends, turned, shows, run })
}
