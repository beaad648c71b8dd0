//! A stash looked through, and its families proposed.

use crate::fabric::{Proposal, Stash, StashError, StashNote, StashTotals};

/// What a stash holds.
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(not(feature = "internals"), non_exhaustive)]
pub struct LookedThrough {
    /// It.
    pub stash: Stash,
    /// What there is, and what its squares could give.
    pub totals: StashTotals,
    /// What is doubtful.
    pub notes: Vec<StashNote>,
}

/// Reads a stash, a TOML text, and looks it through.
pub fn look_through(text: &str) -> Result<LookedThrough, StashError> {
    let stash = Stash::read(text)?;
    Ok(LookedThrough { totals: stash.totals(), notes: stash.notes(), stash })
}

/// Proposes a family for each fabric that has none, by colour; the rest of the text stays as it is.
pub fn group(text: &str) -> Result<Proposal, StashError> {
    Stash::propose_families(text)
}
