//! Plain words for colours, value steps and letters for fabrics.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::Rgb;

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

/// What a stretch of the hue circle is called: greyish, light, middling and dark.
struct Hue {
    /// CIELAB hue angle in degrees below which this holds.
    below: f64,
    greyish: &'static str,
    light: &'static str,
    middle: &'static str,
    dark: &'static str,
}

const fn hue(below: f64, greyish: &'static str, light: &'static str, middle: &'static str, dark: &'static str) -> Hue {
    Hue { below, greyish, light, middle, dark }
}

const HUES: [Hue; 13] = [
    hue(15.0, "grey rose", "pink", "rose", "wine"),
    hue(43.0, "grey pink", "salmon", "red", "maroon"),
    hue(60.0, "taupe", "peach", "rust", "brown"),
    hue(76.0, "taupe", "apricot", "orange", "brown"),
    hue(90.0, "sand", "gold", "ochre", "umber"),
    hue(104.0, "stone", "yellow", "mustard", "olive"),
    hue(125.0, "moss grey", "lime", "moss green", "moss green"),
    hue(165.0, "grey green", "leaf green", "green", "forest green"),
    hue(215.0, "grey teal", "aqua", "teal", "teal"),
    hue(280.0, "grey blue", "sky blue", "blue", "navy"),
    hue(305.0, "grey violet", "lavender", "blue violet", "indigo"),
    hue(345.0, "mauve", "lilac", "purple", "plum"),
    hue(361.0, "grey rose", "pink", "rose", "wine"),
];

/// A plain English name for a colour, from its lightness, chroma and hue.
pub fn name(colour: Rgb) -> String {
    let lab = colour.lab();
    let (light, chroma) = (lab.l, lab.a.hypot(lab.b));
    if chroma < 4.0 {
        return neutral(light).into();
    }
    let angle = lab.b.atan2(lab.a).to_degrees().rem_euclid(360.0);
    let hue = HUES.iter().find(|hue| angle < hue.below).unwrap_or(&HUES[0]);
    let word = match () {
        () if light >= 88.0 && chroma < 25.0 && (60.0..110.0).contains(&angle) => "cream",
        () if light < 40.0 && chroma < 12.0 && (180.0..300.0).contains(&angle) => "slate",
        () if chroma < 16.0 => hue.greyish,
        () if light >= 65.0 => hue.light,
        () if light >= 34.0 => hue.middle,
        () => hue.dark,
    };
    match shade(light, chroma, word == hue.dark) {
        "" => word.into(),
        shade => format!("{shade} {word}"),
    }
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
            let place = alike.iter().position(|&j| j == i).unwrap_or(0);
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
