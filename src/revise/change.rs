//! Marks and wishes, applied to a copy of the plan.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{ReviseError, TopPart};
use crate::fabric::Print;
use crate::plan::{Address, Piece, Placed, Plan, State, Unit};

/// One change of mind.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[non_exhaustive]
pub enum Change {
    /// Units of a part become kept, sewn, or free again.
    Mark(TopPart, State),
    /// A unit was spoilt or lost: one more is to be made, or another in its place.
    Lost(Address),
    /// A unit is turned clockwise by so many quarters.
    Turn(Address, u32),
    /// The patch of one fabric gets another: letters.
    Patch {
        /// The unit.
        at: Address,
        /// The patch's fabric now.
        now: String,
        /// Its fabric then.
        then: String,
    },
    /// One fabric takes the place of another wherever a part shows it, but in what is cut or sewn: letters.
    Exchange {
        /// Where.
        part: TopPart,
        /// The fabric now.
        now: String,
        /// The fabric then.
        then: String,
    },
    /// A filler is wanted in a unit's place, in the best fabric or in one of a letter.
    Filler(Address, Option<String>),
    /// A whole triangle unit is wanted in a unit's place.
    Whole(Address),
}

/// A place that a wish was made for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Wished {
    /// Where the unit stood.
    pub placed: Placed,
    /// Whether a whole unit is wanted.
    pub whole: bool,
    /// The print that a filler is to be of.
    pub print: Option<Print>,
}

/// Applies every change; wishes for a place come back, for only the solver can grant them, and what is lost.
pub fn apply(plan: &mut Plan, changes: &[Change]) -> Result<(Vec<Wished>, Vec<Address>), ReviseError> {
    let (mut wishes, mut lost): (Vec<Wished>, Vec<Address>) = (Vec::new(), Vec::new());
    for change in changes {
        match change {
            Change::Mark(part, state) => mark(plan, part, *state)?,
            Change::Lost(at) => {
                mark(plan, &TopPart::Unit(*at), State::Free)?;
                lost.push(*at);
            }
            Change::Turn(at, quarters) => {
                let mut unit = open(plan, *at)?;
                unit.unit.piece = turned(&unit, *quarters)?;
                keep(plan, unit);
            }
            Change::Patch { at, now, then } => {
                let (now, then) = (print(plan, now)?, print(plan, then)?);
                let mut unit = open(plan, *at)?;
                unit.unit.piece = patched(plan, &unit, now, then)?;
                keep(plan, unit);
            }
            Change::Exchange { part, now, then } => exchange(plan, part, print(plan, now)?, print(plan, then)?)?,
            Change::Filler(at, letter) => {
                let print = letter.as_ref().map(|letter| print(plan, letter)).transpose()?;
                wishes.push(Wished { placed: open(plan, *at)?, whole: false, print });
            }
            Change::Whole(at) => wishes.push(Wished { placed: open(plan, *at)?, whole: true, print: None }),
        }
    }
    for wish in &wishes {
        plan.unit_mut(wish.placed.address).state = State::Free;
    }
    Ok((wishes, lost))
}

fn mark(plan: &mut Plan, part: &TopPart, state: State) -> Result<(), ReviseError> {
    let grid = plan.request.grid;
    let held: Vec<Address> =
        plan.placed().iter().filter(|placed| part.holds(placed, grid)).map(|placed| placed.address).collect();
    if held.is_empty() {
        return Err(ReviseError::NoPart(*part));
    }
    held.into_iter().for_each(|at| plan.unit_mut(at).state = state);
    Ok(())
}

/// Gives every patch of one fabric in a part another; a unit of which both halves would be one becomes a filler.
fn exchange(plan: &mut Plan, part: &TopPart, now: Print, then: Print) -> Result<(), ReviseError> {
    let grid = plan.request.grid;
    let shows = |placed: &Placed| part.holds(placed, grid) && placed.unit.piece.fabrics().any(|print| print == now);
    let showing: Vec<Placed> = plan.placed().into_iter().filter(shows).collect();
    if showing.is_empty() {
        return Err(ReviseError::NotShown { part: *part, letter: plan.fabrics[now].letter.clone() });
    }
    plan.progress.by_hand |= *part != TopPart::All;
    for placed in showing.into_iter().filter(|placed| !placed.unit.state.is_made()) {
        let other = |print| Some(if print == now { then } else { print });
        let piece = placed.unit.piece.with(other).expect("every print has another or stays");
        let piece = match piece {
            Piece::Triangle(t) if t.tip == t.rest => Piece::Filler(t.tip),
            piece => piece,
        };
        plan.unit_mut(placed.address).piece = piece;
    }
    Ok(())
}

/// The unit at an address, which must not be sewn.
fn open(plan: &Plan, at: Address) -> Result<Placed, ReviseError> {
    let found = plan.placed().into_iter().find(|placed| placed.address == at);
    let placed = found.ok_or(ReviseError::NoPart(TopPart::Unit(at)))?;
    match placed.unit.state {
        State::Sewn => Err(ReviseError::Sewn(at)),
        _ => Ok(placed),
    }
}

/// Puts the changed unit in its place, to be kept.
fn keep(plan: &mut Plan, placed: Placed) {
    *plan.unit_mut(placed.address) = Unit { state: State::Kept, ..placed.unit };
}

fn print(plan: &Plan, letter: &str) -> Result<Print, ReviseError> {
    let found = plan.fabrics.position(|fabric| fabric.letter == letter);
    found.ok_or_else(|| ReviseError::no_fabric(plan, letter))
}

fn turned(placed: &Placed, quarters: u32) -> Result<Piece, ReviseError> {
    let (at, piece) = (placed.address, placed.unit.piece);
    let step = piece.quarters().ok_or(ReviseError::TurnsNothing(at))?;
    if quarters.is_multiple_of(step) { Ok(piece.turned(quarters)) } else { Err(ReviseError::HalfTurnOnly(at)) }
}

fn patched(plan: &Plan, placed: &Placed, now: Print, then: Print) -> Result<Piece, ReviseError> {
    let (at, piece) = (placed.address, placed.unit.piece);
    let letter = |print: Print| plan.fabrics[print].letter.clone();
    let shows = piece.fabrics().position(|print| print == now);
    let changed = shows.and_then(|shows| piece.each(|patch, of| Some(if patch == shows { then } else { of })));
    match changed {
        None => Err(ReviseError::NoPatch { at, letter: letter(now) }),
        Some(changed) if changed.joins_one_fabric() => Err(ReviseError::OneFabric { at, letter: letter(then) }),
        Some(changed) => Ok(changed),
    }
}
