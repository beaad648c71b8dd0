//! How triangle units are made, with a small drawing for each method.

use std::collections::BTreeSet;

use maud::{Markup, PreEscaped, html};

use super::cutting::along;
use super::sheet::{Sheet, note};
use crate::cutting::Batch;
use crate::plan::Pressing;
use crate::render::method_words::{BIAS, Method, TRIMMING};
use crate::render::text::{capital, px};
use crate::unit::{AtATime, Diagonal};

/// The methods that this scene uses, then trimming, then cutting strips off.
pub(super) fn how_to(sheet: &Sheet) -> Markup {
    let used: BTreeSet<AtATime> =
        sheet.work.batches.iter().filter(|batch| batch.pairs > 0).map(|batch| batch.at_a_time).collect();
    html! {
        h3 { "How to make them" }
        "\n"
        @for method in used { (card(sheet, method)) }
        (upright(sheet))
        (trimming())
        (strips(sheet))
        (note("fine", &html! { "In the drawings, dashes are sewn and heavy lines are cut." }))
    }
}

fn card(sheet: &Sheet, method: AtATime) -> Markup {
    let seam = sheet.len(sheet.plan.request.seam.working);
    let press = match sheet.plan.request.pressing {
        Pressing::Side => "Press to the darker fabric, which its line names.",
        Pressing::Open => "Press the seam open.",
    };
    let how = Method::of(method);
    let words = match method {
        AtATime::Two => html! { (how.lay) ". Sew " (seam) " " (how.sew) ", then " (how.cut) ". " (press) },
        AtATime::Four => html! {
            (how.lay) " and sew " (seam) " " (how.sew) ". " (capital(how.cut)) ". "
            b { (BIAS.0) } " " (BIAS.1) " " (press)
        },
        AtATime::Eight => html! { (how.lay) ". Sew " (seam) " " (how.sew) ". " (capital(how.cut)) ". " (press) },
    };
    let title = capital(method.words());
    let text = html! { p { (words) } "\n" ul class="gives" { @for size in sizes(sheet, method) { (size) } } };
    entry(&title, &drawing(method), &text)
}

/// How squares are laid whose print stands upright in the top, then each way that they are sewn for that.
fn upright(sheet: &Sheet) -> Markup {
    let laid = || sheet.work.batches.iter().filter(|batch| batch.pairs > 0).filter_map(|batch| batch.upright);
    let mut diagonals: Vec<Option<Diagonal>> = laid().map(|upright| upright.diagonal).collect();
    diagonals.sort_unstable();
    diagonals.dedup();
    if diagonals.is_empty() {
        return Markup::default();
    }
    let words = html! {
        p {
            "Where the table says how a pair's squares lie, a print of it stands upright in the top. Lay the lower square face \
             up, its top away from you, and the other on it, face down. Draw the line, or both, on the back of the upper \
             square, lighter or darker; sew and cut as above. When a unit is opened, the lower print stands as it lay; the \
             upper one is mirrored across the seam."
            @if laid().any(|upright| upright.both) {
                " So where both prints stand, the upper square is laid on its side, its top to the left or to the right."
            }
            @if laid().any(|upright| !upright.both) {
                " Where only the lower one stands, the upper may lie any way."
            }
            " The arrow beside a drawing shows where the lower print's top is"
            @if laid().any(|upright| upright.both) { ", the arrow on it where the upper print's is" }
            "."
        }
        p {
            b { "Do not turn these units to fit another place:" }
            " keep them apart by the corner that the first fabric is in. While you trim them you may turn them; the print shows \
             which way up they go."
        }
    };
    html! {
        (entry("Prints that stand upright", &lies(&[], None), &words))
        @for diagonal in diagonals {
            @let both = diagonal.filter(|_| laid().any(|upright| upright.diagonal == diagonal && upright.both));
            (entry(&capital(along(diagonal)), &lies(lines(diagonal), both), &gives_so(diagonal, both)))
        }
    }
}

/// What the pairs of one diagonal give, or of both.
fn gives_so(diagonal: Option<Diagonal>, both: Option<Diagonal>) -> Markup {
    let words = match diagonal.map(Diagonal::corners) {
        Some([one, other]) => format!(
            "A pair gives a unit with the lower print in the {} and one with it in the {}.",
            one.words(),
            other.words()
        ),
        None => "A pair gives two units for each corner that the lower print is in.".to_owned(),
    };
    let top = both.map(|diagonal| {
        format!(" Where both prints stand, the top of the upper one is to the {}.", diagonal.upper_end())
    });
    html! { p { (words) (top.unwrap_or_default()) } }
}

/// The lines that a pair is sewn along.
fn lines(diagonal: Option<Diagonal>) -> &'static [Diagonal] {
    match diagonal {
        Some(Diagonal::Rising) => &[Diagonal::Rising],
        Some(Diagonal::Falling) => &[Diagonal::Falling],
        None => &Diagonal::ALL,
    }
}

/// A drawing with its heading and text beside it.
fn entry(title: &str, drawing: &Markup, text: &Markup) -> Markup {
    html! {
        div class="card" {
            "\n" (drawing)
            "\n" div { "\n" h4 { (title) } "\n" (text) "\n" }
            "\n"
        }
        "\n"
    }
}

/// What each square gives by this method, once.
fn sizes(sheet: &Sheet, method: AtATime) -> Vec<Markup> {
    let batches = sheet.work.batches.iter().filter(|batch| batch.at_a_time == method && batch.pairs > 0);
    let mut seen: Vec<&Batch> = Vec::new();
    for batch in batches {
        if !seen.iter().any(|other| (other.square, other.finished) == (batch.square, batch.finished)) {
            seen.push(batch);
        }
    }
    seen.into_iter().map(|batch| gives(sheet, batch)).collect()
}

fn gives(sheet: &Sheet, batch: &Batch) -> Markup {
    let request = &sheet.plan.request;
    let exact = batch.at_a_time.exact_unfinished(batch.square.cut, request.seam.working);
    let mark = sheet.mark();
    let rough = mark * exact.floor_div(mark);
    html! {
        li {
            @if batch.square.quartered && !request.cut_squares { "Quarter a square of " (sheet.len(batch.square.bought())) " first. " }
            "From squares of " (sheet.len(batch.square.cut)) " they "
            @if rough > batch.trimmed { "come out near " (sheet.len(rough)) ": " }
            "trim to " b { (sheet.len(batch.trimmed)) }
            ". They finish at " (sheet.len(batch.finished)) " (" (batch.size) ")."
        }
    }
}

fn trimming() -> Markup {
    let ruler = "<path class=\"thin\" d=\"M22 2H114V94H22Z\"/><path class=\"soft\" d=\"M28 8H108V88H28Z\"/>\
                 <path class=\"sewn\" d=\"M28 88L108 8\"/><path class=\"cut\" d=\"M28 8H108V88\"/>";
    let words = html! {
        p {
            (TRIMMING)
        }
    };
    entry("Trim to size", &figure(ruler), &words)
}

/// Only where some unit has a strip cut off.
fn strips(sheet: &Sheet) -> Markup {
    let units = || sheet.work.rows.iter().flat_map(|row| &row.units);
    if units().all(|unit| unit.strip.is_none()) {
        return Markup::default();
    }
    let body = "<path class=\"soft\" d=\"M28 8H108V88H28Z\"/><path class=\"sewn\" d=\"M28 88L108 8\"/>\
                <path class=\"ghost\" d=\"M28 8H52V88H28Z\"/><path class=\"cut\" d=\"M52 2V94\"/>";
    let words = html! {
        p {
            "First trim the unit to size, then turn it as its row's table shows. Measure the strip from the raw edge on \
             the side named, and cut. A " b { "trimmed" } " unit is what remains; a " b { "slice" }
            " is the strip itself. Keep what is left over with the spare units."
        }
    };
    entry("Cut a strip off", &figure(body), &words)
}

/// A drawing of lines that hold numbers and no words.
fn figure(lines: &str) -> Markup {
    html! {
        svg class="how" xmlns="http://www.w3.org/2000/svg" viewBox="0 0 136 96" aria-hidden="true" {
            (PreEscaped(lines))
        }
    }
}

/// A pair of squares with its lines, an arrow beside it to the lower print's top, and one on it to the upper's.
fn lies(lines: &[Diagonal], both: Option<Diagonal>) -> Markup {
    let line = |diagonal: &Diagonal| match diagonal {
        Diagonal::Rising => "<path class=\"cut\" d=\"M24 92L112 4\"/>",
        Diagonal::Falling => "<path class=\"cut\" d=\"M24 4L112 92\"/>",
    };
    let lines: String = lines.iter().map(line).collect();
    let below = "<path class=\"thin\" d=\"M12 84V12M6 20L12 10L18 20\"/>";
    let above = match both {
        Some(Diagonal::Rising) => "<path class=\"thin\" d=\"M64 78H104M96 72L106 78L96 84\"/>",
        Some(Diagonal::Falling) => "<path class=\"thin\" d=\"M72 78H32M40 72L30 78L40 84\"/>",
        None => "",
    };
    figure(&format!("<path class=\"soft\" d=\"M24 4H112V92H24Z\"/>{lines}{below}{above}"))
}

/// The pair of squares with its lines, seams and cuts.
pub(in crate::render) fn drawing(method: AtATime) -> Markup {
    let square = "<path class=\"soft\" d=\"M24 4H112V92H24Z\"/>";
    let (left, right, top, bottom, off) = (24.0, 112.0, 4.0, 92.0, 7.0);
    let rising = |class: &str, d: f64| {
        let from = (px(left + d.max(0.0)), px(bottom - (-d).max(0.0)));
        let to = (px(right - (-d).max(0.0)), px(top + d.max(0.0)));
        format!("<path class=\"{class}\" d=\"M{} {}L{} {}\"/>", from.0, from.1, to.0, to.1)
    };
    let falling = |class: &str, d: f64| {
        let from = (px(left + d.max(0.0)), px(top + (-d).max(0.0)));
        let to = (px(right - (-d).max(0.0)), px(bottom - d.max(0.0)));
        format!("<path class=\"{class}\" d=\"M{} {}L{} {}\"/>", from.0, from.1, to.0, to.1)
    };
    let lines = match method {
        AtATime::Two => rising("sewn", off) + &rising("sewn", -off) + &rising("cut", 0.0),
        AtATime::Four => {
            "<path class=\"sewn\" d=\"M31 11H105V85H31Z\"/>".to_owned() + &rising("cut", 0.0) + &falling("cut", 0.0)
        }
        AtATime::Eight => {
            let seams = [off, -off].map(|d| rising("sewn", d) + &falling("sewn", d)).concat();
            let cuts = "<path class=\"cut\" d=\"M68 4V92M24 48H112\"/>";
            seams + cuts + &rising("cut", 0.0) + &falling("cut", 0.0)
        }
    };
    figure(&format!("{square}{lines}"))
}
