//! The pieces of an order by size, and what of them fits a strip of each height.

/// Most steps that the width of the cloth is divided into; fewer for many kinds, but no fewer than `FEWEST`.
const STEPS: usize = 3072;
const FEWEST: usize = 512;
/// The highest price of a piece, so that prices of all pieces add up.
pub(super) const DEAREST: i64 = 1 << 44;

/// Pieces of one size, in ticks.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Kind {
    pub width: i64,
    pub height: i64,
    pub turn: bool,
}

impl Kind {
    /// Width and height of each way that it may lie.
    pub fn ways(self) -> impl Iterator<Item = (i64, i64)> {
        let turned = self.turn && self.width != self.height;
        std::iter::once((self.width, self.height)).chain(turned.then_some((self.height, self.width)))
    }

    /// The length of full width that has its area.
    pub fn share(self, cloth: i64) -> i64 {
        i64::try_from(self.area() / i128::from(cloth.max(1))).unwrap_or(DEAREST).clamp(1, DEAREST)
    }

    /// Area in square ticks.
    pub fn area(self) -> i128 {
        i128::from(self.width) * i128::from(self.height)
    }

    /// The same piece on a sheet that is turned.
    pub fn on_turned(self) -> Self {
        Self { width: self.height, height: self.width, turn: self.turn }
    }
}

/// What is cut from cloth of one width.
#[derive(Debug)]
pub(super) struct Order {
    pub kinds: Vec<Kind>,
    pub counts: Vec<i64>,
    pub width: i64,
    /// Heights that strips may have, from low to high.
    pub heights: Vec<i64>,
    /// By height and kind: the narrowest way that it fits, if it does.
    fits: Vec<Vec<Option<(i64, i64)>>>,
    step: i64,
}

impl Order {
    /// An order whose strips are at most `limit` high; kinds that fit no strip are left out.
    pub fn new(kinds: &[Kind], counts: &[i64], width: i64, limit: i64) -> Self {
        let ways = |kind: &Kind| kind.ways().filter(move |&(w, h)| w <= width && h <= limit).collect::<Vec<_>>();
        let ways: Vec<_> = kinds.iter().map(ways).collect();
        let mut heights: Vec<i64> = ways.iter().flatten().map(|way| way.1).collect();
        heights.sort_unstable();
        heights.dedup();
        let fit = |ways: &Vec<(i64, i64)>, height| ways.iter().copied().filter(|way| way.1 <= height).min();
        let fits = heights.iter().map(|&height| ways.iter().map(|ways| fit(ways, height)).collect()).collect();
        let common = ways.iter().flatten().fold(0, |all, way| gcd(all, way.0)).max(1);
        let counts = counts.iter().zip(&ways).map(|(&count, ways)| if ways.is_empty() { 0 } else { count }).collect();
        let steps = (STEPS * 8 / kinds.len().max(1)).clamp(FEWEST, STEPS) as i64;
        let step = if width / common <= steps { common } else { width / steps + 1 };
        Self { kinds: kinds.to_vec(), counts, width, heights, fits, step }
    }

    /// The way that a kind lies in a strip of the height of that index.
    pub fn way(&self, height: usize, kind: usize) -> Option<(i64, i64)> {
        *self.fits.get(height)?.get(kind)?
    }

    /// Whether a kind fits any strip.
    pub fn fits(&self, kind: usize) -> bool {
        self.heights.len().checked_sub(1).is_some_and(|last| self.way(last, kind).is_some())
    }

    pub fn height(&self, index: usize) -> i64 {
        self.heights.get(index).copied().unwrap_or(0)
    }

    /// Whole steps across the cloth.
    pub fn capacity(&self) -> usize {
        usize::try_from(self.width / self.step).unwrap_or(0)
    }

    /// Steps that a width takes: at least what it needs, for layouts.
    pub fn steps_up(&self, width: i64) -> usize {
        let steps = (width + self.step - 1) / self.step;
        usize::try_from(steps).unwrap_or(usize::MAX).clamp(1, self.capacity().max(1))
    }

    /// Steps that a width takes: at most what it needs, for bounds.
    pub fn steps_down(&self, width: i64) -> usize {
        usize::try_from(width / self.step).unwrap_or(0)
    }

    /// Every total length is a multiple of this.
    pub fn grain(&self) -> i64 {
        self.heights.iter().fold(0, |all, &height| gcd(all, height)).max(1)
    }

    /// Steps of work of one look at every height.
    pub fn work(&self) -> usize {
        (self.heights.len() * self.kinds.len() * self.capacity()).max(1)
    }
}

fn gcd(a: i64, b: i64) -> i64 {
    if b == 0 { a } else { gcd(b, a % b) }
}
