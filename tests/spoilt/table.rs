//! Changes of a table: every cell, every line.

use std::sync::Arc;

use crate::spoilt::change::{Change, next_address, next_letter, next_word};
use crate::spoilt::scene::Scene;

type Cells = Vec<Vec<String>>;

pub fn table(scene: &Scene, file: &'static str) -> Vec<Change> {
    let mut reader = csv::ReaderBuilder::new().has_headers(false).from_reader(scene.file(file));
    let cells: Cells = reader.records().map(|line| line.unwrap().iter().map(str::to_owned).collect()).collect();
    let cells = Arc::new(cells);
    let mut changes = Vec::new();
    for (at, line) in cells.iter().enumerate().skip(1) {
        for (column, cell) in line.iter().enumerate() {
            let heading = &cells[0][column];
            for (class, new) in cell_changes(scene, heading, cell) {
                let cells = Arc::clone(&cells);
                changes.push(Change::new(file, class, heading, move || {
                    let mut cells = Cells::clone(&cells);
                    cells[at][column].clone_from(&new);
                    written(&cells)
                }));
            }
        }
        let mut of_line = |class, change: fn(&mut Cells, usize)| {
            let cells = Arc::clone(&cells);
            changes.push(Change::new(file, class, "line", move || {
                let mut cells = Cells::clone(&cells);
                change(&mut cells, at);
                written(&cells)
            }));
        };
        of_line("missing", |cells, at| drop(cells.remove(at)));
        of_line("doubled", |cells, at| cells.insert(at, cells[at].clone()));
        if at + 1 < cells.len() {
            of_line("order", |cells, at| cells.swap(at, at + 1));
        }
    }
    changes
}

fn written(cells: &Cells) -> Vec<u8> {
    let mut writer = csv::Writer::from_writer(Vec::new());
    cells.iter().for_each(|line| writer.write_record(line).unwrap());
    writer.into_inner().unwrap()
}

/// A cell's new values, by class.
fn cell_changes(scene: &Scene, heading: &str, cell: &str) -> Vec<(&'static str, String)> {
    if cell.is_empty() {
        return vec![("filled", filled(scene, heading))];
    }
    let mut changes = vec![("emptied", String::new())];
    if heading.ends_with("_in") || heading.ends_with("_cm") {
        let length: f64 = cell.parse().unwrap();
        changes.push(("length", (length + 0.0625).to_string()));
        changes.push(("length", (length - 0.0625).abs().to_string()));
    } else if heading == "turn" {
        changes.extend([90, 180, 270].map(|more| ("turn", ((cell.parse::<u32>().unwrap() + more) % 360).to_string())));
    } else if let Ok(count) =
        cell.parse::<u32>().map_err(|_| ()).and_then(|n| heading.ne("address").then_some(n).ok_or(()))
    {
        changes.push(("count", (count + 1).to_string()));
        changes.push(("count", count.saturating_sub(1).to_string()));
    } else if let Some(letter) = next_letter(cell, &scene.letters) {
        changes.push(("letter", letter));
    } else if let Some(address) = next_address(cell).filter(|_| heading != "words") {
        changes.push(("address", address));
    } else if let Some(word) = next_word(cell) {
        changes.push(("word", word));
    } else if heading == "words" {
        changes.extend(cell.split_whitespace().enumerate().map(|(at, _)| ("words", without(cell, at))));
    } else {
        let (name, number) = cell.split_at(cell.find(|c: char| c.is_ascii_digit()).unwrap_or(cell.len()));
        changes.push(("id", format!("{name}{}", number.parse::<u32>().unwrap_or(0) + 1)));
    }
    changes
}

fn filled(scene: &Scene, heading: &str) -> String {
    match heading {
        "turn" => "90".into(),
        "turned" => "yes".into(),
        "first" | "second" | "fabric" => scene.letters[0].clone(),
        "strip_side" | "press" => "left".into(),
        "offcut" => "1.1.1.1".into(),
        _ => "1".into(),
    }
}

/// The words without one of them.
fn without(words: &str, at: usize) -> String {
    let kept = words.split_whitespace().enumerate().filter(|(word, _)| *word != at).map(|(_, word)| word);
    kept.collect::<Vec<_>>().join(" ")
}
