//! Prints on patches, by what there is of each: squares for pairs first, then fillers on real sheets.

use std::cmp::Reverse;
use std::collections::BTreeMap;

use super::Short;
use crate::compose::{Order, Ready};
use crate::fabric::{Oddment, Supply};
use crate::make::layout::{Piece as Cut, Sheet, lay_out};
use crate::measure::Length;
use crate::plan::{Band, Piece, RowEnds, State, Unit, places};
use crate::prints::{Rules, spread};
use crate::unit::pairings;

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
    /// Squares that were taken of those.
    taken: u32,
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
            self.taken += 1;
            self.open += QUARTERS - quarters;
        } else {
            return false;
        }
        true
    }
}

/// Gives each patch a print, within what there is; bands that name families come back naming prints.
pub fn sewable(ready: &Ready, order: &Order, bands: &mut [Band]) -> Result<(), Vec<Short>> {
    let mut prints = Prints { ready, order, stacks: BTreeMap::new(), laid: BTreeMap::new(), cut: BTreeMap::new() };
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
    let counted: Vec<bool> = order.fabrics.iter().map(|fabric| fabric.supply.is_some()).collect();
    let spare_ends = order.request.row_ends == RowEnds::Spare;
    spread(bands, &Rules { families: &ready.families, vocabulary: &ready.vocabulary, counted: &counted, spare_ends });
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
                    let cut = lengths(supply).iter().map(|sheet| squares_of(sheet, size)).sum();
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
        self.stacks.get_mut(&(print, pair.bought))?.take(pair.quarters).then_some(print)
    }

    /// Lays a family's fillers out, print after print; what found no room.
    fn lay_out_family(&mut self, family: usize, fillers: &BTreeMap<Size, u32>) -> Option<Short> {
        let mut left: Vec<(Size, u32)> =
            fillers.iter().filter(|(size, _)| size.0 == family).map(|(&size, &count)| (size, count)).collect();
        let mut short = 0.0;
        for &print in &self.ready.families[family] {
            let Some(supply) = self.supply(print) else {
                for (size, count) in &mut left {
                    self.cut
                        .entry(*size)
                        .or_default()
                        .extend(std::iter::repeat_n(print, std::mem::take(count) as usize));
                }
                continue;
            };
            short += self.lay_out_print(print, supply, &mut left);
        }
        let cell = self.order.request.grid.ticks() as f64;
        let cells = |(size, count): &(Size, u32)| area(&self.filler(*size, *count)) / (cell * cell);
        let cells = short + left.iter().filter(|(_, count)| *count > 0).map(cells).sum::<f64>();
        (cells > 0.0).then_some(Short { family, cells })
    }

    /// Squares that are cut from the print's lengths, then as many fillers as its sheets hold; cells of squares short.
    fn lay_out_print(&mut self, print: usize, supply: &Supply, left: &mut [(Size, u32)]) -> f64 {
        let mut sheets = lengths(supply);
        let mut squares: Vec<Cut> = Vec::new();
        for (size, count) in supply.sizes() {
            let whole = self.stacks.get(&(print, size)).map_or(count, |stack| stack.quarters / QUARTERS);
            if whole > 0 {
                sheets.push(sheet(size, size, whole));
            }
        }
        for ((_, size), stack) in self.stacks.iter().filter(|((p, _), stack)| *p == print && stack.taken > 0) {
            squares.push(Cut { id: String::new(), width: *size, height: *size, count: stack.taken, turn: true });
        }
        let wanted: Vec<Size> = left.iter().filter(|(_, count)| *count > 0).map(|(size, _)| *size).collect();
        let fillers = left.iter().filter(|(_, count)| *count > 0).map(|(size, count)| self.filler(*size, *count));
        let pieces: Vec<Cut> = squares.iter().cloned().chain(fillers).collect();
        let unplaced = |pieces: &[Cut]| -> Option<Vec<u32>> {
            let layout = lay_out(pieces, &sheets).ok()?;
            let mut unplaced = vec![0; pieces.len()];
            layout.unplaced.iter().for_each(|piece| unplaced[piece.piece] += piece.count);
            Some(unplaced)
        };
        let mixed = unplaced(&pieces).filter(|unplaced| unplaced[..squares.len()].iter().all(|count| *count == 0));
        let Some(mixed) = mixed else {
            // Squares come first: where they leave too little, the print gives no filler.
            let alone = unplaced(&squares).unwrap_or_else(|| squares.iter().map(|piece| piece.count).collect());
            let cell = self.order.request.grid.ticks() as f64;
            let cells = squares.iter().zip(alone).map(|(piece, count)| area(&Cut { count, ..piece.clone() }));
            return cells.sum::<f64>() / (cell * cell);
        };
        for (size, unplaced) in wanted.iter().zip(&mixed[squares.len()..]) {
            let Some((_, count)) = left.iter_mut().find(|(other, _)| other == size) else { continue };
            let placed = *count - unplaced;
            *count = *unplaced;
            self.cut.entry(*size).or_default().extend(std::iter::repeat_n(print, placed as usize));
        }
        0.0
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

/// Squares that a length gives at most, a part of it left for what else is cut.
fn squares_of(sheet: &Sheet, size: Length) -> u32 {
    let down = sheet.height.unwrap_or(size);
    let across = sheet.width.floor_div(size) as f64;
    let strips = (down.ticks() as f64 * LENGTH_SHARE / size.ticks() as f64).floor();
    (across * strips).clamp(0.0, 10_000.0) as u32
}

/// All cloth that is not squares, as sheets.
fn lengths(supply: &Supply) -> Vec<Sheet> {
    let sheet = |piece: Oddment| sheet(piece.width, piece.height, piece.count);
    supply.pieces().into_iter().map(sheet).collect()
}

fn sheet(width: Length, height: Length, count: u32) -> Sheet {
    Sheet { id: String::new(), width, height: Some(height), count }
}
