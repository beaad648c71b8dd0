//! Strips off trimmed units that may be slices elsewhere, counted as prints change.

use std::collections::BTreeMap;

use crate::cutting::{cut_off, used};
use crate::fabric::Print;
use crate::plan::Placed;
use crate::unit::Vocabulary;

/// A unit that gives a strip or is one.
#[derive(Clone, Copy)]
struct End {
    /// Strips are the same but for their prints.
    kind: usize,
    /// Whether it takes a strip, being a slice.
    takes: bool,
}

/// Strips there are and slices that want them.
#[derive(Clone)]
pub struct Strips {
    ends: Vec<Option<End>>,
    prints: usize,
    /// By kind, print of the tip and print of the rest: strips given and slices wanted.
    counts: Vec<[i64; 2]>,
}

impl Strips {
    /// No strip counted yet; prints are below `prints`.
    pub fn new(placed: &[Placed], vocabulary: &Vocabulary, prints: usize) -> Self {
        let mut kinds = BTreeMap::new();
        let mut end = |unit: &Placed| {
            if unit.unit.state.is_made() {
                return None;
            }
            let (ribbon, takes) =
                used(unit, vocabulary).map(|r| (r, true)).or(cut_off(unit, vocabulary).map(|r| (r, false)))?;
            let key = ribbon.of((), ());
            let next = kinds.len();
            Some(End { kind: *kinds.entry(key).or_insert(next), takes })
        };
        let ends = placed.iter().map(&mut end).collect();
        Self { ends, prints, counts: vec![[0; 2]; kinds.len() * prints * prints] }
    }

    /// Counts a unit in or out with these prints of its patches; strips used again become so many fewer.
    pub fn count(&mut self, unit: usize, prints: [Option<Print>; 2], sign: i64) -> i64 {
        let (Some(End { kind, takes }), [Some(tip), Some(rest)]) = (self.ends[unit], prints) else { return 0 };
        // The strip off a trimmed unit has its tip across, in the other fabric.
        let (tip, rest) = if takes { (tip, rest) } else { (rest, tip) };
        let counts = &mut self.counts[(kind * self.prints + tip.0) * self.prints + rest.0];
        let before = counts[0].min(counts[1]);
        counts[usize::from(takes)] += sign;
        before - counts[0].min(counts[1])
    }
}
