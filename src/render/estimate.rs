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
    /// A square, and a yard or metre, of a fabric that costs other than the rest, by its letter.
    pub fabrics: Vec<(String, [Option<Price>; 2])>,
}

impl Prices {
    /// Sets the price of a square (0), a length (1) or the batting (2), of one fabric or of all.
    pub fn set(&mut self, letter: Option<&str>, what: usize, price: Price) {
        match (letter, what) {
            (Some(letter), 0 | 1) => {
                let at = self.fabrics.iter().position(|(other, _)| other == letter).unwrap_or_else(|| {
                    self.fabrics.push((letter.to_owned(), [None, None]));
                    self.fabrics.len() - 1
                });
                self.fabrics[at].1[what] = Some(price);
            }
            (_, 0) => self.square = Some(price),
            (_, 1) => self.length = Some(price),
            _ => self.batting = Some(price),
        }
    }

    /// What a square of a fabric costs, and what a yard or metre of it.
    fn of(&self, letter: &str) -> [Option<&Price>; 2] {
        let own = self.fabrics.iter().find(|(other, _)| other == letter).map(|(_, own)| own);
        let own = |at: usize| own.and_then(|own| own[at].as_ref());
        [own(0).or(self.square.as_ref()), own(1).or(self.length.as_ref())]
    }
}

/// What is bought for a scene, and what it costs.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
#[cfg_attr(not(feature = "internals"), non_exhaustive)]
pub struct Cost {
    /// Each fabric, and each part of the finishing, with its price; none where some of it has none.
    pub lines: Vec<(String, Option<Price>)>,
    /// All that has a price.
    pub sum: Option<Price>,
    /// Whether something has none.
    pub open: bool,
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
    scenes.iter().map(|scene| format!("\n{}\n{}\n", scene.name, shown(&cost(scene.plan, prices), width))).collect()
}

fn shown(cost: &Cost, width: u16) -> String {
    let mut shown = table(width, &["", "costs"]);
    let said = |price: &Option<Price>, none: &str| right(price.as_ref().map_or_else(|| none.into(), Price::to_string));
    for (name, price) in &cost.lines {
        shown.add_row([Cell::new(name), said(price, "no price")]);
    }
    shown.add_row([Cell::new("in all"), said(&cost.sum, "nothing")]);
    let open = if cost.open { "\nWhat has no price is not in the sum." } else { "" };
    format!("{shown}{open}")
}

/// What is bought for a scene, and what it costs.
pub fn cost(plan: &Plan, prices: &Prices) -> Cost {
    let work = make(plan);
    let mut lines: Vec<(String, Vec<Option<Price>>)> = Vec::new();
    for to_buy in work.shopping(&plan.request) {
        let fabric = &plan.fabrics[to_buy.fabric];
        let [square, length] = prices.of(&fabric.letter);
        let squares = to_buy.squares.iter().map(|squares| Some(square?.times(i64::from(squares.buy), 1)));
        let length = to_buy.length.map(|bought| by_length(plan, length, bought.buy));
        lines.push((format!("{} {}", fabric.letter, fabric.name), squares.chain(length).collect()));
    }
    for part in finishing(plan).iter().flat_map(|finishing| needed(plan, &work, finishing)) {
        let letter = part.fabric.map(|fabric| plan.fabrics[fabric].letter.as_str()).unwrap_or_default();
        let price = match part.bought {
            Some(length) => vec![by_length(plan, prices.of(letter)[1], length)],
            None if part.part == "Batting" => vec![prices.batting.clone()],
            None => continue,
        };
        lines.push((part.part, price));
    }
    let mut cost = Cost::default();
    for (name, prices) in lines {
        cost.open |= prices.iter().any(Option::is_none);
        let sum = prices.into_iter().flatten().reduce(|sum, price| sum.and(&price));
        cost.sum = match (cost.sum, &sum) {
            (Some(all), Some(sum)) => Some(all.and(sum)),
            (one, other) => one.or(other.clone()),
        };
        cost.lines.push((name, sum));
    }
    cost
}

/// A length by the yard or the metre.
fn by_length(plan: &Plan, price: Option<&Price>, length: Length) -> Option<Price> {
    let step = if plan.request.ruler == Ruler::Inch { Length::YARD } else { Length::METRE };
    Some(price?.times(length.ticks(), step.ticks()))
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
