//! Whatever goes wrong in one of the four files, the proof finds it and says where.

use crate::commands::desk::{Desk, text};
use crate::commands::heap::{self, COUNT, FIRST, FROM, HEIGHT, ID, NEEDED, RECORD, SECOND, SPARE};

fn scene() -> Desk {
    let desk = Desk::new();
    desk.made("sample-sketches/lighthouse-dusk.png", &["--width", "40in"]);
    assert!(desk.proof().status.success());
    desk
}

/// A CSV file's cells, its header first.
pub fn cells(desk: &Desk, file: &str) -> Vec<Vec<String>> {
    let text = desk.read(file);
    let mut reader = csv::ReaderBuilder::new().has_headers(false).from_reader(text.as_bytes());
    reader.records().map(|record| record.unwrap().iter().map(str::to_owned).collect()).collect()
}

fn write(desk: &Desk, file: &str, cells: &[Vec<String>]) {
    let mut writer = csv::Writer::from_writer(Vec::new());
    cells.iter().for_each(|line| writer.write_record(line).unwrap());
    desk.write(file, writer.into_inner().unwrap());
}

/// Changes a file, expects the proof to name one of `places`, and puts the file back.
fn caught(desk: &Desk, file: &str, what: &str, places: &[&str], change: impl Fn(&mut Vec<Vec<String>>)) {
    let before = desk.read(file);
    let mut lines = cells(desk, file);
    change(&mut lines);
    write(desk, file, &lines);
    assert!(desk.read(file) != before, "{what} changed nothing");
    named(desk, what, places);
    desk.write(file, before);
}

fn named(desk: &Desk, what: &str, places: &[&str]) {
    let proof = desk.proof();
    let message = text(&proof.stderr);
    assert_eq!(proof.status.code(), Some(2), "{what} was not caught");
    assert!(places.iter().any(|place| message.contains(place)), "{what}: none of {places:?} in {message}");
}

fn find(lines: &[Vec<String>], holds: impl Fn(&[String]) -> bool) -> usize {
    lines.iter().position(|line| holds(line)).expect("a line to change")
}

#[test]
fn rows_that_were_changed_are_found() {
    let desk = scene();
    let (rows, lines) = ("out/rows.csv", cells(&desk, "out/rows.csv"));
    let whole = find(&lines, |line| ["big", "small", "mini"].contains(&line[2].as_str()));
    let cut = find(&lines, |line| line[2].ends_with("trimmed"));
    let filler = find(&lines, |line| line[2] == "filler");
    let [whole_at, cut_at, filler_at] = [whole, cut, filler].map(|line| lines[line][1].clone());
    caught(&desk, rows, "a width off by 1/16", &[&whole_at], |lines| lines[whole][6] = "8.9375".into());
    caught(&desk, rows, "a cut off by 1/16", &[&filler_at], |lines| {
        let width: f64 = lines[filler][10].parse().unwrap();
        lines[filler][10] = (width + 0.0625).to_string();
    });
    caught(&desk, rows, "a wrong turn", &[&whole_at], |lines| {
        let turn: u32 = lines[whole][5].parse().unwrap();
        lines[whole][5] = ((turn + 90) % 360).to_string();
    });
    caught(&desk, rows, "a swapped strip", &[&cut_at], |lines| {
        let other = match lines[cut][14].as_str() {
            "left" => "right",
            "right" => "left",
            "top" => "bottom",
            _ => "top",
        };
        lines[cut][14] = other.into();
    });
    caught(&desk, rows, "two fabrics exchanged", &[&whole_at], |lines| lines[whole].swap(3, 4));
    caught(&desk, rows, "a dropped unit", &[&whole_at, "1.1."], |lines| {
        lines.remove(whole);
    });
    let row = lines[find(&lines, |line| line[0] == "row" && line[1].ends_with(".2"))][1].clone();
    let after = format!("{}.3", row.trim_end_matches(".2"));
    caught(&desk, rows, "a dropped row", &[&row, &after], |lines| {
        lines.retain(|line| line[1] != row && !line[1].starts_with(&format!("{row}.")));
    });
}

#[test]
fn cutting_that_was_changed_is_found() {
    let desk = scene();
    let (cutting, lines) = ("out/cutting.csv", cells(&desk, "out/cutting.csv"));
    let pair = find(&lines, |line| line[0] == "pair");
    let filler = find(&lines, |line| line[0] == "filler");
    caught(&desk, cutting, "a missing pair", &["P1"], |lines| {
        lines.remove(pair);
    });
    caught(&desk, cutting, "a pair too few", &["P1"], |lines| lines[pair][9] = "0".into());
    caught(&desk, cutting, "a width off by 1/16", &["P1"], |lines| lines[pair][7] = "9.5625".into());
    caught(&desk, cutting, "two fabrics exchanged", &["P1", "1.1."], |lines| lines[pair][2] = "ZZ".into());
    caught(&desk, cutting, "another method", &["P1"], |lines| {
        lines[pair][4] = if lines[pair][4] == "eight" { "four".into() } else { "eight".into() };
    });
    caught(&desk, cutting, "a filler off by 1/16", &["F1", "1."], |lines| {
        let width: f64 = lines[filler][7].parse().unwrap();
        lines[filler][7] = (width - 0.0625).to_string();
    });
    caught(&desk, cutting, "a filler too few", &["F1", "1."], |lines| {
        let count: u32 = lines[filler][9].parse().unwrap();
        lines[filler][9] = (count - 1).to_string();
    });
}

#[test]
fn plans_that_were_changed_are_found() {
    let desk = scene();
    let plan = desk.read("out/plan.json");
    let changed = |what: &str, places: &[&str], change: &dyn Fn(&mut serde_json::Value)| {
        let mut value: serde_json::Value = serde_json::from_str(&plan).unwrap();
        change(&mut value);
        desk.write("out/plan.json", value.to_string());
        named(&desk, what, places);
    };
    let unit = "/bands/0/columns/0/rows/0/units/0";
    changed("a width", &["1.1.1.1", "1.1.1"], &|plan| {
        let width = plan.pointer(&format!("{unit}/width")).unwrap().as_u64().unwrap();
        *plan.pointer_mut(&format!("{unit}/width")).unwrap() = (width + 1).into();
    });
    changed("a fabric", &["1.1.1.1"], &|plan| {
        *plan.pointer_mut(&format!("{unit}/patches/0/fabric")).unwrap() = "L".into();
    });
    changed("a corner moved", &["1.1.1.1"], &|plan| {
        *plan.pointer_mut(&format!("{unit}/patches/0/outline/1/0")).unwrap() = 1.into();
    });
    changed("a dropped row", &["1.1"], &|plan| {
        plan.pointer_mut("/bands/0/columns/0/rows").unwrap().as_array_mut().unwrap().remove(0);
    });
    changed("another seam", &["a seam of 1/4 in was measured"], &|plan| {
        *plan.pointer_mut("/request/seam/working").unwrap() = "5/16 in".into();
    });
    changed("another grid", &["out: 1", "top", "P1"], &|plan| {
        *plan.pointer_mut("/request/grid").unwrap() = "1 in".into();
    });
}

// Columns of cloth.csv.
const FABRIC: usize = 1;
const SHEETS: usize = 3;
const PLACE: usize = 9;
const WIDTH: usize = 10;
const FOR: usize = 12;

#[test]
fn cloth_that_was_changed_is_found() {
    let desk = scene();
    let (cloth, lines) = ("out/cloth.csv", cells(&desk, "out/cloth.csv"));
    let filler = find(&lines, |line| line[FOR].starts_with('F'));
    let beside = find(&lines, |line| line[FOR].starts_with('F') && line[PLACE] != "0");
    let square = find(&lines, |line| line[FOR].starts_with('P') && line[WIDTH] == "10");
    let [sheet, next_to, whole] = [filler, beside, square].map(|line| lines[line][0].clone());
    let (id, pair) = (lines[filler][FOR].clone(), lines[square][FOR].clone());
    caught(&desk, cloth, "a piece beyond the edge", &[&sheet], |lines| lines[filler][PLACE] = "41.9".into());
    caught(&desk, cloth, "a piece over another", &[&next_to], |lines| lines[beside][PLACE] = "0".into());
    caught(&desk, cloth, "a dropped piece", &[&id], |lines| {
        lines.remove(filler);
    });
    caught(&desk, cloth, "a dropped square", &[&pair], |lines| {
        lines.remove(square);
    });
    caught(&desk, cloth, "a piece twice", &[&sheet], |lines| lines.insert(filler, lines[filler].clone()));
    caught(&desk, cloth, "a width off by 1/16", &[&sheet], |lines| {
        let width: f64 = lines[filler][WIDTH].parse().unwrap();
        lines[filler][WIDTH] = (width - 0.0625).to_string();
    });
    let other = lines.iter().skip(1).find(|line| line[FABRIC] != lines[square][FABRIC]).unwrap()[FABRIC].clone();
    caught(&desk, cloth, "another fabric", &[&whole, &pair], |lines| lines[square][FABRIC] = other.clone());
    caught(&desk, cloth, "a sheet too many", &[&pair], |lines| {
        let sheets: u32 = lines[square][SHEETS].parse().unwrap();
        lines[square][SHEETS] = (sheets + 1).to_string();
    });
}

#[test]
fn sheets_that_the_stash_has_not_are_found() {
    let desk = Desk::new();
    let stash = crate::commands::desk::project("sample-sketches/stash-two-packs.toml");
    desk.made("sample-sketches/lighthouse-dusk.png", &["--width", "40in", "--stash", stash.to_str().unwrap()]);
    let (cloth, lines) = ("out/cloth.csv", cells(&desk, "out/cloth.csv"));
    let square = find(&lines, |line| line[2] == "square");
    let sheet = lines[square][0].clone();
    caught(&desk, cloth, "more squares than there are", &["and there are"], |lines| {
        lines.iter_mut().filter(|line| line[0] == sheet).for_each(|line| line[SHEETS] = "41".into());
    });
    caught(&desk, cloth, "a square that nobody has", &["is not there"], |lines| {
        lines.iter_mut().filter(|line| line[0] == sheet).for_each(|line| line[4..6].fill("12".into()));
    });
    caught(&desk, cloth, "a square that is bought", &["a bought square of 10"], |lines| {
        lines.iter_mut().filter(|line| line[0] == sheet).for_each(|line| line[2] = "bought square".into());
    });
    let plan = desk.read("out/plan.json");
    let mut fewer: serde_json::Value = serde_json::from_str(&plan).unwrap();
    for fabric in fewer["fabrics"].as_array_mut().unwrap() {
        fabric["supply"]["squares"] = serde_json::json!([]);
    }
    desk.write("out/plan.json", fewer.to_string());
    named(&desk, "a stash without squares", &["is not there"]);
}

/// A whole number in a cell, changed.
fn add(cell: &mut String, more: i64) {
    *cell = (cell.parse::<i64>().unwrap() + more).to_string();
}

#[test]
fn pieces_on_hand_that_were_changed_are_found() {
    let desk = heap::made();
    let (cutting, lines) = ("out/cutting.csv", cells(&desk, "out/cutting.csv"));
    let rows = cells(&desk, "out/rows.csv");
    for record in ["unit on hand", "left slice on hand", "right slice on hand", "filler on hand"] {
        let Some(at) = lines.iter().position(|line| line[RECORD] == record) else { continue };
        let id = lines[at][ID].clone();
        let user = &rows[find(&rows, |line| line[FROM] == id)][1];
        let fault = format!("at {id}");
        let (line, used) = ([fault.as_str(), &id], [user.as_str(), &id]);
        caught(&desk, cutting, "one piece too many", &line, |lines| {
            add(&mut lines[at][COUNT], 1);
            add(&mut lines[at][SPARE], 1);
        });
        caught(&desk, cutting, "one piece used too many", &line, |lines| {
            add(&mut lines[at][NEEDED], 1);
            add(&mut lines[at][SPARE], -1);
        });
        caught(&desk, cutting, "needed and spare that are not the count", &line, |lines| add(&mut lines[at][SPARE], 1));
        caught(&desk, cutting, "a size off by 1/16", &used, |lines| {
            for side in [heap::WIDTH, HEIGHT] {
                let size: f64 = lines[at][side].parse().unwrap();
                lines[at][side] = (size + 0.0625).to_string();
            }
        });
        let letters = [lines[at][FIRST].clone(), lines[at][SECOND].clone()];
        let other = ["A", "B", "C"].into_iter().find(|letter| !letters.iter().any(|known| known == letter)).unwrap();
        let twice = [user, &id, "would be counted twice"];
        caught(&desk, cutting, "another fabric", &twice, |lines| lines[at][FIRST] = other.into());
        caught(&desk, cutting, "a fabric that is none", &line, |lines| lines[at][FIRST] = "ZZ".into());
        caught(&desk, cutting, "a dropped line", &used, |lines| {
            lines.remove(at);
        });
    }
}
