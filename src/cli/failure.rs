//! What went wrong, where, and what to do next.

use std::fmt;
use std::ops::Range;
use std::path::Path;

use miette::{Diagnostic, LabeledSpan, NamedSource, SourceCode};
use rowscape::compose::RefitError;
use rowscape::fabric::{printable, printable_lines};
use rowscape::job::{BriefError, JobError, Subject};
use rowscape::stock::StockError;

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
            BriefError::Seam(_) => "sew two strips together and measure it: `1/4in` and `0.75cm` are usual",
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

/// A failure to be shown to the maker.
#[derive(Debug)]
pub struct Failure {
    what: String,
    hint: Option<String>,
    text: Option<Box<(NamedSource<String>, Range<usize>)>>,
}

impl Failure {
    /// A failure in one line.
    pub fn new(what: impl fmt::Display) -> Self {
        Self { what: printable_lines(&what.to_string()), hint: None, text: None }
    }

    /// A failure about a file or folder.
    pub fn at(path: &Path, what: impl fmt::Display) -> Self {
        Self::new(format!("{}: {what}", path.display()))
    }

    /// The same with what to do next.
    pub fn hint(self, hint: impl fmt::Display) -> Self {
        Self { hint: Some(printable_lines(&hint.to_string())), ..self }
    }

    /// The same with what to do next, where that is not said yet.
    pub fn or_hint(self, hint: impl fmt::Display) -> Self {
        if self.hint.is_some() { self } else { self.hint(hint) }
    }

    /// The same with the place in a text that it is about.
    pub fn underline(self, path: &Path, text: &str, span: Range<usize>) -> Self {
        let (name, text) = (printable(&path.display().to_string()), printable_lines(text));
        Self { text: Some(Box::new((NamedSource::new(name, text).with_language("TOML"), span))), ..self }
    }
}

impl fmt::Display for Failure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.what)
    }
}

impl std::error::Error for Failure {}

impl Diagnostic for Failure {
    fn help<'a>(&'a self) -> Option<Box<dyn fmt::Display + 'a>> {
        self.hint.as_ref().map(|hint| Box::new(hint) as Box<dyn fmt::Display>)
    }

    fn source_code(&self) -> Option<&dyn SourceCode> {
        self.text.as_ref().map(|text| &text.0 as &dyn SourceCode)
    }

    fn labels(&self) -> Option<Box<dyn Iterator<Item = LabeledSpan> + '_>> {
        let (_, span) = self.text.as_deref()?;
        let label = LabeledSpan::new_with_span(Some("here".into()), (span.start, span.end - span.start));
        Some(Box::new(std::iter::once(label)))
    }
}
