//! Yardage: all pieces out of the least length.

use super::bound::Bounder;
use super::build::{Builder, Pattern};
use super::model::LayoutEffort;
use super::order::Order;
use super::search::{self, Dice};

/// Most parts that the bound is split into.
const PARTS: usize = 120;
/// Most rounds of each search.
const ROUNDS: usize = 60;

/// Strips for all pieces that fit, and the least length that they can take.
pub(super) struct Shortest {
    pub patterns: Vec<Pattern>,
    pub bound: i64,
}

/// The shortest strips found.
pub(super) fn shortest(order: &Order, effort: LayoutEffort) -> Shortest {
    let mut builder = Builder::new(order);
    let mut dice = Dice::new(1);
    let prices = search::prices(order);
    let area = area(order);
    let looks = effort.steps() / order.work();
    let mut best = search::by_prices(&mut builder, &prices, (looks / 64).min(ROUNDS), &mut dice, area);
    search::rebuild(&mut builder, &mut best, &prices, (looks / 64).min(ROUNDS), &mut dice, area);
    let mut bounder = Bounder::new(order, best);
    let bound = bounder.bound((looks / 64).min(PARTS)).max(area);
    let mut best = bounder.best;
    search::rebuild(&mut builder, &mut best, &prices, (looks / 16).min(ROUNDS * 10), &mut dice, bound);
    Shortest { patterns: best, bound }
}

/// Length of full width that has the area of all pieces, rounded up to what strips can add up to.
fn area(order: &Order) -> i64 {
    let sizes = order.kinds.iter().zip(&order.counts);
    let area: i128 = sizes.map(|(kind, &count)| kind.area() * i128::from(count)).sum();
    let unit = (i128::from(order.width) * i128::from(order.grain())).max(1);
    i64::try_from((area + unit - 1).div_euclid(unit) * i128::from(order.grain())).unwrap_or(0)
}
