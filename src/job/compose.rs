//! A scene from a picture, or once more from its plan.

use super::brief::Brief;
use super::error::JobError;
use super::largest::largest;
use super::prepare::Read;
use crate::answer::{Note, Scene};
use crate::compose::Order;
use crate::plan::Plan;
use crate::stock;
use crate::watch::{Stage, Watch};

/// Composes the scene that the brief asks for, from the bytes of its picture, and of the one that is bright where the
/// scene is to be finer.
pub fn compose(brief: &Brief, picture: &[u8], mask: Option<&[u8]>, watch: &Watch) -> Result<Scene, JobError> {
    composed(brief, picture, mask, watch).map_err(|error| error.unless(watch.go_on()))
}

fn composed(brief: &Brief, picture: &[u8], mask: Option<&[u8]>, watch: &Watch) -> Result<Scene, JobError> {
    let read = Read::new(brief, picture, mask, watch)?;
    let seen = read.picture.notes().iter().cloned().map(Note::Picture);
    if let (true, Some(stash)) = (brief.largest, &read.stash) {
        let mut scene = largest(&read, stash)?;
        scene.notes.splice(0..0, seen);
        return Ok(scene);
    }
    let (request, side) = read.settled()?;
    let prepared = read.prepare(request)?;
    watch.begins(Stage::Scene, 1, 1)?;
    let (plan, gaps) = stock::compose(&prepared.order(watch), brief.rounds)?;
    let notes = seen.chain(side).chain(prepared.notes.iter().cloned()).chain(gaps.map(Note::Within));
    Ok(Scene { notes: notes.collect(), plan, gaps })
}

/// Composes a plan's scene once more, from the cells and fabrics that it holds.
pub fn again(plan: &Plan, watch: &Watch) -> Result<Scene, JobError> {
    watch.begins(Stage::Scene, 1, 1)?;
    let composed = stock::compose(&Order::of(plan, watch), plan.request.rounds);
    let (plan, gaps) = composed.map_err(|error| JobError::from(error).unless(watch.go_on()))?;
    Ok(Scene { plan, gaps, notes: gaps.map(Note::Within).into_iter().collect() })
}
