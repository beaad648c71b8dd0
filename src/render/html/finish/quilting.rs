//! Quilting: where it runs, how much thread it takes, and a stencil to mark by.

use std::collections::BTreeSet;

use maud::{Markup, PreEscaped, html};

use super::super::sheet::{line, table};
use super::{Quilt, figures};
use crate::finish::{Motif, QuiltingWork, STENCIL_SHEET, lines, repeats};
use crate::measure::{Length, Ruler};
use crate::render::text::inches;

/// How large the drawing of one sheet of a stencil is, in hundredths of an inch: it fits letter and A4.
const SHEET: [i64; 2] = [700, 900];

pub(super) fn chapter(quilt: &Quilt) -> Markup {
    let work = quilt.sheet.plan.quilting(&quilt.finishing);
    html! {
        h3 { "Quilting" } "\n"
        @match work.motif {
            Motif::Ditch => (ditch()),
            Motif::Rows => (rows(quilt, &work)),
            Motif::HalfCircles => (half_circles(quilt, &work)),
        }
        (thread(quilt, &work))
        p {
            "Begin in the middle and work outward to the edges. Leave no part unquilted that is wider than the batting's maker allows. \
             Try thread, needle and tension on a scrap of the same layers, and follow the manual of your machine."
        }
        "\n"
        @if work.motif == Motif::HalfCircles {
            @let sheets = stencil(work.scale);
            @for (at, drawing) in sheets.iter().enumerate() {
                figure class="stencil" {
                    "\n" figcaption class="figures" { "Stencil, sheet " (at + 1) " of " (sheets.len()) }
                    "\n" (PreEscaped(drawing)) "\n"
                }
                "\n"
            }
        }
    }
}

fn ditch() -> Markup {
    html! {
        p {
            "The plain way is to stitch in the ditch: in the seams between the rows, columns, bands and borders, on the side that the seam \
             is not pressed to. Begin with the long seams between bands and columns, so that the layers lie still, and go round the \
             large shapes last, as you like."
        }
        "\n"
    }
}

fn rows(quilt: &Quilt, work: &QuiltingWork) -> Markup {
    let sheet = quilt.sheet;
    let grid = sheet.plan.request.grid;
    let heights: BTreeSet<u32> = sheet.plan.rows().iter().map(|(_, row)| row.height).collect();
    let heads = ["Rows that finish", "Lines between their seams", "Apart"];
    let row = |height: u32| {
        let (finished, parts) = (grid * height, lines(grid * height, work.scale));
        let apart = if parts > 1 {
            sheet.about(finished / parts)
        } else {
            html! { "–" }
        };
        line(&heads, &[sheet.len(finished), html! { (parts - 1) }, apart])
    };
    let drawn: Vec<Markup> = heights.into_iter().map(row).collect();
    html! {
        (figures(&html! {
            "Straight lines follow the rows of the scene: stitch in the ditch of the seams between rows, columns, bands and borders, and \
             between two seams of a row as many level lines as leave no more than " b { (sheet.len(work.scale)) }
            " free. Mark them with a ruler, laid along the seam, and with what comes out again: try it on a scrap first."
        }))
        (table("finish finish-lines", &heads, &drawn))
    }
}

fn half_circles(quilt: &Quilt, work: &QuiltingWork) -> Markup {
    figures(&html! {
        "Half circles in rows, of a radius of " b { (quilt.sheet.len(work.scale)) }
        ", run over the whole quilt, each row's feet on the tops of the row below. Print the stencil at its full size, without \
         fitting it to the page, and measure its two squares. Tape its sheets together mark on mark, trace it on stencil plastic \
         or prick the lines, and mark the quilt from the middle outward, corner mark on corner mark, with what comes out again: try \
         it on a scrap first. Who cuts a stencil by machine has it in one piece, lines only, in stencil.svg."
    })
}

/// All that is stitched, and the thread.
fn thread(quilt: &Quilt, work: &QuiltingWork) -> Markup {
    let long = |length: Length| match quilt.sheet.ruler {
        Ruler::Inch => format!("{} yd", length.ceil_div(Length::YARD)),
        Ruler::Metric => format!("{} m", length.ceil_div(Length::METRE)),
    };
    figures(&html! {
        "That is about " b { (long(work.stitched)) } " of stitching. By machine it takes two and a half times as much thread, upper and lower \
         together: " b { (long(work.thread)) } ", half of it on bobbins, which makes " (work.bobbins) " of " (long(work.bobbin)) "."
    })
}

/// Whole repeats of half circles at their full size, a drawing for each sheet of paper.
fn stencil(radius: Length) -> Vec<String> {
    let [wide, tall] = STENCIL_SHEET;
    let [across, down] = repeats(radius);
    let sheets =
        |side: Length, room: Length| (0..side.ceil_div(room)).map(move |at| (room * at, (side - room * at).min(room)));
    let mut drawings = Vec::new();
    for (y, height) in sheets(down, tall) {
        for (x, width) in sheets(across, wide) {
            drawings.push(sheet_of([x, y, width, height], radius, [across, down]));
        }
    }
    drawings
}

fn hundredths(count: i64) -> Length {
    Length::inches(count, 100)
}

/// One sheet: the part of the stencil that it shows, a cross at each corner of that, and two squares to measure.
fn sheet_of([x, y, width, height]: [Length; 4], radius: Length, [across, down]: [Length; 2]) -> String {
    let edge = hundredths(25);
    let [sheet_wide, sheet_tall] = SHEET.map(|side| inches(hundredths(side)));
    let mut out = format!(
        "<svg viewBox=\"0 0 {sheet_wide} {sheet_tall}\" style=\"width:{sheet_wide}in;height:{sheet_tall}in\" role=\"img\" aria-label=\"Half circles in rows\">\n\
         <svg x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" viewBox=\"{} {} {} {}\">\n<path d=\"",
        inches(edge),
        inches(edge),
        inches(width),
        inches(height),
        inches(x),
        inches(y),
        inches(width),
        inches(height)
    );
    for row in 0..=down.floor_div(radius) {
        let from = if row % 2 == 0 { Length::ZERO } else { -radius };
        out += &format!("M{},{}", inches(from), inches(radius * row));
        for arc in 1..=(across - from).ceil_div(radius * 2i64) {
            let [r, to, level] = [radius, from + radius * 2i64 * arc, radius * row].map(inches);
            out += &format!("A{r},{r} 0 0 1 {to},{level}");
        }
    }
    out += "\" fill=\"none\" stroke=\"#1d1b18\" stroke-width=\"0.02\"/>\n</svg>\n<path d=\"";
    let arm = hundredths(15);
    for (x, y) in [(edge, edge), (edge + width, edge), (edge, edge + height), (edge + width, edge + height)] {
        let [left, right, up, low] = [x - arm, x + arm, y - arm, y + arm].map(inches);
        let [x, y] = [x, y].map(inches);
        out += &format!("M{left},{y}H{right}M{x},{up}V{low}");
    }
    out += "\" fill=\"none\" stroke=\"#1d1b18\" stroke-width=\"0.01\"/>\n";
    for (x, side, name) in [(hundredths(25), Length::INCH, "1 in"), (hundredths(175), Length::CM * 5i64, "5 cm")] {
        let top = hundredths(690);
        let [x, y, side, middle, level] = [x, top, side, x + side / 2, top + side / 2].map(inches);
        out += &format!(
            "<rect x=\"{x}\" y=\"{y}\" width=\"{side}\" height=\"{side}\" fill=\"none\" stroke=\"#1d1b18\" stroke-width=\"0.01\"/>\n\
             <text x=\"{middle}\" y=\"{level}\">{name}</text>\n"
        );
    }
    out + "</svg>"
}
