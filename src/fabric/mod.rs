//! Fabrics, the colours they read as, the stash file, and palettes proposed from a picture.

mod ciede2000;
mod colour;
pub(crate) mod contain;
mod css;
mod hue;
mod index;
pub(crate) mod light;
mod name;
mod plain;
mod propose;
mod stash;
mod thumbnail;

pub use colour::{ColourError, Rgb};
pub use contain::hush_contained_panics;
pub use index::Print;
pub use plain::{is_unprintable, printable, printable_lines};
pub use stash::{
    FillerOnHand, Lean, Oddment, OnHand, Proposal, SliceOnHand, Squares, SquaresGive, Stash, StashError, StashNote,
    StashProblem, StashTotals, Supply, UnitOnHand, Yardage, stash_schema,
};
pub use thumbnail::{Thumbnail, ThumbnailError};

inner!(colour::{ciede2000, hyab});
inner!(index::Family);
inner!(name::{ValueStep, letters, name, named, named_beside, names, value_step});
inner!(propose::{propose, propose_beside});
inner!(stash::FAT_QUARTER);

use std::collections::BTreeSet;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use typed_index_collections::{TiSlice, TiVec};

use crate::measure::{Length, Ruler};

/// One print as the scene uses it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Fabric {
    /// One to three letters or digits, unique in the plan.
    pub letter: String,
    /// The maker's name for it.
    pub name: String,
    /// The colour that it reads as from across the room.
    pub colour: Rgb,
    /// The prints that read as one with it share this name.
    pub family: String,
    /// Side of its squares where there is no other cloth of it: its fillers are cut from them.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub only_squares: Option<Length>,
    /// What is painted in this colour is made of this fabric and no other.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sketch: Option<Rgb>,
    /// The print has an up and a down: its fillers are not turned when they are cut.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub directional: bool,
    /// Its triangle units keep that too: they are sewn for their corners and not turned.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub upright: bool,
    /// What there is of it; none means free use.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub supply: Option<Supply>,
    /// What is left of what was bought of it, where it is free to use: it is cut up before more is bought.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub remnants: Option<Supply>,
    /// A small picture of it, upright.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub thumbnail: Option<Thumbnail>,
    /// How wide the cloth is that the small picture shows.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub swatch_width: Option<Length>,
}

/// Fabrics, by print.
pub type Fabrics = TiVec<Print, Fabric>;

impl Fabric {
    /// A fabric with a family of its own and no limits.
    pub fn new(letter: impl Into<String>, name: impl Into<String>, colour: Rgb) -> Self {
        let name = name.into();
        Self {
            letter: letter.into(),
            family: name.clone(),
            name,
            colour,
            only_squares: None,
            sketch: None,
            directional: false,
            upright: false,
            supply: None,
            remnants: None,
            thumbnail: None,
            swatch_width: None,
        }
    }
}

impl Fabric {
    /// How wide the cloth is that its small picture shows: 5 in or 12 cm where nobody said (by eye).
    pub fn shown_width(&self, ruler: Ruler) -> Length {
        self.swatch_width.unwrap_or(match ruler {
            Ruler::Inch => Length::INCH * 5i64,
            Ruler::Metric => Length::CM * 12i64,
        })
    }

    /// Whether there is cloth of it that is counted.
    pub fn has_cloth(&self) -> bool {
        self.supply.as_ref().is_some_and(|supply| supply.largest().is_some())
    }
}

/// Prints of one family are dealt for one another, so where one stands upright in triangle units all of them do.
pub(crate) fn stand_together(prints: &mut TiSlice<Print, Fabric>) {
    let upright: BTreeSet<String> =
        prints.iter().filter(|print| print.upright).map(|print| print.family.clone()).collect();
    prints.iter_mut().for_each(|print| print.upright |= upright.contains(&print.family));
}
