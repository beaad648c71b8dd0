//! Trials in their order.

use super::figures::standing;
use super::groups::{Group, Served, groups, worst};
use super::why;
use crate::likeness::{Likeness, likeness};
use crate::plan::Plan;

/// How trials are ranked, in words.
pub const RULE: &str = "Ranked by how near each comes to the picture at a squint; where that is equal, by how well \
     it tells lights and darks apart, then by how near it comes close up.";

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
    /// Why it stands there, a sentence each.
    pub why: Vec<String>,
}

/// All trials, best first.
#[derive(Clone, Debug, PartialEq)]
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

/// Judges and ranks trials of a plan; equals stay in the order given.
pub fn audition(planned: &Plan, trials: Vec<Trial>, afresh: bool) -> Audition {
    let groups = groups(planned);
    let mut entries: Vec<Entry> = trials.into_iter().map(|trial| entry(trial, &groups)).collect();
    entries.sort_by_key(|entry| standing(&entry.likeness));
    for at in 0..entries.len() {
        let shared = at > 0 && standing(&entries[at].likeness) == standing(&entries[at - 1].likeness);
        entries[at].rank = if shared { entries[at - 1].rank } else { at + 1 };
    }
    let why: Vec<Vec<String>> = (0..entries.len()).map(|at| why::why(&entries, at)).collect();
    entries.iter_mut().zip(why).for_each(|(entry, why)| entry.why = why);
    Audition { planned: planned.clone(), likeness: likeness(planned), afresh, entries }
}

fn entry(trial: Trial, groups: &[Group]) -> Entry {
    let Trial { name, plan } = trial;
    Entry { rank: 1, name, likeness: likeness(&plan), worst: worst(&plan, groups), why: Vec::new(), plan }
}
