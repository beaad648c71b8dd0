//! Why a file is no plan.

use super::RequestError;

/// The version of plan files that is written and read.
pub(super) const VERSION: u32 = 1;

/// Why a file is no plan that can be used.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum PlanError {
    /// Not JSON, or not of the right shape.
    #[error("the plan cannot be read: {0}")]
    Json(#[from] serde_json::Error),
    /// Another program's file.
    #[error("this is not a rowscape plan: its format is `{0}`")]
    Foreign(String),
    /// A later version.
    #[error(
        "the plan is of version {0}, and this program reads version {VERSION}: take a newer program, or compose the scene again"
    )]
    Version(u32),
    /// The request in it does not hold.
    #[error("the plan's request does not hold: {0}")]
    Request(#[from] RequestError),
    /// The parts do not fit together.
    #[error("the plan does not hold at {at}: {what}")]
    Inconsistent {
        /// Address or field.
        at: String,
        /// What is wrong.
        what: String,
    },
}

pub(super) fn wrong(at: impl ToString, what: impl ToString) -> PlanError {
    PlanError::Inconsistent { at: at.to_string(), what: what.to_string() }
}
