//! `audition`: the ranking, what is written, the same bytes on every run, and what it refuses.

use std::path::Path;
use std::process::Output;

use rowscape::fabric::Print;
use rowscape::likeness::likeness;
use rowscape::plan::{Piece, Placed, Plan, read};

use crate::commands::desk::{Desk, project, rowscape, text};
use crate::commands::hostile::refused;

const GREYS: &str = r##"
[[fabric]]
letter = "A"
name = "chalk"
colour = "#eeeeee"

[[fabric]]
letter = "B"
name = "fog & haze"
colour = "#bbbbbb"

[[fabric]]
letter = "C"
name = "pewter"
colour = "#777777"

[[fabric]]
letter = "D"
name = "soot"
colour = "#222222"
"##;

fn scene() -> Desk {
    let desk = Desk::new();
    let harbour = project("sample-sketches/stash-harbour.toml");
    desk.made("sample-sketches/lighthouse-dusk.png", &["--width", "27in", "--stash", harbour.to_str().unwrap()]);
    desk.write("greys.toml", GREYS);
    desk
}

fn tried(desk: &Desk, out: &str, stashes: &[&Path], words: &[&str], threads: &str) -> Output {
    let mut command = rowscape(&["audition"]);
    command.arg(desk.path("out")).arg("--out").arg(desk.path(out)).args(words).env("RAYON_NUM_THREADS", threads);
    stashes.iter().for_each(|stash| {
        command.arg("--stash").arg(stash);
    });
    command.output().unwrap()
}

fn plan(desk: &Desk, file: &str) -> Plan {
    read(&desk.read(file)).unwrap()
}

/// Sizes, cuts and corners alone.
fn pieces(plan: &Plan) -> Vec<Placed> {
    let mut placed = plan.placed();
    for unit in &mut placed {
        match &mut unit.unit.piece {
            Piece::Filler(fabric) => *fabric = Print(0),
            Piece::Triangle(t) => (t.tip, t.rest) = (Print(0), Print(0)),
        }
    }
    placed
}

#[test]
fn the_nearest_stash_comes_first() {
    let desk = scene();
    let greys = desk.path("greys.toml");
    let (harbour, cottage) =
        (project("sample-sketches/stash-harbour.toml"), project("sample-sketches/stash-cottage.toml"));
    let stashes = [&greys, &cottage, &harbour].map(|path| path.as_path());
    for words in [&[][..], &["--afresh", "--replace"]] {
        let run = tried(&desk, "trials", &stashes, words, "2");
        assert!(run.status.success(), "{}", text(&run.stderr));
        let mut by_likeness: Vec<(f64, &str)> = ["greys", "stash-cottage", "stash-harbour"]
            .map(|name| {
                let plan = plan(&desk, &format!("trials/{name}.plan.json"));
                (likeness(&plan).squinted, name)
            })
            .to_vec();
        by_likeness.sort_by(|a, b| a.0.total_cmp(&b.0));
        let [first, _, last] = by_likeness.as_slice() else { panic!("three stashes") };
        assert!(last.0 - first.0 > 1.0, "the stashes do not differ: {by_likeness:?}");
        assert_eq!(last.1, "greys");
        let (account, page) = (text(&run.stdout), desk.read("trials/auditions.html"));
        for (at, (_, name)) in (1..).zip(&by_likeness) {
            assert!(account.contains(&format!("  {at}. {name}: off at a squint ")), "{account}");
            let heading = format!("<span class=\"place\">{at}</span>{name}</h2>");
            assert!(page.contains(&heading), "{heading} is not on the page");
        }
        assert!(account.contains("Nearest to the picture"), "{account}");
        assert!(account.contains("No fabric near the picture's"), "{account}");
        // In words, for figures without a scale mean little to a maker.
        assert!(account.contains(" further from the picture than "), "{account}");
        assert!(!account.contains(" off.") && !account.contains(" against 0."), "{account}");
    }
}

#[test]
fn the_pieces_stay_and_afresh_they_may_not() {
    let desk = scene();
    let stash = project("sample-sketches/stash-cottage.toml");
    let planned = plan(&desk, "out/plan.json");
    for (out, words) in [("same", &[][..]), ("afresh", &["--afresh"])] {
        let run = tried(&desk, out, &[&stash], words, "2");
        assert!(run.status.success(), "{}", text(&run.stderr));
        let other = plan(&desk, &format!("{out}/stash-cottage.plan.json"));
        assert_eq!(pieces(&other) == pieces(&planned), out == "same");
        assert_eq!((&other.picture, &other.focus), (&planned.picture, &planned.focus));
        assert_eq!(other.fabrics[Print(0)].name, "tarred net", "the stash's own fabrics");
    }
}

#[test]
fn the_sheet_is_whole_and_safe() {
    let desk = scene();
    let run = tried(&desk, "trials", &[&desk.path("greys.toml")], &[], "2");
    assert!(run.status.success(), "{}", text(&run.stderr));
    let page = desk.read("trials/auditions.html");
    let page = page.strip_prefix("<!DOCTYPE html>").expect("a page");
    let tree = roxmltree::Document::parse(page).expect("a page that is clean XHTML");
    let drawings = tree.descendants().filter(|node| node.has_tag_name(("http://www.w3.org/2000/svg", "svg")));
    assert_eq!(drawings.count(), 6, "picture, scene and trial, each also in greys");
    assert!(page.contains("fog &amp; haze"));
    assert!(!page.replace("http://www.w3.org/2000/svg", "").contains("://"), "something from outside");
    let sheet = image::open(desk.path("trials/auditions.png")).unwrap().to_rgb8();
    assert_eq!(sheet.width(), 1600);
    let greys = sheet.pixels().filter(|pixel| pixel.0[0] == pixel.0[1] && pixel.0[1] == pixel.0[2]).count();
    assert!(greys < sheet.pixels().len(), "the picture has no colour on the sheet");
    let mut names: Vec<String> = std::fs::read_dir(desk.path("trials"))
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    names.sort();
    assert_eq!(names, ["auditions.html", "auditions.png", "greys.plan.json"]);
}

#[test]
fn the_same_bytes_on_one_thread_and_two() {
    let desk = scene();
    let greys = desk.path("greys.toml");
    let harbour = project("sample-sketches/stash-harbour.toml");
    for words in [&[][..], &["--afresh", "--replace"]] {
        for (out, threads) in [("one", "1"), ("two", "2")] {
            let run = tried(&desk, out, &[&greys, &harbour], words, threads);
            assert!(run.status.success(), "{}", text(&run.stderr));
        }
        for file in ["auditions.html", "auditions.png", "greys.plan.json", "stash-harbour.plan.json"] {
            let bytes = |out: &str| std::fs::read(desk.path(out).join(file)).unwrap();
            assert!(bytes("one") == bytes("two"), "{file} differs");
        }
    }
}

#[test]
fn equals_share_a_place_and_files_of_one_name_are_told_apart() {
    let desk = scene();
    std::fs::create_dir(desk.path("more")).unwrap();
    desk.write("more/Greys.toml", GREYS);
    let run = tried(&desk, "trials", &[&desk.path("greys.toml"), &desk.path("more/Greys.toml")], &[], "2");
    assert!(run.status.success(), "{}", text(&run.stderr));
    let account = text(&run.stdout);
    assert!(account.contains("1. greys: ") && account.contains("1. Greys-2: "), "{account}");
    assert!(account.contains("choose by eye"), "{account}");
    assert_eq!(desk.read("trials/greys.plan.json"), desk.read("trials/Greys-2.plan.json"));
}

#[test]
fn what_was_kept_is_said_to_be_tried_too() {
    let desk = scene();
    let sewn = desk.read("out/plan.json").replacen("\"state\": \"free\"", "\"state\": \"sewn\"", 2);
    desk.write("out/plan.json", sewn);
    let run = tried(&desk, "trials", &[&desk.path("greys.toml")], &[], "2");
    assert!(text(&run.stdout).contains("2 units of the plan are kept or sewn"), "{}", text(&run.stdout));
    assert!(!desk.read("trials/greys.plan.json").contains("sewn"));
}

#[test]
fn what_cannot_be_tried_is_refused() {
    let desk = scene();
    let greys = desk.path("greys.toml");
    let before = desk.read("out/plan.json");
    refused(&tried(&desk, "trials", &[], &[], "2"), "--stash");
    refused(&tried(&desk, "trials", &[&greys, &greys], &[], "2"), "is given twice");
    refused(&tried(&desk, "trials", &[&desk.path("none.toml")], &[], "2"), "none.toml");
    refused(&tried(&desk, "trials", &[&desk.write("bad.toml", "letter = [")], &[], "2"), "bad.toml");
    refused(&tried(&desk, "greys.toml", &[&greys], &[], "2"), "is a file");
    let squares = GREYS.replace("[[fabric]]", "[[fabric]]\nsquares = [{ size = \"2in\", count = 9 }]");
    let squares = desk.write("squares.toml", squares);
    refused(&tried(&desk, "trials", &[&greys, &squares], &[], "2"), "no fabric of it gives the filler at 1.");
    refused(&tried(&desk, "trials", &[&greys, &squares], &[], "2"), "give --afresh");
    let one = GREYS.split("[[fabric]]").nth(1).map(|entry| format!("[[fabric]]{entry}")).unwrap();
    refused(&tried(&desk, "trials", &[&desk.write("one.toml", one)], &[], "2"), "joins two fabrics");
    for (broken, says) in [
        (before[..before.len() / 2].to_owned(), "plan.json"),
        (before.replace("\"version\": 1", "\"version\": 9"), "version 9"),
        (before.replace("rowscape-plan", "another-plan"), "another-plan"),
        (String::new(), "plan.json"),
    ] {
        desk.write("out/plan.json", broken);
        refused(&tried(&desk, "trials", &[&greys], &[], "2"), says);
    }
    std::fs::remove_file(desk.path("out/plan.json")).unwrap();
    refused(&tried(&desk, "trials", &[&greys], &[], "2"), "plan.json");
    assert!(!desk.path("trials").exists(), "a refusal left a folder behind");
}

#[test]
fn an_audition_is_not_written_over_by_chance() {
    let desk = scene();
    let greys = desk.path("greys.toml");
    assert!(tried(&desk, "trials", &[&greys], &[], "2").status.success());
    let before = desk.read("trials/auditions.html");
    refused(&tried(&desk, "trials", &[&greys], &["--afresh"], "2"), "--replace");
    assert_eq!(desk.read("trials/auditions.html"), before);
    assert!(tried(&desk, "trials", &[&greys], &["--replace"], "2").status.success());
    assert_eq!(desk.read("trials/auditions.html"), before, "the same again");
}

#[test]
fn what_each_stash_leaves_short_is_said() {
    let desk = scene();
    let counts = |squares: u32, yards: u32| {
        let counts = format!(
            "[[fabric]]\nsquares = [{{ size = \"10in\", count = {squares} }}]\n\
             yardage = [{{ width = \"42in\", length = \"{yards} yd\" }}]"
        );
        GREYS.replace("[[fabric]]", &counts)
    };
    let few = desk.write("few.toml", counts(0, 1).replace("1 yd", "8in").replace("42in", "18.5in"));
    let many = desk.write("many.toml", counts(400, 9));
    for words in [&[][..], &["--afresh", "--replace"]] {
        let run = tried(&desk, "trials", &[&few, &many], words, "2");
        assert!(run.status.success(), "{}", text(&run.stderr));
        let (account, page) = (text(&run.stdout), desk.read("trials/auditions.html"));
        for says in ["Its stash is short of ", "Its stash has enough of every fabric."] {
            assert!(account.contains(says) && page.contains(says), "{says} {words:?}: {account}");
        }
        assert!(!account.contains("without its counts"), "{account}");
        assert!(!desk.read("trials/few.plan.json").contains("supply"), "what is to be bought is not counted");
        assert!(desk.read("trials/many.plan.json").contains("supply"));
    }
}
