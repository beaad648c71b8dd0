//! The stash as TOML: strict, every value with its place in the file.

use schemars::{JsonSchema, Schema, schema_for};
use serde::Deserialize;
use toml::Spanned;

use super::model::Lean;
use super::{Stash, StashError, StashProblem};
use crate::fabric::Rgb;
use crate::measure::Length;

/// What the maker has to sew with.
#[derive(Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "Rowscape stash")]
pub(super) struct StashFile {
    /// The fabrics.
    #[serde(default)]
    pub fabric: Vec<FabricEntry>,
    /// Packs of squares shared out evenly among prints.
    #[serde(default)]
    pub pack: Vec<PackEntry>,
    /// Triangle units sewn already.
    #[serde(default)]
    pub unit: Vec<UnitEntry>,
    /// Strips that came off triangle units.
    #[serde(default)]
    pub slice: Vec<SliceEntry>,
    /// Rectangles cut already.
    #[serde(default)]
    pub filler: Vec<FillerEntry>,
}

#[derive(Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(rename = "Fabric")]
pub(super) struct FabricEntry {
    /// One to three letters or digits, on every chart.
    #[schemars(with = "String", regex(pattern = "^[A-Za-z0-9]{1,3}$"))]
    pub letter: Spanned<String>,
    /// The maker's name for it.
    #[schemars(with = "String", length(min = 1, max = 60))]
    pub name: Spanned<String>,
    /// The colour that it reads as from across the room.
    pub colour: Rgb,
    /// Prints that read as one share this; its own name where left out.
    #[schemars(with = "Option<String>", length(min = 1, max = 60))]
    pub family: Option<Spanned<String>>,
    /// What is painted in this colour is made of this fabric and no other.
    #[schemars(with = "Option<Rgb>")]
    pub sketch: Option<Spanned<Rgb>>,
    /// The print has an up and a down.
    #[serde(default)]
    pub directional: bool,
    /// Squares as cut.
    #[schemars(with = "Option<Vec<SquaresEntry>>", length(max = 200))]
    pub squares: Option<Spanned<Vec<SquaresEntry>>>,
    /// Lengths of cloth.
    #[schemars(with = "Option<Vec<YardageEntry>>", length(max = 200))]
    pub yardage: Option<Spanned<Vec<YardageEntry>>>,
    /// Pieces of 18 by 22 in.
    #[schemars(with = "Option<i64>", range(min = 0, max = 100_000))]
    pub fat_quarters: Option<Spanned<i64>>,
    /// Other pieces.
    #[schemars(with = "Option<Vec<OddmentEntry>>", length(max = 200))]
    pub oddments: Option<Spanned<Vec<OddmentEntry>>>,
}

#[derive(Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(rename = "Squares")]
pub(super) struct SquaresEntry {
    /// Side as cut.
    #[schemars(with = "Length")]
    pub size: Spanned<Length>,
    /// How many.
    #[schemars(with = "i64", range(min = 0, max = 100_000))]
    pub count: Spanned<i64>,
}

#[derive(Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(rename = "Yardage")]
pub(super) struct YardageEntry {
    /// Usable width.
    #[schemars(with = "Length")]
    pub width: Spanned<Length>,
    /// Length along the selvedge.
    #[schemars(with = "Length")]
    pub length: Spanned<Length>,
}

#[derive(Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(rename = "Oddment")]
pub(super) struct OddmentEntry {
    /// Width across the print.
    #[schemars(with = "Length")]
    pub width: Spanned<Length>,
    /// Height up the print.
    #[schemars(with = "Length")]
    pub height: Spanned<Length>,
    /// How many.
    #[schemars(with = "i64", range(min = 0, max = 100_000))]
    pub count: Spanned<i64>,
}

#[derive(Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(rename = "Pack")]
pub(super) struct PackEntry {
    /// Side of the squares as cut.
    #[schemars(with = "Length")]
    pub size: Spanned<Length>,
    /// Squares in the pack.
    #[schemars(with = "i64", range(min = 0, max = 100_000))]
    pub count: Spanned<i64>,
    /// Letters of the prints in it; the first get one more where the count does not divide.
    #[schemars(with = "Vec<String>", length(min = 1))]
    pub prints: Spanned<Vec<Spanned<String>>>,
}

#[derive(Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(rename = "UnitOnHand")]
pub(super) struct UnitEntry {
    /// Finished side.
    #[schemars(with = "Length")]
    pub finished: Spanned<Length>,
    /// Letters of its two fabrics.
    #[schemars(with = "[String; 2]")]
    pub fabrics: Spanned<Vec<Spanned<String>>>,
    /// How many.
    #[schemars(with = "i64", range(min = 0, max = 100_000))]
    pub count: Spanned<i64>,
}

#[derive(Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(rename = "SliceOnHand")]
pub(super) struct SliceEntry {
    /// Finished side of the whole unit that it came from.
    #[schemars(with = "Length")]
    pub from: Spanned<Length>,
    /// Finished width of the strip.
    #[schemars(with = "Length")]
    pub width: Spanned<Length>,
    /// Letter of the small triangle in the corner.
    #[schemars(with = "String")]
    pub tip: Spanned<String>,
    /// Letter of the rest.
    #[schemars(with = "String")]
    pub rest: Spanned<String>,
    /// Stood up with the tip on top: the corner that the tip is in.
    pub leans: Lean,
    /// How many.
    #[schemars(with = "i64", range(min = 0, max = 100_000))]
    pub count: Spanned<i64>,
}

#[derive(Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(rename = "FillerOnHand")]
pub(super) struct FillerEntry {
    /// Letter of its fabric.
    #[schemars(with = "String")]
    pub fabric: Spanned<String>,
    /// Finished width.
    #[schemars(with = "Length")]
    pub width: Spanned<Length>,
    /// Finished height.
    #[schemars(with = "Length")]
    pub height: Spanned<Length>,
    /// How many.
    #[schemars(with = "i64", range(min = 0, max = 100_000))]
    pub count: Spanned<i64>,
}

/// The JSON Schema of a stash file.
pub fn stash_schema() -> Schema {
    schema_for!(StashFile)
}

pub(super) fn parse(text: &str) -> Result<StashFile, StashError> {
    if text.len() > Stash::MOST_BYTES {
        return Err(StashError::of_file(StashProblem::TooLarge(text.len())));
    }
    toml::from_str(text).map_err(|error| {
        let problem = StashProblem::Unreadable(error.message().to_owned());
        StashError { problem, span: error.span().filter(|span| text.get(span.clone()).is_some()) }
    })
}
