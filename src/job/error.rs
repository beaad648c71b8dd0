//! Why a question has no answer.

use super::brief::BriefError;
use crate::compose::{RefitError, SceneError, SubsetError};
use crate::fabric::StashError;
use crate::measure::{Length, Ruler};
use crate::picture::PictureError;
use crate::plan::{PlanError, RequestError};
use crate::proof::Fault;
use crate::render::RenderError;
use crate::revise::ReviseError;
use crate::stock::{Shortage, StockError};
use crate::watch::Stopped;

/// What of all that was given an error is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum Subject {
    /// The brief, or nothing in particular.
    Brief,
    /// The picture.
    Picture,
    /// The picture that says what is to be finer.
    Mask,
    /// A stash, by its place among those that were given.
    Stash(usize),
    /// The plan.
    Plan,
}

/// Why a question has no answer.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum JobError {
    /// It was told to stop.
    #[error(transparent)]
    Stopped(#[from] Stopped),
    /// The brief does not hold.
    #[error(transparent)]
    Brief(#[from] BriefError),
    /// The sizes do not.
    #[error(transparent)]
    Request(#[from] RequestError),
    /// The picture cannot be read.
    #[error("{0}")]
    Picture(PictureError),
    /// The picture that says what is to be finer cannot.
    #[error("{0}")]
    Mask(PictureError),
    /// A stash cannot be read.
    #[error("{}", .1.message())]
    Stash(usize, Box<StashError>),
    /// The plan cannot be read.
    #[error(transparent)]
    Plan(#[from] PlanError),
    /// So few fabrics cannot be taken.
    #[error(transparent)]
    Subset(#[from] SubsetError),
    /// There is no such scene.
    #[error(transparent)]
    Stock(#[from] StockError),
    /// A fabric has no counts, so that a top may be of any size.
    #[error("the stash does not say how much there is of {letter} {name}, so a top of it may be of any size")]
    Endless {
        /// The fabric's letter.
        letter: String,
        /// Its name.
        name: String,
    },
    /// No size that was tried can be made.
    #[error("{0}")]
    NoTop(Box<Shortage>),
    /// In every size too much of the picture gives way.
    #[error("of this stash no top of this shape shows the picture")]
    NoPicture,
    /// No size is filled by rows.
    #[error("the stash makes no top of this shape, however small")]
    NoShape,
    /// The plan cannot be changed so.
    #[error(transparent)]
    Revise(#[from] ReviseError),
    /// The pieces cannot be made in a stash.
    #[error("{1}")]
    Refit(usize, Box<RefitError>),
    /// A stash makes no scene of the picture.
    #[error("{1}")]
    Tried(usize, Box<SceneError>),
    /// More stashes than a sheet holds.
    #[error("{0} stashes are too many for one picture")]
    ManyStashes(usize, usize),
    /// Nobody sews, or more than there are rows to share.
    #[error("a scene cannot be shared out among {asked} sewers: this one can among 1 to {most}")]
    Sewers {
        /// How many were asked for.
        asked: u32,
        /// The most.
        most: u32,
    },
    /// A strip of nothing.
    #[error("a strip of {} cannot be cut", .1.show(*.0))]
    Strip(Length, Ruler),
    /// The plan has no cells.
    #[error("holds no picture")]
    NoCells,
    /// A file cannot be drawn.
    #[error(transparent)]
    Render(#[from] RenderError),
    /// What would be written does not come out right.
    #[error("{0}")]
    Proof(Box<Fault>),
}

impl JobError {
    /// What it is about.
    pub fn subject(&self) -> Subject {
        match self {
            Self::Picture(_) => Subject::Picture,
            Self::Mask(_) => Subject::Mask,
            Self::Stash(at, _) | Self::Refit(at, _) | Self::Tried(at, _) => Subject::Stash(*at),
            Self::Plan(_) | Self::NoCells => Subject::Plan,
            _ => Subject::Brief,
        }
    }

    /// The same, of a stash that was tried.
    pub(super) fn in_stash(self, at: usize) -> Self {
        match self {
            Self::Request(error) => Self::Tried(at, Box::new(error.into())),
            Self::Stock(StockError::Scene(error)) => Self::Tried(at, Box::new(error)),
            error => error,
        }
    }

    /// The same, or that it was told to stop: whatever a stopped job stumbles over is no news.
    pub(super) fn unless(self, stopped: Result<(), Stopped>) -> Self {
        stopped.map_or_else(Self::from, |()| self)
    }
}

/// So that `?` carries a scene's refusal.
impl From<SceneError> for JobError {
    fn from(error: SceneError) -> Self {
        match error {
            SceneError::Request(error) => Self::Request(error),
            error => Self::Stock(error.into()),
        }
    }
}
