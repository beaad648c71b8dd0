//! How sizes work, what a seam off the ruler does, and how to work safely.

use super::sheet::{Sheet, note, section as numbered};
use crate::cutting::Size;
use crate::measure::{Length, Ruler};

/// Sizes, the seam test and the drift.
pub(super) fn section(sheet: &Sheet) -> String {
    let seam = sheet.plan.request.seam;
    let body = format!(
        "<p>A unit is <b>unfinished</b> while its edges still hold their seam allowances: that is the size to measure on \
         the mat. Once all seams are sewn it is <b>finished</b>, two seams smaller each way. Sizes are given as width × \
         height, as the unit lies in its row.</p>\n<p>This list is worked out for a seam of {}, so unfinished is \
         finished and {} more. {}</p>\n{}",
        sheet.len(seam.working),
        sheet.len(seam.both()),
        seam_test(sheet),
        drift(sheet)
    );
    numbered(2, "sizes", "How the sizes work", &body)
}

/// Three strips side by side lose four seam allowances.
fn seam_test(sheet: &Sheet) -> String {
    let strip = match sheet.ruler {
        Ruler::Inch => Length::inches(3, 2),
        Ruler::Metric => Length::CM * 4i64,
    };
    let both = sheet.plan.request.seam.both();
    let due = strip * 3i64 - both * 2i64;
    if due <= strip {
        return String::new();
    }
    format!(
        "<b>Try the seam first:</b> sew three strips of {} side by side, press, and measure across them. They \
         should make {}; the middle strip should show {}. If they make more, take the seam a thread deeper; if less, a thread shallower.",
        sheet.len(strip),
        sheet.len(due),
        sheet.len(strip - both)
    )
}

fn drift(sheet: &Sheet) -> String {
    let request = &sheet.plan.request;
    if request.seam.measured == request.seam.working {
        return String::new();
    }
    let drift = sheet.work.drift;
    let size = |width: Length| {
        let mark = sheet.mark();
        sheet.size(Size { width: width.round_to(mark), height: drift.height.round_to(mark) })
    };
    let between = drift.between_rows();
    let differ = if between < sheet.mark() {
        format!("Rows will differ in width by less than {}", sheet.len(sheet.mark()))
    } else {
        format!("Rows will differ in width by about {}", sheet.about(between))
    };
    let advice = if drift.needs_care() { care(sheet) } else { "; easing and pressing take that up.".into() };
    let body = format!(
        "<b>Your seam is {}.</b> The nearest that the ruler shows is {}, and every size here is worked with it, so that \
         each lands on a mark. Sewn with your own seam, the top comes out at about {} instead of {}. {differ}, since a row \
         of more units has more seams{advice}{}",
        sheet.len(request.seam.measured),
        sheet.len(request.seam.working),
        size(drift.narrowest + between / 2),
        sheet.size(Size { width: request.width, height: request.height }),
        columns(sheet),
    );
    note(if drift.needs_care() { "warn" } else { "" }, &body)
}

/// Neighbouring columns of unlike numbers of rows come out unlike in height.
fn columns(sheet: &Sheet) -> String {
    let seam = sheet.plan.request.seam;
    let off = (seam.working - seam.measured) * 2i64;
    let rows = |band: &crate::plan::Band| {
        let counts = || band.columns.iter().map(|column| column.rows.len());
        counts().max().unwrap_or(0) - counts().min().unwrap_or(0)
    };
    let most = sheet.plan.bands.iter().map(rows).max().unwrap_or(0);
    let differ = off * i64::try_from(most).unwrap_or(0);
    let differ = if differ < Length::ZERO { Length::ZERO - differ } else { differ };
    if differ < sheet.mark() {
        return String::new();
    }
    format!(
        " Columns of one band will differ in height by up to {}, since a column of more rows has more seams: measure \
         them before you join them.",
        sheet.about(differ)
    )
}

fn care(sheet: &Sheet) -> String {
    format!(
        ". That is too much to ease in: move the needle or the guide until the seam test above comes out right at \
         {}, or measure each row and take in or let out a seam or two before you join it.",
        sheet.len(sheet.plan.request.seam.working)
    )
}

/// Cautions from university extension leaflets (North Dakota CB111, Kentucky 4JF-12PB).
pub(super) fn safety() -> String {
    let cautions = [
        "Close the rotary cutter whenever it is not in your hand, and keep it away from children. Young makers cut with \
         an adult beside them.",
        "Cut on a mat, away from your body, with your fingers off the ruler's edge. Wrap old blades before you throw them \
         away.",
        "Stand the iron on its heel on a steady board, its cord out of reach of feet and children, and unplug it after \
         use.",
        "Take each pin out before the needle reaches it.",
        "Follow the makers' manuals of your machine, your cutter and your iron.",
    ];
    let items: String = cautions.iter().map(|text| format!("<li>{text}</li>\n")).collect();
    numbered(3, "safety", "Work safely", &format!("<ul class=\"safety\">\n{items}</ul>\n"))
}
