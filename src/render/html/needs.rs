//! The opening with the scene, and what the maker needs.

use super::sheet::{Sheet, line, note, section as numbered, table};
use crate::make::{FillerCut, SquaresNeeded};
use crate::measure::{Length, Ruler, ShopCuts, pieces_from_cloth, yards};
use crate::prints::report;
use crate::render::palette::VALUES;
use crate::render::svg;
use crate::render::text::{count, escape, listed};

/// Title, picture and legend.
pub(super) fn opening(sheet: &Sheet, title: &str) -> String {
    let request = &sheet.plan.request;
    format!(
        "<header>\n<p class=\"kicker\">Build list</p>\n<h1>{title}</h1>\n\
         <p class=\"lede\">A pieced top, {} wide and {} tall when finished: {}.</p>\n</header>\n\
         <div class=\"opening\">\n<figure class=\"scene\">{}</figure>\n{}</div>\n{}",
        sheet.len(request.width),
        sheet.len(request.height),
        totals(sheet),
        svg(sheet.plan, sheet.work, sheet.options),
        legend(sheet),
        addresses()
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
    let lines: String = sheet.palette.indices().map(|i| line(&heads, &[sheet.fabric(i), value(sheet, i)])).collect();
    let prints =
        report(sheet.plan).map(|report| format!("<p class=\"fine\">Prints: {}.</p>\n", escape(&report.words())));
    table("legend", &heads, &lines) + &prints.unwrap_or_default()
}

/// Five boxes, of which the fabric's step is filled.
fn value(sheet: &Sheet, fabric: usize) -> String {
    let step = sheet.palette.value(fabric);
    let boxes: String = (1..=5).map(|n| if n == step { '■' } else { '□' }).collect();
    let words = VALUES.get(step - 1).copied().unwrap_or_default();
    format!("<span class=\"value\"><span aria-hidden=\"true\">{boxes}</span> {words}</span>")
}

fn addresses() -> String {
    note(
        "",
        "Every unit has an address, <b>band.column.row.unit</b>, counted from the top and from the left: \
         <b>1.1.3.7</b> is band 1, column 1, row 3, unit 7. Write it on a scrap of paper and pin it to the unit \
         as you make it.",
    )
}

/// Squares and cloth by fabric.
pub(super) fn section(sheet: &Sheet) -> String {
    let heads = ["Fabric", "Squares for triangle units", "Cloth for fillers"];
    let lines: String = sheet.palette.indices().map(|i| line(&heads, &needs(sheet, i))).collect();
    let body = format!(
        "{}<p class=\"fine\">Squares may be bought cut; for those that you cut yourself, add cloth. The cloth for fillers is an estimate: each size is cut \
         strip by strip across {} of usable width, and the sum is rounded up to what a shop cuts. Allow a little more \
         for straightening and for prints that run one way. Besides: thread, a cutting mat, a rotary cutter, a ruler \
         with a 45-degree line, pins and an iron.</p>\n",
        table("needs", &heads, &lines),
        sheet.len(sheet.plan.request.cloth_width)
    );
    numbered(1, "needs", "What you need", &body)
}

fn needs(sheet: &Sheet, fabric: usize) -> [String; 3] {
    let from_squares = sheet.work.fillers.iter().filter(|filler| filler.fabric == fabric && filler.square.is_some());
    let pieces: u32 = from_squares.map(|filler| filler.count).sum();
    let cloth = match cloth(sheet, fabric) {
        Some(Length::ZERO) if pieces > 0 => format!("{pieces} pieces, cut from its squares"),
        Some(Length::ZERO) => "none".into(),
        Some(length) => format!("{} of its length: buy <b>{}</b>", sheet.len(length), shop_words(sheet.ruler, length)),
        None => "not worked out: a filler is larger both ways than the cloth is wide, so piece it".into(),
    };
    [sheet.fabric(fabric), squares(sheet, fabric), cloth]
}

/// Squares as bought; the quarters of a fabric come from as few as can be.
fn squares(sheet: &Sheet, fabric: usize) -> String {
    let sides = sheet.work.squares().into_iter().filter(|needed| needed.fabric == fabric);
    let words = |needed: SquaresNeeded| {
        let quarters = match (needed.whole, needed.quartered()) {
            (_, 0) => String::new(),
            (0, _) => format!(" (quartered for {} of {})", needed.quarters, sheet.len(needed.side / 2)),
            (_, n) => format!(" ({n} of them quartered for {} of {})", needed.quarters, sheet.len(needed.side / 2)),
        };
        format!("{} of {}{quarters}", needed.bought(), sheet.len(needed.side))
    };
    let sides: Vec<String> = sides.map(words).collect();
    if sides.is_empty() { "none".into() } else { listed(&sides) }
}

/// Length of cloth for a fabric's fillers; `None` where one is too long to cut across the cloth.
fn cloth(sheet: &Sheet, fabric: usize) -> Option<Length> {
    let across = sheet.plan.request.cloth_width;
    let fillers = sheet.work.fillers.iter().filter(|filler| filler.fabric == fabric && filler.square.is_none());
    fillers.map(|filler| strips(filler, across)).sum()
}

/// The shorter way to cut them.
fn strips(filler: &FillerCut, across: Length) -> Option<Length> {
    let (count, cut) = (i64::from(filler.count), filler.cut);
    let ways = [(cut.width, cut.height), (cut.height, cut.width)];
    let lengths = ways.into_iter().filter_map(|(w, h)| pieces_from_cloth(count, w, h, across));
    lengths.map(|pieces| pieces.length).min()
}

/// What to ask for in a shop: `1 3/8 yd`, `0.4 m`.
pub(super) fn shop_words(ruler: Ruler, needed: Length) -> String {
    let buy = ShopCuts::of(ruler).round_up(needed);
    let words = match ruler {
        Ruler::Metric => {
            let tenths = buy.ceil_div(Length::METRE / 10);
            if tenths % 10 == 0 { format!("{} m", tenths / 10) } else { format!("{}.{} m", tenths / 10, tenths % 10) }
        }
        Ruler::Inch => yards(buy).unwrap_or_else(|| buy.to_string()),
    };
    format!("<span class=\"n\">{}</span>", escape(&words))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shops_are_asked_in_their_own_fractions() {
        let inch = |n| shop_words(Ruler::Inch, Length::inches(n, 1));
        // 2 strips of 4 3/4 in make 9 1/2 in: buy 1/3 yd (American Patchwork & Quilting, Aug 2019, p. 89).
        assert!(shop_words(Ruler::Inch, Length::inches(19, 2)).contains(">1/3 yd<"));
        assert!(inch(4).contains(">1/8 yd<"));
        assert!(inch(18).contains(">1/2 yd<"));
        assert!(inch(49).contains(">1 3/8 yd<"));
        assert!(shop_words(Ruler::Metric, Length::mm(301)).contains(">0.4 m<"));
        assert!(shop_words(Ruler::Metric, Length::mm(951)).contains(">1 m<"));
    }
}
