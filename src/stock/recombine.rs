//! Scenes put together from the rows of others: each price gives a scene that takes too much of one fabric and too
//! little of another, and a mixture of their rows takes just what there is.
//!
//! The most promising scenes keep their bands and columns; for the place of each row more rows are found at prices
//! about the best, and rows are exchanged one or two at a time (`exchange`), with a few kicks in between.
//!
//! Numbers without a source were found by trial, no figures kept; `cargo bench --bench stashes` shows what others do.

use std::ops::Range;

use rayon::prelude::*;

use super::exchange::Limits;
use super::planes::spread_out;
use super::prices::Pricing;
use super::row_pool::{Chosen, Place};
use super::stocks::{alone, price_list};
use crate::compose::Problem;

/// Scenes that are gone on with.
const SCENES: usize = 5;
/// So many times its price costs a cell over what there is, softly first, then so much that nothing is worth it.
const DEARER: [f64; 3] = [3.0, 10.0, 100.0];
/// What it costs more, so that it costs something where there is no price.
const MORE: f64 = 32.0;
/// Passes over each scene.
const PASSES: u32 = 4;
/// Kicks for each turn of a pass.
const KICKS: u32 = 20;
/// Most sums in the kicks of one pass over a scene.
const SUMS: usize = 3_000_000;
/// Most cells of rows, each in every family, that more rows are found for.
const CELLS: usize = 10_000_000;
/// How many times as much cost what is over after a pass.
const PRESSED: f64 = 3.0;

/// A scene by its rows, and the prices about which more rows are found for it.
type Recombined = (Vec<Chosen>, Vec<f64>);

impl Pricing<'_> {
    /// Puts scenes together from the rows found, and from more that are found in so many turns.
    pub fn recombine(&mut self, problem: &mut Problem, turns: u32) {
        let have: Vec<f64> = self.stocks.iter().map(|stock| stock.have * stock.cells).collect();
        let (centre, scenes) = (self.centre.clone(), std::mem::take(&mut self.scenes));
        let dear = DEARER.map(|times| centre.iter().map(|price| times * price + MORE).collect::<Vec<_>>());
        let limits = [0, 1, 2].map(|at| Limits { have: &have, prices: &centre, dear: &dear[at] });
        let mut recombined: Vec<Recombined> =
            self.promising(&scenes, &limits).into_iter().map(|scene| (scene, centre.clone())).collect();
        let kicks = turns * KICKS;
        let cells: usize = recombined.iter().map(|(scene, _)| self.cells(scene)).sum();
        let affords = CELLS / (cells * self.have.cloth.len() * PASSES as usize).max(1);
        let turns = turns.min(u32::try_from(affords).unwrap_or(turns).max(1));
        for pass in 0..PASSES {
            for (scene, prices) in &recombined {
                self.refine(problem, scene, prices, pass * turns..(pass + 1) * turns);
            }
            recombined = recombined
                .into_par_iter()
                .map(|(scene, _)| self.pressed(&scene, pass * kicks..(pass + 1) * kicks, &limits))
                .collect();
        }
        for (mut scene, _) in recombined {
            for limits in &limits {
                scene = self.pool.exchanged(&scene, limits);
                if !self.ready.watch.is_stopped() {
                    self.repair(problem, self.pool.scene(&scene));
                }
            }
        }
    }

    /// A scene with its rows exchanged, and prices for the next pass: of what is over still, less is tried then.
    fn pressed(&self, scene: &[Chosen], kicks: Range<u32>, limits: &[Limits; 3]) -> Recombined {
        let scene = self.kicked(self.softly(scene, limits), kicks, &limits[1]);
        let over =
            self.pool.takes(&scene, limits[0].have).into_iter().zip(limits[0].have).map(|(takes, have)| takes > *have);
        let prices = self.centre.iter().zip(over);
        (scene, prices.map(|(price, over)| if over { PRESSED * price + MORE } else { *price }).collect())
    }

    /// Rows are exchanged again after each of many kicks.
    fn kicked(&self, mut best: Vec<Chosen>, kicks: Range<u32>, limits: &Limits) -> Vec<Chosen> {
        let mut worth = self.pool.worth(&best, limits);
        let mut sums = 0;
        for turn in kicks {
            let (next, more) = self.pool.kicked(&best, turn, limits);
            sums += more;
            if sums > SUMS || self.ready.watch.is_stopped() {
                break;
            }
            let other = self.pool.worth(&next, limits);
            if other < worth {
                (best, worth) = (next, other);
            }
        }
        best
    }

    /// Scenes of different places to go on with: those best at the best prices, and those best once rows are exchanged.
    fn promising(&self, scenes: &[Vec<Chosen>], limits: &[Limits; 3]) -> Vec<Vec<Chosen>> {
        let judged = scenes.par_iter().map(|scene| {
            let exchanged = self.softly(scene, limits);
            let worth = [self.pool.priced(scene, &limits[0]), self.pool.worth(&exchanged, &limits[1])];
            (worth, self.places(scene), exchanged)
        });
        let mut judged: Vec<([f64; 2], Vec<Place>, Vec<Chosen>)> = judged.collect();
        let (mut seen, mut best) = (Vec::new(), Vec::new());
        for by in [0, 1] {
            judged.sort_by(|one, other| one.0[by].total_cmp(&other.0[by]));
            let mut new = Vec::new();
            for (_, places, scene) in &judged {
                if !seen.contains(places) && new.len() < SCENES {
                    seen.push(places.clone());
                    new.push(scene.clone());
                }
            }
            best.append(&mut new);
        }
        best
    }

    /// Cells along all rows of a scene.
    fn cells(&self, scene: &[Chosen]) -> usize {
        self.places(scene).iter().map(|place| (place.edges.1 - place.edges.0) as usize).sum()
    }

    fn places(&self, scene: &[Chosen]) -> Vec<Place> {
        let mut places: Vec<Place> = scene.iter().map(|row| self.pool.place(*row)).collect();
        places.sort_unstable();
        places
    }

    /// Exchanges where a little over costs little first.
    fn softly(&self, scene: &[Chosen], limits: &[Limits; 3]) -> Vec<Chosen> {
        self.pool.exchanged(&self.pool.exchanged(scene, &limits[0]), &limits[1])
    }

    /// More rows for the places of a scene, at prices about these.
    fn refine(&mut self, problem: &mut Problem, scene: &[Chosen], centre: &[f64], turns: Range<u32>) {
        let places = self.places(scene);
        for turn in turns {
            if self.ready.watch.is_stopped() {
                return;
            }
            let list = price_list(&self.stocks, self.have, self.parts, &spread_out(centre, turn));
            problem.set_prices(&list);
            let best = |&Place { y, height, edges }: &Place| {
                problem.best_row(y as usize, height as usize, edges.0 as usize, edges.1 as usize)
            };
            let rows: Vec<_> = places.par_iter().map(best).collect();
            for (place, row) in places.iter().zip(rows) {
                let Some((row, cost)) = row else { continue };
                self.pool.put(*place, row, cost, alone(self.ready, problem, &self.stocks, &list));
            }
        }
    }
}
