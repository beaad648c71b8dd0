//! The scene in its fabrics as they were photographed: a file that is written where any was, and proved.

use std::path::Path;

use crate::commands::desk::{Desk, project, rowscape, text};
use crate::commands::hostile::refused;
use crate::commands::stash::table_top;

const SAMPLE: &str = "sample-sketches/lighthouse-dusk.png";

/// A desk with a stash of six photographed fabrics, free to use, and a scene of them.
fn desk() -> Desk {
    let desk = Desk::new();
    let photo = table_top(&desk);
    let stash = desk.path("mine.toml");
    let mut run = rowscape(&["stash", "photo", &photo, "--paper", "630,900", "--swatch-width", "4in", "--out"]);
    assert!(run.arg(&stash).output().unwrap().status.success());
    desk.made(SAMPLE, &["--width", "27in", "--stash", stash.to_str().unwrap()]);
    desk
}

#[test]
fn it_is_written_and_proved_pixel_by_pixel() {
    let desk = desk();
    let pictured = desk.path("out/prints.png");
    let whole = image::open(&pictured).unwrap().into_rgb8();
    assert_eq!(whole.width().max(whole.height()), 1600);
    assert!(desk.read("out/plan.json").contains("\"prints.png\"") && desk.proof().status.success());
    // Blocks of another colour; a seam comes near few of them as a whole.
    for (x, y) in [(400, 300), (800, 900), (1100, 1300)] {
        let mut other = whole.clone();
        (0..400).for_each(|at| {
            other.put_pixel(x + at % 20, (y + at / 20).min(whole.height() - 1), image::Rgb([9, 250, 9]))
        });
        other.save(&pictured).unwrap();
        let told = desk.proof();
        assert!(!told.status.success() && text(&told.stderr).contains("prints.png"), "{}", text(&told.stderr));
    }
    image::imageops::flip_vertical(&whole).save(&pictured).unwrap();
    assert!(!desk.proof().status.success());
    desk.write("out/prints.png", "no picture");
    assert!(text(&desk.proof().stderr).contains("it cannot be read"));
    std::fs::remove_file(&pictured).unwrap();
    assert!(text(&desk.proof().stderr).contains("it is missing"));
}

#[test]
fn beside_one_of_another_scene_nothing_is_written() {
    let desk = desk();
    let again = |out: &Path| {
        let mut run = rowscape(&["compose", "--width", "27in", "--replace"]);
        run.arg(project(SAMPLE)).arg("--out").arg(out).output().unwrap()
    };
    refused(&again(&desk.path("out")), "whose fabrics were photographed");
    assert!(again(&desk.path("then")).status.success() && !desk.path("then/prints.png").exists());
    desk.write("then/prints.png", std::fs::read(desk.path("out/prints.png")).unwrap());
    let told = rowscape(&["proof"]).arg(desk.path("then")).output().unwrap();
    assert!(text(&told.stderr).contains("no fabric of the plan has a photograph"), "{}", text(&told.stderr));
}
