//! What is on hand, as this check reads it in the plan.

use serde::Deserialize;

use super::cutting::HandKind;
use super::paper::Size;
use crate::measure::Length;

/// Units, strips and rectangles that were there before.
#[derive(Debug, Default, Deserialize)]
pub struct HandFile {
    units: Vec<UnitOnHand>,
    slices: Vec<SliceOnHand>,
    fillers: Vec<FillerOnHand>,
}

#[derive(Debug, Deserialize)]
struct UnitOnHand {
    finished: Length,
    fabrics: [String; 2],
    count: u32,
}

#[derive(Debug, Deserialize)]
struct SliceOnHand {
    from: Length,
    width: Length,
    tip: String,
    rest: String,
    leans: LeanFile,
    count: u32,
}

#[derive(Debug, Deserialize, PartialEq)]
#[serde(rename_all = "lowercase")]
enum LeanFile {
    Left,
    Right,
}

#[derive(Debug, Deserialize)]
struct FillerOnHand {
    fabric: String,
    width: Length,
    height: Length,
    count: u32,
}

impl HandFile {
    /// How many pieces of a kind there are; of a slice the width and the length it finishes at are given.
    pub fn count(&self, kind: HandKind, fabrics: &[String], finished: Size) -> u64 {
        let same = |one: &[&String]| one.len() == fabrics.len() && one.iter().zip(fabrics).all(|(a, b)| *a == b);
        let count = |fits: bool, count: u32| if fits { u64::from(count) } else { 0 };
        match kind {
            HandKind::Unit => {
                let unit = |u: &UnitOnHand| {
                    let [one, other] = &u.fabrics;
                    count(u.finished == finished.width && (same(&[one, other]) || same(&[other, one])), u.count)
                };
                self.units.iter().map(unit).sum()
            }
            HandKind::Slice(left) => {
                let slice = |s: &SliceOnHand| {
                    let size = Size { width: s.width, height: s.from };
                    count(size == finished && (s.leans == LeanFile::Left) == left && same(&[&s.tip, &s.rest]), s.count)
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
