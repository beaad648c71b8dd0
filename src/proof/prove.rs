//! From what was written to an account of what they sew, or the first fault.

use super::cut::Bench;
use super::fault::Fault;
use super::iron::Tones;
use super::join::Walk;
use super::laid::Laid;
use super::proven::Proven;
use super::rows::Step;
use super::scene::Scene;
use super::{asked, cutting, iron, laid, left, list, mat, png, prints, rows, scene, sew, stencil, svg, words};

/// The texts that say what is sewn, and how.
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

/// What was read, before it is sewn.
struct Read<'a> {
    cutting: &'a str,
    scene: Scene,
    steps: Vec<Step>,
    laid: Vec<Laid>,
}

impl<'a> Read<'a> {
    fn new(files: &Files<'a>) -> Result<Self, Fault> {
        let scene = scene::read(files.plan)?;
        let unit = scene.ruler.unit();
        let (steps, laid) = (rows::read(files.rows, unit)?, laid::read(files.cloth, unit)?);
        Ok(Self { cutting: files.cutting, scene, steps, laid })
    }

    fn sew(&self) -> Result<(Proven, Bench<'_>, Tones), Fault> {
        let Self { scene, steps, laid, .. } = self;
        let supplies = cutting::read(self.cutting, scene.ruler.unit(), scene.has_upright())?;
        supplies.iter().try_for_each(|supply| sew::check(scene, supply))?;
        let (proven, bench) = Walk::new(scene, steps, Bench::new(scene, supplies, steps)).sew()?;
        let tones = iron::check(scene, steps, &bench)?;
        let sheets = mat::check(scene, bench.supplies(), laid)?;
        Ok((Proven { sheets, ..proven }, bench, tones))
    }
}

/// Everything that is written of a scene.
#[derive(Clone, Copy, Debug)]
pub struct Folder<'a> {
    /// What is sewn, and how.
    pub files: Files<'a>,
    /// picture.svg: the scene.
    pub svg: &'a str,
    /// picture.png: the same in pixels.
    pub png: &'a [u8],
    /// build-list.html: what is printed.
    pub list: &'a str,
    /// leftovers.toml: what is left.
    pub leftovers: &'a str,
    /// stencil.svg, where there is one: half circles at full size.
    pub stencil: Option<&'a str>,
    /// prints.png, where there is one: the scene in its fabrics as they were photographed.
    pub prints: Option<&'a [u8]>,
}

/// Cuts and sews what the others say and compares it, patch by patch, with the plan.
pub fn prove(files: &Files<'_>) -> Result<Proven, Fault> {
    Ok(Read::new(files)?.sew()?.0)
}

/// The same, and whatever else is written: what was asked for, words, pictures and leftovers.
pub fn prove_folder(folder: &Folder<'_>) -> Result<Proven, Fault> {
    let read = Read::new(&folder.files)?;
    let Read { scene, steps, laid, .. } = &read;
    let (proven, bench, tones) = read.sew()?;
    asked::check(scene, steps)?;
    words::check(scene, steps, bench.supplies(), &tones)?;
    mat::check_close(scene, laid)?;
    svg::check(scene, folder.svg)?;
    let written = list::Written { scene, steps, bench: &bench, laid, tones: &tones, svg: folder.svg };
    let shelf = list::check(&written, folder.list)?;
    left::check(scene, steps, &bench, laid, shelf.as_ref(), folder.leftovers)?;
    png::check(scene, folder.png)?;
    stencil::check(scene, folder.stencil)?;
    prints::check(scene, folder.prints)?;
    Ok(proven)
}
