//! The fewest sheets that any layout of two stages can do with.

use super::lay_out::stacks;
use super::model::{PieceToCut, Sheet};
use super::place::Owners;
use super::proven::proven;
use crate::measure::Length;

/// Most times that more ways to cut are asked for.
const ROUNDS: usize = 200;

/// The fewest sheets of `width` by `height` that can hold all `pieces`; none where a piece fits no sheet.
///
/// Each strip goes across a whole sheet, however that lies, and each piece is cut across its strip.
pub fn least_sheets(pieces: &[PieceToCut], width: Length, height: Length) -> Option<u64> {
    let owners = Owners::new(pieces);
    let sheet = Sheet { id: String::new(), width, height: Some(height), count: u32::MAX };
    let stacks = stacks(0, &sheet, &owners, true);
    let fits = |kind: usize| stacks.iter().any(|stack| stack.order.fits(kind));
    (0..owners.kinds.len()).all(fits).then(|| proven(&stacks, &owners.counts(), &[], ROUNDS).sheets)
}
