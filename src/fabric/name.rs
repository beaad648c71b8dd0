//! Plain words for colours, value steps and letters for fabrics.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{Fabric, Fabrics, Rgb};
use crate::measure::math::{atan2, length};

/// How light a fabric reads, in the five steps that patterns sort by (common practice, no source).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum ValueStep {
    /// CIELAB lightness from 80.
    Light,
    /// From 60.
    MediumLight,
    /// From 40.
    Medium,
    /// From 20.
    MediumDark,
    /// Below 20.
    Dark,
}

impl ValueStep {
    /// Light to dark.
    #[cfg(test)]
    pub const ALL: [Self; 5] = [Self::Light, Self::MediumLight, Self::Medium, Self::MediumDark, Self::Dark];

    /// The step in words: `medium light`.
    pub fn words(self) -> &'static str {
        match self {
            Self::Light => "light",
            Self::MediumLight => "medium light",
            Self::Medium => "medium",
            Self::MediumDark => "medium dark",
            Self::Dark => "dark",
        }
    }
}

/// The step that a colour reads as.
pub fn value_step(colour: Rgb) -> ValueStep {
    match colour.lightness() {
        l if l >= 80.0 => ValueStep::Light,
        l if l >= 60.0 => ValueStep::MediumLight,
        l if l >= 40.0 => ValueStep::Medium,
        l if l >= 20.0 => ValueStep::MediumDark,
        _ => ValueStep::Dark,
    }
}

/// The first `count` fabric letters: A to Z, then AA, AB and so on.
pub fn letters(count: usize) -> Vec<String> {
    (0..count).map(letter).collect()
}

fn letter(index: usize) -> String {
    let mut letters = Vec::new();
    let mut left = Some(index);
    while let Some(value) = left {
        letters.push(char::from(b'A' + (value % 26) as u8));
        left = (value / 26).checked_sub(1);
    }
    letters.iter().rev().collect()
}

/// What a stretch of the hue circle is called.
struct Hue {
    /// CIELAB hue angle in degrees below which this holds.
    below: f64,
    /// Greyish, muted, light, middling and dark.
    words: [&'static str; 5],
}

const fn hue(below: f64, words: [&'static str; 5]) -> Hue {
    Hue { below, words }
}

const HUES: [Hue; 13] = [
    hue(15.0, ["grey rose", "dusty rose", "pink", "rose", "wine"]),
    hue(43.0, ["grey pink", "brick", "salmon", "red", "maroon"]),
    hue(60.0, ["taupe", "clay", "peach", "rust", "brown"]),
    hue(76.0, ["taupe", "tan", "apricot", "orange", "brown"]),
    hue(90.0, ["sand", "fawn", "gold", "ochre", "umber"]),
    hue(104.0, ["stone", "straw", "yellow", "mustard", "olive"]),
    hue(125.0, ["moss grey", "moss", "lime", "moss green", "olive green"]),
    hue(165.0, ["grey green", "sage", "leaf green", "green", "forest green"]),
    hue(215.0, ["grey teal", "sea green", "aqua", "teal", "bottle green"]),
    hue(297.0, ["grey blue", "dusty blue", "sky blue", "blue", "navy"]),
    hue(308.0, ["grey violet", "dusty violet", "lavender", "blue violet", "indigo"]),
    hue(345.0, ["mauve", "heather", "lilac", "purple", "plum"]),
    hue(361.0, ["grey rose", "dusty rose", "pink", "rose", "wine"]),
];

/// A plain English name for a colour, from its lightness, chroma and hue.
pub fn name(colour: Rgb) -> String {
    let lab = colour.lab();
    let (light, chroma) = (lab.l, length(lab.a, lab.b));
    if chroma < 4.0 {
        return neutral(light).into();
    }
    let angle = hue_angle(lab.a, lab.b);
    let [greyish, muted, bright, middling, dark] =
        HUES.iter().find(|hue| angle < hue.below).expect("the last hue ends past the circle").words;
    let word = match () {
        () if light >= 88.0 && chroma < 25.0 && (60.0..110.0).contains(&angle) => "cream",
        () if light < 40.0 && chroma < 12.0 && (180.0..300.0).contains(&angle) => "slate",
        () if chroma < 14.0 => greyish,
        () if light < 32.0 => dark,
        () if chroma < 28.0 => muted,
        () if light >= 65.0 => bright,
        () => middling,
    };
    match shade(light, chroma, word == dark) {
        "" => word.into(),
        shade => format!("{shade} {word}"),
    }
}

/// CIELAB hue in degrees, with vivid blues, which CIELAB bends to violet, turned back.
fn hue_angle(a: f64, b: f64) -> f64 {
    let angle = atan2(b, a).to_degrees().rem_euclid(360.0);
    let bent = if (280.0..310.0).contains(&angle) { (length(a, b) - 40.0).max(0.0) * 0.25 } else { 0.0 };
    angle - bent
}

fn neutral(light: f64) -> &'static str {
    match light {
        l if l >= 96.0 => "white",
        l if l >= 88.0 => "soft white",
        l if l >= 76.0 => "pale grey",
        l if l >= 60.0 => "light grey",
        l if l >= 42.0 => "grey",
        l if l >= 26.0 => "dark grey",
        l if l >= 12.0 => "charcoal",
        _ => "black",
    }
}

/// The word before the hue; a word that is dark in itself needs less of it.
fn shade(light: f64, chroma: f64, dark: bool) -> &'static str {
    match light {
        l if l >= 84.0 => "pale",
        l if l >= 68.0 && chroma < 45.0 => "light",
        _ if chroma >= 70.0 => "bright",
        l if l >= 48.0 => "",
        l if l >= 30.0 => {
            if dark {
                ""
            } else {
                "deep"
            }
        }
        l if l >= 16.0 => {
            if dark {
                ""
            } else {
                "dark"
            }
        }
        _ => {
            if dark {
                "dark"
            } else {
                "blackish"
            }
        }
    }
}

/// A name for each colour, no two alike; what would be alike is told apart from light to dark.
pub fn names(colours: &[Rgb]) -> Vec<String> {
    let plain: Vec<String> = colours.iter().map(|colour| name(*colour)).collect();
    (0..colours.len())
        .map(|i| {
            let mut alike: Vec<usize> = (0..colours.len()).filter(|&j| plain[j] == plain[i]).collect();
            alike.sort_by(|&j, &k| colours[k].lightness().total_cmp(&colours[j].lightness()).then(j.cmp(&k)));
            let place = alike.iter().position(|&j| j == i).expect("a name is like itself");
            told_apart(&plain[i], place, alike.len())
        })
        .collect()
}

fn told_apart(plain: &str, place: usize, of: usize) -> String {
    match (of, place) {
        (1, _) => plain.into(),
        (2 | 3, 0) => format!("lighter {plain}"),
        (2, _) | (3, 2) => format!("darker {plain}"),
        (3, _) => format!("middling {plain}"),
        _ => format!("{plain} {}", place + 1),
    }
}

/// A fabric of each colour, with letters and names of their own.
pub fn named(colours: Vec<Rgb>) -> Fabrics {
    named_beside(&[], colours)
}

/// The held fabrics as they are, and after them one of each colour, with letters and names that no held one has.
pub fn named_beside(held: &[Fabric], colours: Vec<Rgb>) -> Fabrics {
    let has_letter = |letter: &String| held.iter().any(|fabric| fabric.letter.eq_ignore_ascii_case(letter));
    let has_name = |name: &str| {
        let like = |other: &str| other.trim().to_lowercase() == name;
        held.iter().any(|fabric| like(&fabric.name) || like(&fabric.family))
    };
    let mut free = (0..).map(letter).filter(|letter| !has_letter(letter));
    let own = |plain: String| {
        let others = (2..).map(|number| format!("another {plain} {number}"));
        let mut all = [plain.clone(), format!("another {plain}")].into_iter().chain(others);
        all.find(|name| !has_name(name)).expect("of endless names one is free")
    };
    let proposed = names(&colours).into_iter().map(own).zip(colours);
    let proposed = proposed.map(|(name, colour)| Fabric::new(free.next().expect("letters have no end"), name, colour));
    held.iter().cloned().chain(proposed).collect()
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;

    fn named(hex: &str) -> String {
        name(hex.parse().expect(hex))
    }

    #[test]
    fn letters_run_past_z() {
        let letters = letters(400);
        assert_eq!((letters[0].as_str(), letters[25].as_str()), ("A", "Z"));
        assert_eq!((letters[26].as_str(), letters[27].as_str(), letters[52].as_str()), ("AA", "AB", "BA"));
        assert_eq!(letters[399], "OJ");
        assert_eq!(letters.iter().collect::<BTreeSet<_>>().len(), 400);
        assert_eq!(letter(26 + 26 * 26), "AAA");
    }

    /// Common practice, no source: five steps at most.
    #[test]
    fn value_steps_go_from_light_to_dark() {
        let greys: Vec<ValueStep> = (0..=255).rev().map(|level| value_step(Rgb([level; 3]))).collect();
        assert!(greys.is_sorted());
        assert_eq!(greys.iter().copied().collect::<BTreeSet<_>>(), BTreeSet::from(ValueStep::ALL));
        // L* of #808080 is 53.6 (CIE 15).
        assert_eq!(value_step(Rgb([128; 3])), ValueStep::Medium);
    }

    #[test]
    fn names_say_what_is_seen() {
        assert_eq!(named("#ffffff"), "white");
        assert_eq!(named("#000000"), "black");
        assert_eq!(named("#808080"), "grey");
        assert_eq!(named("#dbe4ee"), "pale grey blue");
        assert_eq!(named("#1f2f6a"), "navy");
        assert_eq!(named("#a04a20"), "deep rust");
        assert_eq!(named("#3a444c"), "dark slate");
        assert_eq!(named("#cc1122"), "bright red");
        assert_eq!(named("#0000ff"), "bright blue");
        assert_eq!(named("#663399"), "deep purple");
        assert_eq!(named("#a07656"), "tan");
    }

    #[test]
    fn every_colour_has_a_name_of_two_or_three_words() {
        let steps = || (0..=255_u8).step_by(15);
        for colour in steps().flat_map(|r| steps().flat_map(move |g| steps().map(move |b| Rgb([r, g, b])))) {
            let name = name(colour);
            assert!((1..=3).contains(&name.split(' ').count()), "{colour} {name}");
            assert!(name.bytes().all(|byte| byte == b' ' || byte.is_ascii_lowercase()), "{colour} {name}");
        }
    }

    #[test]
    fn names_in_a_palette_differ() {
        let greys: Vec<Rgb> = (100..160).map(|level| Rgb([level; 3])).collect();
        for count in 0..greys.len() {
            let names = names(&greys[..count]);
            assert_eq!(names.iter().collect::<BTreeSet<_>>().len(), count);
        }
        assert_eq!(names(&[Rgb([120; 3]), Rgb([125; 3])]), ["darker grey", "lighter grey"]);
        assert_eq!(names(&[Rgb([120; 3]); 2]).len(), 2);
    }
}
