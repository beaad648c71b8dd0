//! One sheet as a list of cuts, in the order in which they are made.

use std::ops::Range;

use crate::cutting::Size;
use crate::cutting::layout::{PieceAt, PieceToCut, Sheet, SheetLayout, StripCut};
use crate::measure::{Length, Ruler};
use crate::render::text::by;

/// Every cut of a sheet, one line each; `pieces` and `sheets` are those that were laid out.
pub fn cutting_words(layout: &SheetLayout, pieces: &[PieceToCut], sheets: &[Sheet], ruler: Ruler) -> Vec<String> {
    let mut lines = Vec::new();
    if layout.turned {
        let id = sheets.get(layout.sheet).map_or("the cloth", |sheet| sheet.id.as_str());
        lines.push(format!("Turn {id}: its {} side is the width here.", ruler.show(layout.width)));
    }
    let strips = &layout.strips;
    lines.extend(
        runs(strips, |one, other| one.height == other.height).into_iter().map(|run| strip_line(strips, run, ruler)),
    );
    lines.extend(runs(strips, alike).into_iter().map(|run| piece_line(layout, pieces, run, ruler)));
    lines.extend(left_line(layout, ruler));
    lines
}

/// Stretches of strips of which each is like the first.
pub(super) fn runs(strips: &[StripCut], like: impl Fn(&StripCut, &StripCut) -> bool) -> Vec<Range<usize>> {
    let mut runs: Vec<Range<usize>> = Vec::new();
    for (index, strip) in strips.iter().enumerate() {
        match runs.last_mut() {
            Some(run) if strips.get(run.start).is_some_and(|first| like(first, strip)) => run.end = index + 1,
            _ => runs.push(index..index + 1),
        }
    }
    runs
}

/// Whether two strips are cut alike.
pub(super) fn alike(one: &StripCut, other: &StripCut) -> bool {
    one.height == other.height && one.cuts == other.cuts
}

fn strip_line(strips: &[StripCut], run: Range<usize>, ruler: Ruler) -> String {
    let height = strips.get(run.start).map_or(Length::ZERO, |strip| strip.height);
    let height = ruler.show(height);
    match run.len() {
        1 => format!("Cut 1 part {height} deep across the width: part {}.", run.end),
        count => format!("Cut {count} parts {height} deep across the width: {}.", numbers(&run)),
    }
}

/// `part 3`, `parts 1 and 2`, `parts 1 to 4`.
fn numbers(run: &Range<usize>) -> String {
    let (first, last) = (run.start + 1, run.end);
    match run.len() {
        0 | 1 => format!("part {first}"),
        2 => format!("parts {first} and {last}"),
        _ => format!("parts {first} to {last}"),
    }
}

fn piece_line(layout: &SheetLayout, pieces: &[PieceToCut], run: Range<usize>, ruler: Ruler) -> String {
    let Some(strip) = layout.strips.get(run.start) else { return String::new() };
    let mut groups: Vec<(&PieceAt, usize)> = Vec::new();
    for cut in &strip.cuts {
        match groups.last_mut() {
            Some((first, count)) if first.piece == cut.piece && first.width == cut.width => *count += 1,
            _ => groups.push((cut, 1)),
        }
    }
    if let [(cut, 1)] = groups[..]
        && cut.width == layout.width
        && let Some(piece) = pieces.get(cut.piece)
    {
        let size = by(ruler, Size { width: piece.width, height: piece.height });
        return format!("Keep {} whole ({}, {size}).", numbers(&run), piece.id);
    }
    let groups = groups
        .into_iter()
        .filter_map(|(cut, count)| Some(group(cut, count, pieces.get(cut.piece)?, strip.height, ruler)));
    let each = if run.len() > 1 { "each of " } else { "" };
    format!("Cut {each}{} into {}.", numbers(&run), groups.collect::<Vec<_>>().join("; "))
}

/// `4 squares of 9 1/2 in (F1)`, `2 pieces 4 in long, each trimmed to 8 in (F3, 8 x 4 in)`.
fn group(cut: &PieceAt, count: usize, piece: &PieceToCut, strip: Length, ruler: Ruler) -> String {
    let along = ruler.show(cut.width);
    let (square, trimmed) = (piece.width == piece.height, cut.height < strip);
    if square && !trimmed {
        let noun = if count == 1 { "square" } else { "squares" };
        return format!("{count} {noun} of {along} ({})", piece.id);
    }
    let (noun, each) = if count == 1 { ("piece", "") } else { ("pieces", "each ") };
    let trim = match (trimmed, square) {
        (false, _) => String::new(),
        (true, true) => format!(", {each}trimmed to a square"),
        (true, false) => format!(", {each}trimmed to {}", ruler.show(cut.height)),
    };
    let size = by(ruler, Size { width: piece.width, height: piece.height });
    format!("{count} {noun} {along} long{trim} ({}, {size})", piece.id)
}

/// What stays whole and is worth keeping, equal ones together.
fn left_line(layout: &SheetLayout, ruler: Ruler) -> Option<String> {
    let mut sizes: Vec<(String, usize)> = Vec::new();
    for remain in layout.remains(ruler.least_strip()) {
        let size = by(ruler, Size { width: remain.width, height: remain.height });
        match sizes.iter_mut().find(|seen| seen.0 == size) {
            Some(seen) => seen.1 += 1,
            None => sizes.push((size, 1)),
        }
    }
    let one = |(size, count): (String, usize)| if count == 1 { size } else { format!("{count} of {size}") };
    let list: Vec<String> = sizes.into_iter().map(one).collect();
    (!list.is_empty()).then(|| format!("Left over: {}.", list.join("; ")))
}
