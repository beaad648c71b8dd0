//! `packets`: pages for several sewers.

use crate::commands::desk::{Desk, rowscape, text};

#[test]
fn pages_are_written_over_only_as_they_were_written() {
    let desk = Desk::new();
    desk.made("sample-sketches/moonrise-sail.png", &["--width", "18in", "--colours", "5"]);
    let packets = |words: &[&str]| {
        rowscape(&["packets"])
            .arg(desk.path("out"))
            .arg("--out")
            .arg(desk.path("packets"))
            .args(words)
            .output()
            .unwrap()
    };
    let run = packets(&["--sewers", "2"]);
    let said = text(&run.stdout);
    assert!(run.status.success() && said.contains("packet 2") && said.contains("even share"), "{said}");
    for page in ["packets.html", "packet-1.html", "packet-2.html"] {
        let page = desk.read(&format!("packets/{page}"));
        assert!(page.contains("default-src 'none'") && page.contains("Work safely") != page.contains("for 2 sewers"));
    }
    assert_eq!(packets(&["--sewers", "2"]).status.code(), Some(2));
    assert!(packets(&["--sewers", "2", "--replace"]).status.success());
    desk.write("packets/packet-1.html", "my notes");
    assert_eq!(packets(&["--sewers", "2", "--replace"]).status.code(), Some(2));
    assert_eq!(desk.read("packets/packet-1.html"), "my notes");
    let run = rowscape(&["packets"])
        .arg(desk.path("out"))
        .arg("--out")
        .arg(desk.path("many"))
        .args(["--sewers", "59"])
        .output()
        .unwrap();
    assert_eq!(run.status.code(), Some(2));
    assert!(text(&run.stderr).contains("cannot be shared out among 59 sewers"), "{}", text(&run.stderr));
    assert!(!desk.path("many").exists());
}
