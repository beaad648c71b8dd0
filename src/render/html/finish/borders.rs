//! Borders, cut by the middle of the top.

use maud::{Markup, html};

use super::super::sheet::{line, note, table, tick};
use super::{Quilt, figures, sides};
use crate::finish::{Border, BorderUnits, BorderWork, Corners, First, Grain, Joins, PiecedWork, Pieces};
use crate::make::{PartCut, PartOf};
use crate::measure::Length;

pub(super) fn chapter(quilt: &Quilt) -> Markup {
    if quilt.finishing.borders.is_empty() {
        return Markup::default();
    }
    let both = quilt.sheet.plan.request.seam.both();
    let request = &quilt.sheet.plan.request;
    let unfinished = [request.width + both, request.height + both];
    html! {
        h3 { "Measure the top" } "\n"
        (figures(&html! {
            "Press the top, lay it flat and measure it from raw edge to raw edge through its middle, both ways: about "
            b { (sides(quilt, unfinished)) } "."
        }))
        p {
            "Edges stretch while they are handled, the middle does not. Cut every pair of border strips by what you measure \
             through the middle, not by the edge and not by these tables: they say what it should be."
        }
        "\n"
        h3 { "Borders" } "\n"
        (strips(quilt))
        @for (number, work, _) in each(quilt) { @if let Some(units) = &work.pieced { (pieced(quilt, number, work, units)) } }
        (rows(quilt))
        (sewn(quilt))
        ol {
            "\n" li { "Mark the middle and the quarters of each strip and of the edge that it goes on, and pin mark to mark." }
            "\n" li { "Ease what is over between the pins, the fuller side down on the machine. Do not stretch either." }
            "\n" li { "Sew with the scene on top, so that you see its seams lie as they were pressed. Press to the border." }
            "\n" li { "Measure through the middle again before the next pair." }
            @if mitred(quilt) {
                "\n"
                li {
                    "For a mitre, pin the middle of a strip to the middle of its edge and let the ends hang over alike. Begin and \
                     end each seam one seam allowance from the corner. Fold the corner so that the strips lie on one another, \
                     draw the diagonal from the last stitch on, sew along it outward, look at it from the front, and only \
                     then trim."
                }
            }
            "\n"
        }
        "\n"
        (note("", &html! {
            "The blade of a rotary cutter is sharp: close it whenever it leaves your hand, cut away from yourself, and follow its \
             maker's manual."
        }))
    }
}

fn mitred(quilt: &Quilt) -> bool {
    quilt.finishing.borders.iter().any(|border| border.pieced.is_none() && border.asked.corners == Corners::Mitred)
}

fn each<'a>(quilt: &'a Quilt) -> impl Iterator<Item = (usize, &'a BorderWork, &'a Border)> {
    (1..).zip(&quilt.finishing.borders).map(|(number, work)| (number, work, &work.asked))
}

/// What is cut, and joined.
fn strips(quilt: &Quilt) -> Markup {
    let heads = ["Border", "Fabric", "Cut", "Join to"];
    let sheet = quilt.sheet;
    let mut lines = Vec::new();
    for (number, work, asked) in each(quilt) {
        if work.pieced.is_some() {
            lines.extend(cut_units(quilt, number).iter().map(|cells| line(&heads, cells)));
            continue;
        }
        let [strips, stones] = quilt.cloth.fabrics.borders[number - 1];
        let joined = |join: Joins| match join {
            Joins::Straight => "with straight seams, pressed open",
            Joins::Bias => "on the diagonal, pressed open",
        };
        for (run, lots) in quilt.cloth.strips(PartOf::Border(number - 1)) {
            let single =
                lots.iter().map(|lot| lot.1).sum::<i64>().max(if lots.is_empty() { run.count } else { 0 }) == 1;
            let join = html! {
                @if single { "–" } @else { "at least " b { (sheet.len(run.needed)) } ", " (joined(asked.joins)) }
            };
            lines.push(line(&heads, &[html! { (number) }, sheet.fabric(strips), quilt.strips(&run, &lots), join]));
        }
        if asked.strips == Grain::Along {
            let [one, other] = work.pieces;
            let cut = html! { "2 of " (piece(quilt, one)) ", 2 of " (piece(quilt, other)) ", along the cloth" };
            lines.push(line(&heads, &[html! { (number) }, sheet.fabric(strips), cut, html! { "–" }]));
        }
        if let Some(stones_work) = &work.cornerstones {
            let cut = html! { "4 of " (sides(quilt, stones_work.cut)) };
            lines.push(line(&heads, &[html! { (number) ", corners" }, sheet.fabric(stones), cut, html! { "–" }]));
        }
    }
    table("finish finish-strips", &heads, &lines)
}

/// What the units of a pieced border are cut to, fabric by fabric.
fn cut_units(quilt: &Quilt, number: usize) -> Vec<[Markup; 4]> {
    let parts = quilt.cloth.parts.iter().filter_map(|part| match (part.what, part.cut, part.fabric) {
        (PartOf::Units(at), PartCut::Pieces { size, count }, Some(fabric)) if at + 1 == number => {
            Some((false, fabric, size, count))
        }
        (PartOf::Corners(at), PartCut::Pieces { size, count }, Some(fabric)) if at + 1 == number => {
            Some((true, fabric, size, count))
        }
        _ => None,
    });
    let cells = |(corners, fabric, size, count)| {
        [
            html! { (number) @if corners { ", corners" } },
            quilt.sheet.fabric(fabric),
            html! { (count) " of " (sides(quilt, size)) },
            html! { "–" },
        ]
    };
    parts.map(cells).collect()
}

/// How the units of a pieced border are made and laid.
fn pieced(quilt: &Quilt, number: usize, work: &BorderWork, units: &PiecedWork) -> Markup {
    let sheet = quilt.sheet;
    let spacer =
        number.checked_sub(2).and_then(|inside| quilt.finishing.borders.get(inside)).filter(|inside| inside.evens);
    let [at_sides, at_ends] = units.counts;
    let name = match units.units {
        BorderUnits::Squares => "squares",
        BorderUnits::Rectangles => "rectangles",
        BorderUnits::Triangles => "triangle units",
    };
    html! {
        (figures(&html! {
            "Border " (number) " is pieced of " (name) " that finish " (sides(quilt, [units.along, work.sides])) ": " b { (at_sides) }
            " at each side, " b { (at_ends) } " at the top and at the bottom, and a square in each corner. "
            @if let Some(spacer) = spacer {
                "It comes out even because border " (number - 1) " inside it is " (sheet.len(spacer.sides)) " at the sides and "
                (sheet.len(spacer.ends)) " at the top and the bottom. "
            } @else {
                "It comes out even as it is, without a plain border inside it. "
            }
            @if let Some(side) = units.pair {
                "Sew its units two at a time of pairs of squares of " (sheet.len(side)) ": draw a diagonal, sew "
                (sheet.len(sheet.plan.request.seam.working)) " to both sides of it, cut along it, press to the darker fabric and trim each to "
                (sides(quilt, units.cut)) ". "
                @if let Some(ground) = quilt.cloth.rings[number - 1].as_ref().and_then(|ring| ring.ground) {
                    "Its rows say what the triangles along the inner edge are of; the others and the corners are of "
                    (sheet.plan.fabrics[ground].letter) ". "
                }
            }
            "Sew the units of each row together in their order, pressing all seams of a row one way, and the two rows at the sides on first."
        }))
        (figures(&html! {
            "A row of many seams is soon longer or shorter than it should be: measure it. Where it is off by a little, take some of its seams a \
             thread deeper or shallower, and ease the rest as you pin; where it is off by more, measure units before you unpick."
        }))
    }
}

/// The units of each row in their order.
fn rows(quilt: &Quilt) -> Markup {
    let heads = ["Row", "Units in their order"];
    let mut lines = Vec::new();
    for (number, work, _) in each(quilt) {
        let (Some(units), Some(ring)) = (&work.pieced, &quilt.cloth.rings[number - 1]) else { continue };
        let [_, upper, lower, last] = units.corners();
        let all = ring.places.len();
        let row = |name: &str, places: Vec<usize>| {
            let letters: Vec<&str> =
                places.into_iter().map(|at| quilt.sheet.plan.fabrics[ring.places[at % all]].letter.as_str()).collect();
            line(&heads, &[html! { "Border " (number) ", " (name) }, html! { (letters.join(" ")) }])
        };
        lines.push(row("left side, from the top down", (last + 1..all).rev().collect()));
        lines.push(row("right side, from the top down", (upper + 1..lower).collect()));
        lines.push(row("top, from the left, corners with it", (0..=upper).collect()));
        lines.push(row("bottom, from the left, corners with it", (lower..=last).rev().collect()));
    }
    html! { @if !lines.is_empty() { (table("finish finish-units", &heads, &lines)) } }
}

fn piece(quilt: &Quilt, pieces: Pieces) -> Markup {
    sides(quilt, [pieces.strip, pieces.length])
}

/// What is sewn on, in its order, and what the top then measures.
fn sewn(quilt: &Quilt) -> Markup {
    let heads = ["Sew on", "Cut to", "Then the top measures", "Done"];
    let both = quilt.sheet.plan.request.seam.both();
    let mut lines = Vec::new();
    for (number, work, asked) in each(quilt) {
        let mut size = work.inner;
        for (at, pieces) in work.pieces.into_iter().enumerate() {
            let what = match pieces.at {
                First::Sides => "both sides",
                First::Ends if asked.corners == Corners::Cornerstones || work.pieced.is_some() => {
                    "top and bottom, with its corners"
                }
                First::Ends => "top and bottom",
            };
            let (along, by) = if pieces.at == First::Sides { (0, work.sides) } else { (1, work.ends) };
            size[along] += by * 2i64;
            let over = if asked.corners == Corners::Mitred { ", mitres over" } else { "" };
            let then = |size: [Length; 2]| html! { b { (sides(quilt, size.map(|side| side + both))) } };
            // Mitres are sewn when all four strips hang on.
            let is_mitred = work.pieced.is_none() && asked.corners == Corners::Mitred;
            let measures = if is_mitred && at == 0 {
                html! { "–" }
            } else {
                then(size)
            };
            let cut = match &work.pieced {
                Some(units) => html! { "2 rows of " (units.counts[at] + 2 * at as i64) },
                None => html! { "2 of " (piece(quilt, pieces)) (over) },
            };
            let cells = [html! { "Border " (number) ", " (what) }, cut, measures, tick("")];
            lines.push(line(&heads, &cells));
        }
    }
    table("finish finish-sewn", &heads, &lines)
}
