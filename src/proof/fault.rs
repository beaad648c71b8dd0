//! The first thing that is wrong, in the maker's words.

/// What is to be done where the files do not fit each other.
pub const AGAIN: &str = "write the files again from this plan, and cut nothing before they agree";

/// The first place where what was written does not make the plan.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{at}: {what}")]
#[cfg_attr(not(feature = "internals"), non_exhaustive)]
pub struct Fault {
    /// An address, the id of a line to cut, or a file and its line.
    pub at: String,
    /// What is wrong there.
    pub what: String,
    /// What to do next.
    pub hint: String,
}

impl Fault {
    /// A fault whose cure is to write the files again.
    pub fn new(at: impl ToString, what: impl ToString) -> Self {
        Self { at: at.to_string(), what: what.to_string(), hint: AGAIN.into() }
    }

    /// The same fault with advice of its own.
    pub fn hint(self, hint: impl ToString) -> Self {
        Self { hint: hint.to_string(), ..self }
    }
}

/// At most forty characters of a text that somebody else wrote.
pub fn short(text: &str) -> String {
    let mut short: String = text.chars().take(40).collect();
    if short.len() < text.len() {
        short.push('…');
    }
    short
}
