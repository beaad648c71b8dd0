//! Bad input: a clear message, exit code 2, nothing left behind, no panic.

use std::path::Path;
use std::process::{Output, Stdio};

use crate::commands::desk::{Desk, project, rowscape, text};

const WIDTH: [&str; 2] = ["--width", "27in"];

pub fn refused(run: &Output, names: &str) {
    let message = text(&run.stderr);
    assert_eq!(run.status.code(), Some(2), "{names}: {message}");
    assert!(!message.contains("panicked"), "{message}");
    let unseen = |c| c != '\n' && rowscape::fabric::is_unprintable(c);
    assert!(!message.chars().any(unseen), "{message:?}");
    // Messages are folded to the terminal's width: compare without the folds.
    let plain: String = message.split_whitespace().filter(|word| *word != "│").collect::<Vec<_>>().join(" ");
    assert!(plain.contains(names), "`{names}` is not in: {plain}");
}

fn png(width: u32, height: u32, pixel: [u8; 4]) -> Vec<u8> {
    let mut bytes = std::io::Cursor::new(Vec::new());
    let picture = image::RgbaImage::from_pixel(width, height, image::Rgba(pixel));
    picture.write_to(&mut bytes, image::ImageFormat::Png).unwrap();
    bytes.into_inner()
}

/// The header of a picture of 20000 x 20000 pixels, without its pixels.
fn huge() -> Vec<u8> {
    let mut bytes = png(1, 1, [0; 4]);
    for at in [16, 20] {
        bytes[at..at + 4].copy_from_slice(&20_000_u32.to_be_bytes());
    }
    let sum = crc32(&bytes[12..29]);
    bytes[29..33].copy_from_slice(&sum.to_be_bytes());
    bytes
}

/// The checksum of PNG chunks (ISO/IEC 15948, annex D).
fn crc32(bytes: &[u8]) -> u32 {
    let step = |crc: u32| if crc & 1 == 1 { 0xedb8_8320 ^ (crc >> 1) } else { crc >> 1 };
    !bytes.iter().fold(u32::MAX, |crc, byte| (0..8).fold(crc ^ u32::from(*byte), |crc, _| step(crc)))
}

#[test]
fn pictures_that_are_none() {
    let desk = Desk::new();
    let whole = std::fs::read(project("sample-sketches/lighthouse-dusk.png")).unwrap();
    let avif = b"\0\0\0\x1cftypavif\0\0\0\0mif1miaf";
    let heic = std::fs::read(project("tests/data/heic/plain.heic")).unwrap();
    let cases: [(&str, &[u8], &str); 7] = [
        ("empty.png", b"", "empty.png"),
        ("cut.png", &whole[..whole.len() / 2], "cut.png"),
        ("words.png", b"a lighthouse at dusk", "words.png"),
        ("huge.png", &huge(), "huge.png"),
        ("clear.png", &png(40, 40, [9, 9, 9, 0]), "clear.png"),
        ("cut.heic", &heic[..heic.len() / 2], "cut.heic"),
        ("phone.avif", avif, "JPEG"),
    ];
    for (name, bytes, says) in cases {
        let run = desk.compose(&desk.write(name, bytes), &WIDTH);
        refused(&run, says);
        assert!(!desk.path("out").exists(), "{name} left a folder behind");
    }
    refused(&desk.compose(Path::new("no-such-picture.png"), &WIDTH), "no-such-picture.png");
}

#[test]
fn masks_that_are_none() {
    let desk = Desk::new();
    let sketch = project("sample-sketches/lighthouse-dusk.png");
    desk.write("empty.png", b"");
    desk.write("words.png", b"bright here");
    desk.write("huge.png", huge());
    for name in ["empty.png", "words.png", "huge.png", "missing.png"] {
        let run = desk.compose(&sketch, &["--width", "27in", "--focus", desk.path(name).to_str().unwrap()]);
        refused(&run, name);
        assert!(!desk.path("out").exists(), "{name} left a folder behind");
    }
    desk.write("dot.png", png(1, 1, [255; 4]));
    desk.made(
        "sample-sketches/lighthouse-dusk.png",
        &["--width", "18in", "--focus", desk.path("dot.png").to_str().unwrap()],
    );
}

#[test]
fn the_smallest_and_the_plainest_pictures_work() {
    let desk = Desk::new();
    let dot = desk.write("dot.png", png(1, 1, [40, 60, 90, 255]));
    let plain = desk.write("plain.png", png(60, 80, [40, 60, 90, 255]));
    for (out, picture) in [("dot", dot), ("plain", plain)] {
        let run = desk.compose_into(out, &picture, &["--width", "18in", "--height", "24in"]);
        assert!(run.status.success(), "{}", text(&run.stderr));
    }
}

#[test]
fn sizes_that_cannot_be() {
    let desk = Desk::new();
    let sketch = project("sample-sketches/lighthouse-dusk.png");
    let cases: [(&[&str], &str); 22] = [
        (&["--width", "0in"], "0 in"),
        (&["--width", "NaN"], "NaN"),
        (&["--width", "NaNin"], "NaNin"),
        (&["--width", "1e9in"], "1e9in"),
        (&["--width", "1000000000in"], "1000000000in"),
        (&["--width=-5in"], "-5 in"),
        (&["--width", "9"], "`9` has no unit"),
        (&["--width", "27.3in", "--height", "36in"], "27 in or 27 1/2 in"),
        (&["--width", "27in", "--seam", "10in"], "10 in"),
        (&["--width", "27in", "--seam", "0in"], "seam"),
        (&["--width", "27in", "--grid", "0in"], "grid"),
        (&["--width", "27in", "--grid", "1/64in"], "grid"),
        (&["--width", "27in", "--cloth-width", "1in"], "cloth"),
        (&["--width", "27in", "--strips", "0in"], "strip"),
        (&["--width", "27in", "--square", "0in"], "square"),
        (&["--width", "27in", "--crop", "50,50,40,40"], "lighthouse-dusk.png"),
        (&["--height", "27in", "--colours", "1"], "colours"),
        (&["--height", "0in"], "0 in"),
        (&["--width", "inf"], "inf"),
        (&["--width", "infin"], "infin"),
        (&["--width", "27in", "--square", "0.5in", "--seam", "0.5in"], "a square of 1/2 in with a seam of 1/2 in"),
        (&["--width", "27in", "--seam", "100in"], "100 in"),
    ];
    for (words, says) in cases {
        refused(&desk.compose(&sketch, words), says);
        assert!(!desk.path("out").exists(), "{words:?} left a folder behind");
    }
    refused(&desk.compose(&sketch, &[]), "--width");
}

#[test]
fn stashes_that_cannot_be_used() {
    let desk = Desk::new();
    let sketch = project("sample-sketches/lighthouse-dusk.png");
    let fabric = "[[fabric]]\nletter = \"A\"\nname = \"night\"\ncolour = \"#101830\"\n";
    let cases = [
        ("", "no fabric"),
        (&format!("{fabric}{}", fabric.replace("\"A\"", "\"B\"")), "`night`"),
        (&fabric.replace("#101830", "bluish"), "bluish"),
        (&fabric.replace("#101830", "#10183"), "#10183"),
        (&fabric.replace("#101830", "#10183g"), "#10183g"),
        (&fabric.replace("#101830", ""), "stash.toml"),
        (&fabric.replace("colour", "coulor"), "coulor"),
        ("[[fabric]]", "stash.toml"),
        ("letter = [", "stash.toml"),
    ];
    for (toml, says) in cases {
        let stash = desk.write("stash.toml", toml);
        let run = desk.compose(&sketch, &["--width", "27in", "--stash", stash.to_str().unwrap()]);
        refused(&run, says);
        assert!(!desk.path("out").exists(), "{toml}");
    }
}

#[test]
fn targets_are_not_harmed() {
    let desk = Desk::new();
    let sketch = project("sample-sketches/lighthouse-dusk.png");
    let file = desk.write("letter.txt", "dear guild");
    refused(&desk.compose_into("letter.txt", &sketch, &WIDTH), "letter.txt");
    refused(&desk.compose_into("letter.txt/out", &sketch, &WIDTH), "letter.txt");
    assert_eq!(std::fs::read_to_string(file).unwrap(), "dear guild");

    desk.made("sample-sketches/lighthouse-dusk.png", &WIDTH);
    let before = desk.read("out/plan.json");
    refused(&desk.compose(&project("sample-sketches/cliffs-gulls.png"), &WIDTH), "--replace");
    refused(&desk.compose(&desk.write("bad.png", "no"), &["--width", "27in", "--replace"]), "bad.png");
    assert_eq!(desk.read("out/plan.json"), before);
    let replaced = desk.compose(&project("sample-sketches/cliffs-gulls.png"), &["--width", "27in", "--replace"]);
    assert!(replaced.status.success());
    assert_ne!(desk.read("out/plan.json"), before);
    assert_eq!(std::fs::read_dir(desk.path("out")).unwrap().count(), 8, "something was left beside the files");
}

#[test]
fn a_folder_in_a_files_place_spoils_no_scene() {
    let desk = Desk::new();
    desk.made("sample-sketches/lighthouse-dusk.png", &WIDTH);
    std::fs::remove_file(desk.path("out/rows.csv")).unwrap();
    std::fs::create_dir(desk.path("out/rows.csv")).unwrap();
    let before = desk.read("out/plan.json");
    let run = desk.compose(&project("sample-sketches/cliffs-gulls.png"), &["--width", "27in", "--replace"]);
    refused(&run, "rows.csv");
    assert_eq!(desk.read("out/plan.json"), before);
}

/// Fillers from cloth too narrow for the top's rows: refused after the folder was opened.
#[test]
fn new_folders_go_where_no_scene_is_found() {
    let desk = Desk::new();
    let stash = "[[fabric]]\nletter = \"A\"\nname = \"night\"\ncolour = \"#101830\"\n\
                 squares = [{ size = \"1in\", count = 4 }]\n";
    let stash = desk.write("stash.toml", stash);
    let words = ["--width", "27in", "--stash", stash.to_str().unwrap()];
    let run = desk.compose_into("new/folder/out", &project("sample-sketches/lighthouse-dusk.png"), &words);
    refused(&run, "no rows of these units fill the top");
    assert!(!desk.path("new").exists());
}

#[test]
fn plans_that_are_none() {
    let desk = Desk::new();
    refused(&desk.proof(), "plan.json");
    desk.made("sample-sketches/lighthouse-dusk.png", &WIDTH);
    let plan = desk.read("out/plan.json");
    let cases = [
        ("{", "plan.json"),
        ("[]", "plan.json"),
        (&plan.replace("\"version\": 1", "\"version\": 2"), "version 2"),
        (&plan.replace("rowscape-plan", "another-plan"), "another-plan"),
        (&plan[..plan.len() / 2], "plan.json"),
        ("", "plan.json"),
        ("null", "plan.json"),
        (&"[".repeat(100_000), "plan.json"),
        (&plan.replace("\"version\": 1", "\"version\": -1"), "plan.json"),
        (&plan.replace("\"width\": \"27 in\"", "\"width\": \"1e9 in\""), "plan.json"),
        ("[[fabric]]\nletter = \"A\"\n", "plan.json"),
        (&plan.replace("rowscape-plan", "bread\\u001b[2J\\u202e\\nrecipe"), "bread"),
        (&plan.replace("\"ruler\": \"inch\"", "\"ruler\": \"span\\u001b[2J\\u200b\""), "span"),
    ];
    for (text, says) in cases {
        desk.write("out/plan.json", text);
        refused(&desk.proof(), says);
        assert!(rowscape::plan::read(text).is_err());
    }
    std::fs::write(desk.path("out/plan.json"), [0xff, 0xfe, 0]).unwrap();
    refused(&desk.proof(), "is not text");
    std::fs::remove_file(desk.path("out/plan.json")).unwrap();
    std::fs::create_dir(desk.path("out/plan.json")).unwrap();
    refused(&desk.proof(), "plan.json");
    refused(&rowscape(&["quilt"]).output().unwrap(), "quilt");
}

#[test]
fn a_closed_pipe_is_a_quiet_end() {
    let mut child = rowscape(&["schema"]).stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
    drop(child.stdout.take());
    let run = child.wait_with_output().unwrap();
    assert!(run.status.success() && run.stderr.is_empty(), "{}", text(&run.stderr));
}
