//! Prints on patches: touching patches of one family differ where they can, and units that look alike lie apart.
//!
//! A scene comes with prints that its cloth allows. Exchanges that take no more cloth than that lower first the
//! number of touching patches that show one print, then keep strips used again, then spread units that look alike.

mod bound;
mod classes;
mod deal;
mod eliminate;
mod families;
mod lots;
mod near;
mod on_hand;
mod report;
mod search;
mod strips;
mod touch;

pub use report::{Report, report};

pub(crate) use families::families;

use std::collections::BTreeMap;

use typed_index_collections::TiSlice;

use crate::fabric::{Family, Print};
use crate::plan::{Band, Item, State, units_mut};
use crate::unit::Vocabulary;
use crate::watch::Watch;

/// What prints there are, and what must stay as it is.
pub struct Rules<'a> {
    /// Prints by family.
    pub families: &'a TiSlice<Family, Vec<Print>>,
    /// The units that the squares give.
    pub vocabulary: &'a Vocabulary,
    /// By print: whether no more may be taken of it than the scene does; free where it says nothing.
    pub counted: &'a TiSlice<Print, bool>,
    /// Whether fillers are cut longer at row ends.
    pub spare_ends: bool,
    /// Who follows the job: where it stops, prints stay as they are.
    pub watch: &'a Watch,
}

/// Exchanges the prints of free units so that few touching patches show one.
///
/// No more squares of a counted print are taken, no more pairs sewn of a class, and no filler of a counted print is
/// cut in another size.
pub fn spread(bands: &mut [Band], rules: &Rules) {
    spread_on_hand(bands, rules, &BTreeMap::new());
}

/// The same where some units are pieces on hand: as many of them stay so, in other places or of other prints.
pub fn spread_on_hand(bands: &mut [Band], rules: &Rules, hand: &BTreeMap<Item, u32>) {
    let mut deal = lots::deal(bands, rules, hand);
    let least = bound::least(&deal, rules.families, false).into_iter().sum();
    search::search(&mut deal, rules.families, least, rules.watch);
    for (index, unit) in units_mut(bands).enumerate().filter(|(_, unit)| unit.state == State::Free) {
        let shown = unit.piece.each(|patch, _| deal.shows[2 * index + patch]);
        unit.piece = shown.expect("every patch shows a print");
    }
}
