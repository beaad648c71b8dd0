//! Scenes put together from the rows of others: each price gives a scene that takes too much of one fabric and too
//! little of another, and a mixture of their rows takes just what there is.
//!
//! The most promising scenes keep their bands and columns; for the place of each row more rows are found at prices
//! about the best, and rows are exchanged one or two at a time (`exchange`), with a few kicks in between.

use rayon::prelude::*;

use super::exchange::Limits;
use super::pool::{Chosen, Place, evenly};
use super::prices::Market;
use super::stocks::{price_list, taken};
use crate::compose::Problem;

/// Scenes that are gone on with.
const SCENES: usize = 3;
/// How far prices are spread about the best, in turn.
const PARTS: [f64; 3] = [0.15, 0.4, 0.8];
/// So many times its price costs a cell over what there is, softly first, then so much that nothing is worth it.
const DEARER: [f64; 3] = [3.0, 10.0, 100.0];
/// What it costs more, so that it costs something where there is no price.
const MORE: f64 = 32.0;
/// Kicks.
const KICKS: u32 = 300;

/// Prices about the best, each a part higher or lower.
pub fn spread_out(centre: &[f64], turn: u32) -> Vec<f64> {
    let much = PARTS[turn as usize % PARTS.len()];
    let spread = |(index, price): (u32, &f64)| {
        let part = evenly(turn.wrapping_mul(64).wrapping_add(index), 2001) as f64 / 1000.0 - 1.0;
        (price * (1.0 + much * part) * 64.0).round() / 64.0
    };
    (0..).zip(centre).map(spread).collect()
}

impl Market<'_> {
    /// Puts scenes together from the rows found, and from more that are found in so many turns.
    pub fn mix(&mut self, problem: &mut Problem, turns: u32) {
        let have: Vec<f64> = self.stocks.iter().map(|stock| stock.have * stock.cells).collect();
        let (centre, scenes) = (self.centre.clone(), std::mem::take(&mut self.scenes));
        let dear = DEARER.map(|times| centre.iter().map(|price| times * price + MORE).collect::<Vec<_>>());
        let limits = [0, 1, 2].map(|at| Limits { have: &have, prices: &centre, dear: &dear[at] });
        for scene in self.promising(&scenes, &limits) {
            self.refine(problem, &scene, turns);
            let mut best = self.softly(&scene, &limits);
            for turn in 0..KICKS {
                let next = self.pool.kicked(&best, turn, &limits[1]);
                if self.pool.worth(&next, &limits[1]) < self.pool.worth(&best, &limits[1]) {
                    best = next;
                }
            }
            for limits in &limits[1..] {
                best = self.pool.exchanged(&best, limits);
                self.mend(problem, self.pool.scene(&best));
            }
        }
    }

    /// The best scenes of different places, once rows are exchanged.
    fn promising(&self, scenes: &[Vec<Chosen>], limits: &[Limits; 3]) -> Vec<Vec<Chosen>> {
        let exchanged = scenes.par_iter().map(|scene| {
            let scene = self.softly(scene, limits);
            (self.pool.worth(&scene, &limits[1]), self.places(&scene), scene)
        });
        let mut best: Vec<(f64, Vec<Place>, Vec<Chosen>)> = exchanged.collect();
        best.sort_by(|one, other| one.0.total_cmp(&other.0));
        let mut seen = Vec::new();
        best.retain(|(_, places, _)| {
            let new = !seen.contains(places);
            seen.push(places.clone());
            new
        });
        best.into_iter().take(SCENES).map(|(_, _, scene)| scene).collect()
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

    /// More rows for the places of a scene, at prices about the best.
    fn refine(&mut self, problem: &mut Problem, scene: &[Chosen], turns: u32) {
        let places = self.places(scene);
        for turn in 0..turns {
            let list = price_list(&self.stocks, self.have, &spread_out(&self.centre, turn));
            problem.set_prices(&list);
            let best = |&Place { y, height, edges }: &Place| {
                problem.best_row(y as usize, height as usize, edges.0 as usize, edges.1 as usize)
            };
            let rows: Vec<_> = places.par_iter().map(best).collect();
            for (place, row) in places.iter().zip(rows) {
                let Some((row, cost)) = row else { continue };
                self.pool.put(*place, row, cost, |row| {
                    let alone = std::slice::from_ref(row);
                    (problem.paid(alone), taken(self.ready, alone, &self.stocks, &list))
                });
            }
        }
    }
}
