//! Brings a scene within the stock unit by unit, the cheapest changes first, and lets it have back what it can.
//!
//! Numbers without a source were found by trial, no figures kept; `cargo bench --bench stashes` shows what others do.

use std::collections::BTreeMap;

use typed_index_collections::TiVec;

use super::ledger::{Ledger, Line, NOTHING, Short};
use super::patches::OpenUnit;
use crate::fabric::Family;
use crate::plan::{Item, Piece};

/// Most units that one pair of squares gives, so no remainder is longer.
const MOST_YIELD: usize = 8;
/// Most times that the whole scene is gone through for what it can have back.
const PASSES: usize = 6;

/// A scene whose patches change, with what it takes.
pub struct Repair<'a, 'b> {
    pub(super) ledger: &'b mut Ledger<'a>,
    pub(super) open: &'b mut [OpenUnit],
    /// By unit and option: its line in the ledger.
    pub(super) lines: Vec<Vec<Line>>,
}

/// A scene of so many units takes one step at a time, of twice as many two.
const ONE_STEP: usize = 300;
/// Of several steps none costs so many times what the best does.
const DEARER: f64 = 2.0;

/// Steps that may be taken, each with what it costs for a cell.
struct Steps {
    found: Vec<(f64, Step)>,
    least: f64,
    /// Steps that cost so many times the least are left out.
    within: f64,
}

impl Steps {
    fn dearest(&self) -> f64 {
        if self.least > 0.0 { self.least * self.within } else { self.least }
    }

    /// Whether a step at this rate is of no use.
    fn is_dear(&self, rate: f64) -> bool {
        rate >= self.dearest()
    }

    fn offer(&mut self, rate: f64, step: Step) {
        if !self.is_dear(rate) {
            self.least = self.least.min(rate);
            self.found.push((rate, step));
        }
    }
}

/// Changes made together: what they add to the error, and each unit with its new option.
type Step = (i64, Vec<(usize, usize)>);

impl<'a, 'b> Repair<'a, 'b> {
    /// The scene of these units, all of which the ledger counts.
    pub fn new(ledger: &'b mut Ledger<'a>, open: &'b mut [OpenUnit]) -> Self {
        let lines = open.iter().map(|unit| unit.options.iter().map(|option| ledger.line(option.item)).collect());
        let lines: Vec<Vec<Line>> = lines.collect();
        // Looking a piece up takes as long as counting it in and out a few times.
        ledger.adds += 4 * lines.iter().map(|lines| lines.len() as u64).sum::<u64>();
        Self { ledger, open, lines }
    }

    /// Changes units until nothing is over; the added error.
    pub fn settle(&mut self) -> Result<i64, Vec<Short>> {
        let mut added = 0;
        while self.ledger.over > NOTHING {
            let steps = self.steps();
            if steps.found.is_empty() || self.ledger.is_stopped() {
                return Err(self.ledger.short());
            }
            added += self.go(steps);
        }
        Ok(added)
    }

    /// Takes the best step, and of a large scene some of the next best that do as much now as when they were found.
    fn go(&mut self, steps: Steps) -> i64 {
        let most = (self.open.len() / ONE_STEP).max(1);
        let (mut added, mut taken, dearest) = (0, 0, steps.dearest());
        let mut found = steps.found;
        found.sort_by(|one, other| one.0.total_cmp(&other.0));
        let mut moved = vec![false; self.open.len()];
        for (_, (cost, moves)) in found {
            if taken == most || moves.iter().any(|&(unit, _)| moved[unit]) {
                continue;
            }
            let before = self.ledger.over;
            let back: Vec<(usize, usize)> = moves.iter().map(|&(unit, _)| (unit, self.open[unit].now)).collect();
            moves.iter().for_each(|&(unit, option)| self.change(unit, option));
            let gain = before - self.ledger.over;
            if taken > 0 && (gain <= NOTHING || cost as f64 / gain >= dearest) {
                back.into_iter().for_each(|(unit, option)| self.change(unit, option));
                continue;
            }
            moves.iter().for_each(|&(unit, _)| moved[unit] = true);
            (added, taken) = (added + cost, taken + 1);
        }
        added
    }

    /// Lets units have better families again where that makes nothing short; the error that it saves.
    pub fn improve(&mut self) -> i64 {
        let mut saved = 0;
        for _ in 0..PASSES {
            let before = saved;
            for unit in 0..self.open.len() {
                if self.ledger.is_stopped() {
                    return saved;
                }
                if let Some(option) = self.cheapest(unit, |cost| cost < 0, |_| true) {
                    saved -= self.open[unit].added(option);
                    self.change(unit, option);
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
        while let Some((cost, moves)) = self.best_saving(rate).filter(|_| !self.ledger.is_stopped()) {
            moves.into_iter().for_each(|(unit, option)| self.change(unit, option));
            added += cost;
        }
        added
    }

    /// The units of one kind, as far as one pair gives them, whose exchange saves most.
    fn best_saving(&mut self, rate: f64) -> Option<Step> {
        let mut kinds: BTreeMap<Item<Family>, Vec<usize>> = BTreeMap::new();
        for (index, unit) in self.open.iter().enumerate() {
            if let Item::Unit { .. } = unit.item() {
                kinds.entry(unit.item()).or_default().push(index);
            }
        }
        let mut best: Option<(f64, Step)> = None;
        for units in kinds.into_values() {
            let merits = units.into_iter().filter_map(|unit| Some((self.saving(unit, rate)?.0, unit)));
            let mut merits: Vec<(f64, usize)> = merits.collect();
            merits.sort_by(|one, other| one.0.total_cmp(&other.0).then(one.1.cmp(&other.1)));
            merits.truncate(MOST_YIELD);
            self.stray(&merits, rate, &mut best);
        }
        best.map(|(_, step)| step)
    }

    /// The exchange of a unit that costs least, its cloth counted; nothing may become shorter than it is.
    fn saving(&mut self, unit: usize, rate: f64) -> Option<(f64, usize)> {
        let (held, lines, ledger) = (&self.open[unit], &self.lines[unit], &mut *self.ledger);
        let filler = |option: usize| held.options[option].piece.filler().is_some();
        let alike = |option: &usize| *option != held.now && filler(*option) == filler(held.now);
        let merits = (0..held.options.len()).filter(alike).filter_map(|option| {
            let (over, cloth) = ledger.tried(lines[held.now], lines[option]);
            (over <= NOTHING).then_some((held.added(option) as f64 + rate * cloth, option))
        });
        merits.min_by(|one, other| one.0.total_cmp(&other.0).then(one.1.cmp(&other.1)))
    }

    /// Tries stray units of one kind together.
    fn stray(&mut self, units: &[(f64, usize)], rate: f64, best: &mut Option<(f64, Step)>) {
        let before = (self.ledger.over, self.ledger.total);
        let mut step: Step = (0, Vec::new());
        for &(_, unit) in units {
            let Some((_, option)) = self.saving(unit, rate) else { continue };
            let now = self.open[unit].now;
            step.0 += self.open[unit].added(option);
            step.1.push((unit, option));
            self.ledger.exchange(self.lines[unit][now], self.lines[unit][option]);
            let merit = step.0 as f64 + rate * (self.ledger.total - before.1);
            if merit < -0.5 && best.as_ref().is_none_or(|(held, _)| merit < *held - 0.5) {
                *best = Some((merit, step.clone()));
            }
        }
        for &(unit, option) in step.1.iter().rev() {
            self.ledger.exchange(self.lines[unit][option], self.lines[unit][self.open[unit].now]);
        }
        (self.ledger.over, self.ledger.total) = before;
    }

    pub(super) fn change(&mut self, unit: usize, option: usize) {
        let now = self.open[unit].now;
        self.ledger.exchange(self.lines[unit][now], self.lines[unit][option]);
        self.open[unit].now = option;
    }

    /// The steps that cost least for the cloth that they bring within bounds: one unit, or a remainder of a pair.
    fn steps(&mut self) -> Steps {
        let within = if self.open.len() < 2 * ONE_STEP { 1.0 } else { DEARER };
        let mut best = Steps { found: Vec::new(), least: f64::INFINITY, within };
        let mut classes: BTreeMap<Item<Family>, Vec<(i64, usize)>> = BTreeMap::new();
        for unit in 0..self.open.len() {
            if !self.ledger.touches_short(self.lines[unit][self.open[unit].now]) {
                continue;
            }
            self.alone(unit, &mut best);
            let held = &self.open[unit];
            let least = (0..held.options.len().min(2)).find(|&option| option != held.now);
            if let (Some(least), Item::Unit { .. }) = (least, held.item()) {
                classes.entry(held.item()).or_default().push((held.added(least), unit));
            }
        }
        for units in classes.values() {
            self.remainder(units, |_| true, &mut best);
        }
        if best.found.is_empty() {
            // The cheapest changes go round in circles among the families that are short.
            let short: TiVec<Family, bool> =
                self.ledger.need.keys().map(|family| self.ledger.is_short(family)).collect();
            for units in classes.values() {
                self.remainder(units, |piece| piece.fabrics().all(|family| !short[family]), &mut best);
            }
        }
        best
    }

    /// Tries every change of one unit that may still be the best: it brings no more within bounds than leaving it out.
    fn alone(&mut self, unit: usize, best: &mut Steps) {
        let (held, lines, ledger) = (&self.open[unit], &self.lines[unit], &mut *self.ledger);
        let before = (ledger.over, ledger.total);
        ledger.add(lines[held.now], -1);
        let most = before.0 - ledger.over;
        let out = (ledger.over, ledger.total);
        for option in (0..held.options.len()).filter(|&option| option != held.now) {
            let cost = held.added(option);
            if most <= NOTHING || cost >= 0 && best.is_dear(cost as f64 / most) {
                break;
            }
            ledger.add(lines[option], 1);
            let gain = before.0 - ledger.over;
            ledger.add(lines[option], -1);
            (ledger.over, ledger.total) = out;
            if gain > NOTHING {
                best.offer(cost as f64 / gain, (cost, vec![(unit, option)]));
            }
        }
        ledger.add(lines[held.now], 1);
        (ledger.over, ledger.total) = before;
    }

    /// Tries the units of one kind together, cheapest first, as far as one pair gives them.
    fn remainder(&mut self, units: &[(i64, usize)], wanted: impl Fn(&Piece<Family>) -> bool, best: &mut Steps) {
        let mut units = units.to_vec();
        units.sort_unstable();
        units.truncate(MOST_YIELD);
        let (over, total) = (self.ledger.over, self.ledger.total);
        let mut step: Step = (0, Vec::new());
        for (added, unit) in units {
            // No step brings more within bounds than all that is over.
            let least = (step.0 + added) as f64 / over.max(NOTHING);
            if least >= 0.0 && best.is_dear(least) {
                break;
            }
            let Some(option) = self.cheapest(unit, |_| true, &wanted) else { continue };
            let now = self.open[unit].now;
            step.0 += self.open[unit].added(option);
            step.1.push((unit, option));
            self.ledger.exchange(self.lines[unit][now], self.lines[unit][option]);
            let gain = over - self.ledger.over;
            if gain > NOTHING {
                best.offer(step.0 as f64 / gain, step.clone());
            }
        }
        for &(unit, option) in step.1.iter().rev() {
            self.ledger.exchange(self.lines[unit][option], self.lines[unit][self.open[unit].now]);
        }
        (self.ledger.over, self.ledger.total) = (over, total);
    }

    /// The wanted change of a unit that costs least, as far as it may cost, without making anything shorter than it is.
    fn cheapest(
        &mut self,
        unit: usize,
        may_cost: impl Fn(i64) -> bool,
        wanted: impl Fn(&Piece<Family>) -> bool,
    ) -> Option<usize> {
        let (held, lines, ledger) = (&self.open[unit], &self.lines[unit], &mut *self.ledger);
        let before = (ledger.over, ledger.total);
        ledger.add(lines[held.now], -1);
        let out = (ledger.over, ledger.total);
        let options = (0..held.options.len()).filter(|&option| option != held.now);
        let options = options.take_while(|&option| may_cost(held.added(option)));
        let mut options = options.filter(|&option| wanted(&held.options[option].piece));
        let found = options.find(|&option| {
            ledger.add(lines[option], 1);
            let fits = ledger.over - before.0 <= NOTHING;
            ledger.add(lines[option], -1);
            (ledger.over, ledger.total) = out;
            fits
        });
        ledger.add(lines[held.now], 1);
        (ledger.over, ledger.total) = before;
        found
    }
}
