//! Quotes where a maker left them out or an editor bent them, so that what can be understood is read.

use std::ops::Range;

/// A file with quotes put in, and where its bytes were before.
pub(super) struct Mended {
    pub text: String,
    /// Where a stretch begins in the new text and in the old; from there to the next both run alike.
    runs: Vec<(usize, usize)>,
    /// The last character that is no space.
    last: char,
    /// Whether the line is within a list of texts: `prints = [A, B]`.
    list: bool,
}

const OPENING: [char; 6] = ['“', '”', '„', '‟', '‘', '’'];
const CLOSING: [char; 4] = ['”', '“', '’', '‘'];
/// Most characters of a text that lacks its quotes.
const MOST: usize = 200;

impl Mended {
    /// The text with straight quotes, and quotes round what is a text; none where there is nothing to mend.
    pub fn of(text: &str) -> Option<Self> {
        let mut mended =
            Self { text: String::with_capacity(text.len() + 64), runs: Vec::new(), last: '\n', list: false };
        let mut at = 0;
        while let Some(c) = text[at..].chars().next() {
            let opens = c == '[' && mended.last == '=';
            mended.list = opens || (mended.list && !matches!(c, '[' | ']' | '{' | '}' | '\n'));
            let from = at;
            at = match c {
                '"' | '\'' => mended.keep(text, at, string_end(text, at, c)),
                '#' => mended.keep(text, at, line_end(text, at)),
                c if OPENING.contains(&c) => mended.straighten(text, at, c),
                '=' => mended.value(text, at),
                '[' | ',' if mended.list => mended.value(text, at),
                c => mended.keep(text, at, at + c.len_utf8()),
            };
            // What follows a value is never taken for one.
            if !matches!(c, ' ' | '\t') {
                mended.last = if at > from + c.len_utf8() && mended.text.ends_with('"') { '"' } else { c };
            }
        }
        (mended.text != text).then_some(mended)
    }

    /// Where a place of the new text was in the old one.
    pub fn before(&self, span: Range<usize>) -> Range<usize> {
        let place = |at: usize| {
            let run = self.runs.partition_point(|(new, _)| *new <= at).checked_sub(1);
            run.and_then(|run| self.runs.get(run)).map_or(at, |(new, old)| old + (at - new))
        };
        let start = place(span.start);
        start..place(span.end).max(start)
    }

    fn keep(&mut self, text: &str, from: usize, to: usize) -> usize {
        self.runs.push((self.text.len(), from));
        self.text.push_str(&text[from..to]);
        to
    }

    /// A text in bent quotes, up to the next of them on its line.
    fn straighten(&mut self, text: &str, at: usize, open: char) -> usize {
        let from = at + open.len_utf8();
        let line = text[from..].char_indices().take(MOST).take_while(|(_, c)| *c != '\n');
        let close = line.clone().find(|(_, c)| CLOSING.contains(c) || *c == '"');
        let Some((end, close)) = close else { return self.keep(text, at, from) };
        self.quoted(text, from..from + end);
        from + end + close.len_utf8()
    }

    /// What follows `=`, `[` or `,`: in quotes where it is neither that nor a number nor a truth.
    fn value(&mut self, text: &str, at: usize) -> usize {
        let rest = &text[at + 1..];
        let spaces = rest.bytes().take(MOST).take_while(|byte| matches!(byte, b' ' | b'\t')).count();
        let from = at + 1 + spaces;
        self.keep(text, at, from);
        let colour = text[from..].starts_with('#');
        let ends =
            |(i, c): &(usize, char)| matches!(c, ',' | ']' | '}' | '\n' | '\r') || (*c == '#' && !(colour && *i == 0));
        let mut letters = text[from..].char_indices().take(MOST);
        let end = match letters.find(ends) {
            Some((end, _)) => from + end,
            None if text.len() - from <= MOST => text.len(),
            None => return from,
        };
        let bare = text[from..end].trim_end();
        let other = |c: char| matches!(c, '"' | '\'' | '[' | '{' | '=') || OPENING.contains(&c);
        let plain =
            bare.is_empty() || bare.contains(other) || bare.parse::<f64>().is_ok() || bare == "true" || bare == "false";
        if plain {
            return from;
        }
        self.quoted(text, from..from + bare.len());
        from + bare.len()
    }

    fn quoted(&mut self, text: &str, bare: Range<usize>) {
        let end = bare.end;
        self.runs.push((self.text.len(), bare.start));
        self.text.push('"');
        self.runs.push((self.text.len(), bare.start));
        for c in text[bare].chars() {
            if matches!(c, '"' | '\\') {
                self.text.push('\\');
            }
            self.text.push(c);
        }
        self.runs.push((self.text.len(), end));
        self.text.push('"');
        self.runs.push((self.text.len(), end));
    }
}

/// After a text in straight quotes, or at the end of the file.
fn string_end(text: &str, at: usize, quote: char) -> usize {
    let three: String = std::iter::repeat_n(quote, 3).collect();
    let rest = &text[at..];
    if let Some(inner) = rest.strip_prefix(three.as_str()) {
        return inner.find(three.as_str()).map_or(text.len(), |end| at + end + 6);
    }
    let mut escaped = false;
    for (i, c) in rest.char_indices().skip(1) {
        match c {
            '\n' => return at + i,
            c if c == quote && !escaped => return at + i + 1,
            c => escaped = c == '\\' && quote == '"' && !escaped,
        }
    }
    text.len()
}

fn line_end(text: &str, at: usize) -> usize {
    text[at..].find('\n').map_or(text.len(), |end| at + end)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mended(text: &str) -> String {
        Mended::of(text).map_or_else(|| text.to_owned(), |mended| mended.text)
    }

    #[test]
    fn quotes_are_put_in_where_they_are_missing() {
        for (written, read) in [
            ("colour = #8fb0c9\n", "colour = \"#8fb0c9\"\n"),
            ("colour = cornflower blue  # nearly\n", "colour = \"cornflower blue\"  # nearly\n"),
            ("name = “grandma's sky”\n", "name = \"grandma's sky\"\n"),
            ("name = “sky\" # “\n", "name = \"sky\" # “\n"),
            ("squares = [{ size = 10in, count = 4 }]", "squares = [{ size = \"10in\", count = 4 }]"),
            ("prints = [A, B2]\r\n", "prints = [\"A\", \"B2\"]\r\n"),
            ("length = 1 1/2 yd", "length = \"1 1/2 yd\""),
        ] {
            assert_eq!(mended(written), read);
        }
    }

    #[test]
    fn what_is_whole_stays() {
        for text in [
            "[[fabric]]\nname = \"a “b” = c, # d\"\n",
            "directional = true\ncount = 3 # three\n",
            "x = [\n1,\n2]",
            "= = [",
            "“",
        ] {
            assert!(Mended::of(text).is_none(), "{text}: {}", mended(text));
        }
    }

    #[test]
    fn long_lines_end_soon() {
        for part in ["=", "= ", "a = [,", "„", "“", ",", "x = #", "é = "] {
            let text = part.repeat((1 << 20) / part.len());
            assert!(
                Mended::of(&text).is_none_or(|mended| mended.text.len() >= text.len() - text.matches('“').count() * 2)
            );
        }
    }

    #[test]
    fn places_are_those_of_the_file_as_it_is() {
        let text = "name = “sky”\ncolour = #zz\n";
        let mended = Mended::of(text).unwrap();
        let at = mended.text.find("\"#zz\"").unwrap();
        assert_eq!(&text[mended.before(at..at + 5)], "#zz");
    }
}
