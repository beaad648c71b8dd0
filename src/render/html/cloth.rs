//! How each sheet of cloth is cut, by fabric.

use super::sheet::{Sheet, note};
use crate::fabric::Print;
use crate::make::layout::SheetLayout;
use crate::make::{FabricCut, SheetCut, SheetKind, Size};
use crate::measure::Length;
use crate::render::cutting_plan::drawing_within;
use crate::render::shopping::least_words;
use crate::render::text::{count, escape, listed};

/// Widest that a length is drawn, over the paper's whole width, and a smaller sheet; most to an inch; in pixels.
const WIDEST: f64 = 580.0;
const WIDE: f64 = 330.0;
const CLOSEST: f64 = 15.0;

/// Every fabric's sheets: those that stay whole or are quartered in words, all others drawn.
pub(super) fn sheets(sheet: &Sheet) -> String {
    let fabrics: String = sheet.work.cloth.iter_enumerated().map(|(index, cut)| fabric(sheet, index, cut)).collect();
    if fabrics.is_empty() {
        return fabrics;
    }
    format!(
        "<h3>Out of which cloth</h3>\n<p>Each sheet has a name, <b>A-1</b> and so on. Cut the strips first, across the \
         whole width and from the top down; their widths stand on the right. Then cut each strip from the left into \
         its pieces, and trim those that are lower than their strip. What is hatched is left over.</p>\n<div class=\"cloths\">\n{fabrics}</div>\n"
    )
}

fn fabric(sheet: &Sheet, index: Print, cut: &FabricCut) -> String {
    let missing = unplaced(sheet, cut);
    if cut.sheets.is_empty() && missing.is_empty() {
        return String::new();
    }
    let (plain, drawn): (Vec<&SheetCut>, Vec<&SheetCut>) = cut.sheets.iter().partition(|sheet| plain(sheet));
    let wide = if drawn.iter().any(|one| is_length(one)) { " wide" } else { "" };
    let figures: String = drawn.into_iter().map(|one| figure(sheet, cut, one)).collect();
    format!(
        "<div class=\"cloth{wide}\">\n<h4>{}</h4>\n{}{}{missing}<div class=\"sheets\">\n{figures}</div>\n</div>\n",
        sheet.fabric(index),
        squares(sheet, cut, &plain),
        fewest(cut)
    )
}

/// Whether words are enough: a square that stays whole, or is cut in quarters and no more.
fn plain(sheet: &SheetCut) -> bool {
    let cuts = || sheet.layout.strips.iter().flat_map(|strip| &strip.cuts);
    let half = |side: Length| side + side == sheet.layout.width;
    sheet.kind.is_square() && (sheet.is_whole() || cuts().all(|cut| half(cut.width) && half(cut.height)))
}

/// `10 in squares whole: A-1, 3 for P1; quartered: A-2, 1 for 2 of P7, P8 and P9.`
fn squares(sheet: &Sheet, cut: &FabricCut, plain: &[&SheetCut]) -> String {
    let mut words: Vec<String> = Vec::new();
    for whole in [true, false] {
        let of_kind = plain.iter().filter(|one| one.is_whole() == whole);
        let one = |one: &&SheetCut| {
            let ids = one.layout.strips.iter().flat_map(|strip| &strip.cuts);
            let ids: Vec<&str> = ids.filter_map(|at| cut.pieces.get(at.piece)).map(|piece| piece.id.as_str()).collect();
            let ids: Vec<String> = ids.chunk_by(|one, other| one == other).map(times).collect();
            let ids = listed(&ids);
            format!(
                "<b class=\"n\">{}</b>, {} of {} for {}",
                escape(&one.id),
                one.count,
                sheet.len(one.layout.width),
                escape(&ids)
            )
        };
        let list: Vec<String> = of_kind.map(one).collect();
        if !list.is_empty() {
            words.push(format!("{}: {}", if whole { "Squares whole" } else { "Squares quartered" }, list.join("; ")));
        }
    }
    if words.is_empty() { String::new() } else { format!("<p class=\"squares\">{}.</p>\n", words.join(". ")) }
}

/// Pieces that are alike: `P1`, or `2 of P1`; a square that gives four of one is `P1, all four`.
fn times(alike: &[&str]) -> String {
    match alike {
        [] => String::new(),
        [one] => (*one).into(),
        [one, _, _, _] => format!("{one}, all four"),
        [one, ..] => format!("{} of {one}", alike.len()),
    }
}

/// Squares that fillers are cut from, against the fewest that could be.
fn fewest(cut: &FabricCut) -> String {
    let used = cut.used();
    let fewest = match used.least_squares {
        // One square is plainly the fewest.
        _ if used.squares < 2 => return String::new(),
        least if least >= used.squares => "the fewest that can be".into(),
        least => format!("no cutting in strips takes fewer than {least}"),
    };
    format!(
        "<p class=\"squares\">{}: {fewest}.</p>\n",
        count(used.squares, "square that gives fillers", "squares that give fillers")
    )
}

fn is_length(one: &SheetCut) -> bool {
    matches!(one.kind, SheetKind::Length | SheetKind::BoughtLength)
}

/// One sheet drawn; of a length only what is cut.
fn figure(sheet: &Sheet, cut: &FabricCut, one: &SheetCut) -> String {
    let long = is_length(one);
    let widest = if long { WIDEST } else { WIDE };
    let layout = SheetLayout { height: one.layout.height.filter(|_| !long), ..one.layout.clone() };
    let drawing = drawing_within(&layout, &cut.pieces, sheet.ruler, (widest, CLOSEST));
    let alike = if one.count > 1 { format!(" × {}", one.count) } else { String::new() };
    format!(
        "<figure>\n<figcaption><b>{}</b>{alike} <span class=\"fine\">{}</span></figcaption>\n{drawing}\n</figure>\n",
        escape(&one.id),
        what(sheet, one)
    )
}

fn what(sheet: &Sheet, one: &SheetCut) -> String {
    let (width, height) = one.size();
    let size = sheet.size(Size { width, height });
    let turned = if one.layout.turned { ", turned on its side" } else { "" };
    match one.kind {
        SheetKind::BoughtLength => {
            let least = least_words(sheet.ruler, height, one.layout.bound);
            format!("{} off a length {} wide{least}", sheet.len(height), sheet.len(width))
        }
        SheetKind::Length => {
            let rest = height - one.layout.used_length;
            let least = least_words(sheet.ruler, one.layout.used_length, one.layout.bound);
            format!("{} off the length of {size}, {} stay{least}", sheet.len(one.layout.used_length), sheet.len(rest))
        }
        SheetKind::Square | SheetKind::BoughtSquare => format!("square of {}", sheet.len(width)),
        SheetKind::FatQuarter | SheetKind::Oddment => format!("{} of {size}{turned}", one.kind.words()),
    }
}

/// What found no room, for which there is too little cloth.
fn unplaced(sheet: &Sheet, cut: &FabricCut) -> String {
    let one = |left: &crate::make::layout::Unplaced| {
        let piece = cut.pieces.get(left.piece)?;
        let size = sheet.size(Size { width: piece.width, height: piece.height });
        Some(format!("{} of {} ({size})", left.count, escape(&piece.id)))
    };
    let words: Vec<String> = cut.unplaced.iter().filter_map(one).collect();
    if words.is_empty() {
        return String::new();
    }
    let pieces = count(words.len() as u64, "size finds", "sizes find");
    note("warn", &format!("<b>Too little cloth:</b> {pieces} no room: {}.", listed(&words)))
}

#[cfg(test)]
mod tests {
    #[test]
    fn pieces_that_are_alike_are_counted() {
        let times = |ids: &[&str]| ids.chunk_by(|one, other| one == other).map(super::times).collect::<Vec<_>>();
        assert_eq!(times(&["P5", "P5", "P8", "P8"]), ["2 of P5", "2 of P8"]);
        assert_eq!(times(&["P12", "P38", "P38", "P38"]), ["P12", "3 of P38"]);
        assert_eq!(times(&["P2"; 4]), ["P2, all four"]);
    }
}
