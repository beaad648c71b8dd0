//! Strips off trimmed units that are the slices which the scene has elsewhere.

use std::collections::{BTreeMap, BTreeSet};

use crate::fabric::{Lean, Print};
use crate::measure::Length;
use crate::plan::{Address, Placed, leans_at};
use crate::unit::{Corner, Triangle, Vocabulary};

/// A strip of a triangle unit: what must agree for one to be the other, turned as it may be.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Ribbon<C = Print> {
    /// Fabric of the small triangle in the corner.
    pub tip: C,
    /// Fabric of the rest.
    pub rest: C,
    /// Finished side of the whole unit, in cells.
    pub block: u32,
    /// Raw width.
    pub cut: Length,
    /// Stood up with its tip on top: the corner that the tip is in.
    pub leans: Lean,
    /// The corner that the tip is in, where a print stands upright.
    pub stands: Option<Corner>,
}

impl Ribbon {
    /// The same of other fabrics.
    pub fn of<C>(&self, tip: C, rest: C) -> Ribbon<C> {
        Ribbon { tip, rest, block: self.block, cut: self.cut, leans: self.leans, stands: self.stands }
    }
}

/// Strips used again: trimmed units and slices, each by the address of the other.
#[derive(Default)]
pub struct Offcuts {
    /// The slice that the strip off a trimmed unit becomes.
    pub to: BTreeMap<Address, Address>,
    /// The trimmed unit that a slice is the strip of.
    pub from: BTreeMap<Address, Address>,
}

/// The strip that a slice is.
pub fn used(placed: &Placed, vocabulary: &Vocabulary) -> Option<Ribbon> {
    let t = strip(placed)?;
    let cut = vocabulary.strip_cut(t.shape(placed.unit.width, placed.height))?;
    let stands = t.upright.then_some(t.corner);
    Some(Ribbon { tip: t.tip, rest: t.rest, block: t.block, cut, leans: leans(&t, placed, false), stands })
}

/// The strip that comes off a trimmed unit: its tip is across the unit, in the other fabric.
pub fn cut_off(placed: &Placed, vocabulary: &Vocabulary) -> Option<Ribbon> {
    let t = placed.unit.piece.triangle().filter(|t| t.cut.gives_strip())?;
    let cut = vocabulary.strip_cut(t.shape(placed.unit.width, placed.height))?;
    let stands = t.upright.then(|| t.corner.opposite());
    Some(Ribbon { tip: t.rest, rest: t.tip, block: t.block, cut, leans: leans(&t, placed, true), stands })
}

/// What remains of a whole unit once a slice is cut off it.
pub fn remains(placed: &Placed, vocabulary: &Vocabulary) -> Option<Ribbon> {
    let (t, slice) = (strip(placed)?, used(placed, vocabulary)?);
    let whole = vocabulary.grid * t.block + vocabulary.seam.both();
    let stands = slice.stands.map(Corner::opposite);
    Some(Ribbon { tip: t.rest, rest: t.tip, cut: whole - slice.cut, leans: leans(&t, placed, true), stands, ..slice })
}

/// As many strips used again as can be, the nearest first, in the order of the slices.
///
/// Any strip of a kind may be any slice of that kind, so none that could be used is ever left by taking one. What
/// is made already gives and takes no strip: what came off it is on hand.
pub fn used_again(placed: &[Placed], vocabulary: &Vocabulary) -> Offcuts {
    let open = |unit: &&Placed| !unit.unit.state.is_made();
    let mut strips: BTreeMap<_, BTreeSet<usize>> = BTreeMap::new();
    for (index, unit) in placed.iter().enumerate().filter(|(_, unit)| open(unit)) {
        if let Some(ribbon) = cut_off(unit, vocabulary) {
            strips.entry(ribbon).or_default().insert(index);
        }
    }
    let mut offcuts = Offcuts::default();
    for (index, unit) in placed.iter().enumerate().filter(|(_, unit)| open(unit)) {
        let strips = used(unit, vocabulary).and_then(|ribbon| strips.get_mut(&ribbon));
        if let Some(strips) = strips
            && let Some(nearest) = nearest(strips, index)
        {
            strips.remove(&nearest);
            offcuts.to.insert(placed[nearest].address, unit.address);
            offcuts.from.insert(unit.address, placed[nearest].address);
        }
    }
    offcuts
}

/// The place nearest to `index`, the earlier of two equally near.
fn nearest(places: &BTreeSet<usize>, index: usize) -> Option<usize> {
    let (before, after) = (places.range(..index).next_back(), places.range(index..).next());
    before.into_iter().chain(after).copied().min_by_key(|place| place.abs_diff(index))
}

fn strip(placed: &Placed) -> Option<Triangle<Print>> {
    placed.unit.piece.triangle().filter(|t| t.cut.is_strip())
}

/// Which way a part leans, with its tip in the unit's corner or across from it.
fn leans(triangle: &Triangle<Print>, placed: &Placed, across: bool) -> Lean {
    let corner = if across { triangle.corner.opposite() } else { triangle.corner };
    leans_at(corner, placed.unit.width < placed.height)
}
