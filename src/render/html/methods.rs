//! How triangle units are made, with a small drawing for each method.

use std::collections::BTreeSet;

use super::sheet::{Sheet, note};
use crate::cutting::Batch;
use crate::render::text::px;
use crate::unit::AtATime;

/// The methods that this scene uses, then trimming, then cutting strips off.
pub(super) fn how_to(sheet: &Sheet) -> String {
    let used: BTreeSet<AtATime> = sheet.work.batches.iter().map(|batch| batch.at_a_time).collect();
    let cards: String = used.into_iter().map(|method| card(sheet, method)).collect();
    format!(
        "<h3>How to make them</h3>\n{cards}{}{}{}",
        trimming(),
        strips(sheet),
        note("fine", "In the drawings, dashes are sewn and heavy lines are cut.")
    )
}

fn card(sheet: &Sheet, method: AtATime) -> String {
    let seam = sheet.len(sheet.plan.request.seam.working);
    let words = match method {
        AtATime::Two => format!(
            "Lay the two squares right sides together. Draw one diagonal on the back of the lighter one. Sew {seam} from the \
             line on each side of it, then cut on the line. Press to the darker fabric."
        ),
        AtATime::Four => format!(
            "Starch the squares. Lay them right sides together and sew {seam} inside the edge all the way round. Cut on both \
             diagonals. <b>All outer edges of these units are on the bias:</b> press to the darker fabric without steam, \
             straight up and down, and handle them little until they are sewn."
        ),
        AtATime::Eight => format!(
            "Lay the squares right sides together. Draw both diagonals on the back of the lighter one. Sew {seam} from each \
             line on both sides of it. Cut in half both ways through the middle, then on the drawn lines. Press to the \
             darker fabric."
        ),
    };
    let name = method.words();
    let title = format!("{}{}", name[..1].to_uppercase(), &name[1..]);
    let gives = format!("<ul class=\"gives\">{}</ul>", sizes(sheet, method).concat());
    entry(&title, &drawing(method), &format!("<p>{words}</p>\n{gives}"))
}

/// A drawing with its heading and text beside it.
fn entry(title: &str, drawing: &str, text: &str) -> String {
    format!("<div class=\"card\">\n{drawing}\n<div>\n<h4>{title}</h4>\n{text}\n</div>\n</div>\n")
}

/// What each square gives by this method, once.
fn sizes(sheet: &Sheet, method: AtATime) -> Vec<String> {
    let batches = sheet.work.batches.iter().filter(|batch| batch.at_a_time == method);
    let mut seen: Vec<&Batch> = Vec::new();
    for batch in batches {
        if !seen.iter().any(|other| (other.square, other.finished) == (batch.square, batch.finished)) {
            seen.push(batch);
        }
    }
    seen.into_iter().map(|batch| gives(sheet, batch)).collect()
}

fn gives(sheet: &Sheet, batch: &Batch) -> String {
    let request = &sheet.plan.request;
    let exact = batch.at_a_time.exact_unfinished(batch.square.cut, request.seam.working);
    let mark = sheet.mark();
    let rough = mark * exact.floor_div(mark);
    let about = if rough > batch.trimmed { format!("come out near {}: trim", sheet.len(rough)) } else { "trim".into() };
    let quarter = if batch.square.quartered {
        format!("Quarter a square of {} first. ", sheet.len(batch.square.bought()))
    } else {
        String::new()
    };
    format!(
        "<li>{quarter}From squares of {} they {about} to <b>{}</b>. They finish at {} ({}).</li>",
        sheet.len(batch.square.cut),
        sheet.len(batch.trimmed),
        sheet.len(batch.finished),
        batch.size
    )
}

fn trimming() -> String {
    let ruler = "<path class=\"thin\" d=\"M22 2H114V94H22Z\"/><path class=\"soft\" d=\"M28 8H108V88H28Z\"/>\
                 <path class=\"sewn\" d=\"M28 88L108 8\"/><path class=\"cut\" d=\"M28 8H108V88\"/>";
    let words = "<p>Lay the ruler's 45-degree line on the seam, so that the unit reaches a little past the trimmed size on \
                 every side. Cut two sides. Turn the unit round, set the ruler's marks for the size on the cut edges, and \
                 cut the other two. Snip off the points that stick out.</p>";
    entry("Trim to size", &figure(ruler), words)
}

/// Only where some unit has a strip cut off.
fn strips(sheet: &Sheet) -> String {
    let units = || sheet.work.rows.iter().flat_map(|row| &row.units);
    if units().all(|unit| unit.strip.is_none()) {
        return String::new();
    }
    let body = "<path class=\"soft\" d=\"M28 8H108V88H28Z\"/><path class=\"sewn\" d=\"M28 88L108 8\"/>\
                <path class=\"ghost\" d=\"M28 8H52V88H28Z\"/><path class=\"cut\" d=\"M52 2V94\"/>";
    let words = "<p>First trim the unit to size, then turn it as its row's table shows. Measure the strip from the \
                 raw edge on the side named, and cut. A <b>trimmed</b> unit is what remains; a <b>slice</b> is the strip \
                 itself. Keep what is left over with the spare units.</p>";
    entry("Cut a strip off", &figure(body), words)
}

fn figure(body: &str) -> String {
    format!(
        "<svg class=\"how\" xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 136 96\" aria-hidden=\"true\">{body}</svg>"
    )
}

/// The pair of squares with its lines, seams and cuts.
fn drawing(method: AtATime) -> String {
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
