//! Row by row: what to sew to what.

use maud::{Markup, html};

use super::sheet::{Sheet, line, section as numbered, table, tick};
use super::{drawings, map};
use crate::cutting::Size;
use crate::make::{Joint, RowWork, Source, Tone, UnitWork, Way, Work};
use crate::measure::Length;
use crate::render::markup::{BR, joined};
use crate::render::press_words::{join, staystitch, way, within};
use crate::render::text::count;
use crate::render::words::{
    corner, cut_of, is_upright, size_word, source, spare, spare_place, strip_goes, strip_on_hand, strip_words,
};
use crate::unit::{Corner, Cut};

/// More lines than this may be split over two sheets of paper.
const LONG: usize = 36;
/// More lines than this take two columns.
const SHORT: usize = 9;
/// More units than this are too small to read in a column of half the paper's width.
const NARROW: usize = 6;

/// Units of a chapter, at least: each begins a sheet of paper, and has its addresses at its foot.
const CHAPTER: usize = 50;

/// Every row with its drawing, its table and its check; `after` stands on the sheets of the last chapter.
pub(super) fn section(sheet: &Sheet, after: &Markup) -> Markup {
    let columns = sheet.plan.bands.iter().any(|band| band.columns.len() > 1);
    let named = columns || sheet.plan.bands.len() > 1;
    let intro = html! { p class="intro" { (intro(sheet)) } "\n" };
    html! {
        @for (number, rows) in (1_usize..).zip(chapters(sheet.work)) {
            div class={ "chapter chapter-" (number) } {
                "\n"
                @if number == 1 { (numbered(5, "rows", "Sew the rows", &intro)) }
                @for part in rows.chunk_by(one_part) { (of_part(sheet, part, named)) }
                @if rows.last() == sheet.work.rows.last() { (after) }
            }
            "\n"
        }
    }
}

fn of_part(sheet: &Sheet, part: &[RowWork], named: bool) -> Markup {
    html! {
        div class="part" {
            "\n"
            @if named { (heading(sheet, part)) }
            @for line in beside(part) {
                @if let [work] = line {
                    (row(sheet, work, true))
                } @else {
                    div class="beside" { "\n" @for work in line { (row(sheet, work, false)) } }
                    "\n"
                }
            }
        }
        "\n"
    }
}

pub(super) fn one_part(one: &RowWork, other: &RowWork) -> bool {
    (one.address.band, one.address.column) == (other.address.band, other.address.column)
}

/// Columns that share sheets of paper.
fn chapters(work: &Work) -> Vec<&[RowWork]> {
    let units = |rows: &[RowWork]| rows.iter().map(|row| row.units.len()).sum::<usize>();
    let (mut chapters, mut rest) = (Vec::new(), work.rows.as_slice());
    while !rest.is_empty() {
        let mut end = 0;
        for part in rest.chunk_by(one_part) {
            end += part.len();
            if units(&rest[..end]) >= CHAPTER && units(&rest[end..]) >= CHAPTER {
                break;
            }
        }
        chapters.push(&rest[..end]);
        rest = &rest[end..];
    }
    chapters
}

/// The addresses of each chapter, for the foot of its sheets.
pub(super) fn feet(work: &Work) -> String {
    let foot = |(number, rows): (usize, &[RowWork])| {
        let words = |row: Option<&RowWork>| row.map(|row| row.address.row_words()).unwrap_or_default();
        let (first, last) = (words(rows.first()), words(rows.last()));
        let also = if rows.last() == work.rows.last() { ", and joining them" } else { "" };
        format!(
            "@page rows-{number} {{ @bottom-center {{ content: \"rows {first} to {last}{also}\"; }} }}\n\
             .chapter-{number} {{ page: rows-{number}; }}\n"
        )
    };
    (1..).zip(chapters(work)).map(foot).collect()
}

fn intro(sheet: &Sheet) -> String {
    let cut = sheet.work.rows.iter().flat_map(|row| &row.units).any(|unit| unit.strip.is_some());
    let pale = if cut { " What is pale and dashed in a drawing is cut off and not used here." } else { "" };
    format!(
        "Lay each row out before you sew it. Its head shows where it lies in the top, and the row finished; the drawings in \
         the table show each unit on the mat, seams included, turned as it is sewn.{pale} Each unit comes from a pair (P1), \
         a filler (F1) or what is on hand (H1), and measures what its line says before it is sewn. Neighbours that are \
         alike share one line. Sew in chains: the first two units of each row, row after row without cutting the thread, \
         then the third unit to each, and so on; cut them apart, press, and measure each row before you go on."
    )
}

/// A column's name and size; and which of its rows are here, where that is not all.
fn heading(sheet: &Sheet, part: &[RowWork]) -> Markup {
    let Some(work) = part.first() else { return Markup::default() };
    let band = sheet.plan.bands.get(work.address.band - 1);
    let column = band.and_then(|band| band.columns.get(work.address.column - 1));
    let (Some(band), Some(column)) = (band, column) else { return Markup::default() };
    let grid = sheet.plan.request.grid;
    let size = sheet.size(Size { width: grid * column.width, height: grid * band.height });
    let rows = count(column.rows.len() as u64, "row", "rows");
    let here = if part.len() < column.rows.len() { format!("{} of its ", part.len()) } else { String::new() };
    html! {
        h3 {
            "Band " (work.address.band) @if band.columns.len() > 1 { ", column " (work.address.column) }
            " " span class="fine" { (here) (rows) ", " (size) " finished" }
        }
        "\n"
    }
}

/// Narrow rows one after the other, which share two columns of the paper; each other row alone.
fn beside(part: &[RowWork]) -> Vec<&[RowWork]> {
    let narrow = |work: &RowWork| is_sewn(work) || work.units.len() <= NARROW && runs(&work.units).len() <= SHORT;
    let runs = part.chunk_by(|one, other| narrow(one) && narrow(other));
    runs.collect()
}

/// Whether nothing is left to do in a row.
fn is_sewn(work: &RowWork) -> bool {
    work.units.iter().all(|unit| unit.source == Source::Sewn)
}

fn head(sheet: &Sheet, work: &RowWork) -> Markup {
    let units = count(work.units.len() as u64, "unit", "units");
    html! {
        h4 { "Row " (work.address.row_words()) " " span class="fine" { (units) ", " (sheet.size(work.finished)) " finished" } }
    }
}

/// A row that is sewn already.
fn sewn(sheet: &Sheet, work: &RowWork) -> Markup {
    html! {
        article class="row narrow one sewn" id={ "row-" (work.address.row_words()) } {
            "\n" div class="head" { (map::thumb(sheet, work)) div { (head(sheet, work)) p { "Sewn." } } }
            "\n"
        }
        "\n"
    }
}

fn row(sheet: &Sheet, work: &RowWork, wide: bool) -> Markup {
    if is_sewn(work) {
        return sewn(sheet, work);
    }
    let runs = runs(&work.units);
    let heads = ["Unit", "Lies", "Fabrics", "From", "Measures"];
    let lines: Vec<Markup> = runs.iter().map(|run| unit(sheet, work, run, &heads)).collect();
    // A wide row's table stands in two halves side by side.
    let (first, second) = lines.split_at(if wide { lines.len().div_ceil(2) } else { lines.len() });
    let address = work.address.row_words();
    html! {
        article class={ "row" (class(work, &runs, wide)) } id={ "row-" (address) } {
            "\n"
            div class="head" {
                (map::thumb(sheet, work))
                div {
                    (head(sheet, work))
                    "\n" (drawings::row(sheet, work, wide))
                }
            }
            "\n" div class="work" {
                "\n" (table("units", &heads, first))
                @if !second.is_empty() { (table("units more", &heads, second)) }
            }
            "\n" (check(sheet, work, &runs))
        }
        "\n"
    }
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
    let key =
        |u: &UnitWork| (u.first, u.second, u.turn, u.finished, u.cut, u.source, u.strip, u.offcut_to, u.bias.clone());
    one.kind == two.kind && key(one) == key(two)
}

/// A unit, or some that are alike, and below it what is cut off.
fn unit(sheet: &Sheet, work: &RowWork, run: &[UnitWork], heads: &[&str]) -> Markup {
    let Some(unit) = run.first() else { return Markup::default() };
    let sewn = unit.source == Source::Sewn;
    let drawing = if sewn { Markup::default() } else { drawings::unit(sheet, work, unit) };
    let cells = [addresses(run), drawing, what(sheet, unit), from(sheet, unit), sizes(sheet, unit)];
    let also = [first_of_all(unit), if unit.second.is_some() { cut(sheet, unit) } else { over(sheet, work, unit) }];
    let also: Vec<Markup> = also.into_iter().flatten().collect();
    html! {
        (line(heads, &cells))
        @if !also.is_empty() { tr class="also" { td {} td colspan="4" { (joined(also.into_iter(), &html! { " " })) } } "\n" }
    }
}

/// The size to measure, the size it finishes at, and the size to cut where that is more.
fn sizes(sheet: &Sheet, unit: &UnitWork) -> Markup {
    html! {
        @if let Some(cut) = unit.cut.filter(|cut| *cut != unit.unfinished) { "cut " (sheet.size(cut)) (BR) }
        b { (sheet.size(unit.unfinished)) } (BR) span class="fine" { "finishes " (sheet.size(unit.finished)) }
    }
}

fn addresses(run: &[UnitWork]) -> Markup {
    let Some(first) = run.first() else { return Markup::default() };
    html! {
        b { (first.placed.address.to_string()) }
        @if let [_, .., last] = run { " to " b { (last.placed.address.to_string()) } }
        " " span class="kind" { (size_word(first)) @if run.len() > 1 { ", " (run.len()) " alike" } }
    }
}

/// Fabrics with their corners.
fn what(sheet: &Sheet, unit: &UnitWork) -> Markup {
    let Some(second) = unit.second else { return sheet.fabric(unit.first) };
    if unit.source == Source::Sewn {
        return sheet.both(unit.first, second);
    }
    let corner = corner(unit);
    let half = |fabric, corner: Corner| {
        html! { span class="half" { (sheet.fabric(fabric)) " " b class="n" { (corner.words()) } } }
    };
    html! {
        (half(unit.first, corner)) span class="comma" { ", " } (half(second, corner.opposite()))
        @if is_upright(unit) { " " span class="fine" { "print upright" } }
    }
}

fn over(sheet: &Sheet, work: &RowWork, unit: &UnitWork) -> Option<Markup> {
    let over = spare(unit);
    (over != Length::ZERO).then(|| html! { (sheet.len(over)) " of it is spare, " (spare_place(work, unit)) "." })
}

/// What is done before the unit is handled.
fn first_of_all(unit: &UnitWork) -> Option<Markup> {
    staystitch(unit).map(|words| html! { b { "First" } " " (words) "." })
}

/// The strip to cut off, once the unit lies as it is sewn.
fn cut(sheet: &Sheet, unit: &UnitWork) -> Option<Markup> {
    let (strip, address) = (unit.strip?, unit.placed.address);
    if let Source::Offcut(from) = unit.source {
        return Some(html! {
            "Slice: the " (strip_words(from, address)) "."
            @if from > address { " Make " (from.to_string()) " first." }
        });
    }
    if strip_on_hand(sheet.work, unit) {
        let lies = if is_upright(unit) { "lying" } else { "turned" };
        return Some(html! { "Slice: a strip on hand, " (lies) " so; nothing is cut." });
    }
    let slice = cut_of(unit) == Cut::Slice;
    Some(html! {
        @if slice { "Slice" } @else { "Trimmed" }
        @if is_upright(unit) { ": lying so, cut " } @else { ": turned so, cut " } b { (sheet.len(strip.cut)) " off the " (strip.side.words()) } (strip_goes(unit)) "."
    })
}

fn from(sheet: &Sheet, unit: &UnitWork) -> Markup {
    html! { (source(sheet.work, unit)) }
}

/// Sum, press, measure; and a line to tick.
fn check(sheet: &Sheet, work: &RowWork, runs: &[&[UnitWork]]) -> Markup {
    let spare = spare_words(sheet, work);
    let measure = if spare.is_some() { "Then it measures" } else { "It measures" };
    let ticks = [("sewn", 2), ("pressed", 2), ("measured", 1)];
    let ticks = ticks.into_iter().filter(|(_, least)| work.units.len() >= *least);
    html! {
        div class="check" {
            p {
                (sum(sheet, work, runs))
                (press(sheet, work))
                @if let Some(spare) = spare { (spare) }
                (measure) " " b { (sheet.size(work.unfinished)) } "." (joined_to(sheet, work))
            }
            p class="ticks" { @for (word, _) in ticks { (tick(word)) } }
        }
        "\n"
    }
}

/// Which way its seams are pressed: most of them one way, the others named by the unit after them.
fn press(sheet: &Sheet, work: &RowWork) -> Markup {
    let joints = within(sheet.work, work);
    let right = joints.iter().filter(|joint| joint.way == Way::After).count();
    let most = match joints.first() {
        None => return Markup::default(),
        Some(joint) if joint.way == Way::Open => return html! { "Press its seams " b { "open" } ". " },
        Some(_) if 2 * right > joints.len() => Way::After,
        Some(_) => Way::Before,
    };
    let after = |wanted: &dyn Fn(&Joint) -> bool| -> Vec<String> {
        let units = joints.iter().zip(work.units.iter().skip(1)).filter(|(joint, _)| wanted(joint));
        units.map(|(_, unit)| unit.placed.address.to_string()).collect()
    };
    let others = after(&|joint| joint.way != most);
    let shown = after(&|joint| joint.tone == Tone::Shows);
    let other = if most == Way::After { Way::Before } else { Way::After };
    html! {
        "Press its seams to the " b { (way(most, true)) }
        @if !others.is_empty() { ", but those before " (others.join(", ")) " to the " b { (way(other, true)) } }
        ". "
        @if !shown.is_empty() { "Before " (shown.join(", ")) " trim the dark allowance a little narrower than the pale one, so that it does not show. " }
    }
}

/// How it is joined to the row above.
fn joined_to(sheet: &Sheet, work: &RowWork) -> Markup {
    let at = work.address;
    let joint = sheet.work.joints.of(at.band, at.column, at.row, 0);
    html! { @if let Some(joint) = joint { " Then " (join(joint, "the row above", false)) "." } }
}

fn sum(sheet: &Sheet, work: &RowWork, runs: &[&[UnitWork]]) -> Markup {
    if work.units.len() < 2 {
        return Markup::default();
    }
    let term = |run: &&[UnitWork]| {
        let width = run.first().map(|unit| sheet.ruler.number(unit.finished.width)).unwrap_or_default();
        html! { @if run.len() > 1 { (run.len()) " × " } span class="n" { (width) } }
    };
    let terms = joined(runs.iter().map(term), &html! { " + " });
    html! { (terms) " = " (sheet.len(work.finished.width)) " finished. " }
}

/// How a row with spare ends is fitted and trimmed.
fn spare_words(sheet: &Sheet, work: &RowWork) -> Option<Markup> {
    let over = |unit: Option<&UnitWork>| unit.is_some_and(|unit| spare(unit) > Length::ZERO);
    let (left, right) = (over(work.units.first()), over(work.units.last()));
    let beside = neighbour(sheet, work);
    let fit = match (left, right, beside) {
        (false, false, _) => return None,
        (true, true, Some(row)) => format!("match its middle to the middle of the row {row}, and trim both ends"),
        (true, false, Some(row)) => format!("line up its right end with the row {row}, and trim the left end"),
        (false, true, Some(row)) => format!("line up its left end with the row {row}, and trim the right end"),
        (true, true, None) => "trim both ends alike".into(),
        (true, false, None) => "trim the left end".into(),
        (false, true, None) => "trim the right end".into(),
    };
    let (sewn, trimmed) = (sheet.len(work.sewn_width), sheet.len(work.unfinished.width));
    Some(html! { "As sewn it is " (sewn) " wide: " (fit) " to " (trimmed) ". " })
}

/// The row that a row is fitted to: above it, or below where it is the first.
fn neighbour(sheet: &Sheet, work: &RowWork) -> Option<&'static str> {
    let here = |row: usize| {
        let at = crate::plan::Address { row, ..work.address };
        sheet.work.rows.iter().any(|other| other.address == at)
    };
    match work.address.row {
        row if row > 1 && here(row - 1) => Some("above"),
        row if here(row + 1) => Some("below"),
        _ => None,
    }
}
