//! The best triangle unit of every shape at every place.
//!
//! For one row of places the cost of tip and rest is taken in one colour after the other along the row. A unit
//! takes two different fabrics, so each colour's tip is paired with the cheapest rest of those before it, and its
//! rest with their cheapest tip: every pair is tried where its later colour comes. Where pairs have prices of their
//! own (`row_of_pairs`) a half that cannot win with the cheapest other half is left out. Costs are the same to the
//! last bit as those of a search of every pair, which the tests make.

use super::prices::Open;
use super::{Live, Problem, Tables};
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
pub(super) fn against(shape: Shape, corner: Corner, x: usize, y: usize) -> bool {
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
    /// The cheapest unit of `shape` at (x, y); `None` where it takes two fabrics and there is one.
    ///
    /// Among equals the first corner wins, then the lower colours, or by position the higher tip, so that
    /// flat areas shimmer.
    pub fn best(&self, shape: Shape, x: usize, y: usize) -> Option<Best> {
        let exchange = (x / shape.width as usize + y / shape.height as usize / 2) % 2 == 1;
        let key = |best: &Best| {
            let Triangle { corner, tip, rest, .. } = best.unit;
            (best.cost, corner, tip.min(rest), tip.max(rest), (tip > rest) != exchange)
        };
        let mut found: Option<Best> = None;
        for &corner in corners(shape.cut) {
            let open = self.prices.open(shape, corner);
            let lean = if against(shape, corner, x, y) { self.labour.lean } else { 0 };
            let halves: Vec<[u32; 2]> =
                (0..self.choices.len()).map(|colour| self.halves(shape, corner, colour, x, y)).collect();
            let least = |colour: usize| open.map_or([self.half_price(colour, shape); 2], |open| open.least(colour));
            let least: Vec<[u32; 2]> = (0..halves.len()).map(least).collect();
            let with_least = |half: usize| halves.iter().zip(&least).map(move |(cost, least)| cost[half] + least[half]);
            let rest_least = with_least(1).min().unwrap_or(NEVER);
            for (tip, tip_least) in with_least(0).enumerate() {
                // What no rest can make good is not tried: the cost of a pair is never less.
                if found.is_some_and(|found| tip_least + rest_least + lean > found.cost) {
                    continue;
                }
                for rest in 0..halves.len() {
                    let Some(more) = self.pair_cost(shape, open, tip, rest) else { continue };
                    let unit = Triangle { block: shape.block, cut: shape.cut, corner, tip, rest };
                    let best = Best { cost: halves[tip][0] + halves[rest][1] + more + lean, unit };
                    if found.is_none_or(|found| key(&best) < key(&found)) {
                        found = Some(best);
                    }
                }
            }
        }
        found
    }

    /// Labour and price of a unit of two colours; none where they may not meet.
    fn pair_cost(&self, shape: Shape, open: Option<&Open>, tip: usize, rest: usize) -> Option<u32> {
        match open {
            Some(open) => open.at(tip, rest).map(|(cost, _)| cost),
            None if tip == rest && !self.choices[tip].two_prints => None,
            None => Some(self.labour.unit(shape.cut) + self.both_prices(tip, rest, shape)),
        }
    }

    /// Doubled error of tip and rest in one colour.
    fn halves(&self, shape: Shape, corner: Corner, colour: usize, x: usize, y: usize) -> [u32; 2] {
        let whole = self.tables[colour].rectangle(x, y, shape.width as usize, shape.height as usize);
        let tip = self.tip_cost(shape, corner, colour, x, y);
        [tip, whole.wrapping_sub(tip)]
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

    /// Cheapest cost of `shape` at every x of row y, of the colours that can matter, into `out`, which is `room` long.
    #[inline(always)]
    pub fn row(&self, shape: Shape, y: usize, live: &Live, out: &mut [u32]) {
        out.fill(NEVER);
        let places = (self.columns + 1).saturating_sub(shape.width as usize);
        if self.choices.len() < 2 && !self.choices.iter().any(|c| c.two_prints) {
            return;
        }
        if self.prices.open(shape, Corner::UpperLeft).is_some() {
            return self.row_of_pairs(shape, y, out);
        }
        let prices = |colour: usize| (self.half_price(colour, shape), self.both_prices(colour, colour, shape));
        let prices: Vec<(u32, u32)> = (0..self.choices.len()).map(prices).collect();
        for &corner in corners(shape.cut) {
            let reach = Reach::new(shape, corner, y, self.columns);
            for (block, out) in out.as_chunks_mut::<LANES>().0.iter_mut().enumerate().take(places.div_ceil(LANES)) {
                let x = block * LANES;
                let mut pair = CheapestPair::NONE;
                for &colour in &live.units[block] {
                    let (half, both) = prices[colour];
                    let halves = reach.halves(&self.tables[colour], x);
                    pair.add(&halves, half, self.choices[colour].two_prints.then_some(both));
                }
                let leans = self.leans(shape, corner, x, y);
                for i in 0..LANES {
                    out[i] = out[i].min(pair.both[i].wrapping_add(leans[i]));
                }
            }
        }
        let labour = self.labour.unit(shape.cut);
        out[..places].iter_mut().for_each(|cost| *cost += labour);
        out[places..].fill(NEVER);
    }

    /// What leaning against the rule adds at `LANES` places from x on.
    #[inline(always)]
    fn leans(&self, shape: Shape, corner: Corner, x: usize, y: usize) -> Lanes {
        let mut leans = [0; LANES];
        for (i, lean) in leans.iter_mut().enumerate() {
            *lean = if against(shape, corner, x + i, y) { self.labour.lean } else { 0 };
        }
        leans
    }

    /// The same where only some pairs of colours may meet, or each has its price.
    ///
    /// What a pair costs is at least what `Open::least` says of its two halves. So first the tip that is cheapest
    /// so is tried with every rest, then of the others only what could still be cheaper.
    #[inline(always)]
    fn row_of_pairs(&self, shape: Shape, y: usize, out: &mut [u32]) {
        let places = (self.columns + 1).saturating_sub(shape.width as usize);
        let mut halves = vec![[[0; LANES]; 2]; self.choices.len()];
        let (mut tips, mut rests) = (Vec::new(), Vec::new());
        for &corner in corners(shape.cut) {
            let Some(open) = self.prices.open(shape, corner) else { continue };
            let reach = Reach::new(shape, corner, y, self.columns);
            for (block, out) in out.as_chunks_mut::<LANES>().0.iter_mut().enumerate().take(places.div_ceil(LANES)) {
                let x = block * LANES;
                let mut least = [[NEVER; LANES]; 2];
                let mut first = [0; LANES];
                for (colour, (halves, tables)) in (0..).zip(halves.iter_mut().zip(&self.tables)) {
                    *halves = reach.halves(tables, x);
                    let more = open.least(colour as usize);
                    for i in 0..LANES {
                        let [tip, rest] = [0, 1].map(|half| halves[half][i].wrapping_add(more[half]));
                        first[i] = if tip < least[0][i] { colour } else { first[i] };
                        least[0][i] = least[0][i].min(tip);
                        least[1][i] = least[1][i].min(rest);
                    }
                }
                let leans = self.leans(shape, corner, x, y);
                let mut last = u32::MAX;
                for &tip in &first[..LANES.min(places - x)] {
                    if tip != std::mem::replace(&mut last, tip) {
                        for (rest, [_, rests]) in halves.iter().enumerate() {
                            lower(out, [&halves[tip as usize][0], rests], open.cost(tip as usize, rest), &leans);
                        }
                    }
                }
                // Places past the end of the row: nothing is cheaper than this.
                out[LANES.min(places - x)..].fill(0);
                for (may, half) in [(&mut tips, 0), (&mut rests, 1)] {
                    may.clear();
                    for (colour, halves) in halves.iter().enumerate() {
                        if wins(out, [&halves[half], &least[1 - half]], open.least(colour)[half], &leans) {
                            may.push(colour);
                        }
                    }
                }
                for &tip in &tips {
                    for &rest in &rests {
                        lower(out, [&halves[tip][0], &halves[rest][1]], open.cost(tip, rest), &leans);
                    }
                }
            }
        }
        out[places..].fill(NEVER);
    }
}

/// So many neighbouring places are worked out at once.
pub const LANES: usize = 32;
type Lanes = [u32; LANES];

/// Lowers `out` to what two halves cost together, with `more` for the pair.
#[inline(always)]
fn lower(out: &mut Lanes, [tip, rest]: [&Lanes; 2], more: u32, leans: &Lanes) {
    for i in 0..LANES {
        out[i] = out[i].min(tip[i].wrapping_add(rest[i]).wrapping_add(more + leans[i]));
    }
}

/// Whether two halves cost less together than `out` at any place.
#[inline(always)]
fn wins(out: &Lanes, [one, other]: [&Lanes; 2], more: u32, leans: &Lanes) -> bool {
    let mut wins = false;
    for i in 0..LANES {
        wins |= one[i].wrapping_add(other[i]).wrapping_add(more + leans[i]) < out[i];
    }
    wins
}

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
}

/// The cheapest two colours for tip and rest of those seen so far, which differ or are two prints of one.
struct CheapestPair {
    tip: Lanes,
    rest: Lanes,
    both: Lanes,
}

impl CheapestPair {
    const NONE: Self = Self { tip: [NEVER; LANES], rest: [NEVER; LANES], both: [NEVER; LANES] };

    /// Takes in one more colour, with the price of a half, and of both where it has two prints.
    #[inline(always)]
    fn add(&mut self, [tips, rests]: &[Lanes; 2], half: u32, both: Option<u32>) {
        for i in 0..LANES {
            let (tip, rest) = (tips[i].wrapping_add(half), rests[i].wrapping_add(half));
            let later = tip.wrapping_add(self.rest[i]).min(rest.wrapping_add(self.tip[i]));
            self.both[i] = self.both[i].min(later);
            self.tip[i] = self.tip[i].min(tip);
            self.rest[i] = self.rest[i].min(rest);
        }
        let Some(both) = both else { return };
        for i in 0..LANES {
            self.both[i] = self.both[i].min(tips[i].wrapping_add(rests[i]).wrapping_add(both));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
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
    ) -> Option<Best> {
        let [x, y] = at;
        let exchange = (x / shape.width as usize + y / shape.height as usize / 2) % 2 == 1;
        let colours = 0..problem.choices.len();
        let pairs = colours.clone().flat_map(|tip| colours.clone().map(move |rest| (tip, rest)));
        let units = corners(shape.cut).iter().flat_map(|&corner| pairs.clone().map(move |pair| (corner, pair)));
        let costed = units.filter_map(|(corner, (tip, rest))| {
            let unit = Triangle { block: shape.block, cut: shape.cut, corner, tip, rest };
            let more = plain_price(problem, list, vocabulary, shape, &unit)?;
            let lean = if against(shape, corner, x, y) { problem.labour.lean } else { 0 };
            Some(Best { cost: problem.cloth_cost(shape, corner, tip, rest, x, y) + lean + more, unit })
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
        unit: &Triangle,
    ) -> Option<u32> {
        let &Triangle { block, corner, tip, rest, .. } = unit;
        let down = |price: f64| price.min(2_097_152.0) as u32;
        let cloth = |prices: &[f64], colour: usize| {
            prices.get(colour).map_or(0, |price| down(price * crate::compose::half_cloth(vocabulary, block)))
        };
        let on_hand = |item: Item| list.hand.iter().find(|(other, _)| *other == item).map(|(_, price)| down(*price));
        let shut = [tip, rest].iter().any(|&colour| list.closed.get(colour) == Some(&true));
        let item = Item::unit(tip, rest, block);
        let alike = if tip == rest { cloth(&list.alike, tip) } else { 0 };
        let sum = cloth(&list.cloth, tip) + cloth(&list.cloth, rest) + alike;
        let made = (!shut && (tip != rest || problem.choices[tip].two_prints))
            .then(|| list.units.get(&item).map_or(sum, |price| down(*price)));
        let labour = problem.labour.unit(shape.cut);
        if shape.cut == Cut::Slice {
            let leans = leans_at(corner, shape.width < shape.height);
            let strip = Item::Slice { tip, rest, block, width: shape.width.min(shape.height), leans };
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
                problem.row(shape, y, &problem.live(y), &mut fast);
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
        choices: &'a [Choice],
        vocabulary: &'a Vocabulary,
    ) -> Design<'a> {
        let labour = Labour { triangle: 90, trimmed: 70, slice: 400, lean: 13, ..Labour::NONE };
        let (locks, prices, edges) = (vec![], vec![], Default::default());
        Design { picture, focus, columns, choices, vocabulary, labour, edge_step: None, locks, prices, edges }
    }

    #[test]
    fn fast_and_plain_agree() {
        let vocabulary = vocabulary();
        let mut byte = dice(1, 256);
        let picture: Vec<Rgb> = (0..37 * 11).map(|_| Rgb([byte(), byte(), byte()])).collect();
        let focus: Vec<u8> = (0..37 * 11).map(|_| 1 + byte() % 16).collect();
        let choice = |i: usize| Choice { colour: picture[i * 7], sketch: None, two_prints: i == 2, cloth: vec![] };
        let choices: Vec<Choice> = (0..5).map(choice).collect();
        let prices = vec![0.0, 3.5, 0.25, 11.0, 1.0];
        let design = Design { prices: prices.clone(), ..design(&picture, &focus, 37, &choices, &vocabulary) };
        let mut problem = Problem::new(&design).unwrap();
        assert_agree(&problem, &PriceList { cloth: prices.clone(), ..PriceList::default() }, &vocabulary);
        for list in lists(&prices, &vocabulary) {
            problem.set_prices(&list);
            assert_agree(&problem, &list, &vocabulary);
        }
    }

    /// Prices of pairs at random, from none at all to all that there are: made, on hand, or shut.
    fn any_list(colours: usize, vocabulary: &Vocabulary, seed: u32) -> PriceList {
        let mut byte = dice(seed, 256);
        let mut price = move |most: u32| f64::from(u32::from(byte()) * most) / 256.0;
        let mut list = PriceList { closed: vec![false; colours], ..PriceList::default() };
        let (shut, listed, held) = (price(40) - 20.0, price(150) - 30.0, price(20) - 8.0);
        list.cloth = (0..colours).map(|_| price(20)).collect();
        list.alike = (0..colours).map(|_| price(9)).collect();
        list.closed.iter_mut().for_each(|closed| *closed = price(100) < shut);
        for block in vocabulary.sides() {
            for (one, other) in (0..colours).flat_map(|one| (one..colours).map(move |other| (one, other))) {
                let item = Item::unit(one, other, block);
                if price(100) < listed {
                    list.units.insert(item, if price(9) < 1.0 { f64::MAX } else { price(3000) });
                }
                if price(100) < held {
                    list.hand.push((item, price(900)));
                    let leans = if price(2) < 1.0 { Lean::Left } else { Lean::Right };
                    list.hand.push((Item::Slice { tip: other, rest: one, block, width: 3, leans }, price(300)));
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
                cloth: vec![],
            };
            let choices: Vec<Choice> = (0..colours).map(&mut choice).collect();
            let mut problem = Problem::new(&design(&picture, &[], columns, &choices, &vocabulary)).unwrap();
            assert_agree(&problem, &PriceList::default(), &vocabulary);
            let list = any_list(colours, &vocabulary, seed ^ 7);
            problem.set_prices(&list);
            assert_agree(&problem, &list, &vocabulary);
        }
    }
}
