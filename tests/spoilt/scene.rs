//! Small scenes as they are written, each with parts that the others have not.

use std::collections::BTreeMap;
use std::path::Path;
use std::process::Command;

use rowscape::proof::{Fault, Files, Folder, Proven, prove_folder};

use crate::spoilt::change::Change;

/// A scene to compose.
pub struct Asked {
    pub name: &'static str,
    picture: &'static str,
    stash: Option<&'static str>,
    words: &'static [&'static str],
    /// What is changed once it is composed.
    then: &'static [&'static str],
}

pub const SCENES: [Asked; 6] = [
    Asked {
        name: "bought",
        picture: "lighthouse-dusk",
        stash: None,
        words: &[
            "--width",
            "15in",
            "--colours",
            "5",
            "--title",
            "Beacon 7",
            "--finish",
            "usual",
            "--border",
            "1in=B",
            "--border",
            "fit",
            "--bed",
            "crib",
            "--drop",
            "10in",
            "--tuck",
            "3in",
            "--mattress-depth",
            "6in",
            "--quilting",
            "rows",
            "--sleeve",
            "--label-maker",
            "Guild of 9",
        ],
        then: &[],
    },
    Asked {
        name: "metric, spare ends",
        picture: "moonrise-sail",
        stash: None,
        words: &[
            "--width",
            "30cm",
            "--square",
            "25cm/4",
            "--square",
            "25cm",
            "--seam",
            "0.72cm",
            "--row-ends",
            "spare",
            "--colours",
            "4",
            "--depth",
            "rows",
            "--squares-from",
            "lengths",
            "--end-cut",
            "3cm",
            "--border",
            "fit=A",
            "--corners",
            "cornerstones",
            "--cornerstones",
            "C",
            "--border-joins",
            "bias",
            "--quilt-size",
            "125x140cm",
            "--backing=B",
            "--backing-halves",
            "--overhang",
            "8cm",
            "--batting",
            "--quilting",
            "half-circles",
            "--quilting-scale",
            "12cm",
            "--bias",
            "--binding-width",
            "1.2cm",
            "--label-date",
            "May 2026",
        ],
        then: &[],
    },
    Asked {
        name: "packs",
        picture: "moonrise-sail",
        stash: Some("stash-two-packs"),
        words: &[
            "--width",
            "15in",
            "--pressing",
            "open",
            "--large-map",
            "--border",
            "fit",
            "--border",
            "rectangles:1in",
            "--quilt-size",
            "24x30in",
            "--binding",
            "--sleeve",
        ],
        then: &[],
    },
    Asked {
        name: "heap",
        picture: "lighthouse-dusk",
        stash: Some("stash-heap"),
        words: &[
            "--width",
            "18in",
            "--border",
            "3in",
            "--border",
            "triangles:fit",
            "--corners",
            "mitred",
            "--border-strips",
            "along",
            "--binding",
            "--binding-fold",
            "single",
            "--binding-width",
            "1/4in",
        ],
        then: &[],
    },
    Asked {
        name: "upright",
        picture: "lighthouse-dusk",
        stash: Some("../tests/data/stash-gulls"),
        words: &[
            "--width",
            "21in",
            "--finish",
            "usual",
            "--border",
            "squares:3in=A,C",
            "--backing-pieced",
            "--overhang",
            "12in",
            "--facing",
            "--facing-strip",
            "3in",
        ],
        then: &[],
    },
    Asked {
        name: "begun",
        picture: "lighthouse-dusk",
        stash: None,
        words: &["--width", "18in", "--colours", "5"],
        then: &[
            "--finish",
            "usual",
            "--border",
            "squares:fit",
            "--facing=B",
            "--facing-fold",
            "single",
            "--sewn",
            "1.1.1",
            "--cut",
            "1.1.2",
            "--lost",
            "1.1.3.1",
            "--without",
            "C",
        ],
    },
];

/// Every file that the proof reads.
pub const FILES: [&str; 8] = [
    "plan.json",
    "build-list.html",
    "rows.csv",
    "cutting.csv",
    "cloth.csv",
    "leftovers.toml",
    "picture.svg",
    "picture.png",
];

/// What a quilt in half circles has beside them.
pub const STENCIL: &str = "stencil.svg";

#[derive(Clone)]
pub struct Scene {
    files: BTreeMap<&'static str, Vec<u8>>,
    /// Letters of its fabrics.
    pub letters: Vec<String>,
}

impl Scene {
    pub fn composed(asked: &Asked) -> Self {
        let folder = tempfile::tempdir().unwrap();
        let samples = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-sketches");
        let mut command = Command::new(env!("CARGO_BIN_EXE_rowscape"));
        command.arg("compose").arg(samples.join(asked.picture).with_extension("png")).args(asked.words);
        if let Some(stash) = asked.stash {
            command.arg("--stash").arg(samples.join(format!("{stash}.toml")));
        }
        let run = command.arg("--out").arg(folder.path().join("out")).output().unwrap();
        assert!(run.status.success(), "{}: {}", asked.name, String::from_utf8_lossy(&run.stderr));
        if !asked.then.is_empty() {
            let mut command = Command::new(env!("CARGO_BIN_EXE_rowscape"));
            command.arg("revise").arg(folder.path().join("out")).args(asked.then).arg("--out");
            let run = command.arg(folder.path().join("then")).output().unwrap();
            assert!(run.status.success(), "{}: {}", asked.name, String::from_utf8_lossy(&run.stderr));
        }
        let last = folder.path().join(if asked.then.is_empty() { "out" } else { "then" });
        let read = |name: &'static str| (name, std::fs::read(last.join(name)).unwrap());
        let stencil = last.join(STENCIL).exists().then_some(STENCIL);
        let files: BTreeMap<&'static str, Vec<u8>> = FILES.into_iter().chain(stencil).map(read).collect();
        let plan: serde_json::Value = serde_json::from_slice(&files["plan.json"]).unwrap();
        let letter = |fabric: &serde_json::Value| fabric["letter"].as_str().unwrap().to_owned();
        Self { letters: plan["fabrics"].as_array().unwrap().iter().map(letter).collect(), files }
    }

    pub fn file(&self, name: &str) -> &[u8] {
        &self.files[name]
    }

    pub fn text(&self, name: &str) -> &str {
        std::str::from_utf8(self.file(name)).unwrap()
    }

    pub fn has(&self, name: &str) -> bool {
        self.files.contains_key(name)
    }

    /// The scene with one file changed.
    pub fn with(&self, change: &Change) -> Self {
        let mut scene = self.clone();
        scene.files.insert(change.file, change.bytes());
        scene
    }

    pub fn prove(&self) -> Result<Proven, Fault> {
        let [plan, rows, cutting, cloth] =
            ["plan.json", "rows.csv", "cutting.csv", "cloth.csv"].map(|name| self.text(name));
        let files = Files { plan, rows, cutting, cloth };
        let (svg, leftovers) = (self.text("picture.svg"), self.text("leftovers.toml"));
        prove_folder(&Folder {
            files,
            svg,
            png: self.file("picture.png"),
            list: self.text("build-list.html"),
            leftovers,
            stencil: self.has(STENCIL).then(|| self.text(STENCIL)),
            prints: None,
        })
    }
}
