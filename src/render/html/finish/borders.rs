//! Borders, cut by the middle of the top.

use maud::{Markup, html};

use super::super::sheet::{line, note, table, tick};
use super::{Quilt, figures, sides};
use crate::finish::{Border, BorderWork, Corners, First, Grain, Joins, Pieces};
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
    quilt.sheet.plan.request.finish.borders.iter().any(|border| border.corners == Corners::Mitred)
}

fn each<'a>(quilt: &'a Quilt) -> impl Iterator<Item = (usize, &'a BorderWork, &'a Border)> {
    let asked = &quilt.sheet.plan.request.finish.borders;
    (1..).zip(&quilt.finishing.borders).zip(asked).map(|((number, work), asked)| (number, work, asked))
}

/// What is cut, and joined.
fn strips(quilt: &Quilt) -> Markup {
    let heads = ["Border", "Fabric", "Cut", "Join to"];
    let sheet = quilt.sheet;
    let mut lines = Vec::new();
    for (number, work, asked) in each(quilt) {
        let [strips, stones] = quilt.fabrics.borders[number - 1];
        let joined = |join: Joins| match join {
            Joins::Straight => "with straight seams, pressed open",
            Joins::Bias => "on the diagonal, pressed open",
        };
        for run in &work.runs {
            let cut = html! { (run.count) " of " (sheet.len(run.strip)) " across the cloth" };
            let join = html! {
                @if run.count > 1 { "at least " b { (sheet.len(run.needed)) } ", " (joined(asked.joins)) } @else { "–" }
            };
            lines.push(line(&heads, &[html! { (number) }, sheet.fabric(strips), cut, join]));
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
                First::Ends if asked.corners == Corners::Cornerstones => "top and bottom, with its corners",
                First::Ends => "top and bottom",
            };
            let (along, by) = if pieces.at == First::Sides { (0, work.sides) } else { (1, work.ends) };
            size[along] += by * 2i64;
            let over = if asked.corners == Corners::Mitred { ", mitres over" } else { "" };
            let then = |size: [Length; 2]| html! { b { (sides(quilt, size.map(|side| side + both))) } };
            // Mitres are sewn when all four strips hang on.
            let measures = if asked.corners == Corners::Mitred && at == 0 {
                html! { "–" }
            } else {
                then(size)
            };
            let cells = [
                html! { "Border " (number) ", " (what) },
                html! { "2 of " (piece(quilt, pieces)) (over) },
                measures,
                tick(""),
            ];
            lines.push(line(&heads, &cells));
        }
    }
    table("finish finish-sewn", &heads, &lines)
}
