//! Builds the page: `rowscape.html`, one file to open, and `site`, a folder to host, both under `target/page`.

mod engine;
mod icons;
mod package;
mod tools;
mod types;
mod view;

use std::path::{Path, PathBuf};
use std::process::ExitCode;

use tools::Wrong;

/// Where everything lies.
pub struct Places {
    /// The project.
    pub root: PathBuf,
    /// This page's sources.
    pub page: PathBuf,
    /// What is built.
    pub out: PathBuf,
}

impl Places {
    fn find() -> Result<Self, Wrong> {
        let page = Path::new(env!("CARGO_MANIFEST_DIR")).parent().unwrap_or(Path::new(".")).to_owned();
        let root = page.ancestors().nth(2).unwrap_or(Path::new(".")).to_owned();
        let out = root.join("target/page");
        std::fs::create_dir_all(out.join("built")).map_err(|error| Wrong::at(&out, error))?;
        Ok(Self { root, page, out })
    }
}

fn main() -> ExitCode {
    match run(std::env::args().skip(1).collect()) {
        Ok(()) => ExitCode::SUCCESS,
        Err(wrong) => {
            eprintln!("error: {wrong}");
            ExitCode::from(2)
        }
    }
}

fn run(arguments: Vec<String>) -> Result<(), Wrong> {
    let known = ["--open", "--view", "--tests"];
    if let Some(other) = arguments.iter().find(|argument| !known.contains(&argument.as_str())) {
        return Err(Wrong(format!(
            "`{other}` says nothing here: `cargo page` builds the page, `--open` opens it too, `--view` takes the engine \
             as it was built last, `--tests` bundles the browser tests beside it"
        )));
    }
    let asked = |name: &str| arguments.iter().any(|argument| argument == name);
    let places = Places::find()?;
    tools::needed(&places)?;
    types::write(&places)?;
    let built = places.out.join("built/engine.js").exists();
    if !(asked("--view") && built) {
        engine::build(&places)?;
    }
    view::build(&places)?;
    if asked("--tests") {
        view::tests(&places)?;
    }
    icons::draw(&places)?;
    let file = package::write(&places)?;
    if asked("--open") { tools::open(&file) } else { Ok(()) }
}
