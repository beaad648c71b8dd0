//! Where everything lies: the whole top on one sheet of paper, and a thumbnail for each row.

use maud::{Markup, PreEscaped, html};

use super::drawings::{LEAST, outline, svg};
use super::hatch;
use super::sheet::Sheet;
use crate::make::RowWork;
use crate::plan::{Placed, Plan};
use crate::render::palette::Palette;
use crate::render::text::px;

/// Widest and tallest that the top is drawn on a sheet of paper, in pixels.
const SHEET: (f64, f64) = (640.0, 800.0);
/// The same in packets.
const PARTED: (f64, f64) = (480.0, 480.0);
/// The same for a thumbnail.
const THUMB: (f64, f64) = (36.0, 42.0);
/// Left of the map, for its bands, and above it, for its columns.
const MARGIN: (f64, f64) = (30.0, 20.0);

/// A box of cells: left, top, width, height.
pub(super) type Cells = (u32, u32, u32, u32);

/// The map, on a sheet of its own.
pub(super) fn section(sheet: &Sheet) -> Markup {
    html! {
        section id="map" {
            "\n" h2 { "The map" }
            "\n"
            p {
                "Every row stands here by its address, " b { "band.column.row" } ", and its units are counted from the left. \
                 Heavy lines part the bands and columns. A small map at each row's head shows where it lies."
            }
            "\n" (drawing(sheet))
        }
        "\n"
    }
}

fn drawing(sheet: &Sheet) -> Markup {
    let (across, down) = sheet.plan.request.cells();
    let cell = fit((across, down), SHEET);
    let (left, top) = MARGIN;
    let parts = parts(sheet.plan);
    let (width, height) = (f64::from(across) * cell, f64::from(down) * cell);
    let body = html! {
        (patches(sheet, |x, y| (left + f64::from(x) * cell, top + f64::from(y) * cell)))
        @for row in &sheet.work.rows { (frame("edge", at(row_cells(row), cell, MARGIN))) }
        @for (_, cells) in &parts { (frame("heavy", at(*cells, cell, MARGIN))) }
        @for (band, y, tall) in bands(sheet.plan) {
            (label("side", &format!("Band {band}"), (left - 12.0, top + (f64::from(y) + f64::from(tall) / 2.0) * cell), true))
        }
        @for (name, cells) in parts.iter().filter(|(_, cells)| cells.1 == 0) {
            (label("side", &format!("Column {name}"), (left + (f64::from(cells.0) + f64::from(cells.2) / 2.0) * cell, top - 6.0), false))
        }
        (labels(sheet, cell))
    };
    svg("map", left + width, top + height, &body)
}

/// The whole top in boxes, each with its name in the middle; some of them are pale.
pub(super) fn parted(sheet: &Sheet, boxes: &[(String, Cells, bool)]) -> Markup {
    let (across, down) = sheet.plan.request.cells();
    let cell = fit((across, down), PARTED);
    let name = |(x, y, wide, tall): (f64, f64, f64, f64), words: &str| {
        let (x, y, half) = (x + wide / 2.0, y + tall / 2.0, 4.0 + 3.5 * words.len() as f64);
        html! {
            (PreEscaped(format!(
                "<rect class=\"plate\" x=\"{}\" y=\"{}\" width=\"{}\" height=\"16\"/>",
                px(x - half), px(y - 8.0), px(2.0 * half)
            )))
            (label("row-name", words, (x, y + 4.0), false))
        }
    };
    let body = html! {
        (patches(sheet, |x, y| (f64::from(x) * cell, f64::from(y) * cell)))
        @for (_, cells, _) in boxes.iter().filter(|(_, _, pale)| *pale) { (frame("veil", at(*cells, cell, (0.0, 0.0)))) }
        @for (_, cells, _) in boxes { (frame("heavy", at(*cells, cell, (0.0, 0.0)))) }
        @for (words, cells, _) in boxes { (name(at(*cells, cell, (0.0, 0.0)), words)) }
    };
    svg("map", f64::from(across) * cell, f64::from(down) * cell, &body)
}

/// Every row's address at its left end; where rows are too low for letters, beside that of the row above.
pub(super) fn labels(sheet: &Sheet, cell: f64) -> Markup {
    let mut lanes: Vec<f64> = Vec::new();
    let mut part = (0, 0);
    let mut one = |row: &RowWork| {
        if part != (row.address.band, row.address.column) {
            part = (row.address.band, row.address.column);
            lanes.clear();
        }
        let words = row.address.row_words();
        let (x, y, _, tall) = at(row_cells(row), cell, MARGIN);
        let middle = y + tall / 2.0;
        let (upper, lower) = (middle - LEAST / 2.0 - 1.0, middle + LEAST / 2.0 + 1.0);
        let lane = lanes.iter().position(|free| *free <= upper).unwrap_or(lanes.len());
        if lane == lanes.len() {
            lanes.push(lower);
        }
        lanes[lane] = lower;
        let wide = 6.0 * words.len() as f64 + 4.0;
        let x = x + 2.0 + lane as f64 * (wide + 4.0);
        html! {
            (PreEscaped(format!(
                "<rect class=\"plate\" x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\"/>",
                px(x), px(upper), px(wide), px(lower - upper)
            )))
            (label("row-name", &words, (x + wide / 2.0, middle + 0.36 * LEAST), false))
        }
    };
    html! { @for row in &sheet.work.rows { (one(row)) } }
}

/// Where a row lies in the top.
pub(super) fn thumb(sheet: &Sheet, row: &RowWork) -> Markup {
    let cells = sheet.plan.request.cells();
    let cell = fit(cells, THUMB);
    let whole = at((0, 0, cells.0, cells.1), cell, (0.0, 0.0));
    let (x, y, wide, tall) = at(row_cells(row), cell, (0.0, 0.0));
    let body = html! {
        (frame("top", whole))
        @for (_, cells) in parts(sheet.plan) { (frame("edge", at(cells, cell, (0.0, 0.0)))) }
        (frame("here", (x, y, wide.max(2.0), tall.max(2.0))))
    };
    svg("thumb", whole.2, whole.3, &body)
}

/// Columns with their names and boxes.
pub(super) fn parts(plan: &Plan) -> Vec<(String, Cells)> {
    let mut parts = Vec::new();
    let mut y = 0;
    for (i, band) in (1_usize..).zip(&plan.bands) {
        let mut x = 0;
        for (j, column) in (1_usize..).zip(&band.columns) {
            parts.push((format!("{i}.{j}"), (x, y, column.width, band.height)));
            x += column.width;
        }
        y += band.height;
    }
    parts
}

/// Number, upper edge and height of each band.
fn bands(plan: &Plan) -> Vec<(usize, u32, u32)> {
    let mut y = 0;
    let one = |(number, band): (usize, &crate::plan::Band)| {
        y += band.height;
        (number, y - band.height, band.height)
    };
    (1..).zip(&plan.bands).map(one).collect()
}

/// The box of a row.
fn row_cells(row: &RowWork) -> Cells {
    let placed = || row.units.iter().map(|unit| &unit.placed);
    let (x, y) = placed().next().map_or((0, 0), |first| (first.x, first.y));
    (x, y, placed().map(|placed| placed.unit.width).sum(), placed().next().map_or(0, |first| first.height))
}

/// The box of neighbouring rows of one column.
pub(super) fn rows_cells(rows: &[RowWork]) -> Cells {
    let mut boxes = rows.iter().map(row_cells);
    let first = boxes.next().unwrap_or_default();
    boxes.fold(first, |(x, y, wide, tall), (.., more)| (x, y, wide, tall + more))
}

fn fit((across, down): (u32, u32), (width, height): (f64, f64)) -> f64 {
    (width / f64::from(across.max(1))).min(height / f64::from(down.max(1)))
}

fn at((x, y, wide, tall): Cells, cell: f64, (left, top): (f64, f64)) -> (f64, f64, f64, f64) {
    (left + f64::from(x) * cell, top + f64::from(y) * cell, f64::from(wide) * cell, f64::from(tall) * cell)
}

pub(super) fn frame(class: &str, (x, y, wide, tall): (f64, f64, f64, f64)) -> Markup {
    PreEscaped(format!("<path class=\"{class}\" d=\"M{} {}h{}v{}h-{}Z\"/>", px(x), px(y), px(wide), px(tall), px(wide)))
}

/// Words on a drawing, upright or turned to read from below.
pub(super) fn label(class: &str, words: &str, (x, y): (f64, f64), turned: bool) -> Markup {
    let (x, y) = (px(x), px(y));
    html! {
        @if turned {
            text class=(class) x=(x) y=(y) transform={ "rotate(-90 " (x) " " (y) ")" } { (words) }
        } @else {
            text class=(class) x=(x) y=(y) { (words) }
        }
    }
}

/// All patches, one path a fabric.
fn patches(sheet: &Sheet, at: impl Fn(u32, u32) -> (f64, f64)) -> Markup {
    patches_of(&sheet.palette, &sheet.plan.placed(), at)
}

/// The same of any units.
pub(super) fn patches_of(palette: &Palette, placed: &[Placed], at: impl Fn(u32, u32) -> (f64, f64)) -> Markup {
    let units = || placed.iter().flat_map(Placed::patches);
    let path = |fabric| {
        let of = units().filter(|patch| patch.fabric == fabric);
        let drawn: Vec<Vec<_>> = of.map(|patch| patch.outline.iter().map(|&(x, y)| at(x, y)).collect()).collect();
        let line: String = drawn.iter().map(|points| outline(points)).collect();
        (!line.is_empty()).then(|| {
            html! {
                (PreEscaped(format!("<path class=\"quiet {}\" d=\"{line}\"/>", hatch::face(fabric))))
                (hatch::lines(fabric, drawn.iter().map(Vec::as_slice)))
            }
        })
    };
    html! { @for path in palette.prints().filter_map(path) { (path) } }
}
