//! What is taken from what was sewn and cut before.

use super::sheet::{Sheet, line, table, tick};
use crate::cutting::{HandPiece, Size};
use crate::fabric::Lean;
use crate::plan::Item;

/// Every kind of piece on hand that the scene uses.
pub(super) fn section(sheet: &Sheet) -> String {
    let heads = ["On hand", "What it is", "Fabrics", "Unfinished", "Use", "Left", "Done"];
    let lines: String = sheet.work.hand.iter().map(|used| line(&heads, &cells(sheet, used))).collect();
    format!(
        "<h3>From what is on hand</h3>\n<p>Sewn and cut before: lay them out and measure them first. A unit that is \
         not its unfinished size is trimmed to it with the seam through both corners, and one that is too small is \
         made anew.</p>\n{}",
        table("hand", &heads, &lines)
    )
}

fn cells(sheet: &Sheet, used: &HandPiece) -> [String; 7] {
    let request = &sheet.plan.request;
    let both = |one, other| format!("{}<br/>{}", sheet.fabric(one), sheet.fabric(other));
    let (what, fabrics, (width, height)) = match used.item {
        Item::Unit { first, second, block } => ("triangle unit".into(), both(first, second), (block, block)),
        Item::Slice { tip, rest, block, width, leans } => {
            let side = if leans == Lean::Left { "left" } else { "right" };
            (format!("strip; stood up, the tip in the upper {side}"), both(tip, rest), (width, block))
        }
        Item::Filler { fabric, long, short } => ("filler".into(), sheet.fabric(fabric), (long, short)),
    };
    let finished = Size { width: request.grid * width, height: request.grid * height };
    [
        format!("<b>{}</b>", used.id),
        what,
        fabrics,
        sheet.size(finished.unfinished(request.seam.both())),
        format!("<b>{}</b>", used.used),
        (used.there - used.used).to_string(),
        tick(""),
    ]
}
