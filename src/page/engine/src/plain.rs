//! Words of the engine that name options of the command line, as a page has them.

/// What is said there, and here in its place.
const SAID: [(&str, &str); 2] = [
    ("or --largest would help", "or the largest top that the stash makes would help"),
    ("more --detail, or a --crop of the part that matters", "more detail, or a crop to the part that matters"),
];

/// The same words without options.
pub fn plain(words: &str) -> String {
    SAID.iter().fold(words.to_owned(), |said, (there, here)| said.replace(there, here))
}
