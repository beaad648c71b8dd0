//! Words of the engine that name options of the command line, as a page has them.

/// What is said there, and here in its place.
const SAID: [(&str, &str); 3] = [
    ("or --largest would help", "or the largest top that the stash makes would help"),
    (
        "Units that are off are told with `revise --lost`, and the scene is changed no more than there is need.",
        "Tap each unit that is off and mark it spoilt: the scene is changed no more than there is need.",
    ),
    ("more --detail, or a --crop of the part that matters", "more detail, or a crop to the part that matters"),
];

/// The same words without options.
pub fn plain(words: &str) -> String {
    SAID.iter().fold(words.to_owned(), |said, (there, here)| said.replace(there, here))
}
