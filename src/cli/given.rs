//! What a job was given, and what the maker is told where it cannot be worked with.

use std::path::Path;

use rowscape::job::{JobError, Subject};

use super::Failure;
use super::hint::hint;
use super::read::stash_failure;
use super::stop::stopped;

/// The files that a job was given, so that what is wrong is said of the right one.
#[derive(Default)]
pub struct Given<'a> {
    /// The picture.
    pub picture: Option<&'a Path>,
    /// The picture that is bright where the scene is to be finer.
    pub mask: Option<&'a Path>,
    /// Each stash, with its text.
    pub stashes: Vec<(&'a Path, &'a String)>,
    /// The plan.
    pub plan: Option<&'a Path>,
}

impl Given<'_> {
    /// What the maker is told of a job's error.
    pub fn failure(&self, error: JobError) -> Failure {
        if let JobError::Stopped(_) = error {
            stopped();
        }
        if let JobError::Stash(at, error) = &error
            && let Some((path, text)) = self.stashes.get(*at)
        {
            return stash_failure(path, text, error);
        }
        let path = match error.subject() {
            Subject::Picture => self.picture,
            Subject::Mask => self.mask,
            Subject::Stash(at) => self.stashes.get(at).map(|(path, _)| *path),
            Subject::Plan => self.plan,
            _ => None,
        };
        let failure = path.map_or_else(|| Failure::new(&error), |path| Failure::at(path, &error));
        match hint(&error) {
            Some(hint) => failure.hint(hint),
            None => failure,
        }
    }
}
