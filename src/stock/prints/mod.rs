//! Prints on patches, by what there is of each: squares for pairs first, then fillers on real sheets.

mod fillers;
mod pairs;
mod wanted;

use std::collections::BTreeMap;

use typed_index_collections::TiVec;

use super::ledger::Short;
use super::sheets::Sheets;
use crate::compose::{Draft, Free, Order, Ready, Wish};
use crate::fabric::{Family, Print, Supply};
use crate::measure::Length;
use crate::plan::{Band, Item, Piece, RowEnds, State, Unit, items, places, remade, units_mut};
use crate::prints::{Rules, spread_on_hand};
use crate::unit::Corner;

/// Units of one pair of families and one size; where a print stands upright, with the first in one corner.
type Class = (Family, Family, u32, Option<Corner>);
/// Fillers of one family and size in cells.
type Size = (Family, u32, u32);

/// What a scene wants that the prints do not give.
pub struct Unsewn {
    /// Cloth, by family.
    pub short: Vec<Short>,
    /// How many of a unit or a filler could be made of cloth, by families, where more are wanted.
    pub most: BTreeMap<Item<Family>, u32>,
}

/// Gives each patch a print, within what there is.
pub fn sewable(ready: &Ready, order: &Order, mut bands: Vec<Band<Draft>>) -> Result<Vec<Band>, Unsewn> {
    let wished = open_wishes(ready, order, &mut bands);
    let (prints, short) = Prints::shared_out(ready, order, &bands);
    if !short.is_empty() {
        return Err(Unsewn { short, most: prints.most });
    }
    let mut bands = prints.lay_all(bands);
    let units = units_mut(&mut bands).enumerate().filter(|(at, _)| wished.contains(at));
    units.for_each(|(_, unit)| unit.state = State::Kept);
    Ok(bands)
}

/// Frees what was wished for in no print of its own, by its families, so that it gets prints of which there is most.
fn open_wishes(ready: &Ready, order: &Order, bands: &mut [Band<Draft>]) -> Vec<usize> {
    let mut open: Vec<&Wish> = order.standing.wishes.iter().filter(|wish| wish.print.is_none()).collect();
    let mut wished = Vec::new();
    for ((at, placed), unit) in places(bands).into_iter().enumerate().zip(units_mut(bands)) {
        let here = open.iter().position(|wish| (wish.x, wish.y) == (placed.x as usize, placed.y as usize));
        let Draft::Stands(Unit { width, piece, state: State::Kept }) = placed.unit else { continue };
        if let (Some(here), Some(piece)) = (here, piece.with(|print| ready.family(print))) {
            open.swap_remove(here);
            *unit = Draft::Free(Free { width, piece });
            wished.push(at);
        }
    }
    wished
}

/// The same as far as there is enough; what is short is of the first print of its family.
pub fn as_far_as_there_is(ready: &Ready, order: &Order, bands: Vec<Band<Draft>>) -> Vec<Band> {
    Prints::shared_out(ready, order, &bands).0.lay_all(bands)
}

struct Prints<'a> {
    ready: &'a Ready,
    order: &'a Order<'a>,
    /// What is left on hand, by print.
    hand: BTreeMap<Item, u32>,
    /// What each print has for pairs.
    cloth: BTreeMap<Print, Sheets>,
    /// Squares of each print that pairs take, by side as bought, whole or quartered.
    given: BTreeMap<(Print, Length, bool), u32>,
    /// Prints of each class's pairs, with the units that each has left.
    laid: BTreeMap<Class, Vec<(u32, Print, Print)>>,
    /// Strips on hand that slices of these families are, by their prints.
    strips: BTreeMap<Item<Family>, Vec<Item>>,
    /// Prints that fillers of a family and size are cut from.
    cut: BTreeMap<Size, Vec<Print>>,
    /// Fillers that stand, by print and size.
    standing: BTreeMap<(Print, u32, u32), u32>,
    /// How many could be made where more are wanted.
    most: BTreeMap<Item<Family>, u32>,
}

impl<'a> Prints<'a> {
    /// Shares the prints out among the pairs and fillers that the bands want; what is short.
    fn shared_out(ready: &'a Ready, order: &'a Order<'a>, bands: &[Band<Draft>]) -> (Self, Vec<Short>) {
        let mut prints = Self {
            ready,
            order,
            hand: items(order.hand, order.request),
            cloth: BTreeMap::new(),
            given: BTreeMap::new(),
            laid: BTreeMap::new(),
            strips: BTreeMap::new(),
            cut: BTreeMap::new(),
            standing: BTreeMap::new(),
            most: BTreeMap::new(),
        };
        prints.stack_up();
        let wanted = prints.wanted(bands);
        let pairs = prints.stand(&wanted);
        let mut short = prints.pair_up(pairs);
        let fillers = wanted.fillers;
        short.extend(ready.families.keys().filter_map(|family| prints.lay_out_family(family, &fillers)));
        (prints, short)
    }

    /// Lays the prints on the free units, those that touch differing where they can.
    fn lay_all(mut self, bands: Vec<Band<Draft>>) -> Vec<Band> {
        let mut bands = remade(bands, |unit, height| match unit {
            Draft::Free(unit) => Unit { width: unit.width, piece: self.lay(&unit, height), state: State::Free },
            Draft::Stands(unit) => unit,
        });
        let (ready, order) = (self.ready, self.order);
        let counted: TiVec<Print, bool> = order.fabrics.iter().map(|fabric| fabric.supply.is_some()).collect();
        let spare_ends = order.request.row_ends == RowEnds::Spare;
        let (families, vocabulary, watch) = (&ready.families, &ready.vocabulary, &ready.watch);
        let rules = Rules { families, vocabulary, counted: &counted, spare_ends, watch };
        spread_on_hand(&mut bands, &rules, &items(order.hand, order.request));
        bands
    }

    fn supply(&self, print: Print) -> Option<&'a Supply> {
        self.order.fabrics[print].supply.as_ref()
    }

    /// Gives one unit its prints: pairs are used up one after the other, which spreads their units along the rows.
    fn lay(&mut self, unit: &Free, height: u32) -> Piece {
        match unit.piece {
            Piece::Filler(family) => {
                let print = self.cut.get_mut(&(family, unit.width, height)).and_then(Vec::pop);
                Piece::Filler(print.unwrap_or(self.ready.families[family][0]))
            }
            Piece::Triangle(t) => {
                let (first, second) = t.pair();
                let strip = unit.piece.item(unit.width, height);
                if let Some(Item::Slice { tip, rest, .. }) = self.strips.get_mut(&strip).and_then(Vec::pop) {
                    return Piece::Triangle(t.of(tip, rest));
                }
                let pairs = self.laid.entry((first, second, t.block, t.stands())).or_default();
                let pair = pairs.iter_mut().find(|(left, ..)| *left > 0);
                let families = &self.ready.families;
                let bare = || (families[first][0], families[second][usize::from(first == second)]);
                let (one, other) = pair.map_or_else(bare, |(left, one, other)| {
                    *left -= 1;
                    (*one, *other)
                });
                Piece::Triangle(t.with_pair(one, other))
            }
        }
    }
}
