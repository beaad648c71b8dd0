//! What is tried, and what comes of it.

use super::groups::Served;
use crate::cutting::Lacking;
use crate::likeness::Likeness;
use crate::plan::Plan;

/// A scene in one set of fabrics.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Trial {
    /// What the set is called.
    pub name: String,
    /// The scene in it.
    pub plan: Plan,
}

/// A trial with its place.
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(not(feature = "internals"), non_exhaustive)]
pub struct Entry {
    /// Its place, 1 being best; equals share one.
    pub rank: usize,
    /// What the set is called.
    pub name: String,
    /// The scene in it.
    pub plan: Plan,
    /// How near it comes to the picture.
    pub likeness: Likeness,
    /// The colour of the picture that it has no fabric near.
    pub worst: Option<Served>,
    /// What its stash has too little of, by family; none where no fabric is counted.
    pub short: Option<Vec<Lacking>>,
    /// Why it stands there, and what is short, a sentence each.
    pub why: Vec<String>,
}

/// All trials, best first.
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(not(feature = "internals"), non_exhaustive)]
pub struct Audition {
    /// The scene that was tried.
    pub planned: Plan,
    /// How near that one comes to its picture.
    pub likeness: Likeness,
    /// Whether each trial was composed afresh; otherwise all have the same pieces.
    pub afresh: bool,
    /// The trials.
    pub entries: Vec<Entry>,
}
