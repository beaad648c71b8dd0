//! The back: lengths of cloth side by side.

use super::asked::pick;
use super::{Backing, FinishError, Top};
use crate::measure::Length;

/// Most lengths that are sewn side by side.
const MOST_LENGTHS: i64 = 3;

/// Which way the seams of a back run.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Seams {
    /// Up and down.
    Upright,
    /// From side to side.
    Level,
}

/// Two lengths, one of them split.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Halves {
    /// Width of each half.
    pub width: Length,
}

/// A strip through the middle, pieced of rectangles end to end.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Middle {
    /// Width that its rectangles are cut.
    pub width: Length,
    /// How long it is to be, its seams sewn.
    pub length: Length,
}

/// The back.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct BackingWork {
    /// Width and height that it must cover.
    pub size: [Length; 2],
    /// Usable width of its cloth.
    pub cloth: Length,
    /// The seam that joins its lengths.
    pub seam: Length,
    /// Which way its seams run.
    pub seams: Seams,
    /// How many lengths.
    pub lengths: i64,
    /// How long each is.
    pub length: Length,
    /// Halves beside a full middle, or beside a pieced one.
    pub halves: Option<Halves>,
    /// What lies between its lengths, or between the halves of the only one.
    pub middle: Option<Middle>,
}

impl BackingWork {
    /// All lengths together.
    pub fn cut(&self) -> Length {
        self.length * self.lengths
    }

    /// How far they reach, sewn side by side.
    pub fn reach(&self) -> Length {
        if let Some(middle) = &self.middle {
            return self.cloth * self.lengths + middle.width - self.seam * 4i64;
        }
        self.cloth * self.lengths - self.seam * 2i64 * joins(self.lengths, self.halves.is_some())
    }
}

fn joins(lengths: i64, halves: bool) -> i64 {
    if halves { lengths } else { lengths - 1 }
}

/// The fewest lengths of cloth that cover `across`, and whether one of them is split.
pub fn panels(across: Length, cloth: Length, seam: Length, halves: bool) -> Option<(i64, bool)> {
    (1..=MOST_LENGTHS).find_map(|lengths| {
        let split = halves && lengths == 2;
        let reach = cloth * lengths - seam * 2i64 * joins(lengths, split);
        (reach >= across).then_some((lengths, split))
    })
}

/// The back of what is `size` large, its overhang on: of both ways the one that takes less cloth, then fewer seams.
pub(super) fn backing(asked: &Backing, size: [Length; 2], top: &Top) -> Result<BackingWork, FinishError> {
    let cloth = asked.width.unwrap_or(top.cloth_width);
    // Wider than a piecing seam, for it takes the weight (common practice, no source).
    let seam = pick(top.ruler, Length::inches(1, 2), Length::mm(15));
    let way = |seams: Seams| {
        let [across, length] = if seams == Seams::Upright { size } else { [size[1], size[0]] };
        let (lengths, split) = panels(across, cloth, seam, asked.halves)?;
        if asked.pieced && lengths > 1 {
            let lengths = lengths - 1;
            // Two seams on each side of it; an inch or more of it shows.
            let width = (across - cloth * lengths + seam * 4i64).max(seam * 4i64);
            let halves = (lengths == 1).then_some(Halves { width: cloth / 2 });
            return Some(BackingWork {
                size,
                cloth,
                seam,
                seams,
                lengths,
                length,
                halves,
                middle: Some(Middle { width, length }),
            });
        }
        let halves = split.then_some(Halves { width: cloth / 2 });
        Some(BackingWork { size, cloth, seam, seams, lengths, length, halves, middle: None })
    };
    let ways = [Seams::Upright, Seams::Level].into_iter().filter_map(way);
    let least = ways.min_by_key(|work| (work.cut(), work.lengths, work.middle.map(|middle| middle.width)));
    least.ok_or(FinishError::Backing { size, cloth, ruler: top.ruler })
}
