//! What README and help show is run as it stands there.

use std::path::Path;

use crate::commands::desk::{Desk, project, rowscape, text};
use crate::swatch::pack_beside_paper;

const HELP: [&[&str]; 8] = [
    &["compose"],
    &["revise"],
    &["audition"],
    &["files"],
    &["sizes"],
    &["stash", "check"],
    &["stash", "families"],
    &["schema"],
];

/// Words of each example, in the order in which they are shown.
fn examples() -> Vec<Vec<String>> {
    let help = HELP.iter().map(|words| text(&rowscape(words).arg("--help").output().unwrap().stdout));
    let mut examples: Vec<String> = help.flat_map(|help| of_help(&help)).collect();
    let readme = std::fs::read_to_string(project("README.md")).unwrap().replace("cargo run --release -- ", "rowscape ");
    examples.extend(readme.split(['`', '\n']).filter(|code| code.starts_with("rowscape ")).map(str::to_owned));
    let command = |example: &String| example.split('>').next().unwrap_or_default().trim().to_owned();
    examples.iter().map(command).map(|line| line.split(' ').skip(1).map(str::to_owned).collect()).collect()
}

/// The examples at the end of a help, each on one line again.
fn of_help(help: &str) -> Vec<String> {
    let mut examples: Vec<String> = Vec::new();
    let lines = help.split("Examples:\n").nth(1).expect("there are examples").lines();
    for line in lines.take_while(|line| line.starts_with("  ")).map(str::trim) {
        match examples.last_mut() {
            Some(last) if !line.starts_with("rowscape ") => last.extend([" ", line]),
            _ => examples.push(line.to_owned()),
        }
    }
    examples
}

/// A place with what a maker has: her photos and her stash, beside the samples.
fn table() -> Desk {
    let desk = Desk::new();
    let samples = project("sample-sketches");
    std::fs::create_dir(desk.path("sample-sketches")).unwrap();
    for entry in std::fs::read_dir(&samples).unwrap().map(|entry| entry.unwrap().path()) {
        if entry.is_file() {
            std::fs::copy(&entry, desk.path("sample-sketches").join(entry.file_name().unwrap())).unwrap();
        }
    }
    let photo = image::open(samples.join("headland-photo.jpg")).unwrap();
    let photo = photo.resize_exact(960, 1280, image::imageops::FilterType::Triangle);
    ["headland.jpg", "harbour.jpg", "cliffs.jpg"].iter().for_each(|name| photo.save(desk.path(name)).unwrap());
    desk.write("pack.heic", pack_beside_paper(620.0));
    desk.write("my-fabrics.toml", std::fs::read(samples.join("stash-cottage.toml")).unwrap());
    desk
}

fn run(desk: &Desk, words: &[String]) {
    let folder = if words[0] == "man" { "pages" } else { "lighthouse" };
    let words: Vec<&str> = words.iter().map(|word| if word == "FOLDER" { folder } else { word }).collect();
    if let Some(at) = words.iter().position(|word| *word == "--out") {
        let out = desk.path(words[at + 1]);
        let removed = if out.is_dir() { std::fs::remove_dir_all(&out) } else { std::fs::remove_file(&out) };
        assert!(removed.is_ok() || !Path::exists(&out));
    }
    let run = rowscape(&words).current_dir(desk.path("")).output().unwrap();
    assert!(run.status.success(), "rowscape {}: {}", words.join(" "), text(&run.stderr));
}

/// All but the search for a largest top, which `largest` runs on a smaller stash.
#[test]
fn every_example_can_be_run() {
    let desk = table();
    let examples = examples();
    let (compose, others): (Vec<_>, Vec<_>) = examples
        .iter()
        .filter(|words| !words.iter().any(|word| word == "--largest"))
        .partition(|words| words[0] == "compose");
    assert!(compose.len() >= 6 && others.len() >= 14, "{} and {}", compose.len(), others.len());
    compose.into_iter().chain(others).for_each(|words| run(&desk, words));
}
