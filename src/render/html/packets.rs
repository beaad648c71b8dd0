//! A scene in packets: a page for each sewer, and one for whoever cuts, hands out and joins.

use std::collections::BTreeMap;

use maud::{Markup, html};

use super::cutting::along;
use super::map::{self, Cells};
use super::page::style;
use super::sheet::{Sheet, line, note, section as numbered, table, tick};
use super::{cutting, joining, rows, sizes};
use crate::fabric::Print;
use crate::make::{Handed, Handover, Meeting, Packet, Packets, Work};
use crate::measure::Length;
use crate::plan::Plan;
use crate::render::Options;
use crate::render::markup::{BR, joined, page, shown};
use crate::render::packets::{even, rows_words, run_words, units};
use crate::render::press_words::join;
use crate::render::text::{by, count, listed, title};
use crate::render::words::strip_words;

const STYLE: &str = include_str!("packets.css");

/// The page of the packet at an index: what is in it, what to make of it, and what to hand back.
pub fn packet_list(plan: &Plan, work: &Work, packets: &Packets, at: usize, options: &Options) -> String {
    let packet = &packets.packets[at];
    let (sheet, whole) = (Sheet::new(plan, &packet.work, options), Sheet::new(plan, work, options));
    let named = format!("{}: packet {} of {}", title(plan), at + 1, packets.packets.len());
    let back = html! { (hand_back(&sheet, &whole, packets, at)) (labels(&sheet, packet, at)) };
    let body = html! {
        (opening(&whole, &sheet, packets, at))
        (in_it(&sheet, packet))
        (sizes::section(&sheet))
        (sizes::safety())
        (cutting::section(&sheet))
        (rows::section(&sheet, &back))
    };
    page(&named, &(style(&sheet, &named) + STYLE), &body)
}

/// The page for whoever cuts, hands out and joins.
pub fn packets_list(plan: &Plan, work: &Work, packets: &Packets, options: &Options) -> String {
    let sheet = Sheet::new(plan, work, options);
    let named = format!("{}: packets", title(plan));
    let body = html! {
        header {
            "\n" p class="kicker" { "Packets for " (packets.packets.len()) " sewers" }
            "\n" h1 { (shown(&title(plan))) }
            "\n" p class="lede" {
                "The build list's top, shared out. Each row, pair, filler and piece on hand is in one packet. An even share \
                 is " (even(packets)) " seams and trims."
            }
        }
        "\n" (drawing(&sheet, packets, None))
        (numbered(1, "packets", "The packets", &html! { (all(packets)) (steps()) }))
        (numbered(2, "between", "From one packet to another", &between(&sheet, packets)))
        (numbered(3, "joining", "Join what comes back", &html! {
            (meetings(&sheet, &packets.meetings, None))
            (note("", &joining::diagonals(&sheet)))
        }))
    };
    page(&named, &(style(&sheet, &named) + STYLE), &body)
}

fn opening(whole: &Sheet, sheet: &Sheet, packets: &Packets, at: usize) -> Markup {
    let request = &sheet.plan.request;
    let packet = &packets.packets[at];
    html! {
        header {
            "\n" p class="kicker" { "Packet " (at + 1) " of " (packets.packets.len()) }
            "\n" h1 { (shown(&title(sheet.plan))) }
            "\n" p class="lede" {
                "A part of a pieced top of " (sheet.len(request.width)) " by " (sheet.len(request.height)) ": "
                (rows_words(packet)) ", " (count(units(packet), "unit", "units")) "."
            }
        }
        "\n" (drawing(whole, packets, Some(at)))
    }
}

/// The whole top with its packets; all but one are pale.
fn drawing(whole: &Sheet, packets: &Packets, own: Option<usize>) -> Markup {
    let boxes = packets.packets.iter().enumerate().flat_map(|(at, packet)| {
        let runs = packet.work.rows.chunk_by(rows::one_part);
        runs.map(move |run| ((at + 1).to_string(), map::rows_cells(run), own.is_some_and(|own| own != at)))
    });
    let boxes: Vec<(String, Cells, bool)> = boxes.collect();
    html! { figure class="shared" { (map::parted(whole, &boxes)) } "\n" }
}

/// Squares, fillers and pieces by fabric, and what others bring.
fn in_it(sheet: &Sheet, packet: &Packet) -> Markup {
    let heads = ["Fabric", "Squares for pairs", "Fillers"];
    let mut squares: BTreeMap<Print, BTreeMap<Length, u32>> = BTreeMap::new();
    let mut fillers: BTreeMap<Print, Vec<String>> = BTreeMap::new();
    for batch in &packet.work.batches {
        for fabric in [batch.first, batch.second] {
            *squares.entry(fabric).or_default().entry(batch.square.cut).or_default() += batch.pairs;
        }
    }
    for filler in packet.work.fillers.iter().filter(|filler| filler.count > 0) {
        fillers.entry(filler.fabric).or_default().push(format!("{} of {}", filler.count, filler.id));
    }
    let lines = sheet.palette.prints().filter_map(|fabric| {
        let of = squares.get(&fabric).into_iter().flatten().rev().filter(|(_, count)| **count > 0);
        let of: Vec<Markup> = of.map(|(side, count)| html! { b { (count) } " of " (sheet.len(*side)) }).collect();
        let cut = fillers.get(&fabric).map(|cut| cut.join(", ")).unwrap_or_default();
        let cells = [sheet.fabric(fabric), joined(of.iter().cloned(), &html! { (BR) }), html! { (cut) }];
        (!of.is_empty() || !cut.is_empty()).then(|| line(&heads, &cells))
    });
    let lines: Vec<Markup> = lines.collect();
    let hand = packet.work.hand.iter().filter(|hand| hand.used > 0).map(|hand| format!("{} of {}", hand.used, hand.id));
    let hand: Vec<String> = hand.collect();
    let body = html! {
        p { "Count it before you begin. Section 4 says what each piece is for." }
        "\n"
        @if !lines.is_empty() { (table("needs", &heads, &lines)) }
        @if !hand.is_empty() { p { "Of what was sewn and cut before: " (listed(&hand)) "." } "\n" }
        @if !packet.gets.is_empty() {
            h3 { "What others make for you" }
            "\n" (handed(sheet, &packet.gets, "From packet"))
        }
        @if !packet.gives.is_empty() {
            h3 { "What you make for others" }
            "\n"
            p { "Make these first, trim the units to size, and hand them over: they are waited for." }
            "\n" (handed(sheet, &packet.gives, "For packet"))
        }
    };
    numbered(1, "in-it", "What is in your packet", &body)
}

fn handed(sheet: &Sheet, all: &[Handover], with: &str) -> Markup {
    let heads = [with, "What", "Fabrics", "How many", "Done"];
    let lines: Vec<Markup> = all.iter().map(|handover| handed_line(sheet, &heads, handover)).collect();
    table("parts", &heads, &lines)
}

fn handed_line(sheet: &Sheet, heads: &[&str], handover: &Handover) -> Markup {
    let [what, fabrics, how_many] = match handover.what {
        Handed::Units { batch, stands, count } => {
            let batch = &sheet.work.batches[batch];
            let finishes = html! {
                "units of " b { (batch.id) } ", trimmed to " (sheet.len(batch.trimmed))
                @if let Some(corner) = stands { ", " (shown(sheet.palette.letter(batch.first))) " " (corner.words()) }
            };
            [finishes, sheet.both(batch.first, batch.second), html! { (count) }]
        }
        Handed::Strip { from, to } => [html! { (strip_words(from, to)) }, html! { "–" }, html! { "1" }],
    };
    line(heads, &[html! { (handover.with + 1) }, what, fabrics, how_many, tick("")])
}

/// What is joined and handed back, and where it meets what others sew.
fn hand_back(sheet: &Sheet, whole: &Sheet, packets: &Packets, at: usize) -> Markup {
    let packet = &packets.packets[at];
    let both = sheet.plan.request.seam.both();
    let heads = ["Join", "Should measure", "Finished", "Done"];
    let lines = packet.joined.iter().map(|run| {
        let size = html! { b { (sheet.size(run.finished.unfinished(both))) } };
        line(&heads, &[html! { (run_words(run)) }, size, sheet.size(run.finished), tick("")])
    });
    let lines: Vec<Markup> = lines.collect();
    let spare: u32 = packet.work.batches.iter().map(|batch| batch.spare()).sum();
    let own = packets.meetings.iter().filter(|meeting| meeting.packets.iter().any(|side| side.contains(&at)));
    let own: Vec<Meeting> = own.cloned().collect();
    let body = html! {
        p {
            "Join your rows, each below the one before it, and no further: not across into another column. " (joining::PINNING)
        }
        "\n" (table("parts", &heads, &lines))
        p {
            "Hand back what you joined, with its label pinned to its upper left corner"
            @if spare > 0 { ", and " (count(spare, "spare unit", "spare units")) }
            @if !packet.gives.is_empty() { "; what you made for others goes to them" }
            ". Leave the outer edges as they are: nothing is trimmed there."
        }
        "\n"
        @if !own.is_empty() {
            h3 { "Where it meets other packets" }
            "\n"
            p { "Both sides of each seam must measure the same before they are joined: measure yours, and say so where it is off." }
            "\n" (meetings(whole, &own, Some(at)))
        }
    };
    numbered(6, "hand-back", "Join and hand back", &body)
}

/// The seams between packets; the packets on them but for one's own.
fn meetings(whole: &Sheet, all: &[Meeting], own: Option<usize>) -> Markup {
    let heads = ["Seam", "Packets", "Both sides measure", "When it is sewn", "Done"];
    let both = whole.plan.request.seam.both();
    let lines = all.iter().map(|meeting| {
        let [band, column, row] = meeting.after;
        let (between, before, upright) = match meeting.after {
            [band, 0, _] => (format!("bands {} and {band}", band - 1), "the band above", false),
            [band, column, 0] => {
                (format!("columns {band}.{} and {band}.{column}", column - 1), "the column before it", true)
            }
            [band, column, row] => {
                (format!("rows {band}.{column}.{} and {band}.{column}.{row}", row - 1), "the row above", false)
            }
        };
        let side = |side: usize| {
            let there = meeting.packets[side].iter().filter(|at| Some(**at) != own);
            listed(&there.map(|at| (at + 1).to_string()).collect::<Vec<_>>())
        };
        let sides = [side(0), side(1)].into_iter().filter(|side| !side.is_empty()).collect::<Vec<_>>().join(" with ");
        let joint = whole.work.joints.of(band, column, row, 0);
        let press = joint.map(|joint| join(joint, before, upright)).unwrap_or_default();
        let measure = html! { b { (whole.len(meeting.finished + both)) } };
        line(&heads, &[html! { (between) }, html! { (sides) }, measure, html! { (press) }, tick("")])
    });
    table("parts", &heads, &lines.collect::<Vec<_>>())
}

/// Every packet with its size.
fn all(packets: &Packets) -> Markup {
    let heads = ["Packet", "Rows", "Units", "Pairs", "Fillers", "Seams and trims", "Handed out", "Back"];
    let lines = packets.packets.iter().enumerate().map(|(at, packet)| {
        let pairs: u32 = packet.work.batches.iter().map(|batch| batch.pairs).sum();
        let fillers: u32 = packet.work.fillers.iter().map(|filler| filler.count).sum();
        let cells = [
            html! { b { (at + 1) } },
            html! { (rows_words(packet)) },
            html! { (units(packet)) },
            html! { (pairs) },
            html! { (fillers) },
            html! { (packet.load) },
            tick(""),
            tick(""),
        ];
        line(&heads, &cells)
    });
    table("parts", &heads, &lines.collect::<Vec<_>>())
}

fn steps() -> Markup {
    html! {
        ol {
            "\n" li { "Cut all cloth by section 4 of the build list: one cutter and one ruler for all packets." }
            "\n" li { "Fill each packet by section 1 of its page, with the labels of its last section, and count it." }
            "\n" li { "Let every sewer sew the seam test of section 2 before she begins: seams that differ make rows that do not meet." }
            "\n" li { "See that what packets make for each other is handed over first." }
            "\n" li { "Measure what comes back by section 6 of its page, and join it by section 3 here: rows to columns, columns to bands, bands to the top." }
            "\n"
        }
        "\n"
    }
}

fn between(sheet: &Sheet, packets: &Packets) -> Markup {
    let heads = ["For packet", "What", "Fabrics", "How many", "Done"];
    html! {
        @if packets.packets.iter().all(|packet| packet.gives.is_empty()) { p { "Nothing." } "\n" }
        @for (at, packet) in packets.packets.iter().enumerate().filter(|(_, packet)| !packet.gives.is_empty()) {
            h3 { "From packet " (at + 1) }
            "\n" (table("parts", &heads, &packet.gives.iter().map(|handover| handed_line(sheet, &heads, handover)).collect::<Vec<_>>()))
        }
    }
}

/// Labels to cut out: one for each bundle, and one for each piece that comes back.
fn labels(sheet: &Sheet, packet: &Packet, at: usize) -> Markup {
    let letter = |fabric: Print| shown(sheet.palette.letter(fabric));
    let pairs = packet.work.batches.iter().filter(|batch| batch.pairs > 0).map(|batch| {
        let (pairs, side) = (count(batch.pairs, "pair", "pairs"), sheet.ruler.show(batch.square.cut));
        let lies = batch.upright.map(|upright| {
            let top = upright.top_to().map(|side| format!(", the top of the other to the {side}")).unwrap_or_default();
            format!("; {}, {} below, its top up{top}", along(upright.diagonal), letter(batch.below(upright)))
        });
        let lies = lies.unwrap_or_default();
        (batch.id.clone(), format!("{} and {}, {pairs} of {side}{lies}", letter(batch.first), letter(batch.second)))
    });
    let fillers = packet.work.fillers.iter().filter(|filler| filler.count > 0).map(|filler| {
        let size = by(sheet.ruler, filler.cut);
        (filler.id.clone(), format!("{} of {}, {size}", filler.count, letter(filler.fabric)))
    });
    let hand = packet
        .work
        .hand
        .iter()
        .filter(|hand| hand.used > 0)
        .map(|hand| (hand.id.clone(), format!("{}, on hand", hand.used)));
    let back = packet.joined.iter().map(|run| {
        let size = run.finished.unfinished(sheet.plan.request.seam.both());
        (run_words(run), format!("joined, {}", by(sheet.ruler, size)))
    });
    let gives = packet.gives.iter().map(|handover| {
        let what = match handover.what {
            Handed::Units { batch, stands, count: units } => {
                let batch = &sheet.work.batches[batch];
                let corner = stands.map(|corner| format!(", {} {}", letter(batch.first), corner.words()));
                format!("{} of {}{}", count(units, "unit", "units"), batch.id, corner.unwrap_or_default())
            }
            Handed::Strip { from, to } => strip_words(from, to),
        };
        (format!("for packet {}", handover.with + 1), what)
    });
    let all: Vec<(String, String)> = pairs.chain(fillers).chain(hand).chain(back).chain(gives).collect();
    let body = html! {
        div class="labels" {
            "\n"
            @for (name, words) in all {
                p { span class="fine" { "Packet " (at + 1) } " " b { (name) } (BR) (words) }
                "\n"
            }
        }
        "\n"
    };
    numbered(7, "labels", "Labels to cut out", &body)
}
