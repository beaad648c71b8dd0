//! What is taken from what was sewn and cut before.

use maud::{Markup, html};

use super::places::rows_of;
use super::sheet::{Sheet, line, table, tick};
use crate::cutting::{HandPiece, Size};
use crate::fabric::Lean;
use crate::make::Source;
use crate::plan::Item;

/// Every kind of piece on hand that the scene uses.
pub(super) fn section(sheet: &Sheet) -> Markup {
    let heads = ["On hand", "What it is", "Fabrics", "Unfinished", "Use", "Left", "For rows", "Done"];
    let used = sheet.work.hand.iter().enumerate().filter(|(_, hand)| hand.used > 0);
    let lines: Vec<Markup> = used.map(|(index, used)| line(&heads, &cells(sheet, index, used))).collect();
    html! {
        h3 { "From what is on hand" }
        "\n"
        p {
            "Sewn and cut before: lay them out and measure them first. A unit that is not its unfinished size is trimmed \
             to it with the seam through both corners, and one that is too small is made anew."
        }
        "\n" (table("hand", &heads, &lines))
    }
}

fn cells(sheet: &Sheet, index: usize, used: &HandPiece) -> [Markup; 8] {
    let request = &sheet.plan.request;
    let (what, fabrics, (width, height)) = match used.item {
        Item::Unit { first, second, block, .. } => ("triangle unit", sheet.both(first, second), (block, block)),
        Item::Slice { tip, rest, block, width, leans, .. } => {
            let what = match leans {
                Lean::Left => "strip; stood up, the tip in the upper left",
                Lean::Right => "strip; stood up, the tip in the upper right",
            };
            (what, sheet.both(tip, rest), (width, block))
        }
        Item::Filler { fabric, long, short } => ("filler", sheet.fabric(fabric), (long, short)),
    };
    let finished = Size { width: request.grid * width, height: request.grid * height };
    [
        html! { b { (used.id) } },
        html! {
            (what)
            @if let Some(corner) = used.item.stands() { "; print upright, the first fabric in the " (corner.words()) }
        },
        fabrics,
        sheet.size(finished.unfinished(request.seam.both())),
        html! { b { (used.used) } },
        html! { (used.there - used.used) },
        html! { (rows_of(sheet.work, Source::Hand(index))) },
        tick(""),
    ]
}
