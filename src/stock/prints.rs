//! Prints on patches, by what there is of each: squares for pairs first, then fillers on real sheets.

use std::cmp::Reverse;
use std::collections::BTreeMap;

use super::Short;
use crate::compose::{Order, Ready};
use crate::fabric::{Oddment, Supply};
use crate::make::layout::Piece as Cut;
use crate::make::{Cloth, PairSquares, cut};
use crate::measure::Length;
use crate::plan::{Band, Piece, State, Unit, places};
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
    let mut prints = Prints {
        ready,
        order,
        stacks: BTreeMap::new(),
        given: BTreeMap::new(),
        laid: BTreeMap::new(),
        cut: BTreeMap::new(),
    };
    prints.stack_up();
    let (pairs, fillers) = wanted(ready, bands);
    let mut short = prints.pair_up(pairs);
    short.extend((0..ready.families.len()).filter_map(|family| prints.lay_out_family(family, &fillers)));
    if !short.is_empty() {
        return Err(short);
    }
    for row in bands.iter_mut().flat_map(|b| &mut b.columns).flat_map(|c| &mut c.rows) {
        let height = row.height;
        row.units.iter_mut().filter(|unit| unit.state == State::Free).for_each(|unit| prints.lay(unit, height));
    }
    Ok(())
}

/// The pairs and the fillers that a scene wants.
fn wanted(ready: &Ready, bands: &[Band]) -> (Vec<Pair>, BTreeMap<Size, u32>) {
    let mut classes: BTreeMap<Class, u32> = BTreeMap::new();
    let mut fillers: BTreeMap<Size, u32> = BTreeMap::new();
    for placed in places(bands).iter().filter(|placed| placed.unit.state == State::Free) {
        match placed.unit.piece {
            Piece::Filler(family) => *fillers.entry((family, placed.unit.width, placed.height)).or_default() += 1,
            // A slice may find its strip among the trimmed units, or not: it is counted.
            Piece::Triangle(t) => *classes.entry((t.pair().0, t.pair().1, t.block)).or_default() += 1,
        }
    }
    let mut pairs: Vec<Pair> = Vec::new();
    for (class, units) in classes {
        for pairing in pairings(&ready.vocabulary, ready.vocabulary.grid * class.2, units) {
            let quarters = if pairing.square.quartered { 1 } else { QUARTERS };
            let pair = || Pair { class, yields: pairing.at_a_time.yields(), bought: pairing.square.bought(), quarters };
            pairs.extend((0..pairing.pairs).map(|_| pair()));
        }
    }
    // Whole squares before quarters, so that squares stay whole; then pairs of one family, which are the harder.
    pairs.sort_by_key(|pair| (Reverse(pair.quarters), pair.class.0 != pair.class.1));
    (pairs, fillers)
}

struct Prints<'a> {
    ready: &'a Ready,
    order: &'a Order<'a>,
    stacks: BTreeMap<(usize, Length), Stack>,
    /// Squares of each print that pairs take, by side as bought, whole or quartered.
    given: BTreeMap<(usize, Length, bool), u32>,
    /// Prints of each class's pairs, with the units that each has left.
    laid: BTreeMap<Class, Vec<(u32, usize, usize)>>,
    /// Prints that fillers of a family and size are cut from.
    cut: BTreeMap<Size, Vec<usize>>,
}

impl<'a> Prints<'a> {
    fn supply(&self, print: usize) -> Option<&'a Supply> {
        self.order.fabrics[print].supply.as_ref()
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

    /// Cuts the print's squares and as many fillers as its cloth holds, as `make` will; cells of squares short.
    fn lay_out_print(&mut self, print: usize, left: &mut [(Size, u32)]) -> f64 {
        let fabric = &self.order.fabrics[print];
        let wanted = self.given.iter().filter(|((given, ..), _)| *given == print);
        let squares = wanted.map(|((_, side, quartered), &count)| {
            let cut = if *quartered { *side / 2 } else { *side };
            PairSquares { id: String::new(), square: Square { cut, quartered: *quartered }, count }
        });
        let squares: Vec<PairSquares> = squares.collect();
        let fillers: Vec<Cut> =
            left.iter().map(|(size, count)| Cut { turn: !fabric.directional, ..self.filler(*size, *count) }).collect();
        let laid = cut(&Cloth::of(fabric, self.order.request), &squares, &fillers);
        let mut unplaced = vec![0; laid.pieces.len()];
        laid.unplaced.iter().for_each(|piece| unplaced[piece.piece] += piece.count);
        for ((size, count), unplaced) in left.iter_mut().zip(&unplaced[squares.len()..]) {
            let placed = *count - unplaced;
            *count = *unplaced;
            self.cut.entry(*size).or_default().extend(std::iter::repeat_n(print, placed as usize));
        }
        let cell = self.order.request.grid.ticks() as f64;
        let short = laid.pieces.iter().zip(&unplaced).take(squares.len());
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
                let pairs = self.laid.entry((first, second, t.block)).or_default();
                let pair = pairs.iter_mut().find(|(left, ..)| *left > 0);
                let families = &self.ready.families;
                let (one, other) = pair.map_or((families[first][0], families[second][0]), |(left, one, other)| {
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
