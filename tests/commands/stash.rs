//! `stash`: a stash looked through, and families proposed for it.

use std::process::Output;

use crate::commands::desk::{Desk, project, rowscape, text};
use crate::commands::hostile::refused;

const SKY: &str = "[[fabric]]\nletter = \"A\"\nname = \"sky\"\ncolour = \"#8fb0c9\" # blue\n";

fn run(words: &[&str]) -> Output {
    rowscape(&["stash"]).args(words).env("COLUMNS", "80").output().unwrap()
}

fn made(words: &[&str]) -> String {
    let output = run(words);
    assert!(output.status.success(), "{words:?}: {}", text(&output.stderr));
    text(&output.stdout)
}

#[test]
fn checks_and_draws() {
    let desk = Desk::new();
    let stash = project("sample-sketches/stash-two-packs.toml");
    let (stash, png) = (stash.to_str().unwrap(), desk.path("swatches.png"));
    let words = ["check", stash, "--picture", png.to_str().unwrap()];
    assert!(made(&words).contains("swatches.png"));
    let first = std::fs::read(&png).unwrap();
    assert_eq!(image::load_from_memory(&first).unwrap().width(), 1360);
    std::fs::write(&png, "a letter").unwrap();
    refused(&run(&words), "--replace");
    assert_eq!(desk.read("swatches.png"), "a letter");
    made(&[words.as_slice(), &["--replace"]].concat());
    assert_eq!(std::fs::read(&png).unwrap(), first);
}

#[test]
fn stashes_and_targets_that_cannot_be() {
    let desk = Desk::new();
    let broken = desk.write("broken.toml", SKY.replace("#8fb0c9", "bluish"));
    let sky = desk.write("sky.toml", SKY);
    let (broken, sky) = (broken.to_str().unwrap(), sky.to_str().unwrap());
    let (folder, nowhere) = (desk.path(""), desk.path("no/such/file"));
    let (folder, nowhere) = (folder.to_str().unwrap(), nowhere.to_str().unwrap());
    for command in ["check", "families"] {
        refused(&run(&[command, broken]), "`bluish` is not a colour");
        refused(&run(&[command, broken]), "── here");
        refused(&run(&[command, nowhere]), "cannot be read");
        refused(&run(&[command, folder]), "cannot be read");
    }
    for words in [["check", sky, "--picture"], ["families", sky, "--out"]] {
        refused(&run(&[words.as_slice(), &[folder]].concat()), "is a folder");
        refused(&run(&[words.as_slice(), &[nowhere]].concat()), "give a folder that is there");
        refused(&run(&[words.as_slice(), &[sky]].concat()), "--replace");
    }
    assert_eq!(desk.read("sky.toml"), SKY);
    assert_eq!(std::fs::read_dir(desk.path("")).unwrap().count(), 2, "something was left behind");
}

#[test]
fn families_are_printed_or_written() {
    let desk = Desk::new();
    let sky = desk.write("sky.toml", SKY);
    let (sky, out) = (sky.to_str().unwrap(), desk.path("new.toml"));
    let wanted = format!("{SKY}family = \"light dusty blue\"\n");
    assert_eq!(made(&["families", sky]), wanted);
    assert!(made(&["families", sky, "--out", out.to_str().unwrap()]).contains("light dusty blue: A sky"));
    assert_eq!(desk.read("new.toml"), wanted);
    let again = made(&["families", out.to_str().unwrap(), "--out", sky, "--replace"]);
    assert!(again.contains("nothing was added"), "{again}");
    assert_eq!(desk.read("sky.toml"), wanted);
}

/// Six plain squares and a sheet of white on grey.
pub fn table_top(desk: &Desk) -> String {
    let ink = [[200, 40, 50], [40, 60, 150], [230, 200, 60], [40, 120, 70], [120, 60, 130], [240, 150, 60]];
    let picture = image::RgbImage::from_fn(1260, 1080, |x, y| {
        let (x, y) = (x / 3, y / 3);
        let (column, row) = (x / 140, y / 120);
        let within = (20..120).contains(&(x % 140)) && (10..110).contains(&(y % 120));
        match (within, row) {
            (true, 0 | 1) => image::Rgb(ink[(row * 3 + column) as usize]),
            (true, 2) if column == 1 => image::Rgb([238; 3]),
            _ => image::Rgb([128, 126, 122]),
        }
    });
    let path = desk.path("table.png");
    picture.save(&path).unwrap();
    path.to_str().unwrap().to_owned()
}

#[test]
fn a_photo_becomes_a_stash_and_a_picture_of_what_was_taken() {
    let desk = Desk::new();
    let photo = table_top(&desk);
    let (out, png) = (desk.path("mine.toml"), desk.path("taken.png"));
    let (out, png) = (out.to_str().unwrap(), png.to_str().unwrap());
    let words = ["photo", photo.as_str(), "--paper", "630,900", "--pack", "10in,14", "--out", out, "--picture", png];
    let said = made(&words);
    for part in ["mine.toml", "taken.png", "certain", "plain"] {
        assert!(said.contains(part), "{part}: {said}");
    }
    let stash = rowscape::fabric::Stash::read(&desk.read("mine.toml")).unwrap();
    assert_eq!(stash.prints.len(), 6, "{said}");
    let counts: Vec<u32> = stash.prints.iter().map(|print| print.supply.as_ref().unwrap().squares[0].count).collect();
    assert_eq!(counts, [3, 3, 2, 2, 2, 2]);
    assert!(stash.prints.iter().all(|print| print.thumbnail.is_some()));
    assert_eq!(image::open(png).unwrap().width(), 1024);
    refused(&run(&words), "is there already");
    made(&[words.as_slice(), &["--replace"]].concat());
    assert!(made(&["check", out]).contains("6 fabrics"));
    for (more, says) in [
        (["--tap", "9"].as_slice(), "whole numbers of pixels"),
        (&["--tap", "2:9,9"], "there is no photo 2"),
        (&["--box", "1,2,3"], "whole numbers of pixels"),
        (&["--squares", "ten"], "the side and how many"),
        (&["--picture", out], "is there already"),
    ] {
        let other = desk.path("other.toml");
        let output = run(&[&["photo", photo.as_str(), "--out", other.to_str().unwrap()], more].concat());
        assert_eq!(output.status.code(), Some(2));
        assert!(text(&output.stderr).contains(says), "{says}: {}", text(&output.stderr));
        assert!(!other.exists());
    }
    refused(
        &run(&["photo", &desk.write("letter.txt", "dear all").display().to_string(), "--out", "x.toml"]),
        "text file",
    );
}
