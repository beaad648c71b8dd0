//! A change of mind: a new plan from an old one, composed again around what stands.

mod change;
mod compare;
mod conflict;
mod error;
mod obstacle;
mod part;
mod settle;
mod stand;

pub use change::Change;
pub use compare::{Changes, Count, compare};
pub use error::{ReviseError, Unmoved};
pub use obstacle::Obstacle;
pub use part::{PartError, TopPart};

use self::settle::Marks;
use crate::compose::{ComposeError, Order, SceneError, Standing};
use crate::cutting::numbers;
use crate::fabric::{Fabrics, Print, Rgb};
use crate::plan::{Address, Plan, Request, stand};
use crate::stock::{Gaps, StockError, compose};
use crate::watch::Watch;

/// What is to be changed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Revision {
    /// What is asked for now.
    pub request: Request,
    /// The picture's colour in each cell of the new top.
    pub picture: Vec<Rgb>,
    /// Weight of each cell, 4 being plain; empty where all are.
    pub focus: Vec<u8>,
    /// The fabrics now: those of the plan in their places, and new ones after them.
    pub fabrics: Fabrics,
    /// Fabrics of which there is now what they say; of the others what is cut is taken off.
    pub told: Vec<Print>,
    /// Letters of the fabrics that ran out.
    pub without: Vec<String>,
    /// Marks and wishes, in the order given.
    pub changes: Vec<Change>,
    /// What stays as it was costs so many per cent less: 100 changes as little as can be, 0 composes afresh.
    pub less: u32,
    /// Rounds in which scarce cloth is priced, for a plan whose fabrics are counted.
    pub rounds: u32,
}

/// Composes `plan` again as `revision` asks, around what is kept and sewn and within what there is; with how far from
/// the best it may be, where its fabrics are counted.
pub fn revise(plan: &Plan, revision: &Revision, watch: &Watch) -> Result<(Plan, Option<Gaps>), ReviseError> {
    let numbers = numbers(plan);
    let mut marked = Plan { fabrics: revision.fabrics.clone(), numbers, ..plan.clone() };
    let (wishes, lost) = change::apply(&mut marked, &revision.changes)?;
    stand(&mut marked.bands, &marked.fabrics);
    stand::can_stand(&marked, &revision.request)?;
    let mut marked = Marks { old: plan, lost: &lost, told: &revision.told }.settle(marked);
    let wished: Vec<Address> = wishes.iter().map(|wish| wish.placed.address).collect();
    let without = stand::left_out(&marked, revision)?;
    marked.progress.out = without.iter().map(|&print| marked.fabrics[print].letter.clone()).collect();
    if revision.less == 100 && wishes.is_empty() && stand::may_stay(&marked, revision, &without) {
        // It costs nothing as it is, and no scene costs less.
        return Ok((Plan { request: revision.request.clone(), ..marked }, None));
    }
    let standing = stand::standing(&marked, &revision.request, wishes, revision.less)?;
    let order = Order {
        hand: &marked.hand,
        without: &without,
        standing: &standing,
        watch,
        ..Order::new(&revision.request, &revision.picture, &revision.focus, &marked.fabrics)
    };
    let Plan { numbers, progress, .. } = marked.clone();
    let composed = compose(&order, revision.rounds).map(|(plan, gaps)| (Plan { numbers, progress, ..plan }, gaps));
    composed.map_err(|error| match error {
        StockError::Short(shortage) => ReviseError::Short(shortage),
        StockError::Scene(SceneError::Compose(ComposeError::NoFit)) => conflict::conflict(&order, &marked, &wished),
        StockError::Scene(SceneError::Wish { index, why }) => {
            ReviseError::CannotBe { at: wished[index], why: why.into() }
        }
        StockError::Scene(other) => other.into(),
    })
}

/// Whether anything stands that a new plan must work around.
fn stands(standing: &Standing) -> bool {
    !(standing.locks.is_empty() && standing.wishes.is_empty())
}
