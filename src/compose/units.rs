//! The best triangle unit of every shape at every place.
//!
//! For one row of places the cost of tip and rest is taken in every colour at once along the row,
//! and the two best colours of each are kept, for a unit takes two different fabrics: the cheapest
//! pair is always among them. The plain form (`best`) and the fast one (`row`) agree to the last bit.

use super::Problem;
use crate::unit::{Corner, Cut, Shape, Triangle};

/// No unit here.
pub const NEVER: u32 = 1 << 29;

/// The cheapest unit of one shape in one place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Best {
    /// Doubled cost with labour.
    pub cost: u32,
    /// The unit, its fabrics as colour indices.
    pub unit: Triangle,
}

/// Corners that are worth trying: a whole unit's other two are the same with its fabrics exchanged.
fn corners(cut: Cut) -> &'static [Corner] {
    match cut {
        Cut::Whole => &Corner::ALL[..2],
        _ => &Corner::ALL,
    }
}

/// Whether the unit leans against the rule of position, by which neighbours alternate.
#[inline(always)]
fn against(shape: Shape, corner: Corner, x: usize, y: usize) -> bool {
    let odd = (x / shape.width as usize + y / shape.height as usize) % 2 == 1;
    shape.cut == Cut::Whole && odd == (corner.is_left() == corner.is_upper())
}

/// Where the tip's square lies in the shape.
fn tip_offset(shape: Shape, corner: Corner) -> (usize, usize, usize) {
    let leg = shape.width.min(shape.height);
    let dx = if corner.is_left() { 0 } else { shape.width - leg };
    let dy = if corner.is_upper() { 0 } else { shape.height - leg };
    (leg as usize, dx as usize, dy as usize)
}

impl Problem<'_> {
    /// The cheapest unit of `shape` at (x, y), found plainly; `None` where it takes two fabrics and there is one.
    ///
    /// Among equals the first corner wins, then the lower colours, or by position the higher tip, so that
    /// flat areas shimmer.
    pub fn best(&self, shape: Shape, x: usize, y: usize) -> Option<Best> {
        let colours = 0..self.choices.len();
        let pairs = colours.clone().flat_map(|tip| colours.clone().map(move |rest| (tip, rest)));
        let allowed = pairs.filter(|&(tip, rest)| tip != rest || self.choices[tip].two_prints);
        let exchange = (x / shape.width as usize + y / shape.height as usize / 2) % 2 == 1;
        let units = allowed.flat_map(|(tip, rest)| corners(shape.cut).iter().map(move |&corner| (corner, tip, rest)));
        let costed = units.map(|(corner, tip, rest)| Best {
            cost: self.unit_cost(shape, corner, tip, rest, x, y),
            unit: Triangle { block: shape.block, cut: shape.cut, corner, tip, rest },
        });
        costed.min_by_key(|best| {
            let Triangle { corner, tip, rest, .. } = best.unit;
            (best.cost, corner, tip.min(rest), tip.max(rest), (tip > rest) != exchange)
        })
    }

    /// Doubled cost of one unit in its place, labour included.
    fn unit_cost(&self, shape: Shape, corner: Corner, tip: usize, rest: usize, x: usize, y: usize) -> u32 {
        let lean = if against(shape, corner, x, y) { self.labour.lean } else { 0 };
        self.cloth_cost(shape, corner, tip, rest, x, y) + self.labour.unit(shape.cut) + lean
    }

    /// Doubled error of one unit in its place.
    pub fn cloth_cost(&self, shape: Shape, corner: Corner, tip: usize, rest: usize, x: usize, y: usize) -> u32 {
        let (leg, dx, dy) = tip_offset(shape, corner);
        let half = |colour: usize| {
            let tables = &self.tables[colour];
            let (x, y) = (x + dx, y + dy);
            match corner {
                Corner::UpperLeft => tables.upper_left(x, y, leg),
                Corner::UpperRight => tables.upper_right(x, y, leg),
                Corner::LowerRight => tables.rectangle(x, y, leg, leg).wrapping_sub(tables.upper_left(x, y, leg)),
                Corner::LowerLeft => tables.rectangle(x, y, leg, leg).wrapping_sub(tables.upper_right(x, y, leg)),
            }
        };
        let whole = self.tables[rest].rectangle(x, y, shape.width as usize, shape.height as usize);
        half(tip) + whole.wrapping_sub(half(rest))
    }

    /// Cheapest cost of `shape` at every x of row y, into `out`, which is `columns` long.
    #[inline(always)]
    pub fn row(&self, shape: Shape, y: usize, scratch: &mut Scratch, out: &mut [u32]) {
        out.fill(NEVER);
        let places = (self.columns + 1).saturating_sub(shape.width as usize);
        if self.choices.len() < 2 && !self.choices.iter().any(|c| c.two_prints) {
            return;
        }
        for &corner in corners(shape.cut) {
            for (x, lean) in scratch.lean[..places].iter_mut().enumerate() {
                *lean = if against(shape, corner, x, y) { self.labour.lean } else { 0 };
            }
            self.corner_row(shape, corner, y, scratch, &mut out[..places]);
        }
        let labour = self.labour.unit(shape.cut);
        out[..places].iter_mut().for_each(|cost| *cost += labour);
    }

    #[inline(always)]
    fn corner_row(&self, shape: Shape, corner: Corner, y: usize, scratch: &mut Scratch, out: &mut [u32]) {
        let places = out.len();
        scratch.clear(places);
        for colour in 0..self.choices.len() {
            self.halves(shape, corner, y, colour, &mut scratch.half[..places]);
            self.keep_two(shape, y, colour, scratch, places);
        }
        let (bits, mask) = (self.index_bits, (1_u32 << self.index_bits) - 1);
        let (tip, tip_next) = (&scratch.tip[..places], &scratch.tip_next[..places]);
        let (rest, rest_next) = (&scratch.rest[..places], &scratch.rest_next[..places]);
        let (same, lean) = (&scratch.same[..places], &scratch.lean[..places]);
        for x in 0..places {
            let apart = (tip[x] >> bits) + (rest[x] >> bits);
            let second_rest = (tip[x] >> bits) + (rest_next[x] >> bits);
            let second_tip = (tip_next[x] >> bits) + (rest[x] >> bits);
            let pair = if (tip[x] ^ rest[x]) & mask != 0 { apart } else { second_rest.min(second_tip) };
            out[x] = out[x].min(pair.min(same[x]) + lean[x]);
        }
    }

    /// The tip's doubled cost in one colour along a row.
    #[inline(always)]
    fn halves(&self, shape: Shape, corner: Corner, y: usize, colour: usize, half: &mut [u32]) {
        let (leg, dx, dy) = tip_offset(shape, corner);
        let (tables, n) = (&self.tables[colour], half.len());
        let (first, second) = if corner.is_left() == corner.is_upper() {
            (&tables.rise(y + dy)[dx + leg..][..n], &tables.rise(y + dy + leg)[dx..][..n])
        } else {
            (&tables.fall(y + dy)[dx..][..n], &tables.fall(y + dy + leg)[dx + leg..][..n])
        };
        let edge = if corner.is_left() { dx } else { dx + leg };
        let (above, below) = (&tables.rect(y + dy)[edge..][..n], &tables.rect(y + dy + leg)[edge..][..n]);
        for x in 0..n {
            let (diagonal, edge) = (second[x].wrapping_sub(first[x]), below[x].wrapping_sub(above[x]));
            half[x] = if corner.is_left() { diagonal.wrapping_sub(edge) } else { edge.wrapping_sub(diagonal) };
        }
    }

    /// Keeps the two cheapest colours of tip and rest, each with its index in the low bits.
    #[inline(always)]
    fn keep_two(&self, shape: Shape, y: usize, colour: usize, scratch: &mut Scratch, places: usize) {
        let (tables, width) = (&self.tables[colour], shape.width as usize);
        let (above, below) = (tables.rect(y), tables.rect(y + shape.height as usize));
        let (above_right, below_right) = (&above[width..][..places], &below[width..][..places]);
        let (above, below) = (&above[..places], &below[..places]);
        let (bits, index) = (self.index_bits, colour as u32);
        let half = &scratch.half[..places];
        let (tip, tip_next) = (&mut scratch.tip[..places], &mut scratch.tip_next[..places]);
        let (rest, rest_next) = (&mut scratch.rest[..places], &mut scratch.rest_next[..places]);
        let same = &mut scratch.same[..places];
        let closed = if self.choices[colour].two_prints { 0 } else { NEVER };
        for x in 0..places {
            let whole = below_right[x].wrapping_sub(below[x]).wrapping_sub(above_right[x]).wrapping_add(above[x]);
            let one = (half[x] << bits) | index;
            tip_next[x] = tip_next[x].min(tip[x].max(one));
            tip[x] = tip[x].min(one);
            let other = (whole.wrapping_sub(half[x]) << bits) | index;
            rest_next[x] = rest_next[x].min(rest[x].max(other));
            rest[x] = rest[x].min(other);
            same[x] = same[x].min(whole | closed);
        }
    }
}

/// Room for one row of places.
pub struct Scratch {
    half: Vec<u32>,
    tip: Vec<u32>,
    tip_next: Vec<u32>,
    rest: Vec<u32>,
    rest_next: Vec<u32>,
    same: Vec<u32>,
    lean: Vec<u32>,
}

impl Scratch {
    /// Room for rows of so many cells.
    pub fn new(columns: usize) -> Self {
        let row = || vec![0; columns + 1];
        Self { half: row(), tip: row(), tip_next: row(), rest: row(), rest_next: row(), same: row(), lean: row() }
    }

    #[inline(always)]
    fn clear(&mut self, places: usize) {
        for held in [&mut self.tip, &mut self.tip_next, &mut self.rest, &mut self.rest_next, &mut self.same] {
            held[..places].fill(u32::MAX);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::compose::{Choice, Design, Labour};
    use crate::fabric::Rgb;
    use crate::measure::{Length, Ruler, Seam};
    use crate::unit::Vocabulary;

    /// The fast rows equal the plain search at every place, for every shape.
    #[test]
    fn fast_and_plain_agree() {
        let seam = Seam::measured(Length::inches(1, 4), Ruler::Inch);
        let strips = [1i64, 2, 3].map(|n| Length::INCH * n);
        let squares = ["5in".parse().unwrap()];
        let vocabulary = Vocabulary::new(&squares, seam, Length::inches(1, 2), &strips, Length::INCH).unwrap();
        let mut state = 1_u32;
        let mut byte = || {
            state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            (state >> 24) as u8
        };
        let picture: Vec<Rgb> = (0..37 * 11).map(|_| Rgb([byte(), byte(), byte()])).collect();
        let focus: Vec<u8> = (0..37 * 11).map(|_| 1 + byte() % 16).collect();
        let choice = |i: usize| Choice { colour: picture[i * 7], sketch: None, two_prints: i == 2, cloth: vec![] };
        let choices: Vec<Choice> = (0..5).map(choice).collect();
        let labour = Labour { triangle: 90, trimmed: 70, slice: 400, lean: 13, ..Labour::NONE };
        let design = Design {
            picture: &picture,
            focus: &focus,
            columns: 37,
            choices: &choices,
            vocabulary: &vocabulary,
            labour,
            edge_step: None,
            locks: vec![],
        };
        let problem = Problem::new(&design).unwrap();
        let mut scratch = Scratch::new(37);
        let mut fast = vec![0; 38];
        for &shape in &problem.shapes {
            for y in 0..=11 - shape.height as usize {
                problem.row(shape, y, &mut scratch, &mut fast);
                for (x, &cost) in fast[..=37 - shape.width as usize].iter().enumerate() {
                    assert_eq!(problem.best(shape, x, y).unwrap().cost, cost, "{shape:?} at {x}, {y}");
                }
            }
        }
    }
}
