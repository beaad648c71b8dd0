//! The colours that a picture is made of, and how near fabrics come to each.

use palette::color_difference::HyAb;
use rayon::prelude::*;

use crate::fabric::{Print, Rgb, name, propose};
use crate::plan::{Address, Plan};

/// Into how many colours a picture is sorted.
const GROUPS: usize = 12;

/// Cells of a picture that are about one colour.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Group {
    /// Its colour in plain words.
    pub name: String,
    /// Its cells, row by row.
    pub cells: Vec<usize>,
}

/// How near the fabrics come to one group of colours.
#[derive(Clone, Debug, PartialEq)]
#[cfg_attr(not(feature = "internals"), non_exhaustive)]
pub struct Served {
    /// The group's colour in plain words.
    pub name: String,
    /// Its share of the top, 0 to 1.
    pub share: f64,
    /// The fabric nearest to it, by index.
    pub fabric: Print,
    /// How far that is off, mean HyAB over the group.
    pub off: f64,
    /// The unit that most of the group lies in.
    pub at: Address,
}

/// The picture's cells sorted into a few colours, small bright things apart.
pub fn groups(plan: &Plan) -> Vec<Group> {
    let (columns, rows) = plan.request.cells();
    let colours = propose(&plan.picture, columns, rows, &plan.focus, GROUPS, plan.request.seed);
    let labs: Vec<_> = colours.iter().map(|colour| colour.lab()).collect();
    let nearest = |cell: &Rgb| {
        let lab = cell.lab();
        let distance = |&at: &usize| labs[at].hybrid_distance(lab);
        (0..labs.len()).min_by(|a, b| distance(a).total_cmp(&distance(b)))
    };
    let sorted: Vec<Option<usize>> = plan.picture.par_iter().map(nearest).collect();
    let group = |(at, &colour): (usize, &Rgb)| Group {
        name: name(colour),
        cells: (0..sorted.len()).filter(|&cell| sorted[cell] == Some(at)).collect(),
    };
    let groups = colours.iter().enumerate().map(group);
    groups.filter(|group| !group.cells.is_empty()).collect()
}

/// The group that the plan's fabrics come least near to.
pub(super) fn worst(plan: &Plan, groups: &[Group]) -> Option<Served> {
    let served = groups.iter().filter_map(|group| served(plan, group));
    let worst = served.reduce(|worst, next| if next.1 > worst.1 { next } else { worst });
    worst.and_then(|(group, off, fabric)| {
        Some(Served {
            name: group.name.clone(),
            share: group.cells.len() as f64 / plan.picture.len().max(1) as f64,
            fabric,
            off,
            at: home(plan, group)?,
        })
    })
}

/// The nearest fabric to a group, and how far it is off.
fn served<'a>(plan: &Plan, group: &'a Group) -> Option<(&'a Group, f64, Print)> {
    let cells: Vec<_> = group.cells.iter().filter_map(|&cell| Some(plan.picture.get(cell)?.lab())).collect();
    let off = |fabric: Rgb| {
        let lab = fabric.lab();
        cells.iter().map(|cell| cell.hybrid_distance(lab)).sum::<f64>() / cells.len().max(1) as f64
    };
    let offs: Vec<f64> = plan.fabrics.raw.par_iter().map(|fabric| off(fabric.colour)).collect();
    let (fabric, off) = offs.into_iter().enumerate().min_by(|a, b| a.1.total_cmp(&b.1))?;
    Some((group, off, Print(fabric)))
}

/// The unit that holds most cells of the group; the first of equals.
fn home(plan: &Plan, group: &Group) -> Option<Address> {
    let columns = plan.request.cells().0.max(1) as usize;
    let mut wanted = vec![false; plan.picture.len()];
    for &cell in &group.cells {
        wanted.get_mut(cell).into_iter().for_each(|wanted| *wanted = true);
    }
    let held = |row: usize, x: usize, width: usize| {
        let start = row * columns + x;
        wanted.get(start..start + width).unwrap_or_default().iter().filter(|wanted| **wanted).count()
    };
    let placed = plan.placed();
    let counts = placed.iter().map(|unit| {
        let rows = unit.y as usize..(unit.y + unit.height) as usize;
        (unit.address, rows.map(|row| held(row, unit.x as usize, unit.unit.width as usize)).sum::<usize>())
    });
    counts.reduce(|best, next| if next.1 > best.1 { next } else { best }).map(|(address, _)| address)
}
