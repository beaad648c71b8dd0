//! The opening with the scene, and what the maker needs.

use maud::{Markup, PreEscaped, html};

use super::finish;
use super::sheet::{Sheet, line, note, section as numbered, table};
use crate::fabric::Print;
use crate::likeness::likeness;
use crate::make::ToBuy;
use crate::measure::shop_words;
use crate::prints::report;
use crate::render::honest::doubts;
use crate::render::markup::{BR, joined, listed, shown};
use crate::render::palette::VALUES;
use crate::render::shopping::{bought, left_words, taken_words};
use crate::render::svg;
use crate::render::text::count;

/// Title, picture and legend.
pub(super) fn opening(sheet: &Sheet, title: &str) -> Markup {
    let request = &sheet.plan.request;
    html! {
        header {
            "\n" p class="kicker" { "Build list" }
            "\n" h1 { (shown(title)) }
            "\n"
            p class="lede" {
                "A pieced top, " (sheet.len(request.width)) " wide and " (sheet.len(request.height)) " tall when finished: "
                (totals(sheet)) "."
            }
            @for doubt in doubts(sheet.plan, None, &likeness(sheet.plan)) { (note("warn", &html! { (doubt) })) }
            "\n"
        }
        "\n"
        div class="opening" {
            "\n" figure class="scene" { (PreEscaped(svg(sheet.plan, sheet.work, sheet.options))) }
            "\n" div class="told" { "\n" (legend(sheet)) (addresses(sheet)) }
            "\n"
        }
        "\n" (prints(sheet))
    }
}

fn totals(sheet: &Sheet) -> String {
    let units = || sheet.work.rows.iter().flat_map(|row| &row.units);
    let (all, triangles) = (units().count() as u64, units().filter(|unit| unit.second.is_some()).count() as u64);
    format!(
        "{} in {}, of which {} and {}",
        count(all, "unit", "units"),
        count(sheet.work.rows.len() as u64, "row", "rows"),
        count(triangles, "is a triangle unit", "are triangle units"),
        count(all - triangles, "is a filler", "are fillers"),
    )
}

fn legend(sheet: &Sheet) -> Markup {
    let heads = ["Fabric", "Value"];
    let seen = sheet.work.rows.iter().flat_map(|row| &row.units).flat_map(|unit| [Some(unit.first), unit.second]);
    let seen: std::collections::BTreeSet<Print> = seen.flatten().collect();
    let shown = sheet.palette.prints().filter(|fabric| seen.contains(fabric));
    let lines: Vec<Markup> = shown.map(|i| line(&heads, &[sheet.fabric(i), value(sheet, i)])).collect();
    table("legend", &heads, &lines)
}

/// Where touching patches show one print.
fn prints(sheet: &Sheet) -> Markup {
    html! {
        @if let Some(report) = report(sheet.plan) { p class="fine" { "Prints: " (shown(&report.words())) "." } "\n" }
    }
}

/// Five boxes, of which the fabric's step is filled.
fn value(sheet: &Sheet, fabric: Print) -> Markup {
    let step = sheet.palette.value(fabric);
    let boxes: String = (1..=5).map(|n| if n == step { '■' } else { '□' }).collect();
    let words = VALUES.get(step - 1).copied().unwrap_or_default();
    html! { span class="value" { span aria-hidden="true" { (boxes) } " " (words) } }
}

/// How units are named, by the last unit of the top.
fn addresses(sheet: &Sheet) -> Markup {
    let last = sheet.work.rows.iter().flat_map(|row| &row.units).map(|unit| unit.placed.address).max();
    let Some(last) = last else { return Markup::default() };
    let words = html! {
        "Every unit has an address, " b { "band.column.row.unit" } ", counted from the top and from the left: "
        b { (last.to_string()) } " is band " (last.band) ", column " (last.column) ", row " (last.row) ", unit " (last.unit)
        ", the last of all. Write it on a scrap of paper and pin it to the unit as you make it."
    };
    note("", &words)
}

/// Squares and cloth by fabric: what to buy, and what to take of the stash.
pub(super) fn section(sheet: &Sheet) -> Markup {
    let (shopping, stash) = (shopping(sheet), of_stash(sheet));
    let body = html! {
        @if shopping.is_none() && stash.is_none() {
            p { "No cloth: all is on hand, as section 4 lists it." }
            "\n"
        }
        @for part in [shopping, stash].into_iter().flatten() { (part) }
        (directions(sheet))
        (finish::needs(sheet))
    };
    numbered(1, "needs", "What you need", &body)
}

fn shopping(sheet: &Sheet) -> Option<Markup> {
    let heads = ["Fabric", "Value", "Squares to buy", "Cloth to buy", "Cut of that"];
    let lines: Vec<Markup> =
        sheet.work.shopping(&sheet.plan.request).iter().map(|to_buy| line(&heads, &buy(sheet, to_buy))).collect();
    let margin = match sheet.plan.request.margin {
        0 => "Amounts have nothing over what is cut, but that".into(),
        margin => format!("Amounts are {margin} % over what is cut, for mistakes, and"),
    };
    (!lines.is_empty()).then(|| {
        html! {
            (table("needs", &heads, &lines))
            p class="fine" {
                (margin) " lengths are rounded up to what a shop cuts. Cloth is reckoned "
                (sheet.len(sheet.plan.request.cloth_width))
                " wide between the selvedges, and " (sheet.len(sheet.plan.request.end_cut()))
                " comes off the end of each length first, to make it straight. Squares may be bought cut, or cut from the \
                 length that stands under them. Besides: thread, a cutting mat, a rotary cutter, a ruler with a 45-degree line, pins and an iron."
            }
            "\n"
        }
    })
}

fn buy(sheet: &Sheet, to_buy: &ToBuy) -> [Markup; 5] {
    let ruler = sheet.ruler;
    let or = to_buy.squares.iter().map(|squares| squares.yardage.map(|length| shop_words(ruler, length)));
    let squares = bought(ruler, to_buy).into_iter().zip(or).map(|(words, or)| {
        html! { (words) @if let Some(or) = or { " " span class="fine" { "or " (or) } } }
    });
    let squares: Vec<Markup> = squares.collect();
    let cut_squares = to_buy.squares.iter().map(|squares| {
        let of = if to_buy.squares.len() > 1 { format!(" of {}", ruler.show(squares.side)) } else { String::new() };
        html! { (count(squares.needed, "square", "squares")) (of) }
    });
    let cut_length = to_buy.length.map(|length| sheet.len(length.needed));
    [
        sheet.fabric(to_buy.fabric),
        value(sheet, to_buy.fabric),
        html! { @if squares.is_empty() { "–" } @else { b { (joined(squares, &html! { (BR) })) } } },
        html! { @if let Some(length) = to_buy.length { b class="n" { (shop_words(ruler, length.buy)) } } @else { "–" } },
        html! { span class="fine" { (joined(cut_squares.chain(cut_length), &html! { "; " })) } },
    ]
}

fn of_stash(sheet: &Sheet) -> Option<Markup> {
    let heads = ["Fabric", "Value", "Take of the stash", "Left of it"];
    let (taken, left) = (sheet.work.taken(), sheet.work.leftovers(sheet.plan).cloth);
    let own = sheet.plan.fabrics.iter_enumerated().filter(|(_, fabric)| fabric.has_cloth());
    let row = |(index, _): (Print, _)| {
        let taken = taken.iter().filter(|taken| taken.fabric == index);
        let taken: Vec<Markup> = taken.map(|taken| html! { (taken_words(sheet.plan, sheet.work, taken)) }).collect();
        let left = left_words(sheet.ruler, left.iter().filter(|cloth| cloth.fabric == index));
        let left = if left.is_empty() { "none".to_owned() } else { left.join(", ") };
        let taken = html! { @if taken.is_empty() { "–" } @else { (joined(taken, &html! { (BR) })) } };
        line(&heads, &[sheet.fabric(index), value(sheet, index), taken, html! { (left) }])
    };
    let lines: Vec<Markup> = own.map(row).collect();
    (!lines.is_empty()).then(|| {
        html! {
            (table("needs", &heads, &lines))
            p class="fine" {
                "These amounts are what is cut and no more: measure the pieces of your stash before the first cut. Besides: \
                 thread, a cutting mat, a rotary cutter, a ruler with a 45-degree line, pins and an iron."
            }
            "\n"
        }
    })
}

/// Prints with an up and a down: fillers keep it, and triangle units where that is asked.
fn directions(sheet: &Sheet) -> Markup {
    let named = |upright: bool| -> Vec<Markup> {
        let fabrics = sheet.plan.fabrics.iter_enumerated();
        let named = fabrics.filter(|(_, fabric)| fabric.directional && (!upright || fabric.upright));
        named.map(|(index, _)| sheet.fabric(index)).collect()
    };
    let (directional, upright) = (named(false), named(true));
    if directional.is_empty() {
        return Markup::default();
    }
    let has = |named: &[Markup]| if named.len() == 1 { "has" } else { "have" };
    let words = html! {
        b { "Up and down." } " " (listed(&directional)) " " (has(&directional))
        " an up and a down. Fillers are cut so that the print stands upright in the top: lay the cloth with its up away from \
         you, as the drawings show it."
        @if upright.is_empty() {
            " In triangle units a print cannot keep its direction, since they are turned."
        } @else if upright.len() == directional.len() {
            " It stands upright in triangle units too: the table of pairs says how their squares are laid for that."
        } @else {
            " In triangle units " (listed(&upright)) @if upright.len() == 1 { " stands" } @else { " stand" }
            " upright too: the table of pairs says how their squares are laid for that. The others do not keep their \
             direction there, since those units are turned."
        }
    };
    note("", &words)
}
