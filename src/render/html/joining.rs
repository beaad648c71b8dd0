//! Rows into columns, columns into bands, bands into the top.

use maud::{Markup, html};

use super::sheet::{Sheet, line, note, section as numbered, table, tick};
use crate::cutting::Size;
use crate::measure::{Length, Ruler};
use crate::plan::Plan;
use crate::render::press_words::join;

/// How rows are pinned.
pub(in crate::render) const PINNING: &str = "Pin neighbouring rows at their ends and in the middle, then where their seams meet. Each row says in how \
     many places that is, and in how many of them the seams nest, pressed opposite ways: push those together \
     until the ridge of one stops at the other. Put a pin straight through both of any other two. Pin between, \
     and sew, taking the pins out as you come to them.";

/// What to join to what, and what each should measure.
pub(super) fn section(sheet: &Sheet) -> Markup {
    let body = html! { (steps(sheet)) (parts(sheet)) (note("", &diagonals(sheet))) };
    numbered(6, "joining", "Join the rows", &body)
}

fn steps(sheet: &Sheet) -> Markup {
    let bands = &sheet.plan.bands;
    let columns = bands.iter().any(|band| band.columns.len() > 1);
    html! {
        ol {
            "\n" li { "Lay all rows out in order and look at them from across the room before you sew." }
            "\n"
            li { (PINNING) }
            "\n"
            li {
                (first(columns, bands.len() > 1))
                " Join rows in pairs, then the pairs, so that you handle little weight for long. Press \
                 each long seam the way that its row says. Press, do not slide the iron."
            }
            "\n"
            @if columns {
                li {
                    "Then join the columns of a band from left to right. Measure them first: they must be equally tall. \
                     Match their middles and ends, pin between, sew, and press as the table says."
                }
                "\n"
            }
            @if bands.len() > 1 {
                li {
                    "Last, join the bands from the top down. Measure them first: they must be equally wide. Match their \
                     middles and ends, pin between, sew, and press as the table says."
                }
                "\n"
            }
        }
        "\n"
    }
}

/// Which rows are joined before anything else.
fn first(columns: bool, bands: bool) -> &'static str {
    match (columns, bands) {
        (true, _) => "Sew together the rows of one column at a time, never across into the next column.",
        (false, true) => "Sew together the rows of one band at a time.",
        (false, false) => "Sew all rows together, each below the one before it.",
    }
}

/// Columns and bands are listed only where a band has more than one column.
fn parts(sheet: &Sheet) -> Markup {
    let heads = ["Part", "Joined from", "Should measure", "Finished", "Done"];
    let request = &sheet.plan.request;
    let (grid, bands) = (request.grid, &sheet.plan.bands);
    let part = |name: Markup, from: String, finished: Size| {
        let unfinished = sheet.size(finished.unfinished(request.seam.both()));
        line(&heads, &[name, html! { (from) }, html! { b { (unfinished) } }, sheet.size(finished), tick("")])
    };
    let mut lines = Vec::new();
    for (i, band) in (1_usize..).zip(bands) {
        let single = band.columns.len() == 1;
        let whole = Size { width: request.width, height: grid * band.height };
        if single && bands.len() == 1 {
            continue;
        }
        for (j, column) in (1_usize..).zip(&band.columns) {
            let part_of = if single { [i, 0] } else { [i, j] };
            let from = span("row", "rows", &format!("{i}.{j}."), column.rows.len()) + &pressed(sheet, part_of);
            let name = if single {
                html! { "Band " (i) }
            } else {
                html! { "Column " (i) "." (j) }
            };
            lines.push(part(name, from, Size { width: grid * column.width, ..whole }));
        }
        if !single && bands.len() > 1 {
            let from = span("column", "columns", &format!("{i}."), band.columns.len()) + &pressed(sheet, [i, 0]);
            lines.push(part(html! { "Band " (i) }, from, whole));
        }
    }
    let from = match bands.as_slice() {
        [band] => match band.columns.as_slice() {
            [column] => span("row", "rows", "1.1.", column.rows.len()),
            columns => span("column", "columns", "1.", columns.len()),
        },
        bands => span("band", "bands", "", bands.len()),
    };
    let whole = Size { width: request.width, height: request.height };
    lines.push(part(html! { b { "The top" } }, from, whole));
    table("parts", &heads, &lines)
}

/// How a column or a band is joined to the one before.
fn pressed(sheet: &Sheet, [band, column]: [usize; 2]) -> String {
    let before = if column > 0 { "the column before it" } else { "the band above" };
    let joint = sheet.work.joints.of(band, column, 0, 0);
    joint.map(|joint| format!("; {}", join(joint, before, column > 0))).unwrap_or_default()
}

/// `rows 1.1.1 to 1.1.9`.
fn span(one: &str, many: &str, before: &str, n: usize) -> String {
    match n {
        1 => format!("{one} {before}1"),
        2 => format!("{many} {before}1 and {before}2"),
        n => format!("{many} {before}1 to {before}{n}"),
    }
}

/// A top is square when its two diagonals are equal (Oakville Quilters Guild).
pub(super) fn diagonals(sheet: &Sheet) -> Markup {
    let [measure, then, last] = SQUARE;
    html! { b { "Is it square?" } " " (measure) " " (sheet.len(diagonal(sheet.plan))) " " (then) " " (last) }
}

/// How a top is measured, before and after how long its diagonals are; and what is done last.
pub(in crate::render) const SQUARE: [&str; 3] = [
    "Measure from corner to corner both ways: the top is square when the two diagonals are equal, at about",
    "each. Where they differ, pull gently along the shorter one and press again.",
    "Sew all round the top close to the edge, so that no seam opens while you handle it.",
];

/// How long the diagonals of a square top are, about.
pub(in crate::render) fn diagonal(plan: &Plan) -> Length {
    let request = &plan.request;
    let both = request.seam.both();
    let square = |side: Length| i128::from((side + both).ticks()).pow(2);
    let ticks = (square(request.width) + square(request.height)).isqrt();
    let step = if request.ruler == Ruler::Inch { Length::inches(1, 8) } else { Length::MM * 5i64 };
    Length::from_ticks(i64::try_from(ticks).unwrap_or(i64::MAX / 2)).round_to(step)
}
