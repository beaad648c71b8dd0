//! Units that may be made of the same lots, and what they could show.

use std::collections::BTreeMap;

use super::deal::{Deal, NONE, Source};
use crate::fabric::{Family, Print};
use crate::plan::Item;

/// Units that may be made of the same lots: those of the same families and size, and strips on hand of one kind.
#[derive(Default)]
pub struct Classes {
    /// By what they are of each family.
    numbers: BTreeMap<Item<Family>, usize>,
    /// Units of each.
    pub members: Vec<Vec<usize>>,
    /// Lots that those may be made of.
    pub made_of: Vec<Vec<usize>>,
}

impl Classes {
    /// The class of what is this of each family, where the scene has it.
    pub fn known(&self, item: Item<Family>) -> Option<usize> {
        self.numbers.get(&item).copied()
    }

    /// The same, a new one where it has none yet.
    pub fn number(&mut self, item: Item<Family>) -> usize {
        let next = self.numbers.len();
        let number = *self.numbers.entry(item).or_insert(next);
        self.members.resize(self.numbers.len(), Vec::new());
        self.made_of.resize(self.numbers.len(), Vec::new());
        number
    }
}

impl Deal {
    /// Whether a choice of prints could make a free unit's patch of this one.
    pub fn could_show(&self, patch: usize, print: Print) -> bool {
        let (lot, side) = self.side(patch);
        let (family, class) = (self.lots[lot].families[side], self.units[patch / 2].class);
        let made_of = if class == NONE { std::slice::from_ref(&lot) } else { &self.made_of[class] };
        made_of.iter().any(|&lot| {
            let sides = (0..self.lots[lot].families.len()).filter(|&side| self.lots[lot].families[side] == family);
            let room = self.room[self.lots[lot].kind][print] > 0 && self.cut_anew(lot, class);
            let shows = |&(other, side): &(usize, usize)| self.lots[other].prints[side] == print;
            room || sides.into_iter().any(|side| self.sides[self.side_of[lot][side]].iter().any(shows))
        })
    }

    /// Whether a lot may be made of a print of which there is plenty: all are but sewn pieces on hand.
    fn cut_anew(&self, lot: usize, class: usize) -> bool {
        class == NONE || self.lots[lot].source == Source::Cloth
    }

    /// Units that the largest pair of a class gives; one where none is sewn.
    pub fn largest_pair(&self, class: usize) -> usize {
        let lots = self.made_of[class].iter().map(|&lot| &self.lots[lot]);
        lots.filter(|lot| lot.source == Source::Cloth).map(|lot| lot.yields).max().unwrap_or(1)
    }
}
