//! What is on hand as the plan file says it: fabrics by letter.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use typed_index_collections::TiSlice;

use super::Item;
use super::error::{PlanError, wrong};
use crate::fabric::{Fabric, FillerOnHand, Lean, OnHand, Print, SliceOnHand, Stash, UnitOnHand};
use crate::measure::Length;
use crate::unit::Corner;

#[derive(Serialize, Deserialize, JsonSchema, Default)]
#[serde(deny_unknown_fields)]
pub(super) struct HandFile {
    /// Triangle units sewn already.
    units: Vec<UnitFile>,
    /// Strips that came off triangle units.
    slices: Vec<SliceFile>,
    /// Rectangles cut already.
    fillers: Vec<FillerFile>,
}

#[derive(Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(rename = "UnitOnHand")]
struct UnitFile {
    /// Finished side.
    finished: Length,
    /// Letters of its two fabrics.
    fabrics: [String; 2],
    /// The corner that the first of them fills as a print in it stands upright.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    stands: Option<Corner>,
    /// How many.
    count: u32,
}

#[derive(Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(rename = "SliceOnHand")]
struct SliceFile {
    /// Finished side of the whole unit.
    from: Length,
    /// Finished width.
    width: Length,
    /// Letter of the triangle in the corner.
    tip: String,
    /// Letter of the rest.
    rest: String,
    /// Stood up with its tip on top: the corner that the tip is in.
    leans: Lean,
    /// The corner that the tip is in as a print in it stands upright.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    stands: Option<Corner>,
    /// How many.
    count: u32,
}

#[derive(Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(rename = "FillerOnHand")]
struct FillerFile {
    /// Letter of its fabric.
    fabric: String,
    /// Finished width.
    width: Length,
    /// Finished height.
    height: Length,
    /// How many.
    count: u32,
}

impl HandFile {
    pub fn is_empty(&self) -> bool {
        self.units.is_empty() && self.slices.is_empty() && self.fillers.is_empty()
    }

    pub fn new(hand: &OnHand, fabrics: &TiSlice<Print, Fabric>) -> Self {
        let letter = |print: Print| fabrics[print].letter.clone();
        let unit = |u: &UnitOnHand| UnitFile {
            finished: u.finished,
            fabrics: u.fabrics.map(letter),
            stands: u.stands,
            count: u.count,
        };
        let slice = |s: &SliceOnHand| SliceFile {
            from: s.from,
            width: s.width,
            tip: letter(s.tip),
            rest: letter(s.rest),
            leans: s.leans,
            stands: s.stands,
            count: s.count,
        };
        let filler = |f: &FillerOnHand| FillerFile {
            fabric: letter(f.fabric),
            width: f.width,
            height: f.height,
            count: f.count,
        };
        Self {
            units: hand.units.iter().map(unit).collect(),
            slices: hand.slices.iter().map(slice).collect(),
            fillers: hand.fillers.iter().map(filler).collect(),
        }
    }

    /// Checked: letters that are known, sizes that are something, counts that add up.
    pub fn read(&self, letters: &TiSlice<Print, &str>) -> Result<OnHand, PlanError> {
        let fabric = |letter: &String| {
            let index = letters.position(|known| known == letter);
            index.ok_or_else(|| wrong("what is on hand", format!("no fabric has the letter `{letter}`")))
        };
        let some = |length: Length| match Length::ZERO < length && length <= Stash::LONGEST {
            true => Ok(length),
            false => Err(wrong("what is on hand", format!("{length} is no size of a piece"))),
        };
        let few = |count: u32| match count <= Stash::MOST_PIECES {
            true => Ok(count),
            false => Err(wrong("what is on hand", format!("{count} pieces are more than can be counted"))),
        };
        let apart = |one: Print, other: Print| match one == other {
            true => Err(wrong("what is on hand", "a triangle unit joins two fabrics")),
            false => Ok([one, other]),
        };
        let unit = |u: &UnitFile| {
            let fabrics = apart(fabric(&u.fabrics[0])?, fabric(&u.fabrics[1])?)?;
            Ok(UnitOnHand { finished: some(u.finished)?, fabrics, stands: u.stands, count: few(u.count)? })
        };
        let slice = |s: &SliceFile| {
            let [tip, rest] = apart(fabric(&s.tip)?, fabric(&s.rest)?)?;
            let (from, width, count) = (some(s.from)?, some(s.width)?, few(s.count)?);
            Ok(SliceOnHand { from, width, tip, rest, leans: s.leans, stands: s.stands, count })
        };
        let filler = |f: &FillerFile| {
            let (width, height) = (some(f.width)?, some(f.height)?);
            Ok(FillerOnHand { fabric: fabric(&f.fabric)?, width, height, count: few(f.count)? })
        };
        let hand = OnHand {
            units: self.units.iter().map(unit).collect::<Result<_, PlanError>>()?,
            slices: self.slices.iter().map(slice).collect::<Result<_, PlanError>>()?,
            fillers: self.fillers.iter().map(filler).collect::<Result<_, PlanError>>()?,
        };
        let kind = |u: &UnitOnHand| (u.finished, Item::standing(u.fabrics[0], u.fabrics[1], 0, u.stands));
        few_in_all(hand.units.iter().map(|u| (kind(u), u.count)))?;
        few_in_all(hand.slices.iter().map(|s| ((s.from, s.width, s.tip, s.rest, s.leans, s.stands), s.count)))?;
        few_in_all(hand.fillers.iter().map(|f| ((f.fabric, f.width, f.height), f.count)))?;
        Ok(hand)
    }
}

/// Lines that say the same come to no more than can be counted.
fn few_in_all<K: Ord>(lines: impl Iterator<Item = (K, u32)>) -> Result<(), PlanError> {
    let mut sums: BTreeMap<K, u64> = BTreeMap::new();
    for (piece, count) in lines {
        let sum = sums.entry(piece).or_default();
        *sum += u64::from(count);
        if *sum > u64::from(Stash::MOST_PIECES) {
            return Err(wrong("what is on hand", format!("{sum} pieces of one kind are more than can be counted")));
        }
    }
    Ok(())
}
