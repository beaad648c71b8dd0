//! The largest top that a stash makes.

use std::collections::BTreeMap;

use super::error::JobError;
use super::prepare::{Prepared, Read};
use crate::answer::{Missed, Note, Scene};
use crate::compose::{ComposeError, SceneError};
use crate::fabric::{Fabric, Stash};
use crate::measure::Length;
use crate::plan::{Plan, Request};
use crate::stock::{
    self, Fitted, Gaps, SizeTried, StockError, TRIAL_ROUNDS, fit, fit_easily, flat, is_heap, largest_of_heap,
};
use crate::watch::{Best, News, Stage};

/// A shape, and the sizes of it that are tried.
struct Shape {
    /// Across and down.
    of: [u64; 2],
    /// Least and most columns of cells.
    columns: [u32; 2],
}

/// A scene of one size.
struct Sized {
    prepared: Prepared,
    plan: Plan,
    gaps: Gaps,
}

/// Composes the largest top that is found.
pub(super) fn largest(read: &Read, stash: &Stash) -> Result<Scene, JobError> {
    let request = read.brief.request()?;
    let shape = shape(read, stash, &request)?;
    let mut missed: BTreeMap<u32, Missed> = BTreeMap::new();
    // A heap is quickly composed, and more rounds find tops that fewer do not.
    let heap = is_heap(&stash.fabrics());
    let most = read.brief.rounds;
    let rounds = if heap { most } else { TRIAL_ROUNDS.min(most) };
    let (quiet, mut sizes) = (read.watch.quietly(), 0);
    let tried = |columns: u32| {
        sizes += 1;
        read.watch.begins(Stage::Size, sizes, 0)?;
        let prepared = read.prepare(shape.sized(&request, columns))?;
        let order = prepared.order(&quiet);
        let found = if heap { fit(&order, rounds) } else { fit_easily(&order, rounds) };
        read.watch.go_on()?;
        let miss = match found {
            Ok(Fitted { plan, gaps }) if heap || gaps.keeps_the_picture() => {
                let best = Some(Best { plan: &plan, gap: gaps.whole });
                read.watch.tell(&News { stage: Stage::Size, part: sizes, parts: 0, best });
                return Ok(SizeTried::Made(Sized { prepared, plan, gaps }));
            }
            Ok(Fitted { gaps, .. }) => Missed::Picture(gaps),
            Err(StockError::Scene(SceneError::Compose(ComposeError::NoFit))) => return Ok(SizeTried::NoRows),
            Err(StockError::Short(shortage)) => Missed::Stash(*shortage),
            Err(error) => return Err(JobError::from(error)),
        };
        missed.insert(columns, miss);
        Ok(SizeTried::Short)
    };
    let [least, most] = shape.columns;
    let found = if heap { largest_of_heap(least, most, tried)? } else { stock::largest(least, most, tried)? };
    let Some((columns, mut scene)) = found else { return Err(none(missed)) };
    // More rounds lead elsewhere: where they find less, what fewer of them found stands.
    let more = fit(&scene.prepared.order(read.watch), read.brief.rounds);
    read.watch.go_on()?;
    if let Ok(Fitted { plan, gaps }) = more
        && (heap || gaps.keeps_the_picture())
    {
        (scene.plan, scene.gaps) = (plan, gaps);
    }
    let sides = |columns: u32| {
        let Request { width, height, .. } = shape.sized(&request, columns);
        [width, height]
    };
    let next = missed.into_iter().find(|(size, _)| *size >= columns);
    let next = next.map(|(columns, miss)| Note::Next(sides(columns), miss));
    let notes = std::iter::once(Note::Largest(sides(columns))).chain(next).chain(scene.prepared.notes);
    let notes = notes.chain(std::iter::once(Note::Within(scene.gaps))).collect();
    Ok(Scene { plan: scene.plan, gaps: Some(scene.gaps), notes })
}

fn none(missed: BTreeMap<u32, Missed>) -> JobError {
    match missed.into_values().next() {
        Some(Missed::Stash(shortage)) => JobError::NoTop(Box::new(shortage)),
        Some(Missed::Picture(_)) => JobError::NoPicture,
        None => JobError::NoShape,
    }
}

/// The given shape or the picture's, and from the least size to what all cloth and pieces would cover laid flat.
fn shape(read: &Read, stash: &Stash, request: &Request) -> Result<Shape, JobError> {
    let flat = flat(&stash.fabrics(), &stash.hand).ok_or_else(|| endless(stash))?;
    let cells = |length: Length| u64::try_from(length.floor_div(request.grid)).unwrap_or(0);
    let given = [read.brief.width, read.brief.height].map(|side| side.map(cells));
    let of = match given {
        [Some(width), Some(height)] => [width.max(1), height.max(1)],
        _ => {
            let aspect = read.aspect()?;
            [u64::from(aspect.0.max(1)), u64::from(aspect.1.max(1))]
        }
    };
    let one = i128::from(request.grid.ticks()).pow(2);
    let area = u64::try_from(flat / one).unwrap_or(u64::MAX);
    let [wide, tall] = given.map(|side| side.unwrap_or(u64::MAX).min(Request::MOST_CELLS.into()));
    let shape = Shape { of, columns: [0; 2] };
    let holds = |columns: &u32| {
        let (columns, rows) = (u64::from(*columns), u64::from(shape.rows(*columns)));
        columns <= wide && rows <= tall && columns * rows <= area
    };
    let least_cells = request.least.ceil_div(request.grid).max(1);
    let least = |columns: &u32| i64::from(*columns.min(&shape.rows(*columns))) >= least_cells;
    let sizes = || 1..=Request::MOST_CELLS;
    let least = sizes().find(least).unwrap_or(Request::MOST_CELLS);
    let most = sizes().rev().find(holds).unwrap_or(0);
    Ok(Shape { columns: [least, most], ..shape })
}

/// A fabric without counts has no end.
fn endless(stash: &Stash) -> JobError {
    let fabric = stash.fabrics().into_iter().find(|fabric| fabric.supply.is_none());
    let Fabric { letter, name, .. } = fabric.expect("what lies flat is known where every fabric is counted");
    JobError::Endless { letter, name }
}

impl Shape {
    /// Rows of cells of so many columns, to the nearest.
    fn rows(&self, columns: u32) -> u32 {
        let [across, down] = self.of;
        u32::try_from((2 * u64::from(columns) * down + across) / (2 * across)).unwrap_or(u32::MAX)
    }

    fn sized(&self, request: &Request, columns: u32) -> Request {
        let (width, height) = (request.grid * columns, request.grid * self.rows(columns));
        Request { width, height, ..request.clone() }
    }
}
