//! Why a quilt cannot be finished so.

use super::asked::{MOST_BORDERS, MOST_LETTERS};
use crate::measure::{Length, Ruler};

/// Why a quilt cannot be finished so.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum FinishError {
    /// A length that must be something is not.
    #[error("the {what} is {}: it must be more than nothing", ruler.show(*.length))]
    NotPositive {
        /// Which length.
        what: &'static str,
        /// What was given.
        length: Length,
        /// The maker's ruler.
        ruler: Ruler,
    },
    /// A length that may be nothing is less.
    #[error("the {what} is {}: it cannot be less than nothing", ruler.show(*.length))]
    Negative {
        /// Which length.
        what: &'static str,
        /// What was given.
        length: Length,
        /// The maker's ruler.
        ruler: Ruler,
    },
    /// A length is out of all proportion.
    #[error("the {what} of {} is more than can be worked with: give at most {}", ruler.show(*.length), ruler.show(*.most))]
    TooLong {
        /// Which length.
        what: &'static str,
        /// What was given.
        length: Length,
        /// Most of it.
        most: Length,
        /// The maker's ruler.
        ruler: Ruler,
    },
    /// A text cannot be printed.
    #[error(
        "the {0} is too long, or has characters that are not shown: write up to {MOST_LETTERS} letters on one line"
    )]
    Text(&'static str),
    /// More borders than there may be.
    #[error("{0} borders are asked for: {MOST_BORDERS} are the most that can be worked with")]
    Borders(usize),
    /// More than one border is to be worked out.
    #[error("{0} borders have no width: give all of them one but the one that is to be worked out")]
    Free(usize),
    /// A border is to be worked out from nothing.
    #[error("a border has no width: give it one, or say what bed or what size the quilt is to come to")]
    NoSize,
    /// A border is to be worked out inside of a pieced one.
    #[error(
        "a border without a width lies inside a pieced one, but not next to it: give it a width, or put it next to the \
         pieced one, so that it makes that come out even"
    )]
    FreeInside,
    /// No whole units between a top and a size.
    #[error(
        "no units of a pieced border come out even round {} by {}, with room for a plain border inside it, within {} by {}: ask \
         for a smaller top, for smaller units, or for a larger quilt",
        ruler.number(inner[0]), ruler.show(inner[1]), ruler.number(outer[0]), ruler.show(outer[1])
    )]
    NoUnits {
        /// What it is sewn round.
        inner: [Length; 2],
        /// What it is to come to.
        outer: [Length; 2],
        /// The maker's ruler.
        ruler: Ruler,
    },
    /// Units of a border too small or too large.
    #[error(
        "a border pieced of units of {} cannot be worked with: give from {} to {}",
        ruler.show(*.unit), ruler.show(*.least), ruler.show(*.most)
    )]
    Unit {
        /// What was given.
        unit: Length,
        /// Least.
        least: Length,
        /// Most.
        most: Length,
        /// The maker's ruler.
        ruler: Ruler,
    },
    /// A size is asked for that nothing gives way for.
    #[error(
        "the quilt is to come to {} by {}, and would be {} by {}: leave out the width of one border, so that it is worked out",
        ruler.number(wanted[0]), ruler.show(wanted[1]), ruler.number(would[0]), ruler.show(would[1])
    )]
    NoFree {
        /// What was asked for.
        wanted: [Length; 2],
        /// What it would be.
        would: [Length; 2],
        /// The maker's ruler.
        ruler: Ruler,
    },
    /// The top leaves no room for a border.
    #[error(
        "the quilt is to come to {} by {}, and is {} by {} without the border that is to be worked out: \
         ask for a smaller top, or for a larger quilt",
        ruler.number(wanted[0]), ruler.show(wanted[1]), ruler.number(without[0]), ruler.show(without[1])
    )]
    NoRoom {
        /// What was asked for.
        wanted: [Length; 2],
        /// What it is without that border.
        without: [Length; 2],
        /// The maker's ruler.
        ruler: Ruler,
    },
    /// A mitre of two widths.
    #[error(
        "a border of {} at the sides and {} at the ends cannot be mitred: ask for square corners or cornerstones",
        ruler.show(*.sides), ruler.show(*.ends)
    )]
    Mitre {
        /// Width at the sides.
        sides: Length,
        /// Width at the top and the bottom.
        ends: Length,
        /// The maker's ruler.
        ruler: Ruler,
    },
    /// The cloth gives no such strip.
    #[error(
        "{what} takes strips of {}, and its cloth is {} wide: make it narrower, or take wider cloth",
        ruler.show(*.strip), ruler.show(*.cloth)
    )]
    WideStrip {
        /// A border, the binding.
        what: &'static str,
        /// Width of the strips.
        strip: Length,
        /// Width of the cloth.
        cloth: Length,
        /// The maker's ruler.
        ruler: Ruler,
    },
    /// Joins on the diagonal that take most of each strip.
    #[error(
        "strips of {} lose as much to each join on the diagonal, and their cloth is {} wide: join them straight, or cut \
         them along the cloth",
        ruler.show(*.strip), ruler.show(*.cloth)
    )]
    WideJoin {
        /// Width of the strips.
        strip: Length,
        /// Width of the cloth.
        cloth: Length,
        /// The maker's ruler.
        ruler: Ruler,
    },
    /// A binding that its seam would show beside.
    #[error(
        "a binding of {} is narrower than its seam of {}: make it at least as wide",
        ruler.show(*.width), ruler.show(*.seam)
    )]
    NarrowBinding {
        /// What is to show.
        width: Length,
        /// The seam.
        seam: Length,
        /// The maker's ruler.
        ruler: Ruler,
    },
    /// The ends of a binding would not meet.
    #[error(
        "a binding that is only {} longer than the edge cannot be joined: give at least {}",
        ruler.show(*.allowance), ruler.show(*.least)
    )]
    ShortBinding {
        /// What was given.
        allowance: Length,
        /// The least that serves.
        least: Length,
        /// The maker's ruler.
        ruler: Ruler,
    },
    /// A binding and a facing.
    #[error("a binding and a facing are both asked for: the edge takes one of them")]
    TwoEdges,
    /// Strips of a facing too narrow or too wide.
    #[error(
        "a facing of strips of {} cannot be worked with: give from {} to {}",
        ruler.show(*.strip), ruler.show(*.least), ruler.show(*.most)
    )]
    Facing {
        /// What was given.
        strip: Length,
        /// Least.
        least: Length,
        /// Most.
        most: Length,
        /// The maker's ruler.
        ruler: Ruler,
    },
    /// No four squares give so much bias strip.
    #[error(
        "four squares of cloth {} wide do not give {} of bias strip: cut the binding straight, or take wider cloth",
        ruler.show(*.cloth), ruler.show(*.needed)
    )]
    Bias {
        /// Width of the cloth.
        cloth: Length,
        /// Length that is needed.
        needed: Length,
        /// The maker's ruler.
        ruler: Ruler,
    },
    /// The back is wider than three lengths.
    #[error(
        "a backing of {} by {} takes more than three lengths of cloth {} wide: take wider cloth",
        ruler.number(size[0]), ruler.show(size[1]), ruler.show(*.cloth)
    )]
    Backing {
        /// What it must cover.
        size: [Length; 2],
        /// Width of the cloth.
        cloth: Length,
        /// The maker's ruler.
        ruler: Ruler,
    },
    /// Lines of quilting too close or too far apart.
    #[error(
        "quilting of {} cannot be worked with: give from {} to {}",
        ruler.show(*.scale), ruler.show(*.least), ruler.show(*.most)
    )]
    Scale {
        /// What was given.
        scale: Length,
        /// Least.
        least: Length,
        /// Most.
        most: Length,
        /// The maker's ruler.
        ruler: Ruler,
    },
    /// Backing and batting must reach past the binding's edge.
    #[error(
        "backing and batting that reach {} past the top do not fill a binding of {}: give at least {}",
        ruler.show(*.overhang), ruler.show(*.binding), ruler.show(*.binding)
    )]
    Overhang {
        /// What was given.
        overhang: Length,
        /// What shows of the binding.
        binding: Length,
        /// The maker's ruler.
        ruler: Ruler,
    },
}
