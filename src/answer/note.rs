//! What is to be said beside an answer, as values; `render` has the words.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::measure::Length;
use crate::plan::Unused;
use crate::stock::{Gaps, Shortage};

/// Something to be said beside an answer.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub enum Note {
    /// How the picture was read, where not all of it could be.
    Picture(String),
    /// The height comes from the picture's shape.
    Height(Length),
    /// The width does.
    Width(Length),
    /// Pieces on hand that the scene has no use for.
    Unused(Unused),
    /// Edges of the picture were made level or upright.
    Levelled,
    /// The best fabrics of the stash were taken: letters and names of those that were not.
    LeftOut {
        /// How many were taken.
        taken: u32,
        /// The others, as `A night`.
        left: Vec<String>,
    },
    /// The stash has no more fabrics than these.
    AllTaken(u32),
    /// The largest top that the stash was found to make.
    Largest([Length; 2]),
    /// Why the next size is not made.
    Next([Length; 2], Missed),
    /// How good the scene is for the stash.
    Within(Gaps),
    /// To leave fabrics out, more than a tenth of the pieces without them had to change: how many, and of how many.
    Forced {
        /// Pieces that changed.
        changed: usize,
        /// Pieces without those fabrics.
        of: usize,
    },
    /// The plan's own cells served as its picture in another size.
    OldPicture,
}

/// Why a size is not made.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub enum Missed {
    /// The stash does not suffice.
    Stash(Shortage),
    /// Too much of the picture gives way.
    Picture(Gaps),
}
