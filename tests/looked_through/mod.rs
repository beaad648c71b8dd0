//! A stash looked through: totals, doubts, families, what is written anew, tables and picture.

mod anew;
mod families;
mod notes;
mod shown;
mod totals;

use rowscape::fabric::Stash;

/// One fabric, with lines of its own.
pub fn fabric(letter: &str, name: &str, colour: &str, lines: &str) -> String {
    format!("[[fabric]]\nletter = \"{letter}\"\nname = \"{name}\"\ncolour = \"{colour}\"\n{lines}\n")
}

/// The stash, which must read.
pub fn read(text: &str) -> Stash {
    Stash::read(text).unwrap_or_else(|error| panic!("{error}: {text}"))
}

/// The names and texts of the sample stashes.
pub fn samples() -> Vec<(&'static str, String)> {
    let names = ["stash-cottage", "stash-harbour", "stash-heap", "stash-two-packs"];
    let text = |name| std::fs::read_to_string(format!("{}/sample-sketches/{name}.toml", env!("CARGO_MANIFEST_DIR")));
    names.into_iter().map(|name| (name, text(name).unwrap())).collect()
}
