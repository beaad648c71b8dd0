//! What is on hand, as this check reads it in the plan.

use serde::Deserialize;

use super::cutting::HandKind;
use super::paper::Size;
use crate::measure::Length;

/// Units, strips and rectangles that were there before.
#[derive(Debug, Default, Deserialize)]
pub struct HandFile {
    /// Whole triangle units.
    pub units: Vec<UnitOnHand>,
    /// Strips of them.
    pub slices: Vec<SliceOnHand>,
    /// Rectangles.
    pub fillers: Vec<FillerOnHand>,
}

/// Triangle units that are alike.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct UnitOnHand {
    /// Finished side.
    pub finished: Length,
    /// Letters of its fabrics.
    #[serde(deserialize_with = "two")]
    pub fabrics: [String; 2],
    /// The corner that the first of them fills as a print in it stands upright.
    #[serde(default)]
    pub stands: Option<CornerFile>,
    /// How many.
    pub count: u32,
}

/// Strips that are alike.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SliceOnHand {
    /// Finished side of the whole unit.
    pub from: Length,
    /// Finished width.
    pub width: Length,
    /// Letter of the small triangle.
    pub tip: String,
    /// Letter of the rest.
    pub rest: String,
    /// Stood up with its tip on top: the corner that the tip is in.
    pub leans: LeanFile,
    /// The corner that the tip is in as a print in it stands upright.
    #[serde(default)]
    pub stands: Option<CornerFile>,
    /// How many.
    pub count: u32,
}

/// An upper corner.
#[derive(Debug, Deserialize, PartialEq)]
#[serde(rename_all = "lowercase")]
pub enum LeanFile {
    /// The left one.
    Left,
    /// The right one.
    Right,
}

/// A corner, clockwise from the upper left.
#[derive(Clone, Copy, Debug, Deserialize, PartialEq)]
#[serde(rename_all = "kebab-case")]
pub enum CornerFile {
    UpperLeft,
    UpperRight,
    LowerRight,
    LowerLeft,
}

/// Rectangles that are alike.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FillerOnHand {
    /// Letter of its fabric.
    pub fabric: String,
    /// Finished width.
    pub width: Length,
    /// Finished height.
    pub height: Length,
    /// How many.
    pub count: u32,
}

/// Two texts, and no more.
fn two<'de, D: serde::Deserializer<'de>>(texts: D) -> Result<[String; 2], D::Error> {
    let texts = Vec::<String>::deserialize(texts)?;
    texts.try_into().map_err(|_| serde::de::Error::custom("a triangle unit has two fabrics"))
}

impl HandFile {
    /// Whether every piece has a size, and a strip is narrower than the unit that it came from.
    pub fn has_sizes(&self) -> bool {
        let some = |length: Length| length > Length::ZERO;
        self.units.iter().all(|unit| some(unit.finished))
            && self.slices.iter().all(|slice| some(slice.width) && slice.width < slice.from)
            && self.fillers.iter().all(|filler| some(filler.width) && some(filler.height))
    }

    /// How many pieces of a kind there are; of a slice the width and the length it finishes at are given.
    pub fn count(&self, kind: HandKind, fabrics: &[String], finished: Size, stands: Option<u8>) -> u64 {
        let same = |one: &[&String]| one.len() == fabrics.len() && one.iter().zip(fabrics).all(|(a, b)| *a == b);
        let count = |fits: bool, count: u32| if fits { u64::from(count) } else { 0 };
        match kind {
            HandKind::Unit => {
                let unit = |u: &UnitOnHand| {
                    let [one, other] = &u.fabrics;
                    let corner = u.stands.map(|corner| corner as u8);
                    let turned = corner.map(|corner| (corner + 2) % 4);
                    let as_told = same(&[one, other]) && corner == stands || same(&[other, one]) && turned == stands;
                    count(u.finished == finished.width && as_told, u.count)
                };
                self.units.iter().map(unit).sum()
            }
            HandKind::Slice(left) => {
                let slice = |s: &SliceOnHand| {
                    let size = Size { width: s.width, height: s.from };
                    let leans = (s.leans == LeanFile::Left) == left && s.stands.map(|corner| corner as u8) == stands;
                    count(size == finished && leans && same(&[&s.tip, &s.rest]), s.count)
                };
                self.slices.iter().map(slice).sum()
            }
            HandKind::Filler => {
                let filler = |f: &FillerOnHand| {
                    let size = Size { width: f.width, height: f.height };
                    count((size == finished || size.on_its_side() == finished) && same(&[&f.fabric]), f.count)
                };
                self.fillers.iter().map(filler).sum()
            }
        }
    }
}
