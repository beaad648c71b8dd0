//! One value changed in one file.

/// What is changed, and how the file then reads.
pub struct Change {
    pub file: &'static str,
    pub class: &'static str,
    /// The column, the field or the attribute; numbers of entries are left out.
    pub place: String,
    build: Box<dyn Fn() -> Vec<u8> + Send + Sync>,
}

impl Change {
    pub fn new(
        file: &'static str,
        class: &'static str,
        place: impl Into<String>,
        build: impl Fn() -> Vec<u8> + Send + Sync + 'static,
    ) -> Self {
        Self { file, class, place: place.into(), build: Box::new(build) }
    }

    /// The file as changed.
    pub fn bytes(&self) -> Vec<u8> {
        (self.build)()
    }
}

/// Words that stand in each other's place.
const WORDS: [&[&str]; 16] = [
    &["side", "open"],
    &["up", "down"],
    &["free", "kept", "sewn"],
    &["whole", "trimmed", "slice"],
    &["upper-left", "upper-right", "lower-right", "lower-left"],
    &["rows", "bands"],
    &["exact", "spare"],
    &["inch", "metric"],
    &["left", "right", "top", "bottom"],
    &["big", "small", "mini", "filler"],
    &["big trimmed", "small trimmed", "mini trimmed"],
    &["big slice", "small slice", "mini slice"],
    &["two", "four", "eight"],
    &["rising", "falling", "both"],
    &["square", "length", "fat quarter", "oddment", "bought square", "bought length"],
    &["pair", "unit on hand", "left slice on hand", "right slice on hand", "filler on hand"],
];

/// The next word of its kind.
pub fn next_word(text: &str) -> Option<String> {
    let words = WORDS.iter().find(|words| words.contains(&text))?;
    let at = words.iter().position(|word| *word == text)?;
    Some(words[(at + 1) % words.len()].to_owned())
}

/// The next letter of the scene's fabrics.
pub fn next_letter(text: &str, letters: &[String]) -> Option<String> {
    let at = letters.iter().position(|letter| letter == text)?;
    Some(letters[(at + 1) % letters.len()].clone())
}

/// The address after this one.
pub fn next_address(text: &str) -> Option<String> {
    let (before, last) = text.rsplit_once('.')?;
    Some(format!("{before}.{}", last.parse::<u32>().ok()? + 1))
}

/// The colour with its last digit changed.
pub fn next_colour(text: &str) -> Option<String> {
    let hex = text.strip_prefix('#').filter(|hex| hex.len() == 6)?;
    Some(format!("#{:06x}", u32::from_str_radix(hex, 16).ok()? ^ 9))
}
