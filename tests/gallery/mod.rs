//! The gallery of the sample sketches, and the README's scene among them, are what is composed now.
//!
//! `ROWSCAPE_ACCEPT=1 cargo test --test all gallery` composes the scenes again and writes the page.

mod page;

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use page::Entry;
use rowscape::plan;

fn root(path: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(path)
}

fn read(path: &Path) -> String {
    fs::read_to_string(path).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

/// The sample pictures and what they show, in the order of the samples' README.
fn samples() -> Vec<(String, String)> {
    let text = read(&root("sample-sketches/README.md"));
    let rows = text.lines().filter_map(|line| {
        let cells: Vec<&str> = line.split('|').map(str::trim).collect();
        let [_, name, _, shows, _] = cells.as_slice() else { return None };
        let name = name.trim_matches('`');
        (name.ends_with(".png") || name.ends_with(".jpg")).then(|| (name.to_owned(), (*shows).to_owned()))
    });
    rows.collect()
}

/// What is asked for, apart from the folder to write into.
fn command(picture: &str) -> String {
    format!("compose sample-sketches/{picture} --width 54in")
}

/// Composes a sample as its command does: its drawing and its plan.
fn compose((picture, shows): &(String, String)) -> Entry {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("scene");
    let command = command(picture);
    let mut run = Command::new(env!("CARGO_BIN_EXE_rowscape"));
    let run = run.current_dir(root("")).args(command.split(' ')).arg("--out").arg(&out).output().unwrap();
    assert!(run.status.success(), "{}", String::from_utf8_lossy(&run.stderr));
    let plan = plan::read(&read(&out.join("plan.json"))).unwrap();
    Entry { picture: picture.clone(), shows: shows.clone(), command, plan, drawing: read(&out.join("picture.svg")) }
}

/// What does not stand in the file as it was made; written first where new ones are accepted.
fn outdated(path: &Path, made: &str) -> Option<String> {
    if std::env::var_os("ROWSCAPE_ACCEPT").is_some() {
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, made).unwrap();
    }
    (fs::read_to_string(path).ok().as_deref() != Some(made)).then(|| path.display().to_string())
}

#[test]
fn the_gallery_shows_what_is_composed() {
    let entries: Vec<Entry> = samples().iter().map(compose).collect();
    let scenes = entries.iter().map(|entry| (root("sample-sketches").join(entry.scene()), entry.drawing.clone()));
    let page = (root("sample-sketches/gallery.html"), page::page(&entries));
    let outdated: Vec<String> = scenes.chain([page]).filter_map(|(path, made)| outdated(&path, &made)).collect();
    assert!(
        outdated.is_empty(),
        "not what is composed now: {outdated:?}; run with ROWSCAPE_ACCEPT=1, then look at the gallery"
    );
    every_sample_is_there_and_no_scene_is_left_over();
    stands_alone(&page::page(&entries));
}

fn every_sample_is_there_and_no_scene_is_left_over() {
    let files = |folder: &str, endings: &[&str]| -> Vec<String> {
        let names = fs::read_dir(root(folder)).unwrap().map(|entry| entry.unwrap().file_name().into_string().unwrap());
        let mut names: Vec<String> = names.filter(|name| endings.iter().any(|ending| name.ends_with(ending))).collect();
        names.sort();
        names
    };
    let mut listed: Vec<String> = samples().into_iter().map(|(picture, _)| picture).collect();
    listed.sort();
    assert!(listed.len() >= 6, "{listed:?}");
    assert_eq!(files("sample-sketches", &[".png", ".jpg"]), listed);
    let stems: Vec<String> = listed.iter().map(|name| name.split('.').next().unwrap().to_owned() + ".svg").collect();
    assert_eq!(files("sample-sketches/scenes", &[""]), stems);
}

/// The page asks for nothing but the files beside it.
fn stands_alone(page: &str) {
    assert!(!page.contains("http") && !page.contains("<script") && !page.contains("<link"));
    let shown: Vec<&str> = page.split("src=\"").skip(1).filter_map(|rest| rest.split('"').next()).collect();
    assert_eq!(shown.len(), samples().len() * 2);
    for file in shown {
        assert!(root("sample-sketches").join(file).exists(), "{file}");
    }
}

#[test]
fn the_readme_shows_a_scene_of_the_gallery_with_its_command() {
    let readme = read(&root("README.md"));
    assert!(readme.contains(&format!("{} --out lighthouse", command("lighthouse-dusk.png"))));
    assert!(readme.contains("sample-sketches/scenes/lighthouse-dusk.svg"));
}
