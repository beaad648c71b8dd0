//! The shopping as tables for a screen.

use std::collections::BTreeMap;

use super::words::{all_lengths, bought, left_words, taken_words};
use crate::fabric::{Fabric, value_step};
use crate::make::{ToBuy, Work};
use crate::measure::{Length, shop_words};
use crate::plan::Plan;
use crate::render::finish_words::{Needed, finishing, needed};
use crate::render::stash::{right, table};
use crate::render::text::count;

/// What to buy; and what is taken of the stash and left of it, in lines of at most `width` letters.
pub fn shopping_account(plan: &Plan, work: &Work, width: u16) -> String {
    let to_buy = work.shopping(&plan.request);
    let mut text = String::new();
    if plan.fabrics.iter().any(Fabric::has_cloth) {
        text += &format!("\nOf the stash\n{}\n", stash(plan, work, width));
    }
    if !to_buy.is_empty() {
        text += &format!("\n{}\n{}\n\n", title(plan.request.margin), buy(plan, &to_buy, width));
        text += &format!("  {:<15}{}\n", "in all", sums(plan, &to_buy));
    }
    if let Some(finishing) = finishing(plan) {
        let needed = needed(plan, work, &finishing);
        if !needed.is_empty() {
            text += &format!("\nTo finish it\n{}\n", finish(plan, &needed, width));
        }
    }
    text
}

fn finish(plan: &Plan, needed: &[Needed], width: u16) -> String {
    let mut table = table(width, &["for", "fabric", "cut of it", "buy"]);
    for part in needed {
        let fabric = part.fabric.and_then(|print| plan.fabrics.get(print));
        let fabric = fabric.map_or_else(|| "–".into(), |fabric| format!("{} {}", fabric.letter, fabric.name));
        table.add_row([part.part.clone(), fabric, part.cut.clone(), part.buy.clone()]);
    }
    table.to_string()
}

fn title(margin: u32) -> String {
    match margin {
        0 => "To buy, nothing over what is cut".into(),
        margin => format!("To buy, {margin} % over what is cut"),
    }
}

fn buy(plan: &Plan, to_buy: &[ToBuy], width: u16) -> String {
    let ruler = plan.request.ruler;
    let mut table = table(width, &["", "name", "colour", "value", "squares", "cloth"]);
    for fabric in to_buy {
        let Some(named) = plan.fabrics.get(fabric.fabric) else { continue };
        let length = fabric.length.map(|length| shop_words(ruler, length.buy));
        table.add_row([
            named.letter.clone().into(),
            named.name.clone().into(),
            named.colour.to_string().into(),
            value_step(named.colour).words().into(),
            right(bought(ruler, fabric).join("\n")),
            right(length.unwrap_or_default()),
        ]);
    }
    table.to_string()
}

/// All squares by size, and all lengths.
fn sums(plan: &Plan, to_buy: &[ToBuy]) -> String {
    let ruler = plan.request.ruler;
    let mut squares: BTreeMap<Length, u64> = BTreeMap::new();
    for squares_to_buy in to_buy.iter().flat_map(|fabric| &fabric.squares) {
        *squares.entry(squares_to_buy.side).or_default() += u64::from(squares_to_buy.buy);
    }
    let squares = squares.into_iter().rev();
    let mut words: Vec<String> =
        squares.map(|(side, n)| format!("{} of {}", count(n, "square", "squares"), ruler.show(side))).collect();
    let lengths: Length = all_lengths(to_buy.iter().filter_map(|fabric| fabric.length));
    if lengths > Length::ZERO {
        // A sum of what shops cut is one of them.
        let amount = shop_words(ruler, lengths);
        words.push(format!("{amount} of cloth {} wide", ruler.show(plan.request.cloth_width)));
    }
    words.join(", ")
}

fn stash(plan: &Plan, work: &Work, width: u16) -> String {
    let (taken, left) = (work.taken(), work.leftovers(plan).cloth);
    let mut table = table(width, &["", "name", "taken", "left"]);
    for (index, fabric) in plan.fabrics.iter_enumerated().filter(|(_, fabric)| fabric.has_cloth()) {
        let taken = taken.iter().filter(|taken| taken.fabric == index);
        let taken: Vec<String> = taken.map(|taken| taken_words(plan, work, taken)).collect();
        let left = left_words(plan.request.ruler, left.iter().filter(|cloth| cloth.fabric == index));
        let or_none = |words: Vec<String>| if words.is_empty() { "none".to_owned() } else { words.join(", ") };
        table.add_row([fabric.letter.clone(), fabric.name.clone(), or_none(taken), or_none(left)]);
    }
    table.to_string()
}
