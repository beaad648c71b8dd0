//! The work step by step, and what ticks of it make of the scene.

use std::collections::BTreeSet;

use crate::make::{Step, make, steps as of, ticked as made};
use crate::plan::Plan;
use crate::revise::{Change, TopPart};

/// Every step of a scene, in the order of the work.
pub fn steps(plan: &Plan) -> Vec<Step> {
    of(plan, &make(plan))
}

/// The marks that a change of the scene is to respect: what steps with these keys, being ticked, have cut and sewn.
pub fn ticked(plan: &Plan, ticks: &[String]) -> Vec<Change> {
    if ticks.is_empty() {
        return Vec::new();
    }
    let ticks: BTreeSet<&str> = ticks.iter().map(String::as_str).collect();
    let states = made(plan, &steps(plan), &ticks);
    states.into_iter().map(|(at, state)| Change::Mark(TopPart::Unit(at), state)).collect()
}
