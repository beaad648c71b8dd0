//! Row by row: what to sew to what.

use super::drawings;
use super::sheet::{Sheet, line, section as numbered, table, tick};
use crate::fabric::Print;
use crate::make::{RowWork, Source, UnitWork};
use crate::measure::Length;
use crate::render::text::{count, escape};
use crate::render::words::{corner, cut_of, size_word, source, spare, spare_place, strip_on_hand, strip_words};
use crate::unit::{Corner, Cut};

/// More lines than this may be split over two sheets of paper.
const LONG: usize = 9;
/// More units than this are too small to read in a column of half the paper's width.
const NARROW: usize = 6;

/// Every row with its drawing, its table and its check.
pub(super) fn section(sheet: &Sheet) -> String {
    let columns = sheet.plan.bands.iter().any(|band| band.columns.len() > 1);
    let mut body = format!("<p class=\"intro\">{}</p>\n", intro(sheet));
    let one_part = |one: &RowWork, other: &RowWork| {
        (one.address.band, one.address.column) == (other.address.band, other.address.column)
    };
    for part in sheet.work.rows.chunk_by(one_part) {
        let named = part.first().filter(|_| columns || sheet.plan.bands.len() > 1);
        let heading = named.map(|first| heading(sheet, first)).unwrap_or_default();
        let rows: String = widths(part).into_iter().zip(part).map(|(wide, work)| row(sheet, work, wide)).collect();
        body += &format!("<div class=\"part\">\n{heading}<div class=\"columns\">\n{rows}</div>\n</div>\n");
    }
    numbered(5, "rows", "Sew the rows", &body)
}

fn intro(sheet: &Sheet) -> String {
    let cut = sheet.work.rows.iter().flat_map(|row| &row.units).any(|unit| unit.strip.is_some());
    let pale = if cut { " What is pale and dashed in a drawing is cut off and not used here." } else { "" };
    format!(
        "Lay each row out before you sew it. The strip shows it finished; the drawings in the table show each unit on \
         the mat, seams included, turned as it is sewn.{pale} Each line has the unit's address, its drawing, its fabrics, \
         the pair (P1) or the filler (F1) that it comes from, and the size to measure. Neighbours that are alike share one line. Sew from left \
         to right, press, and measure before you go on."
    )
}

fn heading(sheet: &Sheet, work: &RowWork) -> String {
    let band = sheet.plan.bands.get(work.address.band - 1);
    let column = band.and_then(|band| band.columns.get(work.address.column - 1));
    let (Some(band), Some(column)) = (band, column) else { return String::new() };
    let grid = sheet.plan.request.grid;
    let name = match band.columns.len() {
        1 => format!("Band {}", work.address.band),
        _ => format!("Band {}, column {}", work.address.band, work.address.column),
    };
    let size = sheet.size(crate::make::Size { width: grid * column.width, height: grid * band.height });
    let rows = count(column.rows.len() as u64, "row", "rows");
    format!("<h3>{name} <span class=\"fine\">{rows}, {size} finished</span></h3>\n")
}

/// Whether each row takes the paper's whole width: where it needs it, or where no narrow row stands beside it.
fn widths(part: &[RowWork]) -> Vec<bool> {
    let wide = |work: &RowWork| work.units.len() > NARROW || runs(&work.units).len() > LONG;
    let chunk = |rows: &[RowWork]| vec![rows.iter().any(wide) || rows.len() < 2; rows.len()];
    part.chunk_by(|one, other| wide(one) == wide(other)).flat_map(chunk).collect()
}

fn row(sheet: &Sheet, work: &RowWork, wide: bool) -> String {
    let runs = runs(&work.units);
    let heads = ["Unit", "As it lies", "Fabric and which way it lies", "From", "Unfinished"];
    let lines: String = runs.iter().map(|run| line(&heads, &cells(sheet, work, run))).collect();
    let address = work.address.row_words();
    format!(
        "<article class=\"row{}\" id=\"row-{address}\">\n<h4>Row {address} <span class=\"fine\">{}, {} finished</span></h4>\n\
         {}\n{}{}</article>\n",
        class(work, &runs, wide),
        count(work.units.len() as u64, "unit", "units"),
        sheet.size(work.finished),
        drawings::row(sheet, work),
        table("units", &heads, &lines),
        check(sheet, work, &runs)
    )
}

/// How much of the paper's width a row takes, and whether it may be split.
fn class(work: &RowWork, runs: &[&[UnitWork]], wide: bool) -> &'static str {
    match (wide, runs.len() > LONG, work.units.len()) {
        (true, true, _) => " wide long",
        (true, false, 1) => " wide one",
        (true, false, _) => " wide",
        (false, _, 1) => " narrow one",
        (false, ..) => " narrow",
    }
}

/// Neighbours that are alike in everything but their place.
fn runs(units: &[UnitWork]) -> Vec<&[UnitWork]> {
    units.chunk_by(alike).collect()
}

fn alike(one: &UnitWork, two: &UnitWork) -> bool {
    let key = |u: &UnitWork| (u.first, u.second, u.turn, u.finished, u.cut, u.source, u.strip, u.offcut_to);
    one.kind == two.kind && key(one) == key(two)
}

fn cells(sheet: &Sheet, work: &RowWork, run: &[UnitWork]) -> [String; 5] {
    let Some(unit) = run.first() else { return Default::default() };
    [addresses(run), drawings::unit(sheet, work, unit), what(sheet, work, unit), from(sheet, unit), sizes(sheet, unit)]
}

/// The size to measure, the size it finishes at, and the size to cut where that is more.
fn sizes(sheet: &Sheet, unit: &UnitWork) -> String {
    let cut = match unit.cut {
        Some(cut) if cut != unit.unfinished => format!("cut {}<br/>", sheet.size(cut)),
        _ => String::new(),
    };
    let (unfinished, finished) = (sheet.size(unit.unfinished), sheet.size(unit.finished));
    format!("{cut}<b>{unfinished}</b><br/><span class=\"fine\">finishes {finished}</span>")
}

fn addresses(run: &[UnitWork]) -> String {
    let Some(first) = run.first() else { return String::new() };
    let kind = match cut_of(first) {
        Cut::Slice => format!("slice of a {}", size_word(first)),
        Cut::Trimmed => format!("{}, trimmed", size_word(first)),
        Cut::Whole => first.kind.clone(),
    };
    let kind = escape(&kind);
    match run {
        [_, .., last] => format!(
            "<b>{}</b> to <b>{}</b> <span class=\"kind\">{kind}, {} alike</span>",
            first.placed.address,
            last.placed.address,
            run.len()
        ),
        _ => format!("<b>{}</b> <span class=\"kind\">{kind}</span>", first.placed.address),
    }
}

/// Fabrics with their corners, and the strip.
fn what(sheet: &Sheet, work: &RowWork, unit: &UnitWork) -> String {
    match unit.second {
        None => format!("{}{}", sheet.fabric(unit.first), over(sheet, work, unit)),
        Some(second) => format!("{}{}", turn(sheet, unit, second), cut(sheet, unit)),
    }
}

fn over(sheet: &Sheet, work: &RowWork, unit: &UnitWork) -> String {
    match spare(unit) {
        Length::ZERO => String::new(),
        over => format!("<br/>{} of it is spare, {}", sheet.len(over), spare_place(work, unit)),
    }
}

fn turn(sheet: &Sheet, unit: &UnitWork, second: Print) -> String {
    let corner = corner(unit);
    let half = |fabric, corner: Corner| {
        format!("<span class=\"half\">{} <b class=\"n\">{}</b></span>", sheet.fabric(fabric), corner.words())
    };
    format!("{}, {}", half(unit.first, corner), half(second, corner.opposite()))
}

/// The strip to cut off, once the unit lies as it is sewn.
fn cut(sheet: &Sheet, unit: &UnitWork) -> String {
    let (Some(strip), address) = (unit.strip, unit.placed.address) else { return String::new() };
    if let Source::Offcut(from) = unit.source {
        let first = if from > address { format!(" Make {from} first.") } else { String::new() };
        return format!("<br/>The {}.{first}", strip_words(from, address));
    }
    if strip_on_hand(sheet.work, unit) {
        return "<br/>A strip on hand: turn it so, nothing is cut.".into();
    }
    let cut = format!("<br/>Turn it so, then cut <b>{} off the {}</b>", sheet.len(strip.cut), strip.side.words());
    match (cut_of(unit), unit.offcut_to) {
        (Cut::Slice, _) => format!("{cut} and use that strip."),
        (_, Some(to)) => format!("{cut}; the {}.", strip_words(address, to)),
        _ => format!("{cut}."),
    }
}

fn from(sheet: &Sheet, unit: &UnitWork) -> String {
    escape(&source(sheet.work, unit))
}

/// Sum, press, measure; and a line to tick.
fn check(sheet: &Sheet, work: &RowWork, runs: &[&[UnitWork]]) -> String {
    let press = if work.units.len() > 1 {
        format!("Press its seams to the <b>{}</b>. ", work.press.words())
    } else {
        String::new()
    };
    let spare = spare_words(sheet, work);
    let measure = if spare.is_empty() { "The row should measure" } else { "It should then measure" };
    let ticks = [("sewn", 2), ("pressed", 2), ("measured", 1)];
    let ticks: String =
        ticks.iter().filter(|(_, least)| work.units.len() >= *least).map(|(word, _)| tick(word)).collect();
    format!(
        "<div class=\"check\"><p>{}{press}{spare}{measure} <b>{}</b>.</p><p class=\"ticks\">{ticks}</p></div>\n",
        sum(sheet, work, runs),
        sheet.size(work.unfinished)
    )
}

fn sum(sheet: &Sheet, work: &RowWork, runs: &[&[UnitWork]]) -> String {
    if work.units.len() < 2 {
        return String::new();
    }
    let term = |run: &&[UnitWork]| {
        let width = run.first().map(|unit| sheet.ruler.number(unit.finished.width)).unwrap_or_default();
        let width = format!("<span class=\"n\">{width}</span>");
        if run.len() > 1 { format!("{} × {width}", run.len()) } else { width }
    };
    let terms: Vec<String> = runs.iter().map(term).collect();
    format!("Finished widths: {} = {}. ", terms.join(" + "), sheet.len(work.finished.width))
}

/// How a row with spare ends is fitted and trimmed.
fn spare_words(sheet: &Sheet, work: &RowWork) -> String {
    let over = |unit: Option<&UnitWork>| unit.is_some_and(|unit| spare(unit) > Length::ZERO);
    let (left, right) = (over(work.units.first()), over(work.units.last()));
    let beside = neighbour(sheet, work);
    let fit = match (left, right, beside) {
        (false, false, _) => return String::new(),
        (true, true, Some(row)) => format!("match its middle to the middle of the row {row}, and trim both ends"),
        (true, false, Some(row)) => format!("line up its right end with the row {row}, and trim the left end"),
        (false, true, Some(row)) => format!("line up its left end with the row {row}, and trim the right end"),
        (true, true, None) => "trim both ends alike".into(),
        (true, false, None) => "trim the left end".into(),
        (false, true, None) => "trim the right end".into(),
    };
    format!("As sewn it is {} wide: {fit} to {}. ", sheet.len(work.sewn_width), sheet.len(work.unfinished.width))
}

/// The row that a row is fitted to: above it, or below where it is the first.
fn neighbour(sheet: &Sheet, work: &RowWork) -> Option<&'static str> {
    let of_column =
        |other: &&RowWork| (other.address.band, other.address.column) == (work.address.band, work.address.column);
    let rows = sheet.work.rows.iter().filter(of_column).count();
    match work.address.row {
        1 if rows < 2 => None,
        1 => Some("below"),
        _ => Some("above"),
    }
}
