//! A place to run commands in.

use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use tempfile::TempDir;

/// Files of a scene.
pub const FILES: [&str; 8] = [
    "plan.json",
    "picture.svg",
    "picture.png",
    "build-list.html",
    "rows.csv",
    "cutting.csv",
    "cloth.csv",
    "leftovers.toml",
];

/// A folder of its own for each test.
pub struct Desk(TempDir);

/// A file of the project.
pub fn project(path: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(path)
}

/// The program with its words.
pub fn rowscape(words: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_rowscape"));
    command.args(words).env("NO_COLOR", "1");
    command
}

pub fn text(bytes: &[u8]) -> String {
    String::from_utf8_lossy(bytes).into_owned()
}

impl Desk {
    pub fn new() -> Self {
        Self(tempfile::tempdir().unwrap())
    }

    pub fn path(&self, name: &str) -> PathBuf {
        self.0.path().join(name)
    }

    pub fn write(&self, name: &str, bytes: impl AsRef<[u8]>) -> PathBuf {
        std::fs::write(self.path(name), bytes).unwrap();
        self.path(name)
    }

    pub fn read(&self, name: &str) -> String {
        std::fs::read_to_string(self.path(name)).unwrap_or_else(|error| panic!("{name}: {error}"))
    }

    /// Composes `picture` into the folder `out`.
    pub fn compose(&self, picture: &Path, words: &[&str]) -> Output {
        self.compose_into("out", picture, words)
    }

    pub fn compose_into(&self, out: &str, picture: &Path, words: &[&str]) -> Output {
        rowscape(&["compose"]).arg(picture).arg("--out").arg(self.path(out)).args(words).output().unwrap()
    }

    /// Composes and must succeed.
    pub fn made(&self, picture: &str, words: &[&str]) {
        let run = self.compose(&project(picture), words);
        assert!(run.status.success(), "{picture} {words:?}: {}", text(&run.stderr));
    }

    pub fn proof(&self) -> Output {
        rowscape(&["proof"]).arg(self.path("out")).output().unwrap()
    }
}
