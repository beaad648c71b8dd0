//! What two plans have in common, and what is cut more or less.

use std::collections::{BTreeMap, BTreeSet};

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::fabric::Print;
use crate::make::Work;
use crate::measure::Length;
use crate::plan::Plan;
use crate::unit::{Corner, Cut};

/// How many of one thing there were and are.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Count {
    /// What is counted.
    pub what: String,
    /// In the old plan.
    pub before: u32,
    /// In the new plan.
    pub after: u32,
}

/// What changed from one plan to the next.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[cfg_attr(not(feature = "internals"), non_exhaustive)]
pub struct Changes {
    /// Units of the new plan.
    pub units: usize,
    /// Units that are the same in the same place.
    pub same: usize,
    /// Units by kind that are more or fewer.
    pub kinds: Vec<Count>,
    /// Pairs of squares that are more or fewer.
    pub pairs: Vec<Count>,
    /// Fillers to cut that are more or fewer.
    pub fillers: Vec<Count>,
}

/// Compares two plans, each with its work.
pub fn compare(old: (&Plan, &Work), new: (&Plan, &Work)) -> Changes {
    let before: BTreeSet<_> = units(old.0).into_iter().collect();
    let after = units(new.0);
    Changes {
        units: after.len(),
        same: after.iter().filter(|unit| before.contains(*unit)).count(),
        kinds: counted(kinds(old.0), kinds(new.0)),
        pairs: counted(pairs(old), pairs(new)),
        fillers: counted(fillers(old), fillers(new)),
    }
}

type Seen = ([Length; 4], Option<(Length, Cut)>, Option<Corner>, Vec<String>);

/// Every unit by its place and what it is.
fn units(plan: &Plan) -> Vec<Seen> {
    let grid = plan.request.grid;
    let letter = |print: Print| plan.fabrics[print].letter.clone();
    let seen = plan.placed().into_iter().map(|placed| {
        let sides = [placed.x, placed.y, placed.unit.width, placed.height].map(|cells| grid * cells);
        let piece = placed.unit.piece;
        let mut fabrics: Vec<Print> = piece.fabrics().collect();
        fabrics.sort_unstable();
        let cut_from = piece.cut_from().map(|(block, cut)| (grid * block, cut));
        (sides, cut_from, piece.turn(), fabrics.into_iter().map(letter).collect())
    });
    seen.collect()
}

type Amounts = BTreeMap<String, u32>;

fn kinds(plan: &Plan) -> Amounts {
    let vocabulary = plan.vocabulary();
    sum(plan.placed().iter().map(|placed| (placed.unit.piece.kind(&vocabulary), 1)))
}

fn pairs((plan, work): (&Plan, &Work)) -> Amounts {
    let letter = |print: Print| &plan.fabrics[print].letter;
    let show = |length| plan.request.ruler.show(length);
    sum(work.batches.iter().map(|batch| {
        let (first, second) = (letter(batch.first), letter(batch.second));
        let words =
            format!("{first} with {second}, squares of {}, {}", show(batch.square.cut), batch.at_a_time.words());
        (words, batch.pairs)
    }))
}

fn fillers((plan, work): (&Plan, &Work)) -> Amounts {
    let ruler = plan.request.ruler;
    sum(work.fillers.iter().map(|filler| {
        let size = format!("{} x {}", ruler.number(filler.cut.width), ruler.show(filler.cut.height));
        (format!("{} {size}", plan.fabrics[filler.fabric].letter), filler.count)
    }))
}

fn sum(amounts: impl Iterator<Item = (String, u32)>) -> Amounts {
    amounts.fold(Amounts::new(), |mut sums, (what, count)| {
        *sums.entry(what).or_default() += count;
        sums
    })
}

fn counted(before: Amounts, after: Amounts) -> Vec<Count> {
    let all: BTreeSet<&String> = before.keys().chain(after.keys()).collect();
    let count = |what: &String| Count {
        what: what.clone(),
        before: before.get(what).copied().unwrap_or(0),
        after: after.get(what).copied().unwrap_or(0),
    };
    all.into_iter().map(count).filter(|count| count.before != count.after).collect()
}
