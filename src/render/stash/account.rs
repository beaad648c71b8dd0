//! All that is to be said of a stash, for a screen.

use std::fmt::Write;

use super::tables::{fabrics, on_hand, squares_give};
use super::words::length;
use crate::fabric::{Stash, StashTotals};
use crate::render::text::{count, listed};

const LABEL: usize = 10;
const SQUARE_YARDS: f64 = 1.0 / 0.836_127_36;

/// Tables, totals and notes, in lines of at most `width` letters.
pub fn stash_account(stash: &Stash, width: u16) -> String {
    let totals = stash.totals();
    let mut text = fabrics(stash, width) + "\n";
    if !totals.squares.is_empty() {
        let title = wrapped(&squares_title(&totals), usize::from(width)).join("\n");
        text += &format!("\n{title}\n{}\n", squares_give(&totals, width));
    }
    if let Some(table) = on_hand(stash, width) {
        text += &format!("\n{table}\n");
    }
    text += "\n";
    let mut line = |label: &str, words: String| {
        for (index, line) in wrapped(&words, usize::from(width).saturating_sub(LABEL + 2)).iter().enumerate() {
            let label = if index == 0 { label } else { "" };
            let _ = writeln!(text, "  {label:<LABEL$}{line}");
        }
    };
    for (label, words) in lines(stash, &totals) {
        line(label, words);
    }
    for note in stash.notes() {
        line("note", note.to_string());
    }
    text
}

fn squares_title(totals: &StashTotals) -> String {
    let mut seams: Vec<String> = totals.squares.iter().map(|squares| squares.seam.to_string()).collect();
    seams.sort_unstable();
    seams.dedup();
    format!("What the squares could give at most, all sewn in one way, with a seam of {}", seams.join(" or "))
}

/// The totals, each with its label.
fn lines(stash: &Stash, totals: &StashTotals) -> Vec<(&'static str, String)> {
    let mut families: Vec<&str> = stash.prints.iter().map(|print| print.family.as_str()).collect();
    families.sort_unstable();
    families.dedup();
    let prints = count(stash.prints.len() as u64, "fabric", "fabrics");
    let mut lines = vec![("fabrics", format!("{prints} in {}", count(families.len() as u64, "family", "families")))];
    let all_free = totals.free == stash.prints.len();
    match totals.free {
        0 => {}
        _ if all_free => lines.push(("free use", "all of them: no counts are given".into())),
        free => lines.push(("free use", format!("{free} of them, without counts"))),
    }
    if !all_free {
        let squares: Vec<String> = totals.squares.iter().map(|s| format!("{} of {}", s.count, s.size)).collect();
        lines.push(("squares", or_none(listed(&squares))));
        lines.push(("cloth", or_none(cloth(totals))));
    }
    let mut on_hand: Vec<String> = Vec::new();
    let units: u64 = totals.units.iter().map(|(_, count)| count).sum();
    for (n, one, many) in [
        (units, "triangle unit", "triangle units"),
        (totals.slices, "slice", "slices"),
        (totals.fillers, "filler", "fillers"),
    ] {
        on_hand.extend((n > 0).then(|| count(n, one, many)));
    }
    lines.push(("on hand", or_none(listed(&on_hand))));
    lines
}

fn or_none(words: String) -> String {
    if words.is_empty() { "none".into() } else { words }
}

/// Lengths, fat quarters and oddments, and the area of them all.
fn cloth(totals: &StashTotals) -> String {
    let mut words: Vec<String> = totals.cloth.iter().map(length).collect();
    if totals.fat_quarters > 0 {
        words.push(count(totals.fat_quarters, "fat quarter", "fat quarters"));
    }
    if totals.oddments > 0 {
        words.push(count(totals.oddments, "oddment", "oddments"));
    }
    if words.is_empty() {
        return String::new();
    }
    let metres = totals.square_metres;
    format!("{}: {:.2} square yards ({metres:.2} square metres)", listed(&words), metres * SQUARE_YARDS)
}

/// The words in lines of at most `width` letters, longer words on lines of their own.
fn wrapped(words: &str, width: usize) -> Vec<String> {
    let mut lines = vec![String::new()];
    for word in words.split(' ') {
        let fits = |line: &String| line.is_empty() || line.chars().count() + 1 + word.chars().count() <= width;
        match lines.last_mut().filter(|line| fits(line)) {
            Some(line) if line.is_empty() => line.push_str(word),
            Some(line) => line.extend([" ", word]),
            None => lines.push(word.to_owned()),
        }
    }
    lines
}
