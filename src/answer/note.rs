//! What is to be said beside an answer, as values; `render` has the words.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::measure::Length;
use crate::plan::{Address, Unused};
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
    /// Changed as little as can be, the scene would have been so many per cent further from its picture than the rest
    /// composed afresh: more of it is changed.
    Loosened(u32),
    /// What takes the place of a unit that was lost.
    Again {
        /// Its address.
        unit: Address,
        /// What it is made from.
        from: Again,
    },
    /// The plan's own cells served as its picture in another size.
    OldPicture,
}

/// What takes the place of a unit that was lost.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub enum Again {
    /// A spare one, by its number.
    Spare(String),
    /// One more of the same, of these pairs.
    Pairs {
        /// Their number.
        id: String,
        /// Units that they give.
        gives: u32,
        /// How many of these are spare.
        spare: u32,
    },
    /// One more of the same, by the number of the filler that is cut or the address of the unit that gives its strip.
    Cut(String),
    /// Something else: there is too little for one more of the same.
    Otherwise,
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
