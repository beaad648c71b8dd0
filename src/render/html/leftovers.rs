//! What is left over, with sizes, for the next scene.

use super::sheet::{Sheet, line, section as numbered, table};
use crate::fabric::Lean;
use crate::render::shopping::left_words;

/// Spare units, strips and squares; nothing where nothing is left.
pub(super) fn section(sheet: &Sheet) -> String {
    let left = sheet.work.leftovers(sheet.plan);
    if left.is_empty() {
        return String::new();
    }
    let heads = ["What", "Fabrics", "Finishes", "How many"];
    let units = left.units.iter().map(|unit| {
        let fabrics = format!("{}<br/>{}", sheet.fabric(unit.first), sheet.fabric(unit.second));
        ["whole unit".into(), fabrics, sheet.len(unit.finished), unit.count.to_string()]
    });
    let strips = left.strips.iter().map(|strip| {
        let fabrics = format!("{} in the tip<br/>{}", sheet.fabric(strip.tip), sheet.fabric(strip.rest));
        let what = format!("strip, tip {}", lean(strip.leans));
        let size = crate::make::Size { width: strip.width, height: strip.from };
        [what, fabrics, sheet.size(size), strip.count.to_string()]
    });
    let squares = left.squares.iter().map(|square| {
        let size = format!("{} as cut", sheet.len(square.side));
        ["square".into(), sheet.fabric(square.fabric), size, square.count.to_string()]
    });
    let cloth = (0..sheet.plan.fabrics.len()).filter_map(|fabric| {
        let words = left_words(sheet.ruler, left.cloth.iter().filter(|cloth| cloth.fabric == fabric));
        let size = format!("{} as cut", words.join(", "));
        (!words.is_empty()).then(|| ["cloth".into(), sheet.fabric(fabric), size, String::new()])
    });
    let lines: String =
        units.chain(strips).chain(squares).chain(cloth).map(|cells: [String; 4]| line(&heads, &cells)).collect();
    let body = format!(
        "<p>Keep these for the next scene; <code>leftovers.toml</code> holds them as a stash. A strip is described stood \
         up, with its small triangle, the tip, on top: turned it stays the same strip. Both kinds of strip are here: what \
         came off a trimmed unit, and what remained where a slice was cut. Anything narrower than two seams is left \
         out.</p>\n<div class=\"lists\">\n{}</div>\n",
        table("leftovers", &heads, &lines)
    );
    numbered(7, "leftovers", "What is left over", &body)
}

fn lean(lean: Lean) -> &'static str {
    match lean {
        Lean::Left => "upper left",
        Lean::Right => "upper right",
    }
}
