//! What is doubtful in a stash that reads well.
//!
//! Numbers without a source were found by trial, no figures kept.

use std::fmt;

use super::Stash;
use super::alike::alike;
use super::totals::gives;
use crate::fabric::{Fabric, Print, ValueStep, hyab, value_step};
use crate::measure::Length;

/// Something that the maker may want to look at again.
#[derive(Clone, Debug, PartialEq, Eq)]
#[cfg_attr(not(feature = "internals"), non_exhaustive)]
pub enum StashNote {
    /// Pairs of fabrics with names that are easily mixed up.
    NamesAlike(Vec<String>),
    /// Pairs of families with such names.
    FamiliesAlike(Vec<String>),
    /// Of each family whose prints do not read as one, the farthest two.
    FarInFamily(Vec<String>),
    /// Pairs of almost one colour in different families.
    NearApart(Vec<String>),
    /// Prints alone in their family.
    AloneInFamily(Vec<String>),
    /// No fabric is `light`, `middle` or `dark`.
    NoneSo(&'static str),
    /// A size of squares that gives no unit.
    NoUnit(Length),
    /// Units on hand of a size that no listed square makes.
    OddUnits(Length),
    /// Prints with nothing of them.
    NothingOf(Vec<String>),
    /// Prints without counts among others that have them.
    Uncounted(Vec<String>),
}

impl Stash {
    /// Two prints of a family farther apart than this do not read as one, in HyAB.
    pub const FAR: f64 = 30.0;
    /// Two prints nearer than this read as one, in HyAB.
    pub const NEAR: f64 = 6.0;

    /// What is doubtful in it, each kind of doubt once.
    pub fn notes(&self) -> Vec<StashNote> {
        let lists = [
            (StashNote::NamesAlike as fn(Vec<String>) -> StashNote, self.names_alike()),
            (StashNote::FamiliesAlike, self.families_alike()),
            (StashNote::FarInFamily, self.far_in_family()),
            (StashNote::NearApart, self.near_apart()),
            (StashNote::AloneInFamily, self.alone_in_family()),
            (StashNote::NothingOf, self.nothing_of()),
            (StashNote::Uncounted, self.uncounted()),
        ];
        let lists = lists.into_iter().filter(|(_, list)| !list.is_empty()).map(|(note, list)| note(list));
        lists.chain(self.missing_values()).chain(self.odd_sizes()).collect()
    }

    fn pairs(&self) -> impl Iterator<Item = (&Fabric, &Fabric)> {
        let prints = &self.prints.raw;
        (0..prints.len()).flat_map(move |j| (0..j).map(move |i| (&prints[i], &prints[j])))
    }

    fn names_alike(&self) -> Vec<String> {
        let near = self.pairs().filter(|(one, other)| alike(&one.name, &other.name));
        near.map(|(one, other)| both(one, other)).collect()
    }

    /// Families that hold more than one print or have a name of their own.
    fn families_alike(&self) -> Vec<String> {
        let mut families: Vec<&str> = Vec::new();
        for fabric in &self.prints {
            if fabric.family != fabric.name && !families.contains(&fabric.family.as_str()) {
                families.push(&fabric.family);
            }
        }
        let pairs = (0..families.len()).flat_map(|j| (0..j).map(move |i| (i, j)));
        let near = pairs.map(|(i, j)| (families[i], families[j])).filter(|(one, other)| alike(one, other));
        near.map(|(one, other)| format!("`{one}` and `{other}`")).collect()
    }

    /// The farthest two of each family that does not hold together.
    fn far_in_family(&self) -> Vec<String> {
        let mut farthest: Vec<(&Fabric, &Fabric)> = Vec::new();
        for (one, other) in self.pairs().filter(|(one, other)| one.family == other.family) {
            match farthest.iter_mut().find(|pair| pair.0.family == one.family) {
                Some(pair) if apart(pair.0, pair.1) < apart(one, other) => *pair = (one, other),
                Some(_) => {}
                None => farthest.push((one, other)),
            }
        }
        let far = farthest.into_iter().filter(|(one, other)| apart(one, other) > Self::FAR);
        far.map(|(one, other)| format!("{} in `{}` ({:.0} apart)", both(one, other), one.family, apart(one, other)))
            .collect()
    }

    fn near_apart(&self) -> Vec<String> {
        let near = |(one, other): &(&Fabric, &Fabric)| one.family != other.family && apart(one, other) < Self::NEAR;
        let words = |(one, other): (&Fabric, &Fabric)| format!("{} ({:.0} apart)", both(one, other), apart(one, other));
        self.pairs().filter(near).map(words).collect()
    }

    fn alone_in_family(&self) -> Vec<String> {
        let alone = |print: &&Fabric| self.prints.iter().filter(|p| p.family == print.family).count() == 1;
        self.prints.iter().filter(alone).map(label).collect()
    }

    fn nothing_of(&self) -> Vec<String> {
        let nothing = |(index, print): &(Print, &Fabric)| {
            let cloth = print.supply.as_ref().is_none_or(|supply| {
                !supply.yardage.is_empty()
                    || supply.fat_quarters > 0
                    || supply.squares.iter().any(|squares| squares.count > 0)
                    || supply.oddments.iter().any(|piece| piece.count > 0)
            });
            !cloth && !self.on_hand(*index)
        };
        self.prints.iter_enumerated().filter(nothing).map(|(_, print)| label(print)).collect()
    }

    /// Whether any piece on hand has this fabric in it.
    fn on_hand(&self, print: Print) -> bool {
        self.hand.units.iter().any(|unit| unit.count > 0 && unit.fabrics.contains(&print))
            || self.hand.slices.iter().any(|slice| slice.count > 0 && [slice.tip, slice.rest].contains(&print))
            || self.hand.fillers.iter().any(|filler| filler.count > 0 && filler.fabric == print)
    }

    fn uncounted(&self) -> Vec<String> {
        let free: Vec<&Fabric> = self.prints.iter().filter(|print| print.supply.is_none()).collect();
        if free.len() == self.prints.len() { Vec::new() } else { free.into_iter().map(label).collect() }
    }

    fn missing_values(&self) -> impl Iterator<Item = StashNote> {
        let steps: Vec<ValueStep> = self.prints.iter().map(|print| value_step(print.colour)).collect();
        let missing = move |(_, wanted): &(&str, &[ValueStep])| !steps.iter().any(|step| wanted.contains(step));
        const VALUES: [(&str, &[ValueStep]); 3] = [
            ("light", &[ValueStep::Light, ValueStep::MediumLight]),
            ("middle", &[ValueStep::Medium]),
            ("dark", &[ValueStep::MediumDark, ValueStep::Dark]),
        ];
        VALUES.into_iter().filter(missing).map(|(value, _)| StashNote::NoneSo(value))
    }

    fn odd_sizes(&self) -> Vec<StashNote> {
        let totals = self.totals();
        let sizes: Vec<Length> = totals.squares.iter().filter(|s| s.count > 0).map(|s| s.size).collect();
        let barren = sizes.iter().filter(|size| gives(**size).is_empty()).map(|size| StashNote::NoUnit(*size));
        let made: Vec<Length> =
            sizes.iter().flat_map(|size| [*size, *size / 2]).flat_map(gives).map(|(_, finished)| finished).collect();
        let odd = totals.units.iter().filter(|(size, count)| *count > 0 && !sizes.is_empty() && !made.contains(size));
        barren.chain(odd.map(|(size, _)| StashNote::OddUnits(*size))).collect()
    }
}

fn apart(one: &Fabric, other: &Fabric) -> f64 {
    hyab(one.colour, other.colour)
}

fn label(print: &Fabric) -> String {
    format!("{} {}", print.letter, print.name)
}

fn both(one: &Fabric, other: &Fabric) -> String {
    format!("{} and {}", label(one), label(other))
}

/// The first six, and how many more there are.
fn some(list: &[String]) -> String {
    let (shown, rest) = list.split_at(list.len().min(6));
    let text = shown.join("; ");
    if rest.is_empty() { text } else { format!("{text}; and {} more", rest.len()) }
}

impl fmt::Display for StashNote {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NamesAlike(list) => write!(f, "names easily mixed up: {}", some(list)),
            Self::FamiliesAlike(list) => {
                write!(f, "families with names almost alike: {}: if they are one, write the same name", some(list))
            }
            Self::FarInFamily(list) => {
                write!(
                    f,
                    "far apart in colour for one family: {}: over {} they do not read as one",
                    some(list),
                    Stash::FAR
                )
            }
            Self::NearApart(list) => {
                write!(f, "almost one colour in two families: {}: under {} they read as one", some(list), Stash::NEAR)
            }
            Self::AloneInFamily(list) => {
                write!(
                    f,
                    "alone in their family: {}: no unit of two prints that nearly match can be made of them",
                    some(list)
                )
            }
            Self::NoneSo(value) => write!(f, "no fabric is {value}: {}", value_words(value)),
            Self::NoUnit(size) => write!(f, "squares of {size} give no triangle unit: they serve as fillers only"),
            Self::OddUnits(size) => {
                write!(f, "units of {size} on hand: no square listed, whole or quartered, makes more of that size")
            }
            Self::NothingOf(list) => {
                write!(f, "nothing there of: {}: a fabric of which there is enough has no counts at all", some(list))
            }
            Self::Uncounted(list) => {
                write!(f, "without counts, so free to use, while others are counted: {}", some(list))
            }
        }
    }
}

fn value_words(value: &str) -> &'static str {
    match value {
        "light" => "none is light or medium light in value, so lamps, sails and clouds will not shine",
        "middle" => "none is of medium value, so slopes from light to dark will look hard",
        _ => "none is dark or medium dark in value, so night, rock and shade will look pale",
    }
}
