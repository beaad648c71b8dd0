//! The best triangle unit of every shape at every place.
//!
//! For one row of places the cost of tip and rest is taken in every colour at once along the row,
//! and the two best colours of each are kept, for a unit takes two different fabrics: the cheapest
//! pair is always among them. The plain form (`best`) and the fast one (`row`) agree to the last bit.

use super::{Choice, Problem, Tables};
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
        let exchange = (x / shape.width as usize + y / shape.height as usize / 2) % 2 == 1;
        let units = corners(shape.cut).iter().flat_map(|&corner| self.pairs(shape, corner).map(move |p| (corner, p)));
        let costed = units.map(|(corner, (tip, rest, more))| {
            let lean = if against(shape, corner, x, y) { self.labour.lean } else { 0 };
            Best {
                cost: self.cloth_cost(shape, corner, tip, rest, x, y) + lean + more,
                unit: Triangle { block: shape.block, cut: shape.cut, corner, tip, rest },
            }
        });
        costed.min_by_key(|best| {
            let Triangle { corner, tip, rest, .. } = best.unit;
            (best.cost, corner, tip.min(rest), tip.max(rest), (tip > rest) != exchange)
        })
    }

    /// Every tip and rest that a unit may have, with its labour and price.
    fn pairs(&self, shape: Shape, corner: Corner) -> impl Iterator<Item = (usize, usize, u32)> {
        let open = self.prices.open(shape, corner);
        let any = Choice::pairs(self.choices)
            .filter(move |_| open.is_none())
            .map(move |(tip, rest)| (tip, rest, self.labour.unit(shape.cut) + self.both_prices(tip, rest, shape)));
        any.chain(open.unwrap_or_default().iter().map(|open| (open.tip, open.rest, open.cost)))
    }

    /// Doubled error of one unit in its place.
    pub fn cloth_cost(&self, shape: Shape, corner: Corner, tip: usize, rest: usize, x: usize, y: usize) -> u32 {
        let whole = self.tables[rest].rectangle(x, y, shape.width as usize, shape.height as usize);
        self.tip_cost(shape, corner, tip, x, y) + whole.wrapping_sub(self.tip_cost(shape, corner, rest, x, y))
    }

    /// Doubled error of the tip alone, in one colour.
    pub(super) fn tip_cost(&self, shape: Shape, corner: Corner, colour: usize, x: usize, y: usize) -> u32 {
        let (leg, dx, dy) = tip_offset(shape, corner);
        let tables = &self.tables[colour];
        let (x, y) = (x + dx, y + dy);
        match corner {
            Corner::UpperLeft => tables.upper_left(x, y, leg),
            Corner::UpperRight => tables.upper_right(x, y, leg),
            Corner::LowerRight => tables.rectangle(x, y, leg, leg).wrapping_sub(tables.upper_left(x, y, leg)),
            Corner::LowerLeft => tables.rectangle(x, y, leg, leg).wrapping_sub(tables.upper_right(x, y, leg)),
        }
    }

    /// Room for the costs of one row of places.
    pub fn room(&self) -> Vec<u32> {
        vec![NEVER; self.columns + 1 + LANES]
    }

    /// Cheapest cost of `shape` at every x of row y, into `out`, which is `room` long.
    #[inline(always)]
    pub fn row(&self, shape: Shape, y: usize, out: &mut [u32]) {
        out.fill(NEVER);
        let places = (self.columns + 1).saturating_sub(shape.width as usize);
        if self.choices.len() < 2 && !self.choices.iter().any(|c| c.two_prints) {
            return;
        }
        if self.prices.open(shape, Corner::UpperLeft).is_some() {
            return self.row_of_pairs(shape, y, out);
        }
        for &corner in corners(shape.cut) {
            let reach = Reach::new(shape, corner, y, self.columns);
            for (block, out) in out.as_chunks_mut().0.iter_mut().enumerate().take(places.div_ceil(LANES)) {
                let x = block * LANES;
                let lean = |i: usize| if against(shape, corner, x + i, y) { self.labour.lean } else { 0 };
                self.two_best(shape, &reach, x).lower(self.index_bits, lean, out);
            }
        }
        let labour = self.labour.unit(shape.cut);
        out[..places].iter_mut().for_each(|cost| *cost += labour);
        out[places..].fill(NEVER);
    }

    /// The same where only some pairs of colours may meet: every pair at every place.
    #[inline(always)]
    fn row_of_pairs(&self, shape: Shape, y: usize, out: &mut [u32]) {
        let places = (self.columns + 1).saturating_sub(shape.width as usize);
        let mut halves = vec![[[0; LANES]; 2]; self.choices.len()];
        for &corner in corners(shape.cut) {
            let open = self.prices.open(shape, corner).unwrap_or_default();
            let reach = Reach::new(shape, corner, y, self.columns);
            for (block, out) in out.as_chunks_mut::<LANES>().0.iter_mut().enumerate().take(places.div_ceil(LANES)) {
                let x = block * LANES;
                for (halves, tables) in halves.iter_mut().zip(&self.tables) {
                    *halves = reach.halves(tables, x);
                }
                let leans: Lanes =
                    std::array::from_fn(|i| if against(shape, corner, x + i, y) { self.labour.lean } else { 0 });
                for pair in open {
                    let (tip, rest) = (&halves[pair.tip][0], &halves[pair.rest][1]);
                    for i in 0..LANES {
                        out[i] = out[i].min(tip[i].wrapping_add(rest[i]).wrapping_add(pair.cost + leans[i]));
                    }
                }
            }
        }
        out[places..].fill(NEVER);
    }

    /// The two cheapest colours of tip and rest at `LANES` places from x on.
    #[inline(always)]
    fn two_best(&self, shape: Shape, reach: &Reach, x: usize) -> TwoBest {
        let mut two = TwoBest::NONE;
        for (index, (tables, choice)) in (0..).zip(self.tables.iter().zip(self.choices)) {
            let (colour, price) = (index as usize, self.half_price(index as usize, shape));
            let same = if choice.two_prints { self.both_prices(colour, colour, shape) } else { NEVER };
            reach.add(&mut two, tables, x, (self.index_bits, index), (price, same));
        }
        two
    }
}

/// So many neighbouring places are worked out at once.
pub const LANES: usize = 32;
type Lanes = [u32; LANES];

#[inline(always)]
fn load(row: &[u32], at: usize) -> &Lanes {
    row.get(at..).and_then(|row| row.first_chunk()).unwrap_or(&[NEVER; LANES])
}

/// Where in the tables the sums of one shape in one row of places lie.
struct Reach {
    rising: bool,
    left: bool,
    /// On the diagonals: the tip's upper and lower end.
    diagonal: [usize; 2],
    /// On the rectangles: the tip's upright edge, and the four corners of the shape.
    edge: [usize; 2],
    corners: [usize; 4],
}

impl Reach {
    #[inline(always)]
    fn new(shape: Shape, corner: Corner, y: usize, columns: usize) -> Self {
        let (leg, dx, dy) = tip_offset(shape, corner);
        let (rising, left) = (corner.is_left() == corner.is_upper(), corner.is_left());
        let stride = if rising { Tables::rise_stride(columns) } else { Tables::stride(columns) };
        let slant = if rising { [dx + leg, dx] } else { [dx, dx + leg] };
        let (upper, lower) = (y * Tables::stride(columns), (y + shape.height as usize) * Tables::stride(columns));
        let tip = [y + dy, y + dy + leg];
        let edge = if left { dx } else { dx + leg };
        Self {
            rising,
            left,
            diagonal: [tip[0] * stride + slant[0], tip[1] * stride + slant[1]],
            edge: tip.map(|y| y * Tables::stride(columns) + edge),
            corners: [upper, upper + shape.width as usize, lower, lower + shape.width as usize],
        }
    }

    /// What tip and rest cost in one colour at `LANES` places from x on: one plain loop over local arrays, which the
    /// compiler turns into vector instructions.
    #[inline(always)]
    fn halves(&self, tables: &Tables, x: usize) -> [Lanes; 2] {
        let slanted = if self.rising { tables.rises() } else { tables.falls() };
        let rect = tables.rects();
        let first = load(slanted, self.diagonal[0] + x);
        let second = load(slanted, self.diagonal[1] + x);
        let above = load(rect, self.edge[0] + x);
        let below = load(rect, self.edge[1] + x);
        let (ul, ur) = (load(rect, self.corners[0] + x), load(rect, self.corners[1] + x));
        let (ll, lr) = (load(rect, self.corners[2] + x), load(rect, self.corners[3] + x));
        let flip = if self.left { 0 } else { u32::MAX };
        let (mut tips, mut rests) = ([0; LANES], [0; LANES]);
        for i in 0..LANES {
            let tip = second[i].wrapping_sub(first[i]).wrapping_sub(below[i].wrapping_sub(above[i]));
            // Minus the sum on the right: the complement and one.
            let half = (tip ^ flip).wrapping_sub(flip);
            let whole = lr[i].wrapping_sub(ll[i]).wrapping_sub(ur[i].wrapping_sub(ul[i]));
            (tips[i], rests[i]) = (half, whole.wrapping_sub(half));
        }
        [tips, rests]
    }

    /// Adds one colour at `LANES` places from x on.
    #[inline(always)]
    fn add(&self, two: &mut TwoBest, tables: &Tables, x: usize, (bits, index): (u32, u32), (price, same): (u32, u32)) {
        let [tips, rests] = self.halves(tables, x);
        for i in 0..LANES {
            let one = ((tips[i].wrapping_add(price)) << bits) | index;
            two.tip_next[i] = two.tip_next[i].min(two.tip[i].max(one));
            two.tip[i] = two.tip[i].min(one);
            let other = (rests[i].wrapping_add(price) << bits) | index;
            two.rest_next[i] = two.rest_next[i].min(two.rest[i].max(other));
            two.rest[i] = two.rest[i].min(other);
            two.same[i] = two.same[i].min(tips[i].wrapping_add(rests[i]).wrapping_add(same));
        }
    }
}

/// The two cheapest colours of tip and rest, each cost with its colour in the low bits.
struct TwoBest {
    tip: Lanes,
    tip_next: Lanes,
    rest: Lanes,
    rest_next: Lanes,
    /// Both halves of one colour.
    same: Lanes,
}

impl TwoBest {
    const NONE: Self = {
        let none = [u32::MAX; LANES];
        Self { tip: none, tip_next: none, rest: none, rest_next: none, same: none }
    };

    /// Lowers `out` to the cheapest two colours that differ, or two prints of one.
    #[inline(always)]
    fn lower(&self, bits: u32, lean: impl Fn(usize) -> u32, out: &mut Lanes) {
        let mask = (1_u32 << bits) - 1;
        let leans: Lanes = std::array::from_fn(lean);
        for i in 0..LANES {
            let (tip, rest) = (self.tip[i] >> bits, self.rest[i] >> bits);
            let second = (tip + (self.rest_next[i] >> bits)).min((self.tip_next[i] >> bits) + rest);
            let differ = if (self.tip[i] ^ self.rest[i]) & mask != 0 { tip + rest } else { second };
            out[i] = out[i].min(differ.min(self.same[i]).wrapping_add(leans[i]));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::compose::{Choice, Design, Labour, PriceList};
    use crate::fabric::{Lean, Rgb};
    use crate::measure::{Length, Ruler, Seam};
    use crate::plan::Item;
    use crate::unit::Vocabulary;

    /// The fast rows equal the plain search at every place, for every shape.
    fn assert_agree(problem: &Problem) {
        let mut fast = problem.room();
        for &shape in &problem.shapes {
            for y in 0..=11 - shape.height as usize {
                problem.row(shape, y, &mut fast);
                for (x, &cost) in fast[..=37 - shape.width as usize].iter().enumerate() {
                    let plain = problem.best(shape, x, y).map_or(NEVER, |best| best.cost);
                    assert_eq!(plain, cost, "{shape:?} at {x}, {y}");
                }
            }
        }
    }

    /// Prices pair by pair: all pairs open, some of them on hand, and some shut.
    fn lists(cloth: &[f64], vocabulary: &Vocabulary) -> Vec<PriceList> {
        let block = vocabulary.cells(vocabulary.blocks[0].finished);
        let strip = Item::Slice { tip: 1, rest: 3, block, width: 1, leans: Lean::Left };
        let hand = vec![(Item::unit(0, 3, block), 17.0), (Item::unit(2, 2, block), 5.5), (strip, 9.0)];
        let none = PriceList { cloth: cloth.to_vec(), alike: vec![2.0; 5], ..PriceList::default() };
        vec![
            none.clone(),
            PriceList { closed: vec![false; 5], ..none.clone() },
            PriceList { hand: hand.clone(), closed: vec![true, false, false, true, false], ..none.clone() },
            PriceList { hand, closed: vec![true; 5], ..none },
        ]
    }

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
            prices: vec![0.0, 3.5, 0.25, 11.0, 1.0],
            edges: Default::default(),
        };
        let mut problem = Problem::new(&design).unwrap();
        assert_agree(&problem);
        for list in lists(&design.prices, &vocabulary) {
            problem.set_prices(&list);
            assert_agree(&problem);
        }
    }
}
