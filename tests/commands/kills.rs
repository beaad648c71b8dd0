//! Writing that is cut off: the folder holds one whole scene, before or after the next command at the latest.

use std::collections::BTreeMap;
use std::process::{Child, Stdio};
use std::thread::sleep;
use std::time::{Duration, Instant};

use crate::commands::desk::{Desk, project, rowscape, text};

type Files = BTreeMap<String, Vec<u8>>;

const PICTURES: [&str; 2] = ["sample-sketches/lighthouse-dusk.png", "sample-sketches/cliffs-gulls.png"];
const STAGING: &str = "out/.rowscape-writing";

/// Everything in the folder, hidden or not.
fn held(desk: &Desk) -> Files {
    let entries = std::fs::read_dir(desk.path("out")).unwrap().map(Result::unwrap);
    let read = |path: std::path::PathBuf| std::fs::read(path).unwrap_or_else(|_| b"a folder".to_vec());
    entries.map(|entry| (entry.file_name().into_string().unwrap(), read(entry.path()))).collect()
}

fn start(desk: &Desk, picture: &str) -> Child {
    rowscape(&["compose", "--width", "18in", "--colours", "4", "--replace", "--out"])
        .arg(desk.path("out"))
        .arg(project(picture))
        .stdout(Stdio::null())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap()
}

/// Each of the two scenes as a folder holds it, and how long the second took.
fn scenes(desk: &Desk) -> ([Files; 2], Duration) {
    let mut took = Duration::ZERO;
    let scenes = PICTURES.map(|picture| {
        let since = Instant::now();
        assert!(start(desk, picture).wait().unwrap().success());
        took = since.elapsed();
        held(desk)
    });
    assert_ne!(scenes[0], scenes[1]);
    (scenes, took)
}

/// The next thing at random (a linear congruential generator, its upper half).
fn next(seed: &mut u64) -> u64 {
    *seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
    *seed >> 33
}

/// Half of the kills fall anywhere in the run, half after its writing has begun.
#[test]
fn killed_at_any_moment_a_folder_holds_one_whole_scene() {
    let kills: u64 = std::env::var("ROWSCAPE_KILLS").ok().map_or(40, |count| count.parse().unwrap());
    let desk = Desk::new();
    let ([first, second], took) = scenes(&desk);
    let mut seed = kills;
    let (mut old, mut new, mut cut_off, mut finished, mut taken_back) = (0, 0, 0, 0, 0);
    for kill in 0..kills {
        let before = held(&desk);
        let next_scene = if before == first { &second } else { &first };
        let mut child = start(&desk, PICTURES[usize::from(before == first)]);
        let wait = if kill % 2 == 0 {
            took * u32::try_from(next(&mut seed) % 1100).unwrap() / 1000
        } else {
            while !desk.path(STAGING).exists() && child.try_wait().unwrap().is_none() {
                std::hint::spin_loop();
            }
            Duration::from_micros(next(&mut seed) % 25_000)
        };
        sleep(wait);
        child.kill().unwrap();
        child.wait().unwrap();
        cut_off += u64::from(desk.path(STAGING).exists());
        let whole = held(&desk);
        let proof = desk.proof();
        let said = text(&proof.stderr);
        assert!(proof.status.success(), "kill {kill}: {said}");
        let after = held(&desk);
        assert!(after == before || after == *next_scene, "kill {kill}: neither old nor new: {:?}", after.keys());
        // Only a folder that was not whole is mended, and each time it is said.
        assert_eq!(whole != after, said.contains("an earlier run was cut off"), "kill {kill}: {said}");
        old += u64::from(after == before);
        new += u64::from(after == *next_scene);
        finished += u64::from(said.contains("is now in place"));
        taken_back += u64::from(said.contains("is taken back"));
    }
    println!(
        "{kills} kills: {old} old, {new} new; {cut_off} cut off in writing: {finished} finished, {taken_back} taken back"
    );
    assert!(cut_off > 0 && old > 0 && new > 0, "{cut_off} {old} {new}: the kills fell all in one place");
    assert_eq!(cut_off, finished + taken_back);
}

#[cfg(unix)]
#[test]
fn stopped_while_composing_all_is_as_it_was() {
    let desk = Desk::new();
    let ([_, second], _) = scenes(&desk);
    for (signal, code) in [("-INT", 130), ("-TERM", 143)] {
        // Large and fine enough to be composed for seconds.
        let words = ["compose", "--width", "72in", "--detail", "finest", "--colours", "30", "--replace", "--out"];
        let child = rowscape(&words)
            .args([desk.path("out"), project("sample-sketches/headland-photo.jpg")])
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        sleep(Duration::from_millis(700));
        let sent = std::process::Command::new("kill").args([signal, &child.id().to_string()]).status().unwrap();
        assert!(sent.success());
        let run = child.wait_with_output().unwrap();
        assert_eq!(run.status.code(), Some(code), "{}", text(&run.stderr));
        assert!(text(&run.stderr).contains("stopped: nothing was written"), "{}", text(&run.stderr));
        assert_eq!(held(&desk), second, "{signal}");
    }
}

#[test]
fn of_two_writers_one_wins_whole_and_the_other_says_so() {
    let desk = Desk::new();
    let ([first, second], _) = scenes(&desk);
    std::fs::remove_dir_all(desk.path("out")).unwrap();
    for round in 0..4 {
        let runs = PICTURES.map(|picture| start(&desk, picture)).map(|child| child.wait_with_output().unwrap());
        let won = runs.each_ref().map(|run| run.status.success());
        let said: Vec<String> = runs.iter().map(|run| text(&run.stderr)).collect();
        let after = held(&desk);
        assert!(after == first || after == second, "{round}: {:?}", after.keys());
        assert_ne!(won, [false, false], "{said:?}");
        for (run, said) in runs.iter().zip(&said).filter(|(run, _)| !run.status.success()) {
            assert_eq!(run.status.code(), Some(2));
            assert!(said.contains("by another"), "{said}");
        }
    }
}

/// A pack of files that waits with its journal, as a run leaves it that is cut off after its last file.
#[test]
fn what_the_maker_put_there_meanwhile_is_not_written_over() {
    let desk = Desk::new();
    let ([_, second], _) = scenes(&desk);
    std::fs::create_dir(desk.path(STAGING)).unwrap();
    let digest = rowscape::plan::digest;
    let journal = serde_json::json!({ "made": 0, "files": [
        { "name": "rows.csv", "old": "Nothing", "new": digest(b"new rows") },
        { "name": "cloth.csv", "old": { "File": digest(&second["cloth.csv"]) }, "new": digest(b"new cloth") },
    ] });
    desk.write(&format!("{STAGING}/complete"), journal.to_string());
    desk.write(&format!("{STAGING}/0"), "new rows");
    desk.write(&format!("{STAGING}/1"), "new cloth");
    let refused = desk.proof();
    assert_eq!(refused.status.code(), Some(2));
    assert!(text(&refused.stderr).contains("rows.csv") && text(&refused.stderr).contains("move it elsewhere"));
    assert_eq!(desk.read("out/cloth.csv").as_bytes(), second["cloth.csv"], "all or nothing");
    std::fs::rename(desk.path("out/rows.csv"), desk.path("mine.csv")).unwrap();
    assert!(text(&desk.proof().stderr).contains("is now in place"));
    assert_eq!((desk.read("out/rows.csv").as_str(), desk.read("out/cloth.csv").as_str()), ("new rows", "new cloth"));
    assert!(!desk.path(STAGING).exists());
}

/// A folder of that name which Rowscape did not fill stays, and a journal leads nowhere else.
#[test]
fn what_is_not_the_programs_own_is_not_taken_back() {
    let desk = Desk::new();
    let ([_, second], _) = scenes(&desk);
    std::fs::create_dir(desk.path(STAGING)).unwrap();
    desk.write(&format!("{STAGING}/letter.txt"), "dear guild");
    let refused = desk.proof();
    assert_eq!(refused.status.code(), Some(2));
    assert!(text(&refused.stderr).contains("take what you need out"), "{}", text(&refused.stderr));
    assert_eq!(desk.read(&format!("{STAGING}/letter.txt")), "dear guild");
    let letter = desk.write("letter.txt", "dear guild");
    let journal = serde_json::json!({ "made": 0, "files": [{ "name": "../letter.txt", "old": "Nothing", "new": "" }] });
    desk.write(&format!("{STAGING}/complete"), journal.to_string());
    desk.write(&format!("{STAGING}/0"), "nonsense");
    assert_eq!(desk.proof().status.code(), Some(2));
    assert_eq!(std::fs::read_to_string(letter).unwrap(), "dear guild");
    assert_eq!(desk.read("out/plan.json").as_bytes(), second["plan.json"]);
}
