//! What a job was given, and what the maker is told where it cannot be worked with.

use std::path::Path;

use rowscape::compose::RefitError;
use rowscape::job::{BriefError, JobError, Subject};
use rowscape::stock::StockError;

use super::Failure;
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
            Subject::Brief => None,
        };
        let failure = path.map_or_else(|| Failure::new(&error), |path| Failure::at(path, &error));
        match hint(&error) {
            Some(hint) => failure.hint(hint),
            None => failure,
        }
    }
}

/// What to do next, in the command line's words.
fn hint(error: &JobError) -> Option<String> {
    let hint = match error {
        JobError::Brief(error) => match error {
            BriefError::Seam(_) => "sew two scraps together and measure it: `1/4in` and `0.75cm` are usual",
            BriefError::Grid(_) => "take `1/2in` or `1cm`",
            BriefError::NoSize => "give --width, --height or both",
            BriefError::NoStash => "give the stash with --stash FILE, or the size with --width or --height",
            _ => return None,
        },
        JobError::Strip(_) => "take `1in,2in`",
        JobError::Stock(StockError::Short(_)) => {
            "compose a smaller top (`--largest` finds the largest that the stash makes), add to the stash, or take counts out of it to see what it would need"
        }
        JobError::Stock(StockError::Scene(_)) => "change the size, the squares or the stash",
        JobError::Endless(_) => {
            "write its squares or its yardage into the stash (`squares = []` for none), or give --width"
        }
        JobError::NoTop(_) | JobError::NoPicture | JobError::NoShape => {
            "add to the stash, or take other squares or a finer grid"
        }
        JobError::Revise(error) => error.hint()?,
        JobError::Refit(_, error) => match **error {
            RefitError::Filler { .. } => "give --afresh, which composes with the fillers that this stash can give",
            RefitError::OneFabric(_) | RefitError::NoFabric => "add fabrics to the stash, or leave it out",
            RefitError::Request(_) => "compose the scene again",
        },
        JobError::Tried(..) => "leave this stash out, or add to it",
        JobError::ManyStashes(_, most) => return Some(format!("try up to {most} at a time")),
        JobError::Proof(_) => "this is a fault of the program, please report it",
        _ => return None,
    };
    Some(hint.into())
}
