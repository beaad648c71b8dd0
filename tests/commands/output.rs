//! What is written: complete, the same on every run, in the published shapes.

use crate::commands::desk::{Desk, FILES, project, rowscape, text};

const LIGHTHOUSE: &str = "sample-sketches/lighthouse-dusk.png";

/// Choices that scenes are made with: each is written, proven, and holds together.
const CHOICES: [&[&str]; 11] = [
    &["--width", "27in"],
    &["--width", "27in", "--depth", "rows"],
    &["--width", "27in", "--suit", "full", "--trims", "many", "--near-pairs", "few"],
    &["--height", "36in", "--square", "10in/4", "--colours", "6"],
    &["--width", "60cm", "--height", "80cm"],
    &["--width", "60cm", "--square", "18.5cm", "--seam", "0.6cm", "--row-ends", "spare"],
    &["--width", "27in", "--height", "36in", "--row-ends", "spare", "--seam", "0.27in"],
    &["--width", "27in", "--height", "20in", "--crop", "whole", "--colours", "20"],
    &["--width", "27in", "--square", "10in", "--square", "5in", "--strips", "none"],
    &["--width", "27in", "--stash", "sample-sketches/stash-harbour.toml"],
    &["--width", "27in", "--cloth-width", "8in", "--detail", "finest", "--triangles", "few", "--focus", "none"],
];

#[derive(Default)]
struct Area {
    triangles: f64,
    all: f64,
    whole: usize,
    trimmed: usize,
}

/// Areas by kind, from rows.csv alone.
fn area(rows: &str) -> Area {
    let mut reader = csv::Reader::from_reader(rows.as_bytes());
    let mut area = Area::default();
    for record in reader.records().map(Result::unwrap).filter(|record| &record[0] == "unit") {
        let cells = record[6].parse::<f64>().unwrap() * record[7].parse::<f64>().unwrap();
        area.all += cells;
        if &record[2] != "filler" {
            area.triangles += cells;
            assert_ne!(record[3], record[4], "{} joins a fabric to itself", &record[1]);
        }
        area.whole += usize::from(["big", "small", "mini"].contains(&&record[2]));
        area.trimmed += usize::from(record[2].ends_with("trimmed"));
    }
    area
}

#[test]
fn every_choice_is_written_and_proven() {
    for words in CHOICES {
        let desk = Desk::new();
        let run = rowscape(&["compose", LIGHTHOUSE, "--out"])
            .arg(desk.path("out"))
            .args(words)
            .current_dir(project(""))
            .output()
            .unwrap();
        assert!(run.status.success(), "{words:?}: {}", text(&run.stderr));
        let mut names: Vec<String> = std::fs::read_dir(desk.path("out"))
            .unwrap()
            .map(|entry| entry.unwrap().file_name().into_string().unwrap())
            .collect();
        names.sort();
        let mut due = FILES;
        due.sort_unstable();
        assert_eq!(names, due, "{words:?}");
        let proof = desk.proof();
        assert!(proof.status.success(), "{words:?}: {}", text(&proof.stderr));
        drawing_matches(&desk, words);
    }
}

/// One polygon a patch, in inches, its areas adding up to the top; units as in rows.csv.
fn drawing_matches(desk: &Desk, words: &[&str]) {
    let svg = desk.read("out/picture.svg");
    let drawing = roxmltree::Document::parse(&svg).unwrap();
    let sides: Vec<f64> =
        drawing.root_element().attribute("viewBox").unwrap().split(' ').map(|n| n.parse().unwrap()).collect();
    let polygons: Vec<_> = drawing.descendants().filter(|node| node.has_tag_name("polygon")).collect();
    let total: f64 = polygons.iter().map(|polygon| shoelace(polygon.attribute("points").unwrap())).sum();
    assert!((total - sides[2] * sides[3]).abs() < 0.01, "{words:?}: {total} of {}", sides[2] * sides[3]);
    let rows = desk.read("out/rows.csv");
    let metric = rows.lines().next().unwrap().contains("_cm");
    let area = area(&rows);
    let inches = if metric { area.all / 2.54 / 2.54 } else { area.all };
    assert!((inches - total).abs() < 0.01, "{words:?}: rows.csv covers {inches}, the picture {total}");
    for polygon in polygons {
        let unit = polygon.attribute("data-unit").unwrap();
        assert!(rows.contains(&format!("unit,{unit},")), "{unit}");
        assert!(polygon.attribute("fill").unwrap().starts_with('#'));
        assert!(polygon.attribute("data-kind").is_some() && polygon.attribute("data-fabric").is_some());
    }
}

fn shoelace(points: &str) -> f64 {
    let corners: Vec<(f64, f64)> = points
        .split_whitespace()
        .map(|corner| corner.split_once(',').unwrap())
        .map(|(x, y)| (x.parse().unwrap(), y.parse().unwrap()))
        .collect();
    let next = corners.iter().cycle().skip(1);
    (corners.iter().zip(next).map(|(a, b)| a.0 * b.1 - b.0 * a.1).sum::<f64>() / 2.0).abs()
}

#[test]
fn the_same_bytes_on_one_thread_and_two() {
    for (picture, suit) in [("headland-photo.jpg", "none"), ("moonrise-sail.png", "full")] {
        let desk = Desk::new();
        for (out, threads) in [("one", "1"), ("two", "2"), ("again", "2")] {
            let run = rowscape(&["compose", "--width", "36in", "--suit", suit, "--out"])
                .arg(desk.path(out))
                .arg(project("sample-sketches").join(picture))
                .env("RAYON_NUM_THREADS", threads)
                .output()
                .unwrap();
            assert!(run.status.success(), "{}", text(&run.stderr));
        }
        for file in FILES {
            let bytes = |out: &str| std::fs::read(desk.path(out).join(file)).unwrap();
            assert!(bytes("one") == bytes("two") && bytes("two") == bytes("again"), "{picture}: {file} differs");
        }
    }
}

#[test]
fn plans_are_what_the_schema_says() {
    let desk = Desk::new();
    desk.made(LIGHTHOUSE, &["--width", "27in"]);
    let schema: serde_json::Value = serde_json::from_slice(&rowscape(&["schema"]).output().unwrap().stdout).unwrap();
    let validator = jsonschema::validator_for(&schema).unwrap();
    let plan: serde_json::Value = serde_json::from_str(&desk.read("out/plan.json")).unwrap();
    if let Err(error) = validator.validate(&plan) {
        panic!("{error}");
    }
    for (pointer, value) in [("/request/width", "wide"), ("/bands/0/height", "9"), ("/fabrics/0/colour", "red")] {
        let mut wrong = plan.clone();
        *wrong.pointer_mut(pointer).unwrap() = value.into();
        assert!(!validator.is_valid(&wrong), "{pointer} may be {value}");
    }
    assert!(rowscape::plan::read(&desk.read("out/plan.json")).is_ok());
}

/// Photos: at least half of the area is triangle units, and more of them are whole than trimmed.
#[test]
fn photos_become_mostly_triangles() {
    for photo in ["tests/data/photos/sunset_hills.jpg", "tests/data/photos/china_pagoda_lake.jpg"] {
        for square in ["10in", "10in/4"] {
            let desk = Desk::new();
            desk.made(photo, &["--width", "72in", "--height", "54in", "--square", square]);
            let area = area(&desk.read("out/rows.csv"));
            let share = area.triangles / area.all;
            assert!(share >= 0.5, "{photo} {square}: {share}");
            assert!(area.whole > area.trimmed, "{photo} {square}: {} whole, {} trimmed", area.whole, area.trimmed);
        }
    }
}

/// 6.718 is published as 6.72 (mathematics teacher's how-to page, Feb 2012); 9.646 and 4.646 are c - s√2 and
/// c/2 - s√2, worked out by hand.
#[test]
fn sizes_for_machines() {
    let words = ["sizes", "--square", "10in", "--seam", "1/4in", "--grid", "1/2in", "--json"];
    let sizes: serde_json::Value = serde_json::from_slice(&rowscape(&words).output().unwrap().stdout).unwrap();
    let due = [(2, 9.646, 9.5, 9.0), (4, 6.718, 6.5, 6.0), (8, 4.646, 4.5, 4.0)];
    assert_eq!(sizes.as_array().unwrap().len(), due.len());
    for (size, (at_a_time, exact, trimmed, finished)) in sizes.as_array().unwrap().iter().zip(due) {
        assert_eq!(size["at_a_time"], at_a_time);
        assert!((size["exact_unfinished"].as_f64().unwrap() - exact).abs() < 0.001);
        assert_eq!((size["trimmed"].as_f64(), size["finished"].as_f64()), (Some(trimmed), Some(finished)));
    }
    assert_eq!(sizes[0]["mains"], serde_json::json!([8.0, 7.0, 6.0]));
    assert_eq!(sizes[0]["slices"], serde_json::json!([0.5, 1.5, 2.5]));
}

#[test]
fn help_completions_and_manual_pages() {
    for command in ["compose", "audition", "sizes", "proof", "schema", "completions", "man"] {
        let run = rowscape(&[command, "--help"]).output().unwrap();
        assert!(run.status.success() && text(&run.stdout).contains("Example"), "{command} shows no example");
    }
    for shell in ["bash", "zsh", "fish"] {
        let run = rowscape(&["completions", shell]).output().unwrap();
        assert!(text(&run.stdout).contains("compose"), "{shell}");
    }
    let desk = Desk::new();
    assert!(rowscape(&["man"]).arg(desk.path("man")).output().unwrap().status.success());
    assert!(desk.read("man/rowscape-compose.1").contains("rowscape compose sample"));
}
