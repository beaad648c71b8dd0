//! Changes of the printed list: every number in its rows, its tables of what is cut and joined, and its map.

use std::ops::Range;
use std::sync::Arc;

use crate::spoilt::change::Change;
use crate::spoilt::scene::Scene;

const FILE: &str = "build-list.html";

/// What is read back: where it begins, where it ends, and what its numbers are called.
const READ: [(&str, &str, &str); 6] = [
    ("<article", "</article>", "row"),
    ("<table class=\"pairs\"", "</table>", "pair"),
    ("<table class=\"fillers\"", "</table>", "filler"),
    ("<table class=\"hand\"", "</table>", "hand"),
    ("<table class=\"parts\"", "</table>", "join"),
    ("<text class=\"row-name\"", "</text>", "map"),
];

pub fn list(scene: &Scene) -> Vec<Change> {
    let text: Arc<str> = scene.text(FILE).into();
    let mut changes = Vec::new();
    for (begins, ends, place) in READ {
        for (start, _) in text.match_indices(begins) {
            let end = start + text[start..].find(ends).unwrap() + ends.len();
            for number in shown_numbers(&text[start..end]) {
                let range = start + number.start..start + number.end;
                let new = (text[range.clone()].parse::<u64>().unwrap() + 1).to_string();
                let text = Arc::clone(&text);
                changes.push(Change::new(FILE, "count", place, move || {
                    [&text[..range.start], &new, &text[range.end..]].concat().into_bytes()
                }));
            }
        }
        let place = match place {
            "row" => ["left", "right"],
            _ => continue,
        };
        for word in place {
            let due = format!("Press to the <b>{word}</b>");
            let other = if word == "left" { "right" } else { "left" };
            for (at, _) in text.match_indices(&due) {
                let (text, new) = (Arc::clone(&text), format!("Press to the <b>{other}</b>"));
                let after = at + due.len();
                changes.push(Change::new(FILE, "word", "press", move || {
                    [&text[..at], &new, &text[after..]].concat().into_bytes()
                }));
            }
        }
    }
    changes
}

/// Whole numbers between tags, but for names of fabrics and letters in drawings of units.
fn shown_numbers(part: &str) -> Vec<Range<usize>> {
    let (mut numbers, mut at) = (Vec::new(), 0);
    while let Some(open) = part[at..].find('>').map(|open| at + open + 1) {
        let close = part[open..].find('<').map_or(part.len(), |close| open + close);
        let mut from = open;
        while let Some(start) = part[from..close].find(|c: char| c.is_ascii_digit()).map(|start| from + start) {
            let end = part[start..close].find(|c: char| !c.is_ascii_digit()).map_or(close, |end| start + end);
            numbers.push(start..end);
            from = end;
        }
        at = close;
    }
    numbers
}
