//! The stash as tables.

use std::collections::BTreeMap;

use comfy_table::{Cell, CellAlignment, ContentArrangement, Table, TableComponent, presets};

use super::words::{across, cloth, family, squares};
use crate::fabric::{Fabric, Lean, Print, Stash, StashTotals, value_step};
use crate::measure::Length;
use crate::unit::AtATime;

pub(in crate::render) fn table(width: u16, header: &[&str]) -> Table {
    let mut table = Table::new();
    table.load_preset(presets::UTF8_HORIZONTAL_ONLY);
    table.remove_style(TableComponent::HorizontalLines).remove_style(TableComponent::MiddleIntersections);
    table.set_content_arrangement(ContentArrangement::Dynamic).set_width(width).set_header(header);
    table.column_iter_mut().for_each(|column| {
        column.set_padding((0, 1));
    });
    table
}

pub(in crate::render) fn right(text: impl ToString) -> Cell {
    Cell::new(text.to_string()).set_alignment(CellAlignment::Right)
}

/// The fabrics with what there is of each.
pub(super) fn fabrics(stash: &Stash, width: u16) -> String {
    let mut table = table(width, &["", "name", "family", "colour", "value", "squares", "cloth"]);
    for print in &stash.prints {
        table.add_row([
            print.letter.clone(),
            print.name.clone() + up_and_down(print),
            family(stash, print).to_owned(),
            print.colour.to_string(),
            value_step(print.colour).words().to_owned(),
            or(squares(print), print, "free to use"),
            or(cloth(print), print, ""),
        ]);
    }
    table.to_string()
}

fn up_and_down(print: &Fabric) -> &'static str {
    match (print.directional, print.upright) {
        (_, true) => " (upright in triangles too)",
        (true, false) => " (up and down)",
        (false, false) => "",
    }
}

/// The lines, or what is to be said where nothing is counted.
fn or(lines: Vec<String>, print: &Fabric, uncounted: &str) -> String {
    match (print.supply.is_some(), lines.is_empty()) {
        (false, _) => uncounted.into(),
        (_, true) => "none".into(),
        _ => lines.join("\n"),
    }
}

/// What the squares of each size could give.
pub(super) fn squares_give(totals: &StashTotals, width: u16) -> String {
    let mut table = table(width, &["square", "squares", "pairs", "big", "small", "mini"]);
    for squares in &totals.squares {
        let of = |method: AtATime| {
            let size = squares.gives.iter().find(|(by, _)| *by == method);
            let words = size.map(|(_, size)| format!("{} of {size}", squares.at_most(method)));
            right(words.unwrap_or_else(|| "none".into()))
        };
        let mut row = vec![right(squares.size), right(squares.count), right(squares.pairs)];
        row.extend(AtATime::ALL.map(of));
        table.add_row(row);
    }
    table.to_string()
}

/// Pieces on hand by kind and size; none where there are none.
pub(super) fn on_hand(stash: &Stash, width: u16) -> Option<String> {
    let letter = |print: Print| stash.prints[print].letter.as_str();
    let units = stash.hand.units.iter().map(|unit| {
        let [one, other] = unit.fabrics.map(letter);
        (unit.finished, unit.finished, format!("{one}+{other}"), unit.count)
    });
    let slices = stash.hand.slices.iter().map(|slice| {
        let leans = match slice.leans {
            Lean::Left => "left",
            Lean::Right => "right",
        };
        (slice.width, slice.from, format!("{} tip on {}, {leans}", letter(slice.tip), letter(slice.rest)), slice.count)
    });
    let fillers = stash.hand.fillers.iter();
    let fillers = fillers.map(|filler| (filler.width, filler.height, letter(filler.fabric).to_owned(), filler.count));
    let mut table = table(width, &["on hand", "finished", "pieces", "fabrics"]);
    let mut rows = rows("triangle units", units);
    rows.extend(self::rows("slices", slices));
    rows.extend(self::rows("fillers", fillers));
    let some = !rows.is_empty();
    rows.into_iter().for_each(|row| {
        table.add_row(row);
    });
    some.then(|| table.to_string())
}

/// One row for each size, the largest first: what is made of which fabrics, and how many.
fn rows(kind: &str, pieces: impl Iterator<Item = (Length, Length, String, u32)>) -> Vec<Vec<Cell>> {
    let mut sizes: BTreeMap<(Length, Length), (u64, Vec<String>)> = BTreeMap::new();
    for (width, height, fabrics, count) in pieces {
        let size = sizes.entry((width, height)).or_default();
        size.0 += u64::from(count);
        size.1.push(format!("{fabrics}: {count}"));
    }
    let row = |((width, height), (count, fabrics)): ((Length, Length), (u64, Vec<String>))| {
        let size = if width == height { width.to_string() } else { across(width, height) };
        vec![Cell::new(kind), Cell::new(size), right(count), Cell::new(fabrics.join("; "))]
    };
    sizes.into_iter().rev().map(row).collect()
}
