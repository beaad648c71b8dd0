//! How many clashes no choice of prints could avoid.
//!
//! A choice here is any that takes no more than the scene does: of a counted print no more squares of any size and no
//! more fillers of any size, of any class no more pairs, and of pieces on hand no more than there are. Each family is taken alone. What is kept or sewn shows its
//! own print, the two patches of a quiet unit differ, and other patches show any print of the family that the scene
//! has in squares or fillers that they may be cut from, or that is on hand for them. Units of a class for which one
//! pair serves, and nothing on hand, are all of the same two prints, so that their patches of one family count as one.
//!
//! How many lots show a scarce print is priced instead of forbidden: with a price on each lot of it, what a choice
//! pays is at most the price of the lots that there are, so that the least sum of clashes and prices, less the price
//! of those lots, is never above the clashes of any choice. A unit pays its part of the largest pair of its class, and
//! so does a piece on hand that there is.
//! `eliminate` finds the least sum, or less where a family is too much entangled.

use typed_index_collections::{TiSlice, TiVec};

use super::deal::{Deal, Lot, NONE, Source};
use super::eliminate::{Table, least as least_sum};
use crate::fabric::{Family, Print};

/// Parts of a clash in which prices are counted; every yield divides them.
const PARTS: u32 = 64;
/// Prices of a lot that are tried, in clashes doubled.
const PRICES: [u32; 10] = [1, 2, 3, 4, 6, 8, 12, 16, 24, 32];
/// Stands for what must not be.
const NEVER: u32 = 1 << 24;

/// Clashes that cannot be avoided, by family; without prices it is quicker, and less.
pub fn least(deal: &Deal, families: &TiSlice<Family, Vec<Print>>, priced: bool) -> TiVec<Family, usize> {
    families.iter_enumerated().map(|(family, prints)| Patches::new(deal, prints, family, 0).least(priced)).collect()
}

/// Clashes of one family that cannot be avoided with one more print of it, of which there is plenty.
pub fn with_one_more(deal: &Deal, families: &TiSlice<Family, Vec<Print>>, family: Family) -> usize {
    Patches::new(deal, &families[family], family, 1).least(true)
}

/// One family's patches as choices.
struct Patches<'a> {
    deal: &'a Deal,
    prints: &'a [Print],
    /// Prints to choose from, those to be had more last.
    values: usize,
    choices: usize,
    tables: Vec<Table>,
    /// Clashes of what cannot be changed.
    sure: usize,
    /// The choice of each patch in squares, and the most units of its lots.
    in_squares: Vec<(usize, usize)>,
    of: Family,
}

impl<'a> Patches<'a> {
    fn new(deal: &'a Deal, prints: &'a [Print], of: Family, more: usize) -> Self {
        let values = prints.len() + more;
        let mut patches =
            Self { deal, prints, values, choices: 0, tables: Vec::new(), sure: 0, in_squares: Vec::new(), of };
        patches.lay_out();
        patches
    }

    fn lay_out(&mut self) {
        let deal = self.deal;
        let stands_for = stands_for(deal);
        let ours: Vec<usize> = (0..deal.shows.len()).filter(|&patch| self.shows(patch).is_some()).collect();
        let mut choices = vec![NONE; deal.shows.len()];
        for &patch in ours.iter().filter(|&&patch| free(deal, patch)) {
            let first = stands_for[patch];
            if choices[first] == NONE {
                choices[first] = self.choices;
                self.choices += 1;
            }
            choices[patch] = choices[first];
            self.have(patch, choices[patch]);
        }
        for &patch in &ours {
            let touched = deal.touches[patch].iter().filter(|other| **other > patch);
            touched.for_each(|&other| self.touch((patch, choices[patch]), (other, choices[other])));
            if patch % 2 == 0 && choices[patch] != NONE && self.shows(patch + 1).is_some() {
                self.differ(choices[patch], choices[patch + 1], NEVER);
            }
        }
    }

    /// Which prints a free patch may show.
    fn have(&mut self, patch: usize, choice: usize) {
        let deal = self.deal;
        let has = |print: &Print| deal.could_show(patch, *print);
        let costs = (0..self.values).map(|value| if self.prints.get(value).is_none_or(has) { 0 } else { NEVER });
        self.tables.push(Table { over: vec![choice], costs: costs.collect() });
        let class = deal.units[patch / 2].class;
        if class != NONE {
            self.in_squares.push((choice, deal.largest_pair(class)));
        }
    }

    /// The print of the family that a patch shows.
    fn shows(&self, patch: usize) -> Option<Print> {
        self.deal.shows[patch].filter(|print| self.prints.contains(print))
    }

    fn touch(&mut self, (patch, one): (usize, usize), (touched, other): (usize, usize)) {
        match (one, other) {
            (NONE, NONE) => self.sure += usize::from(self.shows(patch) == self.shows(touched)),
            (NONE, choice) => self.avoid(choice, self.shows(patch), PARTS),
            (choice, NONE) => self.avoid(choice, self.shows(touched), PARTS),
            _ if one == other => self.sure += 1,
            _ => self.differ(one, other, PARTS),
        }
    }

    /// Two choices cost so much where they are one print.
    fn differ(&mut self, one: usize, other: usize, cost: u32) {
        let values = self.values;
        let costs = (0..values * values).map(|at| if at / values == at % values { cost } else { 0 });
        self.tables.push(Table { over: vec![one.min(other), one.max(other)], costs: costs.collect() });
    }

    /// A choice costs so much where it is this print.
    fn avoid(&mut self, choice: usize, print: Option<Print>, cost: u32) {
        let shows = |value: usize| print.is_some() && self.prints.get(value).copied() == print;
        let costs = (0..self.values).map(|value| if shows(value) { cost } else { 0 });
        self.tables.push(Table { over: vec![choice], costs: costs.collect() });
    }

    fn least(mut self, priced: bool) -> usize {
        let free = least_sum(self.choices, self.values, self.tables.clone());
        let mut best = free;
        let scarce: Vec<Print> = if priced { self.scarce() } else { Vec::new() };
        for print in scarce {
            let mut held = free;
            for price in PRICES {
                let sum = self.at_price(print, price * PARTS / 2);
                if sum < held {
                    break;
                }
                held = sum;
            }
            best = best.max(held);
        }
        self.sure + best.div_ceil(PARTS) as usize
    }

    /// Counted prints of a family that has another.
    fn scarce(&self) -> Vec<Print> {
        let counted = |print: &Print| self.deal.room.iter().all(|room| room[*print] == 0);
        self.prints.iter().copied().filter(|print| self.values > 1 && counted(print)).collect()
    }

    /// The least sum where every lot of a print costs so much, less the price of those that there are.
    fn at_price(&mut self, print: Print, price: u32) -> u32 {
        let held = self.tables.len();
        for (choice, yields) in self.in_squares.clone() {
            self.avoid(choice, Some(print), price / yields as u32);
        }
        let sum = least_sum(self.choices, self.values, self.tables.clone());
        self.tables.truncate(held);
        let there = (0..self.deal.classes.len()).map(|class| self.price_there(class, print, price));
        sum.saturating_sub(there.fold(0, u32::saturating_add))
    }

    /// What the lots of a class that show a print may be paid for at most.
    fn price_there(&self, class: usize, print: Print, price: u32) -> u32 {
        let each = price / self.deal.largest_pair(class) as u32;
        let of = |lot: &Lot| {
            let sides = lot.families.iter().zip(&lot.prints);
            let sides = sides.filter(|&(&family, &other)| family == self.of && other == print).count() as u32;
            let there = u32::try_from(lot.yields).unwrap_or(u32::MAX);
            sides.saturating_mul(if lot.source == Source::Cloth { price } else { each.saturating_mul(there) })
        };
        let lots = self.deal.made_of[class].iter().map(|&lot| of(&self.deal.lots[lot]));
        lots.fold(0, u32::saturating_add)
    }
}

fn free(deal: &Deal, patch: usize) -> bool {
    deal.units[patch / 2].lot != NONE
}

/// The patch that stands for each: the first of those that show one print whatever is chosen.
fn stands_for(deal: &Deal) -> Vec<usize> {
    let mut stands_for: Vec<usize> = (0..deal.shows.len()).collect();
    for (class, made_of) in deal.classes.iter().zip(&deal.made_of) {
        let [lot] = made_of[..] else { continue };
        if deal.lots[lot].families[0] == deal.lots[lot].families[1] {
            continue;
        }
        for patch in class.iter().flat_map(|&unit| [2 * unit, 2 * unit + 1]) {
            let first = |other: &usize| deal.side(*other).1 == deal.side(patch).1;
            stands_for[patch] =
                [2 * class[0], 2 * class[0] + 1].into_iter().find(first).expect("each side of a lot has its patch");
        }
    }
    stands_for
}
