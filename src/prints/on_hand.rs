//! Pieces on hand in a scene: which units they are, and which more could take their places.

use std::collections::BTreeMap;

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
        for unit in placed.iter().filter(|unit| !matches!(unit.unit.state, State::Free | State::Sewn)) {
            let item = unit.item();
            match (left.get_mut(&item).filter(|left| **left > 0), item) {
                (Some(left), _) => *left -= 1,
                (None, Item::Slice { .. }) => *wary.entry(item.whole()).or_default() += 1,
                _ => {}
            }
        }
        Self { left, wary, taken: BTreeMap::new() }
    }

    /// Whether a free unit is a piece on hand: a slice a strip or else cut from a unit, as `make` serves them.
    pub fn take(&mut self, unit: usize, item: Item) -> Option<Item> {
        let found = [item, item.whole()].into_iter().find(|item| self.open(item))?;
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
