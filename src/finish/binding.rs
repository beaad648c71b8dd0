//! The strip that binds the edge, straight or on the bias.

use super::asked::pick;
use super::strips::Run;
use super::{Binding, FinishError, Fold, Joins, Top};
use crate::measure::{Length, Ruler};

/// Most squares that a bias strip is cut from.
const MOST_SQUARES: i64 = 4;

/// The binding.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct BindingWork {
    /// What shows of it on the front.
    pub finished: Length,
    /// Width that its strip is cut.
    pub strip: Length,
    /// How it is folded.
    pub fold: Fold,
    /// The edge that it goes round.
    pub edge: Length,
    /// Edge and allowance.
    pub needed: Length,
    /// Backing and batting are trimmed so far outside the raw edge of the top, to fill it.
    pub past: Length,
    /// What it is cut from.
    pub cut: BindingCut,
}

/// What the strip of a binding is cut from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BindingCut {
    /// Strips across the cloth, joined on the diagonal.
    Straight(Run),
    /// One strip from each of so many squares.
    Bias {
        /// How many squares.
        squares: i64,
        /// Side of each.
        side: Length,
        /// What each gives.
        each: Length,
    },
}

impl BindingWork {
    /// The length of cloth that it takes.
    pub fn cloth(&self) -> Length {
        match self.cut {
            BindingCut::Straight(run) => run.cloth(),
            BindingCut::Bias { squares, side, .. } => side * squares,
        }
    }

    /// How long the strip is, all joins sewn.
    pub fn made(&self) -> Length {
        match self.cut {
            BindingCut::Straight(run) => run.made(),
            BindingCut::Bias { squares, each, .. } => each * squares - self.strip * (squares - 1),
        }
    }
}

/// Width of the strip of a binding that shows `finished` on both sides of the edge.
///
/// Folded over the edge it takes the seam and twice what shows; a double one takes all of that twice, a single one turns
/// another seam under. A quarter of an inch (5 mm) more goes over the thickness of the layers, so that 3/8 in takes the
/// published 2 1/4 in.
pub fn strip_width(fold: Fold, finished: Length, seam: Length, ruler: Ruler) -> Length {
    let folded = finished * 2i64 + seam;
    let thick = pick(ruler, Length::inches(1, 4), Length::mm(5));
    match fold {
        Fold::Double => folded * 2i64 + thick,
        Fold::Single => folded + seam + thick,
    }
}

/// The strip that a square of `side` gives, cut in one along the bias.
///
/// The square is cut along a diagonal and its halves are sewn along two straight sides to a parallelogram, which is
/// `(side - 2·seam) / √2` across its bias edges. Of the lines that fit in there, each `side·√2` long, the ends are sewn
/// together a line further on, with a seam at 45 degrees, which takes `2·seam·√2` of each join.
pub fn bias_from_square(side: Length, strip: Length, seam: Length) -> Length {
    let within = (side - seam * 2i64).max(Length::ZERO);
    let lines = by_root_two(within).floor_div(strip * 2i64).max(0);
    if lines == 0 {
        return Length::ZERO;
    }
    // Each is rounded so that the strip is never less than this.
    by_root_two(side) * lines - (by_root_two(seam * 2i64) + Length::from_ticks(1)) * (lines - 1)
}

/// A length times √2, rounded down to a tick.
fn by_root_two(length: Length) -> Length {
    let doubled = 2 * i128::from(length.ticks()).pow(2);
    Length::from_ticks(i64::try_from(doubled.isqrt()).unwrap_or(i64::MAX / 4))
}

/// The binding of a quilt of `size`, binding not reckoned in.
pub(super) fn binding(asked: &Binding, size: [Length; 2], top: &Top) -> Result<BindingWork, FinishError> {
    let (ruler, seam) = (top.ruler, top.seam);
    let finished = asked.finished(ruler);
    if finished < seam {
        return Err(FinishError::NarrowBinding { width: finished, seam, ruler });
    }
    let strip = strip_width(asked.fold, finished, seam, ruler);
    let cloth = top.cloth_width;
    let allowance = asked.allowance(ruler);
    // The last join takes as much as every other on the diagonal.
    if allowance < strip {
        return Err(FinishError::ShortBinding { allowance, least: strip, ruler });
    }
    let edge = (size[0] + size[1]) * 2i64 + finished * 8i64;
    let needed = edge + allowance;
    let wide = FinishError::WideStrip { what: "the binding", strip, cloth, ruler };
    let cut = if asked.bias {
        squares(needed, strip, top)?
    } else {
        BindingCut::Straight(Run::new(strip, needed, cloth, Joins::Bias.takes(strip, seam)).ok_or(wide)?)
    };
    Ok(BindingWork { finished, strip, fold: asked.fold, edge, needed, past: finished - seam, cut })
}

/// The fewest squares, and of these the least in whole inches or centimetres, that give so much strip.
fn squares(needed: Length, strip: Length, top: &Top) -> Result<BindingCut, FinishError> {
    let step = pick(top.ruler, Length::INCH, Length::CM);
    let most = top.cloth_width.floor_div(step);
    let gives = |squares: i64, steps: i64| {
        let (side, each) = (step * steps, bias_from_square(step * steps, strip, top.seam));
        let made = each * squares - strip * (squares - 1);
        (each > strip && made >= needed).then_some(BindingCut::Bias { squares, side, each })
    };
    let found = (1..=MOST_SQUARES).find_map(|squares| (1..=most).find_map(|steps| gives(squares, steps)));
    found.ok_or(FinishError::Bias { cloth: top.cloth_width, needed, ruler: top.ruler })
}
