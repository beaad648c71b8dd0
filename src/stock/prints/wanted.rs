//! What a scene wants of its prints, once what is on hand is taken off.

use std::cmp::Reverse;
use std::collections::BTreeMap;

use super::{Class, Prints, Size};
use crate::compose::{Draft, Free};
use crate::fabric::{Family, Print};
use crate::plan::{Band, Item, Placed, State, places};
use crate::unit::Corner;

/// What a scene wants, once what is on hand is taken off.
#[derive(Default)]
pub(super) struct Wanted {
    /// Free units by families.
    pub classes: BTreeMap<Class, u32>,
    /// Free fillers by family.
    pub fillers: BTreeMap<Size, u32>,
    /// What stands, by print.
    pub standing: BTreeMap<(Print, Print, u32, Option<Corner>), u32>,
}

impl Prints<'_> {
    /// Takes what is on hand first: what stands by its prints, then what is free by its families.
    pub(super) fn wanted(&mut self, bands: &[Band<Draft>]) -> Wanted {
        let mut wanted = Wanted::default();
        let (mut free, mut stands) = (Vec::new(), Vec::new());
        for placed in places(bands) {
            match placed.unit {
                Draft::Free(unit) => free.push(placed.of(unit)),
                Draft::Stands(unit) if unit.state == State::Sewn => {}
                Draft::Stands(unit) => stands.push(placed.of(unit)),
            }
        }
        for placed in stands {
            let item = placed.item();
            match (self.hand.get_mut(&item).filter(|left| **left > 0), item) {
                (Some(left), _) => *left -= 1,
                (None, Item::Filler { fabric, .. }) => {
                    *self.standing.entry((fabric, placed.unit.width, placed.height)).or_default() += 1;
                }
                (None, Item::Unit { .. } | Item::Slice { .. }) => {
                    if let Item::Unit { first, second, block, stands } = item.whole() {
                        *wanted.standing.entry((first, second, block, stands)).or_default() += 1;
                    }
                }
            }
        }
        for placed in &free {
            self.want(placed, &mut wanted);
        }
        wanted
    }

    fn want(&mut self, placed: &Placed<Free>, wanted: &mut Wanted) {
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
            (Item::Slice { .. } | Item::Unit { .. }, _) => self.want_unit(item.whole(), wanted),
        }
    }

    /// A unit on hand, or one of the pairs to be sewn.
    fn want_unit(&mut self, item: Item<Family>, wanted: &mut Wanted) {
        let Item::Unit { first, second, block, stands } = item else { return };
        match self.take_from_hand(item) {
            Some(Item::Unit { first: one, second: other, .. }) => {
                let (one, other) = self.in_order(first, (one, other));
                self.laid.entry((first, second, block, stands)).or_default().push((1, one, other));
            }
            _ => *wanted.classes.entry((first, second, block, stands)).or_default() += 1,
        }
    }

    /// The print of the first family, then the other.
    pub(super) fn in_order(&self, first: Family, (one, other): (Print, Print)) -> (Print, Print) {
        if self.ready.families[first].contains(&one) { (one, other) } else { (other, one) }
    }

    /// One piece on hand whose prints are of these families: of the kind of which most are left.
    fn take_from_hand(&mut self, item: Item<Family>) -> Option<Item> {
        let fits =
            |(other, left): &(&Item, &u32)| **left > 0 && other.with(|print| self.ready.family(print)) == Some(item);
        let (found, _) = self.hand.iter().filter(fits).max_by_key(|(other, left)| (**left, Reverse(**other)))?;
        let found = *found;
        *self.hand.get_mut(&found)? -= 1;
        Some(found)
    }
}
