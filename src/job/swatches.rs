//! Fabrics found in photos, and the stash that they make.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::error::JobError;
use super::prepare::decode;
use crate::fabric::{Fabric, Oddment, OnHand, Rgb, Squares, Stash, StashError, Supply, Thumbnail, Yardage};
use crate::fabric::{letters, stand_together};
use crate::measure::Length;
use crate::picture::Crop;
use crate::render::{Taken, photos_png};
use crate::swatch::{Asked, Found, Swatch, Twin, find};

/// Fabrics to be kept as a stash.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Gathering {
    /// The fabrics, in their order.
    pub fabrics: Vec<Gathered>,
    /// Packs of squares shared out among some of them.
    #[serde(default)]
    pub packs: Vec<Pack>,
}

/// A fabric as it was found, with what she says of it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Gathered {
    /// Its letter; the next that is free where left out.
    #[serde(default)]
    pub letter: Option<String>,
    /// Its name; one that another has is told apart by a number.
    pub name: String,
    /// The colour that it reads as.
    pub colour: Rgb,
    /// Prints that read as one with it share this; its name where left out.
    #[serde(default)]
    pub family: Option<String>,
    /// A small picture of it.
    #[serde(default)]
    pub thumbnail: Option<Thumbnail>,
    /// How wide the cloth is that the small picture shows.
    #[serde(default)]
    pub swatch_width: Option<Length>,
    /// How much of that width it shows, 0 to 1; all of it where left out.
    #[serde(default)]
    pub shown: Option<f64>,
    /// Whether the print has an up and a down.
    #[serde(default)]
    pub directional: bool,
    /// How much there is; nothing, and in no pack, is free to use.
    #[serde(default)]
    pub amounts: Vec<Amount>,
}

impl Gathered {
    /// A fabric of a colour, its name still empty, free to use.
    pub fn new(colour: Rgb) -> Self {
        Self {
            letter: None,
            name: String::new(),
            colour,
            family: None,
            thumbnail: None,
            swatch_width: None,
            shown: None,
            directional: false,
            amounts: Vec::new(),
        }
    }
}

/// How much there is of a fabric, as it is bought.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub enum Amount {
    /// Squares as cut.
    Squares {
        /// Their side.
        size: Length,
        /// How many.
        count: u32,
    },
    /// Pieces of 18 by 22 in.
    FatQuarters(u32),
    /// Pieces of 9 by 22 in.
    FatEighths(u32),
    /// A length off the bolt.
    Length {
        /// Along the selvedge.
        length: Length,
        /// Usable width; 42 in, or 110 cm where the length is metric, where left out.
        #[serde(default)]
        width: Option<Length>,
    },
    /// Strips across the cloth.
    Strips {
        /// Their width.
        width: Length,
        /// Their length: the width of the cloth, 42 in or 110 cm, where left out.
        #[serde(default)]
        length: Option<Length>,
        /// How many.
        count: u32,
    },
}

/// Squares of one size shared out among fabrics, the first getting one more where the count does not divide.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Pack {
    /// Side as cut.
    pub size: Length,
    /// Squares in it.
    pub count: u32,
    /// The fabrics in it, by their place in the list, from 0.
    pub fabrics: Vec<usize>,
}

/// A fat eighth, 9 by 22 in (common practice, no source).
const FAT_EIGHTH: [Length; 2] = [Length::inches(22, 1), Length::inches(9, 1)];

/// The swatches of a photo of fabrics: the file's bytes, and what she says of it.
pub fn swatches(photo: &[u8], asked: &Asked) -> Result<Found, JobError> {
    swatches_by_size(photo, |_| asked.clone())
}

/// The same where what she says is in pixels, and so needs the upright photo's width and height.
pub fn swatches_by_size(photo: &[u8], asked: impl FnOnce([u32; 2]) -> Asked) -> Result<Found, JobError> {
    let picture = decode(photo, JobError::Picture)?;
    find(&picture, &asked([picture.width(), picture.height()])).map_err(JobError::Picture)
}

/// Pixels along the longer side of a photo as it is shown.
const SHOWN: u32 = 1_024;

/// A photo's bytes and its swatches, each with the fabric that it is; one without is taken elsewhere.
pub type Shown<'a> = (&'a [u8], Vec<(&'a Swatch, Option<&'a Fabric>)>);

/// The photos with what was taken of each, as PNG.
pub fn taken_png(photos: &[Shown]) -> Result<Vec<u8>, JobError> {
    let taken = |(bytes, swatches)| {
        let picture = decode(bytes, JobError::Picture)?;
        let (width, height) = (picture.width(), picture.height());
        let long = u64::from(width.max(height));
        let side = |side: u32| (u64::from(side) * u64::from(SHOWN) / long.max(1)).max(1) as u32;
        let (width, height) = if long > u64::from(SHOWN) { (side(width), side(height)) } else { (width, height) };
        let pixels = picture.cells(&Crop::Whole, width, height).map_err(JobError::Picture)?;
        Ok(Taken { pixels, width, swatches })
    };
    let photos = photos.iter().cloned().map(taken).collect::<Result<Vec<_>, JobError>>()?;
    Ok(photos_png(&photos)?)
}

/// Swatches of different photos that look like one fabric.
pub fn twice(photos: &[Vec<Swatch>]) -> Vec<Twin> {
    crate::swatch::twice(photos)
}

/// The stash of fabrics as a file's text; it reads as one, or is refused.
pub fn stash_of(gathering: &Gathering) -> Result<String, StashError> {
    let mut prints: Vec<Fabric> = Vec::new();
    let mut free = letters(2 * gathering.fabrics.len() + 1).into_iter();
    let taken = |letter: &str| {
        let given = gathering.fabrics.iter().filter_map(|fabric| fabric.letter.as_deref());
        given.into_iter().any(|given| given.eq_ignore_ascii_case(letter))
    };
    for gathered in &gathering.fabrics {
        let next = || free.find(|letter| !taken(letter)).expect("there are twice as many letters as fabrics");
        let letter = gathered.letter.clone().unwrap_or_else(next);
        let name = own_name(&gathered.name, &prints);
        let mut fabric = Fabric::new(letter, name, gathered.colour);
        if let Some(family) = &gathered.family {
            fabric.family.clone_from(family);
        }
        fabric.directional = gathered.directional;
        fabric.thumbnail.clone_from(&gathered.thumbnail);
        fabric.swatch_width = gathered.swatch_width.map(|width| part_of(width, gathered.shown.unwrap_or(1.0)));
        gathered.amounts.iter().for_each(|amount| add(fabric.supply.get_or_insert_default(), amount));
        prints.push(fabric);
    }
    for pack in &gathering.packs {
        let of: Vec<usize> = pack.fabrics.iter().copied().filter(|&at| at < prints.len()).collect();
        let shares = (of.len() as u32).max(1);
        for (place, at) in (0..).zip(of) {
            let count = pack.count / shares + u32::from(place < pack.count % shares);
            let squares = Squares { size: pack.size, count };
            prints[at].supply.get_or_insert_default().squares.push(squares);
        }
    }
    let mut prints: crate::fabric::Fabrics = prints.into();
    stand_together(&mut prints);
    let text = Stash { prints, hand: OnHand::default() }.write();
    Stash::read(&text).map(|_| text)
}

/// A part of a length, to a thousandth.
fn part_of(length: Length, part: f64) -> Length {
    length * (part.clamp(0.001, 1.0) * 1000.0).round() as i64 / 1000
}

/// The name, or the name and the first number that makes it one of its own.
fn own_name(name: &str, others: &[Fabric]) -> String {
    let taken = |name: &str| others.iter().any(|other| other.name.trim().to_lowercase() == name.trim().to_lowercase());
    let numbered = (2..).map(|number| format!("{} {number}", name.trim()));
    let mut all = std::iter::once(name.trim().to_owned()).chain(numbered);
    all.find(|name| !taken(name)).expect("numbers have no end")
}

fn add(supply: &mut Supply, amount: &Amount) {
    let of_inches = |length: Length| length.is_multiple_of(Length::inches(1, 8));
    let across = |length: Length| if of_inches(length) { Length::inches(42, 1) } else { Length::CM * 110i64 };
    match *amount {
        Amount::Squares { size, count } => supply.squares.push(Squares { size, count }),
        Amount::FatQuarters(count) => supply.fat_quarters = supply.fat_quarters.saturating_add(count),
        Amount::FatEighths(count) => {
            let [width, height] = FAT_EIGHTH;
            supply.oddments.push(Oddment { width, height, count });
        }
        Amount::Length { length, width } => {
            supply.yardage.push(Yardage { width: width.unwrap_or_else(|| across(length)), length });
        }
        Amount::Strips { width, length, count } => {
            let length = length.unwrap_or_else(|| across(width));
            supply.oddments.push(Oddment { width: length, height: width, count });
        }
    }
}
