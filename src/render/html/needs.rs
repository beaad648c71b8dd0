//! The opening with the scene, and what the maker needs.

use super::sheet::{Sheet, line, note, section as numbered, table};
use crate::fabric::Print;
use crate::make::ToBuy;
use crate::measure::{Length, shop_words};
use crate::prints::report;
use crate::render::palette::VALUES;
use crate::render::shopping::{bought, least_words, left_words, taken_words};
use crate::render::svg;
use crate::render::text::{count, escape, listed};

/// Title, picture and legend.
pub(super) fn opening(sheet: &Sheet, title: &str) -> String {
    let request = &sheet.plan.request;
    format!(
        "<header>\n<p class=\"kicker\">Build list</p>\n<h1>{title}</h1>\n\
         <p class=\"lede\">A pieced top, {} wide and {} tall when finished: {}.</p>\n</header>\n\
         <div class=\"opening\">\n<figure class=\"scene\">{}</figure>\n{}</div>\n{}{}",
        sheet.len(request.width),
        sheet.len(request.height),
        totals(sheet),
        svg(sheet.plan, sheet.work, sheet.options),
        legend(sheet),
        prints(sheet),
        addresses(sheet)
    )
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

fn legend(sheet: &Sheet) -> String {
    let heads = ["Fabric", "Light to dark"];
    let seen = sheet.work.rows.iter().flat_map(|row| &row.units).flat_map(|unit| [Some(unit.first), unit.second]);
    let seen: std::collections::BTreeSet<Print> = seen.flatten().collect();
    let shown = sheet.palette.prints().filter(|fabric| seen.contains(fabric));
    let lines: String = shown.map(|i| line(&heads, &[sheet.fabric(i), value(sheet, i)])).collect();
    table("legend", &heads, &lines)
}

/// Where touching patches show one print.
fn prints(sheet: &Sheet) -> String {
    let words = report(sheet.plan).map(|report| escape(&report.words()));
    words.map(|words| format!("<p class=\"fine\">Prints: {words}.</p>\n")).unwrap_or_default()
}

/// Five boxes, of which the fabric's step is filled.
fn value(sheet: &Sheet, fabric: Print) -> String {
    let step = sheet.palette.value(fabric);
    let boxes: String = (1..=5).map(|n| if n == step { '■' } else { '□' }).collect();
    let words = VALUES.get(step - 1).copied().unwrap_or_default();
    format!("<span class=\"value\"><span aria-hidden=\"true\">{boxes}</span> {words}</span>")
}

/// How units are named, by the last unit of the top.
fn addresses(sheet: &Sheet) -> String {
    let last = sheet.work.rows.iter().flat_map(|row| &row.units).map(|unit| unit.placed.address).max();
    let Some(last) = last else { return String::new() };
    let (band, column, row, unit) = (last.band, last.column, last.row, last.unit);
    note(
        "",
        &format!(
            "Every unit has an address, <b>band.column.row.unit</b>, counted from the top and from the left: \
             <b>{last}</b> is band {band}, column {column}, row {row}, unit {unit}, the last of all. Write it on a scrap of \
             paper and pin it to the unit as you make it."
        ),
    )
}

/// Squares and cloth by fabric: what to buy, and what to take of the stash.
pub(super) fn section(sheet: &Sheet) -> String {
    let cloth = shopping(sheet) + &of_stash(sheet);
    let cloth = if cloth.is_empty() { "<p>No cloth: all is on hand, as section 4 lists it.</p>\n" } else { &cloth };
    let body = format!("{cloth}{}", directions(sheet));
    numbered(1, "needs", "What you need", &body)
}

fn shopping(sheet: &Sheet) -> String {
    let heads = ["Fabric", "Light to dark", "Squares to buy", "Cloth to buy", "Cut of that"];
    let to_buy = sheet.work.shopping(&sheet.plan.request);
    if to_buy.is_empty() {
        return String::new();
    }
    let lines: String = to_buy.iter().map(|to_buy| line(&heads, &buy(sheet, to_buy))).collect();
    let margin = match sheet.plan.request.margin {
        0 => "Amounts have nothing over what is cut, but that".into(),
        margin => format!("Amounts are {margin} % over what is cut, for straightening and mistakes, and"),
    };
    format!(
        "{}<p class=\"fine\">{margin} lengths are rounded up to what a shop cuts. Cloth is reckoned {} wide between the \
         selvedges. Squares may be bought cut; for those that you cut yourself, add cloth. Besides: thread, a cutting \
         mat, a rotary cutter, a ruler with a 45-degree line, pins and an iron.</p>\n",
        table("needs", &heads, &lines),
        sheet.len(sheet.plan.request.cloth_width)
    )
}

fn buy(sheet: &Sheet, to_buy: &ToBuy) -> [String; 5] {
    let ruler = sheet.ruler;
    let dash = |words: Option<String>| words.unwrap_or_else(|| "–".into());
    let squares = Some(bought(ruler, to_buy)).filter(|words| !words.is_empty());
    let cut_squares = to_buy.squares.iter().map(|squares| {
        let of = if to_buy.squares.len() > 1 { format!(" of {}", ruler.show(squares.side)) } else { String::new() };
        count(squares.needed, "square", "squares") + &of
    });
    let least: Length = sheet.work.cloth[to_buy.fabric].used().least_length;
    let cut_length = to_buy.length.map(|length| sheet.len(length.needed) + &least_words(ruler, length.needed, least));
    [
        sheet.fabric(to_buy.fabric),
        value(sheet, to_buy.fabric),
        dash(squares.map(|words| format!("<b>{}</b>", words.join("<br/>")))),
        dash(to_buy.length.map(|length| format!("<b class=\"n\">{}</b>", shop_words(ruler, length.buy)))),
        format!("<span class=\"fine\">{}</span>", cut_squares.chain(cut_length).collect::<Vec<_>>().join("; ")),
    ]
}

fn of_stash(sheet: &Sheet) -> String {
    let heads = ["Fabric", "Light to dark", "Take of the stash", "Left of it"];
    let (taken, left) = (sheet.work.taken(), sheet.work.leftovers(sheet.plan).cloth);
    let own = sheet.plan.fabrics.iter_enumerated().filter(|(_, fabric)| fabric.has_cloth());
    let lines: String = own
        .map(|(index, _)| {
            let taken = taken.iter().filter(|taken| taken.fabric == index);
            let taken: Vec<String> = taken.map(|taken| taken_words(sheet.plan, sheet.work, taken)).collect();
            let left = left_words(sheet.ruler, left.iter().filter(|cloth| cloth.fabric == index));
            let or_none = |words: Vec<String>| if words.is_empty() { "none".to_owned() } else { words.join(", ") };
            let dash = |words: Vec<String>| if words.is_empty() { "–".to_owned() } else { words.join("<br/>") };
            line(&heads, &[sheet.fabric(index), value(sheet, index), dash(taken), or_none(left)])
        })
        .collect();
    if lines.is_empty() {
        return String::new();
    }
    format!(
        "{}<p class=\"fine\">These amounts are what is cut and no more: measure the pieces of your stash before the first cut. \
         Besides: thread, a cutting mat, a rotary cutter, a ruler with a 45-degree line, pins and an iron.</p>\n",
        table("needs", &heads, &lines)
    )
}

/// Prints with an up and a down: fillers keep it, triangle units cannot.
fn directions(sheet: &Sheet) -> String {
    let named = sheet.plan.fabrics.iter_enumerated().filter(|(_, fabric)| fabric.directional);
    let named: Vec<String> = named.map(|(index, _)| sheet.fabric(index)).collect();
    if named.is_empty() {
        return String::new();
    }
    let has = if named.len() == 1 { "has" } else { "have" };
    note(
        "",
        &format!(
            "<b>Up and down.</b> {} {has} an up and a down. Fillers are cut so that the print stands upright in the \
             top: lay the cloth with its up away from you, as the drawings show it. In triangle units a print cannot \
             keep its direction, since they are turned.",
            listed(&named)
        ),
    )
}
