//! How sizes work, what a seam off the ruler does, and how to work safely.

use maud::{Markup, html};

use super::sheet::{Sheet, note, section as numbered};
use crate::cutting::Size;
use crate::measure::{Length, Ruler};
use crate::render::cautions::{BLADE, IRON, MANUALS, NEEDLE};

/// Sizes, the seam test and the drift.
pub(super) fn section(sheet: &Sheet) -> Markup {
    let seam = sheet.plan.request.seam;
    let body = html! {
        p {
            "A unit is " b { "unfinished" } " while its edges still hold their seam allowances: that is the size to measure \
             on the mat. Once all seams are sewn it is " b { "finished" } ", two seams smaller each way. Sizes are given as \
             width × height, as the unit lies in its row."
        }
        "\n"
        p {
            "This list is worked out for a seam of " (sheet.len(seam.working)) ", so unfinished is finished and "
            (sheet.len(seam.both())) " more. " (seam_test(sheet))
        }
        "\n" (drift(sheet))
    };
    numbered(2, "sizes", "How the sizes work", &body)
}

/// Three strips side by side lose four seam allowances.
fn seam_test(sheet: &Sheet) -> Markup {
    let strip = match sheet.ruler {
        Ruler::Inch => Length::inches(3, 2),
        Ruler::Metric => Length::CM * 4i64,
    };
    let both = sheet.plan.request.seam.both();
    let due = strip * 3i64 - both * 2i64;
    html! {
        @if due > strip {
            b { "Try the seam first:" }
            " sew three scraps, each " (sheet.len(strip)) " wide, side by side, press, and measure across them. They should make "
            (sheet.len(due)) "; the middle one should show " (sheet.len(strip - both))
            ". If they make more, take the seam a thread deeper; if less, a thread shallower."
        }
    }
}

fn drift(sheet: &Sheet) -> Markup {
    let request = &sheet.plan.request;
    if request.seam.measured == request.seam.working {
        return Markup::default();
    }
    let drift = sheet.work.drift;
    let size = |width: Length| {
        let mark = sheet.mark();
        sheet.size(Size { width: width.round_to(mark), height: drift.height.round_to(mark) })
    };
    let between = drift.between_rows();
    let little = between < sheet.mark();
    let body = html! {
        b { "Your seam is " (sheet.len(request.seam.measured)) "." }
        " The nearest that the ruler shows is " (sheet.len(request.seam.working))
        ", and every size here is worked with it, so that each lands on a mark. Sewn with your own seam, the top comes out \
         at about " (size(drift.narrowest + between / 2)) " instead of "
        (sheet.size(Size { width: request.width, height: request.height }))
        ". Rows will differ in width by "
        @if little { "less than " (sheet.len(sheet.mark())) } @else { "about " (sheet.about(between)) }
        ", since a row of more units has more seams"
        @if drift.needs_care() { (care(sheet)) } @else { "; easing and pressing take that up." }
        (columns(sheet))
    };
    note(if drift.needs_care() { "warn" } else { "" }, &body)
}

/// Neighbouring columns of unlike numbers of rows come out unlike in height.
fn columns(sheet: &Sheet) -> Markup {
    let seam = sheet.plan.request.seam;
    let off = (seam.working - seam.measured) * 2i64;
    let rows = |band: &crate::plan::Band| {
        let counts = || band.columns.iter().map(|column| column.rows.len());
        counts().max().unwrap_or(0) - counts().min().unwrap_or(0)
    };
    let most = sheet.plan.bands.iter().map(rows).max().unwrap_or(0);
    let differ = off * i64::try_from(most).unwrap_or(0);
    let differ = if differ < Length::ZERO { Length::ZERO - differ } else { differ };
    html! {
        @if differ >= sheet.mark() {
            " Columns of one band will differ in height by up to " (sheet.about(differ))
            ", since a column of more rows has more seams: measure them before you join them."
        }
    }
}

fn care(sheet: &Sheet) -> Markup {
    html! {
        ". That is too much to ease in: move the needle or the guide until the seam test above comes out right at "
        (sheet.len(sheet.plan.request.seam.working))
        ", or measure each row and take in or let out a seam or two before you join it."
    }
}

/// Cautions from university extension leaflets (North Dakota CB111, Kentucky 4JF-12PB).
pub(super) fn safety() -> Markup {
    let cautions = BLADE.into_iter().chain([IRON, NEEDLE, MANUALS]);
    let list = html! {
        ul class="safety" { "\n" @for caution in cautions { li { (caution) } "\n" } }
        "\n"
    };
    numbered(3, "safety", "Work safely", &list)
}
