//! The strips of most value that one sheet holds.

use super::build::Pattern;
use super::knapsack::Knapsack;
use super::order::Order;

/// Most steps that the height of a sheet is divided into.
const STEPS: i64 = 4096;

/// Whether widths and heights are rounded up, so that strips fit, or down, so that no strip is missed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Rounding {
    Up,
    Down,
}

/// Tables that are kept between uses.
#[derive(Debug, Default)]
pub(super) struct OneSheet {
    sack: Knapsack,
    strips: Vec<(i64, Pattern)>,
    /// By steps of height: the most value, and the strip that comes last, if it is one.
    best: Vec<(i64, Option<usize>)>,
    heights: Vec<usize>,
}

impl OneSheet {
    /// The most value of a sheet `room` high, and its strips.
    ///
    /// Each strip holds at most what is left of each kind, all strips together may hold more.
    pub fn fill(
        &mut self,
        order: &Order,
        room: i64,
        left: &[i64],
        prices: &[i64],
        to: Rounding,
    ) -> (i64, Vec<Pattern>) {
        let Some(room) = self.divide(order, room, to) else { return (i64::MAX, Vec::new()) };
        self.strips.clear();
        let fitting = self.heights.iter().filter(|&&height| height <= room).count();
        for index in 0..fitting {
            let strip = self.strip(order, index, left, prices, to);
            self.strips.push(strip);
        }
        self.stack(room);
        (self.best[room].0, self.chosen(room))
    }

    /// Heights in steps; the steps of the room. None where strips are lower than one step.
    fn divide(&mut self, order: &Order, room: i64, to: Rounding) -> Option<usize> {
        let grain = order.grain();
        let step = if room / grain <= STEPS { grain } else { room / STEPS + 1 };
        let steps = |height: i64| match to {
            Rounding::Up => (height + step - 1) / step,
            Rounding::Down => height / step,
        };
        self.heights.clear();
        self.heights.extend(order.heights.iter().filter_map(|&height| usize::try_from(steps(height)).ok()));
        self.heights.iter().all(|&height| height > 0).then(|| usize::try_from(room / step).unwrap_or(0))
    }

    fn strip(&mut self, order: &Order, index: usize, left: &[i64], prices: &[i64], to: Rounding) -> (i64, Pattern) {
        let room = order.capacity();
        self.sack.clear();
        for (kind, (&left, &price)) in left.iter().zip(prices).enumerate() {
            if let Some((width, _)) = order.way(index, kind) {
                let steps = if to == Rounding::Up { order.steps_up(width) } else { order.steps_down(width) };
                self.sack.offer(kind, steps, price, left, room);
            }
        }
        (self.sack.solve(room), Pattern { height: index, cuts: self.sack.chosen() })
    }

    fn stack(&mut self, room: usize) {
        self.best.clear();
        self.best.push((0, None));
        for at in 1..=room {
            let mut best = (self.best[at - 1].0, None);
            for (index, (value, _)) in self.strips.iter().enumerate().take_while(|strip| self.heights[strip.0] <= at) {
                let with = self.best[at - self.heights[index]].0.saturating_add(*value);
                if with > best.0 {
                    best = (with, Some(index));
                }
            }
            self.best.push(best);
        }
    }

    fn chosen(&self, room: usize) -> Vec<Pattern> {
        let (mut at, mut chosen) = (room, Vec::new());
        while at > 0 {
            let last = self.best[at].1;
            chosen.extend(last.map(|index| self.strips[index].1.clone()));
            at -= last.map_or(1, |index| self.heights[index]);
        }
        chosen
    }
}
