//! The map at large, over sheets of paper that are taped together.

use maud::{Markup, PreEscaped, html};

use super::drawings::{outline, svg};
use super::hatch;
use super::map::{Cells, frame, label, parts};
use super::sheet::{Sheet, note};
use crate::make::UnitWork;
use crate::render::text::{count, px};

type Point = (f64, f64);

/// Width and height of the frame on each sheet, which letter and A4 paper both have room for: 174 by 224 mm.
const FRAME: Point = (657.6, 846.6);
/// The least side of a unit: 12 mm.
const UNIT: f64 = 45.4;
/// Around the frame, for the marks that meet those of the next sheet.
const EDGE: f64 = 12.0;
/// Width of one letter of an address.
const LETTER: f64 = 6.0;

/// How large the top is drawn, and on how many sheets.
struct Wall {
    cell: f64,
    across: usize,
    down: usize,
}

impl Wall {
    fn new(sheet: &Sheet) -> Self {
        let (columns, rows) = sheet.plan.request.cells();
        let sides = units(sheet).map(|unit| unit.placed.unit.width.min(unit.placed.height));
        let (columns, rows) = (f64::from(columns.max(1)), f64::from(rows.max(1)));
        let one_sheet = (FRAME.0 / columns).min(FRAME.1 / rows);
        let cell = (UNIT / f64::from(sides.min().unwrap_or(1).max(1))).max(one_sheet);
        let sheets = |cells: f64, frame: f64| ((cells * cell / frame - 1e-6).ceil() as usize).max(1);
        Self { cell, across: sheets(columns, FRAME.0), down: sheets(rows, FRAME.1) }
    }

    /// `B3`: rows of sheets are letters from the top, or numbers where letters do not suffice.
    fn name(&self, down: usize, across: usize) -> String {
        match u8::try_from(down).ok().filter(|down| *down < 26) {
            Some(down) => format!("{}{}", char::from(b'A' + down), across + 1),
            None => format!("{}-{}", down + 1, across + 1),
        }
    }
}

fn units<'a>(sheet: &'a Sheet) -> impl Iterator<Item = &'a UnitWork> {
    sheet.work.rows.iter().flat_map(|row| &row.units)
}

/// Where the sheets go, then each of them.
pub(super) fn section(sheet: &Sheet) -> Markup {
    let wall = Wall::new(sheet);
    let all = count((wall.across * wall.down) as u64, "sheet", "sheets");
    html! {
        section id="wall" {
            "\n" h2 { "The large map" }
            "\n"
            p {
                "The whole top on " (all) ", with the address of every unit. Print them at their full size, cut each along its \
                 frame, and tape them edge to edge, so that the marks across the frames meet. Sheet A1 is the upper left one."
            }
            "\n" (key(sheet, &wall)) (note("", &html! { "Lay units on it as you make them; nothing is cut by it." }))
        }
        "\n"
        @for down in 0..wall.down {
            @for across in 0..wall.across { (one(sheet, &wall, down, across)) }
        }
    }
}

/// The sheets as they lie.
fn key(sheet: &Sheet, wall: &Wall) -> Markup {
    let (columns, rows) = sheet.plan.request.cells();
    let (width, height) = (f64::from(columns) * wall.cell, f64::from(rows) * wall.cell);
    let scale = (400.0 / width).min(400.0 / height);
    let body = html! {
        (frame("heavy", (0.0, 0.0, width * scale, height * scale)))
        @for down in 0..wall.down {
            @for across in 0..wall.across {
                @let (left, top) = (across as f64 * FRAME.0, down as f64 * FRAME.1);
                @let (wide, tall) = (FRAME.0.min(width - left) * scale, FRAME.1.min(height - top) * scale);
                (frame("edge", (left * scale, top * scale, wide, tall)))
                (label("side", &wall.name(down, across), (left * scale + wide / 2.0, top * scale + tall / 2.0 + 4.0), false))
            }
        }
    };
    svg("map", width * scale, height * scale, &body)
}

fn one(sheet: &Sheet, wall: &Wall, down: usize, across: usize) -> Markup {
    let (left, top) = (across as f64 * FRAME.0, down as f64 * FRAME.1);
    let box_of = |(x, y, wide, tall): Cells| {
        let side = |cells: u32| f64::from(cells) * wall.cell;
        (side(x) - left, side(y) - top, side(wide), side(tall))
    };
    let seen =
        |(x, y, wide, tall): (f64, f64, f64, f64)| x < FRAME.0 && y < FRAME.1 && x + wide > 0.0 && y + tall > 0.0;
    let cells = |unit: &UnitWork| (unit.placed.x, unit.placed.y, unit.placed.unit.width, unit.placed.height);
    let at = |&(x, y): &(u32, u32)| (f64::from(x) * wall.cell - left, f64::from(y) * wall.cell - top);
    let drawn = || units(sheet).filter(|unit| seen(box_of(cells(unit))));
    let body = html! {
        svg x="0" y="0" width=(px(FRAME.0)) height=(px(FRAME.1)) viewBox={ "0 0 " (px(FRAME.0)) " " (px(FRAME.1)) } {
            @for unit in drawn() {
                @for patch in unit.placed.patches() {
                    @let points: Vec<Point> = patch.outline.iter().map(at).collect();
                    (PreEscaped(format!("<path class=\"quiet {}\" d=\"{}\"/>", hatch::face(patch.fabric), outline(&points))))
                    (hatch::lines(patch.fabric, std::iter::once(&points[..])))
                }
                (frame("edge", box_of(cells(unit))))
            }
            @for (_, cells) in parts(sheet.plan).into_iter().filter(|(_, cells)| seen(box_of(*cells))) {
                (frame("heavy", box_of(cells)))
            }
            @for unit in drawn() { (address(unit, box_of(cells(unit)))) }
        }
        (frame("edge", (0.0, 0.0, FRAME.0, FRAME.1)))
        (PreEscaped(format!("<path class=\"marks\" d=\"{}\"/>", marks())))
    };
    let (wide, tall) = (px(FRAME.0 + 2.0 * EDGE), px(FRAME.1 + 2.0 * EDGE));
    html! {
        figure class="wall" {
            figcaption { b { "Sheet " (wall.name(down, across)) } " of the large map" }
            svg class="map" xmlns="http://www.w3.org/2000/svg" viewBox={ (px(-EDGE)) " " (px(-EDGE)) " " (wide) " " (tall) }
                width=(wide) height=(tall) aria-hidden="true" { (body) }
        }
        "\n"
    }
}

/// The address in the middle of what the sheet shows of a unit, turned where that is narrow.
fn address(unit: &UnitWork, (x, y, wide, tall): (f64, f64, f64, f64)) -> Markup {
    let words = unit.placed.address.to_string();
    let long = LETTER * words.len() as f64 + 2.0;
    let span = |from: f64, side: f64, frame: f64| (from.max(0.0), (from + side).min(frame));
    let ((left, right), (top, bottom)) = (span(x, wide, FRAME.0), span(y, tall, FRAME.1));
    let turned = right - left < long && bottom - top > right - left;
    let (half_wide, half_tall) = if turned { (7.0, long / 2.0) } else { (long / 2.0, 7.0) };
    let middle = |from: f64, to: f64, half: f64, frame: f64| {
        let most = (frame - half).max(half);
        ((from + to) / 2.0).clamp(half, most)
    };
    let (x, y) = (middle(left, right, half_wide, FRAME.0), middle(top, bottom, half_tall, FRAME.1));
    // A sliver of a unit leaves its address to the next sheet.
    if (right - left).min(bottom - top) < 8.0 && (wide, tall) != (right - left, bottom - top) {
        return Markup::default();
    }
    html! { (label("unit-name", &words, if turned { (x + 4.0, y) } else { (x, y + 4.0) }, turned)) }
}

/// Short lines across the frame at its corners and at each quarter of its sides.
fn marks() -> String {
    let mut marks = String::new();
    for quarter in 0..5 {
        let (x, y) = (FRAME.0 * f64::from(quarter) / 4.0, FRAME.1 * f64::from(quarter) / 4.0);
        for edge in [0.0, FRAME.1] {
            marks += &format!("M{} {}V{}", px(x), px(edge - EDGE), px(edge + EDGE));
        }
        for edge in [0.0, FRAME.0] {
            marks += &format!("M{} {}H{}", px(edge - EDGE), px(y), px(edge + EDGE));
        }
    }
    marks
}
