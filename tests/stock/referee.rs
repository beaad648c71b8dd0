//! A general solver of integer programs against scenes within the stock: tops of few cells, every piece a variable.
//!
//! Checks `stock::within_cloth` as it counts: each unit takes its part of a square, a slice is left over, or where strips
//! are counted comes off a unit that a trimmed one may come off too. Labour and
//! the errors of patches are those of `compose`, which `tests/oracle.rs` checks; nothing else is shared.

use std::collections::{BTreeMap, BTreeSet};

use microlp::{ComparisonOp, Error, OptimizationDirection, Problem as Program, Variable};
use rowscape::compose::{Free, Labour, Order, PriceList, Problem, Ready, filler_cloth, half_cloth};
use rowscape::fabric::{Fabrics, Family, OnHand};
use rowscape::measure::Length;
use rowscape::plan::{Address, Depth, Item, Piece, Placed, Request};
use rowscape::stock::{Have, WithinCloth, within_cloth};
use rowscape::unit::{Corner, Cut, Shape, Triangle};
use typed_index_collections::TiVec;

use crate::stock::within::{KINDS, fabrics, heap, picture, request};

/// Cells across and down; rows are 3, 4 or 7 tall.
const TOP: (usize, usize) = (12, 7);
/// Rounds of prices.
const ROUNDS: u32 = 60;

#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Stock {
    Cloth(Family),
    Alike(Family),
    Hand(Item<Family>),
    /// Units made of squares: of these some are left whole or trimmed, some left whole or sliced.
    Main(Item<Family>),
    Sliced(Item<Family>),
}

impl Stock {
    fn unit(&self) -> Option<Item<Family>> {
        match *self {
            Self::Main(unit) | Self::Sliced(unit) => Some(unit),
            _ => None,
        }
    }
}

/// One way to make one piece in its place.
struct Way {
    row: (usize, usize),
    x: usize,
    width: usize,
    cost: i64,
    /// What it takes of each stock, in cells or pieces.
    takes: Vec<(Stock, f64)>,
    /// What its cloth and its piece on hand are priced at.
    price: fn(&Pricing, &Way) -> i64,
}

/// Prices of the solver, and what they are for.
struct Pricing<'a> {
    list: &'a PriceList,
    ready: &'a Ready,
}

impl Pricing<'_> {
    fn of(&self, stock: Stock) -> f64 {
        match stock {
            Stock::Cloth(family) => self.list.cloth[family],
            Stock::Alike(family) => self.list.alike[family],
            Stock::Hand(item) => self.list.hand.iter().find(|(other, _)| *other == item).map_or(0.0, |(_, p)| *p),
            Stock::Main(_) | Stock::Sliced(_) => 0.0,
        }
    }
}

/// Every part is rounded down by itself.
fn by_parts(pricing: &Pricing, way: &Way) -> i64 {
    way.takes.iter().map(|&(stock, cells)| (pricing.of(stock) * cells).floor() as i64).sum()
}

/// The start of a filler and each cell along it are rounded down by themselves.
fn along(pricing: &Pricing, way: &Way) -> i64 {
    let cells = |width| filler_cloth(&pricing.ready.vocabulary, width, way.row.1);
    let price: f64 = way.takes.iter().map(|&(stock, _)| pricing.of(stock)).sum();
    (price * cells(0)).floor() as i64 + (price * (cells(1) - cells(0))).floor() as i64 * way.width as i64
}

/// One small top with its stock.
struct Case {
    request: Request,
    fabrics: Fabrics,
    hand: OnHand,
    /// Cells of cloth of each family, less than its squares are.
    cloth: Vec<f64>,
    /// Whether strips are counted.
    strips: bool,
    seed: u32,
}

/// Three families, scarce in every other case, and a heap.
fn case(seed: u32) -> Case {
    let mut state = u64::from(seed).wrapping_mul(0x9e37_79b9_7f4a_7c15) | 1;
    let mut roll = |limit: u64| {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        ((state >> 33) % limit) as u32
    };
    let mut fabrics = fabrics(&[4], 0);
    fabrics.truncate(6);
    let cloth =
        (0..fabrics.len() / 2).map(|_| f64::from(4 + roll(if seed.is_multiple_of(2) { 600 } else { 60 }))).collect();
    let counts: Vec<u32> = (0..KINDS).map(|_| roll(6).saturating_sub(3)).collect();
    let (width, height) = (TOP.0 as i64, TOP.1 as i64);
    let request = Request { least: Length::INCH * 3i64, ..request(width, height, Depth::Rows) };
    Case { request, hand: heap(&counts, fabrics.len()), fabrics, cloth, strips: false, seed }
}

/// A case as the solver has it.
struct Small<'a> {
    ready: &'a Ready,
    have: Have,
    labour: Labour,
    ways: Vec<Way>,
}

impl<'a> Small<'a> {
    fn new(ready: &'a Ready, problem: &Problem, have: Have, request: &Request) -> Self {
        let labour = Labour::new(&ready.vocabulary, request);
        let mut small = Self { ready, have, labour, ways: Vec::new() };
        for row in small.rows() {
            for x in 0..TOP.0 {
                small.triangles(problem, row, x);
                small.fillers(problem, row, x);
            }
        }
        small
    }

    /// What a row across the top costs beside its pieces.
    fn row_labour(&self, (_, height): (usize, usize)) -> i64 {
        self.labour.row(height) * TOP.0 as i64
    }

    fn rows(&self) -> Vec<(usize, usize)> {
        let (least, most) =
            (self.ready.vocabulary.least_cells() as usize, self.ready.vocabulary.largest_cells() as usize);
        let rows = (0..TOP.1).flat_map(|y| (least..=most.min(TOP.1 - y)).map(move |height| (y, height)));
        rows.collect()
    }

    fn errors(
        &self,
        problem: &Problem,
        (y, height): (usize, usize),
        x: usize,
        width: usize,
        piece: Piece<Family>,
    ) -> TiVec<Family, [u32; 2]> {
        let unit = Free { width: width as u32, piece };
        let address = Address { band: 1, column: 1, row: 1, unit: 1 };
        problem.patch_costs(&Placed { address, x: x as u32, y: y as u32, height: height as u32, unit })
    }

    fn triangles(&mut self, problem: &Problem, row: (usize, usize), x: usize) {
        let shapes = self.ready.vocabulary.shapes();
        let fits = |shape: &&Shape| shape.height as usize == row.1 && x + shape.width as usize <= TOP.0;
        let families = self.ready.families.keys();
        for shape in shapes.iter().filter(fits) {
            let width = shape.width as usize;
            for corner in Corner::ALL {
                let any = Triangle {
                    block: shape.block,
                    cut: shape.cut,
                    corner,
                    tip: Family(0),
                    rest: Family(0),
                    upright: false,
                };
                let errors = self.errors(problem, row, x, width, Piece::Triangle(any));
                let odd = (x / width + row.0 / row.1) % 2 == 1;
                let against = shape.cut == Cut::Whole && odd == (corner.is_left() == corner.is_upper());
                for (tip, rest) in families.clone().flat_map(|tip| families.clone().map(move |rest| (tip, rest))) {
                    let error = i64::from(errors[tip][0]) + i64::from(errors[rest][1]);
                    let cost = error + if against { i64::from(self.labour.lean) } else { 0 };
                    let item = Piece::Triangle(Triangle { tip, rest, ..any }).item(shape.width, shape.height);
                    for (labour, takes) in self.sources(shape, item, tip, rest) {
                        let cost = cost + i64::from(labour);
                        self.ways.push(Way { row, x, width, cost, takes, price: by_parts });
                    }
                }
            }
        }
    }

    /// Where a triangle unit may come from: squares, what is on hand, or for a slice what is left over of either.
    fn sources(&self, shape: &Shape, item: Item<Family>, tip: Family, rest: Family) -> Vec<(u32, Vec<(Stock, f64)>)> {
        let two = tip != rest || self.ready.choices[tip].two_prints;
        let can = two && !self.have.none_of(tip) && !self.have.none_of(rest);
        let unit = Item::unit(tip, rest, shape.block);
        let there = |item: &Item<Family>| self.have.on_hand.contains_key(item);
        let mut sources = Vec::new();
        if self.have.strips_are_counted() {
            let takes = match shape.cut {
                Cut::Whole => vec![(Stock::Main(unit), 1.0), (Stock::Sliced(unit), 1.0)],
                Cut::Trimmed => vec![(Stock::Main(unit), 1.0)],
                Cut::Slice => vec![(Stock::Sliced(unit), 1.0)],
            };
            return if can { vec![(self.labour.unit(shape.cut), takes)] } else { sources };
        }
        if shape.cut == Cut::Slice {
            if can || there(&unit) {
                sources.push((self.labour.slice, Vec::new()));
            }
            if there(&item) {
                sources.push((self.labour.slice.min(self.labour.triangle), vec![(Stock::Hand(item), 1.0)]));
            }
            return sources;
        }
        let labour = self.labour.unit(shape.cut);
        if can {
            let half = half_cloth(&self.ready.vocabulary, shape.block);
            let mut takes = vec![(Stock::Cloth(tip), half), (Stock::Cloth(rest), half)];
            if tip == rest {
                takes.push((Stock::Alike(tip), half));
            }
            sources.push((labour, takes));
        }
        if there(&unit) {
            sources.push((labour, vec![(Stock::Hand(unit), 1.0)]));
        }
        sources
    }

    fn fillers(&mut self, problem: &Problem, row: (usize, usize), x: usize) {
        let least = self.ready.vocabulary.least_cells() as usize;
        for width in least..=TOP.0 - x.min(TOP.0) {
            let errors = self.errors(problem, row, x, width, Piece::Filler(Family(0)));
            for (family, error) in errors.iter_enumerated() {
                let cost = i64::from(error[1]) + i64::from(self.labour.rectangle(width * row.1));
                if self.ready.choices[family].longest(row.1) >= width {
                    let cells = filler_cloth(&self.ready.vocabulary, width, row.1);
                    self.ways.push(Way {
                        row,
                        x,
                        width,
                        cost,
                        takes: vec![(Stock::Cloth(family), cells)],
                        price: along,
                    });
                }
                let item = Item::filler(family, width as u32, row.1 as u32);
                if self.have.on_hand.contains_key(&item) {
                    self.ways.push(Way { row, x, width, cost, takes: vec![(Stock::Hand(item), 1.0)], price: by_parts });
                }
            }
        }
    }

    fn there(&self, stock: Stock) -> Option<f64> {
        match stock {
            Stock::Cloth(family) => self.have.cloth[family],
            Stock::Alike(family) => self.have.alike[family],
            Stock::Hand(item) => self.have.on_hand.get(&item).map(|&count| f64::from(count)),
            Stock::Main(_) | Stock::Sliced(_) => Some(0.0),
        }
    }

    /// Of ways that fill one place and take the same the cheapest.
    fn cheapest(&self) -> Vec<&Way> {
        let mut kept = BTreeMap::new();
        for way in &self.ways {
            let takes: Vec<(Stock, u64)> = way.takes.iter().map(|(stock, cells)| (*stock, cells.to_bits())).collect();
            let held = kept.entry((way.row, way.x, way.width, takes)).or_insert(way);
            if way.cost < held.cost {
                *held = way;
            }
        }
        kept.into_values().collect()
    }

    /// The cheapest top by an integer program: a path down the rows, in each row a path along its pieces.
    fn optimum(&self) -> Option<i64> {
        let mut program = Program::new(OptimizationDirection::Minimize);
        let rows = self.rows();
        let chosen: Vec<Variable> =
            rows.iter().map(|&row| program.add_integer_var(self.row_labour(row) as f64, (0, 1))).collect();
        let ways = self.cheapest();
        let used: Vec<Variable> = ways.iter().map(|way| program.add_integer_var(way.cost as f64, (0, 1))).collect();
        for y in 0..TOP.1 {
            let down = rows.iter().zip(&chosen).filter_map(|(row, &var)| match *row {
                (from, _) if from == y => Some((var, 1.0)),
                (from, height) if from + height == y => Some((var, -1.0)),
                _ => None,
            });
            program.add_constraint(down.collect::<Vec<_>>(), ComparisonOp::Eq, if y == 0 { 1.0 } else { 0.0 });
        }
        for (row, &var) in rows.iter().zip(&chosen) {
            for x in 0..TOP.0 {
                let in_row = ways.iter().zip(&used).filter(|(way, _)| way.row == *row);
                let mut path: Vec<(Variable, f64)> = in_row
                    .filter_map(|(way, &var)| match way.x {
                        at if at == x => Some((var, 1.0)),
                        at if at + way.width == x => Some((var, -1.0)),
                        _ => None,
                    })
                    .collect();
                if x == 0 {
                    path.push((var, -1.0));
                }
                program.add_constraint(path, ComparisonOp::Eq, 0.0);
            }
        }
        let mut takes: BTreeMap<Stock, Vec<(Variable, f64)>> = BTreeMap::new();
        for (way, &var) in ways.iter().zip(&used) {
            for &(stock, cells) in &way.takes {
                // A variable may stand once in a constraint.
                let terms = takes.entry(stock).or_default();
                match terms.last_mut().filter(|(last, _)| *last == var) {
                    Some((_, sum)) => *sum += cells,
                    None => terms.push((var, cells)),
                }
            }
        }
        // Units are made of both their families, and their parts come off them.
        let units: BTreeSet<Item<Family>> = takes.keys().filter_map(|stock| stock.unit()).collect();
        for unit in units {
            let Item::Unit { first, second, block, .. } = unit else { continue };
            let made = program.add_integer_var(0.0, (0, TOP.0 as i32 * TOP.1 as i32));
            let half = half_cloth(&self.ready.vocabulary, block);
            let mut take = |stock: Stock, cells: f64| takes.entry(stock).or_default().push((made, cells));
            if first == second {
                take(Stock::Cloth(first), 2.0 * half);
                take(Stock::Alike(first), half);
            } else {
                take(Stock::Cloth(first), half);
                take(Stock::Cloth(second), half);
            }
            take(Stock::Main(unit), -1.0);
            take(Stock::Sliced(unit), -1.0);
        }
        for (stock, terms) in takes {
            if let Some(there) = self.there(stock) {
                program.add_constraint(terms, ComparisonOp::Le, there);
            }
        }
        match program.solve() {
            Ok(outcome) => outcome.into_solution().ok().map(|solution| solution.objective().round() as i64),
            Err(Error::Infeasible) => None,
            Err(error) => panic!("the referee gave up: {error}"),
        }
    }

    /// L(p) at these prices: the cheapest top by plain recursion over all ways, less what the stock is worth.
    fn priced(&self, list: &PriceList) -> i64 {
        let pricing = Pricing { list, ready: self.ready };
        let mut down = vec![Some(0_i64); 1];
        for y in 1..=TOP.1 {
            let ends = self.rows().into_iter().filter(|(from, height)| from + height == y);
            let best = ends
                .filter_map(|row| Some(down[row.0]? + self.row_labour(row) + self.priced_row(row, &pricing)?))
                .min();
            down.push(best);
        }
        let cloth = list.cloth.keys().flat_map(|family| [Stock::Cloth(family), Stock::Alike(family)]);
        let stocks = cloth.chain(self.have.on_hand.keys().map(|&item| Stock::Hand(item)));
        let owed: f64 = stocks.filter_map(|stock| Some(self.there(stock)? * pricing.of(stock))).sum();
        (down[TOP.1].unwrap() as f64 - owed - 1e-3).ceil() as i64
    }

    fn priced_row(&self, row: (usize, usize), pricing: &Pricing) -> Option<i64> {
        let mut along = vec![Some(0_i64)];
        for x in 1..=TOP.0 {
            let ends = self.ways.iter().filter(|way| way.row == row && way.x + way.width == x);
            along.push(ends.filter_map(|way| Some(along[way.x]? + way.cost + (way.price)(pricing, way))).min());
        }
        along[TOP.0]
    }
}

/// Works a case out, and lets `judge` look at it.
fn judged<T>(case: &Case, judge: impl FnOnce(&Small, &WithinCloth) -> T) -> Option<T> {
    let picture = picture(TOP.0, TOP.1, case.seed);
    let order = Order { hand: &case.hand, ..Order::new(&case.request, &picture, &[], &case.fabrics) };
    let ready = Ready::new(&order).unwrap();
    let mut problem = ready.problem(&order).unwrap();
    let mut have = Have::new(&ready, &case.fabrics);
    if case.strips {
        have.count_strips();
    }
    have.cloth = case.cloth.iter().copied().map(Some).collect();
    have.alike = case.cloth.iter().map(|cells| Some(cells / 2.0)).collect();
    let small = Small::new(&ready, &problem, have.clone(), &case.request);
    let cloth = within_cloth(&ready, &mut problem, &have, ROUNDS).ok()?;
    Some(judge(&small, &cloth))
}

#[test]
fn bound_optimum_and_answer_stand_in_order() {
    let (mut cases, mut exact, mut closed, mut hand) = (0, 0, 0, 0);
    for seed in 0..80 {
        judged(&case(seed), |small, cloth| {
            let optimum = small.optimum();
            let Some(answer) = cloth.bands.as_ref().map(|_| cloth.cost) else { return };
            let optimum = optimum.unwrap_or_else(|| panic!("seed {seed}: an answer, and the referee finds none"));
            assert!(cloth.bound <= optimum, "seed {seed}: the bound {} is above {optimum}", cloth.bound);
            assert!(optimum <= answer, "seed {seed}: the answer {answer} is below {optimum}");
            cases += 1;
            exact += u32::from(answer == optimum);
            closed += u32::from(cloth.bound == optimum);
            hand += u32::from(!small.have.on_hand.is_empty());
        });
    }
    println!("{exact} of {cases} are optimal, {closed} proven so, {hand} with pieces on hand");
    assert!(cases >= 40 && hand >= 40, "{cases} cases, {hand} with pieces on hand");
    assert!(exact * 3 >= cases * 2, "{exact} of {cases} are optimal");
}

/// With nothing on hand, so that every strip comes off a unit made of squares.
#[test]
fn bound_optimum_and_answer_stand_in_order_where_strips_are_counted() {
    let (mut cases, mut close) = (0, 0);
    for seed in 0..80 {
        judged(&Case { hand: OnHand::default(), strips: true, ..case(seed) }, |small, cloth| {
            let Some(answer) = cloth.bands.as_ref().map(|_| cloth.cost) else { return };
            let optimum =
                small.optimum().unwrap_or_else(|| panic!("seed {seed}: an answer, and the referee finds none"));
            assert!(cloth.bound <= optimum, "seed {seed}: the bound {} is above {optimum}", cloth.bound);
            assert!(optimum <= answer, "seed {seed}: the answer {answer} is below {optimum}");
            cases += 1;
            close += u32::from(answer == optimum);
        });
    }
    println!("{close} of {cases} are optimal");
    assert!(cases >= 40 && close * 3 >= cases, "{close} of {cases} are optimal");
}

#[test]
fn the_bound_is_the_cheapest_priced_top() {
    let mut priced = 0;
    for seed in 0..200 {
        judged(&case(seed), |small, cloth| {
            // Where nothing fits, prices rise until they are cut off.
            if cloth.bands.is_none() {
                return;
            }
            let least = small.priced(&cloth.prices).min(cloth.cost);
            assert!((least - cloth.bound).abs() <= 1, "seed {seed}: {} is claimed, {least} found", cloth.bound);
            priced += u32::from(cloth.prices.cloth.iter().any(|price| *price > 0.0));
        });
    }
    assert!(priced >= 60, "only {priced} with a price on cloth");
}

/// No scene within more costs more, so the bound on it stays below every answer found with less.
#[test]
fn more_stock_never_raises_a_closed_bound() {
    let mut closed = 0;
    for seed in 0..120 {
        let less = case(seed);
        let mut more = case(seed);
        more.cloth.iter_mut().for_each(|cells| *cells += 9.0);
        more.hand.units.iter_mut().for_each(|unit| unit.count += 1);
        let (Some((bound, cost)), Some(more)) = (
            judged(&less, |_, cloth| (cloth.bound, cloth.bands.as_ref().map(|_| cloth.cost))),
            judged(&more, |_, cloth| cloth.bound),
        ) else {
            continue;
        };
        let Some(cost) = cost else { continue };
        assert!(more <= cost, "seed {seed}: with more no scene is said to cost less than {more}, and one costs {cost}");
        closed += u32::from(bound == cost);
    }
    assert!(closed >= 30, "only {closed} bounds are closed");
}
