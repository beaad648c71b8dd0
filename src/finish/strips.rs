//! Strips joined end to end.

use super::Joins;
use crate::measure::Length;

/// A length made of strips of one width that are joined end to end, before pieces are cut off it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Run {
    /// Width that the strips are cut.
    pub strip: Length,
    /// The length that is needed.
    pub needed: Length,
    /// What one strip gives.
    pub each: Length,
    /// What a join takes of the length of both together.
    pub join: Length,
    /// How many strips.
    pub count: i64,
}

impl Run {
    /// The fewest strips that make `needed`; none where a strip is wider than long, or a join takes more than half of it.
    pub fn new(strip: Length, needed: Length, each: Length, join: Length) -> Option<Self> {
        (each >= strip && each >= join * 2i64).then(|| Self {
            strip,
            needed,
            each,
            join,
            count: strips_for(needed, each, join),
        })
    }

    /// How long the joined strips are.
    pub fn made(&self) -> Length {
        self.each * self.count - self.join * (self.count - 1)
    }

    /// The length of cloth that they take, one below the other.
    pub fn cloth(&self) -> Length {
        self.strip * self.count
    }
}

/// The fewest strips of which `n·each - (n - 1)·join` is at least `needed`.
pub fn strips_for(needed: Length, each: Length, join: Length) -> i64 {
    (needed - join).ceil_div(each - join).max(1)
}

impl Joins {
    /// What a join takes of two strips: two seams, or, on the diagonal, the strip's own width, for the strips cross at a
    /// right angle and half of that square of each is cut away.
    pub fn takes(self, strip: Length, seam: Length) -> Length {
        match self {
            Self::Straight => seam * 2i64,
            Self::Bias => strip,
        }
    }
}
