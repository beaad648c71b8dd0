//! What is to be composed, and what comes out.
//!
//! Numbers without a source were found by trial, no figures kept; `cargo bench --bench likeness` shows what others do.

use typed_index_collections::{TiSlice, TiVec};

use crate::fabric::{Family, Rgb, ciede2000};
use crate::measure::math::squared;
use crate::plan::{Band, Unit};
use crate::unit::{Pairing, Triangle, Vocabulary, pairings, stands};

use super::{Draft, Labour};

/// One colour that patches may have.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Choice {
    /// What it reads as.
    pub colour: Rgb,
    /// The sketch colour that stands for it and for nothing else.
    pub sketch: Option<Rgb>,
    /// Whether two different prints of it are there, so that a unit may join it to itself.
    pub two_prints: bool,
    /// What its triangle units may be, where its print stands upright in them.
    pub upright: Option<UprightSizes>,
    /// Finished sizes, in cells, within which its fillers must lie: (along the row, across it).
    pub cloth: Vec<(usize, usize)>,
}

/// Sides in cells of the whole units in which a print stands upright.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct UprightSizes {
    /// Beside one that need not.
    pub alone: Vec<u32>,
    /// Beside one that stands too.
    pub both: Vec<u32>,
}

impl UprightSizes {
    /// What the squares give.
    pub fn new(vocabulary: &Vocabulary) -> Self {
        let sides = |both: bool| {
            let stands = |side: &u32| stands(vocabulary, vocabulary.grid * *side, both);
            vocabulary.sides().into_iter().filter(stands).collect()
        };
        Self { alone: sides(false), both: sides(true) }
    }
}

impl Choice {
    /// Whether a tip and a rest, two colours or two prints of one, may be joined in units of a side in cells.
    pub fn may_join(choices: &TiSlice<Family, Self>, tip: Family, rest: Family, block: u32) -> bool {
        let [one, other] = [&choices[tip], &choices[rest]];
        match (&one.upright, &other.upright) {
            _ if tip == rest && !one.two_prints => false,
            (None, None) => true,
            (Some(upright), None) | (None, Some(upright)) => upright.alone.contains(&block),
            (Some(upright), Some(_)) => upright.both.contains(&block),
        }
    }

    /// The unit in a tip and a rest; none where they may not be joined so.
    pub fn joined<C: Copy + Ord>(
        choices: &TiSlice<Family, Self>,
        t: &Triangle<C>,
        tip: Family,
        rest: Family,
    ) -> Option<Triangle<Family>> {
        let upright = [tip, rest].iter().any(|&colour| choices[colour].upright.is_some());
        let made = Self::may_join(choices, tip, rest, t.block);
        made.then(|| Triangle { upright, ..t.of(tip, rest) })
    }

    /// The unit in every tip and rest that it may have.
    pub fn pairs<C: Copy + Ord>(
        choices: &TiSlice<Family, Self>,
        t: &Triangle<C>,
    ) -> impl Iterator<Item = Triangle<Family>> {
        let pairs = choices.keys().flat_map(|tip| choices.keys().map(move |rest| (tip, rest)));
        pairs.filter_map(|(tip, rest)| Self::joined(choices, t, tip, rest))
    }

    /// Whether two colours are nearly one: a unit of them is quiet.
    pub fn nearly_one(&self, other: &Self) -> bool {
        ciede2000(self.colour, other.colour) < NEAR
    }

    /// The longest filler of this height, in cells; 0 where there is none.
    pub fn longest(&self, height: usize) -> usize {
        self.cloth.iter().filter(|&&(_, across)| height <= across).map(|&(along, _)| along).max().unwrap_or(0)
    }
}

/// Colours nearer than this are nearly one, in CIEDE2000.
const NEAR: f64 = 10.0;

/// A run of units that is not to be changed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Lock {
    /// Left edge in cells.
    pub x: usize,
    /// Upper edge.
    pub y: usize,
    /// Width.
    pub width: usize,
    /// Height.
    pub height: usize,
    /// What stands there, from the left: each kept or sewn, its fabrics as the maker has them.
    pub units: Vec<Unit>,
    /// Whether it is a whole row, to which nothing may be added.
    pub row: bool,
    /// What it costs.
    pub cost: u32,
}

/// Cloth that half a unit of so many cells takes, in cells: its part of a square, by the methods that take least.
pub fn half_cloth(vocabulary: &Vocabulary, block: u32) -> f64 {
    // Every method gives two, four or eight, so eight units show the least rate.
    pair_cloth(vocabulary, block, 8) / 8.0
}

/// Cloth of one fabric that so many units of a size take in whole squares and quarters, in cells.
pub fn pair_cloth(vocabulary: &Vocabulary, block: u32, units: u32) -> f64 {
    let grid = vocabulary.grid.ticks() as f64;
    let cells = |pairing: &Pairing| squared(pairing.square.cut.ticks() as f64 / grid) * f64::from(pairing.pairs);
    pairings(vocabulary, vocabulary.grid * block, units).iter().map(cells).sum()
}

/// Cloth that a filler of so many cells takes, in cells: its seams with it.
pub fn filler_cloth(vocabulary: &Vocabulary, width: usize, height: usize) -> f64 {
    let seams = vocabulary.seam.both().ticks() as f64 / vocabulary.grid.ticks() as f64;
    (width as f64 + seams) * (height as f64 + seams)
}

/// How much was computed, and what was left out counted with it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Counts {
    /// Sums of patches taken.
    pub sums: u64,
    /// Steps of the min-plus recurrences of rows.
    pub steps: u64,
}

impl std::ops::Add for Counts {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self { sums: self.sums + other.sums, steps: self.steps + other.steps }
    }
}

impl std::ops::AddAssign for Counts {
    fn add_assign(&mut self, other: Self) {
        *self = *self + other;
    }
}

/// What is to be composed.
pub struct Design<'a> {
    /// The picture's colour in each cell, row by row.
    pub picture: &'a [Rgb],
    /// Weight of each cell, 4 being plain; empty where all are.
    pub focus: &'a [u8],
    /// Cells across the top.
    pub columns: usize,
    /// The colours.
    pub choices: &'a TiSlice<Family, Choice>,
    /// The units that the squares give.
    pub vocabulary: &'a Vocabulary,
    /// The labour.
    pub labour: Labour,
    /// Cells between the edges that bands and columns may have; none for rows only.
    pub edge_step: Option<usize>,
    /// Places that are not to be changed.
    pub locks: Vec<Lock>,
    /// Price of a cell of cloth of each colour, in doubled cost; empty where cloth is free.
    pub prices: TiVec<Family, f64>,
    /// Edges off the step that columns and bands may have too, in cells.
    pub edges: [Vec<usize>; 2],
}

/// A scene as found.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Composed {
    /// Bands from the top.
    pub bands: Vec<Band<Draft>>,
    /// The same, row by row where a row runs across the whole top.
    pub layers: Vec<Layer>,
    /// Doubled cost, labour included.
    pub cost: i64,
    /// Doubled cost of the picture's errors alone.
    pub error: i64,
    /// Doubled cost of every cell in its best colour.
    pub floor: i64,
    /// How much was computed, and what was left out counted with it.
    pub counts: Counts,
}

/// A row across the whole top, or a band of columns; costs are doubled, labour and prices included.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Layer {
    /// It alone.
    pub band: Band<Draft>,
    /// What the left edge of each column costs.
    pub edges: Vec<i64>,
    /// What each row of each column costs, its seam with it.
    pub rows: Vec<Vec<i64>>,
}

/// Why no scene was found.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum ComposeError {
    /// No rows fill the top.
    #[error("no rows of these units fill the top: allow shorter fillers, give cloth for fillers, or change the size")]
    NoFit,
    /// No colours.
    #[error("there is no fabric to compose with")]
    NoFabric,
    /// The costs outgrow what is added up.
    #[error("the units are too large for this grid: take a coarser grid or smaller squares")]
    TooLarge,
    /// It was told to stop.
    #[error(transparent)]
    Stopped(#[from] crate::watch::Stopped),
}
