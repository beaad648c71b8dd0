//! From four texts to an account of what they sew, or the first fault.

use super::cut::Bench;
use super::fault::Fault;
use super::join::Walk;
use super::proven::Proven;
use super::{cutting, laid, mat, rows, scene, sew};

/// The texts that are checked against each other.
#[derive(Clone, Copy, Debug)]
pub struct Files<'a> {
    /// plan.json: what is to come out.
    pub plan: &'a str,
    /// rows.csv: what to turn, cut and join, in order.
    pub rows: &'a str,
    /// cutting.csv: what to cut and pair.
    pub cutting: &'a str,
    /// cloth.csv: out of which sheet of cloth each piece is cut.
    pub cloth: &'a str,
}

/// Cuts and sews what the others say and compares it, patch by patch, with the plan.
pub fn prove(files: &Files<'_>) -> Result<Proven, Fault> {
    let scene = scene::read(files.plan)?;
    let unit = scene.ruler.unit();
    let supplies = cutting::read(files.cutting, unit)?;
    let steps = rows::read(files.rows, unit)?;
    supplies.iter().try_for_each(|supply| sew::check(&scene, supply))?;
    let (proven, bench) = Walk::new(&scene, &steps, Bench::new(&scene, supplies, &steps)).sew()?;
    let sheets = mat::check(&scene, bench.supplies(), &laid::read(files.cloth, unit)?)?;
    Ok(Proven { sheets, ..proven })
}
