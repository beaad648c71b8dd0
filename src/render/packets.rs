//! Packets for a screen, and the rows of one in words.

use std::fmt::Write;

use super::text::{count, listed};
use crate::make::{JoinedRows, Packet, Packets};
use crate::plan::{Address, Plan};

/// Each packet in a line; `written` says what was written, and where.
pub fn packets_account(packets: &Packets, plan: &Plan, written: &str) -> String {
    let sewers = count(packets.packets.len() as u64, "packet", "packets");
    let mut text = format!("{}, {sewers}\n", plan.request.name());
    let mut line = |name: &str, words: &str| {
        let _ = writeln!(text, "  {name:<12}{words}");
    };
    for (at, packet) in packets.packets.iter().enumerate() {
        let pairs: u32 = packet.work.batches.iter().map(|batch| batch.pairs).sum();
        let words = [
            rows_words(packet),
            count(units(packet), "unit", "units"),
            count(pairs, "pair", "pairs"),
            format!("{} seams and trims", packet.load),
        ];
        line(&format!("packet {}", at + 1), &words.join(", "));
    }
    line("even share", &format!("{} seams and trims", even(packets)));
    line("written", written);
    text
}

/// Seams and trims of an even share, to the nearest.
pub(super) fn even(packets: &Packets) -> u64 {
    let all: u64 = packets.packets.iter().map(|packet| packet.load).sum();
    let sewers = packets.packets.len().max(1) as u64;
    (all + sewers / 2) / sewers
}

/// Units of a packet's rows.
pub(super) fn units(packet: &Packet) -> u64 {
    packet.work.rows.iter().map(|row| row.units.len() as u64).sum()
}

/// `rows 1.1.1 to 1.1.9 and row 1.2.1`.
pub(super) fn rows_words(packet: &Packet) -> String {
    listed(&packet.joined.iter().map(run_words).collect::<Vec<_>>())
}

/// `rows 1.1.1 to 1.1.9`.
pub(super) fn run_words(run: &JoinedRows) -> String {
    let last = Address { row: run.first.row + run.rows - 1, ..run.first };
    match run.rows {
        1 => format!("row {}", run.first.row_words()),
        _ => format!("rows {} to {}", run.first.row_words(), last.row_words()),
    }
}
