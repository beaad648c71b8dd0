//! `compose --largest`: the largest top that a stash makes.

use std::collections::BTreeMap;

use rowscape::compose::{ComposeError, SceneError};
use rowscape::fabric::Stash;
use rowscape::measure::Length;
use rowscape::picture::Picture;
use rowscape::plan::{Plan, Request};
use rowscape::stock::{
    self, Fitted, Gaps, Shortage, StockError, TRIAL_ROUNDS, Tried, fit, fit_easily, flat, is_heap, largest_of_heap,
};

use super::Failure;
use super::compose::{ComposeArguments, short, within};
use super::ground::{Ground, usual};

/// A shape, and the sizes of it that are tried.
struct Shape {
    /// Across and down.
    of: [u64; 2],
    /// Least and most columns of cells.
    columns: [u32; 2],
}

/// A scene of one size.
struct Scene {
    ground: Ground,
    plan: Plan,
    gaps: Gaps,
}

/// Why a size is not made.
enum Missed {
    /// The stash does not suffice.
    Stash(Shortage),
    /// Too much of the picture gives way.
    Picture(Gaps),
}

impl Missed {
    fn words(&self) -> String {
        match self {
            Self::Stash(shortage) => {
                let worst = shortage.families.iter().max_by_key(|lack| lack.area);
                let worst = worst.map(|lack| format!(": \"{}\" is short of about {}", lack.family, lack.amount()));
                format!("the next size that was tried, no scene was found{}", worst.unwrap_or_default())
            }
            Self::Picture(gaps) => {
                let [wished, made] = gaps.triangles;
                format!(
                    "the next size that was tried, {made} of {wished} triangle units would be left, and colours {:.0} % \
                     further from the picture",
                    (gaps.error - 1.0) * 100.0
                )
            }
        }
    }
}

/// Composes the largest top that is found, with what is to be said of it.
pub fn largest(arguments: &ComposeArguments, picture: &Picture, stash: &Stash) -> Result<(Plan, Vec<String>), Failure> {
    let request = usual(arguments)?;
    let shape = shape(arguments, picture, stash, &request)?;
    let mut missed: BTreeMap<u32, Missed> = BTreeMap::new();
    // A heap is quickly composed, and more rounds find tops that fewer do not.
    let heap = is_heap(&stash.fabrics());
    let rounds = if heap { arguments.rounds } else { TRIAL_ROUNDS.min(arguments.rounds) };
    let tried = |columns: u32| {
        let ground = Ground::new(arguments, picture, Some(stash), shape.sized(&request, columns))?;
        let found = if heap { fit(&ground.order(), rounds) } else { fit_easily(&ground.order(), rounds) };
        let miss = match found {
            Ok(Fitted { plan, gaps }) if heap || gaps.keeps_the_picture() => {
                return Ok(Tried::Made(Scene { ground, plan, gaps }));
            }
            Ok(Fitted { gaps, .. }) => Missed::Picture(gaps),
            Err(StockError::Scene(SceneError::Compose(ComposeError::NoFit))) => return Ok(Tried::NoRows),
            Err(StockError::Short(shortage)) => Missed::Stash(*shortage),
            Err(error) => return Err(short(error)),
        };
        missed.insert(columns, miss);
        Ok(Tried::Short)
    };
    let [least, most] = shape.columns;
    let found = if heap { largest_of_heap(least, most, tried)? } else { stock::largest(least, most, tried)? };
    let Some((columns, mut scene)) = found else { return Err(none(missed)) };
    // More rounds lead elsewhere: where they find less, what fewer of them found stands.
    if let Ok(Fitted { plan, gaps }) = fit(&scene.ground.order(), arguments.rounds)
        && (heap || gaps.keeps_the_picture())
    {
        (scene.plan, scene.gaps) = (plan, gaps);
    }
    let size = |columns: u32| {
        let Request { ruler, width, height, .. } = shape.sized(&request, columns);
        format!("{} x {}", ruler.show(width), ruler.show(height))
    };
    let said = format!("the largest top that this stash was found to make: {}", size(columns));
    let next = missed.range(columns..).next().map(|(&columns, miss)| format!("of {}, {}", size(columns), miss.words()));
    let notes = std::iter::once(said).chain(next).chain(scene.ground.notes);
    Ok((scene.plan, notes.chain(std::iter::once(within(&scene.gaps))).collect()))
}

const ADD: &str = "add to the stash, or take other squares or a finer grid";

fn none(missed: BTreeMap<u32, Missed>) -> Failure {
    match missed.into_values().next() {
        Some(Missed::Stash(shortage)) => Failure::new(StockError::Short(Box::new(shortage))).hint(ADD),
        Some(Missed::Picture(_)) => Failure::new("of this stash no top of this shape shows the picture").hint(ADD),
        None => Failure::new("the stash makes no top of this shape, however small").hint(ADD),
    }
}

/// The given shape or the picture's, and from the least size to what all cloth and pieces would cover laid flat.
fn shape(arguments: &ComposeArguments, picture: &Picture, stash: &Stash, request: &Request) -> Result<Shape, Failure> {
    let flat = flat(&stash.fabrics(), &stash.hand).ok_or_else(|| free(stash))?;
    let cells = |length: Length| u64::try_from(length.floor_div(request.grid)).unwrap_or(0);
    let given = [arguments.width, arguments.height].map(|side| side.map(|side| cells(side.value)));
    let of = match given {
        [Some(width), Some(height)] => [width.max(1), height.max(1)],
        _ => {
            let aspect = picture.aspect(&arguments.crop).map_err(|error| Failure::at(&arguments.picture, error))?;
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
fn free(stash: &Stash) -> Failure {
    let fabrics = stash.fabrics();
    let free = fabrics.iter().find(|fabric| fabric.supply.is_none());
    let name = free.map(|fabric| format!("{} {}", fabric.letter, fabric.name)).unwrap_or_default();
    Failure::new(format!("the stash does not say how much there is of {name}, so a top of it may be of any size"))
        .hint("write its squares or its yardage into the stash (`squares = []` for none), or give --width")
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
