//! Why a question has no answer, for a page.

use rowscape::job::{JobError, Subject};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::hint::hint;

/// Why a question has no answer.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Refusal {
    /// What it is about.
    pub about: About,
    /// Which stash it is about, from 0.
    pub stash: Option<usize>,
    /// What is wrong, in words.
    pub words: String,
    /// What to do about it.
    pub hint: Option<String>,
    /// Where in a text: the line, from 1.
    pub line: Option<usize>,
}

/// What of all that was given a refusal is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum About {
    /// The question, or nothing in particular.
    Question,
    /// The picture.
    Picture,
    /// The picture that says what is to be finer.
    Focus,
    /// A stash.
    Stash,
    /// The plan.
    Plan,
}

impl Refusal {
    /// A question that cannot be read.
    pub fn unread(error: &serde_json::Error) -> Self {
        let said = error.to_string();
        // Where in the question it stands says nothing to whoever did not write it.
        let words = said.rsplit_once(" at line ").map_or(said.as_str(), |(words, _)| words).to_owned();
        Self { about: About::Question, stash: None, words, hint: None, line: None }
    }

    /// It as JSON.
    pub fn json(&self) -> String {
        serde_json::to_string(self).unwrap_or_default()
    }

    /// The line of a stash's text that a refusal is about.
    pub fn in_text(mut self, at: Option<usize>, text: &str) -> Self {
        self.line = at.and_then(|at| text.get(..at)).map(|before| before.lines().count().max(1));
        self
    }
}

impl From<JobError> for Refusal {
    fn from(error: JobError) -> Self {
        let (about, stash) = match error.subject() {
            Subject::Brief => (About::Question, None),
            Subject::Picture => (About::Picture, None),
            Subject::Mask => (About::Focus, None),
            Subject::Stash(at) => (About::Stash, Some(at)),
            Subject::Plan => (About::Plan, None),
            _ => (About::Question, None),
        };
        let hint = hint(&error).map(str::to_owned);
        Self { about, stash, words: error.to_string(), hint, line: None }
    }
}
