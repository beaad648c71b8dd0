//! The exchanges that lower a deal's cost: straight down, then past its clashes by moves that may not be undone soon.
//!
//! Numbers without a source were found by trial, no figures kept; `cargo bench --bench prints` shows what others do.

use typed_index_collections::TiSlice;

use super::deal::{Cost, Deal, Move, NONE};
use crate::fabric::{Family, Print};
use crate::watch::Watch;

/// Moves past a clash for every unit of the scene.
const MOVES_A_UNIT: usize = 4;
/// Moves past a clash at least.
const LEAST_MOVES: usize = 400;
/// Moves tried for every unit on the way down.
const TRIES_A_UNIT: usize = 400;
/// Moves for which what was moved stays as it is.
const STAYS: usize = 5;

/// Lowers the cost of a deal whose clashes are known to be `least` or more.
pub fn search(deal: &mut Deal, prints: &TiSlice<Family, Vec<Print>>, least: usize, watch: &Watch) {
    let mut search = Search { prints, tries: TRIES_A_UNIT * deal.units.len(), watch };
    search.settle(deal);
    if deal.cost.clashes > least as i64 {
        search.loosen(deal, least as i64);
        search.settle(deal);
    }
}

struct Search<'a> {
    /// Prints by family.
    prints: &'a TiSlice<Family, Vec<Print>>,
    /// Moves that may still be tried on the way down.
    tries: usize,
    watch: &'a Watch,
}

impl Search<'_> {
    /// Makes every move that lowers the cost, until none does or the tries are spent.
    fn settle(&mut self, deal: &mut Deal) {
        loop {
            let before = deal.cost;
            for unit in 0..deal.units.len() {
                if self.watch.is_stopped() {
                    return;
                }
                let onward = |step: &Move| !matches!(step, Move::Swap(one, other) if other < one);
                self.try_all(deal, unit_moves(deal, unit).into_iter().filter(onward));
            }
            for (lot, side) in sides(deal) {
                let onward = |step: &Move| !matches!(step, Move::Exchange([one, other]) if other < one);
                self.try_all(deal, self.side_moves(deal, lot, side).into_iter().filter(onward));
            }
            if deal.cost >= before || self.tries == 0 {
                return;
            }
        }
    }

    fn try_all(&mut self, deal: &mut Deal, steps: impl Iterator<Item = Move>) {
        for step in steps {
            if self.tries == 0 {
                return;
            }
            if deal.allows(step) {
                self.tries -= 1;
                let before = deal.cost;
                let back = deal.make(step);
                if deal.cost >= before {
                    deal.make(back);
                }
            }
        }
    }

    /// Clash after clash, makes the best move that takes part in it, though it may cost; the best deal seen stays.
    fn loosen(&self, deal: &mut Deal, least: i64) {
        let mut best = deal.cost;
        let mut back: Vec<Move> = Vec::new();
        let mut stays = Stays { units: vec![0; deal.units.len()], lots: vec![[0; 2]; deal.lots.len()] };
        for round in 1..=LEAST_MOVES.max(MOVES_A_UNIT * deal.units.len()) {
            let clashing: Vec<usize> = deal.clashing().filter(|patch| deal.units[patch / 2].lot != NONE).collect();
            if best.clashes <= least || clashing.is_empty() {
                break;
            }
            let patch = clashing[round % clashing.len()];
            if let Some(step) = self.best_move(deal, patch, best, &stays, round) {
                back.push(deal.make(step));
                stays.until(step, round + STAYS + round % STAYS);
            }
            if deal.cost < best {
                best = deal.cost;
                back.clear();
            }
        }
        while let Some(step) = back.pop() {
            deal.make(step);
        }
    }

    fn best_move(&self, deal: &mut Deal, patch: usize, best: Cost, stays: &Stays, round: usize) -> Option<Move> {
        let (lot, side) = deal.side(patch);
        let mut steps = unit_moves(deal, patch / 2);
        steps.extend(self.side_moves(deal, lot, side));
        steps.retain(|step| deal.allows(*step));
        let mut found: Option<(Cost, Move)> = None;
        for step in steps {
            let cost = deal.would_cost(step);
            let open = cost.clashes < best.clashes || !stays.holds(step, round);
            if open && found.is_none_or(|(held, _)| cost < held) {
                found = Some((cost, step));
            }
        }
        found.map(|(_, step)| step)
    }

    /// Moves of a lot that change one of its prints.
    fn side_moves(&self, deal: &Deal, lot: usize, side: usize) -> Vec<Move> {
        let prints = &self.prints[deal.lots[lot].families[side]];
        let changes = prints.iter().map(|&print| Move::Change(lot, side, print));
        let others = &deal.sides[deal.side_of[lot][side]];
        changes.chain(others.iter().map(|&other| Move::Exchange([(lot, side), other]))).collect()
    }
}

/// Moves of a unit alone, or with another of its class.
fn unit_moves(deal: &Deal, unit: usize) -> Vec<Move> {
    let class = deal.units[unit].class;
    if class == NONE {
        return Vec::new();
    }
    let swaps = deal.classes[class].iter().map(|&other| Move::Swap(unit, other));
    let shifts = deal.spare[class].iter().map(|&lot| Move::Shift(unit, lot));
    std::iter::once(Move::Turn(unit)).chain(swaps).chain(shifts).collect()
}

fn sides(deal: &Deal) -> Vec<(usize, usize)> {
    (0..deal.lots.len()).flat_map(|lot| (0..deal.lots[lot].families.len()).map(move |side| (lot, side))).collect()
}

/// Until when units and sides of lots stay as they are.
struct Stays {
    units: Vec<usize>,
    lots: Vec<[usize; 2]>,
}

impl Stays {
    fn holds(&self, step: Move, round: usize) -> bool {
        match step {
            Move::Swap(u, v) => self.units[u].max(self.units[v]) > round,
            Move::Shift(unit, _) | Move::Turn(unit) => self.units[unit] > round,
            Move::Change(lot, side, _) => self.lots[lot][side] > round,
            Move::Exchange([(a, i), (b, j)]) => self.lots[a][i].max(self.lots[b][j]) > round,
        }
    }

    fn until(&mut self, step: Move, round: usize) {
        match step {
            Move::Swap(u, v) => {
                self.units[u] = round;
                self.units[v] = round;
            }
            Move::Shift(unit, _) | Move::Turn(unit) => self.units[unit] = round,
            Move::Change(lot, side, _) => self.lots[lot][side] = round,
            Move::Exchange([(a, i), (b, j)]) => {
                self.lots[a][i] = round;
                self.lots[b][j] = round;
            }
        }
    }
}
