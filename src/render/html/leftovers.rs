//! What is left over, with sizes, for the next scene.

use maud::{Markup, html};

use super::sheet::{Sheet, line, section as numbered, table};
use crate::cutting::Size;
use crate::fabric::{Lean, Print};
use crate::make::Leftovers;
use crate::render::markup::BR;
use crate::render::shopping::left_words;

/// Spare units, strips and squares; nothing where nothing is left.
pub(super) fn section(sheet: &Sheet) -> Markup {
    let left = sheet.work.leftovers(sheet.plan);
    if left.is_empty() {
        return Markup::default();
    }
    let heads = ["What", "Fabrics", "Finishes", "How many"];
    let units = left.units.iter().map(|unit| {
        let fabrics = html! { (sheet.fabric(unit.first)) (BR) " " (sheet.fabric(unit.second)) };
        [html! { "whole unit" }, fabrics, sheet.len(unit.finished), html! { (unit.count) }]
    });
    let strips = left.strips.iter().map(|strip| {
        let fabrics = html! { "tip " (sheet.fabric(strip.tip)) (BR) " rest " (sheet.fabric(strip.rest)) };
        let what = html! { "strip, tip " (lean(strip.leans)) };
        let size = Size { width: strip.width, height: strip.from };
        [what, fabrics, sheet.size(size), html! { (strip.count) }]
    });
    let squares = left.squares.iter().map(|square| {
        let size = html! { (sheet.len(square.side)) " as cut" };
        [html! { "square" }, sheet.fabric(square.fabric), size, html! { (square.count) }]
    });
    let lines: Vec<Markup> =
        units.chain(strips).chain(squares).map(|cells: [Markup; 4]| line(&heads, &cells)).collect();
    let body = html! {
        p {
            "Keep these for the next scene; " code { "leftovers.toml" } " holds them as a stash. A strip is described stood \
             up, with its small triangle, the tip, on top: turned it stays the same strip. Both kinds of strip are here: \
             what came off a trimmed unit, and what remained where a slice was cut. Anything narrower than two seams is \
             left out."
        }
        "\n" div class="lists" { "\n" @if !lines.is_empty() { (table("leftovers", &heads, &lines)) } }
        "\n" (cloth(sheet, &left))
    };
    numbered(7, "leftovers", "What is left over", &body)
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
