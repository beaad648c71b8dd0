//! From fabrics and cells to a plan: families are composed with, then prints are laid on the patches.

use std::collections::BTreeMap;

use super::{Choice, ComposeError, Composed, Design, Labour, Problem};
use crate::fabric::{Fabric, Rgb};
use crate::measure::Length;
use crate::plan::{Band, Depth, Piece, Plan, Request, RequestError};
use crate::unit::{Triangle, Vocabulary};

/// What a scene is composed of.
pub struct Order<'a> {
    /// What was asked for.
    pub request: &'a Request,
    /// The picture's colour in each cell, row by row.
    pub picture: &'a [Rgb],
    /// Weight of each cell, 4 being plain; empty where all are.
    pub focus: &'a [u8],
    /// The prints.
    pub fabrics: &'a [Fabric],
    /// For each print the sketch colour that stands for it and nothing else.
    pub sketches: &'a [Option<Rgb>],
}

/// Why an order makes no scene.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum SceneError {
    /// The request does not hold.
    #[error(transparent)]
    Request(#[from] RequestError),
    /// The solver found none.
    #[error(transparent)]
    Compose(#[from] ComposeError),
}

/// Composes the best scene and freezes it.
pub fn scene(order: &Order) -> Result<(Plan, Composed), SceneError> {
    let request = order.request;
    let vocabulary = request.check()?;
    let families = families(order.fabrics);
    let choices: Vec<Choice> = families.iter().map(|prints| choice(order, &vocabulary, prints)).collect();
    let step = vocabulary.cells(request.edge_step).max(1) as usize;
    let mut composed = Problem::new(&Design {
        picture: order.picture,
        focus: order.focus,
        columns: request.cells().0 as usize,
        choices: &choices,
        vocabulary: &vocabulary,
        labour: Labour::new(&vocabulary, request.detail, request.triangles),
        edge_step: (request.depth == Depth::Bands).then_some(step),
        locks: Vec::new(),
    })?
    .solve()?;
    lay_prints(&mut composed.bands, &families, &vocabulary);
    let plan = Plan {
        request: request.clone(),
        fabrics: order.fabrics.to_vec(),
        picture: order.picture.to_vec(),
        focus: order.focus.to_vec(),
        bands: composed.bands.clone(),
    };
    Ok((plan, composed))
}

/// Prints by family, families in the order of their first print.
pub(super) fn families(fabrics: &[Fabric]) -> Vec<Vec<usize>> {
    let mut names: Vec<&str> = Vec::new();
    let mut families: Vec<Vec<usize>> = Vec::new();
    for (index, fabric) in fabrics.iter().enumerate() {
        match names.iter().position(|name| *name == fabric.family) {
            Some(at) => families[at].push(index),
            None => {
                names.push(&fabric.family);
                families.push(vec![index]);
            }
        }
    }
    families
}

pub(super) fn choice(order: &Order, vocabulary: &Vocabulary, prints: &[usize]) -> Choice {
    let request = order.request;
    let cells = |length| vocabulary.cells(length) as usize;
    // The spare of row ends lies along the row, so the two sides of what a square gives may differ.
    let fits = |across: Length| (cells(request.filler_limit(across)), cells(across - request.seam.both()));
    let longest = |print: &usize| fits(order.fabrics[*print].only_squares.unwrap_or(request.cloth_width));
    Choice {
        colour: mean(prints.iter().map(|&print| order.fabrics[print].colour)),
        sketch: prints.iter().find_map(|&print| order.sketches.get(print).copied().flatten()),
        two_prints: prints.len() > 1,
        // A filler may fall to any print of the family, so the least of them holds.
        cloth: prints.iter().map(longest).min().into_iter().collect(),
    }
}

/// The mean of colours in linear light: what reads from across the room.
pub(super) fn mean(colours: impl ExactSizeIterator<Item = Rgb>) -> Rgb {
    let count = colours.len().max(1) as f64;
    let sum = colours.fold([0.0; 3], |sum: [f64; 3], colour| {
        let linear = colour.linear();
        std::array::from_fn(|i| sum[i] + linear[i])
    });
    Rgb::from_linear(sum.map(|total| total / count))
}

/// Gives each patch a print of its family: as many units as one pair of squares yields share their prints.
fn lay_prints(bands: &mut [Band], families: &[Vec<usize>], vocabulary: &Vocabulary) {
    let mut made: BTreeMap<(usize, usize, u32), usize> = BTreeMap::new();
    let mut cut = vec![0_usize; families.len()];
    let units = bands.iter_mut().flat_map(|b| &mut b.columns).flat_map(|c| &mut c.rows).flat_map(|r| &mut r.units);
    for unit in units {
        match &mut unit.piece {
            Piece::Filler(fabric) => {
                let family = *fabric;
                *fabric = turn_about(&families[family], cut[family]);
                cut[family] += 1;
            }
            Piece::Triangle(triangle) => {
                let (first, second) = triangle.pair();
                let before = made.entry((first, second, triangle.block)).or_default();
                let pair = *before / yields(vocabulary, triangle);
                *before += 1;
                lay_pair(triangle, families, pair);
            }
        }
    }
}

fn turn_about(prints: &[usize], number: usize) -> usize {
    prints[number % prints.len()]
}

fn yields(vocabulary: &Vocabulary, triangle: &Triangle) -> usize {
    let block = vocabulary.blocks.iter().find(|b| vocabulary.cells(b.finished) == triangle.block);
    block.map_or(1, |block| block.at_a_time.yields() as usize)
}

/// Prints for the pair of squares of that number; two different ones where both are of one family.
fn lay_pair(triangle: &mut Triangle, families: &[Vec<usize>], pair: usize) {
    let (first, second) = triangle.pair();
    let one = turn_about(&families[first], pair);
    let other = if first == second {
        turn_about(&families[second], pair + 1)
    } else {
        turn_about(&families[second], pair + pair / families[first].len())
    };
    if triangle.tip == first {
        (triangle.tip, triangle.rest) = (one, other);
    } else {
        (triangle.tip, triangle.rest) = (other, one);
    }
}
