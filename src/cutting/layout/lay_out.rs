//! The whole layout: sheets at hand first, then yardage to buy for what is left.

use std::collections::BTreeMap;

use super::build::Pattern;
use super::filler::{Filled, Stack, usage};
use super::length::{Shortest, shortest};
use super::model::{Layout, LayoutEffort, LayoutError, PieceToCut, Sheet, SheetLayout, Unplaced};
use super::order::{Kind, Order};
use super::place::Owners;
use super::search::length;
use super::sheets::fewest;
use crate::measure::Length;

/// Most pieces of one layout.
const PIECES: u64 = 20_000;
/// Most sizes of pieces, and of sheets.
const SIZES: usize = 250;
/// The longer side of cloth that lies on a cutting mat either way.
const MAT: Length = Length::inches(24, 1);

/// Cuts `pieces` out of `sheets`: out of the fewest sheets, and the least length of yardage to buy.
///
/// Each strip goes across the whole width; each piece is cut across its strip, and trimmed where it is lower.
#[cfg(feature = "internals")]
pub fn lay_out(pieces: &[PieceToCut], sheets: &[Sheet]) -> Result<Layout, LayoutError> {
    lay_out_with(pieces, sheets, LayoutEffort::Thorough)
}

/// The same, looked for as long as `effort` says.
pub fn lay_out_with(pieces: &[PieceToCut], sheets: &[Sheet], effort: LayoutEffort) -> Result<Layout, LayoutError> {
    check(pieces, sheets)?;
    let mut owners = Owners::new(pieces);
    let mut laid = at_hand(pieces, sheets, &mut owners, effort);
    for (index, sheet) in sheets.iter().enumerate().filter(|(_, sheet)| sheet.height.is_none() && sheet.count > 0) {
        laid.extend(to_buy(pieces, index, sheet, &mut owners, effort));
    }
    laid.sort_by_key(|sheet| (sheet.sheet, sheet.copy));
    let unplaced = owners.left().into_iter().map(|(piece, count)| Unplaced { piece, count }).collect();
    Ok(Layout { sheets: laid, unplaced })
}

fn check(pieces: &[PieceToCut], sheets: &[Sheet]) -> Result<(), LayoutError> {
    let fits = |side: Length| Length::ZERO < side && side <= Length::LIMIT;
    let sizes = pieces.iter().map(|piece| (&piece.id, piece.width, piece.height));
    let cloth = sheets.iter().map(|sheet| (&sheet.id, sheet.width, sheet.height.unwrap_or(Length::LIMIT)));
    if let Some((id, width, height)) = sizes.chain(cloth).find(|size| !fits(size.1) || !fits(size.2)) {
        return Err(LayoutError::Size { id: id.clone(), width, height });
    }
    let asked = pieces.iter().map(|piece| u64::from(piece.count)).sum();
    if asked > PIECES {
        return Err(LayoutError::Pieces { asked, most: PIECES });
    }
    let sizes = Owners::new(pieces).kinds.len().max(sheets.len());
    if sizes > SIZES { Err(LayoutError::Sizes { asked: sizes, most: SIZES }) } else { Ok(()) }
}

fn at_hand(pieces: &[PieceToCut], sheets: &[Sheet], owners: &mut Owners, effort: LayoutEffort) -> Vec<SheetLayout> {
    let stacks: Vec<Stack> =
        sheets.iter().enumerate().flat_map(|(index, sheet)| stacks(index, sheet, owners, on_mat(sheet))).collect();
    let mut filled = fewest(&owners.kinds, &owners.counts(), &stacks, effort);
    filled.sort_by_key(|filled| filled.stack);
    let mut copies = BTreeMap::<usize, u32>::new();
    let mut lay = |filled: &Filled| {
        let stack = stacks.get(filled.stack)?;
        let copy = copies.entry(stack.sheet).or_default();
        let laid = laid(pieces, owners, stack, &filled.patterns, (*copy, effort));
        *copy += 1;
        Some(laid)
    };
    filled.iter().filter_map(&mut lay).collect()
}

fn laid(
    pieces: &[PieceToCut],
    owners: &mut Owners,
    stack: &Stack,
    patterns: &[Pattern],
    (copy, effort): (u32, LayoutEffort),
) -> SheetLayout {
    let (order, shortest) = compact(stack, patterns, effort);
    let strips = owners.place(pieces, &order, &shortest.patterns);
    SheetLayout {
        sheet: stack.sheet,
        copy,
        turned: stack.turned,
        width: Length::from_ticks(stack.order.width),
        height: Some(Length::from_ticks(stack.height)),
        used_length: strips.iter().map(|strip| strip.height).sum(),
        strips,
        bound: Length::from_ticks(shortest.bound),
    }
}

/// The same pieces of a sheet; of cloth longer than the mat in the least length, so that the most stays whole.
fn compact(stack: &Stack, patterns: &[Pattern], effort: LayoutEffort) -> (Order, Shortest) {
    let counts = usage(patterns, stack.order.kinds.len());
    let order = Order::new(&stack.order.kinds, &counts, stack.order.width, stack.height);
    let given = || Shortest { patterns: patterns.to_vec(), bound: 0 };
    if stack.height <= MAT.ticks() {
        return (order, given());
    }
    let found = shortest(&order, effort);
    match length(&order, &found.patterns) < length(&order, patterns) {
        true => (order, found),
        false => (order, Shortest { bound: found.bound, ..given() }),
    }
}

/// Whether a sheet is small enough to be turned.
fn on_mat(sheet: &Sheet) -> bool {
    sheet.height.is_some_and(|length| sheet.width.max(length) <= MAT)
}

/// A sheet the way it is given, and turned where it may be.
pub(super) fn stacks(index: usize, sheet: &Sheet, owners: &Owners, may_turn: bool) -> Vec<Stack> {
    let Some(length) = sheet.height.filter(|_| sheet.count > 0) else { return Vec::new() };
    let turns = may_turn && sheet.width != length;
    let stack = |turned: bool| {
        let (width, height) = if turned { (length, sheet.width) } else { (sheet.width, length) };
        let kinds: Vec<Kind> = owners.kinds.iter().map(|kind| if turned { kind.on_turned() } else { *kind }).collect();
        let order = Order::new(&kinds, &owners.counts(), width.ticks(), height.ticks());
        Stack { sheet: index, copies: i64::from(sheet.count), turned, height: height.ticks(), order }
    };
    std::iter::once(stack(false)).chain(turns.then(|| stack(true))).collect()
}

fn to_buy(
    pieces: &[PieceToCut],
    index: usize,
    sheet: &Sheet,
    owners: &mut Owners,
    effort: LayoutEffort,
) -> Option<SheetLayout> {
    let order = Order::new(&owners.kinds, &owners.counts(), sheet.width.ticks(), Length::LIMIT.ticks());
    let shortest = shortest(&order, effort);
    let strips = owners.place(pieces, &order, &shortest.patterns);
    (!strips.is_empty()).then(|| SheetLayout {
        sheet: index,
        copy: 0,
        turned: false,
        width: sheet.width,
        height: None,
        used_length: strips.iter().map(|strip| strip.height).sum(),
        strips,
        bound: Length::from_ticks(shortest.bound),
    })
}
