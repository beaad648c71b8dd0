//! `revise` as a maker would run it.

use crate::commands::desk::{Desk, rowscape, text};

fn revise(desk: &Desk, out: &str, words: &[&str]) -> std::process::Output {
    rowscape(&["revise"]).arg(desk.path("out")).arg("--out").arg(desk.path(out)).args(words).output().unwrap()
}

fn said(desk: &Desk, out: &str, words: &[&str]) -> String {
    let run = revise(desk, out, words);
    assert!(run.status.success(), "{words:?}: {}", text(&run.stderr));
    text(&run.stdout)
}

#[test]
fn a_revision_is_proven_and_keeps_the_old_plan() {
    let desk = Desk::new();
    desk.made("sample-sketches/moonrise-sail.png", &["--width", "36in"]);
    let old = desk.read("out/plan.json");
    let told = said(&desk, "new", &["--keep", "1", "--without", "B"]);
    assert!(told.contains("kept as plan-before-1.json") && told.contains("as they were"), "{told}");
    assert_eq!(desk.read("new/plan-before-1.json"), old);
    assert!(rowscape(&["proof"]).arg(desk.path("new")).status().unwrap().success());
    // Into its own folder: only with --replace, and then each plan is kept beside the new one.
    let refused = revise(&desk, "out", &["--turn", "1.1.1.1=180"]);
    assert_eq!(refused.status.code(), Some(2));
    assert_eq!(desk.read("out/plan.json"), old);
    said(&desk, "out", &["--detail", "fine", "--replace"]);
    said(&desk, "out", &["--detail", "broad", "--replace"]);
    assert_eq!(desk.read("out/plan-before-1.json"), old);
    assert_ne!(desk.read("out/plan-before-2.json"), old);
}

#[test]
fn a_new_size_takes_the_picture_again_or_the_plans_own() {
    let desk = Desk::new();
    desk.made("sample-sketches/moonrise-sail.png", &["--width", "24in", "--depth", "rows"]);
    let told = said(&desk, "own", &["--width", "30in", "--height", "30in"]);
    assert!(told.contains("30 in x 30 in finished") && told.contains("the old plan's"), "{told}");
    let picture = crate::commands::desk::project("sample-sketches/moonrise-sail.png");
    let told = said(&desk, "again", &["--width", "30in", "--height", "30in", "--picture", picture.to_str().unwrap()]);
    assert!(!told.contains("the old plan's"), "{told}");
}

#[test]
fn what_cannot_be_is_refused_and_leaves_nothing() {
    let desk = Desk::new();
    desk.made("sample-sketches/moonrise-sail.png", &["--width", "24in"]);
    let cases: [(&[&str], &str); 13] = [
        (&["--filler", "1.1.1.1", "--cloth-width", "3in"], "help: ask for a filler in the place of a smaller unit"),
        (&["--filler", "1.1.1.1=A", "--cloth-width", "3in"], "help: leave its letter out"),
        (&["--keep", "9.9.9"], "no unit of the plan lies in"),
        (&["--keep", "row 3"], "is no part of a top"),
        (&["--turn", "1.1.1.1=45"], "90, 180 or 270"),
        (&["--patch", "1.1.1.1=B"], "1.1.3.7:C=D"),
        (&["--without", "ZZ"], "there is no fabric"),
        (&["--sewn", "1", "--seam", "3/8in"], "sewn with a seam"),
        (&["--keep", "all", "--width", "12in"], "cannot stay"),
        (&["--filler", "1.1.1.1", "--whole", "1.1.1.1"], "help: release what is kept or sewn there"),
        (&["--width", "1e9in"], "in"),
        (&["--detail", "infinite"], "broad"),
        (&["--seam", "10in"], "seam"),
    ];
    for (words, reason) in cases {
        let run = revise(&desk, "new", words);
        assert_eq!(run.status.code(), Some(2), "{words:?}");
        let told = text(&run.stderr).split_whitespace().filter(|word| *word != "│").collect::<Vec<_>>().join(" ");
        assert!(told.contains(reason), "{words:?}: {told}");
        assert!(!desk.path("new").exists(), "{words:?} left something");
    }
}
