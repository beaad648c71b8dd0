//! Batting, and what covers it of what is sold.

use crate::measure::Length;

/// A piece of batting as it is sold.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Pack {
    /// What it is sold as.
    pub name: &'static str,
    /// Its sides.
    pub size: [Length; 2],
}

/// Batting off the roll.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Roll {
    /// Width of the roll.
    pub width: Length,
    /// Length that is taken of it.
    pub length: Length,
}

/// Batting, and what covers it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct BattingWork {
    /// Width and height that it must cover.
    pub size: [Length; 2],
    /// The least pack that covers it; none where it is larger than all.
    pub pack: Option<Pack>,
    /// The least of a roll that covers it; none where it is wider than all.
    pub roll: Option<Roll>,
}

/// Packs as they are usually sold (common practice, no source).
const PACKS: [Pack; 6] = [
    pack("craft", 36, 45),
    pack("crib", 45, 60),
    pack("twin", 72, 90),
    pack("full", 81, 96),
    pack("queen", 90, 108),
    pack("king", 120, 120),
];

/// Widths of rolls, in inches (from memory).
const ROLLS: [i64; 5] = [48, 60, 90, 96, 120];

const fn pack(name: &'static str, one: i64, other: i64) -> Pack {
    Pack { name, size: [Length::inches(one, 1), Length::inches(other, 1)] }
}

/// What covers batting of a size.
pub(super) fn batting(size: [Length; 2]) -> BattingWork {
    let [less, more] = [size[0].min(size[1]), size[0].max(size[1])];
    let pack = PACKS.into_iter().find(|pack| pack.size[0] >= less && pack.size[1] >= more);
    let roll = |inches: i64| {
        let width = Length::INCH * inches;
        // The longer side across the roll, where it is wide enough, takes less of its length.
        let length = if width >= more { Some(less) } else { (width >= less).then_some(more) };
        length.map(|length| Roll { width, length })
    };
    let area = |roll: &Roll| i128::from(roll.width.ticks()) * i128::from(roll.length.ticks());
    let roll = ROLLS.into_iter().filter_map(roll).min_by_key(|roll| (area(roll), roll.width));
    BattingWork { size, pack, roll }
}
