//! Plain letters drawn as strokes, for pictures: they look the same on every machine, whatever its fonts.
//!
//! Capitals are 7 units high, small letters 5, and tails go 2 below the line at 7.

use super::text::px;

/// The height of capitals in units.
const CAPITALS: f64 = 7.0;
/// Between two letters.
const GAP: f64 = 1.45;
const SPACE: f64 = 1.4;

/// A colour, a weight and a height to write in.
#[derive(Clone, Copy)]
pub(super) struct Hand {
    /// Height of the capitals in pixels.
    pub height: f64,
    /// Width of the strokes in units.
    pub weight: f64,
    pub ink: &'static str,
}

impl Hand {
    /// The width of a line in pixels.
    pub fn width(&self, text: &str) -> f64 {
        let units: f64 = text.chars().map(|c| glyph(c).0 + GAP).sum();
        (units - GAP).max(0.0) * self.height / CAPITALS
    }

    /// One line from the left, its letters standing on `y`.
    pub fn line(&self, x: f64, y: f64, text: &str) -> String {
        let scale = self.height / CAPITALS;
        let mut at = 0.0;
        let mut out = format!(
            "<g transform=\"translate({} {}) scale({})\" fill=\"none\" stroke=\"{}\" stroke-width=\"{}\" \
             stroke-linecap=\"round\" stroke-linejoin=\"round\">",
            px(x),
            px(y - self.height),
            px(scale),
            self.ink,
            self.weight
        );
        for c in text.chars() {
            let (width, path) = glyph(c);
            if !path.is_empty() {
                out += &format!("<path transform=\"translate({} 0)\" d=\"{path}\"/>", px(at));
            }
            at += width + GAP;
        }
        out + "</g>\n"
    }

    /// The same with its middle at `x`.
    pub fn centred(&self, x: f64, y: f64, text: &str) -> String {
        self.line(x - self.width(text) / 2.0, y, text)
    }

    /// The text in lines no wider than `most`; a single word too wide is cut.
    pub fn wrap(&self, text: &str, most: f64) -> Vec<String> {
        let mut lines = vec![String::new()];
        for word in text.split_whitespace() {
            let word = self.cut(word, most);
            let line = lines.last().map(|line| format!("{line} {word}").trim_start().to_owned()).unwrap_or_default();
            match lines.last_mut() {
                Some(last) if last.is_empty() || self.width(&line) <= most => *last = line,
                _ => lines.push(word),
            }
        }
        lines
    }

    /// As much of the text as is no wider than `most`.
    pub fn cut(&self, text: &str, most: f64) -> String {
        if self.width(text) <= most {
            return text.to_owned();
        }
        let mut short = String::new();
        for c in text.chars() {
            short.push(c);
            if self.width(&short) + self.width("...") > most {
                short.pop();
                break;
            }
        }
        short + "..."
    }
}

/// The width and the strokes of a letter.
fn glyph(c: char) -> (f64, &'static str) {
    let Some(plain) = without_mark(c) else { return (3.6, "M0 0H3.6V7H0Z") };
    if plain == ' ' {
        return (SPACE, "");
    }
    let index = GLYPHS.binary_search_by_key(&plain, |glyph| glyph.0);
    index.ok().and_then(|at| GLYPHS.get(at)).map_or((3.6, "M0 0H3.6V7H0Z"), |glyph| (glyph.1, glyph.2))
}

/// The letter under a Latin accent; none where a letter has no strokes here.
fn without_mark(c: char) -> Option<char> {
    const MARKED: [(&str, char); 22] = [
        ("ÀÁÂÃÄÅĀĂĄ", 'A'),
        ("ÇĆČ", 'C'),
        ("ÈÉÊËĒĖĘĚ", 'E'),
        ("ÌÍÎÏĪ", 'I'),
        ("ÑŃŇ", 'N'),
        ("ÒÓÔÕÖØŌŐ", 'O'),
        ("ŚŠ", 'S'),
        ("ÙÚÛÜŪŮŰ", 'U'),
        ("ÝŸ", 'Y'),
        ("ŹŻŽ", 'Z'),
        ("àáâãäåāăą", 'a'),
        ("çćč", 'c'),
        ("èéêëēėęě", 'e'),
        ("ìíîïī", 'i'),
        ("ñńň", 'n'),
        ("òóôõöøōő", 'o'),
        ("śšß", 's'),
        ("ùúûüūůű", 'u'),
        ("ýÿ", 'y'),
        ("źżž", 'z'),
        ("‘’´", '\''),
        ("–—‐", '-'),
    ];
    match c {
        c if c.is_whitespace() => Some(' '),
        c if c.is_ascii_graphic() => Some(c),
        c => MARKED.iter().find(|(marked, _)| marked.contains(c)).map(|&(_, plain)| plain),
    }
}

/// By letter: width and strokes.
#[rustfmt::skip]
const GLYPHS: [(char, f64, &str); 94] = [
    ('!', 0.0, "M0 0V4.8M0 6.9V7"),
    ('"', 1.4, "M0 0V2M1.4 0V2"),
    ('#', 4.4, "M1.4 .6L.8 6.4M3.6 .6L3 6.4M.2 2.5H4.4M0 4.6H4.2"),
    ('$', 4.0, "M3.8 1.7C3.4 1.1 2.8 .8 2 .8C1 .8 .3 1.4 .3 2.2C.3 4.2 4 3.1 4 5C4 5.8 3.2 6.3 2 6.3C1 6.3 .3 5.9 0 5.2M2 0V7"),
    ('%', 5.2, "M.5 7L4.7 0M1.1 0A1.1 1.4 0 1 0 1.1 2.8A1.1 1.4 0 1 0 1.1 0ZM4.1 4.2A1.1 1.4 0 1 0 4.1 7A1.1 1.4 0 1 0 4.1 4.2Z"),
    ('&', 5.2, "M5.2 7L1.2 2.2C.4 1.2 1 0 2.2 0C3.4 0 3.9 1.2 3.1 2.1C2.4 2.9 0 3.5 0 5.2C0 6.4 .9 7 2 7C3.6 7 4.6 5.6 4.8 4"),
    ('\'', 0.0, "M0 0V2"),
    ('(', 1.4, "M1.4 -.6C-.4 2 -.4 5.6 1.4 8.2"),
    (')', 1.4, "M0 -.6C1.8 2 1.8 5.6 0 8.2"),
    ('*', 3.0, "M1.5 .6V3.8M.1 1.4L2.9 3M2.9 1.4L.1 3"),
    ('+', 3.8, "M0 4.2H3.8M1.9 2.3V6.1"),
    (',', 0.2, "M.2 6.8L-.2 8.2"),
    ('-', 2.4, "M0 4.4H2.4"),
    ('.', 0.0, "M0 6.9V7"),
    ('/', 2.6, "M0 7.8L2.6 -.4"),
    ('0', 4.0, "M2 0A2 3.5 0 1 0 2 7A2 3.5 0 1 0 2 0Z"),
    ('1', 4.0, "M.7 1.4L2.4 0V7"),
    ('2', 4.0, "M.1 1.9A1.95 1.9 0 0 1 3.9 2C3.9 3.6 1.6 4.8 0 7H4"),
    ('3', 4.0, "M.3 .9C.8 .3 1.3 0 2 0C3.1 0 3.8 .7 3.8 1.7C3.8 2.7 3 3.3 1.7 3.3C3.2 3.3 4 4 4 5.1C4 6.3 3.1 7 1.9 7C1.1 7 .4 6.7 0 6"),
    ('4', 4.0, "M3.1 7V0L0 4.9H4"),
    ('5', 4.0, "M3.7 0H.6L.3 3.2C.8 2.8 1.3 2.6 1.9 2.6C3.1 2.6 4 3.4 4 4.7C4 6.1 3.1 7 1.8 7C1 7 .4 6.7 0 6.1"),
    ('6', 4.0, "M3.6 .8C3.2 .2 2.7 0 2.2 0C.8 0 0 1.8 0 4.85M2 2.7A2 2.15 0 1 0 2 7A2 2.15 0 1 0 2 2.7Z"),
    ('7', 4.0, "M0 0H4L1.5 7"),
    ('8', 4.0, "M2 0A1.7 1.65 0 1 0 2 3.3A1.7 1.65 0 1 0 2 0ZM2 3.3A2 1.85 0 1 0 2 7A2 1.85 0 1 0 2 3.3Z"),
    ('9', 4.0, "M.4 6.2C.8 6.8 1.3 7 1.8 7C3.2 7 4 5.2 4 2.15M2 0A2 2.15 0 1 0 2 4.3A2 2.15 0 1 0 2 0Z"),
    (':', 0.0, "M0 3V3.1M0 6.9V7"),
    (';', 0.2, "M.2 3V3.1M.2 6.8L-.2 8.2"),
    ('<', 3.2, "M3.2 2L0 4.4L3.2 6.8"),
    ('=', 3.6, "M0 3.3H3.6M0 5.3H3.6"),
    ('>', 3.2, "M0 2L3.2 4.4L0 6.8"),
    ('?', 3.2, "M0 1.4C.2 .5 .8 0 1.6 0C2.6 0 3.2 .7 3.2 1.6C3.2 2.9 1.6 3.2 1.6 4.8M1.6 6.9V7"),
    ('@', 6.0, "M4.4 2.4V4.4A.9 1 0 0 0 6 4.2C6.2 1.6 4.8 0 3 0A3 3.5 0 1 0 4.6 6.5M3 2.2A1.4 1.6 0 1 0 3 5.2A1.4 1.6 0 1 0 3 2.2Z"),
    ('A', 5.0, "M0 7L2.5 0L5 7M.9 4.6H4.1"),
    ('B', 4.4, "M0 0V7H2.4A1.9 1.9 0 0 0 2.4 3.2H0M2.2 3.2A1.6 1.6 0 0 0 2.2 0H0"),
    ('C', 5.0, "M5 1.6A2.6 3.5 0 1 0 5 5.4"),
    ('D', 4.8, "M0 0V7H1.8A3 3.5 0 0 0 1.8 0Z"),
    ('E', 4.0, "M4 0H0V7H4M0 3.4H3.3"),
    ('F', 4.0, "M4 0H0V7M0 3.4H3.3"),
    ('G', 5.2, "M5 1.5A2.6 3.5 0 1 0 5.2 5V3.9H3.2"),
    ('H', 4.8, "M0 0V7M4.8 0V7M0 3.4H4.8"),
    ('I', 0.0, "M0 0V7"),
    ('J', 3.2, "M3.2 0V5.2A1.6 1.8 0 0 1 0 5.2"),
    ('K', 4.4, "M0 0V7M4.2 0L0 4.2M1.5 2.8L4.4 7"),
    ('L', 3.8, "M0 0V7H3.8"),
    ('M', 6.0, "M0 7V0L3 5L6 0V7"),
    ('N', 4.8, "M0 7V0L4.8 7V0"),
    ('O', 5.6, "M2.8 0A2.8 3.5 0 1 0 2.8 7A2.8 3.5 0 1 0 2.8 0Z"),
    ('P', 4.4, "M0 7V0H2.4A2 2 0 0 1 2.4 4H0"),
    ('Q', 5.6, "M2.8 0A2.8 3.5 0 1 0 2.8 7A2.8 3.5 0 1 0 2.8 0ZM3.6 5.2L5.6 7.6"),
    ('R', 4.6, "M0 7V0H2.4A1.95 1.95 0 0 1 2.4 3.9H0M2.3 3.9L4.6 7"),
    ('S', 4.4, "M4.2 1.3C3.8 .4 3.1 0 2.2 0C1 0 .2 .7 .2 1.8C.2 4.2 4.4 2.9 4.4 5.2C4.4 6.3 3.5 7 2.2 7C1.1 7 .3 6.4 0 5.5"),
    ('T', 5.0, "M0 0H5M2.5 0V7"),
    ('U', 4.8, "M0 0V4.6A2.4 2.4 0 0 0 4.8 4.6V0"),
    ('V', 5.0, "M0 0L2.5 7L5 0"),
    ('W', 7.2, "M0 0L1.9 7L3.6 1L5.3 7L7.2 0"),
    ('X', 4.8, "M0 0L4.8 7M4.8 0L0 7"),
    ('Y', 4.8, "M0 0L2.4 3.6L4.8 0M2.4 3.6V7"),
    ('Z', 4.6, "M0 0H4.6L0 7H4.6"),
    ('[', 1.4, "M1.4 -.6H0V8.2H1.4"),
    ('\\', 2.6, "M0 -.4L2.6 7.8"),
    (']', 1.4, "M0 -.6H1.4V8.2H0"),
    ('^', 3.0, "M0 2.6L1.5 0L3 2.6"),
    ('_', 4.0, "M0 8.2H4"),
    ('`', 1.2, "M0 0L1.2 1.4"),
    ('a', 3.6, "M1.8 2A1.8 2.5 0 1 0 1.8 7A1.8 2.5 0 1 0 1.8 2ZM3.6 2V7"),
    ('b', 3.6, "M1.8 2A1.8 2.5 0 1 0 1.8 7A1.8 2.5 0 1 0 1.8 2ZM0 0V7"),
    ('c', 3.3, "M3.3 3A1.8 2.5 0 1 0 3.3 6"),
    ('d', 3.6, "M1.8 2A1.8 2.5 0 1 0 1.8 7A1.8 2.5 0 1 0 1.8 2ZM3.6 0V7"),
    ('e', 3.6, "M0 4.5H3.6A1.8 2.5 0 1 0 3.2 6.1"),
    ('f', 2.4, "M2.4 .1C1.4 -.2 .9 .5 .9 1.5V7M0 2.4H2.2"),
    ('g', 3.6, "M1.8 2A1.8 2.5 0 1 0 1.8 7A1.8 2.5 0 1 0 1.8 2ZM3.6 2V7.4A1.7 1.7 0 0 1 .3 8.2"),
    ('h', 3.4, "M0 0V7M0 4A1.7 2 0 0 1 3.4 4V7"),
    ('i', 0.0, "M0 2.2V7M0 0V.1"),
    ('j', 0.9, "M.9 2.2V7.8A1 1.1 0 0 1 -.3 8.8M.9 0V.1"),
    ('k', 3.2, "M0 0V7M3 2L0 5M1.1 4L3.2 7"),
    ('l', 0.0, "M0 0V7"),
    ('m', 5.6, "M0 2V7M0 4A1.4 2 0 0 1 2.8 4V7M2.8 4A1.4 2 0 0 1 5.6 4V7"),
    ('n', 3.4, "M0 2V7M0 4A1.7 2 0 0 1 3.4 4V7"),
    ('o', 3.8, "M1.9 2A1.9 2.5 0 1 0 1.9 7A1.9 2.5 0 1 0 1.9 2Z"),
    ('p', 3.6, "M1.8 2A1.8 2.5 0 1 0 1.8 7A1.8 2.5 0 1 0 1.8 2ZM0 2V9"),
    ('q', 3.6, "M1.8 2A1.8 2.5 0 1 0 1.8 7A1.8 2.5 0 1 0 1.8 2ZM3.6 2V9"),
    ('r', 2.2, "M0 2V7M0 4.4C.2 2.7 1 1.9 2.2 2.1"),
    ('s', 3.0, "M2.9 2.9C2.6 2.3 2.1 2 1.5 2C.7 2 .15 2.5 .15 3.2C.15 4.8 3 4 3 5.6C3 6.5 2.4 7 1.5 7C.8 7 .2 6.7 0 6"),
    ('t', 2.2, "M.8 .6V5.6C.8 6.7 1.3 7.1 2.2 6.9M0 2.2H2.1"),
    ('u', 3.4, "M0 2V5A1.7 2 0 0 0 3.4 5M3.4 2V7"),
    ('v', 3.6, "M0 2L1.8 7L3.6 2"),
    ('w', 5.2, "M0 2L1.4 7L2.6 2.8L3.8 7L5.2 2"),
    ('x', 3.4, "M0 2L3.4 7M3.4 2L0 7"),
    ('y', 3.6, "M0 2L1.8 7M3.6 2L1.4 8.1C1.1 8.9 .7 9.1 0 9"),
    ('z', 3.2, "M0 2H3.2L0 7H3.2"),
    ('{', 1.8, "M1.8 -.6C.6 -.6 1.4 3.8 0 3.8C1.4 3.8 .6 8.2 1.8 8.2"),
    ('|', 0.0, "M0 -.6V8.2"),
    ('}', 1.8, "M0 -.6C1.2 -.6 .4 3.8 1.8 3.8C.4 3.8 1.2 8.2 0 8.2"),
    ('~', 4.0, "M0 4.8C.8 3.4 1.6 3.8 2 4.2S3.2 5 4 3.6"),
];

#[cfg(test)]
mod tests {
    use super::*;

    const HAND: Hand = Hand { height: 7.0, weight: 0.8, ink: "#000000" };

    #[test]
    fn every_printable_letter_has_strokes_and_stands_in_order() {
        let ascii: Vec<char> = ('!'..='~').collect();
        assert_eq!(GLYPHS.map(|glyph| glyph.0).to_vec(), ascii);
        for (letter, _, path) in GLYPHS {
            let svg =
                format!("<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"-1 -1 10 12\"><path d=\"{path}\"/></svg>");
            let tree = resvg::usvg::Tree::from_str(&svg, &Default::default()).unwrap();
            assert!(tree.root().has_children() || "!.:".contains(letter), "{letter} draws nothing");
        }
    }

    #[test]
    fn lines_are_no_wider_than_asked() {
        let text = "the lamp's yellow is far from every fabric, and-words-without-any-space-in-them are cut";
        let lines = HAND.wrap(text, 60.0);
        assert!(lines.len() > 3 && lines.iter().all(|line| HAND.width(line) <= 60.0), "{lines:?}");
        assert_eq!(HAND.wrap("sea", 60.0), ["sea"]);
        assert_eq!(glyph('é'), glyph('e'));
        assert_eq!(glyph('海').1, "M0 0H3.6V7H0Z");
    }
}
