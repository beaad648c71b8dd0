//! From three texts to an account of what they sew, or the first fault.

use std::fmt;

use super::cut::Bench;
use super::fault::Fault;
use super::join::Walk;
use super::{cutting, rows, scene, sew};

/// The texts that are checked against each other.
#[derive(Clone, Copy, Debug)]
pub struct Files<'a> {
    /// plan.json: what is to come out.
    pub plan: &'a str,
    /// rows.csv: what to turn, cut and join, in order.
    pub rows: &'a str,
    /// cutting.csv: what to cut and pair.
    pub cutting: &'a str,
}

/// What was sewn on paper and agrees with the plan.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
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
    /// Squares that went into pairs.
    pub squares: u64,
}

/// Sews what `rows` and `cutting` say and compares it, patch by patch, with the plan.
pub fn prove(files: &Files<'_>) -> Result<Proven, Fault> {
    let scene = scene::read(files.plan)?;
    let unit = scene.ruler.unit();
    let supplies = cutting::read(files.cutting, unit)?;
    let steps = rows::read(files.rows, unit)?;
    supplies.iter().try_for_each(|supply| sew::check(&scene, supply))?;
    Walk::new(&scene, &steps, Bench::new(&scene, supplies, &steps)).sew()
}

impl fmt::Display for Proven {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "sewn on paper: {} units in {} rows from {} squares and {} fillers, all {} patches as planned",
            self.units, self.rows, self.squares, self.fillers, self.patches
        )
    }
}
