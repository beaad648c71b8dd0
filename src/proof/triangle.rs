//! What the plan says that a triangle unit is, against its outlines.

use serde::Deserialize;

use super::fault::Fault;
use super::paper::{Outline, Point, Size, point};
use crate::measure::Length;

/// What a triangle unit is made of.
#[derive(Deserialize)]
pub struct TriangleFile {
    /// Finished side of the whole unit, in cells.
    pub block: u32,
    cut: Part,
    corner: CornerFile,
}

/// Which part of a triangle unit is used.
#[derive(Deserialize, Clone, Copy, PartialEq, Eq)]
#[serde(rename_all = "lowercase")]
pub enum Part {
    /// All of it.
    Whole,
    /// What a strip was cut off.
    Trimmed,
    /// The strip.
    Slice,
}

impl Part {
    /// The part that a kind names after the unit's size.
    pub fn named(word: &str) -> Option<Self> {
        match word {
            "" => Some(Self::Whole),
            "trimmed" => Some(Self::Trimmed),
            "slice" => Some(Self::Slice),
            _ => None,
        }
    }
}

#[derive(Deserialize, Clone, Copy)]
#[serde(rename_all = "kebab-case")]
enum CornerFile {
    UpperLeft,
    UpperRight,
    LowerRight,
    LowerLeft,
}

impl TriangleFile {
    /// Checks that a unit of `kind` and `size` at `at` is part of a whole of `block`, its `first` patch in the corner.
    pub fn check(
        &self,
        address: &str,
        kind: &str,
        (at, size): (Point, Size),
        block: Length,
        first: &Outline,
    ) -> Result<(), Fault> {
        let fault = |what: String| Err(Fault::new(address, format!("{what} in the plan")));
        if Part::named(kind.split_once(' ').map_or("", |(_, part)| part)) != Some(self.cut) {
            return fault(format!("its kind is `{kind}`, and its triangle is cut otherwise"));
        }
        let (long, short) = (size.width.max(size.height), size.width.min(size.height));
        if block != long || (self.cut == Part::Whole) != (short == long) {
            return fault(format!("a unit of {block} does not give this one"));
        }
        let (far, low) = (at.x + size.width, at.y + size.height);
        let (corner, right, down) = match self.corner {
            CornerFile::UpperLeft => (at, short, short),
            CornerFile::UpperRight => (point(far, at.y), -short, short),
            CornerFile::LowerRight => (point(far, low), -short, -short),
            CornerFile::LowerLeft => (point(at.x, low), short, -short),
        };
        let mut due = [corner, point(corner.x + right, corner.y), point(corner.x, corner.y + down)];
        let mut first = first.clone();
        due.sort_unstable();
        first.sort_unstable();
        if first != due {
            return fault("its first patch is not the triangle in its corner".into());
        }
        Ok(())
    }
}
