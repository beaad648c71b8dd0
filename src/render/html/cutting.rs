//! Squares to pair and fillers to cut.

use super::sheet::{Sheet, line, section as numbered, table, tick};
use super::{cloth, methods};
use crate::cutting::{Batch, FillerCut};
use crate::measure::Length;
use crate::render::text::escape;
use crate::render::words::{source, strip_words};

/// Pairs, how to make them, and fillers.
pub(super) fn section(sheet: &Sheet) -> String {
    let mut body = String::new();
    if !sheet.work.batches.is_empty() {
        body += &pairs(sheet);
    }
    if sheet.work.rows.iter().flat_map(|row| &row.units).any(|unit| unit.second.is_some()) {
        body += &methods::how_to(sheet);
        body += &offcuts(sheet);
    }
    if !sheet.work.fillers.is_empty() {
        body += &fillers(sheet);
    }
    if !sheet.work.hand.is_empty() {
        body += &super::hand::section(sheet);
    }
    body += &cloth::sheets(sheet);
    numbered(4, "cutting", "Cut and pair", &body)
}

fn pairs(sheet: &Sheet) -> String {
    let heads =
        ["Pair", "Fabrics", "Square", "Method", "Pairs", "Gives", "Needed", "Spare", "Trim to", "Finishes", "Done"];
    let lines: String = sheet.work.batches.iter().map(|batch| line(&heads, &pair(sheet, batch))).collect();
    format!(
        "<h3>Pairs of squares</h3>\n<p>One square of each fabric makes a pair. Each line is sewn alike; keep its units \
         together under its number, spare ones too.</p>\n{}",
        table("pairs", &heads, &lines)
    )
}

fn pair(sheet: &Sheet, batch: &Batch) -> [String; 11] {
    let quarter = if batch.square.quartered {
        format!(" <span class=\"fine\">a quarter of {}</span>", sheet.len(batch.square.bought()))
    } else {
        String::new()
    };
    [
        format!("<b>{}</b>", batch.id),
        format!("{}<br/>{}", sheet.fabric(batch.first), sheet.fabric(batch.second)),
        format!("{}{quarter}", sheet.len(batch.square.cut)),
        format!("{} <span class=\"fine\">({})</span>", batch.at_a_time.words(), batch.size),
        format!("<b>{}</b>", batch.pairs),
        batch.made().to_string(),
        batch.needed.to_string(),
        batch.spare().to_string(),
        sheet.len(batch.trimmed),
        sheet.len(batch.finished),
        tick(""),
    ]
}

/// Strips that become slices: made before the rows are sewn, since a slice's row may come first.
fn offcuts(sheet: &Sheet) -> String {
    let heads = ["Strip", "Pair", "Cut off", "Done"];
    let units = sheet.work.rows.iter().flat_map(|row| &row.units);
    let used = units.filter_map(|unit| Some((unit, unit.strip?, unit.offcut_to?)));
    let lines: String = used
        .map(|(unit, strip, to)| {
            let cut = format!("<b>{}</b> off the {}", sheet.len(strip.cut), strip.side.words());
            let words = strip_words(unit.placed.address, to);
            line(&heads, &[words, format!("<b>{}</b>", escape(&source(sheet.work, unit))), cut, tick("")])
        })
        .collect();
    if lines.is_empty() {
        return String::new();
    }
    format!(
        "<h3>Strips used again</h3>\n<p>These strips off trimmed units are slices elsewhere in the scene. Make these \
         trimmed units before you sew the first row, turned as their rows' tables show, and pin its address to each \
         strip.</p>\n{}",
        table("offcuts", &heads, &lines)
    )
}

fn fillers(sheet: &Sheet) -> String {
    let heads = ["Filler", "Fabric", "Cut, width × height", "How many", "Done"];
    let lines: String = sheet.work.fillers.iter().map(|filler| line(&heads, &filler_cells(sheet, filler))).collect();
    let spare = match sheet.plan.request.row_ends.extra(sheet.ruler) {
        Length::ZERO => String::new(),
        extra => {
            format!(" Those that end a row are cut {} over; the row is trimmed once it is sewn.", sheet.len(extra))
        }
    };
    format!(
        "<h3>Fillers</h3>\n<p>Rectangles of one fabric, seams included.{spare} All edges are on the straight grain. \
         </p>\n<div class=\"lists\">\n{}</div>\n",
        table("fillers", &heads, &lines)
    )
}

fn filler_cells(sheet: &Sheet, filler: &FillerCut) -> [String; 5] {
    [
        format!("<b>{}</b>", filler.id),
        sheet.fabric(filler.fabric),
        sheet.size(filler.cut),
        format!("<b>{}</b>", filler.count),
        tick(""),
    ]
}
