//! What keeps a unit from staying where it is, or a wish from being granted.

use crate::compose::Ungranted;
use crate::measure::{Length, Ruler};

/// Why something cannot be in its place.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum Obstacle {
    /// An edge of it is off the grid.
    #[error("{} is not on the grid of {}", ruler.show(*.at), ruler.show(*.grid))]
    OffGrid {
        /// The edge.
        at: Length,
        /// The grid.
        grid: Length,
        /// The maker's ruler.
        ruler: Ruler,
    },
    /// It is sewn with another seam.
    #[error("it is sewn with a seam of {}", ruler.show(*.seam))]
    Seam {
        /// That seam.
        seam: Length,
        /// The maker's ruler.
        ruler: Ruler,
    },
    /// It reaches past the right or the lower edge of the top.
    #[error("it ends at {}, and the top is {} {}", ruler.show(*.end), ruler.show(*.side), if *.across { "wide" } else { "tall" })]
    PastTop {
        /// Where it ends.
        end: Length,
        /// The top's width or height.
        side: Length,
        /// Whether that is the width.
        across: bool,
        /// The maker's ruler.
        ruler: Ruler,
    },
    /// No unit of its size, or no such strip off one, is made now.
    #[error(
        "it is cut from a unit that finishes {}, which the squares, seam and strips that are asked for do not give",
        ruler.show(*.finished)
    )]
    NotGiven {
        /// What the unit finishes at.
        finished: Length,
        /// The maker's ruler.
        ruler: Ruler,
    },
    /// No method that keeps its print upright gives a unit of its size.
    #[error(
        "its print is to stand upright, and the squares that are asked for give no unit that finishes {} so",
        ruler.show(*.finished)
    )]
    Upright {
        /// What the unit finishes at.
        finished: Length,
        /// The maker's ruler.
        ruler: Ruler,
    },
    /// Every whole unit is larger than the top.
    #[error("the squares give no whole unit so small")]
    NoWhole,
    /// It does not lie within the top.
    #[error("it lies outside the top")]
    Outside,
    /// It would lie on a unit that is kept or sewn, or on another wish.
    #[error("it would reach over what is kept, sewn or wanted there")]
    Taken,
    /// The fabric's cloth is too small for the filler.
    #[error("fabric {letter} gives no filler of {} x {} in one piece", ruler.show(*.width), ruler.show(*.height))]
    NoFillerOf {
        /// The fabric.
        letter: String,
        /// The filler's width.
        width: Length,
        /// Its height.
        height: Length,
        /// The maker's ruler.
        ruler: Ruler,
    },
    /// The fabrics give nothing for it.
    #[error(transparent)]
    Fabrics(#[from] Ungranted),
}
