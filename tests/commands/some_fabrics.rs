//! So many fabrics of a stash.

use std::path::Path;

use rowscape::plan::{Plan, read};

use crate::commands::desk::{Desk, project, text};
use crate::commands::hostile::refused;

const SKETCH: &str = "sample-sketches/lighthouse-dusk.png";

/// The plan and the account of a scene in the harbour stash.
fn composed(desk: &Desk, words: &[&str]) -> (Plan, String) {
    let stash = project("sample-sketches/stash-harbour.toml");
    let words = [&["--width", "27in", "--replace", "--stash", stash.to_str().unwrap()], words].concat();
    let run = desk.compose(&project(SKETCH), &words);
    assert!(run.status.success(), "{}", text(&run.stderr));
    (read(&desk.read("out/plan.json")).unwrap(), text(&run.stdout))
}

#[test]
fn the_account_says_what_was_left_out() {
    let desk = Desk::new();
    let (all, account) = composed(&desk, &[]);
    assert_eq!((all.fabrics.len(), all.request.colours), (20, None), "all of the stash is taken unasked");
    assert!(!account.contains("left out"), "{account}");
    let (some, account) = composed(&desk, &["--colours", "8"]);
    assert_eq!((some.fabrics.len(), some.request.colours), (8, Some(8)));
    assert!(account.contains("the best 8 fabrics of the stash; 12 left out: "), "{account}");
    for fabric in &all.fabrics {
        let told = account.contains(&format!("{} {}", fabric.letter, fabric.name));
        assert_ne!(told, some.fabrics.contains(fabric), "{fabric:?}\n{account}");
    }
    assert!(desk.proof().status.success());
    let (most, account) = composed(&desk, &["--colours", "30"]);
    assert_eq!(most.fabrics, all.fabrics);
    assert_eq!(most.bands, all.bands);
    assert!(account.contains("the stash has 20 fabrics: all are taken"), "{account}");
}

#[test]
fn painted_sketch_colours_cannot_be_left_out() {
    let desk = Desk::new();
    let colours = [[20, 30, 60], [200, 60, 40], [240, 230, 200]];
    let picture = image::RgbImage::from_fn(54, 54, |x, _| image::Rgb(colours[x as usize / 18]));
    picture.save(desk.path("stripes.png")).unwrap();
    let fabric = |(number, [r, g, b]): (usize, &[i32; 3])| {
        format!(
            "[[fabric]]\nletter = \"{number}\"\nname = \"print {number}\"\ncolour = \"#888888\"\nsketch = \"#{r:02x}{g:02x}{b:02x}\"\n"
        )
    };
    let painted = [[20, 30, 60], [200, 60, 40], [240, 230, 200], [0, 255, 0]];
    desk.write("stash.toml", painted.iter().enumerate().map(fabric).collect::<String>());
    let stash = desk.path("stash.toml");
    let with = |count| {
        desk.compose(
            Path::new(&desk.path("stripes.png")),
            &["--width", "27in", "--stash", stash.to_str().unwrap(), "--colours", count],
        )
    };
    refused(&with("2"), "take 3");
    assert!(!desk.path("out").exists());
    let run = with("3");
    assert!(run.status.success(), "{}", text(&run.stderr));
    assert!(text(&run.stdout).contains("1 left out: 3 print 3"), "{}", text(&run.stdout));
}

/// Squares of another size than those that are paired: fillers are cut from them, and the proof knows them.
#[test]
fn fillers_come_from_squares_of_any_size() {
    let desk = Desk::new();
    let fabric = |letter: &str, colour: &str| {
        format!(
            "[[fabric]]\nletter = \"{letter}\"\nname = \"{letter}\"\ncolour = \"{colour}\"\nsquares = [{{ size = \"8in\", count = 90 }}, {{ size = \"10in\", count = 90 }}]\n"
        )
    };
    let stash = desk.write("stash.toml", fabric("A", "#101830") + &fabric("B", "#e0e0d0"));
    desk.made(SKETCH, &["--width", "27in", "--triangles", "few", "--stash", stash.to_str().unwrap()]);
    assert!(desk.read("out/cutting.csv").contains("filler,F1"));
    assert!(desk.proof().status.success());
}

/// Centimetres have no end as decimals of an inch: the proof takes the tables' ten places for the length.
#[test]
fn metric_squares_make_a_scene_in_inches() {
    let desk = Desk::new();
    desk.made(SKETCH, &["--width", "27in", "--square", "25cm", "--seam", "0.7cm"]);
    assert!(desk.read("out/cutting.csv").contains("9.842519685,"));
    assert!(desk.proof().status.success());
}

#[test]
fn fabrics_that_are_held_stay_and_others_come_beside_them() {
    let desk = Desk::new();
    let held = "[[fabric]]\nletter = \"R\"\nname = \"signal red\"\ncolour = \"#c8202a\"\n";
    let file = desk.write("held.toml", held);
    let with = |words: &[&str]| {
        let words = [&["--width", "27in", "--replace", "--hold", file.to_str().unwrap()], words].concat();
        desk.compose(&project("sample-sketches/headland-photo.jpg"), &words)
    };
    let run = with(&["--colours", "6"]);
    assert!(run.status.success(), "{}", text(&run.stderr));
    let plan = read(&desk.read("out/plan.json")).unwrap();
    assert_eq!((plan.fabrics.len(), plan.request.colours), (6, Some(6)));
    let first = &plan.fabrics.raw[0];
    assert_eq!([&*first.letter, &*first.name, &*first.colour.to_string()], ["R", "signal red", "#c8202a"]);
    assert!(desk.proof().status.success());
    refused(&with(&["--stash", file.to_str().unwrap()]), "cannot be used with");
    desk.write("held.toml", format!("{held}{}{}", held.replace('R', "S").replace("red", "blue"), "colour"));
    refused(&with(&[]), "held.toml");
    let more = format!("{held}{}", held.replace("\"R\"", "\"S\"").replace("red", "blue"));
    let three = more.clone() + &held.replace("\"R\"", "\"T\"").replace("red", "white");
    desk.write("held.toml", three);
    refused(&with(&["--colours", "2"]), "3 fabrics are to be held, and only 2 are asked for");
}
