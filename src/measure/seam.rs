//! The seam allowance: as measured, as worked with, and what the difference does.

use serde::{Deserialize, Serialize};

use super::{Length, Ruler};

/// The maker's measured seam and the nearest one that the ruler can show, with which all is exact.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Seam {
    /// The seam as the maker's machine sews it.
    pub measured: Length,
    /// The nearest 1/32 in or 1/2 mm, in which every size is worked out.
    pub working: Length,
}

impl Seam {
    /// The seam as measured, worked with on `ruler`.
    pub fn measured(measured: Length, ruler: Ruler) -> Self {
        let step = ruler.seam_step();
        Self { measured, working: measured.round_to(step).max(step) }
    }

    /// What two seams take: finished + this = unfinished.
    pub fn both(self) -> Length {
        self.working * 2i64
    }

    /// What rows of `fewest` to `most` units, stacked `rows` high, really come out at.
    pub fn drift(self, width: Length, height: Length, fewest: usize, most: usize, rows: usize) -> Drift {
        let loss = |units: usize| (self.measured - self.working) * 2i64 * units as i64;
        let (one, other) = (width - loss(fewest), width - loss(most));
        Drift { narrowest: one.min(other), widest: one.max(other), height: height - loss(rows) }
    }
}

/// What a seam off the ruler does to the top.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Drift {
    /// Finished width of the narrowest row.
    pub narrowest: Length,
    /// Finished width of the widest row.
    pub widest: Length,
    /// Finished height of the top.
    pub height: Length,
}

impl Drift {
    /// By how much rows differ in width.
    pub fn between_rows(&self) -> Length {
        self.widest - self.narrowest
    }

    /// Whether rows differ by more than 1/8 in, which easing no longer hides (common practice, no source).
    pub fn needs_care(&self) -> bool {
        self.between_rows() > Length::inches(1, 8)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn works_with_the_nearest_mark() {
        let seam = Seam::measured(Length::inches(27, 100), Ruler::Inch);
        assert_eq!(seam.working, Length::inches(9, 32));
        let metric = Seam::measured(Length::mm(7) + Length::mm(1) / 10, Ruler::Metric);
        assert_eq!(metric.working, Length::mm(7));
    }

    #[test]
    fn drift_is_twice_the_difference_a_unit() {
        let seam = Seam { measured: Length::inches(17, 64), working: Length::inches(1, 4) };
        let drift = seam.drift(Length::inches(54, 1), Length::inches(72, 1), 6, 12, 8);
        assert_eq!(drift.between_rows(), Length::inches(6 * 2, 64));
        assert_eq!(drift.widest, Length::inches(54, 1) - Length::inches(12, 64));
        assert_eq!(drift.height, Length::inches(72, 1) - Length::inches(16, 64));
        assert!(drift.needs_care());
    }
}
