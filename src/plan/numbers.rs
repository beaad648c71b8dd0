//! Numbers that pairs and fillers were given in an earlier list, which a changed plan keeps.

use std::collections::{BTreeMap, BTreeSet};

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::error::{PlanError, wrong};
use crate::fabric::is_unprintable;

/// What has a number of its own kind.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Numbered {
    /// Pairs of squares: `P1`, `P2` and so on.
    Pairs,
    /// Fillers: `F1`, `F2` and so on.
    Fillers,
}

impl Numbered {
    /// The letter before its numbers.
    pub fn letter(self) -> char {
        match self {
            Self::Pairs => 'P',
            Self::Fillers => 'F',
        }
    }
}

/// Numbers by what they were given to, as `P A+C 5 in two at a time` or `F B 4 1/2 in x 9 1/2 in`.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(transparent)]
pub struct Numbers(BTreeMap<String, u32>);

/// Most that a plan may hold, and the highest.
const MOST: usize = 10_000;
const HIGHEST: u32 = 1_000_000;
/// Most characters of what a number was given to.
const MOST_CHARACTERS: usize = 120;

impl Numbers {
    /// None yet.
    pub const NONE: Self = Self(BTreeMap::new());

    /// Whether none was given.
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// The number of each thing of a kind: its own, or the next that was never given.
    pub fn of(&self, kind: Numbered, things: &[String]) -> Vec<u32> {
        let own = self.0.iter().filter(|(thing, _)| thing.starts_with(kind.letter())).map(|(_, number)| *number);
        let mut next = own.max().unwrap_or(0);
        let number = |thing: &String| {
            self.0.get(&key(kind, thing)).copied().unwrap_or_else(|| {
                next += 1;
                next
            })
        };
        things.iter().map(number).collect()
    }

    /// What a list before gave a number of a kind to.
    pub fn thing(&self, kind: Numbered, number: u32) -> Option<&str> {
        let given = self.0.iter().find(|(thing, given)| **given == number && thing.starts_with(kind.letter()));
        given.and_then(|(thing, _)| thing.get(2..))
    }

    /// Whether a list before gave a number, such as `P3`.
    pub fn gave(&self, id: &str) -> bool {
        self.0.iter().any(|(thing, number)| thing.chars().next().is_some_and(|kind| id == format!("{kind}{number}")))
    }

    /// The same with those of these things.
    #[must_use]
    pub fn with(&self, kind: Numbered, things: &[String]) -> Self {
        let given = things.iter().map(|thing| key(kind, thing)).zip(self.of(kind, things));
        let within = given.filter(|(_, number)| *number <= HIGHEST);
        Self(self.0.clone().into_iter().chain(within).take(MOST).collect())
    }

    /// Refuses what no list gives: a number twice, zero, or a name that cannot be printed.
    pub(super) fn check(&self) -> Result<(), PlanError> {
        let no = |why: &str| Err(wrong("numbers", why));
        if self.0.len() > MOST {
            return no("they are too many");
        }
        let mut seen = BTreeSet::new();
        for (thing, number) in &self.0 {
            let kind = thing.chars().next();
            if !(1..=HIGHEST).contains(number) || !matches!(kind, Some('P' | 'F')) {
                return no("each is of a pair `P` or a filler `F`, and counts from 1");
            }
            if thing.chars().count() > MOST_CHARACTERS || thing.chars().any(is_unprintable) {
                return no("one is of something that cannot be shown");
            }
            if !seen.insert((kind, number)) {
                return no("one is given twice");
            }
        }
        Ok(())
    }
}

fn key(kind: Numbered, thing: &str) -> String {
    format!("{} {thing}", kind.letter())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn things(names: &[&str]) -> Vec<String> {
        names.iter().map(|name| (*name).to_owned()).collect()
    }

    #[test]
    fn what_was_numbered_keeps_its_number_and_none_is_given_again() {
        let first = Numbers::NONE.with(Numbered::Pairs, &things(&["a", "b", "c"]));
        assert_eq!(first.of(Numbered::Pairs, &things(&["c", "d", "a", "e"])), [3, 4, 1, 5]);
        let second = first.with(Numbered::Pairs, &things(&["d"]));
        // `b` was let go once and comes back; what is new never takes its number.
        assert_eq!(second.of(Numbered::Pairs, &things(&["x", "b"])), [5, 2]);
        assert_eq!(second.of(Numbered::Fillers, &things(&["a"])), [1]);
        assert!(second.check().is_ok());
    }

    #[test]
    fn what_no_list_gives_is_refused() {
        for (thing, number) in [("P a", 0), ("X a", 1), ("", 1), ("P \u{202e}", 1), ("P a", HIGHEST + 1)] {
            assert!(Numbers(BTreeMap::from([(thing.into(), number)])).check().is_err(), "{thing}");
        }
        let twice = BTreeMap::from([("P a".to_owned(), 1), ("P b".to_owned(), 1)]);
        assert!(Numbers(twice).check().is_err());
    }
}
