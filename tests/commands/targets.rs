//! Folders that cannot be written into, that hold half a scene, or other things: nothing is harmed or left behind.

use crate::commands::desk::{Desk, project};
use crate::commands::hostile::refused;

const WIDTH: [&str; 2] = ["--width", "27in"];
const SKETCH: &str = "sample-sketches/lighthouse-dusk.png";

#[test]
fn places_where_nothing_can_be_written() {
    let desk = Desk::new();
    let long = "lighthouse".repeat(40);
    for place in ["/proc/rowscape", "/proc/version", "/proc/version/out", "/dev/null", long.as_str()] {
        let run = desk.compose_into(place, &project(SKETCH), &WIDTH);
        refused(&run, &place[..5]);
        let run = desk.compose_into(place, &project(SKETCH), &["--width", "27in", "--replace"]);
        refused(&run, &place[..5]);
    }
    assert_eq!(std::fs::read_dir(desk.path("")).unwrap().count(), 0);
}

#[test]
fn what_only_has_a_scenes_names_is_not_written_over() {
    let desk = Desk::new();
    for name in ["plan.json", "picture.svg", "picture.png", "build-list.html", "rows.csv", "cutting.csv", "cloth.csv"] {
        std::fs::create_dir(desk.path("out")).unwrap();
        desk.write(&format!("out/{name}"), "an evening's work");
        for words in [&WIDTH[..], &["--width", "27in", "--replace"]] {
            refused(&desk.compose(&project(SKETCH), words), name);
        }
        assert_eq!(desk.read(&format!("out/{name}")), "an evening's work");
        assert_eq!(std::fs::read_dir(desk.path("out")).unwrap().count(), 1, "{name}");
        std::fs::remove_dir_all(desk.path("out")).unwrap();
    }
}

#[test]
fn other_files_in_the_folder_stay() {
    let desk = Desk::new();
    std::fs::create_dir_all(desk.path("out/plans")).unwrap();
    desk.write("out/letter.txt", "dear guild");
    desk.made(SKETCH, &WIDTH);
    desk.made(SKETCH, &["--width", "27in", "--replace"]);
    assert_eq!(desk.read("out/letter.txt"), "dear guild");
    assert_eq!(std::fs::read_dir(desk.path("out")).unwrap().count(), 10);
    assert!(desk.proof().status.success());
}

/// Loops of links and links to nowhere (Unix).
#[cfg(unix)]
#[test]
fn links_that_lead_nowhere() {
    let desk = Desk::new();
    std::os::unix::fs::symlink(desk.path("round"), desk.path("round")).unwrap();
    refused(&desk.compose_into("round", &project(SKETCH), &WIDTH), "round");
    refused(&desk.compose(&desk.path("round"), &WIDTH), "round");
}
