//! Squares to pair and fillers to cut.

use maud::{Markup, html};

use super::places::rows_of;
use super::sheet::{Sheet, line, section as numbered, table, tick};
use super::{cloth, methods};
use crate::cutting::{Batch, FillerCut};
use crate::make::{Source, darker};
use crate::measure::Length;
use crate::render::markup::shown;
use crate::render::words::{source, strip_words};
use crate::unit::{Corner, Diagonal};

/// Pairs, how to make them, and fillers.
pub(super) fn section(sheet: &Sheet) -> Markup {
    let triangles = sheet.work.rows.iter().flat_map(|row| &row.units).any(|unit| unit.second.is_some());
    let body = html! {
        @if sheet.work.batches.iter().any(|batch| batch.pairs > 0) { (pairs(sheet)) }
        @if triangles { (methods::how_to(sheet)) (offcuts(sheet)) }
        @if sheet.work.fillers.iter().any(|filler| filler.count > 0) { (fillers(sheet)) }
        @if sheet.work.hand.iter().any(|hand| hand.used > 0) { (super::on_hand::section(sheet)) }
        (cloth::sheets(sheet))
    };
    numbered(4, "cutting", "Cut and pair", &body)
}

fn pairs(sheet: &Sheet) -> Markup {
    let heads =
        ["Pair", "Fabrics", "Squares", "Sewn", "Pairs", "Gives", "Spare", "Trim to", "Finishes", "For rows", "Done"];
    let batches = sheet.work.batches.iter().enumerate().filter(|(_, batch)| batch.pairs > 0);
    let lines: Vec<Markup> = batches
        .map(|(index, batch)| html! { (line(&heads, &pair(sheet, index, batch))) (laid(sheet, batch)) })
        .collect();
    html! {
        h3 { "Pairs of squares" }
        "\n"
        p {
            "One square of each fabric makes a pair. Each line is sewn alike; keep its units together under its number, \
             spare ones too. Sew a line in one chain, pair after pair without cutting the thread, then cut them apart and press. \
              Rows are named by their column once: 2.1.3, 5 is rows 2.1.3 and 2.1.5."
        }
        "\n" (table("pairs", &heads, &lines))
    }
}

fn pair(sheet: &Sheet, index: usize, batch: &Batch) -> [Markup; 11] {
    let bought = sheet.len(batch.square.bought());
    [
        html! { b { (batch.id) } },
        sheet.both(batch.first, batch.second),
        html! {
            (sheet.len(batch.square.cut))
            @if batch.square.quartered && !sheet.plan.request.cut_squares { " " span class="fine" { "a quarter of " (bought) } }
        },
        html! {
            (batch.at_a_time.words())
            @if let Some(fabric) = darker(sheet.plan, batch) { ", press to " (sheet.chip(fabric)) }
        },
        html! { b { (batch.pairs) } },
        html! { (batch.made()) },
        html! { (batch.spare()) },
        sheet.len(batch.trimmed),
        html! { (sheet.len(batch.finished)) " " span class="fine" { (batch.size) } },
        html! { (rows_of(sheet.work, Source::Batch(index))) },
        tick(""),
    ]
}

/// The style of the lines that say how squares are laid.
pub(super) const LAID: &str = ".pairs .also td { white-space: normal; }\n\
    @media screen and (max-width: 640px) { .pairs .also td { display: block; grid-column: 1 / -1; } }\n";

/// How the squares of a pair are laid in which a print stands upright, and which units that gives.
fn laid(sheet: &Sheet, batch: &Batch) -> Markup {
    let Some(upright) = batch.upright else { return Markup::default() };
    let spare = corners(sheet, batch, &batch.spares());
    html! {
        tr class="also" {
            td {}
            td colspan="10" { span {
                b { "Print upright" } ": " (along(upright.diagonal)) "; " (sheet.chip(batch.below(upright)))
                " below, its top up; " (sheet.chip(batch.above(upright))) " on it, face down"
                @if let Some(side) = upright.top_to() { ", its top to the " (side) }
                ". Gives " (corners(sheet, batch, &batch.gives()))
                @if !spare.is_empty() { "; spare " (spare) }
                "."
            } }
        }
        "\n"
    }
}

/// The lines that are sewn along, in words.
pub(super) fn along(diagonal: Option<Diagonal>) -> &'static str {
    match diagonal {
        Some(Diagonal::Rising) => "line from lower left to upper right",
        Some(Diagonal::Falling) => "line from upper left to lower right",
        None => "both lines",
    }
}

/// How many of some units have the first fabric in which corner.
fn corners(sheet: &Sheet, batch: &Batch, units: &[(Option<Corner>, u32)]) -> String {
    let letter = shown(sheet.palette.letter(batch.first));
    let some = units.iter().filter(|(_, count)| *count > 0);
    let words = some.filter_map(|(corner, count)| Some(format!("{count} with {letter} {}", (*corner)?.words())));
    words.collect::<Vec<_>>().join(", ")
}

/// Strips that become slices: made before the rows are sewn, since a slice's row may come first.
fn offcuts(sheet: &Sheet) -> Markup {
    let heads = ["Strip", "Pair", "Cut off", "Done"];
    let units = sheet.work.rows.iter().flat_map(|row| &row.units);
    let used = units.filter_map(|unit| Some((unit, unit.strip?, unit.offcut_to?)));
    let lines: Vec<Markup> = used
        .map(|(unit, strip, to)| {
            let cut = html! { b { (sheet.len(strip.cut)) } " off the " (strip.side.words()) };
            let words = html! { (strip_words(unit.placed.address, to)) };
            line(&heads, &[words, html! { b { (source(sheet.work, unit)) } }, cut, tick("")])
        })
        .collect();
    html! {
        @if !lines.is_empty() {
            h3 { "Strips used again" }
            "\n"
            p {
                "These strips off trimmed units are slices elsewhere in the scene. Make these trimmed units before you sew \
                 the first row, turned as their rows' tables show, and pin its address to each strip."
            }
            "\n" (table("offcuts", &heads, &lines))
        }
    }
}

fn fillers(sheet: &Sheet) -> Markup {
    let heads = ["Filler", "Fabric", "Cut, wide × high", "Count", "For rows", "Done"];
    let fillers = sheet.work.fillers.iter().enumerate().filter(|(_, filler)| filler.count > 0);
    let lines: Vec<Markup> = fillers.map(|(index, filler)| line(&heads, &filler_cells(sheet, index, filler))).collect();
    let extra = sheet.plan.request.row_ends.extra(sheet.ruler);
    html! {
        h3 { "Fillers" }
        "\n"
        p {
            "Rectangles of one fabric, seams included."
            @if extra != Length::ZERO {
                " Those that end a row are cut " (sheet.len(extra)) " over; the row is trimmed once it is sewn."
            }
            " All edges are on the straight grain. "
        }
        "\n" div class="lists" { "\n" (table("fillers", &heads, &lines)) }
        "\n"
    }
}

fn filler_cells(sheet: &Sheet, index: usize, filler: &FillerCut) -> [Markup; 6] {
    [
        html! { b { (filler.id) } },
        sheet.fabric(filler.fabric),
        sheet.size(filler.cut),
        html! { b { (filler.count) } },
        html! { (rows_of(sheet.work, Source::Filler(index))) },
        tick(""),
    ]
}
