//! Numbers of pairs and fillers: as an earlier list gave them, and new ones after those.

use super::{Batch, FillerCut};
use crate::fabric::Print;
use crate::plan::{Numbered, Numbers, Plan};
use crate::unit::Diagonal;

/// The same things, called otherwise where pieces that are made lie under the number already.
fn not_made(plan: &Plan, kind: Numbered, mut things: Vec<String>) -> Vec<String> {
    for thing in &mut things {
        let lies = |thing: &String| {
            let number = plan.numbers.of(kind, std::slice::from_ref(thing));
            plan.progress.piles.holds(&format!("{}{}", kind.letter(), number[0]))
        };
        while lies(thing) {
            thing.push_str(" more");
        }
    }
    things
}

/// Numbers what is cut for a plan.
pub fn number(plan: &Plan, batches: &mut [Batch], fillers: &mut [FillerCut]) {
    let numbers = plan.numbers.of(Numbered::Pairs, &pairs(plan, batches));
    batches.iter_mut().zip(numbers).for_each(|(batch, number)| batch.id = format!("P{number}"));
    let numbers = plan.numbers.of(Numbered::Fillers, &rectangles(plan, fillers));
    fillers.iter_mut().zip(numbers).for_each(|(filler, number)| filler.id = format!("F{number}"));
}

/// The plan's numbers with those of what is cut for it.
pub fn with_these(plan: &Plan, batches: &[Batch], fillers: &[FillerCut]) -> Numbers {
    let with = plan.numbers.with(Numbered::Pairs, &pairs(plan, batches));
    with.with(Numbered::Fillers, &rectangles(plan, fillers))
}

/// What each batch of pairs is of.
fn pairs(plan: &Plan, batches: &[Batch]) -> Vec<String> {
    let letter = |print: Print| &plan.fabrics[print].letter;
    let of = |batch: &Batch| {
        let (first, second, square) = (letter(batch.first), letter(batch.second), batch.square);
        let quartered = if square.quartered { " quartered" } else { "" };
        let lean = batch.upright.and_then(|upright| upright.diagonal).map_or("", |diagonal| match diagonal {
            Diagonal::Rising => " rising",
            Diagonal::Falling => " falling",
        });
        format!("{first}+{second} {}{quartered} {}{lean}", square.cut, batch.at_a_time.words())
    };
    not_made(plan, Numbered::Pairs, batches.iter().map(of).collect())
}

/// What each filler is.
fn rectangles(plan: &Plan, fillers: &[FillerCut]) -> Vec<String> {
    let of = |filler: &FillerCut| {
        format!("{} {} x {}", plan.fabrics[filler.fabric].letter, filler.cut.width, filler.cut.height)
    };
    not_made(plan, Numbered::Fillers, fillers.iter().map(of).collect())
}
