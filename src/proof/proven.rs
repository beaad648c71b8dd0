//! What a proof found to be in order.

use std::fmt;

use crate::measure::plural;

/// What was sewn on paper and agrees with the plan.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
#[cfg_attr(not(feature = "internals"), non_exhaustive)]
pub struct Proven {
    /// Units joined.
    pub units: usize,
    /// Patches compared, each in its place and its fabric.
    pub patches: usize,
    /// Rows joined.
    pub rows: usize,
    /// Columns joined.
    pub columns: usize,
    /// Bands joined.
    pub bands: usize,
    /// Fillers cut.
    pub fillers: usize,
    /// Slices that are the strip off another unit.
    pub offcuts: usize,
    /// Squares as bought that went into pairs.
    pub squares: u64,
    /// Sheets of cloth that all is cut from, squares among them.
    pub sheets: u64,
}

impl fmt::Display for Proven {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "cut and sewn on paper: {} in {} from {} and {}, out of {} of cloth, all {} patches as planned",
            plural(self.units, "unit"),
            plural(self.rows, "row"),
            plural(self.squares, "square"),
            plural(self.fillers, "filler"),
            plural(self.sheets, "piece"),
            self.patches
        )
    }
}
