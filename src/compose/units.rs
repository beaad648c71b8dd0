//! The best triangle unit of every shape at every place.
//!
//! For one row of places the cost of tip and rest is taken in one colour after the other along the row. A unit
//! takes two different fabrics, so each colour's tip is paired with the cheapest rest of those before it, and its
//! rest with their cheapest tip: every pair is tried where its later colour comes. Where pairs have prices of their
//! own (`row_of_pairs`) a half that cannot win with the cheapest other half is left out. Costs are the same to the
//! last bit as those of a search of every pair, which the tests make.

use typed_index_collections::TiVec;

use super::cost::NEVER;
use super::live::PART;
use super::prices::Open;
use super::{Live, Problem, Tables};
use crate::fabric::Family;
use crate::unit::{Corner, Shape, Triangle};

/// The cheapest unit of one shape in one place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct BestUnit {
    /// Doubled cost with labour.
    pub cost: u32,
    /// The unit, of colours.
    pub unit: Triangle<Family>,
}

/// Whether the unit leans against the rule of position, by which neighbours alternate.
#[inline(always)]
pub(super) fn against(shape: Shape, corner: Corner, x: usize, y: usize) -> bool {
    let odd = (x / shape.width as usize + y / shape.height as usize) % 2 == 1;
    shape.cut.is_whole() && odd == is_rising(corner)
}

/// Where the tip's square lies in the shape.
fn tip_offset(shape: Shape, corner: Corner) -> (usize, usize, usize) {
    let leg = shape.width.min(shape.height);
    let dx = if corner.is_left() { 0 } else { shape.width - leg };
    let dy = if corner.is_upper() { 0 } else { shape.height - leg };
    (leg as usize, dx as usize, dy as usize)
}

impl Problem<'_> {
    /// The cheapest unit of `shape` at (x, y); `None` where it takes two fabrics and there is one.
    ///
    /// Among equals the first corner wins, then the lower colours, or by position the higher tip, so that
    /// flat areas shimmer.
    pub fn best(&self, shape: Shape, x: usize, y: usize) -> Option<BestUnit> {
        let exchange = (x / shape.width as usize + y / shape.height as usize / 2) % 2 == 1;
        let key = |best: &BestUnit| {
            let Triangle { corner, tip, rest, .. } = best.unit;
            (best.cost, corner, tip.min(rest), tip.max(rest), (tip > rest) != exchange)
        };
        let mut found: Option<BestUnit> = None;
        for &corner in shape.cut.corners() {
            let open = self.prices.open(shape, corner);
            let lean = if against(shape, corner, x, y) { self.labour.lean } else { 0 };
            let halves: TiVec<Family, [u32; 2]> =
                self.choices.keys().map(|colour| self.halves(shape, corner, colour, x, y)).collect();
            let least = |colour: Family| open.map_or([self.half_price(colour, shape); 2], |open| open.least(colour));
            let least: TiVec<Family, [u32; 2]> = halves.keys().map(least).collect();
            let with_least = |half: usize| halves.iter().zip(&least).map(move |(cost, least)| cost[half] + least[half]);
            let rest_least = with_least(1).min().unwrap_or(NEVER);
            for (tip, tip_least) in halves.keys().zip(with_least(0)) {
                // What no rest can make good is not tried: the cost of a pair is never less.
                if found.is_some_and(|found| tip_least + rest_least + lean > found.cost) {
                    continue;
                }
                for rest in halves.keys() {
                    let Some(more) = self.pair_cost(shape, open, tip, rest) else { continue };
                    let upright = [tip, rest].iter().any(|&colour| self.choices[colour].upright.is_some());
                    let unit = Triangle { block: shape.block, cut: shape.cut, corner, tip, rest, upright };
                    let best = BestUnit { cost: halves[tip][0] + halves[rest][1] + more + lean, unit };
                    if found.is_none_or(|found| key(&best) < key(&found)) {
                        found = Some(best);
                    }
                }
            }
        }
        found
    }

    /// Labour and price of a unit of two colours; none where they may not meet.
    pub(super) fn pair_cost(&self, shape: Shape, open: Option<&Open>, tip: Family, rest: Family) -> Option<u32> {
        match open {
            Some(open) => open.at(tip, rest).map(|(cost, _)| cost),
            None if tip == rest && !self.choices[tip].two_prints => None,
            None => Some(self.labour.unit(shape.cut) + self.both_prices(tip, rest, shape)),
        }
    }

    /// Doubled error of tip and rest in one colour.
    fn halves(&self, shape: Shape, corner: Corner, colour: Family, x: usize, y: usize) -> [u32; 2] {
        let whole = self.tables[colour].rectangle(x, y, shape.width as usize, shape.height as usize);
        let tip = self.tip_cost(shape, corner, colour, x, y);
        [tip, whole.wrapping_sub(tip)]
    }

    /// Doubled error of one unit in its place.
    pub fn cloth_cost(&self, shape: Shape, corner: Corner, tip: Family, rest: Family, x: usize, y: usize) -> u32 {
        let whole = self.tables[rest].rectangle(x, y, shape.width as usize, shape.height as usize);
        self.tip_cost(shape, corner, tip, x, y) + whole.wrapping_sub(self.tip_cost(shape, corner, rest, x, y))
    }

    /// Doubled error of the tip alone, in one colour.
    pub(super) fn tip_cost(&self, shape: Shape, corner: Corner, colour: Family, x: usize, y: usize) -> u32 {
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
        vec![NEVER; self.columns + 1 + PART]
    }

    /// Cheapest cost of `shape` at every x of row y, of the colours that can matter, into `out`, which is `room` long.
    #[inline(always)]
    pub fn row(&self, shape: Shape, y: usize, live: &Live, out: &mut [u32]) {
        out.fill(NEVER);
        if self.choices.len() < 2 && !self.choices.iter().any(|c| c.two_prints) {
            return;
        }
        let places = (self.columns + 1).saturating_sub(shape.width as usize);
        let reach = Reach::new(shape, y, self.columns);
        if self.prices.open(shape, Corner::UpperLeft).is_some() {
            self.row_of_pairs(shape, y, &reach, places, out);
        } else {
            self.row_of_halves(shape, y, &reach, live, &mut out[..places.next_multiple_of(PART)]);
        }
        out[places..].fill(NEVER);
    }

    /// Where any two colours may meet, and each half has its price.
    #[inline(always)]
    fn row_of_halves(&self, shape: Shape, y: usize, reach: &Reach, live: &Live, out: &mut [u32]) {
        let labour = self.labour.unit(shape.cut);
        let prices = |colour: Family| (self.half_price(colour, shape), self.both_prices(colour, colour, shape));
        let prices: TiVec<Family, (u32, u32)> = self.choices.keys().map(prices).collect();
        for ((part, out), live) in out.as_chunks_mut::<PART>().0.iter_mut().enumerate().zip(&live.units) {
            let x = part * PART;
            let out = out.as_chunks_mut::<LANES>().0;
            let mut cheapest = [[CheapestPair::NONE; 4]; PART / LANES];
            for &colour in live {
                let (half, both) = prices[colour];
                let two_prints = self.choices[colour].two_prints;
                let part = reach.part(&self.tables[colour], x);
                for (block, (out, cheapest)) in out.iter_mut().zip(&mut cheapest).enumerate() {
                    let Sums { tips, whole } = part.sums(block);
                    if two_prints {
                        *out = least(out, &plus(&whole, &[both + labour; LANES]));
                    }
                    let whole = plus(&whole, &[2 * half; LANES]);
                    for (cheapest, tip) in cheapest.iter_mut().zip(&tips) {
                        let tip = plus(tip, &[half; LANES]);
                        cheapest.add(&tip, &minus(&whole, &tip));
                    }
                }
            }
            for (block, (out, cheapest)) in out.iter_mut().zip(&cheapest).enumerate() {
                for (corner, cheapest) in Corner::ALL.into_iter().zip(cheapest) {
                    let leans = self.leans(shape, corner, [x + block * LANES, y], labour);
                    *out = least(out, &plus(&cheapest.both, &leans));
                }
            }
        }
    }

    /// `labour`, and what leaning against the rule adds at each place from x on.
    #[inline(always)]
    fn leans<const N: usize>(&self, shape: Shape, corner: Corner, [x, y]: [usize; 2], labour: u32) -> [u32; N] {
        let mut leans = [labour; N];
        if shape.cut.is_whole() {
            for (i, lean) in leans.iter_mut().enumerate() {
                *lean += if against(shape, corner, x + i, y) { self.labour.lean } else { 0 };
            }
        }
        leans
    }

    /// Where only some pairs of colours may meet, or each has its price.
    ///
    /// What a pair costs is at least what `Open::least` says of its two halves. So first the tip that is cheapest
    /// so is tried with every rest, then of the others only what could still be cheaper.
    #[inline(always)]
    fn row_of_pairs(&self, shape: Shape, y: usize, reach: &Reach, places: usize, out: &mut [u32]) {
        let mut halves = [const { Vec::new() }; 4];
        halves.iter_mut().for_each(|halves| halves.resize(self.choices.len(), [[0; PART]; 2]));
        let (mut tips, mut rests) = (Vec::new(), Vec::new());
        for (x, out) in (0..places).step_by(PART).zip(out.as_chunks_mut().0) {
            for (colour, tables) in self.tables.iter().enumerate() {
                let part = reach.part(tables, x);
                for block in 0..PART / LANES {
                    let Sums { tips, whole } = part.sums(block);
                    for (halves, tip) in halves.iter_mut().zip(&tips) {
                        let [tips, rests] = halves[colour].each_mut().map(|half| &mut half.as_chunks_mut().0[block]);
                        (*tips, *rests) = (*tip, minus(&whole, tip));
                    }
                }
            }
            for &corner in shape.cut.corners() {
                let (halves, Some(open)) = (&halves[corner as usize], self.prices.open(shape, corner)) else {
                    continue;
                };
                let mut cheapest = [[NEVER; PART]; 2];
                let mut first = [0; PART];
                for (colour, halves) in (0..).zip(halves) {
                    let more = open.least(Family(colour as usize));
                    for i in 0..PART {
                        let [tip, rest] = [0, 1].map(|half| halves[half][i].wrapping_add(more[half]));
                        first[i] = if tip < cheapest[0][i] { colour } else { first[i] };
                        cheapest[0][i] = cheapest[0][i].min(tip);
                        cheapest[1][i] = cheapest[1][i].min(rest);
                    }
                }
                let leans = self.leans(shape, corner, [x, y], 0);
                let mut last = u32::MAX;
                for &tip in &first[..PART.min(places - x)] {
                    if tip != std::mem::replace(&mut last, tip) {
                        for (rest, [_, rests]) in halves.iter().enumerate() {
                            lower(
                                out,
                                [&halves[tip as usize][0], rests],
                                open.cost(Family(tip as usize), Family(rest)),
                                &leans,
                            );
                        }
                    }
                }
                // Places past the end of the row: nothing is cheaper than this.
                out[PART.min(places - x)..].fill(0);
                for (may, half) in [(&mut tips, 0), (&mut rests, 1)] {
                    may.clear();
                    for (colour, halves) in halves.iter().enumerate() {
                        if wins(out, [&halves[half], &cheapest[1 - half]], open.least(Family(colour))[half], &leans) {
                            may.push(colour);
                        }
                    }
                }
                for &tip in &tips {
                    for &rest in &rests {
                        lower(out, [&halves[tip][0], &halves[rest][1]], open.cost(Family(tip), Family(rest)), &leans);
                    }
                }
            }
        }
    }
}

/// So many neighbouring places are worked out at once, in as many registers as there are.
const LANES: usize = 8;
/// What something costs at neighbouring places.
type Lanes<const N: usize> = [u32; N];

#[inline(always)]
fn plus<const N: usize>(one: &Lanes<N>, other: &Lanes<N>) -> Lanes<N> {
    std::array::from_fn(|i| one[i].wrapping_add(other[i]))
}

#[inline(always)]
fn minus<const N: usize>(one: &Lanes<N>, other: &Lanes<N>) -> Lanes<N> {
    std::array::from_fn(|i| one[i].wrapping_sub(other[i]))
}

#[inline(always)]
fn least<const N: usize>(one: &Lanes<N>, other: &Lanes<N>) -> Lanes<N> {
    std::array::from_fn(|i| one[i].min(other[i]))
}

/// Lowers `out` to what two halves cost together, with `more` for the pair.
#[inline(always)]
fn lower(out: &mut Lanes<PART>, [tip, rest]: [&Lanes<PART>; 2], more: u32, leans: &Lanes<PART>) {
    for i in 0..PART {
        out[i] = out[i].min(tip[i].wrapping_add(rest[i]).wrapping_add(more + leans[i]));
    }
}

/// Whether two halves cost less together than `out` at any place.
#[inline(always)]
fn wins(out: &Lanes<PART>, [one, other]: [&Lanes<PART>; 2], more: u32, leans: &Lanes<PART>) -> bool {
    let mut wins = false;
    for i in 0..PART {
        wins |= one[i].wrapping_add(other[i]).wrapping_add(more + leans[i]) < out[i];
    }
    wins
}

/// The sums of a part of a row.
type Row<'a> = &'a [Lanes<LANES>; PART / LANES];

#[inline(always)]
fn load(row: &[u32], at: usize) -> Row<'_> {
    let blocks = row.get(at..).map_or(&[][..], |row| row.as_chunks().0);
    blocks.first_chunk().unwrap_or(&[[NEVER; LANES]; PART / LANES])
}

/// What each corner's tip and the whole of a shape cost in one colour at neighbouring places.
struct Sums {
    tips: [Lanes<LANES>; 4],
    whole: Lanes<LANES>,
}

/// Where in the tables the sums of one shape in one row of places lie, for each corner's tip.
struct Reach {
    /// On the rectangles: the upper and lower end of the shape's side that the tip is at.
    sides: [[usize; 2]; 4],
    /// On the diagonals: the tip's upper and lower end.
    slants: [[usize; 2]; 4],
}

impl Reach {
    #[inline(always)]
    fn new(shape: Shape, y: usize, columns: usize) -> Self {
        let stride = Tables::stride(columns);
        let side = |corner: Corner| {
            let (leg, _, dy) = tip_offset(shape, corner);
            let x = if corner.is_left() { 0 } else { shape.width as usize };
            [y + dy, y + dy + leg].map(|y| y * stride + x)
        };
        let slant = |corner: Corner| {
            let (leg, dx, dy) = tip_offset(shape, corner);
            let (upper, lower) = (y + dy, y + dy + leg);
            if is_rising(corner) {
                let stride = Tables::rise_stride(columns);
                [upper * stride + dx + leg, lower * stride + dx]
            } else {
                [upper * stride + dx, lower * stride + dx + leg]
            }
        };
        Self { sides: Corner::ALL.map(side), slants: Corner::ALL.map(slant) }
    }

    /// The sums of one colour for the places from x on.
    #[inline(always)]
    fn part<'a>(&self, tables: &'a Tables, x: usize) -> Window<'a> {
        let ends = |row: &'a [u32], [upper, lower]: [usize; 2]| [load(row, upper + x), load(row, lower + x)];
        let mut part = Window { sides: [ends(&[], [0; 2]); 4], slants: [ends(&[], [0; 2]); 4] };
        for corner in Corner::ALL {
            let slanted = if is_rising(corner) { tables.rises() } else { tables.falls() };
            part.slants[corner as usize] = ends(slanted, self.slants[corner as usize]);
            part.sides[corner as usize] = ends(tables.rects(), self.sides[corner as usize]);
        }
        part
    }
}

/// The sums of one colour that a part of a row takes, as in `Reach`.
struct Window<'a> {
    sides: [[Row<'a>; 2]; 4],
    slants: [[Row<'a>; 2]; 4],
}

impl Window<'_> {
    /// What tips and the whole cost: the compiler turns this into vector instructions.
    #[inline(always)]
    fn sums(&self, block: usize) -> Sums {
        let [upper_left, upper_right, lower_right, lower_left] = self.sides;
        let above = minus(&upper_right[0][block], &upper_left[0][block]);
        let below = minus(&lower_right[1][block], &lower_left[1][block]);
        let mut sums = Sums { tips: [[0; LANES]; 4], whole: minus(&below, &above) };
        for corner in Corner::ALL {
            let [upper, lower] = self.sides[corner as usize];
            let side = minus(&lower[block], &upper[block]);
            let [upper, lower] = self.slants[corner as usize];
            let slant = minus(&lower[block], &upper[block]);
            sums.tips[corner as usize] = if corner.is_left() { minus(&slant, &side) } else { minus(&side, &slant) };
        }
        sums
    }
}

/// Whether the long side of a tip in the corner rises to the right.
#[inline(always)]
fn is_rising(corner: Corner) -> bool {
    corner.is_left() == corner.is_upper()
}

/// The cheapest two colours for tip and rest of those seen so far, which differ.
#[derive(Clone, Copy)]
struct CheapestPair {
    tip: Lanes<LANES>,
    rest: Lanes<LANES>,
    both: Lanes<LANES>,
}

impl CheapestPair {
    const NONE: Self = Self { tip: [NEVER; LANES], rest: [NEVER; LANES], both: [NEVER; LANES] };

    /// Takes in one more colour.
    #[inline(always)]
    fn add(&mut self, tip: &Lanes<LANES>, rest: &Lanes<LANES>) {
        let later = least(&plus(tip, &self.rest), &plus(rest, &self.tip));
        self.both = least(&self.both, &later);
        self.tip = least(&self.tip, tip);
        self.rest = least(&self.rest, rest);
    }
}

#[cfg(test)]
mod tests {
    use typed_index_collections::TiSlice;

    use super::*;
    use crate::compose::design::UprightSizes;
    use crate::compose::{Choice, Design, Labour, PriceList};
    use crate::fabric::{Lean, Rgb};
    use crate::measure::{Length, Ruler, Seam};
    use crate::plan::{Item, leans_at};
    use crate::unit::Vocabulary;

    /// Every corner and every pair tried: the price of a pair comes straight from the list.
    fn plain(
        problem: &Problem,
        list: &PriceList,
        vocabulary: &Vocabulary,
        shape: Shape,
        at: [usize; 2],
    ) -> Option<BestUnit> {
        let [x, y] = at;
        let exchange = (x / shape.width as usize + y / shape.height as usize / 2) % 2 == 1;
        let colours = problem.choices.keys();
        let pairs = colours.clone().flat_map(|tip| colours.clone().map(move |rest| (tip, rest)));
        let units = shape.cut.corners().iter().flat_map(|&corner| pairs.clone().map(move |pair| (corner, pair)));
        let costed = units.filter_map(|(corner, (tip, rest))| {
            let upright = [tip, rest].iter().any(|&colour| problem.choices[colour].upright.is_some());
            let unit = Triangle { block: shape.block, cut: shape.cut, corner, tip, rest, upright };
            let more = plain_price(problem, list, vocabulary, shape, &unit)?;
            let lean = if against(shape, corner, x, y) { problem.labour.lean } else { 0 };
            Some(BestUnit { cost: problem.cloth_cost(shape, corner, tip, rest, x, y) + lean + more, unit })
        });
        costed.min_by_key(|best| {
            let Triangle { corner, tip, rest, .. } = best.unit;
            (best.cost, corner, tip.min(rest), tip.max(rest), (tip > rest) != exchange)
        })
    }

    /// Labour and price of a unit made, and of one on hand or of a strip on hand, whichever is least.
    fn plain_price(
        problem: &Problem,
        list: &PriceList,
        vocabulary: &Vocabulary,
        shape: Shape,
        unit: &Triangle<Family>,
    ) -> Option<u32> {
        let &Triangle { block, corner, tip, rest, .. } = unit;
        let down = |price: f64| price.min(2_097_152.0) as u32;
        let cloth = |prices: &TiSlice<Family, f64>, colour: Family| {
            prices.get(colour).map_or(0, |price| down(price * crate::compose::half_cloth(vocabulary, block)))
        };
        let on_hand =
            |item: Item<Family>| list.hand.iter().find(|(other, _)| *other == item).map(|(_, price)| down(*price));
        let shut = [tip, rest].iter().any(|&colour| list.closed.get(colour) == Some(&true));
        let item = Item::unit(tip, rest, block);
        let alike = if tip == rest { cloth(&list.alike, tip) } else { 0 };
        let sum = cloth(&list.cloth, tip) + cloth(&list.cloth, rest) + alike;
        let made = (!shut && Choice::may_join(problem.choices, tip, rest, block))
            .then(|| list.units.get(&item).map_or(sum, |price| down(*price)));
        let labour = problem.labour.unit(shape.cut);
        if shape.cut.is_strip() {
            let leans = leans_at(corner, shape.width < shape.height);
            let width = shape.width.min(shape.height);
            let strip = Item::Slice { tip, rest, block, width, leans, stands: None };
            let held = on_hand(strip).map(|price| problem.labour.slice.min(problem.labour.triangle) + price);
            return made.or(on_hand(item)).map(|_| labour).into_iter().chain(held).min();
        }
        made.into_iter().chain(on_hand(item)).min().map(|price| labour + price)
    }

    /// The fast rows and the best units equal the plain search at every place, for every shape.
    fn assert_agree(problem: &Problem, list: &PriceList, vocabulary: &Vocabulary) {
        let mut fast = problem.room();
        for &shape in &problem.shapes {
            for y in 0..=problem.rows - shape.height as usize {
                problem.row(shape, y, &problem.live(y..y + 1), &mut fast);
                for (x, &cost) in fast[..=problem.columns - shape.width as usize].iter().enumerate() {
                    let plain = plain(problem, list, vocabulary, shape, [x, y]);
                    assert_eq!(plain.map_or(NEVER, |best| best.cost), cost, "{shape:?} at {x}, {y}");
                    assert_eq!(plain, problem.best(shape, x, y), "{shape:?} at {x}, {y}");
                }
            }
        }
    }

    /// Prices pair by pair: all pairs open, some of them on hand, and some shut.
    fn lists(cloth: &[f64], vocabulary: &Vocabulary) -> Vec<PriceList> {
        let block = vocabulary.cells(vocabulary.blocks[0].finished);
        let strip = Item::Slice { tip: Family(1), rest: Family(3), block, width: 1, leans: Lean::Left, stands: None };
        let unit = |one, other| Item::unit(Family(one), Family(other), block);
        let hand = vec![(unit(0, 3), 17.0), (unit(2, 2), 5.5), (strip, 9.0)];
        let none = PriceList { cloth: cloth.to_vec().into(), alike: vec![2.0; 5].into(), ..PriceList::default() };
        vec![
            none.clone(),
            PriceList { closed: vec![false; 5].into(), ..none.clone() },
            PriceList { hand: hand.clone(), closed: vec![true, false, false, true, false].into(), ..none.clone() },
            PriceList { hand, closed: vec![true; 5].into(), ..none },
        ]
    }

    fn vocabulary() -> Vocabulary {
        let seam = Seam::measured(Length::inches(1, 4), Ruler::Inch);
        let strips = [1i64, 2, 3].map(|n| Length::INCH * n);
        let squares = ["5in".parse().unwrap()];
        Vocabulary::new(&squares, seam, Length::inches(1, 2), &strips, Length::INCH).unwrap()
    }

    /// Bytes from a seed, each below `levels`, so that few levels make many ties.
    fn dice(mut state: u32, levels: u32) -> impl FnMut() -> u8 {
        move || {
            state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            ((state >> 24) * levels / 256 * (256 / levels)) as u8
        }
    }

    fn design<'a>(
        picture: &'a [Rgb],
        focus: &'a [u8],
        columns: usize,
        choices: &'a TiSlice<Family, Choice>,
        vocabulary: &'a Vocabulary,
    ) -> Design<'a> {
        let labour = Labour { triangle: 90, trimmed: 70, slice: 400, lean: 13, ..Labour::NONE };
        let (locks, prices, edges) = (vec![], vec![].into(), Default::default());
        Design { picture, focus, columns, choices, vocabulary, labour, edge_step: None, locks, prices, edges }
    }

    #[test]
    fn fast_and_plain_agree() {
        let vocabulary = vocabulary();
        let mut byte = dice(1, 256);
        let picture: Vec<Rgb> = (0..37 * 11).map(|_| Rgb([byte(), byte(), byte()])).collect();
        let focus: Vec<u8> = (0..37 * 11).map(|_| 1 + byte() % 16).collect();
        let choice = |i: usize| Choice {
            colour: picture[i * 7],
            sketch: None,
            two_prints: i == 2,
            upright: None,
            cloth: vec![],
        };
        let choices: TiVec<Family, Choice> = (0..5).map(choice).collect();
        let prices = vec![0.0, 3.5, 0.25, 11.0, 1.0];
        let design = Design { prices: prices.clone().into(), ..design(&picture, &focus, 37, &choices, &vocabulary) };
        let mut problem = Problem::new(&design).unwrap();
        assert_agree(&problem, &PriceList { cloth: prices.clone().into(), ..PriceList::default() }, &vocabulary);
        for list in lists(&prices, &vocabulary) {
            problem.set_prices(&list);
            assert_agree(&problem, &list, &vocabulary);
        }
    }

    /// Prices of pairs at random, from none at all to all that there are: made, on hand, or shut.
    fn any_list(colours: usize, vocabulary: &Vocabulary, seed: u32) -> PriceList {
        let mut byte = dice(seed, 256);
        let mut price = move |most: u32| f64::from(u32::from(byte()) * most) / 256.0;
        let mut list = PriceList { closed: vec![false; colours].into(), ..PriceList::default() };
        let (shut, listed, held) = (price(40) - 20.0, price(150) - 30.0, price(20) - 8.0);
        list.cloth = (0..colours).map(|_| price(20)).collect();
        list.alike = (0..colours).map(|_| price(9)).collect();
        list.closed.iter_mut().for_each(|closed| *closed = price(100) < shut);
        for block in vocabulary.sides() {
            for (one, other) in (0..colours).flat_map(|one| (one..colours).map(move |other| (one, other))) {
                let (one, other) = (Family(one), Family(other));
                let item = Item::unit(one, other, block);
                if price(100) < listed {
                    list.units.insert(item, if price(9) < 1.0 { f64::MAX } else { price(3000) });
                }
                if price(100) < held {
                    list.hand.push((item, price(900)));
                    let leans = if price(2) < 1.0 { Lean::Left } else { Lean::Right };
                    list.hand.push((
                        Item::Slice { tip: other, rest: one, block, width: 3, leans, stands: None },
                        price(300),
                    ));
                }
            }
        }
        list
    }

    proptest::proptest! {
        #![proptest_config(proptest::prelude::ProptestConfig { cases: 24, ..Default::default() })]

        /// Few levels of colour and many fabrics alike make ties of all kinds.
        #[test]
        fn any_prices_agree(seed in 0_u32..1 << 30, levels in 1_u32..6, colours in 1_usize..14, columns in 9_usize..40) {
            let vocabulary = vocabulary();
            let mut byte = dice(seed, 1 << levels);
            let picture: Vec<Rgb> = (0..columns * 10).map(|_| Rgb([byte(), byte(), 99])).collect();
            let mut choice = |_| Choice {
                colour: Rgb([byte(), byte(), 99]),
                sketch: None,
                two_prints: byte() > 90,
                // With some pairs of them no unit of some sizes can be made.
                upright: byte().is_multiple_of(5).then(|| UprightSizes {
                    alone: vocabulary.sides()[1..].to_vec(),
                    both: vocabulary.sides()[..1].to_vec(),
                }),
                cloth: vec![],
            };
            let choices: TiVec<Family, Choice> = (0..colours).map(&mut choice).collect();
            let mut problem = Problem::new(&design(&picture, &[], columns, &choices, &vocabulary)).unwrap();
            assert_agree(&problem, &PriceList::default(), &vocabulary);
            let list = any_list(colours, &vocabulary, seed ^ 7);
            problem.set_prices(&list);
            assert_agree(&problem, &list, &vocabulary);
        }
    }
}
