//! How each sheet of cloth is cut, by fabric.

use maud::{Markup, PreEscaped, html};

use super::sheet::{Sheet, note};
use crate::cutting::layout::{SheetLayout, Unplaced};
use crate::cutting::{FabricCut, SheetCut, SheetKind, Size};
use crate::fabric::Print;
use crate::measure::Length;
use crate::render::cutting_drawing::cutting_drawing;
use crate::render::markup::{self, joined};
use crate::render::text::{count, listed};

/// Widest that a length is drawn, so that a square has room beside it, and a smaller sheet; most to an inch; in pixels.
const WIDEST: f64 = 400.0;
const WIDE: f64 = 330.0;
const CLOSEST: f64 = 9.5;

/// Every fabric's sheets: those that stay whole or are quartered in words, all others drawn.
pub(super) fn sheets(sheet: &Sheet) -> Markup {
    let cut = sheet.work.cloth.iter_enumerated();
    let fabrics: Vec<Markup> = cut.filter_map(|(index, cut)| fabric(sheet, index, cut)).collect();
    html! {
        @if !fabrics.is_empty() {
            h3 { "Out of which cloth" }
            "\n"
            p {
                "Each piece of cloth has a name, " b { "A-1" } " and so on. Cut right across its whole width first, from the top down: \
                 how deep stands on the right. Then cut each part from the left into its pieces, and trim those that are \
                 less deep than their part. What is hatched is left over."
                (first(sheet))
            }
            "\n" div class="cloths" { "\n" @for fabric in &fabrics { (fabric) } }
            "\n"
        }
    }
}

/// What comes off a sheet before its first strip.
fn first(sheet: &Sheet) -> Markup {
    let has =
        |kinds: &[SheetKind]| sheet.work.cloth.iter().flat_map(|cut| &cut.sheets).any(|one| kinds.contains(&one.kind));
    html! {
        @if has(&[SheetKind::BoughtLength, SheetKind::Length]) {
            " Before the first cut, straighten the end of each length: " (sheet.len(sheet.plan.request.end_cut()))
            " is reckoned for that."
        }
        @if has(&[SheetKind::FatQuarter]) {
            " A fat quarter is reckoned as large as its drawing says with its selvedge cut off and its ends straight: measure \
             it first."
        }
    }
}

fn fabric(sheet: &Sheet, index: Print, cut: &FabricCut) -> Option<Markup> {
    if cut.sheets.is_empty() && cut.unplaced.is_empty() {
        return None;
    }
    let (plain, drawn): (Vec<&SheetCut>, Vec<&SheetCut>) = cut.sheets.iter().partition(|sheet| plain(sheet));
    let class = if drawn.iter().any(|one| is_length(one)) { "cloth wide" } else { "cloth" };
    Some(html! {
        div class=(class) {
            "\n" h4 { (sheet.fabric(index)) }
            "\n" (squares(sheet, cut, &plain)) (unplaced(sheet, cut))
            div class="sheets" { "\n" @for one in drawn { (figure(sheet, cut, one)) } }
            "\n"
        }
        "\n"
    })
}

/// Whether words are enough: a square that stays whole, or is cut in quarters and no more.
fn plain(sheet: &SheetCut) -> bool {
    let cuts = || sheet.layout.strips.iter().flat_map(|strip| &strip.cuts);
    let half = |side: Length| side + side == sheet.layout.width;
    sheet.kind.is_square() && (sheet.is_whole() || cuts().all(|cut| half(cut.width) && half(cut.height)))
}

/// `10 in squares whole: A-1, 3 for P1; quartered: A-2, 1 for 2 of P7, P8 and P9.`
fn squares(sheet: &Sheet, cut: &FabricCut, plain: &[&SheetCut]) -> Markup {
    let mut words: Vec<Markup> = Vec::new();
    for (whole, what) in [(true, "Squares whole"), (false, "Squares quartered")] {
        let of_kind = plain.iter().filter(|one| one.is_whole() == whole);
        let one = |one: &&SheetCut| {
            let ids = one.layout.strips.iter().flat_map(|strip| &strip.cuts);
            let ids: Vec<&str> = ids.filter_map(|at| cut.pieces.get(at.piece)).map(|piece| piece.id.as_str()).collect();
            let ids: Vec<String> = ids.chunk_by(|one, other| one == other).map(times).collect();
            html! { b class="n" { (one.id) } ", " (one.count) " of " (sheet.len(one.layout.width)) " for " (listed(&ids)) }
        };
        let list: Vec<Markup> = of_kind.map(one).collect();
        if !list.is_empty() {
            words.push(html! { (what) ": " (joined(list, &html! { "; " })) });
        }
    }
    html! { @if !words.is_empty() { p class="squares" { (joined(words, &html! { ". " })) "." } "\n" } }
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

fn is_length(one: &SheetCut) -> bool {
    matches!(one.kind, SheetKind::Length | SheetKind::BoughtLength)
}

/// One sheet drawn; of a length only what is cut.
fn figure(sheet: &Sheet, cut: &FabricCut, one: &SheetCut) -> Markup {
    let long = is_length(one);
    let widest = if long { WIDEST } else { WIDE };
    let mut layout = SheetLayout { height: one.layout.height.filter(|_| !long), ..one.layout.clone() };
    // What comes off the end of a length is not drawn.
    let end = layout.strips.first().map_or(Length::ZERO, |strip| strip.at);
    layout.used_length = layout.used_length - end;
    layout.strips.iter_mut().for_each(|strip| strip.at = strip.at - end);
    let drawing = cutting_drawing(&layout, &cut.pieces, sheet.ruler, (widest, CLOSEST));
    html! {
        figure {
            "\n"
            figcaption {
                b { (one.id) } @if one.count > 1 { " × " (one.count) } " " span class="fine" { (what(sheet, one)) }
            }
            "\n" (PreEscaped(drawing)) "\n"
        }
        "\n"
    }
}

fn what(sheet: &Sheet, one: &SheetCut) -> Markup {
    let (width, height) = one.size();
    let (size, used) = (sheet.size(Size { width, height }), one.layout.used_length);
    let turned = if one.layout.turned { ", turned on its side" } else { "" };
    match one.kind {
        SheetKind::BoughtLength => {
            html! { (sheet.len(height)) " off a length " (sheet.len(width)) " wide" }
        }
        SheetKind::Length => {
            html! { (sheet.len(used)) " off the length of " (size) ", " (sheet.len(height - used)) " stay" }
        }
        SheetKind::Square | SheetKind::BoughtSquare => html! { "square of " (sheet.len(width)) },
        SheetKind::FatQuarter | SheetKind::Oddment => html! { (one.kind.words()) " of " (size) (turned) },
    }
}

/// What found no room, for which there is too little cloth.
fn unplaced(sheet: &Sheet, cut: &FabricCut) -> Markup {
    let one = |left: &Unplaced| {
        let piece = cut.pieces.get(left.piece)?;
        let size = sheet.size(Size { width: piece.width, height: piece.height });
        Some(html! { (left.count) " of " (piece.id) " (" (size) ")" })
    };
    let words: Vec<Markup> = cut.unplaced.iter().filter_map(one).collect();
    if words.is_empty() {
        return Markup::default();
    }
    let pieces = count(words.len() as u64, "size finds", "sizes find");
    let words = html! { b { "Too little cloth:" } " " (pieces) " no room: " (markup::listed(&words)) "." };
    note("warn", &words)
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
