//! Prints on patches, by what there is of each: squares for pairs first, then fillers on real sheets.

use std::cmp::Reverse;
use std::collections::BTreeMap;

use super::ledger::Short;
use crate::compose::{Order, Ready};
use crate::fabric::{Oddment, Supply};
use crate::make::layout::Piece as Cut;
use crate::make::{Cloth, PairSquares, cut};
use crate::measure::Length;
use crate::plan::{Band, Item, Piece, Placed, RowEnds, State, Unit, items, places, units_mut};
use crate::prints::{Rules, spread};
use crate::unit::{Square, pairings};

/// Quarters of a square.
const QUARTERS: u32 = 4;
/// Part of a length that its squares may take, before it is laid out.
const LENGTH_SHARE: f64 = 0.9;

/// Units of one pair of families and one size.
type Class = (usize, usize, u32);
/// Fillers of one family and size in cells.
type Size = (usize, u32, u32);

/// One pair of squares to be given its prints.
struct Pair {
    class: Class,
    yields: u32,
    bought: Length,
    /// Quarters of the bought square that it takes of each print.
    quarters: u32,
}

/// What a print has for pairs of squares of one size bought.
#[derive(Clone, Copy, Default)]
struct Stack {
    /// Quarters of squares that are there.
    quarters: u32,
    /// Squares more that its lengths may give.
    cut: u32,
    /// Quarters left of a square that was opened.
    open: u32,
}

impl Stack {
    fn left(&self) -> u32 {
        self.quarters + self.open + self.cut * QUARTERS
    }

    fn whole(&self) -> bool {
        self.quarters >= QUARTERS || self.cut > 0
    }

    /// Takes a whole square or a quarter; `false` where there is none.
    fn take(&mut self, quarters: u32) -> bool {
        if quarters <= self.open {
            self.open -= quarters;
        } else if self.quarters >= QUARTERS {
            self.quarters -= QUARTERS;
            self.open += QUARTERS - quarters;
        } else if self.cut > 0 {
            self.cut -= 1;
            self.open += QUARTERS - quarters;
        } else {
            return false;
        }
        true
    }
}

/// Gives each patch a print, within what there is; bands that name families come back naming prints.
pub fn sewable(ready: &Ready, order: &Order, bands: &mut [Band]) -> Result<(), Vec<Short>> {
    let (prints, short) = Prints::shared_out(ready, order, bands);
    if !short.is_empty() {
        return Err(short);
    }
    prints.lay_all(bands);
    Ok(())
}

/// The same as far as there is enough; what is short is of the first print of its family.
pub fn as_far_as_there_is(ready: &Ready, order: &Order, bands: &mut [Band]) {
    Prints::shared_out(ready, order, bands).0.lay_all(bands);
}

/// What a scene wants, once what is on hand is taken off.
#[derive(Default)]
struct Wanted {
    /// Free units by families.
    classes: BTreeMap<Class, u32>,
    /// Free fillers by family.
    fillers: BTreeMap<Size, u32>,
    /// What stands, by print.
    standing: BTreeMap<Class, u32>,
}

struct Prints<'a> {
    ready: &'a Ready,
    order: &'a Order<'a>,
    /// What is left on hand, by print.
    hand: BTreeMap<Item, u32>,
    stacks: BTreeMap<(usize, Length), Stack>,
    /// Squares of each print that pairs take, by side as bought, whole or quartered.
    given: BTreeMap<(usize, Length, bool), u32>,
    /// Prints of each class's pairs, with the units that each has left.
    laid: BTreeMap<Class, Vec<(u32, usize, usize)>>,
    /// Strips on hand that slices of these families are, by their prints.
    strips: BTreeMap<Item, Vec<Item>>,
    /// Prints that fillers of a family and size are cut from.
    cut: BTreeMap<Size, Vec<usize>>,
    /// Fillers that stand, by print and size.
    standing: BTreeMap<Size, u32>,
}

impl<'a> Prints<'a> {
    /// Shares the prints out among the pairs and fillers that the bands want; what is short.
    fn shared_out(ready: &'a Ready, order: &'a Order<'a>, bands: &[Band]) -> (Self, Vec<Short>) {
        let mut prints = Self {
            ready,
            order,
            hand: items(order.hand, order.request),
            stacks: BTreeMap::new(),
            given: BTreeMap::new(),
            laid: BTreeMap::new(),
            strips: BTreeMap::new(),
            cut: BTreeMap::new(),
            standing: BTreeMap::new(),
        };
        prints.stack_up();
        let wanted = prints.wanted(bands);
        let pairs = prints.stand(&wanted);
        let mut short = prints.pair_up(pairs);
        let fillers = wanted.fillers;
        short.extend((0..ready.families.len()).filter_map(|family| prints.lay_out_family(family, &fillers)));
        (prints, short)
    }

    /// Lays the prints on the free units, those that touch differing where they can.
    fn lay_all(mut self, bands: &mut [Band]) {
        for row in bands.iter_mut().flat_map(|b| &mut b.columns).flat_map(|c| &mut c.rows) {
            let height = row.height;
            row.units.iter_mut().filter(|unit| unit.state == State::Free).for_each(|unit| self.lay(unit, height));
        }
        let (ready, order) = (self.ready, self.order);
        let counted: Vec<bool> = order.fabrics.iter().map(|fabric| fabric.supply.is_some()).collect();
        let spare_ends = order.request.row_ends == RowEnds::Spare;
        let rules = Rules { families: &ready.families, vocabulary: &ready.vocabulary, counted: &counted, spare_ends };
        let served = self.serve(bands);
        spread(bands, &rules);
        // What is on hand has its prints; only for the exchanges it stands.
        let units = units_mut(bands).zip(served).filter(|(_, served)| *served);
        units.for_each(|(unit, _)| unit.state = State::Free);
    }

    fn supply(&self, print: usize) -> Option<&'a Supply> {
        self.order.fabrics[print].supply.as_ref()
    }

    /// Takes what is on hand first: what stands by its prints, then what is free by its families.
    fn wanted(&mut self, bands: &[Band]) -> Wanted {
        let mut wanted = Wanted::default();
        let placed = places(bands);
        let (free, stands): (Vec<&Placed>, Vec<&Placed>) =
            placed.iter().partition(|placed| placed.unit.state == State::Free);
        for placed in stands {
            let item = placed.item();
            match (self.hand.get_mut(&item).filter(|left| **left > 0), item) {
                (Some(left), _) => *left -= 1,
                (None, Item::Filler { fabric, .. }) => {
                    *self.standing.entry((fabric, placed.unit.width, placed.height)).or_default() += 1;
                }
                (None, Item::Unit { first, second, block } | Item::Slice { tip: first, rest: second, block, .. }) => {
                    *wanted.standing.entry((first.min(second), first.max(second), block)).or_default() += 1;
                }
            }
        }
        for placed in free {
            self.want(placed, &mut wanted);
        }
        wanted
    }

    fn want(&mut self, placed: &Placed, wanted: &mut Wanted) {
        let item = placed.item();
        let held = if matches!(item, Item::Unit { .. }) { None } else { self.take_from_hand(item) };
        match (item, held) {
            (Item::Filler { fabric, .. }, held) => {
                let size = (fabric, placed.unit.width, placed.height);
                match held {
                    Some(Item::Filler { fabric, .. }) => self.cut.entry(size).or_default().push(fabric),
                    _ => *wanted.fillers.entry(size).or_default() += 1,
                }
            }
            (Item::Slice { .. }, Some(strip)) => self.strips.entry(item).or_default().push(strip),
            (Item::Slice { tip, rest, block, .. }, _) => self.want_unit(Item::unit(tip, rest, block), wanted),
            (Item::Unit { .. }, _) => self.want_unit(item, wanted),
        }
    }

    /// A unit on hand, or one of the pairs to be sewn.
    fn want_unit(&mut self, item: Item, wanted: &mut Wanted) {
        let Item::Unit { first, second, block } = item else { return };
        match self.take_from_hand(item) {
            Some(Item::Unit { first: one, second: other, .. }) => {
                let (one, other) = self.in_order(first, (one, other));
                self.laid.entry((first, second, block)).or_default().push((1, one, other));
            }
            _ => *wanted.classes.entry((first, second, block)).or_default() += 1,
        }
    }

    /// Marks what may be taken from what is on hand as kept; whether each unit is.
    fn serve(&self, bands: &mut [Band]) -> Vec<bool> {
        let there = items(self.order.hand, self.order.request);
        let on_hand = |placed: Placed| {
            let unit = match placed.item() {
                Item::Slice { tip, rest, block, .. } => Item::unit(tip, rest, block),
                item => item,
            };
            placed.unit.state == State::Free && (there.contains_key(&placed.item()) || there.contains_key(&unit))
        };
        let served: Vec<bool> = places(bands).into_iter().map(on_hand).collect();
        units_mut(bands).zip(&served).filter(|(_, served)| **served).for_each(|(unit, _)| unit.state = State::Kept);
        served
    }

    /// The print of the first family, then the other.
    fn in_order(&self, first: usize, (one, other): (usize, usize)) -> (usize, usize) {
        if self.ready.families[first].contains(&one) { (one, other) } else { (other, one) }
    }

    /// One piece on hand whose prints are of these families: of the kind of which most are left.
    fn take_from_hand(&mut self, item: Item) -> Option<Item> {
        let fits =
            |(other, left): &(&Item, &u32)| **left > 0 && other.with(|print| self.ready.family(print)) == Some(item);
        let (found, _) = self.hand.iter().filter(fits).max_by_key(|(other, left)| (**left, Reverse(**other)))?;
        let found = *found;
        *self.hand.get_mut(&found)? -= 1;
        Some(found)
    }

    /// Gives what stands its squares, in its own prints; the pairs that the rest wants.
    fn stand(&mut self, wanted: &Wanted) -> Vec<Pair> {
        let mut classes = wanted.classes.clone();
        for (&(one, other, block), &units) in &wanted.standing {
            let mut spare = 0;
            for pair in self.pairs((one, other, block), units) {
                for print in [one, other] {
                    // What stands stands, even where the stock says otherwise.
                    let stack = self.stacks.get_mut(&(print, pair.bought));
                    let taken = stack.is_some_and(|stack| stack.take(pair.quarters));
                    let given = self.given.entry((print, pair.bought, pair.quarters < QUARTERS)).or_default();
                    *given += u32::from(taken);
                }
                spare += pair.yields;
            }
            let (Some(first), Some(second)) = (self.ready.family(one), self.ready.family(other)) else { continue };
            let class = (first.min(second), first.max(second), block);
            let wants = classes.get_mut(&class);
            let serves = wants.map_or(0, |wants| {
                let serves = (spare - units).min(*wants);
                *wants -= serves;
                serves
            });
            let (one, other) = self.in_order(class.0, (one, other));
            self.laid.entry(class).or_default().push((serves, one, other));
        }
        let mut pairs: Vec<Pair> = classes.into_iter().flat_map(|(class, units)| self.pairs(class, units)).collect();
        // Whole squares before quarters, so that squares stay whole; then pairs of one family, which are the harder.
        pairs.sort_by_key(|pair| (Reverse(pair.quarters), pair.class.0 != pair.class.1));
        pairs
    }

    /// The pairs that so many units of one size take.
    fn pairs(&self, class: Class, units: u32) -> Vec<Pair> {
        let vocabulary = &self.ready.vocabulary;
        let pairings = pairings(vocabulary, vocabulary.grid * class.2, units);
        let pairs = pairings.into_iter().flat_map(|pairing| {
            let quarters = if pairing.square.quartered { 1 } else { QUARTERS };
            let (yields, bought) = (pairing.at_a_time.yields(), pairing.square.bought());
            (0..pairing.pairs).map(move |_| Pair { class, yields, bought, quarters })
        });
        pairs.collect()
    }

    /// What each print has of each size that may be paired.
    fn stack_up(&mut self) {
        let mut sizes: Vec<Length> = self.ready.vocabulary.blocks.iter().map(|b| b.square.bought()).collect();
        sizes.sort_unstable();
        sizes.dedup();
        for (&print, size) in
            self.ready.families.iter().flatten().flat_map(|p| sizes.iter().map(move |&size| (p, size)))
        {
            let stack = match self.supply(print) {
                None => Stack { quarters: u32::MAX / 4, ..Stack::default() },
                Some(supply) => {
                    let there = supply
                        .sizes()
                        .iter()
                        .find(|(other, _)| *other == size)
                        .map_or(0, |(_, count)| count * QUARTERS);
                    let cut = supply.pieces().iter().map(|piece| squares_of(piece, size)).sum();
                    Stack { quarters: there, cut, ..Stack::default() }
                }
            };
            self.stacks.insert((print, size), stack);
        }
    }

    /// Gives every pair its prints: those with most left.
    fn pair_up(&mut self, pairs: Vec<Pair>) -> Vec<Short> {
        let mut short: BTreeMap<usize, f64> = BTreeMap::new();
        let cells = |pair: &Pair, ready: &Ready| {
            let side = pair.bought.ticks() as f64 / ready.vocabulary.grid.ticks() as f64;
            side * side * f64::from(pair.quarters) / f64::from(QUARTERS)
        };
        for pair in &pairs {
            let one = self.take(pair.class.0, pair, None);
            let other = self.take(pair.class.1, pair, one.filter(|_| pair.class.0 == pair.class.1));
            for (found, family) in [(one, pair.class.0), (other, pair.class.1)] {
                if found.is_none() {
                    *short.entry(family).or_default() += cells(pair, self.ready);
                }
            }
            if let (Some(one), Some(other)) = (one, other) {
                self.laid.entry(pair.class).or_default().push((pair.yields, one, other));
            }
        }
        short.into_iter().map(|(family, cells)| Short { family, cells }).collect()
    }

    fn take(&mut self, family: usize, pair: &Pair, but: Option<usize>) -> Option<usize> {
        let stack = |print: &usize| self.stacks.get(&(*print, pair.bought)).copied().unwrap_or_default();
        let fits = |print: &&usize| {
            let stack = stack(print);
            but != Some(**print) && (stack.whole() || stack.open >= pair.quarters)
        };
        // An opened square before a whole one, then the print with most left.
        let rank = |print: &&usize| {
            let stack = stack(print);
            (stack.open >= pair.quarters, stack.left(), Reverse(**print))
        };
        let print = *self.ready.families[family].iter().filter(fits).max_by_key(rank)?;
        let taken = self.stacks.get_mut(&(print, pair.bought))?.take(pair.quarters);
        *self.given.entry((print, pair.bought, pair.quarters < QUARTERS)).or_default() += u32::from(taken);
        taken.then_some(print)
    }

    /// Lays a family's fillers out, print after print; what found no room.
    fn lay_out_family(&mut self, family: usize, fillers: &BTreeMap<Size, u32>) -> Option<Short> {
        let mut left: Vec<(Size, u32)> =
            fillers.iter().filter(|(size, _)| size.0 == family).map(|(&size, &count)| (size, count)).collect();
        let mut short = 0.0;
        for &print in &self.ready.families[family] {
            if self.supply(print).is_none() {
                for (size, count) in &mut left {
                    self.cut
                        .entry(*size)
                        .or_default()
                        .extend(std::iter::repeat_n(print, std::mem::take(count) as usize));
                }
                continue;
            }
            short += self.lay_out_print(print, &mut left);
        }
        let cell = self.order.request.grid.ticks() as f64;
        let cells = |(size, count): &(Size, u32)| area(&self.filler(*size, *count)) / (cell * cell);
        let cells = short + left.iter().filter(|(_, count)| *count > 0).map(cells).sum::<f64>();
        (cells > 0.0).then_some(Short { family, cells })
    }

    /// Cuts the print's squares, what stands, and as many fillers as its cloth holds, as `make` will; cells short.
    fn lay_out_print(&mut self, print: usize, left: &mut [(Size, u32)]) -> f64 {
        let fabric = &self.order.fabrics[print];
        let wanted = self.given.iter().filter(|((given, ..), _)| *given == print);
        let squares = wanted.map(|((_, side, quartered), &count)| {
            let cut = if *quartered { *side / 2 } else { *side };
            PairSquares { id: String::new(), square: Square { cut, quartered: *quartered }, count }
        });
        let squares: Vec<PairSquares> = squares.collect();
        let standing = self.standing.iter().filter(|(size, _)| size.0 == print);
        let standing: Vec<(Size, u32)> = standing.map(|(size, count)| (*size, *count)).collect();
        let fillers = standing.iter().chain(left.iter());
        let fillers: Vec<Cut> =
            fillers.map(|(size, count)| Cut { turn: !fabric.directional, ..self.filler(*size, *count) }).collect();
        let laid = cut(&Cloth::of(fabric, self.order.request), &squares, &fillers);
        let mut unplaced = vec![0; laid.pieces.len()];
        laid.unplaced.iter().for_each(|piece| unplaced[piece.piece] += piece.count);
        let due = squares.len() + standing.len();
        for ((size, count), unplaced) in left.iter_mut().zip(&unplaced[due..]) {
            let placed = *count - unplaced;
            *count = *unplaced;
            self.cut.entry(*size).or_default().extend(std::iter::repeat_n(print, placed as usize));
        }
        let cell = self.order.request.grid.ticks() as f64;
        let short = laid.pieces.iter().zip(&unplaced).take(due);
        short.map(|(piece, &count)| area(&Cut { count, ..piece.clone() })).sum::<f64>() / (cell * cell)
    }

    /// A filler as it is cut; a spare row end may fall to any.
    fn filler(&self, (_, width, height): Size, count: u32) -> Cut {
        let request = self.order.request;
        let cut = |cells: u32| request.grid * cells + request.seam.both();
        let width = cut(width) + request.row_ends.extra(request.ruler);
        Cut { id: String::new(), width, height: cut(height), count, turn: true }
    }

    /// Gives one unit its prints: pairs are used up one after the other, which spreads their units along the rows.
    fn lay(&mut self, unit: &mut Unit, height: u32) {
        match &mut unit.piece {
            Piece::Filler(family) => {
                let print = self.cut.get_mut(&(*family, unit.width, height)).and_then(Vec::pop);
                *family = print.unwrap_or(self.ready.families[*family][0]);
            }
            Piece::Triangle(t) => {
                let (first, second) = t.pair();
                let strip = Item::of(Piece::Triangle(*t), unit.width, height);
                if let Some(Item::Slice { tip, rest, .. }) = self.strips.get_mut(&strip).and_then(Vec::pop) {
                    (t.tip, t.rest) = (tip, rest);
                    return;
                }
                let pairs = self.laid.entry((first, second, t.block)).or_default();
                let pair = pairs.iter_mut().find(|(left, ..)| *left > 0);
                let families = &self.ready.families;
                let bare = || (families[first][0], families[second][usize::from(first == second)]);
                let (one, other) = pair.map_or_else(bare, |(left, one, other)| {
                    *left -= 1;
                    (*one, *other)
                });
                t.set_pair(one, other);
            }
        }
    }
}

fn area(piece: &Cut) -> f64 {
    piece.width.ticks() as f64 * piece.height.ticks() as f64 * f64::from(piece.count)
}

/// Squares that a piece of cloth gives at most, a part of it left for what else is cut.
fn squares_of(piece: &Oddment, size: Length) -> u32 {
    let across = piece.width.floor_div(size) as f64;
    let strips = (piece.height.ticks() as f64 * LENGTH_SHARE / size.ticks() as f64).floor();
    (across * strips).clamp(0.0, 10_000.0) as u32
}
