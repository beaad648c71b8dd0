//! A picture that a page cannot show, as one that it can.

use super::error::JobError;
use super::prepare::decode;

/// A picture of any format that is read, upright, as a PNG of at most `side` pixels along its longer side, with its width
/// and height.
pub fn as_png(picture: &[u8], side: u32) -> Result<(Vec<u8>, [u32; 2]), JobError> {
    decode(picture, JobError::Picture)?.reduced(side).map_err(JobError::Picture)
}
