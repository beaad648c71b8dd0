//! The pieces of most value that fit side by side in one strip.

/// Some pieces of one kind, taken together or not at all.
#[derive(Clone, Copy, Debug)]
struct Lot {
    kind: usize,
    count: i64,
    weight: usize,
    value: i64,
}

/// A bounded knapsack whose tables are kept between uses.
#[derive(Debug, Default)]
pub(super) struct Knapsack {
    lots: Vec<Lot>,
    best: Vec<i64>,
    took: Vec<bool>,
    room: usize,
}

impl Knapsack {
    pub fn clear(&mut self) {
        self.lots.clear();
    }

    /// Offers up to `count` pieces of a kind, in lots of 1, 2, 4 and so on.
    pub fn offer(&mut self, kind: usize, weight: usize, value: i64, count: i64, room: usize) {
        let most = room.checked_div(weight).map_or(count, |most| count.min(i64::try_from(most).unwrap_or(count)));
        let (mut left, mut lot) = (most, 1);
        while left > 0 && value > 0 {
            let take = left.min(lot);
            let weight = weight * usize::try_from(take).unwrap_or(usize::MAX);
            self.lots.push(Lot { kind, count: take, weight, value: value.saturating_mul(take) });
            (left, lot) = (left - take, lot * 2);
        }
    }

    /// The most value that `room` steps hold.
    pub fn solve(&mut self, room: usize) -> i64 {
        self.room = room;
        self.best.clear();
        self.best.resize(room + 1, 0);
        self.took.clear();
        self.took.resize(self.lots.len() * (room + 1), false);
        for (lot, took) in self.lots.iter().zip(self.took.chunks_mut(room + 1)) {
            for at in (lot.weight..=room).rev() {
                let with = self.best[at - lot.weight].saturating_add(lot.value);
                if with > self.best[at] {
                    self.best[at] = with;
                    took[at] = true;
                }
            }
        }
        self.best[room]
    }

    /// The pieces that give it: kinds in order, with counts.
    pub fn chosen(&self) -> Vec<(usize, i64)> {
        let (mut at, mut chosen) = (self.room, std::collections::BTreeMap::new());
        for (lot, took) in self.lots.iter().zip(self.took.chunks(self.room + 1)).rev() {
            if took[at] {
                *chosen.entry(lot.kind).or_insert(0) += lot.count;
                at -= lot.weight;
            }
        }
        chosen.into_iter().collect()
    }
}
