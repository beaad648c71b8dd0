//! Why a plan cannot be changed so.

use super::{Obstacle, TopPart};
use crate::compose::SceneError;
use crate::plan::{Address, Plan};
use crate::stock::Shortage;

/// Why a revision makes no plan.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum ReviseError {
    /// Nothing is there.
    #[error("no unit of the plan lies in {0}: the picture and the build list show the addresses")]
    NoPart(TopPart),
    /// A sewn unit is not changed.
    #[error("unit {0} is sewn")]
    Sewn(Address),
    /// No such fabric.
    #[error("there is no fabric `{letter}` in the plan: it has {}", letters.join(", "))]
    NoFabric {
        /// What was asked for.
        letter: String,
        /// What there is.
        letters: Vec<String>,
    },
    /// A filler looks the same however it is turned.
    #[error("unit {0} is a filler: it has nothing to turn")]
    TurnsNothing(Address),
    /// A rectangle keeps its place in a half turn only.
    #[error("unit {0} is longer than wide or wider than long: it fits its place after a half turn only")]
    HalfTurnOnly(Address),
    /// The unit has no patch of the fabric.
    #[error("unit {at} has no patch of fabric {letter}")]
    NoPatch {
        /// The unit.
        at: Address,
        /// The fabric.
        letter: String,
    },
    /// Nothing there is of the fabric.
    #[error("nothing in {part} is of fabric {letter}")]
    NotShown {
        /// Where.
        part: TopPart,
        /// The fabric.
        letter: String,
    },
    /// Both halves would be one fabric.
    #[error("both halves of unit {at} would be fabric {letter}")]
    OneFabric {
        /// The unit.
        at: Address,
        /// The fabric.
        letter: String,
    },
    /// What stands does not fit what is asked for now.
    #[error("unit {at} is kept or sewn, and cannot stay: {why}")]
    CannotStay {
        /// Which unit.
        at: Address,
        /// Why not.
        why: Obstacle,
    },
    /// A wish cannot be granted.
    #[error("what is wanted at unit {at} cannot be: {why}")]
    CannotBe {
        /// Where.
        at: Address,
        /// Why not.
        why: Obstacle,
    },
    /// The rest cannot be filled around it.
    #[error("no rows of these units fill the top around {0}")]
    NoRoom(Unmoved),
    /// There is too little of the fabrics.
    #[error("this change cannot be made: {0}")]
    Short(Box<Shortage>),
    /// The scene cannot be composed.
    #[error(transparent)]
    Scene(#[from] SceneError),
}

/// What the rest is to be filled around.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum Unmoved {
    /// What is wanted at a unit.
    Wanted(Address),
    /// What is kept or sewn, from a unit on where that is known.
    Stands(Option<Address>),
}

impl std::fmt::Display for Unmoved {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Wanted(at) => write!(f, "what is wanted at unit {at}"),
            Self::Stands(Some(at)) => write!(f, "what is kept or sewn from unit {at} on"),
            Self::Stands(None) => write!(f, "what is kept or sewn"),
        }
    }
}

impl ReviseError {
    pub(crate) fn no_fabric(plan: &Plan, letter: &str) -> Self {
        let letters = plan.fabrics.iter().map(|fabric| fabric.letter.clone()).collect();
        Self::NoFabric { letter: letter.chars().take(10).collect(), letters }
    }
}
