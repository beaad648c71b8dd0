//! The same pieces in other fabrics: every size, cut and corner stays, each patch takes the best family.
//!
//! With the pieces fixed the units do not depend on each other, so the best of each is the best of all.

use rayon::prelude::*;
use typed_index_collections::{TiSlice, TiVec};

use super::cost::CostMap;
use super::labour::Labour;
use super::pieces::{in_families, nearly_one, patch_sum};
use super::prices::quiet;
use super::scene::{choice, lay_prints};
use super::{Choice, Draft, Free, Order};
use crate::fabric::{Fabric, Family, OnHand, Print};
use crate::measure::{Length, Ruler};
use crate::plan::{Address, Piece, Placed, Plan, Progress, Request, RequestError, remade, stand};
use crate::prints::families;
use crate::watch::UNWATCHED;

/// Why pieces cannot be made in other fabrics.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum RefitError {
    /// The plan's request does not hold.
    #[error(transparent)]
    Request(#[from] RequestError),
    /// There is nothing to sew with.
    #[error("there is no fabric to make the pieces in")]
    NoFabric,
    /// No fabric gives the filler in one piece.
    #[error(
        "no fabric of it gives the filler at {address} in one piece: it finishes {} x {}",
        ruler.number(*.width), ruler.show(*.height)
    )]
    Filler {
        /// Where it is.
        address: Address,
        /// Its finished width.
        width: Length,
        /// Its finished height.
        height: Length,
        /// The maker's ruler.
        ruler: Ruler,
    },
    /// Prints that stand upright, of which the squares give no such unit.
    #[error("the squares give no unit for {0} in which the prints that it would be of stand upright")]
    Upright(Address),
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
    let mut bands = lay_prints(bands, &families, &vocabulary, &UNWATCHED);
    stand(&mut bands, fabrics);
    Ok(Plan {
        request,
        fabrics: fabrics.to_vec(),
        hand: OnHand::default(),
        picture: plan.picture.clone(),
        focus: plan.focus.clone(),
        bands,
        numbers: plan.numbers.clone(),
        progress: Progress::default(),
    })
}

/// The cheapest piece; ties as the solver settles them, so that flat areas shimmer. `quiet` says what each pair of
/// families is charged for being nearly one.
fn piece(
    plan: &Plan,
    placed: &Placed,
    map: &CostMap,
    choices: &TiSlice<Family, Choice>,
    quiet: &[u32],
) -> Result<Piece<Family>, RefitError> {
    let costs: TiVec<Family, [u64; 2]> = map.cells.iter().map(|cells| halves(cells, map.columns, placed)).collect();
    let (width, height) = (placed.unit.width.max(1), placed.height.max(1));
    let exchange = (placed.x / width + placed.y / height / 2) % 2 == 1;
    let best = in_families(placed, choices).into_iter().min_by_key(|piece| {
        let cost = patch_sum(piece, |family, patch| costs[family][patch]);
        let cost = cost + u64::from(nearly_one(piece, choices.len(), quiet));
        (cost, piece.fabrics().min(), piece.fabrics().max(), piece.fabrics().is_sorted() == exchange)
    });
    best.ok_or_else(|| match placed.unit.piece.filler() {
        Some(_) => too_long(plan, placed),
        None if choices.iter().any(|choice| choice.upright.is_some()) => RefitError::Upright(placed.address),
        None => RefitError::OneFabric(placed.address),
    })
}

/// Doubled costs of the patches in one colour.
fn halves(cells: &[u32], columns: usize, placed: &Placed) -> [u64; 2] {
    let (width, height) = (placed.unit.width, placed.height);
    let mut costs = [0; 2];
    for (dx, dy) in (0..height).flat_map(|dy| (0..width).map(move |dx| (dx, dy))) {
        let cost = cells[(placed.y + dy) as usize * columns + (placed.x + dx) as usize];
        let patches = placed.unit.piece.patches_at([dx, dy], width, height);
        patches.into_iter().for_each(|patch| costs[patch] += u64::from(cost));
    }
    costs
}

fn too_long(plan: &Plan, placed: &Placed) -> RefitError {
    let (grid, ruler) = (plan.request.grid, plan.request.ruler);
    let (width, height) = (grid * placed.unit.width, grid * placed.height);
    RefitError::Filler { address: placed.address, width, height, ruler }
}
