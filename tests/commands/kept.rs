//! The maker's own files stay hers, and inputs without end are refused at once.

use std::path::Path;

use crate::commands::desk::{Desk, FILES, project, rowscape, text};
use crate::commands::hostile::refused;

const LIGHTHOUSE: &str = "sample-sketches/lighthouse-dusk.png";
const SMALL: [&str; 5] = ["--width", "18in", "--colours", "4", "--replace"];

#[test]
fn a_file_that_the_maker_changed_or_made_is_hers() {
    let desk = Desk::new();
    desk.made(LIGHTHOUSE, &SMALL);
    desk.made(LIGHTHOUSE, &SMALL);
    for name in FILES {
        let file = format!("out/{name}");
        let bytes = std::fs::read(desk.path(&file)).unwrap();
        let changed = [&bytes[..], b"\n"].concat();
        desk.write(&file, &changed);
        let run = desk.compose(&project(LIGHTHOUSE), &SMALL);
        refused(&run, name);
        refused(&run, "move it elsewhere, or give another folder");
        assert_eq!(std::fs::read(desk.path(&file)).unwrap(), changed);
        desk.write(&file, bytes);
    }
    desk.made(LIGHTHOUSE, &SMALL);
    let other = Desk::new();
    std::fs::create_dir(other.path("out")).unwrap();
    other.write("out/picture.png", "a photo");
    refused(&other.compose(&project(LIGHTHOUSE), &SMALL), "picture.png");
    assert_eq!(std::fs::read_dir(other.path("out")).unwrap().count(), 1);
    assert_eq!(other.read("out/picture.png"), "a photo");
}

#[test]
fn a_folder_of_an_older_plan_is_refused_with_a_word_of_what_to_do() {
    let desk = Desk::new();
    desk.made(LIGHTHOUSE, &SMALL);
    let mut plan: serde_json::Value = serde_json::from_str(&desk.read("out/plan.json")).unwrap();
    plan.as_object_mut().unwrap().remove("written").unwrap();
    desk.write("out/plan.json", plan.to_string());
    let run = desk.compose(&project(LIGHTHOUSE), &SMALL);
    refused(&run, "noted no digests");
    refused(&run, "move it elsewhere, or give another folder");
    assert!(desk.proof().status.success(), "an older plan is still read");
}

#[test]
fn what_is_being_read_is_not_written_over() {
    let desk = Desk::new();
    desk.made(LIGHTHOUSE, &SMALL);
    let picture = std::fs::read(desk.path("out/picture.png")).unwrap();
    refused(&desk.compose(&desk.path("out/picture.png"), &SMALL), "is being read");
    std::fs::hard_link(desk.path("out/picture.png"), desk.path("linked.png")).unwrap();
    refused(&desk.compose(&desk.path("linked.png"), &SMALL), "which is being read");
    assert_eq!(std::fs::read(desk.path("out/picture.png")).unwrap(), picture);
    let stash = desk.path("out/leftovers.toml");
    let words = ["--width", "18in", "--replace", "--stash", stash.to_str().unwrap()];
    refused(&desk.compose(&project(LIGHTHOUSE), &words), "is being read");
    let mask = desk.path("out/picture.png");
    let words = ["--width", "18in", "--replace", "--focus", mask.to_str().unwrap()];
    refused(&desk.compose(&project(LIGHTHOUSE), &words), "is being read");
    let harbour = desk.write("harbour.toml", std::fs::read(project("sample-sketches/stash-harbour.toml")).unwrap());
    let run = rowscape(&["stash", "families", "--replace", "--out"]).args([&harbour, &harbour]).output().unwrap();
    refused(&run, "is being read");
}

#[cfg(unix)]
#[test]
fn links_are_the_makers_own() {
    let desk = Desk::new();
    desk.made(LIGHTHOUSE, &SMALL);
    let photo = desk.write("photo.png", std::fs::read(project(LIGHTHOUSE)).unwrap());
    std::fs::remove_file(desk.path("out/picture.png")).unwrap();
    std::os::unix::fs::symlink(&photo, desk.path("out/picture.png")).unwrap();
    refused(&desk.compose(&photo, &SMALL), "which is being read");
    refused(&desk.compose(&project(LIGHTHOUSE), &SMALL), "picture.png");
    assert!(desk.path("out/picture.png").is_symlink());
    let linked = Desk::new();
    std::fs::create_dir(linked.path("out")).unwrap();
    std::os::unix::fs::symlink(desk.path("out/plan.json"), linked.path("out/plan.json")).unwrap();
    refused(&linked.compose(&photo, &SMALL), "plan.json");
}

#[test]
fn auditions_and_manual_pages_keep_to_it_too() {
    let desk = Desk::new();
    desk.made(LIGHTHOUSE, &SMALL);
    let tried = || {
        rowscape(&["audition", "--afresh", "--replace", "--stash"])
            .arg(project("sample-sketches/stash-harbour.toml"))
            .arg("--out")
            .args([desk.path("trials"), desk.path("out")])
            .output()
            .unwrap()
    };
    assert!(tried().status.success() && tried().status.success());
    desk.write("trials/auditions.html", desk.read("trials/auditions.html") + "<!-- the third, please -->");
    refused(&tried(), "auditions.html");
    let man = || rowscape(&["man"]).arg(desk.path("man")).output().unwrap();
    assert!(man().status.success() && man().status.success());
    desk.write("man/rowscape.1", "mine");
    refused(&man(), "rowscape.1");
    assert_eq!(desk.read("man/rowscape.1"), "mine");
}

#[cfg(unix)]
#[test]
fn inputs_without_end_are_refused_at_once() {
    let desk = Desk::new();
    desk.made(LIGHTHOUSE, &SMALL);
    assert!(std::process::Command::new("mkfifo").arg(desk.path("pipe")).status().unwrap().success());
    let (zero, pipe, folder) = (Path::new("/dev/zero"), desk.path("pipe"), desk.path(""));
    for endless in [zero, &pipe, &folder] {
        let word = endless.to_str().unwrap();
        for words in [&["--width", "18in", "--stash", word][..], &["--width", "18in", "--focus", word]] {
            refused(&desk.compose_into("new", &project(LIGHTHOUSE), words), "cannot be read: it is a");
        }
        refused(&desk.compose_into("new", endless, &["--width", "18in"]), "cannot be read: it is a");
        let stash = rowscape(&["stash", "check"]).arg(endless).output().unwrap();
        refused(&stash, "cannot be read: it is a");
    }
    for name in ["plan.json", "rows.csv", "cutting.csv", "cloth.csv"] {
        let file = desk.path("out").join(name);
        let bytes = std::fs::read(&file).unwrap();
        std::fs::remove_file(&file).unwrap();
        std::os::unix::fs::symlink(zero, &file).unwrap();
        refused(&desk.proof(), name);
        std::fs::remove_file(&file).unwrap();
        std::fs::write(&file, bytes).unwrap();
    }
    assert!(!desk.path("new").exists(), "{}", text(&desk.proof().stdout));
}
