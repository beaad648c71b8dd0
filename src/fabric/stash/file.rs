//! The stash as TOML: strict, every value with its place in the file.

use std::borrow::Cow;
use std::ops::Range;

use schemars::{JsonSchema, Schema, schema_for};
use serde::Deserialize;
use toml::Spanned;

use super::lenient::{Amount, Colour, Many, OfCloth, Side, Text, Truth};
use super::mend::Mended;
use super::model::Lean;
use super::{Stash, StashError, StashProblem};
use crate::fabric::Rgb;
use crate::measure::Length;
use crate::unit::Corner;

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
    /// One to three letters or digits, on every chart; the next that is free where left out.
    #[schemars(with = "Option<String>", regex(pattern = "^[A-Za-z0-9]{1,3}$"))]
    pub letter: Option<Spanned<Text>>,
    /// The maker's name for it.
    #[schemars(with = "String", length(min = 1, max = 60))]
    pub name: Spanned<Text>,
    /// The colour that it reads as from across the room.
    #[serde(alias = "color")]
    #[schemars(with = "Rgb")]
    pub colour: Colour,
    /// Prints that read as one share this; its own name where left out.
    #[schemars(with = "Option<String>", length(min = 1, max = 60))]
    pub family: Option<Spanned<Text>>,
    /// What is painted in this colour is made of this fabric and no other.
    #[schemars(with = "Option<Rgb>")]
    pub sketch: Option<Spanned<Colour>>,
    /// The print has an up and a down.
    #[serde(default)]
    #[schemars(with = "bool")]
    pub directional: Truth,
    /// It stands upright in triangle units too, which takes more squares; so do all prints of its family.
    #[serde(default)]
    #[schemars(with = "bool")]
    pub upright_in_triangles: Truth,
    /// Squares as cut.
    #[schemars(with = "Option<Vec<SquaresEntry>>", length(max = 200))]
    pub squares: Option<Spanned<Many<SquaresEntry>>>,
    /// Lengths of cloth.
    #[schemars(with = "Option<Vec<YardageEntry>>", length(max = 200))]
    pub yardage: Option<Spanned<Many<YardageEntry>>>,
    /// Pieces of 18 by 22 in.
    #[schemars(with = "Option<i64>", range(min = 0, max = 100_000))]
    pub fat_quarters: Option<Spanned<Amount>>,
    /// Other pieces.
    #[schemars(with = "Option<Vec<OddmentEntry>>", length(max = 200))]
    pub oddments: Option<Spanned<Many<OddmentEntry>>>,
    /// A small picture of it, upright: a JPEG or PNG as a `data:` address.
    #[schemars(with = "Option<crate::fabric::Thumbnail>")]
    pub thumbnail: Option<Spanned<Text>>,
    /// How wide the cloth is that the small picture shows.
    #[schemars(with = "Option<Length>")]
    pub swatch_width: Option<Spanned<Side>>,
}

#[derive(Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(rename = "Squares")]
pub(super) struct SquaresEntry {
    /// Side as cut.
    #[schemars(with = "Length")]
    pub size: Spanned<Side>,
    /// How many.
    #[schemars(with = "i64", range(min = 0, max = 100_000))]
    pub count: Spanned<Amount>,
}

#[derive(JsonSchema)]
#[schemars(rename = "Yardage")]
pub(super) struct YardageEntry {
    /// Usable width; what is usual where left out.
    #[schemars(with = "Option<Length>")]
    pub width: Option<Spanned<Side>>,
    /// Length along the selvedge.
    #[schemars(with = "Length")]
    pub length: Spanned<OfCloth>,
}

#[derive(Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(rename = "Oddment")]
pub(super) struct OddmentEntry {
    /// Width across the print.
    #[schemars(with = "Length")]
    pub width: Spanned<Side>,
    /// Height up the print.
    #[schemars(with = "Length")]
    pub height: Spanned<Side>,
    /// How many.
    #[schemars(with = "i64", range(min = 0, max = 100_000))]
    pub count: Spanned<Amount>,
}

#[derive(Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(rename = "Pack")]
pub(super) struct PackEntry {
    /// Side of the squares as cut.
    #[schemars(with = "Length")]
    pub size: Spanned<Side>,
    /// Squares in the pack.
    #[schemars(with = "i64", range(min = 0, max = 100_000))]
    pub count: Spanned<Amount>,
    /// Letters of the prints in it; the first get one more where the count does not divide.
    #[schemars(with = "Vec<String>", length(min = 1))]
    pub prints: Spanned<Many<Spanned<Text>>>,
}

#[derive(Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(rename = "UnitOnHand")]
pub(super) struct UnitEntry {
    /// Finished side.
    #[schemars(with = "Length")]
    pub finished: Spanned<Side>,
    /// Letters of its two fabrics.
    #[schemars(with = "[String; 2]")]
    pub fabrics: Spanned<Many<Spanned<Text>>>,
    /// The corner that the first of them fills as a print in it stands upright; left out where none does.
    pub stands: Option<Corner>,
    /// How many.
    #[schemars(with = "i64", range(min = 0, max = 100_000))]
    pub count: Spanned<Amount>,
}

#[derive(Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(rename = "SliceOnHand")]
pub(super) struct SliceEntry {
    /// Finished side of the whole unit that it came from.
    #[schemars(with = "Length")]
    pub from: Spanned<Side>,
    /// Finished width of the strip.
    #[schemars(with = "Length")]
    pub width: Spanned<Side>,
    /// Letter of the small triangle in the corner.
    #[schemars(with = "String")]
    pub tip: Spanned<Text>,
    /// Letter of the rest.
    #[schemars(with = "String")]
    pub rest: Spanned<Text>,
    /// Stood up with the tip on top: the corner that the tip is in.
    pub leans: Lean,
    /// The corner that the tip is in as a print in it stands upright; left out where none does.
    pub stands: Option<Corner>,
    /// How many.
    #[schemars(with = "i64", range(min = 0, max = 100_000))]
    pub count: Spanned<Amount>,
}

#[derive(Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(rename = "FillerOnHand")]
pub(super) struct FillerEntry {
    /// Letter of its fabric.
    #[schemars(with = "String")]
    pub fabric: Spanned<Text>,
    /// Finished width.
    #[schemars(with = "Length")]
    pub width: Spanned<Side>,
    /// Finished height.
    #[schemars(with = "Length")]
    pub height: Spanned<Side>,
    /// How many.
    #[schemars(with = "i64", range(min = 0, max = 100_000))]
    pub count: Spanned<Amount>,
}

/// The JSON Schema of a stash file.
pub fn stash_schema() -> Schema {
    schema_for!(StashFile)
}

/// The file as it is, or else with the quotes that it lacks.
pub(super) fn parse(text: &str) -> Result<StashFile, StashError> {
    if text.len() > Stash::MOST_BYTES {
        return Err(StashError::of_file(StashProblem::TooLarge(text.len())));
    }
    let first = match toml::from_str(text) {
        Ok(file) => return Ok(file),
        Err(error) => error,
    };
    let Some(mended) = Mended::of(text) else { return Err(told(text, &first, |span| span)) };
    toml::from_str(&mended.text).map_err(|error| told(text, &error, |span| mended.before(span)))
}

/// The file with the quotes that it lacks, where it does not read without them.
pub(super) fn readable(text: &str) -> Cow<'_, str> {
    let reads = text.len() > Stash::MOST_BYTES || toml::from_str::<StashFile>(text).is_ok();
    match Mended::of(text).filter(|_| !reads) {
        Some(mended) => Cow::Owned(mended.text),
        None => Cow::Borrowed(text),
    }
}

fn told(text: &str, error: &toml::de::Error, place: impl Fn(Range<usize>) -> Range<usize>) -> StashError {
    let message = error.message();
    let missing = message.strip_prefix("missing field `").and_then(|rest| rest.split('`').next());
    let problem = match missing {
        Some(key) => StashProblem::Missing(key.to_owned()),
        None => StashProblem::Unreadable(message.to_owned()),
    };
    StashError { problem, span: error.span().map(place).filter(|span| text.get(span.clone()).is_some()) }
}
