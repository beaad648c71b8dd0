//! From fabrics and cells to a plan: families are composed with, then prints are laid on the patches.

use std::collections::BTreeMap;

use typed_index_collections::{TiSlice, TiVec};

use super::before::release;
use super::design::UprightSizes;
use super::problem::mean_of;
use super::{Before, Choice, ComposeError, Composed, Design, Draft, Free, Labour, Lock, Problem};
use crate::cutting::largest_fillers;
use crate::fabric::{Fabric, Family, OnHand, Print, Rgb};
use crate::measure::Length;
use crate::plan::{
    Band, Depth, Item, Numbers, Piece, Plan, Progress, Request, RequestError, State, Unit, items, remade, stand,
};
use crate::prints::{Rules, families, spread};
use crate::unit::{Corner, Triangle, Vocabulary};
use crate::watch::{Stopped, UNWATCHED, Watch};

/// What a scene is composed of.
pub struct Order<'a> {
    /// What was asked for.
    pub request: &'a Request,
    /// The picture's colour in each cell, row by row.
    pub picture: &'a [Rgb],
    /// Weight of each cell, 4 being plain; empty where all are.
    pub focus: &'a [u8],
    /// The prints.
    pub fabrics: &'a TiSlice<Print, Fabric>,
    /// What is sewn and cut already.
    pub hand: &'a OnHand,
    /// Prints that ran out: nothing more is made of them.
    pub without: &'a [Print],
    /// What stands already.
    pub standing: &'a Standing,
    /// Who follows it.
    pub watch: &'a Watch,
}

/// What is not to be composed, and what is to be composed there and nowhere else.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Standing {
    /// Units that stay.
    pub locks: Vec<Lock>,
    /// Places with a wish.
    pub wishes: Vec<Wish>,
    /// Edges off the step that columns and bands have, in cells.
    pub edges: [Vec<usize>; 2],
    /// What was there before, and how much less it costs.
    pub before: Before,
}

static EMPTY: OnHand = OnHand { units: Vec::new(), slices: Vec::new(), fillers: Vec::new() };
static NOTHING: Standing =
    Standing { locks: Vec::new(), wishes: Vec::new(), edges: [const { Vec::new() }; 2], before: Before::NOTHING };

impl<'a> Order<'a> {
    /// A scene with nothing standing yet.
    pub fn new(request: &'a Request, picture: &'a [Rgb], focus: &'a [u8], fabrics: &'a TiSlice<Print, Fabric>) -> Self {
        Self { request, picture, focus, fabrics, hand: &EMPTY, without: &[], standing: &NOTHING, watch: &UNWATCHED }
    }

    /// What a plan was composed of.
    pub fn of(plan: &'a Plan, watch: &'a Watch) -> Self {
        Self { hand: &plan.hand, watch, ..Self::new(&plan.request, &plan.picture, &plan.focus, &plan.fabrics) }
    }
}

/// A filler or a whole unit that is wanted at a place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Wish {
    /// Left edge in cells.
    pub x: usize,
    /// Upper edge.
    pub y: usize,
    /// Width.
    pub width: usize,
    /// Height.
    pub height: usize,
    /// Whether a whole triangle unit is wanted, not a filler.
    pub whole: bool,
    /// The print that a filler is to be of.
    pub print: Option<Print>,
}

/// Why an order makes no scene.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum SceneError {
    /// The request does not hold.
    #[error(transparent)]
    Request(#[from] RequestError),
    /// The solver found none.
    #[error(transparent)]
    Compose(#[from] ComposeError),
    /// A wish cannot be granted.
    #[error("{why}")]
    Wish {
        /// Its place among the wishes.
        index: usize,
        /// Why not.
        why: Ungranted,
    },
}

/// Why the fabrics grant no wish.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum Ungranted {
    /// No fabric's cloth is large enough.
    #[error("no fabric gives a filler of that size in one piece")]
    NoFiller,
    /// A triangle unit takes two fabrics.
    #[error("a triangle unit takes two fabrics, and only one is left")]
    OneFabric,
}

/// So that `?` stops whatever composes.
impl From<Stopped> for SceneError {
    fn from(stopped: Stopped) -> Self {
        Self::Compose(stopped.into())
    }
}

/// Composes the best scene and freezes it; cloth is free.
pub fn scene(order: &Order) -> Result<(Plan, Composed), SceneError> {
    let ready = Ready::new(order)?;
    let problem = ready.problem(order)?;
    let composed = problem.solve()?;
    let bands = ready.lay_prints(&problem, &composed.bands);
    order.watch.go_on()?;
    let plan = ready.plan(order, bands);
    Ok((plan, composed))
}

/// An order made ready: its families, and what the solver knows of them.
pub struct Ready {
    /// The units that the squares give.
    pub vocabulary: Vocabulary,
    /// Prints by family, families in the order of their first print.
    pub families: TiVec<Family, Vec<Print>>,
    /// What the solver knows of each family.
    pub choices: TiVec<Family, Choice>,
    /// What is on hand, by family; what the scene has no use for is left out.
    pub on_hand: BTreeMap<Item<Family>, u32>,
    /// Who follows it.
    pub(crate) watch: Watch,
}

impl Ready {
    /// Checks the request and gathers the families; a filler may come from any sheet of a counted family.
    pub fn new(order: &Order) -> Result<Self, SceneError> {
        Self::with(order, false)
    }

    /// The same with fillers no larger than the largest sheet of every print gives: fewer scenes, which are easier to cut.
    pub fn easily_cut(order: &Order) -> Result<Self, SceneError> {
        Self::with(order, true)
    }

    fn with(order: &Order, easily_cut: bool) -> Result<Self, SceneError> {
        let vocabulary = order.request.check()?;
        let families = families(order.fabrics, order.without);
        let choices = families.iter().map(|prints| choice(order, &vocabulary, prints, easily_cut)).collect();
        let on_hand = on_hand(order, &vocabulary, &families);
        Ok(Self { vocabulary, families, choices, on_hand, watch: order.watch.clone() })
    }

    /// The solver over the order, with what stands in its place and cloth free.
    pub fn problem<'a>(&'a self, order: &Order<'a>) -> Result<Problem<'a>, SceneError> {
        let request = order.request;
        let step = self.vocabulary.cells(request.edge_step).max(1) as usize;
        let mut problem = Problem::new(&Design {
            picture: order.picture,
            focus: order.focus,
            columns: request.cells().0 as usize,
            choices: &self.choices,
            vocabulary: &self.vocabulary,
            labour: Labour::new(&self.vocabulary, request),
            edge_step: (request.depth == Depth::Bands).then_some(step),
            locks: order.standing.locks.clone(),
            prices: TiVec::new(),
            edges: order.standing.edges.clone(),
        })?;
        problem.watch = order.watch.clone();
        problem.favour(&order.standing.before, |print| self.family(print));
        for (index, wish) in order.standing.wishes.iter().enumerate() {
            let lock = granted(&problem, wish, &self.families);
            problem.lock(lock.map_err(|why| SceneError::Wish { index, why })?);
        }
        Ok(problem)
    }

    /// The family of a print; none of one that ran out.
    pub fn family(&self, print: Print) -> Option<Family> {
        family_of(&self.families, print)
    }

    /// Gives each free patch a print; what stayed as it was keeps its own.
    pub fn lay_prints(&self, problem: &Problem, bands: &[Band<Draft>]) -> Vec<Band> {
        let (bands, held) = problem.hold(bands);
        let mut bands = lay_prints(bands, &self.families, &self.vocabulary, &self.watch);
        release(&mut bands, &held);
        bands
    }

    /// The plan of these bands.
    pub fn plan(&self, order: &Order, mut bands: Vec<Band>) -> Plan {
        stand(&mut bands, order.fabrics);
        Plan {
            request: order.request.clone(),
            fabrics: order.fabrics.to_vec(),
            hand: order.hand.clone(),
            picture: order.picture.to_vec(),
            focus: order.focus.to_vec(),
            bands,
            numbers: Numbers::NONE,
            progress: Progress::default(),
        }
    }
}

fn family_of(families: &TiSlice<Family, Vec<Print>>, print: Print) -> Option<Family> {
    families.position(|prints| prints.contains(&print))
}

/// What is on hand, summed by family: units and strips of the sizes that the squares give too, and all fillers.
fn on_hand(
    order: &Order,
    vocabulary: &Vocabulary,
    families: &TiSlice<Family, Vec<Print>>,
) -> BTreeMap<Item<Family>, u32> {
    let family = |print: Print| family_of(families, print);
    let shapes = vocabulary.shapes();
    // What stands upright serves one corner alone: `make` takes it where it fits, and nothing is composed for it.
    let upright = |print: Print| order.fabrics[print].upright;
    let serves = |item: &Item| match *item {
        Item::Unit { first: one, second: other, .. } | Item::Slice { tip: one, rest: other, .. }
            if upright(one) || upright(other) =>
        {
            false
        }
        Item::Unit { block, .. } => shapes.iter().any(|shape| shape.block == block),
        Item::Slice { block, width, .. } => {
            shapes.iter().any(|s| s.cut.is_strip() && (s.block, s.width.min(s.height)) == (block, width))
        }
        Item::Filler { short, .. } => short >= vocabulary.least_cells(),
    };
    let mut on_hand: BTreeMap<Item<Family>, u32> = BTreeMap::new();
    for (item, count) in items(order.hand, order.request).into_iter().filter(|(item, _)| serves(item)) {
        if let Some(item) = item.with(family) {
            let held = on_hand.entry(item).or_default();
            *held = held.saturating_add(count);
        }
    }
    on_hand
}

/// The best piece for a wish, to be kept; else why there is none.
fn granted(problem: &Problem, wish: &Wish, families: &TiSlice<Family, Vec<Print>>) -> Result<Lock, Ungranted> {
    let &Wish { x, y, width, height, whole, print } = wish;
    let piece = match (whole, print) {
        (false, Some(print)) => Piece::Filler(print),
        (false, None) => {
            let family = problem.best_filler(x, y, width, height).ok_or(Ungranted::NoFiller)?;
            Piece::Filler(families[family][0])
        }
        (true, _) => {
            let unit = problem.best_whole(x, y, width).ok_or(Ungranted::OneFabric)?;
            Piece::Triangle(lay_pair(&unit, families, 0))
        }
    };
    let unit = Unit { width: width as u32, piece, state: State::Kept };
    Ok(Lock { x, y, width, height, units: vec![unit], row: false, cost: 0 })
}

pub(super) fn choice(order: &Order, vocabulary: &Vocabulary, prints: &[Print], easily_cut: bool) -> Choice {
    let fabrics = || prints.iter().map(|&print| &order.fabrics[print]);
    let free = fabrics().any(|fabric| fabric.supply.is_none());
    let upright = fabrics().any(|fabric| fabric.upright);
    let sheets = fabrics().map(|fabric| sheets(order.request, vocabulary, fabric)).filter(|sheets| !sheets.is_empty());
    Choice {
        colour: mean(prints.iter().map(|&print| order.fabrics[print].colour)),
        sketch: prints.iter().find_map(|&print| order.fabrics[print].sketch),
        // Which of two prints lies on which side is not settled before they are dealt, and upright it matters.
        two_prints: prints.len() > 1 && !upright,
        upright: upright.then(|| UprightSizes::new(vocabulary)),
        // Counted prints are dealt out by what each has; where one is free a filler may fall to any, so the least holds.
        cloth: if free || easily_cut {
            let largest =
                |sheets: Vec<(usize, usize)>| sheets.into_iter().max_by_key(|&(along, across)| along * across);
            sheets.filter_map(largest).min().into_iter().collect()
        } else {
            sheets.flatten().collect()
        },
    }
}

/// Finished sizes of fillers, in cells, that a print's sheets give: (along the row, across).
fn sheets(request: &Request, vocabulary: &Vocabulary, fabric: &Fabric) -> Vec<(usize, usize)> {
    let cells = |[along, across]: [Length; 2]| (vocabulary.cells(along) as usize, vocabulary.cells(across) as usize);
    let mut sheets: Vec<_> = largest_fillers(fabric, request).into_iter().map(cells).collect();
    sheets.sort_unstable();
    sheets.dedup();
    sheets
}

/// The mean of colours in linear light: what reads from across the room.
pub(super) fn mean(colours: impl ExactSizeIterator<Item = Rgb>) -> Rgb {
    Rgb::from_linear(mean_of(colours.map(Rgb::linear)))
}

/// Gives each patch a print of its family: as many units as one pair of squares yields share their prints, and
/// touching patches differ where they can.
pub(super) fn lay_prints(
    bands: Vec<Band<Draft>>,
    families: &TiSlice<Family, Vec<Print>>,
    vocabulary: &Vocabulary,
    watch: &Watch,
) -> Vec<Band> {
    let mut made: BTreeMap<(Family, Family, u32, Option<Corner>), usize> = BTreeMap::new();
    let mut cut: TiVec<Family, usize> = vec![0; families.len()].into();
    let mut lay = |piece: Piece<Family>| match piece {
        Piece::Filler(family) => {
            cut[family] += 1;
            Piece::Filler(turn_about(&families[family], cut[family] - 1))
        }
        Piece::Triangle(triangle) => {
            let (first, second) = triangle.pair();
            let before = made.entry((first, second, triangle.block, triangle.stands())).or_default();
            // A pair gives one unit for each of two corners where a print stands upright.
            let pair = *before / if triangle.upright { 1 } else { yields(vocabulary, &triangle) };
            *before += 1;
            Piece::Triangle(lay_pair(&triangle, families, pair))
        }
    };
    let mut bands = remade(bands, |unit, _| match unit {
        Draft::Free(Free { width, piece }) => Unit { width, piece: lay(piece), state: State::Free },
        Draft::Stands(unit) => unit,
    });
    spread(&mut bands, &Rules { families, vocabulary, counted: Default::default(), spare_ends: false, watch });
    bands
}

fn turn_about(prints: &[Print], number: usize) -> Print {
    prints[number % prints.len()]
}

fn yields(vocabulary: &Vocabulary, triangle: &Triangle<Family>) -> usize {
    let block = vocabulary.blocks.iter().find(|b| vocabulary.cells(b.finished) == triangle.block);
    block.expect("a unit is of a size that the squares give").at_a_time.yields() as usize
}

/// Prints for the pair of squares of that number; two different ones where both are of one family.
fn lay_pair(triangle: &Triangle<Family>, families: &TiSlice<Family, Vec<Print>>, pair: usize) -> Triangle<Print> {
    let (first, second) = triangle.pair();
    let one = turn_about(&families[first], pair);
    let other = if first == second {
        turn_about(&families[second], pair + 1)
    } else {
        turn_about(&families[second], pair + pair / families[first].len())
    };
    triangle.with_pair(one, other)
}
