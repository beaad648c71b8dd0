//! Questions about a scene that change nothing: what to do about a row, and what one thing more would do.

use std::collections::BTreeSet;

use super::error::JobError;
use super::revise::{Bought, ReviseBrief, revise};
use crate::answer::{OneMore, Thing};
use crate::fabric::{Fabric, OnHand, Squares, Stash, Supply};
use crate::likeness::likeness;
use crate::make::{Remedy, make, remedy as for_row};
use crate::measure::Length;
use crate::plan::{Address, Plan};
use crate::prints::report;
use crate::revise::{ReviseError, TopPart};
use crate::watch::{Stage, Watch};

/// What to do about the row at an address that measures so much, unfinished.
pub fn remedy(plan: &Plan, row: Address, measured: Length) -> Result<Remedy, JobError> {
    let work = make(plan);
    let at = |address: Address| (address.band, address.column, address.row);
    let found = work.rows.iter().find(|one| at(one.address) == at(row));
    let found = found.ok_or(ReviseError::NoPart(TopPart::Row(row.band, row.column, row.row)))?;
    Ok(for_row(plan, found, measured))
}

/// How many are told.
const BEST: usize = 3;
/// Rounds in which scarce cloth is priced for each that is tried.
const ROUNDS: u32 = 6;

/// What one more square, and one more print, of each counted family would do to the rest of the scene: the best three.
///
/// Each is composed afresh around what stands, and so is the scene that it is compared with.
pub fn one_more(plan: &Plan, watch: &Watch) -> Result<Vec<OneMore>, JobError> {
    let Some(side) = plan.request.squares.iter().map(|square| square.bought()).max() else { return Ok(Vec::new()) };
    let counted = plan.fabrics.iter().filter(|fabric| fabric.supply.is_some());
    let mut seen = BTreeSet::new();
    let families: Vec<&Fabric> = counted.filter(|fabric| seen.insert(&fabric.family)).collect();
    let trials: Vec<(&Fabric, Thing)> = families
        .iter()
        .flat_map(|fabric| {
            let squares = Thing::Square(fabric.letter.clone(), side);
            [(*fabric, squares), (*fabric, Thing::Print(usual_count(plan, fabric), side))]
        })
        .collect();
    let steps = trials.len() as u32 + 1;
    let afresh = ReviseBrief { stay: Some(0), rounds: ROUNDS, ..ReviseBrief::default() };
    watch.begins(Stage::Stash, 1, steps)?;
    let quiet = watch.quietly();
    let now = judged(&revise(plan, &afresh, None, None, &quiet)?.plan);
    let mut all = Vec::new();
    for (at, (fabric, what)) in (2..).zip(trials) {
        watch.begins(Stage::Stash, at, steps)?;
        let brief = with(plan, fabric, &what, &afresh);
        let then = judged(&revise(plan, &brief, None, None, &quiet)?.plan);
        let error = if now.0 > 0.0 { then.0 / now.0 } else { 1.0 };
        all.push(OneMore { family: fabric.family.clone(), what, error, touching: [now.1, then.1] });
    }
    // A hundredth of the distance is worth one place that touches (by eye).
    let worth = |one: &OneMore| one.error * 100.0 + one.touching[1] as f64;
    all.retain(|one| one.error < 1.0 || one.touching[1] < one.touching[0]);
    all.sort_by(|one, other| worth(one).total_cmp(&worth(other)));
    all.truncate(BEST);
    Ok(all)
}

fn judged(plan: &Plan) -> (f64, usize) {
    (likeness(plan).error, report(plan).map_or(0, |report| report.clashes))
}

/// As many squares as the prints of its family have of the size, and one at least.
fn usual_count(plan: &Plan, of: &Fabric) -> u32 {
    let family = plan.fabrics.iter().filter(|fabric| fabric.family == of.family);
    let counts: Vec<u32> = family
        .filter_map(|fabric| Some(fabric.supply.as_ref()?.squares.iter().map(|squares| squares.count).sum()))
        .collect();
    (counts.iter().sum::<u32>() / (counts.len() as u32).max(1)).max(1)
}

fn with(plan: &Plan, fabric: &Fabric, what: &Thing, afresh: &ReviseBrief) -> ReviseBrief {
    let squares = |size: Length, count: u32| Supply { squares: vec![Squares { size, count }], ..Supply::default() };
    match what {
        Thing::Square(letter, side) => {
            let bought = vec![Bought { letter: letter.clone(), supply: squares(*side, 1) }];
            ReviseBrief { bought, ..afresh.clone() }
        }
        Thing::Print(count, side) => {
            let taken = |letter: &str| plan.fabrics.iter().any(|fabric| fabric.letter.eq_ignore_ascii_case(letter));
            let letter = (1..).map(|number| format!("X{number}")).find(|letter| !taken(letter)).unwrap_or_default();
            let name = format!("one more {letter}");
            let print = Fabric { letter, name, sketch: None, supply: Some(squares(*side, *count)), ..fabric.clone() };
            let stash = Stash { prints: vec![print].into(), hand: OnHand::default() };
            ReviseBrief { stash: Some(stash.write()), ..afresh.clone() }
        }
    }
}
