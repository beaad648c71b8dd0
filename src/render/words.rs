//! Each unit in the maker's words, the same in every output.

use super::Options;
use super::palette::Palette;
use super::press_words::{row_seams, staystitch, unit_seam, within};
use super::text::by;
use crate::make::{RowWork, Source, UnitWork, Work};
use crate::measure::{Length, Ruler};
use crate::plan::{Address, Item, Plan};
use crate::unit::{Corner, Cut};

/// The kind without its cut: `big`, `filler`.
pub(super) fn size_word(unit: &UnitWork) -> &str {
    unit.kind.split(' ').next().unwrap_or("unit")
}

/// How a triangle unit is cut; whole for a filler.
pub(super) fn cut_of(unit: &UnitWork) -> Cut {
    unit.placed.unit.piece.cut_from().map_or(Cut::Whole, |(_, cut)| cut)
}

/// What a filler at a spare row end is cut longer.
pub(super) fn spare(unit: &UnitWork) -> Length {
    unit.cut.map_or(Length::ZERO, |cut| cut.width - unit.unfinished.width)
}

/// Where the spare of a filler is, and how much at either end: left, then right.
pub(super) fn spare_ends(row: &RowWork, unit: &UnitWork) -> (Length, Length) {
    let over = spare(unit);
    match (row.units.len(), unit.placed.address.unit) {
        (1, _) => (over / 2, over - over / 2),
        (_, 1) => (over, Length::ZERO),
        _ => (Length::ZERO, over),
    }
}

/// The side that a triangle unit is trimmed to before any strip comes off.
pub(super) fn trimmed(plan: &Plan, unit: &UnitWork) -> Option<Length> {
    let (block, _) = unit.placed.unit.piece.cut_from()?;
    Some(plan.request.grid * block + plan.request.seam.both())
}

/// Whether a slice is a strip on hand, so that nothing is cut for it.
pub(super) fn strip_on_hand(work: &Work, unit: &UnitWork) -> bool {
    let Source::Hand(index) = unit.source else { return false };
    work.hand.get(index).is_some_and(|used| matches!(used.item, Item::Slice { .. }))
}

/// What a unit is made from: `P3`, `F2`, `H1`, or the address of the unit whose strip it is.
pub(super) fn source(work: &Work, unit: &UnitWork) -> String {
    match unit.source {
        Source::Batch(index) => work.batches[index].id.clone(),
        Source::Filler(index) => work.fillers[index].id.clone(),
        Source::Hand(index) => work.hand[index].id.clone(),
        Source::Offcut(from) => from.to_string(),
        Source::Sewn => "sewn".into(),
    }
}

/// The corner that the first fabric fills.
pub(super) fn corner(unit: &UnitWork) -> Corner {
    unit.turn.unwrap_or(Corner::UpperLeft)
}

/// Both places of a strip that is used again: where it comes off, and where it goes.
pub(super) fn strip_words(from: Address, to: Address) -> String {
    format!("strip from {from} goes to {to}")
}

/// What to cut once the unit lies as it is sewn; nothing for whole units.
pub(super) fn cut_words(work: &Work, unit: &UnitWork, ruler: Ruler) -> Option<String> {
    let (strip, address) = (unit.strip?, unit.placed.address);
    if strip_on_hand(work, unit) {
        return Some(format!("slice: take {}, a strip on hand", source(work, unit)));
    }
    let cut = format!("cut {} off the {}", ruler.show(strip.cut), strip.side.words());
    let word = cut_of(unit).word()?;
    Some(match unit.source {
        Source::Offcut(from) if from > address => {
            format!("{word}: the {}; make {from} first", strip_words(from, address))
        }
        Source::Offcut(from) => format!("{word}: the {}", strip_words(from, address)),
        _ => format!("{word}: {} it so, then {cut}{}", lay(unit), strip_goes(unit)),
    })
}

/// Whether a print in a unit stands upright, so that it is not turned.
pub(super) fn is_upright(unit: &UnitWork) -> bool {
    unit.source != Source::Sewn && unit.placed.unit.piece.triangle().is_some_and(|t| t.upright)
}

/// What is done to a unit so that it lies as it is sewn.
pub(super) fn lay(unit: &UnitWork) -> &'static str {
    if is_upright(unit) { "lay" } else { "turn" }
}

/// What becomes of the strip that is cut off.
pub(super) fn strip_goes(unit: &UnitWork) -> String {
    match (cut_of(unit), unit.offcut_to) {
        (Cut::Slice, _) => " and use that strip".into(),
        (Cut::Whole | Cut::Trimmed, Some(to)) => format!("; the {}", strip_words(unit.placed.address, to)),
        (Cut::Whole | Cut::Trimmed, None) => String::new(),
    }
}

/// Every unit in one line, with its address.
pub fn units_words(plan: &Plan, work: &Work) -> Vec<(Address, String)> {
    let palette = Palette::new(plan, &Options::default());
    let of_row = |row: &'_ RowWork| -> Vec<(Address, String)> {
        let words = |unit| unit_words(work, row, unit, &palette, plan.request.ruler);
        row.units.iter().map(|unit| (unit.placed.address, words(unit))).collect()
    };
    work.rows.iter().flat_map(of_row).collect()
}

/// The whole unit in one line.
pub(super) fn unit_words(work: &Work, row: &RowWork, unit: &UnitWork, palette: &Palette, ruler: Ruler) -> String {
    if unit.source == Source::Sewn {
        return "sewn".into();
    }
    let is = unit_is(row, unit, palette, ruler);
    let at = unit.placed.address;
    let seam = work.joints.of(at.band, at.column, at.row, at.unit).map(unit_seam);
    let all = [Some(is), cut_words(work, unit, ruler), staystitch(unit), seam];
    all.into_iter().flatten().collect::<Vec<_>>().join("; ")
}

/// What a unit is that is not sewn yet.
pub(super) fn unit_is(row: &RowWork, unit: &UnitWork, palette: &Palette, ruler: Ruler) -> String {
    let first = palette.name(unit.first);
    match unit.second {
        None => filler_words(row, unit, first, ruler),
        Some(second) => {
            let (size, corner) = (size_word(unit), corner(unit).words());
            let upright = if is_upright(unit) { ", print upright: do not turn it" } else { "" };
            format!("{size} unit of {first} and {}, {first} in the {corner}{upright}", palette.name(second))
        }
    }
}

/// How a row is trimmed where its ends are spare, and how its seams are pressed.
pub(super) fn row_words(work: &Work, row: &RowWork, ruler: Ruler) -> (Option<String>, String) {
    let (sewn, trimmed) = (ruler.show(row.sewn_width), ruler.show(row.unfinished.width));
    let spare = row.sewn_width > row.unfinished.width;
    let trim = spare.then(|| format!("sewn {sewn} wide; trim the spare off to {trimmed}"));
    (trim, row_seams(&within(work, row)).unwrap_or_else(|| "it is the one unit".into()))
}

fn filler_words(row: &RowWork, unit: &UnitWork, name: &str, ruler: Ruler) -> String {
    let cut = by(ruler, unit.cut.unwrap_or(unit.unfinished));
    match spare(unit) {
        Length::ZERO => format!("filler of {name}, cut {cut}"),
        over => format!("filler of {name}, cut {cut}, {} of it spare {}", ruler.show(over), spare_place(row, unit)),
    }
}

/// Which end of the row the spare of a filler is at.
pub(super) fn spare_place(row: &RowWork, unit: &UnitWork) -> &'static str {
    match spare_ends(row, unit) {
        (_, Length::ZERO) => "at the row's left end",
        (Length::ZERO, _) => "at the row's right end",
        _ => "for both ends of the row",
    }
}
