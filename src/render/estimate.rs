//! Time and cost of one scene or several, side by side.

use comfy_table::Cell;

use super::finish_words::{finishing, needed};
use super::stash::{right, table};
use crate::make::{Effort, Rates, make};
use crate::measure::{Length, Price, Ruler};
use crate::plan::Plan;

/// What cloth costs; what has no price is left out.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
#[cfg_attr(not(feature = "internals"), non_exhaustive)]
pub struct Prices {
    /// A precut square.
    pub square: Option<Price>,
    /// A yard, or a metre where the scene is metric.
    pub length: Option<Price>,
    /// The batting.
    pub batting: Option<Price>,
}

/// A scene to be reckoned.
pub struct Estimated<'a> {
    /// What it is called here.
    pub name: String,
    /// The scene.
    pub plan: &'a Plan,
    /// Its parts.
    pub parts: [(&'static str, Effort); 6],
}

/// Each part of the work with its time, a column for each scene, and the rates that it is reckoned by.
pub fn time_account(scenes: &[Estimated], rates: &Rates, width: u16) -> String {
    let heads = || std::iter::once("").chain(scenes.iter().map(|scene| scene.name.as_str()));
    let mut shown = table(width, &heads().collect::<Vec<_>>());
    let first = scenes.first().map(|scene| scene.parts.map(|(name, _)| name)).unwrap_or_default();
    for (at, name) in first.into_iter().enumerate() {
        let times = scenes.iter().map(|scene| right(hours(scene.parts[at].1.seconds(rates))));
        shown.add_row(std::iter::once(Cell::new(name)).chain(times));
    }
    let all = |scene: &Estimated| scene.parts.iter().map(|(_, effort)| effort.seconds(rates)).sum();
    shown.add_row(std::iter::once(Cell::new("in all")).chain(scenes.iter().map(|scene| right(hours(all(scene))))));
    let sum = |scene: &Estimated, of: fn(&Effort) -> u64| scene.parts.iter().map(|(_, effort)| of(effort)).sum::<u64>();
    let long = |scene: &Estimated, of: fn(&Effort) -> Length| {
        let length: Length = scene.parts.iter().map(|(_, effort)| of(effort)).sum();
        match scene.plan.request.ruler {
            Ruler::Inch => format!("{} yd", length.ceil_div(Length::YARD)),
            Ruler::Metric => format!("{} m", length.ceil_div(Length::METRE)),
        }
    };
    for (name, of) in
        [("cuts", (|e| e.cuts) as fn(&Effort) -> u64), ("seams", |e| e.seams), ("units trimmed", |e| e.trims)]
    {
        shown.add_row(
            std::iter::once(Cell::new(name)).chain(scenes.iter().map(|scene| right(sum(scene, of).to_string()))),
        );
    }
    let lengths = [
        ("stitched", (|e| e.stitched) as fn(&Effort) -> Length),
        ("quilted", |e| e.quilted),
        ("by hand", |e| e.by_hand),
    ];
    for (name, of) in lengths {
        shown.add_row(std::iter::once(Cell::new(name)).chain(scenes.iter().map(|scene| right(long(scene, of)))));
    }
    let Rates { cut, seam, yard, trim, quilting, hand } = rates;
    format!(
        "{shown}\n\nReckoned with {cut} s a cut, {seam} s a seam, {yard} s a yard stitched, {trim} s a unit trimmed,\n\
         {quilting} s a yard quilted and {hand} s a yard sewn by hand. Time what you do, and give your own rates.\n"
    )
}

/// What the fabrics of each scene cost, one below the other.
pub fn cost_account(scenes: &[Estimated], prices: &Prices, width: u16) -> String {
    scenes.iter().map(|scene| format!("\n{}\n{}\n", scene.name, cost(scene.plan, prices, width))).collect()
}

fn cost(plan: &Plan, prices: &Prices, width: u16) -> String {
    let work = make(plan);
    let mut lines: Vec<(String, Vec<Option<Price>>)> = Vec::new();
    for to_buy in work.shopping(&plan.request) {
        let fabric = &plan.fabrics[to_buy.fabric];
        let squares =
            to_buy.squares.iter().map(|squares| Some(prices.square.as_ref()?.times(i64::from(squares.buy), 1)));
        let length = to_buy.length.map(|length| by_length(plan, prices, length.buy));
        lines.push((format!("{} {}", fabric.letter, fabric.name), squares.chain(length).collect()));
    }
    for part in finishing(plan).iter().flat_map(|finishing| needed(plan, &work, finishing)) {
        let price = match part.bought {
            Some(length) => vec![by_length(plan, prices, length)],
            None if part.part == "Batting" => vec![prices.batting.clone()],
            None => continue,
        };
        lines.push((part.part, price));
    }
    let mut shown = table(width, &["", "costs"]);
    let (mut all, mut open): (Option<Price>, bool) = (None, false);
    for (name, prices) in lines {
        open |= prices.iter().any(Option::is_none);
        let sum = prices.into_iter().flatten().reduce(|sum, price| sum.and(&price));
        shown.add_row([Cell::new(name), right(sum.as_ref().map_or_else(|| "no price".into(), Price::to_string))]);
        all = match (all, sum) {
            (Some(all), Some(sum)) => Some(all.and(&sum)),
            (one, other) => one.or(other),
        };
    }
    let all = all.map_or_else(|| "nothing".into(), |all| all.to_string());
    shown.add_row([Cell::new("in all"), right(all)]);
    let open = if open { "\nWhat has no price is not in the sum." } else { "" };
    format!("{shown}{open}")
}

/// A length by the yard or the metre.
fn by_length(plan: &Plan, prices: &Prices, length: Length) -> Option<Price> {
    let step = if plan.request.ruler == Ruler::Inch { Length::YARD } else { Length::METRE };
    Some(prices.length.as_ref()?.times(length.ticks(), step.ticks()))
}

/// Hours and minutes, to the next five.
fn hours(seconds: u64) -> String {
    let minutes = seconds.div_ceil(300) * 5;
    match (minutes / 60, minutes % 60) {
        (0, minutes) => format!("{minutes} min"),
        (hours, 0) => format!("{hours} h"),
        (hours, minutes) => format!("{hours} h {minutes} min"),
    }
}
