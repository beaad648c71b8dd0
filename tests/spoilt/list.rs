//! Changes of the printed list: every number on it, its steps of value, its pressing and where its drawings put what they show.

use std::ops::Range;
use std::sync::Arc;

use crate::spoilt::change::Change;
use crate::spoilt::scene::Scene;

const FILE: &str = "build-list.html";

/// Where each kind of number begins.
const KINDS: [(&str, &str); 27] = [
    ("<style", "foot"),
    ("<header", "opening"),
    ("<figure class=\"scene\"", "picture"),
    ("<table class=\"legend\"", "legend"),
    ("<p class=\"note \">Every unit", "address"),
    ("<section id=\"map\"", "map"),
    ("<section id=\"needs\"", "buying"),
    ("<section id=\"sizes\"", "sizes"),
    ("<section id=\"cutting\"", "cutting"),
    ("<table class=\"pairs\"", "pair"),
    ("<div class=\"card\"", "method"),
    ("<table class=\"offcuts\"", "strip"),
    ("<table class=\"fillers\"", "filler"),
    ("<table class=\"hand\"", "hand"),
    ("<h3>Out of which cloth", "straight"),
    ("<p class=\"squares\"", "square"),
    ("<figcaption", "sheet"),
    ("<svg class=\"cutting\"", "drawing"),
    ("<section id=\"rows\"", "section"),
    ("<article", "row"),
    ("<div class=\"part\"", "column"),
    ("<section id=\"joining\"", "join"),
    ("<section id=\"leftovers\"", "left"),
    ("<section id=\"finishing\"", "finish"),
    ("<table class=\"finish", "finish"),
    ("<section id=\"wall\"", "wall"),
    ("<svg class=\"thumb\"", "row"),
];

pub fn list(scene: &Scene) -> Vec<Change> {
    let text: Arc<str> = scene.text(FILE).into();
    let mut begins: Vec<(usize, &str)> =
        KINDS.iter().flat_map(|(begin, kind)| text.match_indices(begin).map(|(at, _)| (at, *kind))).collect();
    begins.sort_unstable();
    let mut changes = Vec::new();
    for (at, kind) in begins.iter().copied() {
        let end = begins.iter().map(|(next, _)| *next).find(|next| *next > at).unwrap_or(text.len());
        let numbers = if kind == "foot" { foot(&text[at..end]) } else { shown(&text[at..end]) };
        for number in numbers {
            let range = at + number.start..at + number.end;
            let new = (text[range.clone()].parse::<u64>().unwrap() + 1).to_string();
            changes.push(change(&text, kind, range, new));
        }
        if kind == "drawing" {
            let places = text[at..end].match_indices("<rect x=\"").map(|(start, begin)| at + start + begin.len());
            changes.extend(places.map(|start| change(&text, "place", start..start, "1".into())));
        }
    }
    for (word, other) in
        [("Press to the <b>left", "Press to the <b>right"), ("■□", "□■"), ("Squares whole", "Squares quartered")]
    {
        let kind = if word == "■□" { "value" } else { "word" };
        let at = text.match_indices(word).map(|(at, _)| at..at + word.len());
        changes.extend(at.map(|range| change(&text, kind, range, other.into())));
    }
    changes
}

fn change(text: &Arc<str>, kind: &'static str, range: Range<usize>, new: String) -> Change {
    let text = Arc::clone(text);
    Change::new(FILE, kind, kind, move || [&text[..range.start], &new, &text[range.end..]].concat().into_bytes())
}

/// Numbers between tags.
fn shown(part: &str) -> Vec<Range<usize>> {
    let (mut numbers, mut at) = (Vec::new(), 0);
    while let Some(open) = part[at..].find('>').map(|open| at + open + 1) {
        let close = part[open..].find('<').map_or(part.len(), |close| open + close);
        numbers.extend(digits(part, open..close));
        at = close;
    }
    numbers
}

/// Numbers at the foot of sheets of paper.
fn foot(style: &str) -> Vec<Range<usize>> {
    let feet = style.match_indices("content: \"");
    let foot = |(at, begin): (usize, &str)| {
        let at = at + begin.len();
        digits(style, at..at + style[at..].find('"').unwrap())
    };
    feet.flat_map(foot).collect()
}

fn digits(part: &str, within: Range<usize>) -> Vec<Range<usize>> {
    let (mut numbers, mut from) = (Vec::new(), within.start);
    while let Some(start) = part[from..within.end].find(|c: char| c.is_ascii_digit()).map(|start| from + start) {
        let end = part[start..within.end].find(|c: char| !c.is_ascii_digit()).map_or(within.end, |end| start + end);
        numbers.push(start..end);
        from = end;
    }
    numbers
}
