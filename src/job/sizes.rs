//! What squares give.

use super::brief::Sizes;
use super::error::JobError;
use crate::measure::{Length, Ruler};
use crate::plan::Request;
use crate::unit::{Vocabulary, VocabularyError};

/// Every unit that the squares give on this ruler, however narrow where no least side is asked for; with what is usual
/// for a scene of them.
pub fn sizes(asked: &Sizes, ruler: Ruler) -> Result<(Vocabulary, Request), JobError> {
    let request = asked.afresh(ruler)?;
    if let Some(strip) = request.strips.iter().find(|strip| **strip <= Length::ZERO) {
        return Err(JobError::Strip(*strip, ruler));
    }
    let Request { squares, seam, grid, strips, .. } = &request;
    let vocabulary = Vocabulary::new(squares, *seam, *grid, strips, asked.least.unwrap_or(*grid));
    vocabulary.map(|vocabulary| (vocabulary, request)).map_err(JobError::from)
}

/// So that `?` carries what squares do not give.
impl From<VocabularyError> for JobError {
    fn from(error: VocabularyError) -> Self {
        Self::Request(error.into())
    }
}
