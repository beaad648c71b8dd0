//! Usual mattresses and walls, and what covers a bed.

use super::Bed;
use super::asked::pick;
use crate::measure::{Length, Ruler};

/// A mattress that is sold under a name.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct NamedBed {
    /// Its name.
    pub name: &'static str,
    /// The ruler of the countries that it is usual in.
    pub ruler: Ruler,
    /// Width and length.
    pub size: [Length; 2],
    /// Where the size is from.
    pub source: &'static str,
}

const GUILD: &str = "Dhahran quilt guild notice, June 2012";

/// Usual mattresses.
pub const BEDS: [NamedBed; 12] = [
    inches("crib", [27, 52], "common practice, no source"),
    inches("twin", [38, 75], GUILD),
    inches("twin-long", [38, 80], "from memory"),
    inches("full", [54, 75], GUILD),
    inches("queen", [60, 80], GUILD),
    inches("king", [76, 80], "school sewing-course slides"),
    inches("california-king", [72, 84], GUILD),
    cm("cot", [60, 120], "from memory"),
    cm("single", [90, 200], "from memory"),
    cm("small-double", [140, 200], "from memory"),
    cm("double", [160, 200], "from memory"),
    cm("wide-double", [180, 200], "from memory"),
];

const fn inches(name: &'static str, [width, length]: [i64; 2], source: &'static str) -> NamedBed {
    NamedBed { name, ruler: Ruler::Inch, size: [Length::inches(width, 1), Length::inches(length, 1)], source }
}

const fn cm(name: &'static str, [width, length]: [i64; 2], source: &'static str) -> NamedBed {
    NamedBed { name, ruler: Ruler::Metric, size: [Length::mm(width * 10), Length::mm(length * 10)], source }
}

/// Quilts that lie on no bed: common practice, no source.
pub const WALLS: [(&str, [Length; 2]); 2] = [
    ("baby", [Length::inches(40, 1), Length::inches(40, 1)]),
    ("throw", [Length::inches(50, 1), Length::inches(60, 1)]),
];

/// The mattress of a name.
pub fn bed(name: &str) -> Option<&'static NamedBed> {
    BEDS.iter().find(|bed| bed.name == name)
}

/// The size of a name.
pub fn wall(name: &str) -> Option<[Length; 2]> {
    WALLS.iter().find(|(known, _)| *known == name).map(|(_, size)| *size)
}

impl Bed {
    /// A mattress with a drop of 14 in or 35 cm, a comforter's (Dhahran quilt guild notice, June 2012), and no tuck.
    pub fn usual([width, length]: [Length; 2], ruler: Ruler) -> Self {
        let drop = pick(ruler, Length::INCH * 14i64, Length::CM * 35i64);
        Self { width, length, depth: None, drop, tuck: Length::ZERO }
    }

    /// Width and length of what covers it: the drop at both sides and the foot, the tuck at the head.
    pub fn quilt(&self) -> [Length; 2] {
        [self.width + self.drop * 2i64, self.length + self.drop + self.tuck]
    }
}
