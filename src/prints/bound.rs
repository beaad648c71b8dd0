//! How many clashes no choice of prints could avoid.
//!
//! Each family is taken alone, as if cloth were free: each patch may show any print of the family, what is kept or
//! sewn shows its own, and the two patches of a quiet unit differ. Units of a class for which one pair of squares
//! serves are all of the same two prints, so their patches of one family count as one. Every scene that takes no
//! more pairs is a choice of this kind, so the least number of clashes over all of them is never more than any scene
//! has. `eliminate` finds it, or less where a family is too much entangled.

use super::deal::{Deal, NONE};
use super::eliminate::{Table, least as least_sum};

/// Stands for what must not be.
const NEVER: u32 = 1 << 20;

/// Clashes that cannot be avoided, by family.
pub fn least(deal: &Deal, families: &[Vec<usize>]) -> Vec<usize> {
    let stands_for = stands_for(deal);
    (0..families.len()).map(|family| least_of(deal, &stands_for, families, family, 0)).collect()
}

/// Clashes of one family that cannot be avoided with so many prints more.
pub fn with_more(deal: &Deal, families: &[Vec<usize>], family: usize, more: usize) -> usize {
    least_of(deal, &stands_for(deal), families, family, more)
}

/// The patch that stands for each: the first of those that show one print whatever is chosen.
fn stands_for(deal: &Deal) -> Vec<usize> {
    let mut stands_for: Vec<usize> = (0..deal.shows.len()).collect();
    for class in &deal.classes {
        let lot = deal.units[class[0]].lot;
        let quiet = deal.lots[lot].families[0] == deal.lots[lot].families[1];
        if quiet || class.iter().any(|&unit| deal.units[unit].lot != lot) {
            continue;
        }
        for patch in class.iter().flat_map(|&unit| [2 * unit, 2 * unit + 1]) {
            let first = |other: &usize| deal.side(*other).1 == deal.side(patch).1;
            stands_for[patch] = [2 * class[0], 2 * class[0] + 1].into_iter().find(first).unwrap_or(patch);
        }
    }
    stands_for
}

fn least_of(deal: &Deal, stands_for: &[usize], families: &[Vec<usize>], family: usize, more: usize) -> usize {
    let prints = &families[family];
    let values = prints.len() + more;
    let mut numbers = vec![NONE; deal.shows.len()];
    let mut choices = 0;
    let mut tables = Vec::new();
    let mut number = |patch: usize| {
        let patch = stands_for[patch];
        if numbers[patch] == NONE {
            numbers[patch] = choices;
            choices += 1;
        }
        numbers[patch]
    };
    let mut sure = 0;
    for (patch, touches) in deal.touches.iter().enumerate() {
        let print = deal.shows[patch];
        if !prints.contains(&print) {
            continue;
        }
        let free = |patch: usize| deal.units[patch / 2].lot != NONE;
        for &other in touches.iter().filter(|other| **other > patch) {
            match (free(patch), free(other)) {
                (true, true) if stands_for[patch] == stands_for[other] => sure += 1,
                (true, true) => tables.push(differ(number(patch), number(other), values, 1)),
                (true, false) => tables.push(not(number(patch), prints, deal.shows[other], values)),
                (false, true) => tables.push(not(number(other), prints, print, values)),
                (false, false) => sure += usize::from(print == deal.shows[other]),
            }
        }
        let rest = patch + 1;
        if patch % 2 == 0 && free(patch) && prints.contains(&deal.shows[rest]) {
            tables.push(differ(number(patch), number(rest), values, NEVER));
        }
    }
    sure + least_sum(choices, values, tables) as usize
}

/// What it costs that two patches show one print.
fn differ(one: usize, other: usize, values: usize, cost: u32) -> Table {
    let costs = (0..values * values).map(|at| if at / values == at % values { cost } else { 0 });
    Table { over: vec![one.min(other), one.max(other)], costs: costs.collect() }
}

/// What it costs that a patch shows this print.
fn not(patch: usize, prints: &[usize], print: usize, values: usize) -> Table {
    let costs = (0..values).map(|value| u32::from(prints.get(value) == Some(&print)));
    Table { over: vec![patch], costs: costs.collect() }
}
