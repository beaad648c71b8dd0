//! How fabrics are told apart without colour: on paper each has a hatching of its own.

use std::fmt::Write;

use maud::{Markup, PreEscaped, html};

use crate::fabric::Print;
use crate::render::palette::Palette;
use crate::render::text::px;

type Point = (f64, f64);

/// Between two lines, in pixels, and how thick they are: each in turn once all kinds are used.
const STEPS: [(f64, f64); 9] =
    [(5.0, 0.6), (8.0, 1.2), (3.6, 0.4), (7.0, 2.0), (11.0, 0.6), (4.4, 1.0), (6.0, 0.3), (10.0, 2.6), (13.0, 1.3)];
/// Which way lines run (across and down by which their distance is measured), and how they are broken.
const KINDS: [(&[(f64, f64)], &str); 8] = [
    (&[(1.0, 1.0)], ""),
    (&[(0.0, 1.0)], ""),
    (&[(1.0, -1.0)], ""),
    (&[(1.0, 0.0)], ""),
    (&[(1.0, 1.0), (1.0, -1.0)], ""),
    (&[(0.0, 1.0)], "1.2 2.4"),
    (&[(1.0, 0.0), (0.0, 1.0)], ""),
    (&[(1.0, -1.0)], "4 2"),
];

/// The class that paints a patch.
pub(super) fn face(fabric: Print) -> String {
    format!("f{}", fabric.0)
}

/// The class of letters on it.
pub(super) fn letter(fabric: Print) -> String {
    format!("t{}", fabric.0)
}

fn kind(fabric: Print) -> (&'static [(f64, f64)], &'static str, f64, f64) {
    let (ways, dashes) = KINDS[fabric.0 % KINDS.len()];
    let (step, thick) = STEPS[fabric.0 / KINDS.len() % STEPS.len()];
    (ways, dashes, step, thick)
}

/// How patches, their hatching and their letters look; letters keep a rim of plain colour.
pub(super) fn style(palette: &Palette, prints: impl Iterator<Item = Print>) -> String {
    let mut style = String::new();
    for fabric in prints {
        let (colour, ink, (_, dashes, _, thick)) = (palette.colour(fabric), palette.ink(fabric), kind(fabric));
        let (face, letter) = (face(fabric), letter(fabric));
        let _ = writeln!(
            style,
            ".{face} {{ fill: {colour}; }} .{letter} {{ fill: {ink}; stroke: {colour}; }} \
             .h{} {{ stroke: {ink}; stroke-width: {thick}; stroke-dasharray: {}; }}",
            fabric.0,
            if dashes.is_empty() { "none" } else { dashes },
        );
    }
    style
}

/// The hatching of patches of one fabric, which are convex.
pub(super) fn lines<'a>(fabric: Print, patches: impl Iterator<Item = &'a [Point]>) -> Markup {
    let (ways, _, step, _) = kind(fabric);
    let mut drawn = String::new();
    for patch in patches {
        for way in ways {
            across(patch, *way, step, &mut drawn);
        }
    }
    html! { @if !drawn.is_empty() { (PreEscaped(format!("<path class=\"hatch h{}\" d=\"{drawn}\"/>", fabric.0))) } }
}

/// Lines of one direction across a convex patch.
fn across(patch: &[Point], way: Point, step: f64, drawn: &mut String) {
    // Lines that run at 45 degrees lie closer than their distances along an edge.
    let step = if way.0 * way.1 == 0.0 { step } else { step * std::f64::consts::SQRT_2 };
    let depth = |point: &Point| point.0 * way.0 + point.1 * way.1;
    let (least, most) =
        patch.iter().map(depth).fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), d| (a.min(d), b.max(d)));
    if !(most - least).is_finite() {
        return;
    }
    let mut line = (least / step).floor() + 0.5;
    while line * step < most {
        let at = line * step;
        let mut ends: Vec<Point> = Vec::new();
        for (one, two) in patch.iter().zip(patch.iter().cycle().skip(1)) {
            let (a, b) = (depth(one) - at, depth(two) - at);
            if (a < 0.0) != (b < 0.0) {
                let t = a / (a - b);
                ends.push((one.0 + (two.0 - one.0) * t, one.1 + (two.1 - one.1) * t));
            }
        }
        if let [from, to] = ends[..] {
            let _ = write!(drawn, "M{} {}L{} {}", px(from.0), px(from.1), px(to.0), px(to.1));
        }
        line += 1.0;
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;

    /// More fabrics than these are told apart by their letters.
    #[test]
    fn each_fabric_has_a_hatching_of_its_own() {
        let look = |fabric| {
            let (ways, dashes, step, thick) = kind(Print(fabric));
            format!("{ways:?} {dashes} {step} {thick}")
        };
        assert_eq!((0..72).map(look).collect::<BTreeSet<_>>().len(), 72);
    }

    /// A square of 10 with lines each 5 across: at 2.5 and 7.5.
    #[test]
    fn lines_end_at_the_edges() {
        let mut drawn = String::new();
        across(&[(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0)], (1.0, 0.0), 5.0, &mut drawn);
        assert_eq!(drawn, "M2.5 0L2.5 10M7.5 0L7.5 10");
        let mut drawn = String::new();
        across(&[(0.0, 0.0), (10.0, 0.0), (0.0, 10.0)], (0.0, 1.0), 20.0, &mut drawn);
        assert!(drawn.is_empty());
    }
}
