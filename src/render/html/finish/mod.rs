//! From the top to the quilt: what is sewn on, laid together, quilted and bound.

mod borders;
mod edge;
mod layers;
mod picture;
mod quilting;

use maud::{Markup, html};

use super::sheet::{Sheet, line, section as numbered, table};
use crate::finish::{Finishing, Hang, Run};
use crate::make::{FinishCloth, PartOf};
use crate::measure::Length;
use crate::render::finish_words::{Needed, finishing, needed, offer_words};
use crate::render::markup::listed;
use crate::render::text::count as count_of;

/// What its chapters need.
struct Quilt<'a> {
    sheet: &'a Sheet<'a>,
    finishing: Finishing,
    cloth: FinishCloth,
}

impl Quilt<'_> {
    /// A length that ends on no mark, as far as the last 1/16 in or 1 mm.
    fn about(&self, length: Length) -> Markup {
        let mark = self.sheet.mark();
        self.sheet.len(mark * length.floor_div(mark))
    }

    /// How the strips of a part are cut: across bought cloth, or off what is left, by their lengths.
    fn strips(&self, run: &Run, lots: &[(Length, i64)]) -> Markup {
        let count: i64 = if lots.is_empty() { run.count } else { lots.iter().map(|lot| lot.1).sum() };
        let lot = |(each, count): &(Length, i64)| html! { (count) " of " (self.sheet.len(*each)) };
        html! {
            b { (count_of(count.unsigned_abs(), "strip", "strips")) " of " (self.sheet.len(run.strip)) }
            @if lots.is_empty() || lots.iter().all(|lot| lot.0 == run.each) {
                " across the cloth"
            } @else {
                " off what is left: " (listed(&lots.iter().map(lot).collect::<Vec<_>>())) " long"
            }
        }
    }

    /// The only strips of a part, and their lengths where they come off what is left.
    fn strips_of(&self, what: PartOf) -> Vec<(Length, i64)> {
        self.cloth.strips(what).into_iter().next().map(|(_, lots)| lots).unwrap_or_default()
    }
}

/// Every chapter, in the order in which it is done; nothing where nothing was asked for.
pub(super) fn section(sheet: &Sheet) -> Markup {
    let Some(finishing) = finishing(sheet.plan) else { return Markup::default() };
    let cloth = sheet.work.finish_cloth(sheet.plan, &finishing);
    let quilt = Quilt { sheet, finishing, cloth };
    let body = html! {
        (picture::opening(&quilt))
        (hang(&quilt))
        @if let Some(offer) = offer_words(sheet.plan) { (figures(&html! { "It would come out more evenly " (offer) "." })) }
        (borders::chapter(&quilt))
        (layers::chapter(&quilt))
        (edge::chapter(&quilt))
    };
    numbered(8, "finishing", "Finish the quilt", &body)
}

/// A paragraph with numbers.
fn figures(body: &Markup) -> Markup {
    html! { p class="figures" { (body) } "\n" }
}

/// Two sides with one unit.
fn sides(quilt: &Quilt, [width, height]: [Length; 2]) -> Markup {
    let ruler = quilt.sheet.ruler;
    html! { span class="n" { (ruler.number(width)) " × " (ruler.show(height)) } }
}

/// How the quilt lies on its bed.
fn hang(quilt: &Quilt) -> Markup {
    let Some(Hang { bed, sides: at_sides, foot }) = &quilt.finishing.hang else { return Markup::default() };
    let zero = Length::ZERO;
    let len = |length: Length| quilt.sheet.len(length.abs());
    let verb = |length: Length| if length < zero { "falls short by " } else { "hangs " };
    let (first, again) = (verb(*at_sides), verb(*foot));
    let covers = quilt.finishing.hang.as_ref().and_then(Hang::covers);
    figures(&html! {
        "On a mattress of " (sides(quilt, [bed.width, bed.length])) " it " (first) (len(*at_sides))
        " at each side and " @if again != first { (again) } (len(*foot)) " at the foot, and nothing hangs at the head."
        @if bed.tuck > zero { " " (len(bed.tuck)) " goes under the pillow." }
        @if let (Some(depth), Some(covers)) = (bed.depth, covers) {
            " The mattress is " (len(depth)) " deep: "
            @if covers { "all of it is covered." } @else { "its lower edge shows." }
        }
    })
}

/// What to buy for it, beside what the top takes; nothing where nothing was asked for.
pub(super) fn needs(sheet: &Sheet) -> Markup {
    let heads = ["For", "Fabric", "Cut of it", "Buy"];
    let needed = finishing(sheet.plan).map(|finishing| needed(sheet.plan, sheet.work, &finishing)).unwrap_or_default();
    if needed.is_empty() {
        return Markup::default();
    }
    let of = |needed: &Needed| match needed.fabric {
        Some(print) => sheet.fabric(print),
        None if needed.part == "Batting" => html! { "–" },
        None => html! { "cloth of your choice" },
    };
    let cells =
        |needed: &Needed| [html! { (needed.part) }, of(needed), html! { (needed.cut) }, html! { b { (needed.buy) } }];
    let lines: Vec<Markup> = needed.iter().map(|needed| line(&heads, &cells(needed))).collect();
    html! {
        div {
            "\n" h3 { "To finish the quilt" } "\n"
            (table("finish finish-needs", &heads, &lines))
            p class="fine" {
                "This is beside what stands above, and lengths have as much over them as those; of one fabric, buy them in one piece. \
                 What comes off what is left is cut when the top is, in the order of these lines."
            }
            "\n"
        }
        "\n"
    }
}
