//! The finished quilt as it will look, borders and binding on.

use maud::{Markup, PreEscaped, html};

use super::{Quilt, figures, sides};
use crate::fabric::Print;
use crate::finish::{BorderWork, ComeTo, Corners, First};
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
    if let (Some(print), Some(work)) = (quilt.fabrics.binding, &finishing.binding) {
        out += &rect(quilt, print, [at, at], finishing.quilt);
        at = work.finished;
        corner = [at, at];
    }
    let prints = quilt.fabrics.borders.iter();
    for (number, (work, prints)) in finishing.borders.iter().zip(prints).enumerate().rev() {
        out += &border(quilt, work, quilt.sheet.plan.request.finish.borders[number].corners, *prints, corner);
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
