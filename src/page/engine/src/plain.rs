//! Words of the engine that name options of the command line, as a page has them.

/// What is said there, and here in its place.
const SAID: [(&str, &str); 5] = [
    ("or --largest would help", "or the largest top that the stash makes would help"),
    ("more --detail, or a --crop of the part that matters", "more detail, or a crop to the part that matters"),
    ("give smaller squares with --square", "use smaller squares"),
    (", move it, or allow narrower pieces with --least", ", or make it elsewhere"),
    ("and say so with --bought", "and say how much there is of it now"),
];

/// The same words without options.
pub fn plain(words: &str) -> String {
    let mut said = SAID.iter().fold(words.to_owned(), |said, (there, here)| said.replace(there, here));
    if let Some((before, _)) = said.split_once(" and give `--release ") {
        said = format!("{before} and mark it free first");
    }
    if let Some((before, _)) = said.split_once(": ask for a filler there, `--filler ") {
        said = format!("{before}: make it a filler instead");
    }
    if let Some((before, _)) = said.split_once(" after a half turn only, `") {
        said = format!("{before} after a half turn only");
    }
    said
}
