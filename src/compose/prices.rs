//! What cloth costs in the solver: whole numbers, each rounded down, so that no scene is priced too high.

use super::design::{filler_cloth, half_cloth};
use crate::unit::Vocabulary;

/// Prices of each colour; none where cloth is free.
#[derive(Default)]
pub struct Prices {
    /// By colour: block side in cells, price of half a unit.
    halves: Vec<Vec<(u32, u32)>>,
    /// By colour and height: price of a filler of no width, and of each cell along it.
    fillers: Vec<Vec<(u32, u32)>>,
}

impl Prices {
    /// Prices for fillers up to so many cells tall.
    pub fn new(vocabulary: &Vocabulary, prices: &[f64], tallest: usize) -> Self {
        let mut blocks: Vec<u32> = vocabulary.blocks.iter().map(|b| vocabulary.cells(b.finished)).collect();
        blocks.sort_unstable();
        blocks.dedup();
        let half = |price: f64| blocks.iter().map(|&b| (b, down(price * half_cloth(vocabulary, b)))).collect();
        let filler = |price: f64| {
            let of = |height: usize| {
                let start = filler_cloth(vocabulary, 0, height);
                (down(price * start), down(price * (filler_cloth(vocabulary, 1, height) - start)))
            };
            (0..=tallest).map(of).collect()
        };
        Self {
            halves: prices.iter().map(|&price| half(price)).collect(),
            fillers: prices.iter().map(|&price| filler(price)).collect(),
        }
    }

    /// The price of half a unit.
    #[inline(always)]
    pub fn half(&self, colour: usize, block: u32) -> u32 {
        let halves = self.halves.get(colour).map_or(&[][..], Vec::as_slice);
        halves.iter().find(|(side, _)| *side == block).map_or(0, |(_, price)| *price)
    }

    /// The price of a filler of a height: of no width, and of each cell along it.
    pub fn filler(&self, colour: usize, height: usize) -> (u32, u32) {
        self.fillers.get(colour).and_then(|fillers| fillers.get(height)).copied().unwrap_or_default()
    }

    /// The highest prices of a half, of a filler's start and of a cell along it.
    pub fn highest(&self) -> (u64, u64, u64) {
        let halves = self.halves.iter().flatten().map(|(_, price)| u64::from(*price)).max();
        let fillers = self.fillers.iter().flatten();
        let start = fillers.clone().map(|(start, _)| u64::from(*start)).max();
        let along = fillers.map(|(_, along)| u64::from(*along)).max();
        (halves.unwrap_or(0), start.unwrap_or(0), along.unwrap_or(0))
    }
}

/// Rounded down; a price that no sum could hold is cut off.
fn down(price: f64) -> u32 {
    price.clamp(0.0, f64::from(1 << 24)).floor() as u32
}
