//! How far a quilt is: what is made of it, under which numbers it lies, and what the scene was before its last change.

use std::collections::{BTreeMap, BTreeSet};

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::error::{PlanError, wrong};
use super::{Plan, State};
use crate::fabric::{Fabric, is_unprintable};
use crate::fabric::{FillerOnHand, Print, UnitOnHand};
use crate::unit::Corner;
use typed_index_collections::TiSlice;

/// How far a quilt is; nothing where none of it was marked as cut or sewn, nor changed.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Progress {
    /// Whether fabrics and what is on hand are as they are now: what is cut and sewn is no more part of them.
    pub begun: bool,
    /// Numbers that made pieces on hand lie under.
    pub piles: Piles,
    /// Letters of fabrics that ran out, or that another took the place of: no change uses them again.
    pub out: Vec<String>,
    /// Whether fabrics were exchanged by hand in a part: it is then not to be as near to its picture as it can be.
    pub by_hand: bool,
    /// The scene before its last change.
    pub was: Option<Box<Was>>,
}

/// A scene before a change, and what was changed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Was {
    /// The scene, without its picture.
    pub plan: Plan,
    /// What was asked for, in the order given.
    pub why: Vec<Why>,
}

/// One thing that was asked for; parts by their addresses, fabrics by their letters.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum Why {
    /// A part was marked, or released.
    Marked {
        /// Which.
        part: String,
        /// What it became.
        state: State,
    },
    /// A unit was spoilt or lost.
    Lost {
        /// Its address.
        unit: String,
    },
    /// A unit was turned.
    Turned {
        /// Its address.
        unit: String,
    },
    /// Another unit was wanted, of another fabric or kind.
    Wanted {
        /// Its address.
        unit: String,
    },
    /// A fabric took the place of another.
    Exchanged {
        /// Where.
        part: String,
        /// The fabric before.
        now: String,
        /// The fabric since.
        then: String,
    },
    /// A fabric ran out.
    RanOut {
        /// Its letter.
        letter: String,
    },
    /// More of a fabric was bought.
    Bought {
        /// Its letter.
        letter: String,
    },
    /// What there is was told anew.
    Stash,
    /// Another size, picture, title or dial was asked for.
    Asked,
    /// The quilt is finished another way.
    Finished,
}

/// Numbers such as `P3` of made pieces on hand, by what these are: `A+C 6in`, `B 4in x 9in`.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(transparent)]
pub struct Piles(BTreeMap<String, String>);

/// Most piles, most things asked for, and most characters of a text.
const MOST: usize = 10_000;
const MOST_CHARACTERS: usize = 120;

impl Piles {
    /// Whether no piece has a number.
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// The number of a piece on hand.
    pub fn number(&self, thing: &str) -> Option<&str> {
        self.0.get(thing).map(String::as_str)
    }

    /// Puts more pieces of a kind under a number, beside others that it may have.
    pub fn put(&mut self, thing: String, number: &str) {
        let numbers = self.0.entry(thing).or_default();
        if numbers.is_empty() {
            numbers.push_str(number);
        } else if !numbers.split('+').any(|one| one == number) {
            numbers.push('+');
            numbers.push_str(number);
        }
    }

    /// Whether a number is one that pieces on hand lie under.
    pub fn holds(&self, number: &str) -> bool {
        self.0.values().any(|numbers| numbers.split('+').any(|one| one == number))
    }

    pub(super) fn check(&self) -> Result<(), PlanError> {
        let number = |one: &str| {
            let digits = one.strip_prefix(['P', 'F']).unwrap_or_default();
            !digits.is_empty() && digits.bytes().all(|byte| byte.is_ascii_digit())
        };
        let fine =
            |(thing, numbers): (&String, &String)| shown(thing) && shown(numbers) && numbers.split('+').all(number);
        // Units of one pair lie under its number in two corners or four.
        let of = |(thing, numbers): (&'_ String, &'_ String)| -> Vec<(String, String)> {
            let corner = Corner::ALL.into_iter().find_map(|corner| thing.strip_suffix(corner.words()));
            let thing = corner.map_or(thing.as_str(), str::trim_end);
            numbers.split('+').map(|number| (number.to_owned(), thing.to_owned())).collect()
        };
        let lie: BTreeSet<(String, String)> = self.0.iter().flat_map(of).collect();
        let twice = self.0.iter().any(|(_, numbers)| {
            let numbers: Vec<&str> = numbers.split('+').collect();
            numbers.iter().collect::<BTreeSet<_>>().len() < numbers.len()
        });
        let seen: Vec<&String> = lie.iter().map(|(number, _)| number).collect();
        match !twice && self.0.len() <= MOST && self.0.iter().all(fine) && seen.windows(2).all(|two| two[0] != two[1]) {
            true => Ok(()),
            false => Err(wrong("piles", "each is of a piece, under numbers `P` or `F` that no other has")),
        }
    }
}

fn shown(text: &str) -> bool {
    text.chars().count() <= MOST_CHARACTERS && !text.chars().any(is_unprintable)
}

impl Was {
    pub(super) fn check(&self) -> Result<(), PlanError> {
        match self.why.len() <= MOST && self.why.iter().flat_map(Why::texts).all(|text| shown(text)) {
            true => Ok(()),
            false => Err(wrong("was", "what was asked for is too long, or has characters that are not shown")),
        }
    }
}

impl Why {
    fn texts(&self) -> Vec<&String> {
        match self {
            Self::Marked { part, .. } => vec![part],
            Self::Lost { unit } | Self::Turned { unit } | Self::Wanted { unit } => vec![unit],
            Self::Exchanged { part, now, then } => vec![part, now, then],
            Self::RanOut { letter } | Self::Bought { letter } => vec![letter],
            Self::Stash | Self::Asked | Self::Finished => Vec::new(),
        }
    }
}

/// What a triangle unit on hand is called among the piles.
pub fn unit_pile(unit: &UnitOnHand, fabrics: &TiSlice<Print, Fabric>) -> String {
    let [one, other] = unit.fabrics;
    let stands = if one <= other { unit.stands } else { unit.stands.map(Corner::opposite) };
    let stands = stands.map(|corner| format!(" {}", corner.words())).unwrap_or_default();
    format!("{}+{} {}{stands}", fabrics[one.min(other)].letter, fabrics[one.max(other)].letter, unit.finished)
}

/// What a filler on hand is called among the piles.
pub fn filler_pile(filler: &FillerOnHand, fabrics: &TiSlice<Print, Fabric>) -> String {
    let (long, short) = (filler.width.max(filler.height), filler.width.min(filler.height));
    format!("{} {long} x {short}", fabrics[filler.fabric].letter)
}
