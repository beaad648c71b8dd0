//! Why a plan cannot be changed so.

use crate::compose::SceneError;
use crate::plan::{Address, Plan};
use crate::stock::Shortage;

/// Why a revision makes no plan.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum ReviseError {
    /// Nothing is there.
    #[error("no unit of the plan lies in {0}: the picture and the build list show the addresses")]
    NoPart(String),
    /// A sewn unit is not changed.
    #[error("unit {0} is sewn: unpick it and give `--release {0}` first")]
    Sewn(Address),
    /// No such fabric.
    #[error("there is no fabric `{letter}` in the plan: it has {letters}")]
    NoFabric {
        /// What was asked for.
        letter: String,
        /// What there is.
        letters: String,
    },
    /// A filler looks the same however it is turned.
    #[error("unit {0} is a filler: it has nothing to turn")]
    TurnsNothing(Address),
    /// A rectangle keeps its place in a half turn only.
    #[error("unit {0} is longer than wide or wider than long: it fits its place after a half turn only, `{0}=180`")]
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
        part: String,
        /// The fabric.
        letter: String,
    },
    /// Cloth was bought of a fabric that is not counted.
    #[error("fabric {0} has no counts: there is as much of it as is wanted already")]
    NotCounted(String),
    /// Both halves would be one fabric.
    #[error("both halves of unit {at} would be fabric {letter}: ask for a filler there, `--filler {at}={letter}`")]
    OneFabric {
        /// The unit.
        at: Address,
        /// The fabric.
        letter: String,
    },
    /// What stands does not fit what is asked for now.
    #[error("unit {at} stands and cannot stay: {why}")]
    CannotStay {
        /// Which unit.
        at: Address,
        /// Why not.
        why: String,
    },
    /// A wish cannot be granted.
    #[error("what is wanted at unit {at} cannot be: {why}")]
    CannotBe {
        /// Where.
        at: Address,
        /// Why not.
        why: String,
        /// What to do about it.
        hint: &'static str,
    },
    /// The rest cannot be filled around it.
    #[error("no rows of these units fill the top around {0}")]
    NoRoom(String),
    /// There is too little of the fabrics.
    #[error("this change cannot be made: {0}")]
    Short(Box<Shortage>),
    /// The scene cannot be composed.
    #[error(transparent)]
    Scene(#[from] SceneError),
}

impl ReviseError {
    /// What to do about it, where the error itself does not say so.
    pub fn hint(&self) -> Option<&'static str> {
        match self {
            Self::CannotStay { .. } => {
                Some("release it, or ask for the size, seam, grid and squares that it was made with")
            }
            Self::CannotBe { hint, .. } => Some(hint),
            Self::NoRoom(_) => Some("take that mark or wish back, move it, or allow narrower pieces with --least"),
            Self::Short(_) => Some(
                "release some of what stands, bring back a fabric that is left out, ask for a smaller top, or buy what is missing and say so with --bought",
            ),
            _ => None,
        }
    }

    pub(crate) fn no_fabric(plan: &Plan, letter: &str) -> Self {
        let letters: Vec<&str> = plan.fabrics.iter().map(|fabric| fabric.letter.as_str()).collect();
        Self::NoFabric { letter: letter.chars().take(10).collect(), letters: letters.join(", ") }
    }
}
