//! Prints on patches, by what there is of each: squares for pairs first, then fillers on real sheets.

use std::collections::BTreeMap;

use super::Short;
use crate::compose::{Order, Ready};
use crate::fabric::Supply;
use crate::make::layout::{Piece as Cut, Sheet, lay_out};
use crate::measure::Length;
use crate::plan::{Band, Piece, State, Unit};
use crate::unit::{Cut as UnitCut, Square};

/// Whether prints and sheets suffice.
pub enum Sewable {
    /// They do; the bands name prints.
    Yes,
    /// Families that are short of sheets.
    Short(Vec<Short>),
}

/// Squares of one print and size that may still be paired.
type Squares = BTreeMap<(usize, Length), u32>;
/// Units of one pair of families and one size.
type Class = (usize, usize, u32);

/// Gives each patch a print, within what there is; bands that name families come back naming prints.
pub fn sewable(ready: &Ready, order: &Order, bands: &mut [Band]) -> Sewable {
    let mut prints = Prints::new(ready, order, bands);
    let short: Vec<Short> = (0..ready.families.len()).filter_map(|family| prints.lay_out_family(family)).collect();
    if !short.is_empty() {
        return Sewable::Short(short);
    }
    let units = bands.iter_mut().flat_map(|b| &mut b.columns).flat_map(|c| &mut c.rows);
    for row in units {
        let height = row.height;
        for unit in row.units.iter_mut().filter(|unit| unit.state == State::Free) {
            prints.lay(unit, height);
        }
    }
    Sewable::Yes
}

struct Prints<'a> {
    ready: &'a Ready,
    order: &'a Order<'a>,
    /// Squares of each family and size that pairs take.
    paired: BTreeMap<(usize, Length), u32>,
    /// Fillers of each family: sizes in cells and how many.
    fillers: BTreeMap<(usize, u32, u32), u32>,
    squares: Squares,
    /// Prints that fillers of a family and size are cut from.
    cut: BTreeMap<(usize, u32, u32), Vec<usize>>,
    /// What is left of the pair at hand, by class: units, and its two prints.
    pairs: BTreeMap<Class, (u32, usize, usize)>,
}

impl<'a> Prints<'a> {
    fn new(ready: &'a Ready, order: &'a Order<'a>, bands: &[Band]) -> Self {
        let mut classes: BTreeMap<Class, u32> = BTreeMap::new();
        let mut fillers = BTreeMap::new();
        for placed in crate::plan::places(bands).iter().filter(|placed| placed.unit.state == State::Free) {
            match placed.unit.piece {
                Piece::Filler(family) => {
                    *fillers.entry((family, placed.unit.width, placed.height)).or_default() += 1;
                }
                Piece::Triangle(t) if t.cut != UnitCut::Slice => {
                    let (first, second) = t.pair();
                    *classes.entry((first, second, t.block)).or_default() += 1;
                }
                Piece::Triangle(_) => {}
            }
        }
        let mut paired = BTreeMap::new();
        for (&(first, second, block), &units) in &classes {
            let (square, yields) = source(ready, block);
            let pairs = units.div_ceil(yields);
            *paired.entry((first, square.bought())).or_default() += pairs;
            *paired.entry((second, square.bought())).or_default() += pairs;
        }
        let squares = BTreeMap::new();
        Self { ready, order, paired, fillers, squares, cut: BTreeMap::new(), pairs: BTreeMap::new() }
    }

    fn supply(&self, print: usize) -> Option<&'a Supply> {
        self.order.fabrics[print].supply.as_ref()
    }

    /// Shares the family's squares and sheets out; what is short of them.
    fn lay_out_family(&mut self, family: usize) -> Option<Short> {
        let prints = &self.ready.families[family];
        let free = prints.iter().find(|&&print| self.supply(print).is_none());
        if let Some(&print) = free {
            let sizes: Vec<Length> = self.paired.keys().filter(|(f, _)| *f == family).map(|(_, size)| *size).collect();
            sizes.into_iter().for_each(|size| {
                self.squares.extend(prints.iter().map(|&print| ((print, size), u32::MAX / 2)));
            });
            let keys: Vec<_> = self.fillers.keys().filter(|key| key.0 == family).copied().collect();
            self.cut.extend(keys.into_iter().map(|key| (key, vec![print])));
            return None;
        }
        let mut sheets: Vec<(usize, Sheet)> = Vec::new();
        let mut pieces: Vec<Cut> = Vec::new();
        let mut held: Squares = BTreeMap::new();
        for &print in prints {
            let Some(supply) = self.supply(print) else { continue };
            supply.squares.iter().for_each(|s| *held.entry((print, s.size)).or_default() += s.count);
            sheets.extend(lengths(supply).into_iter().map(|sheet| (print, sheet)));
        }
        for ((_, size), needed) in self.paired.iter().filter(|((f, _), _)| *f == family) {
            let missing = reserve(&mut held, &mut self.squares, *size, *needed);
            if missing > 0 {
                pieces.push(Cut { id: "square".into(), width: *size, height: *size, count: missing, turn: true });
            }
        }
        // Squares that no pair takes are cut up for fillers, after the lengths.
        sheets.extend(held.iter().filter(|(_, count)| **count > 0).map(|(&(print, size), &count)| {
            (print, Sheet { id: String::new(), width: size, height: Some(size), count })
        }));
        let both = self.order.request.seam.both();
        let grid = self.order.request.grid;
        let mut keys = Vec::new();
        for (&(_, width, height), &count) in self.fillers.iter().filter(|(key, _)| key.0 == family) {
            let cut = |cells: u32| grid * cells + both;
            let extra = self.order.request.row_ends.extra(self.order.request.ruler);
            pieces.push(Cut { id: String::new(), width: cut(width) + extra, height: cut(height), count, turn: true });
            keys.push((family, width, height));
        }
        self.place(family, &pieces, &sheets, &keys)
    }

    fn place(
        &mut self,
        family: usize,
        pieces: &[Cut],
        sheets: &[(usize, Sheet)],
        keys: &[(usize, u32, u32)],
    ) -> Option<Short> {
        let first_filler = pieces.len() - keys.len();
        let cloth: Vec<Sheet> = sheets.iter().map(|(_, sheet)| sheet.clone()).collect();
        let cell = self.order.request.grid.ticks() as f64;
        let size = |piece: &Cut, count: u32| {
            piece.width.ticks() as f64 * piece.height.ticks() as f64 * f64::from(count) / (cell * cell)
        };
        let Ok(layout) = lay_out(pieces, &cloth) else {
            return Some(Short { family, cells: pieces.iter().map(|piece| size(piece, piece.count)).sum() });
        };
        let short: f64 = layout.unplaced.iter().map(|left| size(&pieces[left.piece], left.count)).sum();
        if short > 0.0 {
            return Some(Short { family, cells: short });
        }
        for sheet in &layout.sheets {
            let print = sheets[sheet.sheet].0;
            for cut in sheet.strips.iter().flat_map(|strip| &strip.cuts) {
                match cut.piece.checked_sub(first_filler) {
                    Some(filler) => self.cut.entry(keys[filler]).or_default().push(print),
                    None => *self.squares.entry((print, pieces[cut.piece].width)).or_default() += 1,
                }
            }
        }
        None
    }

    /// Gives one unit its prints.
    fn lay(&mut self, unit: &mut Unit, height: u32) {
        match &mut unit.piece {
            Piece::Filler(family) => {
                let prints = self.cut.entry((*family, unit.width, height)).or_default();
                let print = if prints.len() > 1 { prints.pop() } else { prints.last().copied() };
                *family = print.unwrap_or(self.ready.families[*family][0]);
            }
            Piece::Triangle(t) => {
                let (first, second) = t.pair();
                let slice = t.cut == UnitCut::Slice;
                let (one, other) = self.pair((first, second, t.block), slice);
                (t.tip, t.rest) = if t.tip == first { (one, other) } else { (other, one) };
            }
        }
    }

    /// The prints of the pair at hand, or of a new one; a slice takes those of a pair and none of its units.
    fn pair(&mut self, class: Class, slice: bool) -> (usize, usize) {
        let held = self.pairs.get(&class).copied();
        if let Some((left, one, other)) = held.filter(|(left, ..)| *left > 0 || slice) {
            self.pairs.insert(class, (left.saturating_sub(u32::from(!slice)), one, other));
            return (one, other);
        }
        let (square, yields) = source(self.ready, class.2);
        let one = self.take(class.0, square.bought(), None, slice);
        let other = self.take(class.1, square.bought(), (class.0 == class.1).then_some(one), slice);
        self.pairs.insert(class, (if slice { 0 } else { yields - 1 }, one, other));
        (one, other)
    }

    /// The print of the family with most squares left, another than `but` where it can be.
    fn take(&mut self, family: usize, size: Length, but: Option<usize>, slice: bool) -> usize {
        let prints = &self.ready.families[family];
        let left = |print: &usize| self.squares.get(&(*print, size)).copied().unwrap_or(0);
        let others = prints.iter().filter(|print| but != Some(**print));
        let most = others.max_by_key(|print| (left(print), std::cmp::Reverse(**print)));
        let print = most.copied().unwrap_or(prints[0]);
        if !slice && let Some(count) = self.squares.get_mut(&(print, size)) {
            *count = count.saturating_sub(1);
        }
        print
    }
}

/// The square that gives the size, and the units that a pair of it gives.
fn source(ready: &Ready, block: u32) -> (Square, u32) {
    let vocabulary = &ready.vocabulary;
    let found = vocabulary.blocks.iter().find(|b| vocabulary.cells(b.finished) == block);
    found.map_or((Square { cut: Length::INCH, quartered: false }, 1), |b| (b.square, b.at_a_time.yields()))
}

/// Lengths, fat quarters and oddments as sheets.
fn lengths(supply: &Supply) -> Vec<Sheet> {
    let sheet = |width, height, count| Sheet { id: String::new(), width, height: Some(height), count };
    let lengths = supply.yardage.iter().map(|y| sheet(y.width, y.length, 1));
    let quarters =
        (supply.fat_quarters > 0).then(|| sheet(Length::INCH * 22i64, Length::INCH * 18i64, supply.fat_quarters));
    let oddments = supply.oddments.iter().map(|o| sheet(o.width, o.height, o.count));
    lengths.chain(quarters).chain(oddments).collect()
}

/// Sets squares aside for pairs, evenly among prints; how many are missing.
fn reserve(held: &mut Squares, squares: &mut Squares, size: Length, needed: u32) -> u32 {
    for done in 0..needed {
        let most = held.iter_mut().filter(|((_, s), count)| *s == size && **count > 0).max_by_key(|(_, count)| **count);
        let Some((key, count)) = most else { return needed - done };
        *count -= 1;
        *squares.entry(*key).or_default() += 1;
    }
    0
}
