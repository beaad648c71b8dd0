//! Changes of drawings: every attribute, every element.

use crate::spoilt::change::{Change, next_address, next_colour, next_letter, next_word};
use crate::spoilt::scene::Scene;

pub fn drawing(scene: &Scene, file: &'static str) -> Vec<Change> {
    let text = scene.text(file);
    let mut changes = Vec::new();
    let mut replace = |class, place: &str, range: std::ops::Range<usize>, new: String| {
        let changed = format!("{}{new}{}", &text[..range.start], &text[range.end..]);
        changes.push(Change::new(file, class, place, move || changed.clone().into_bytes()));
    };
    for (equals, _) in text.match_indices("=\"") {
        let name = text[..equals].rsplit([' ', '\n']).next().unwrap();
        let start = equals + 2;
        let value = &text[start..start + text[start..].find('"').unwrap()];
        match name {
            "xmlns" => {}
            "points" | "d" | "viewBox" => {
                for (class, range) in numbers(value) {
                    let number: f64 = value[range.clone()].parse().unwrap();
                    replace(class, name, start + range.start..start + range.end, (number + 0.0625).to_string());
                }
            }
            _ => {
                let (class, new) = value_changed(scene, value);
                replace(class, name, start..start + value.len(), new);
            }
        }
    }
    let lines: Vec<(usize, &str)> =
        text.match_indices("<polygon").map(|(at, _)| at).map(|at| (at, &text[at..])).collect();
    for (at, rest) in lines {
        let line = &rest[..rest.find('\n').unwrap() + 1];
        replace("missing", "polygon", at..at + line.len(), String::new());
        replace("doubled", "polygon", at..at, line.to_owned());
    }
    if let Some(title) = text.find("<title>").map(|at| at + "<title>".len()) {
        replace("text", "title", title..title, "x".into());
    }
    changes
}

/// Where the numbers of a list of points are.
fn numbers(value: &str) -> Vec<(&'static str, std::ops::Range<usize>)> {
    let digit = |c: char| c.is_ascii_digit() || c == '.';
    let mut found = Vec::new();
    let mut at = 0;
    while let Some(start) = value[at..].find(digit).map(|start| at + start) {
        let end = value[start..].find(|c| !digit(c)).map_or(value.len(), |end| start + end);
        found.push(("length", start..end));
        at = end;
    }
    found
}

fn value_changed(scene: &Scene, value: &str) -> (&'static str, String) {
    let number = || value.parse::<f64>().ok().map(|number| ("count", (number + 1.0).to_string()));
    let new = next_letter(value, &scene.letters).map(|new| ("letter", new));
    let new = new.or_else(|| next_colour(value).map(|new| ("colour", new))).or_else(number);
    let new = new.or_else(|| next_address(value).map(|new| ("address", new)));
    let new = new.or_else(|| next_word(value).map(|new| ("word", new)));
    new.unwrap_or_else(|| ("text", format!("{value}x")))
}
