//! What a text that somebody else wrote may hold, wherever it is shown.

/// Control characters, line breaks, what has no width, and marks that turn the direction of writing.
pub fn is_unprintable(c: char) -> bool {
    c.is_control()
        || matches!(c, '\u{ad}' | '\u{61c}' | '\u{180e}' | '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202e}')
        || matches!(c, '\u{2060}'..='\u{206f}' | '\u{feff}' | '\u{fff9}'..='\u{fffb}' | '\u{fffe}' | '\u{ffff}')
        || matches!(c, '\u{e0000}'..='\u{e007f}')
}

/// The text with a `?` for each character that is not to be shown.
pub fn printable(text: &str) -> String {
    text.chars().map(|c| if is_unprintable(c) { '?' } else { c }).collect()
}

/// The same for a text of many lines, which stays as long as it was in bytes.
pub fn printable_lines(text: &str) -> String {
    let mut shown = String::with_capacity(text.len());
    for c in text.chars() {
        match is_unprintable(c) && !matches!(c, '\n' | '\r' | '\t') {
            true => (0..c.len_utf8()).for_each(|_| shown.push('?')),
            false => shown.push(c),
        }
    }
    shown
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_unseen_is_shown() {
        assert_eq!(printable("sea\u{202e}\u{200b}\n\u{1b}[2J glass é 海"), "sea????[2J glass é 海");
        assert_eq!(printable_lines("sea\u{200b}\nglass\u{1b}"), "sea???\nglass?");
    }
}
