//! The photo as it is looked at: some 600 px along its longer side, in linear light and in CIELAB, and its blocks.

use crate::fabric::Rgb;
use crate::measure::math::squared;
use crate::picture::{Crop, Picture, PictureError};

/// Pixels along the longer side.
const SIDE: u32 = 600;
/// Pixels along the side of a block.
pub(super) const BLOCK: usize = 4;

/// The photo, small.
pub(super) struct View {
    pub width: usize,
    pub height: usize,
    /// Linear light of each pixel.
    pub light: Vec<[f64; 3]>,
    /// CIELAB of each pixel.
    pub lab: Vec<[f64; 3]>,
    pub blocks: Blocks,
}

/// The photo in blocks; those at the right and bottom may be cut.
pub(super) struct Blocks {
    pub columns: usize,
    pub rows: usize,
    pub sums: Vec<Sum>,
}

/// Pixels summed up.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Sum {
    pub count: f64,
    /// Of CIELAB.
    pub lab: [f64; 3],
    /// Of its squares.
    pub squares: [f64; 3],
}

impl Sum {
    pub fn add(&mut self, other: &Self) {
        self.count += other.count;
        for i in 0..3 {
            self.lab[i] += other.lab[i];
            self.squares[i] += other.squares[i];
        }
    }

    pub fn take(&mut self, [l, a, b]: [f64; 3]) {
        self.add(&Self { count: 1.0, lab: [l, a, b], squares: [l * l, a * a, b * b] });
    }

    pub fn mean(&self) -> [f64; 3] {
        self.lab.map(|sum| sum / self.count.max(1.0))
    }

    /// The variance of all three together, lightness for less.
    pub fn variance(&self) -> f64 {
        let mean = self.mean();
        let each = |i: usize| (self.squares[i] / self.count.max(1.0) - squared(mean[i])).max(0.0);
        LIGHTNESS * each(0) + each(1) + each(2)
    }
}

/// How much of a difference in lightness counts, as shadows and folds make some.
const LIGHTNESS: f64 = 0.6;

/// How far two means are apart, squared.
pub(super) fn apart(one: [f64; 3], other: [f64; 3]) -> f64 {
    LIGHTNESS * squared(one[0] - other[0]) + squared(one[1] - other[1]) + squared(one[2] - other[2])
}

impl View {
    pub fn of(picture: &Picture) -> Result<Self, PictureError> {
        let (width, height) = (picture.width(), picture.height());
        let long = width.max(height);
        let side = |side: u32| match long > SIDE {
            true => (u64::from(side) * u64::from(SIDE)).div_ceil(u64::from(long)) as u32,
            false => side,
        };
        let (width, height) = (side(width).max(1), side(height).max(1));
        let cells = picture.cells(&Crop::Whole, width, height)?;
        let light = cells.iter().map(|cell| cell.linear()).collect();
        let lab: Vec<[f64; 3]> = cells.iter().map(|&cell| in_lab(cell)).collect();
        let (width, height) = (width as usize, height as usize);
        Ok(Self { blocks: Blocks::of(&lab, width, height), width, height, light, lab })
    }
}

fn in_lab(colour: Rgb) -> [f64; 3] {
    let lab = colour.lab();
    [lab.l, lab.a, lab.b]
}

impl Blocks {
    fn of(lab: &[[f64; 3]], width: usize, height: usize) -> Self {
        let (columns, rows) = (width.div_ceil(BLOCK), height.div_ceil(BLOCK));
        let mut sums = vec![Sum::default(); columns * rows];
        for (at, &pixel) in lab.iter().enumerate() {
            sums[at / width / BLOCK * columns + at % width / BLOCK].take(pixel);
        }
        Self { columns, rows, sums }
    }

    /// Column and row of the block at a place.
    pub fn at(&self, block: usize) -> (usize, usize) {
        (block % self.columns, block / self.columns)
    }

    /// The blocks to its left, right, above and below, as there are.
    pub fn beside(&self, block: usize) -> impl Iterator<Item = usize> + use<> {
        let (column, row) = self.at(block);
        let (columns, rows) = (self.columns, self.rows);
        let sides = [
            (column > 0).then(|| block - 1),
            (column + 1 < columns).then(|| block + 1),
            (row > 0).then(|| block - columns),
            (row + 1 < rows).then(|| block + columns),
        ];
        sides.into_iter().flatten()
    }

    /// Sum over columns and rows of blocks, cut to the picture.
    pub fn over(&self, columns: std::ops::Range<i64>, rows: std::ops::Range<i64>) -> Sum {
        let mut sum = Sum::default();
        for row in rows.start.max(0)..rows.end.min(self.rows as i64) {
            for column in columns.start.max(0)..columns.end.min(self.columns as i64) {
                sum.add(&self.sums[row as usize * self.columns + column as usize]);
            }
        }
        sum
    }
}
