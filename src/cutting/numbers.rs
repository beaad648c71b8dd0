//! Numbers of pairs and fillers: as an earlier list gave them, and new ones after those.

use super::{Batch, FillerCut, HandPiece, Upright};
use crate::fabric::Print;
use crate::plan::{Item, Numbered, Numbers, Plan};
use crate::unit::{AtATime, Diagonal, Square, pairable};

/// What things of one name are called once some of them are made.
const MORE: &str = " more";

/// The same things, called otherwise where pieces that are made lie under the number already.
fn not_made(plan: &Plan, kind: Numbered, mut things: Vec<String>) -> Vec<String> {
    for thing in &mut things {
        let lies = |thing: &String| {
            let number = plan.numbers.of(kind, std::slice::from_ref(thing));
            plan.progress.piles.holds(&format!("{}{}", kind.letter(), number[0]))
        };
        while lies(thing) {
            thing.push_str(MORE);
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
    let of = |batch: &Batch| {
        let diagonal = batch.upright.and_then(|upright| upright.diagonal);
        name(plan, [batch.first, batch.second], batch.square, batch.at_a_time, diagonal)
    };
    not_made(plan, Numbered::Pairs, batches.iter().map(of).collect())
}

/// What pairs are called that are sewn alike.
fn name(plan: &Plan, fabrics: [Print; 2], square: Square, at_a_time: AtATime, diagonal: Option<Diagonal>) -> String {
    let [first, second] = fabrics.map(|print| &plan.fabrics[print].letter);
    let quartered = if square.quartered { " quartered" } else { "" };
    let lean = diagonal.map_or("", |diagonal| match diagonal {
        Diagonal::Rising => " rising",
        Diagonal::Falling => " falling",
    });
    format!("{first}+{second} {}{quartered} {}{lean}", square.cut, at_a_time.words())
}

/// The pairs of an earlier list that a made piece on hand comes from; how many they were nobody knows any more.
pub(crate) fn made_batches(plan: &Plan, hand: &HandPiece) -> Vec<Batch> {
    let Item::Unit { first, second, block, stands } = hand.item else { return Vec::new() };
    let vocabulary = plan.vocabulary();
    let finished = vocabulary.grid * block;
    let ways = pairable(&vocabulary).into_iter().flat_map(|square| AtATime::ALL.map(|at_a_time| (square, at_a_time)));
    let ways: Vec<(Square, AtATime)> = ways
        .filter(|(square, way)| way.finished(square.cut, vocabulary.seam.working, vocabulary.grid) == finished)
        .collect();
    let leans = [None, Some(Diagonal::Rising), Some(Diagonal::Falling)];
    let one = |id: &str| {
        let thing = plan.numbers.thing(Numbered::Pairs, id.strip_prefix('P')?.parse().ok()?)?;
        let is_so = |(square, way): &(Square, AtATime), lean| {
            name(plan, [first, second], *square, *way, lean) == thing.trim_end_matches(MORE)
        };
        let (&(square, at_a_time), diagonal) =
            ways.iter().flat_map(|way| leans.map(|lean| (way, lean))).find(|(way, lean)| is_so(way, *lean))?;
        let [one, other] = [first, second].map(|print| plan.fabrics[print].upright);
        Some(Batch {
            id: id.to_owned(),
            first,
            second,
            size: at_a_time.size(),
            square,
            at_a_time,
            trimmed: finished + plan.request.seam.both(),
            finished,
            pairs: 0,
            needed: 0,
            upright: stands.map(|_| Upright { diagonal, second_below: !one, both: one && other, needed: [0; 4] }),
        })
    };
    let ids = hand.id.split(' ').next().unwrap_or_default();
    ids.split('+').filter_map(one).collect()
}

/// What each filler is.
fn rectangles(plan: &Plan, fillers: &[FillerCut]) -> Vec<String> {
    let of = |filler: &FillerCut| {
        format!("{} {} x {}", plan.fabrics[filler.fabric].letter, filler.cut.width, filler.cut.height)
    };
    not_made(plan, Numbered::Fillers, fillers.iter().map(of).collect())
}
