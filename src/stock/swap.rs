//! Two units change their families at once: one takes the better family that another gives back.
//!
//! Numbers without a source were found by trial, no figures kept; `cargo bench --bench stashes` shows what others do.

use std::collections::BTreeMap;

use typed_index_collections::{TiSlice, TiVec};

use super::ledger::{Line, NOTHING};
use super::repair::Repair;
use crate::fabric::Family;
use crate::plan::Piece;

/// Most times that the whole scene is gone through.
const PASSES: usize = 4;
/// Options of a unit that are looked at, and of one that gives back.
const WISHES: usize = 6;
const LEAVES: usize = 200;
/// Most pieces counted in and out.
const ADDS: u64 = 8_000_000;

/// A unit that may leave a family: what it adds to the error, the unit, its option now and then.
type Leaving = (i64, usize, usize, usize);

impl Repair<'_, '_> {
    /// Lets units have better families where others give back as much; the error that it saves.
    pub fn swap(&mut self) -> i64 {
        let mut saved = 0;
        let most = self.ledger.adds + ADDS;
        for _ in 0..PASSES {
            let leaving = self.leaving();
            let before = saved;
            for unit in 0..self.open.len() {
                if self.ledger.adds > most || self.ledger.is_stopped() {
                    return saved;
                }
                saved +=
                    self.wishes(unit).into_iter().find_map(|option| self.granted(unit, option, &leaving)).unwrap_or(0);
            }
            if saved == before {
                break;
            }
        }
        saved
    }

    /// By family: every change that takes less of it, the cheapest first.
    fn leaving(&self) -> TiVec<Family, Vec<Leaving>> {
        let mut leaving: TiVec<Family, Vec<Leaving>> = vec![Vec::new(); self.ledger.need.len()].into();
        for (index, unit) in self.open.iter().enumerate() {
            let now = unit.options[unit.now].piece;
            for (option, to) in
                unit.options.iter().enumerate().take(unit.now + LEAVES).filter(|(option, _)| *option != unit.now)
            {
                for family in now.fabrics() {
                    let count = |piece: Piece<Family>| piece.fabrics().filter(|fabric| *fabric == family).count();
                    if count(to.piece) < count(now) {
                        leaving[family].push((unit.added(option), index, unit.now, option));
                    }
                }
            }
        }
        leaving.iter_mut().for_each(|changes| {
            changes.sort_unstable();
            changes.dedup();
        });
        leaving
    }

    /// The options that are better than a unit's own, the best first.
    fn wishes(&self, unit: usize) -> Vec<usize> {
        let held = &self.open[unit];
        let mut better: Vec<(i64, usize)> = (0..held.options.len())
            .map(|option| (held.added(option), option))
            .filter(|(added, _)| *added < 0)
            .collect();
        better.sort_unstable();
        better.into_iter().take(WISHES).map(|(_, option)| option).collect()
    }

    /// Gives a unit its wish, if need be with another that gives back; the error that it saves.
    fn granted(&mut self, unit: usize, option: usize, leaving: &TiSlice<Family, Vec<Leaving>>) -> Option<i64> {
        let (before, now) = ((self.ledger.over, self.ledger.total), self.open[unit].now);
        let gain = -self.open[unit].added(option);
        self.change(unit, option);
        if self.ledger.over <= NOTHING {
            return Some(gain);
        }
        let short = leaving.keys().find(|&family| self.ledger.is_short(family));
        let changes = short.map_or(&[][..], |family| &leaving[family][..]);
        let mut enough: BTreeMap<Line, bool> = BTreeMap::new();
        for &(added, other, from, to) in changes.iter().take_while(|(added, ..)| *added < gain) {
            if other == unit || self.open[other].now != from {
                continue;
            }
            let leaves = self.lines[other][from];
            if !*enough.entry(leaves).or_insert_with(|| self.ledger.over + self.ledger.left_out(leaves) <= NOTHING) {
                continue;
            }
            let over = self.ledger.over;
            if over + self.ledger.exchanged(leaves, self.lines[other][to]) <= NOTHING {
                self.change(other, to);
                return Some(gain - added);
            }
        }
        self.change(unit, now);
        (self.ledger.over, self.ledger.total) = before;
        None
    }
}
