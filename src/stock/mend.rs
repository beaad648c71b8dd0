//! Brings a scene within the stock patch by patch, the cheapest changes first, and lets it have back what it can.

use std::collections::BTreeMap;

use super::ledger::{Ledger, Line, NOTHING, Short};
use super::patches::Spot;
use crate::plan::Item;

/// Most units that one pair of squares gives, so no remainder is longer.
const MOST_YIELD: usize = 8;
/// Most times that the whole scene is gone through for what it can have back.
const PASSES: usize = 6;

/// A scene whose patches change, with what it takes.
pub struct Mend<'a, 'b> {
    pub(super) ledger: &'b mut Ledger<'a>,
    pub(super) spots: &'b mut [Spot],
    /// By spot and option: its line in the ledger.
    pub(super) lines: Vec<Vec<Line>>,
}

/// Changes made together: what they add to the error, and each spot with its new option.
type Step = (i64, Vec<(usize, usize)>);

impl<'a, 'b> Mend<'a, 'b> {
    /// The scene of these spots, all of which the ledger counts.
    pub fn new(ledger: &'b mut Ledger<'a>, spots: &'b mut [Spot]) -> Self {
        let lines = spots.iter().map(|spot| spot.options.iter().map(|option| ledger.line(option.item)).collect());
        let lines = lines.collect();
        Self { ledger, spots, lines }
    }

    /// Changes families until nothing is over; the added error.
    pub fn settle(&mut self) -> Result<i64, Vec<Short>> {
        let mut added = 0;
        while self.ledger.over > NOTHING {
            let Some((cost, moves)) = self.best_step() else { return Err(self.ledger.short()) };
            moves.into_iter().for_each(|(spot, option)| self.change(spot, option));
            added += cost;
        }
        Ok(added)
    }

    /// Lets units have better families again where that makes nothing short; the error that it saves.
    pub fn improve(&mut self) -> i64 {
        let mut saved = 0;
        for _ in 0..PASSES {
            let before = saved;
            for spot in 0..self.spots.len() {
                if let Some(option) = self.cheapest(spot, |cost| cost < 0) {
                    saved -= self.spots[spot].added(option);
                    self.change(spot, option);
                }
            }
            if saved == before {
                break;
            }
        }
        saved
    }

    /// Exchanges the families of stray units where that saves more cloth than it shows: a cell of cloth is worth `rate`
    /// of doubled error. What it adds to the error.
    pub fn thrift(&mut self, rate: f64) -> i64 {
        let mut added = 0;
        while let Some((cost, moves)) = self.best_saving(rate) {
            moves.into_iter().for_each(|(spot, option)| self.change(spot, option));
            added += cost;
        }
        added
    }

    /// The units of one kind, as far as one pair gives them, whose exchange saves most.
    fn best_saving(&mut self, rate: f64) -> Option<Step> {
        let mut kinds: BTreeMap<Item, Vec<usize>> = BTreeMap::new();
        for (index, spot) in self.spots.iter().enumerate() {
            if let Item::Unit { .. } = spot.item() {
                kinds.entry(spot.item()).or_default().push(index);
            }
        }
        let mut best: Option<(f64, Step)> = None;
        for units in kinds.into_values() {
            let merits = units.into_iter().filter_map(|spot| Some((self.saving(spot, rate)?.0, spot)));
            let mut merits: Vec<(f64, usize)> = merits.collect();
            merits.sort_by(|one, other| one.0.total_cmp(&other.0).then(one.1.cmp(&other.1)));
            merits.truncate(MOST_YIELD);
            self.stray(&merits, rate, &mut best);
        }
        best.map(|(_, step)| step)
    }

    /// The exchange of a unit that costs least, its cloth counted; nothing may become shorter than it is.
    fn saving(&mut self, spot: usize, rate: f64) -> Option<(f64, usize)> {
        let (held, lines, ledger) = (&self.spots[spot], &self.lines[spot], &mut *self.ledger);
        let merits = (0..held.options.len()).filter(|&option| option != held.now).filter_map(|option| {
            let (over, cloth) = ledger.tried(lines[held.now], lines[option]);
            (over <= NOTHING).then_some((held.added(option) as f64 + rate * cloth, option))
        });
        merits.min_by(|one, other| one.0.total_cmp(&other.0).then(one.1.cmp(&other.1)))
    }

    /// Tries stray units of one kind together.
    fn stray(&mut self, units: &[(f64, usize)], rate: f64, best: &mut Option<(f64, Step)>) {
        let before = (self.ledger.over, self.ledger.total);
        let mut step: Step = (0, Vec::new());
        for &(_, spot) in units {
            let Some((_, option)) = self.saving(spot, rate) else { continue };
            let now = self.spots[spot].now;
            step.0 += self.spots[spot].added(option);
            step.1.push((spot, option));
            self.ledger.exchange(self.lines[spot][now], self.lines[spot][option]);
            let merit = step.0 as f64 + rate * (self.ledger.total - before.1);
            if merit < -0.5 && best.as_ref().is_none_or(|(held, _)| merit < *held - 0.5) {
                *best = Some((merit, step.clone()));
            }
        }
        for &(spot, option) in step.1.iter().rev() {
            self.ledger.exchange(self.lines[spot][option], self.lines[spot][self.spots[spot].now]);
        }
        (self.ledger.over, self.ledger.total) = before;
    }

    pub(super) fn change(&mut self, spot: usize, option: usize) {
        let now = self.spots[spot].now;
        self.ledger.exchange(self.lines[spot][now], self.lines[spot][option]);
        self.spots[spot].now = option;
    }

    /// The step that costs least for the cloth that it brings within bounds: one unit, or a remainder of a pair.
    fn best_step(&mut self) -> Option<Step> {
        let mut best: Option<(f64, Step)> = None;
        let mut classes: BTreeMap<Item, Vec<(i64, usize)>> = BTreeMap::new();
        for spot in 0..self.spots.len() {
            let line = self.lines[spot][self.spots[spot].now];
            if !self.ledger.touches_short(line) {
                continue;
            }
            let now = self.spots[spot].now;
            let others = (0..self.spots[spot].options.len()).filter(|&option| option != now);
            let least = others.map(|option| self.tried(spot, option, &mut best)).min();
            if let (Some(least), Item::Unit { .. }) = (least, self.spots[spot].item()) {
                classes.entry(self.spots[spot].item()).or_default().push((least, spot));
            }
        }
        for units in classes.into_values() {
            self.remainder(units, &mut best);
        }
        best.map(|(_, step)| step)
    }

    /// Tries one change; what it adds to the error.
    fn tried(&mut self, spot: usize, option: usize, best: &mut Option<(f64, Step)>) -> i64 {
        let from = self.lines[spot][self.spots[spot].now];
        let gain = -self.ledger.exchanged(from, self.lines[spot][option]);
        let cost = self.spots[spot].added(option);
        let rate = cost as f64 / gain.max(NOTHING);
        if gain > NOTHING && best.as_ref().is_none_or(|(held, _)| rate < *held) {
            *best = Some((rate, (cost, vec![(spot, option)])));
        }
        cost
    }

    /// Tries the units of one kind together, cheapest first, as far as one pair gives them.
    fn remainder(&mut self, mut units: Vec<(i64, usize)>, best: &mut Option<(f64, Step)>) {
        units.sort_unstable();
        units.truncate(MOST_YIELD);
        let (over, total) = (self.ledger.over, self.ledger.total);
        let mut step: Step = (0, Vec::new());
        for (_, spot) in units {
            let Some(option) = self.cheapest(spot, |_| true) else { continue };
            let now = self.spots[spot].now;
            step.0 += self.spots[spot].added(option);
            step.1.push((spot, option));
            self.ledger.exchange(self.lines[spot][now], self.lines[spot][option]);
            let gain = over - self.ledger.over;
            let rate = step.0 as f64 / gain.max(NOTHING);
            if gain > NOTHING && best.as_ref().is_none_or(|(held, _)| rate < *held) {
                *best = Some((rate, step.clone()));
            }
        }
        for &(spot, option) in step.1.iter().rev() {
            self.ledger.exchange(self.lines[spot][option], self.lines[spot][self.spots[spot].now]);
        }
        (self.ledger.over, self.ledger.total) = (over, total);
    }

    /// The wanted change of a unit that costs least without making anything shorter than it is.
    fn cheapest(&mut self, spot: usize, wanted: impl Fn(i64) -> bool) -> Option<usize> {
        let held = &self.spots[spot];
        let from = self.lines[spot][held.now];
        let mut options: Vec<(i64, usize)> = (0..held.options.len())
            .filter(|&option| option != held.now)
            .map(|option| (held.added(option), option))
            .filter(|(cost, _)| wanted(*cost))
            .collect();
        options.sort_unstable();
        let lines = &self.lines[spot];
        let ledger = &mut *self.ledger;
        options.into_iter().map(|(_, option)| option).find(|&option| ledger.exchanged(from, lines[option]) <= NOTHING)
    }
}
