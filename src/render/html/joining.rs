//! Rows into columns, columns into bands, bands into the top.

use super::sheet::{Sheet, line, note, section as numbered, table, tick};
use crate::cutting::Size;
use crate::measure::{Length, Ruler};

/// What to join to what, and what each should measure.
pub(super) fn section(sheet: &Sheet) -> String {
    let body = format!("{}{}{}", steps(sheet), parts(sheet), note("", &diagonals(sheet)));
    numbered(6, "joining", "Join the rows", &body)
}

fn steps(sheet: &Sheet) -> String {
    let bands = &sheet.plan.bands;
    let columns = bands.iter().any(|band| band.columns.len() > 1);
    let mut steps = vec![
        "Lay all rows out in order and look at them from across the room before you sew.".to_owned(),
        "Pin neighbouring rows at their ends and in the middle, then where their seams meet. Seams that meet were pressed \
         opposite ways, so they nest: push them together until the ridge of one stops at the other. Pin between, \
         and sew, taking the pins out as you come to them."
            .to_owned(),
        format!(
            "{} Join rows in pairs, then the pairs, so that you handle little weight for long. Press these long seams \
             all one way. Press, do not slide the iron.",
            first(columns, bands.len() > 1)
        ),
    ];
    if columns {
        steps.push(
            "Then join the columns of a band from left to right. Measure them first: they must be equally tall. Match \
             their middles and ends, pin between, sew, and press to the column with fewer rows."
                .into(),
        );
    }
    if bands.len() > 1 {
        steps.push(
            "Last, join the bands from the top down. Measure them first: they must be equally wide. Match their \
             middles and ends, pin between, sew, and press all these seams one way."
                .into(),
        );
    }
    let items: String = steps.iter().map(|step| format!("<li>{step}</li>\n")).collect();
    format!("<ol>\n{items}</ol>\n")
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
fn parts(sheet: &Sheet) -> String {
    let heads = ["Part", "Joined from", "Should measure", "Finished", "Done"];
    let request = &sheet.plan.request;
    let (grid, bands) = (request.grid, &sheet.plan.bands);
    let part = |name: String, from: String, finished: Size| {
        let unfinished = sheet.size(finished.unfinished(request.seam.both()));
        line(&heads, &[name, from, format!("<b>{unfinished}</b>"), sheet.size(finished), tick("")])
    };
    let mut lines = String::new();
    for (i, band) in (1..).zip(bands) {
        let single = band.columns.len() == 1;
        let whole = Size { width: request.width, height: grid * band.height };
        if single && bands.len() == 1 {
            continue;
        }
        for (j, column) in (1..).zip(&band.columns) {
            let from = span("row", "rows", &format!("{i}.{j}."), column.rows.len());
            let name = if single { format!("Band {i}") } else { format!("Column {i}.{j}") };
            lines += &part(name, from, Size { width: grid * column.width, ..whole });
        }
        if !single && bands.len() > 1 {
            lines += &part(format!("Band {i}"), span("column", "columns", &format!("{i}."), band.columns.len()), whole);
        }
    }
    let from = match bands.as_slice() {
        [band] => match band.columns.as_slice() {
            [column] => span("row", "rows", "1.1.", column.rows.len()),
            columns => span("column", "columns", "1.", columns.len()),
        },
        bands => span("band", "bands", "", bands.len()),
    };
    lines += &part("<b>The top</b>".into(), from, Size { width: request.width, height: request.height });
    table("parts", &heads, &lines)
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
fn diagonals(sheet: &Sheet) -> String {
    let request = &sheet.plan.request;
    let both = request.seam.both();
    let square = |side: Length| i128::from((side + both).ticks()).pow(2);
    let ticks = (square(request.width) + square(request.height)).isqrt();
    let step = if sheet.ruler == Ruler::Inch { Length::inches(1, 8) } else { Length::MM * 5i64 };
    let diagonal = Length::from_ticks(i64::try_from(ticks).unwrap_or(i64::MAX / 2)).round_to(step);
    format!(
        "<b>Is it square?</b> Measure from corner to corner both ways: the top is square when the two diagonals are equal, \
         at about {} each. Where they differ, pull gently along the shorter one and press again. Sew all round the \
         top close to the edge, so that no seam opens while you handle it.",
        sheet.len(diagonal)
    )
}
