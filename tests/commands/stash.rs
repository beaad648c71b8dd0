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
