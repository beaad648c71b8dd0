//! What is left over, with sizes, for the next scene.

use std::cmp::Reverse;
use std::collections::BTreeMap;

use maud::{Markup, html};

use super::sheet::{Sheet, line, section as numbered, table};
use crate::cutting::Size;
use crate::fabric::{Lean, Print};
use crate::make::Leftovers;
use crate::measure::Length;
use crate::render::markup::joined;
use crate::render::shopping::left_words;
use crate::unit::Corner;

/// Spare units, strips and squares; nothing where nothing is left.
pub(super) fn section(sheet: &Sheet) -> Markup {
    let left = sheet.work.leftovers(sheet.plan);
    if left.is_empty() {
        return Markup::default();
    }
    let heads = ["What", "Finishes", "Of which fabrics, and how many"];
    let lines: Vec<Markup> = kinds(sheet, &left).into_iter().map(|cells| line(&heads, &cells)).collect();
    let body = html! {
        p {
            "Keep these for the next scene; " code { "leftovers.toml" } " holds them as a stash. A strip is described stood \
             up, with its small triangle, the tip, on top, and its tip's fabric is named first: turned it stays the same strip. Both kinds of strip are here: \
             what came off a trimmed unit, and what remained where a slice was cut. Anything narrower than two seams is \
             left out."
        }
        "\n" @if !lines.is_empty() { (table("leftovers left", &heads, &lines)) }
        (cushion(sheet, &left))
        (cloth(sheet, &left))
    };
    numbered(7, "leftovers", "What is left over", &body)
}

/// Units, strips and squares, a line for each size.
fn kinds(sheet: &Sheet, left: &Leftovers) -> Vec<[Markup; 3]> {
    let many = |chips: Markup, count: u32| html! { span class="some" { (chips) " " b { (count) } } };
    let (mut units, mut strips, mut squares) = (BTreeMap::new(), BTreeMap::new(), BTreeMap::new());
    for unit in &left.units {
        let chips = html! { (sheet.chip(unit.first)) (sheet.chip(unit.second)) };
        let of: &mut Vec<Markup> = units.entry((Reverse(unit.finished), unit.stands)).or_default();
        of.push(many(chips, unit.count));
    }
    for strip in &left.strips {
        let chips = html! { (sheet.chip(strip.tip)) (sheet.chip(strip.rest)) };
        let right = strip.leans == Lean::Right;
        let of: &mut Vec<Markup> =
            strips.entry((Reverse(strip.from), Reverse(strip.width), right, strip.stands)).or_default();
        of.push(many(chips, strip.count));
    }
    for square in &left.squares {
        let of: &mut Vec<Markup> = squares.entry(Reverse(square.side)).or_default();
        of.push(many(sheet.chip(square.fabric), square.count));
    }
    let all = |of: Vec<Markup>| joined(of, &html! { " " });
    let stood = |stands: Option<Corner>, which: &str| {
        stands.map(|corner| format!("; print upright, {which} {}", corner.words())).unwrap_or_default()
    };
    let units = units.into_iter().map(|((side, stands), of)| {
        [html! { "whole units" (stood(stands, "first fabric")) }, sheet.len(side.0), all(of)]
    });
    let strips = strips.into_iter().map(|((from, width, right, stands), of)| {
        let lean = lean(if right { Lean::Right } else { Lean::Left });
        let what = html! { "strips, tip " (lean) (stood(stands, "tip")) };
        [what, sheet.size(Size { width: width.0, height: from.0 }), all(of)]
    });
    let squares =
        squares.into_iter().map(|(side, of)| [html! { "squares" }, html! { (sheet.len(side.0)) " as cut" }, all(of)]);
    units.chain(strips).chain(squares).collect()
}

/// Fewest units along a side of what whole units are put together to: two by two is a block and no more.
const LEAST_SIDE: u32 = 3;

/// The largest square that spare whole units of one size make; nothing where they make none.
fn cushion(sheet: &Sheet, left: &Leftovers) -> Markup {
    let mut counts: BTreeMap<Length, u32> = BTreeMap::new();
    for unit in &left.units {
        *counts.entry(unit.finished).or_default() += unit.count;
    }
    let squares = counts.into_iter().map(|(side, count)| (side * count.isqrt(), side, count.isqrt()));
    let Some((finished, side, along)) = squares.filter(|(.., along)| *along >= LEAST_SIDE).max() else {
        return Markup::default();
    };
    let unfinished = finished + sheet.plan.request.seam.both();
    html! {
        p class="makes" {
            "They make something: " (along * along) " of the whole units that finish " (sheet.len(side)) ", sewn " (along) " by " (along)
            " like any row, are the front of a cushion of " b { (sheet.len(finished)) } ", " (sheet.len(unfinished))
            " before it is sewn to its back."
        }
        "\n"
    }
}

/// Cloth by fabric, over the whole width, since what remains is often a list.
fn cloth(sheet: &Sheet, left: &Leftovers) -> Markup {
    let heads = ["Fabric", "Cloth left, as cut"];
    let of = |fabric: Print| {
        let words = left_words(sheet.ruler, left.cloth.iter().filter(|cloth| cloth.fabric == fabric));
        (!words.is_empty()).then(|| line(&heads, &[sheet.fabric(fabric), html! { (words.join(", ")) }]))
    };
    let lines: Vec<Markup> = sheet.plan.fabrics.keys().filter_map(of).collect();
    html! { @if !lines.is_empty() { (table("leftovers cloth-left", &heads, &lines)) } }
}

fn lean(lean: Lean) -> &'static str {
    match lean {
        Lean::Left => "upper left",
        Lean::Right => "upper right",
    }
}
