//! What is on hand is used first: strips, then units, then fillers.

use std::collections::BTreeMap;

use super::fillers::ends_row;
use super::{HandPiece, Offcuts};
use crate::fabric::{FillerOnHand, UnitOnHand};
use crate::plan::{Address, Item, Placed, Plan, State, filler_pile, items, unit_pile};

/// The number that pieces of a kind lie under.
fn pile<'a>(plan: &'a Plan, item: &Item) -> Option<&'a str> {
    let grid = plan.request.grid;
    let thing = match *item {
        Item::Unit { first, second, block, stands } => {
            let fabrics = [first, second];
            unit_pile(&UnitOnHand { finished: grid * block, fabrics, stands, count: 0 }, &plan.fabrics)
        }
        Item::Filler { fabric, long, short } => {
            let filler = FillerOnHand { fabric, width: grid * long, height: grid * short, count: 0 };
            filler_pile(&filler, &plan.fabrics)
        }
        Item::Slice { .. } => return None,
    };
    plan.progress.piles.number(&thing)
}

/// What units take of what is on hand.
pub struct Taken {
    /// Every kind of which something is used.
    pub used: Vec<HandPiece>,
    /// The kind that a unit is, or is cut from, by index.
    pub from: BTreeMap<Address, usize>,
}

/// What is left on hand as units are served.
pub struct Inventory {
    left: BTreeMap<Item, u32>,
    there: BTreeMap<Item, u32>,
    served: BTreeMap<Address, Item>,
}

impl Inventory {
    /// All that is there.
    pub fn new(plan: &Plan) -> Self {
        let there = items(&plan.hand, &plan.request);
        Self { left: there.clone(), there, served: BTreeMap::new() }
    }

    /// Serves what is cut for its place already: slices and units, also those that a strip came off.
    pub fn serve_cut(&mut self, placed: &[Placed]) {
        for unit in placed.iter().filter(|unit| unit.unit.state == State::Cut) {
            self.serve(unit, unit.item());
        }
    }

    /// Serves slices that are strips on hand, before any strip of this scene is used again.
    pub fn serve_slices(&mut self, placed: &[Placed]) {
        for unit in placed.iter().filter(|unit| matches!(unit.item(), Item::Slice { .. })) {
            self.serve(unit, unit.item());
        }
    }

    /// Serves what is left: units and fillers, and slices that are cut from a unit.
    pub fn serve_rest(&mut self, plan: &Plan, placed: &[Placed], offcuts: &Offcuts) {
        let open = |unit: &&Placed| !offcuts.from.contains_key(&unit.address);
        for unit in placed.iter().filter(open) {
            match unit.item() {
                Item::Filler { .. } if ends_row(plan, unit) && plan.request.row_ends != Default::default() => {}
                item => self.serve(unit, item.whole()),
            }
        }
    }

    /// Whether a unit is served.
    pub fn serves(&self, address: Address) -> bool {
        self.served.contains_key(&address)
    }

    fn serve(&mut self, unit: &Placed, item: Item) {
        if self.serves(unit.address) {
            return;
        }
        if let Some(left) = self.left.get_mut(&item).filter(|left| **left > 0) {
            *left -= 1;
            self.served.insert(unit.address, item);
        }
    }

    /// What was taken, by kind: under the number that it was made by, or `H1`, `H2` and so on.
    pub fn taken(self, plan: &Plan) -> Taken {
        let count = |item: &Item| (self.there[item], self.there[item] - self.left[item]);
        let kinds: Vec<Item> = self.there.keys().copied().filter(|item| count(item).1 > 0).collect();
        let used = (1..).zip(&kinds).map(|(number, item)| {
            let (there, used) = count(item);
            let made = |number: &str| match item.stands() {
                // One pair lies under its number in two corners or four.
                Some(corner) => format!("{number} {}", corner.words()),
                None => number.to_owned(),
            };
            let id = pile(plan, item).map_or_else(|| format!("H{number}"), made);
            HandPiece { id, item: *item, there, used }
        });
        let place = |item: &Item| kinds.binary_search(item).ok();
        Taken {
            used: used.collect(),
            from: self.served.iter().filter_map(|(address, item)| Some((*address, place(item)?))).collect(),
        }
    }
}
