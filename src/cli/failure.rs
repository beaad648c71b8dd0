//! What went wrong, where, and what to do next.

use std::fmt;
use std::ops::Range;
use std::path::Path;

use miette::{Diagnostic, LabeledSpan, NamedSource, SourceCode};
use rowscape::fabric::{printable, printable_lines};

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

/// The system's reason without its number.
pub fn plain(error: &std::io::Error) -> String {
    let text = error.to_string();
    text.split(" (os error").next().unwrap_or(&text).to_lowercase()
}
