//! The finished quilt as it will look, borders and binding on.

use maud::{Markup, PreEscaped, html};

use super::{Quilt, figures, sides};
use crate::fabric::Print;
use crate::finish::{BorderWork, ComeTo, Corners, First, PiecedWork};
use crate::make::Ring;
use crate::measure::Length;
use crate::render::svg;
use crate::render::text::{inches, millionths};

/// The quilt's picture and its size.
pub(super) fn opening(quilt: &Quilt) -> Markup {
    let finishing = &quilt.finishing;
    let with = match (finishing.borders.len(), finishing.binding.is_some()) {
        (0, false) => "",
        (0, true) => "With its binding ",
        (1, false) => "With its border ",
        (_, false) => "With its borders ",
        (1, true) => "With its border and its binding ",
        (_, true) => "With its borders and its binding ",
    };
    let the = if with.is_empty() { "The" } else { "the" };
    html! {
        figure class="quilt" { "\n" (PreEscaped(drawing(quilt))) }
        "\n"
        (figures(&html! { (with) (the) " quilt measures " b { (sides(quilt, finishing.quilt)) }
            @if let Some(ComeTo::Size(wanted)) = &quilt.sheet.plan.request.finish.come_to {
                "; " (sides(quilt, *wanted)) " was asked for"
            }
            "."
        }))
    }
}

fn drawing(quilt: &Quilt) -> String {
    let finishing = &quilt.finishing;
    let [width, height] = finishing.quilt;
    let mut out = format!(
        "<svg viewBox=\"0 0 {} {}\" stroke=\"#1d1b18\" stroke-width=\"{}\" role=\"img\" aria-label=\"The finished quilt\">\n",
        inches(width),
        inches(height),
        inches(width.max(height) / 600),
    );
    let mut at = Length::ZERO;
    let mut corner = [at, at];
    if let (Some(print), Some(work)) = (quilt.cloth.fabrics.binding, &finishing.binding) {
        out += &rect(quilt, print, [at, at], finishing.quilt);
        at = work.finished;
        corner = [at, at];
    }
    let prints = quilt.cloth.fabrics.borders.iter();
    let rings = quilt.cloth.rings.iter();
    for ((work, prints), ring) in finishing.borders.iter().zip(prints).zip(rings).rev() {
        match (&work.pieced, ring) {
            (Some(pieced), Some(ring)) => out += &units(quilt, work, pieced, ring, corner),
            _ => out += &border(quilt, work, work.asked.corners, *prints, corner),
        }
        corner = [corner[0] + work.sides, corner[1] + work.ends];
    }
    out + &scene(quilt, corner) + "</svg>\n"
}

fn rect(quilt: &Quilt, print: Print, [x, y]: [Length; 2], [width, height]: [Length; 2]) -> String {
    format!(
        "<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" fill=\"{}\"/>\n",
        inches(x),
        inches(y),
        inches(width),
        inches(height),
        quilt.sheet.palette.colour(print)
    )
}

/// A border as its seams part it.
fn border(quilt: &Quilt, work: &BorderWork, corners: Corners, [strips, stones]: [Print; 2], at: [Length; 2]) -> String {
    let [x, y] = at;
    let ([width, height], sides, ends) = (work.outer, work.sides, work.ends);
    let mut out = rect(quilt, strips, at, work.outer);
    let mut seam = |from: [Length; 2], to: [Length; 2]| {
        let [[x1, y1], [x2, y2]] = [from, to].map(|point| point.map(inches));
        out += &format!("<path d=\"M{x1},{y1}L{x2},{y2}\" fill=\"none\"/>\n");
    };
    let (left, right) = (x + sides, x + width - sides);
    let (up, down) = (y + ends, y + height - ends);
    match (corners, work.pieces[0].at) {
        (Corners::Mitred, _) => {
            for (from, to) in [
                ([x, y], [left, up]),
                ([x + width, y], [right, up]),
                ([x, y + height], [left, down]),
                ([x + width, y + height], [right, down]),
            ] {
                seam(from, to);
            }
        }
        (Corners::Square, First::Sides) => {
            seam([x, up], [x + width, up]);
            seam([x, down], [x + width, down]);
        }
        (Corners::Square, First::Ends) => {
            seam([left, y], [left, y + height]);
            seam([right, y], [right, y + height]);
        }
        (Corners::Cornerstones, _) => {
            for corner in [[x, y], [right, y], [x, down], [right, down]] {
                out += &rect(quilt, stones, corner, [sides, ends]);
            }
        }
    }
    out
}

/// A pieced border, unit by unit, clockwise from its upper left corner.
fn units(quilt: &Quilt, work: &BorderWork, pieced: &PiecedWork, ring: &Ring, [x, y]: [Length; 2]) -> String {
    let (deep, along, [sides, ends]) = (work.sides, pieced.along, pieced.counts);
    let [width, height] = work.outer;
    let (right, low) = (x + width - deep, y + height - deep);
    // Where it lies, its size, and the edge that it begins at as the ring runs: top, right, bottom, left.
    let mut places = vec![([x, y], [deep; 2], None)];
    places.extend((0..ends).map(|at| ([x + deep + along * at, y], [along, deep], Some(0))));
    places.push(([right, y], [deep; 2], None));
    places.extend((0..sides).map(|at| ([right, y + deep + along * at], [deep, along], Some(1))));
    places.push(([right, low], [deep; 2], None));
    places.extend((0..ends).map(|at| ([right - along * (at + 1), low], [along, deep], Some(2))));
    places.push(([x, low], [deep; 2], None));
    places.extend((0..sides).map(|at| ([x, low - along * (at + 1)], [deep, along], Some(3))));
    let mut out = String::new();
    for ((at, size, edge), print) in places.into_iter().zip(&ring.places) {
        let Some(ground) = ring.ground else {
            out += &rect(quilt, *print, at, size);
            continue;
        };
        out += &rect(quilt, ground, at, size);
        if let Some(edge) = edge {
            let [left, up] = at;
            let (far, down) = (left + size[0], up + size[1]);
            // The inner edge, and from its beginning the edge that goes outward.
            let [from, to, out_to] = [
                [[left, down], [far, down], [left, up]],
                [[left, up], [left, down], [far, up]],
                [[far, up], [left, up], [far, down]],
                [[far, down], [far, up], [left, down]],
            ][edge]
                .map(|point| point.map(inches));
            out += &format!(
                "<path d=\"M{},{}L{},{}L{},{}Z\" fill=\"{}\"/>\n",
                from[0],
                from[1],
                to[0],
                to[1],
                out_to[0],
                out_to[1],
                quilt.sheet.palette.colour(*print)
            );
        }
    }
    out
}

/// The scene as it is drawn in picture.svg.
fn scene(quilt: &Quilt, [x, y]: [Length; 2]) -> String {
    let sheet = quilt.sheet;
    let request = &sheet.plan.request;
    // Its longer side is 900 wide there.
    let scale =
        i128::from(request.width.max(request.height).ticks()) * 1_000_000 / 900 / i128::from(Length::INCH.ticks());
    format!(
        "<g transform=\"translate({} {}) scale({})\" stroke=\"none\">\n{}</g>\n",
        inches(x),
        inches(y),
        millionths(scale),
        svg(sheet.plan, sheet.work, sheet.options)
    )
}
