//! What a scene takes of the stock, kept up to date as its units change their families.

use std::collections::BTreeMap;

use typed_index_collections::TiVec;

use super::Have;
use crate::compose::{Draft, Free, Ready, half_cloth, pair_cloth};
use crate::fabric::Family;
use crate::measure::Length;
use crate::measure::math::squared;
use crate::plan::{Band, Item, Placed, State, places};
use crate::unit::{ByCorner, Corner, UprightPairing, UprightWays, pairings};

/// Less than this much of a cell is rounding.
pub const NOTHING: f64 = 1e-6;

/// How squares are counted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Squares {
    /// Each unit takes its part of a square; a slice too where strips are counted, else none.
    Shared,
    /// A lone unit takes a whole pair, and a slice a whole unit.
    Whole,
}

/// Cloth that a family is short of, in cells.
#[derive(Clone, Debug, PartialEq)]
pub struct Short {
    /// The family.
    pub family: Family,
    /// Cells of cloth.
    pub cells: f64,
}

/// Pieces of one kind that a scene has.
#[derive(Clone, Copy)]
struct Entry {
    count: u32,
    held: u32,
    /// How many may be made.
    most: Option<u32>,
    /// The families.
    one: Family,
    other: Option<Family>,
    /// Block side of a unit; cloth of a filler.
    block: Option<usize>,
    filler: f64,
    /// Where a print stands upright: the units that it is sewn with, and its corner.
    stands: Option<(usize, Corner)>,
}

/// Units of two families and one size that are sewn for their corners, so that they are counted together.
struct Upright {
    ways: UprightWays,
    /// Units that are not on hand.
    made: ByCorner,
}

/// What there is of a family.
struct Limit {
    cloth: f64,
    alike: f64,
    squares: Vec<f64>,
}

/// The place of an item in the ledger.
pub type Line = usize;

/// What a scene takes.
pub struct Ledger<'a> {
    have: &'a Have,
    lines: BTreeMap<Item<Family>, Line>,
    entries: Vec<Entry>,
    /// What is sewn for its corners, by families and block.
    upright: BTreeMap<(Family, Family, u32), usize>,
    corners: Vec<Upright>,
    squares_are: Squares,
    /// By block and number of units: cloth of one fabric.
    cloth: Vec<Vec<f64>>,
    /// By block and number of units: squares of one fabric by side, as `have` lists them.
    squares: Vec<Vec<Vec<f64>>>,
    /// By family: squares by side.
    pub cut: TiVec<Family, Vec<f64>>,
    /// By family: what there is of cloth, of cloth for pairs of one family, and of squares by side; no end where free.
    limits: TiVec<Family, Limit>,
    /// Cells of a square by side.
    side_cells: Vec<f64>,
    /// Whether every side is a whole number of the least.
    nested: bool,
    blocks: Vec<u32>,
    ready: &'a Ready,
    /// Cells of each family.
    pub need: TiVec<Family, f64>,
    /// Cells of one side of the pairs that join two prints of a family.
    pub alike: TiVec<Family, f64>,
    /// Cells over what there is, all families together.
    pub over: f64,
    /// Cells that all families take.
    pub total: f64,
    /// Pieces counted in and out so far, by which effort is measured.
    pub adds: u64,
}

impl<'a> Ledger<'a> {
    /// Whether the job is to stop.
    pub fn is_stopped(&self) -> bool {
        self.ready.watch.is_stopped()
    }

    /// What `bands` take: free units by their families, what stands by the families of its prints.
    pub fn new(ready: &'a Ready, have: &'a Have, bands: &[Band<Draft>], squares_are: Squares) -> Self {
        let placed = by_family(ready, bands);
        let none: TiVec<Family, f64> = vec![0.0; ready.families.len()].into();
        let blocks = ready.vocabulary.sides();
        let most = placed.len() as u32;
        let cloth = |&block: &u32| -> Vec<f64> {
            let each = half_cloth(&ready.vocabulary, block);
            let of = |units: u32| match squares_are {
                Squares::Shared => f64::from(units) * each,
                Squares::Whole => pair_cloth(&ready.vocabulary, block, units),
            };
            (0..=most).map(of).collect()
        };
        let cloth = blocks.iter().map(cloth).collect();
        let by_side = |&block: &u32| {
            let of = |units: u32| match squares_are {
                Squares::Shared => shared_by_side(ready, have, block, units),
                Squares::Whole => by_side(ready, have, block, units),
            };
            (0..=most).map(of).collect()
        };
        let squares = blocks.iter().map(by_side).collect();
        let cut = vec![vec![0.0; have.squares.len()]; ready.families.len()].into();
        let (need, alike) = (none.clone(), none);
        let (lines, entries) = (BTreeMap::new(), Vec::new());
        let (over, total) = (0.0, 0.0);
        let no_end = |have: Option<f64>| have.unwrap_or(f64::INFINITY);
        let limit = |family: Family| Limit {
            cloth: no_end(have.cloth[family]),
            alike: no_end(have.alike[family]),
            squares: have.squares.iter().map(|(_, squares)| no_end(squares[family])).collect(),
        };
        let limits = ready.families.keys().map(limit).collect();
        let grid = ready.vocabulary.grid.ticks() as f64;
        let side_cells = have.squares.iter().map(|(side, _)| squared(side.ticks() as f64 / grid)).collect();
        let least = have.squares.first().map(|(side, _)| *side);
        let nested =
            have.squares.iter().all(|(side, _)| least.is_some_and(|least| least * side.floor_div(least) == *side));
        let mut ledger = Self {
            have,
            lines,
            entries,
            upright: BTreeMap::new(),
            corners: Vec::new(),
            squares_are,
            cloth,
            squares,
            cut,
            limits,
            side_cells,
            nested,
            blocks,
            ready,
            need,
            alike,
            over,
            total,
            adds: 0,
        };
        ledger.fill(&placed, squares_are);
        ledger
    }

    fn fill(&mut self, placed: &[Placed<Free>], squares: Squares) {
        let mut strips = self.have.on_hand.clone();
        for placed in placed {
            let mut item = placed.item();
            if let Item::Slice { tip, rest, .. } = item {
                let strip = strips.get_mut(&item).filter(|left| **left > 0);
                let held = strip.map(|left| *left -= 1).is_some();
                // In parts of squares a strip may be left over anyway, where any square can be cut for it.
                let made = !self.have.none_of(tip) && !self.have.none_of(rest);
                if held || (squares == Squares::Shared && !self.have.strips_are_counted() && made) {
                    continue;
                }
                item = item.whole();
            }
            let line = self.line(item);
            self.add(line, 1);
        }
    }

    /// The line of an item, new where it has none yet.
    pub fn line(&mut self, item: Item<Family>) -> Line {
        if let Some(&line) = self.lines.get(&item) {
            return line;
        }
        let held = self.have.on_hand.get(&item).copied().unwrap_or(0);
        let most = self.have.most.get(&item).copied();
        let entry = match item {
            Item::Unit { first, second, block, stands }
            | Item::Slice { tip: first, rest: second, block, stands, .. } => Entry {
                count: 0,
                held,
                most,
                one: first,
                other: Some(second),
                block: self.blocks.binary_search(&block).ok(),
                filler: 0.0,
                stands: stands.map(|corner| (self.standing(first, second, block), corner)),
            },
            Item::Filler { fabric, long, short } => {
                let filler = self.have.filler(self.ready, fabric, [long, short]);
                Entry { count: 0, held, most, one: fabric, other: None, block: None, filler, stands: None }
            }
        };
        self.entries.push(entry);
        self.lines.insert(item, self.entries.len() - 1);
        self.entries.len() - 1
    }

    /// The units that are sewn for their corners of two families and one size.
    fn standing(&mut self, first: Family, second: Family, block: u32) -> usize {
        let next = self.corners.len();
        let place = *self.upright.entry((first, second, block)).or_insert(next);
        if place == next {
            let both = [first, second].iter().all(|&family| self.ready.choices[family].upright.is_some());
            let finished = self.ready.vocabulary.grid * block;
            let ways = UprightWays::new(&self.ready.vocabulary, finished, both);
            self.corners.push(Upright { ways, made: [0; 4] });
        }
        place
    }

    /// The pairs of an entry's units with those sewn beside them, where so many of it are made.
    fn upright_pairs(&self, (place, corner): (usize, Corner), made: u32) -> Vec<UprightPairing> {
        let upright = &self.corners[place];
        let mut needed = upright.made;
        needed[corner as usize] = made;
        upright.ways.pairings(needed)
    }

    /// Counts one piece in, or out where `more` is -1.
    pub fn add(&mut self, line: Line, more: i32) {
        let Some(&entry) = self.entries.get(line) else { return };
        self.adds += 1;
        let now = entry.count.saturating_add_signed(more);
        let cells = self.cells(&entry, now) - self.cells(&entry, entry.count);
        self.entries[line].count = now;
        let squares = if cells == 0.0 { Vec::new() } else { self.squares_more(&entry, now) };
        self.over += self.too_many(&entry, now) - self.too_many(&entry, entry.count);
        if let Some((place, corner)) = entry.stands {
            self.corners[place].made[corner as usize] = now.saturating_sub(entry.held);
        }
        if cells == 0.0 {
            return;
        }
        let families = [Some(entry.one), entry.other.filter(|other| *other != entry.one)];
        self.over -= families.iter().flatten().map(|&family| self.over_of(family)).sum::<f64>();
        self.total += cells * if entry.other.is_some() { 2.0 } else { 1.0 };
        self.need[entry.one] += cells;
        self.count_squares(&squares, entry.one);
        if let Some(other) = entry.other {
            self.need[other] += cells;
            self.count_squares(&squares, other);
            if other == entry.one {
                self.alike[other] += cells;
            }
        }
        self.over += families.iter().flatten().map(|&family| self.over_of(family)).sum::<f64>();
    }

    fn cells(&self, entry: &Entry, count: u32) -> f64 {
        let made = count.saturating_sub(entry.held);
        match entry.block {
            Some(_) if entry.stands.is_some() && self.squares_are == Squares::Whole => {
                let grid = self.ready.vocabulary.grid.ticks() as f64;
                let cells = |p: UprightPairing| squared(p.square.cut.ticks() as f64 / grid) * f64::from(p.pairs);
                entry.stands.into_iter().flat_map(|stands| self.upright_pairs(stands, made)).map(cells).sum()
            }
            Some(block) => self.cloth[block].get(made as usize).copied().unwrap_or(f64::MAX),
            None => f64::from(made) * entry.filler,
        }
    }

    /// Cells of the pieces that are more than can be made.
    fn too_many(&self, entry: &Entry, count: u32) -> f64 {
        let most = entry.most.map_or(u32::MAX, |most| most.saturating_add(entry.held));
        if count <= most { 0.0 } else { self.cells(entry, count) - self.cells(entry, most) }.max(0.0)
    }

    /// Squares by side of each of its families for so many pieces, more than for what they were.
    fn squares_more(&self, entry: &Entry, now: u32) -> Vec<f64> {
        let made = |count: u32| count.saturating_sub(entry.held);
        if let Some(stands) = entry.stands.filter(|_| self.squares_are == Squares::Whole) {
            let [now, before] = [now, entry.count].map(|count| self.upright_pairs(stands, made(count)));
            let of = |pairs: &[UprightPairing], side: Length| {
                let pairs = pairs.iter().filter(|pairing| pairing.square.cut == side);
                f64::from(pairs.map(|pairing| pairing.pairs).sum::<u32>())
            };
            return self.have.squares.iter().map(|(side, _)| of(&now, *side) - of(&before, *side)).collect();
        }
        let Some(squares) = entry.block.and_then(|block| self.squares.get(block)) else { return Vec::new() };
        match [now, entry.count].map(|count| squares.get(made(count) as usize)) {
            [Some(now), Some(before)] => now.iter().zip(before).map(|(now, before)| now - before).collect(),
            _ => Vec::new(),
        }
    }

    fn count_squares(&mut self, more: &[f64], family: Family) {
        self.cut[family].iter_mut().zip(more).for_each(|(cut, more)| *cut += more);
    }

    fn over_of(&self, family: Family) -> f64 {
        let limit = &self.limits[family];
        let cloth = (self.need[family] - limit.cloth).max(0.0).max(self.squares_over(family));
        cloth + (self.alike[family] - limit.alike).max(0.0)
    }

    /// Cells of squares more than the family's cloth gives: of each side, and of all where a smaller fits into a larger.
    fn squares_over(&self, family: Family) -> f64 {
        let (mut each, mut all) = (0.0, 0.0);
        let limits = &self.limits[family].squares;
        for ((cells, have), cut) in self.side_cells.iter().zip(limits).zip(&self.cut[family]) {
            each += (cut - have).max(0.0) * cells;
            all += cut * cells;
        }
        match (limits.first(), self.side_cells.first()) {
            (Some(have), Some(cells)) if self.nested => f64::max(each, all - have * cells),
            _ => each,
        }
    }

    /// What leaving one piece out adds to what is over: nothing, or less than nothing.
    pub fn left_out(&mut self, line: Line) -> f64 {
        let before = (self.over, self.total);
        self.add(line, -1);
        let added = self.over - before.0;
        self.add(line, 1);
        (self.over, self.total) = before;
        added
    }

    /// What exchanging one piece for another adds to what is over.
    pub fn exchanged(&mut self, from: Line, to: Line) -> f64 {
        self.tried(from, to).0
    }

    /// What exchanging one piece for another adds to what is over, and to what all families take.
    pub fn tried(&mut self, from: Line, to: Line) -> (f64, f64) {
        let before = (self.over, self.total);
        self.exchange(from, to);
        let added = (self.over - before.0, self.total - before.1);
        self.exchange(to, from);
        (self.over, self.total) = before;
        added
    }

    /// Exchanges one piece for another.
    pub fn exchange(&mut self, from: Line, to: Line) {
        self.add(from, -1);
        self.add(to, 1);
    }

    /// Whether a family has no square large enough for units of a block.
    pub fn never(&self, family: Family, block: u32) -> bool {
        let few = self.blocks.binary_search(&block).ok().and_then(|block| self.squares.get(block)?.get(1));
        let sides = few.into_iter().flatten().zip(&self.have.squares);
        sides.into_iter().any(|(&wanted, (_, have))| have[family].is_some_and(|have| have < wanted))
    }

    /// Cells of the squares of each side that so many units of a block take of one fabric.
    pub fn cells_by_side(&self, block: u32, units: u32) -> impl Iterator<Item = f64> {
        let squares =
            self.blocks.binary_search(&block).ok().and_then(|block| self.squares.get(block)?.get(units as usize));
        squares.into_iter().flatten().zip(&self.side_cells).map(|(count, cells)| count * cells)
    }

    /// Whether a family has less than the scene takes.
    pub fn is_short(&self, family: Family) -> bool {
        self.over_of(family) > NOTHING
    }

    /// Whether one of an item's families is short.
    pub fn touches_short(&self, line: Line) -> bool {
        let entry = &self.entries[line];
        self.too_many(entry, entry.count) > NOTHING
            || self.is_short(entry.one)
            || entry.other.is_some_and(|other| self.is_short(other))
    }

    /// What each family is short of.
    pub fn short(&self) -> Vec<Short> {
        let of = |entry: &Entry, family: Family| entry.one == family || entry.other == Some(family);
        let many = |family: Family| {
            let entries = self.entries.iter().filter(|entry| of(entry, family));
            entries.map(|entry| self.too_many(entry, entry.count)).sum::<f64>()
        };
        let short = |family: Family| Short { family, cells: self.over_of(family) + many(family) };
        self.need.keys().map(short).filter(|short| short.cells > NOTHING).collect()
    }

    /// How many units of two families and a size are sewn for their corners, and the cells of each fabric for one.
    pub fn upright(&self, one: Family, other: Family, block: u32) -> Option<(u32, f64)> {
        let upright = &self.corners[*self.upright.get(&(one.min(other), one.max(other), block))?];
        let units: u32 = upright.made.iter().sum();
        let grid = self.ready.vocabulary.grid.ticks() as f64;
        let cells = |p: UprightPairing| squared(p.square.cut.ticks() as f64 / grid) * f64::from(p.pairs);
        let cells: f64 = upright.ways.pairings(upright.made).into_iter().map(cells).sum();
        (units > 1).then(|| (units, cells / f64::from(units)))
    }

    /// How many pieces of an item there are, and how many of them are on hand.
    pub fn count(&self, item: &Item<Family>) -> (u32, u32) {
        let entry = self.lines.get(item).and_then(|&line| self.entries.get(line));
        entry.map_or((0, 0), |entry| (entry.count, entry.held.min(entry.count)))
    }
}

/// Squares of one fabric, by side, that so many units of a size take.
fn by_side(ready: &Ready, have: &Have, block: u32, units: u32) -> Vec<f64> {
    let vocabulary = &ready.vocabulary;
    let pairings = pairings(vocabulary, vocabulary.grid * block, units);
    let of = |side: Length| pairings.iter().filter(|p| p.square.cut == side).map(|p| f64::from(p.pairs)).sum();
    have.squares.iter().map(|(side, _)| of(*side)).collect()
}

/// The same in parts of squares, where only one side serves.
fn shared_by_side(ready: &Ready, have: &Have, block: u32, units: u32) -> Vec<f64> {
    let eight = by_side(ready, have, block, 8);
    let only = eight.iter().filter(|squares| **squares > 0.0).count() == 1;
    let counted = |blocks: &Vec<u32>| only && blocks.contains(&block);
    eight
        .iter()
        .zip(&have.blocks)
        .map(|(eight, blocks)| if counted(blocks) { f64::from(units) * eight / 8.0 } else { 0.0 })
        .collect()
}

/// Every unit that is not sewn as one of families; what stands in prints of no family is left out.
pub fn by_family(ready: &Ready, bands: &[Band<Draft>]) -> Vec<Placed<Free>> {
    let named = |placed: Placed<Draft>| match placed.unit {
        Draft::Free(unit) => Some(placed.of(unit)),
        Draft::Stands(unit) if unit.state == State::Sewn => None,
        Draft::Stands(unit) => placed.of(unit).of_families(|print| ready.family(print)),
    };
    places(bands).into_iter().filter_map(named).collect()
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;
    use typed_index_collections::TiSlice;

    use super::*;
    use crate::compose::Order;
    use crate::fabric::{Fabric, Rgb};
    use crate::make::make;
    use crate::measure::Ruler;
    use crate::plan::{Column, Piece, Request, Row, Unit};
    use crate::unit::{Cut, Triangle};

    /// Fabrics of a unit: `A` and `B` stand upright, `C` and `D` need not.
    const PAIRS: [(usize, usize); 6] = [(0, 1), (1, 0), (0, 2), (2, 0), (2, 1), (2, 3)];

    fn bands(units: &[(usize, usize)]) -> Vec<Band<Draft>> {
        let unit = |&(corner, pair): &(usize, usize)| {
            let (tip, rest) = PAIRS[pair];
            let upright = tip.min(rest) < 2;
            let corner = Corner::ALL[corner];
            let t = Triangle { block: 8, cut: Cut::Whole, corner, tip: Family(tip), rest: Family(rest), upright };
            Draft::Free(Free { width: 8, piece: Piece::Triangle(t) })
        };
        let width = 8 * units.len() as u32;
        let row = Row { height: 8, units: units.iter().map(unit).collect() };
        vec![Band { height: 8, columns: vec![Column { width, rows: vec![row] }] }]
    }

    proptest! {
        /// What is counted unit by unit is what `make` then cuts and pairs: cloth, and squares of each side.
        #[test]
        fn upright_units_are_counted_as_they_are_made(
            units in prop::collection::vec((0..4_usize, 0..PAIRS.len()), 2..24),
        ) {
            let fabric = |(at, letter): (u8, &str)| Fabric {
                upright: at < 2,
                ..Fabric::new(letter, letter, Rgb([60 * at; 3]))
            };
            let fabrics: Vec<Fabric> = (0..).zip(["A", "B", "C", "D"]).map(fabric).collect();
            let side = Length::INCH * 4i64;
            let request = Request { width: side * units.len() as i64, height: side, ..Request::usual(Ruler::Inch) };
            let order = Order::new(&request, &[], &[], TiSlice::from_ref(&fabrics));
            let ready = Ready::new(&order).unwrap();
            let have = Have::new(&ready, TiSlice::from_ref(&fabrics));
            let all = bands(&units);
            let mut ledger = Ledger::new(&ready, &have, &all[..0], Squares::Whole);
            // The tables of other units are as long as the scene that the ledger begins with.
            let whole = Ledger::new(&ready, &have, &all, Squares::Whole);
            (ledger.cloth, ledger.squares) = (whole.cloth.clone(), whole.squares.clone());
            for placed in by_family(&ready, &all) {
                let line = ledger.line(placed.item());
                ledger.add(line, 1);
                ledger.add(line, -1);
                ledger.add(line, 1);
            }
            let laid = crate::plan::remade(all, |unit, _| match unit {
                Draft::Free(Free { width, piece }) => {
                    let piece = piece.with(|family| Some(ready.families[family][0])).unwrap();
                    Unit { width, piece, state: State::Free }
                }
                Draft::Stands(unit) => unit,
            });
            let plan = ready.plan(&order, laid);
            let grid = request.grid.ticks() as f64;
            for (family, prints) in ready.families.iter_enumerated() {
                let of = |batch: &&crate::cutting::Batch| [batch.first, batch.second].contains(&prints[0]);
                let batches: Vec<_> = make(&plan).batches.into_iter().filter(|batch| of(&batch)).collect();
                let cells = |batch: &crate::cutting::Batch| squared(batch.square.cut.ticks() as f64 / grid);
                let cloth: f64 = batches.iter().map(|batch| cells(batch) * f64::from(batch.pairs)).sum();
                prop_assert!((ledger.need[family] - cloth).abs() < NOTHING);
                prop_assert!((whole.need[family] - cloth).abs() < NOTHING);
                for ((side, _), cut) in have.squares.iter().zip(&ledger.cut[family]) {
                    let cut_so = batches.iter().filter(|batch| batch.square.cut == *side);
                    let pairs: u32 = cut_so.map(|batch| batch.pairs).sum();
                    prop_assert!((cut - f64::from(pairs)).abs() < NOTHING);
                }
            }
        }
    }
}
