//! What is asked of a photo of fabrics, and what is found in it.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::fabric::Rgb;

/// A place in the upright photo, in fractions of its width and height.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Point {
    /// From the left, 0 to 1.
    pub x: f64,
    /// From the top, 0 to 1.
    pub y: f64,
}

/// A part of the photo, in fractions of its width and height.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Amid {
    /// Its upper left corner.
    pub from: Point,
    /// Its lower right corner.
    pub to: Point,
}

/// Something neutral in the photo, by which light is evened out.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub enum Neutral {
    /// A sheet of white paper, tapped.
    Paper(Point),
    /// A sheet of white paper, in a box.
    PaperIn(Amid),
    /// A grey card of 18 %, tapped.
    Card(Point),
    /// A grey card of 18 %, in a box.
    CardIn(Amid),
}

/// What she says of a photo; nothing is needed.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct Asked {
    /// Sheets of paper and grey cards.
    pub neutral: Vec<Neutral>,
    /// Taps on prints that were not found.
    pub taps: Vec<Point>,
    /// Boxes around prints, taken as they are.
    pub boxes: Vec<Amid>,
    /// Pairs of taps on swatches that are one print.
    pub merges: Vec<[Point; 2]>,
    /// Taps on swatches that are none.
    pub without: Vec<Point>,
    /// Whether only taps and boxes are taken.
    pub only_given: bool,
}

/// The swatches of a photo, in reading order.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Found {
    /// Them.
    pub swatches: Vec<Swatch>,
    /// Width and height of the upright photo in pixels.
    pub size: [u32; 2],
    /// What she should know of how it was read.
    pub notes: Vec<String>,
}

/// One print in a photo.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Swatch {
    /// What is taken, corner by corner.
    pub outline: Vec<Point>,
    /// The colour that it reads as from across the room.
    pub colour: Rgb,
    /// A plain name for that.
    pub name: String,
    /// CIELAB lightness of that.
    pub value: f64,
    /// Mean CIEDE2000 of the print's own colours from that: plain to busy.
    pub spread: f64,
    /// Whether it reads as one colour from across the room.
    pub one_colour: bool,
    /// How certain its colour and its outline are, 0 to 1.
    pub certainty: f64,
    /// Why it is not more certain, the worst first.
    pub doubts: Vec<Doubt>,
    /// A small picture of it, upright, its light evened out: a JPEG as a `data:` address.
    pub thumbnail: String,
    /// How much of the width of what is taken the small picture shows, 0 to 1.
    pub shown: f64,
    /// By what it is known again in another photo.
    pub marks: Marks,
}

/// By what a print is known again.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Marks {
    /// How its lightness varies over a fiftieth, a twentieth and an eighth of its side, in steps of CIELAB.
    pub grain: [f64; 3],
    /// A tenth, half and nine tenths of its pixels are darker than these values.
    pub values: [f64; 3],
}

/// Why a swatch is not certain, and so what to do.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "camelCase")]
#[non_exhaustive]
pub enum Doubt {
    /// Nothing neutral is known in the photo.
    NoPaper,
    /// The paper is so bright that it says little.
    BrightPaper,
    /// The light is much warmer or cooler than daylight.
    Lamp,
    /// Part of it lies in shade, is folded, or shines.
    Uneven,
    /// It is so dark that little is told apart.
    Dark,
    /// It is so bright that little is told apart.
    Bright,
    /// It is small in the photo.
    Small,
    /// Its edges are not clear.
    Edges,
}

impl Doubt {
    /// What is doubtful and what to do, in words.
    pub fn words(self) -> &'static str {
        match self {
            Self::NoPaper => "no white is known in the photo: lay a sheet of white paper beside the fabrics and tap it",
            Self::BrightPaper => "the paper is too bright to tell its colour: take the photo again a little darker",
            Self::Lamp => "the light is far from daylight: move to a window and take the photo again",
            Self::Uneven => {
                "it lies partly in shade, in a fold or in a glare: smooth it out and turn it from the light"
            }
            Self::Dark => "it is too dark to tell its colour: move to more light",
            Self::Bright => "it is too bright to tell its colour: take the photo again a little darker",
            Self::Small => "it is small in the photo: go nearer, or take fewer at a time",
            Self::Edges => "its edges are not clear: draw a box inside it",
        }
    }
}

/// Two swatches that look like one fabric.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Twin {
    /// The first: its photo, and its place in it.
    pub one: [usize; 2],
    /// The other, in a later photo.
    pub other: [usize; 2],
    /// CIEDE2000 between their colours.
    pub apart: f64,
}
