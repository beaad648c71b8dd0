//! The same pieces in other fabrics: every size, cut and corner stays, each patch takes the best family.
//!
//! With the pieces fixed the units do not depend on each other, so the best of each is the best of all.

use rayon::prelude::*;
use typed_index_collections::{TiSlice, TiVec};

use super::cost::CostMap;
use super::labour::Labour;
use super::prices::quiet;
use super::scene::{choice, lay_prints};
use super::{Choice, Draft, Free, Order};
use crate::fabric::{Fabric, Family, OnHand, Print};
use crate::plan::{Address, Piece, Placed, Plan, Request, RequestError, remade};
use crate::prints::families;
use crate::unit::Triangle;
use crate::watch::UNWATCHED;

/// Why pieces cannot be made in other fabrics.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum RefitError {
    /// The plan's request does not hold.
    #[error(transparent)]
    Request(#[from] RequestError),
    /// There is nothing to sew with.
    #[error("there is no fabric to make the pieces in")]
    NoFabric,
    /// No fabric gives the filler in one piece.
    #[error("no fabric of it gives the filler at {address} in one piece: it finishes {size}")]
    Filler {
        /// Where it is.
        address: Address,
        /// What it finishes at.
        size: String,
    },
    /// Triangle units need two fabrics.
    #[error("the unit at {0} joins two fabrics, and this is one only")]
    OneFabric(Address),
}

/// The plan's pieces in `fabrics`.
///
/// Nothing in it is kept or sewn: the fabrics are others.
pub fn refit(plan: &Plan, fabrics: &TiSlice<Print, Fabric>) -> Result<Plan, RefitError> {
    let request = Request { colours: None, ..plan.request.clone() };
    let vocabulary = request.check()?;
    let order = Order::new(&request, &plan.picture, &plan.focus, fabrics);
    let families = families(fabrics, &[]);
    let choices: TiVec<Family, Choice> =
        families.iter().map(|prints| choice(&order, &vocabulary, prints, false)).collect();
    if choices.is_empty() {
        return Err(RefitError::NoFabric);
    }
    let map = CostMap::new(&plan.picture, &plan.focus, request.cells().0 as usize, &choices);
    let quiet = quiet(&choices, Labour::new(&vocabulary, &request).quiet);
    let placed = plan.placed();
    let pieces = placed.par_iter().map(|unit| piece(plan, unit, &map, &choices, &quiet));
    // The first unit that cannot be made is told, however many threads there are.
    let pieces: Result<Vec<_>, RefitError> = pieces.collect::<Vec<_>>().into_iter().collect();
    let mut pieces = pieces?.into_iter();
    let bands = remade(plan.bands.clone(), |unit, _| {
        let piece = pieces.next().expect("each unit has its piece");
        Draft::Free(Free { width: unit.width, piece })
    });
    let bands = lay_prints(bands, &families, &vocabulary, &UNWATCHED);
    Ok(Plan {
        request,
        fabrics: fabrics.to_vec(),
        hand: OnHand::default(),
        picture: plan.picture.clone(),
        focus: plan.focus.clone(),
        bands,
    })
}

/// The cheapest piece; `quiet` says what each pair of families is charged for being nearly one.
fn piece(
    plan: &Plan,
    placed: &Placed,
    map: &CostMap,
    choices: &TiSlice<Family, Choice>,
    quiet: &[u32],
) -> Result<Piece<Family>, RefitError> {
    let costs: TiVec<Family, [u64; 2]> = map.cells.iter().map(|cells| halves(cells, map.columns, placed)).collect();
    match placed.unit.piece {
        Piece::Filler(_) => {
            let (along, across) = (placed.unit.width as usize, placed.height as usize);
            let fits = choices.keys().filter(|&family| choices[family].longest(across) >= along);
            fits.min_by_key(|&family| costs[family][1]).map(Piece::Filler).ok_or_else(|| too_long(plan, placed))
        }
        Piece::Triangle(triangle) => pair(&triangle, placed, &costs, choices, quiet)
            .map(Piece::Triangle)
            .ok_or(RefitError::OneFabric(placed.address)),
    }
}

/// The cheapest two families; ties as the solver settles them, so that flat areas shimmer.
fn pair(
    triangle: &Triangle<Print>,
    placed: &Placed,
    costs: &TiSlice<Family, [u64; 2]>,
    choices: &TiSlice<Family, Choice>,
    quiet: &[u32],
) -> Option<Triangle<Family>> {
    let (width, height) = (placed.unit.width.max(1), placed.height.max(1));
    let exchange = (placed.x / width + placed.y / height / 2) % 2 == 1;
    let best = Choice::pairs(choices).min_by_key(|&(tip, rest)| {
        let quiet = quiet.get(tip.0 * choices.len() + rest.0).copied().unwrap_or(0);
        let cost = costs[tip][0] + costs[rest][1] + u64::from(quiet);
        (cost, tip.min(rest), tip.max(rest), (tip > rest) != exchange)
    });
    best.map(|(tip, rest)| triangle.of(tip, rest))
}

/// Doubled costs of the tip and of the rest in one colour; a filler is all rest.
fn halves(cells: &[u32], columns: usize, placed: &Placed) -> [u64; 2] {
    let (width, height) = (placed.unit.width as usize, placed.height as usize);
    let mut tip = 0;
    let mut all = 0;
    for dy in 0..height {
        let start = (placed.y as usize + dy) * columns + placed.x as usize;
        let row = &cells[start..start + width];
        all += sum(row) * 2;
        if let Piece::Triangle(triangle) = placed.unit.piece {
            tip += tip_of_row(
                row,
                if triangle.corner.is_upper() { dy } else { height - 1 - dy },
                width.min(height),
                triangle,
            );
        }
    }
    [tip, all - tip]
}

/// Doubled cost of the tip's cells in the row so many from the tip's corner: the last of them lies on the diagonal.
fn tip_of_row(row: &[u32], away: usize, leg: usize, triangle: Triangle<Print>) -> u64 {
    let taken = leg.saturating_sub(away).min(row.len());
    let part = if triangle.corner.is_left() { &row[..taken] } else { &row[row.len() - taken..] };
    let on_diagonal = if triangle.corner.is_left() { part.last() } else { part.first() };
    sum(part) * 2 - on_diagonal.map_or(0, |&cost| u64::from(cost))
}

fn sum(cells: &[u32]) -> u64 {
    cells.iter().map(|&cost| u64::from(cost)).sum()
}

fn too_long(plan: &Plan, placed: &Placed) -> RefitError {
    let (grid, ruler) = (plan.request.grid, plan.request.ruler);
    let size = format!("{} x {}", ruler.number(grid * placed.unit.width), ruler.show(grid * placed.height));
    RefitError::Filler { address: placed.address, size }
}
