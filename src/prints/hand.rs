//! Pieces on hand in a scene: which units they are, and which more could take their places.

use std::collections::BTreeMap;

use super::deal::{Lot, Source, Unit};
use super::lots::{Bench, Kind};
use crate::fabric::Family;
use crate::plan::{Item, Placed, State};

/// Pieces on hand by item, as free units take them.
pub struct Hand {
    /// What stands takes its own first.
    left: BTreeMap<Item, u32>,
    /// Units that slices which stand may be cut from.
    wary: BTreeMap<Item, u32>,
    taken: BTreeMap<Item, Vec<usize>>,
}

/// A kind of piece on hand: the units that are of it, and how many there could be.
pub struct Held {
    /// What it is.
    pub item: Item,
    /// Units by number.
    pub units: Vec<usize>,
    /// Pieces for free units.
    pub there: usize,
}

impl Hand {
    /// What is left once everything that stands has what it is.
    pub fn new(on_hand: &BTreeMap<Item, u32>, placed: &[Placed]) -> Self {
        let (mut left, mut wary) = (on_hand.clone(), BTreeMap::new());
        for unit in placed.iter().filter(|unit| unit.unit.state != State::Free) {
            let item = unit.item();
            match (left.get_mut(&item).filter(|left| **left > 0), item) {
                (Some(left), _) => *left -= 1,
                (None, Item::Slice { .. }) => *wary.entry(whole(item)).or_default() += 1,
                _ => {}
            }
        }
        Self { left, wary, taken: BTreeMap::new() }
    }

    /// Whether a free unit is a piece on hand: a slice a strip or else cut from a unit, as `make` serves them.
    pub fn take(&mut self, unit: usize, item: Item) -> Option<Item> {
        let found = [item, whole(item)].into_iter().find(|item| self.open(item))?;
        self.taken.entry(found).or_default().push(unit);
        Some(found)
    }

    fn open(&self, item: &Item) -> bool {
        let taken = self.taken.get(item).map_or(0, Vec::len);
        self.left.get(item).is_some_and(|left| taken < *left as usize)
    }

    /// Every kind of which there is something for free units.
    pub fn kinds(mut self) -> Vec<Held> {
        let kind = |(item, left): (Item, u32)| {
            let units = self.taken.remove(&item).unwrap_or_default();
            let sure = left.saturating_sub(self.wary.get(&item).copied().unwrap_or(0));
            Held { item, there: units.len().max(sure as usize), units }
        };
        self.left.into_iter().map(kind).filter(|kind| kind.there > 0).collect()
    }
}

impl Bench<'_> {
    /// Pieces on hand of one kind: a lot for all that are sewn, and one for each filler more that could serve.
    pub fn lay_out(&mut self, held: Held, units: &mut [Unit]) {
        match (held.item, self.of(held.item)) {
            (Item::Filler { fabric, .. }, Some(Item::Filler { fabric: family, long, short })) => {
                let kind = self.kind(Kind::Filler(short, long, false));
                let alike = self.lots.iter().filter(|lot| lot.kind == kind && lot.families == [family]).count();
                let (families, prints, source) = (vec![family], vec![fabric], Source::Hand);
                let lot = Lot { families, prints, kind, yields: 1, units: Vec::new(), source };
                self.lots.extend(vec![lot; alike.min(held.there - held.units.len())]);
            }
            (item, Some(of @ (Item::Unit { .. } | Item::Slice { .. }))) => self.lay_out_sewn(item, of, held, units),
            _ => {}
        }
    }

    fn lay_out_sewn(
        &mut self,
        item: Item,
        of: Item<Family>,
        Held { units: taken, there, .. }: Held,
        units: &mut [Unit],
    ) {
        let Some(number) = self.classes.known(of) else { return };
        let (prints, families, source) = match (item, of) {
            (Item::Slice { tip, rest, .. }, Item::Slice { tip: one, rest: other, .. }) => {
                ([tip, rest], [one, other], Source::Strip)
            }
            (Item::Unit { first, second, .. }, Item::Unit { first: one, second: other, .. }) => {
                let prints = if self.family_of[first] == Some(one) { [first, second] } else { [second, first] };
                (prints, [one, other], Source::Hand)
            }
            _ => return,
        };
        taken.iter().for_each(|&unit| units[unit].lot = self.lots.len());
        self.classes.made_of[number].push(self.lots.len());
        let (families, kind) = (families.to_vec(), Kind::Loose(self.lots.len()));
        let (kind, prints) = (self.kind(kind), prints.to_vec());
        self.lots.push(Lot { families, prints, kind, yields: there, units: taken, source });
    }
}

/// The unit that a slice may be cut from.
fn whole(item: Item) -> Item {
    match item {
        Item::Slice { tip, rest, block, .. } => Item::unit(tip, rest, block),
        item => item,
    }
}
