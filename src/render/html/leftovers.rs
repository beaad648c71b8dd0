//! What is left over, with sizes, for the next scene.

use super::sheet::{Sheet, line, section as numbered, table};
use crate::fabric::{Lean, Print};
use crate::make::Leftovers;
use crate::render::shopping::left_words;

/// Spare units, strips and squares; nothing where nothing is left.
pub(super) fn section(sheet: &Sheet) -> String {
    let left = sheet.work.leftovers(sheet.plan);
    if left.is_empty() {
        return String::new();
    }
    let heads = ["What", "Fabrics", "Finishes", "How many"];
    let units = left.units.iter().map(|unit| {
        let fabrics = format!("{}<br/> {}", sheet.fabric(unit.first), sheet.fabric(unit.second));
        ["whole unit".into(), fabrics, sheet.len(unit.finished), unit.count.to_string()]
    });
    let strips = left.strips.iter().map(|strip| {
        let fabrics = format!("tip {}<br/> rest {}", sheet.fabric(strip.tip), sheet.fabric(strip.rest));
        let what = format!("strip, tip {}", lean(strip.leans));
        let size = crate::make::Size { width: strip.width, height: strip.from };
        [what, fabrics, sheet.size(size), strip.count.to_string()]
    });
    let squares = left.squares.iter().map(|square| {
        let size = format!("{} as cut", sheet.len(square.side));
        ["square".into(), sheet.fabric(square.fabric), size, square.count.to_string()]
    });
    let lines: String = units.chain(strips).chain(squares).map(|cells: [String; 4]| line(&heads, &cells)).collect();
    let lists = if lines.is_empty() { lines } else { table("leftovers", &heads, &lines) };
    let body = format!(
        "<p>Keep these for the next scene; <code>leftovers.toml</code> holds them as a stash. A strip is described stood \
         up, with its small triangle, the tip, on top: turned it stays the same strip. Both kinds of strip are here: what \
         came off a trimmed unit, and what remained where a slice was cut. Anything narrower than two seams is left \
         out.</p>\n<div class=\"lists\">\n{lists}</div>\n{}",
        cloth(sheet, &left)
    );
    numbered(7, "leftovers", "What is left over", &body)
}

/// Cloth by fabric, over the whole width, since what remains is often a list.
fn cloth(sheet: &Sheet, left: &Leftovers) -> String {
    let heads = ["Fabric", "Cloth left, as cut"];
    let of = |fabric: Print| {
        let words = left_words(sheet.ruler, left.cloth.iter().filter(|cloth| cloth.fabric == fabric));
        (!words.is_empty()).then(|| line(&heads, &[sheet.fabric(fabric), words.join(", ")]))
    };
    let lines: String = sheet.plan.fabrics.keys().filter_map(of).collect();
    if lines.is_empty() { lines } else { table("leftovers cloth-left", &heads, &lines) }
}

fn lean(lean: Lean) -> &'static str {
    match lean {
        Lean::Left => "upper left",
        Lean::Right => "upper right",
    }
}
