//! How much of which pixels lies in each cell, along one side of the top.

use super::Crop;
use super::crop::Area;

/// The pixels of one cell along one side, with their exact weights.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Span {
    /// The first pixel that the cell touches.
    pub first: usize,
    /// The last one.
    pub last: usize,
    /// The weight of the first.
    pub head: u64,
    /// The weight of the last, where it is another.
    pub tail: u64,
}

/// The pixels under a row of cells.
///
/// A pixel is `unit` weights wide and a cell `cell` weights, both whole
/// numbers, so that any fraction of a pixel is exact. The weights of a span
/// add up to `cell`; what lies beyond an edge counts for the edge's pixel.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Axis {
    pub spans: Vec<Span>,
    pub unit: u64,
    pub cell: u64,
}

impl Axis {
    pub(super) fn weight(&self, span: &Span, pixel: usize) -> u64 {
        match pixel {
            pixel if pixel == span.first => span.head,
            pixel if pixel == span.last => span.tail,
            _ => self.unit,
        }
    }
}

/// Square cells laid over the area: its spans across and down.
///
/// A cell is `n / d` pixels a side. In weights of half a `d`th the first cell
/// begins at `length * d - n * count`, which is whole and may be negative.
pub(super) fn axes(area: Area, crop: &Crop, columns: u32, rows: u32) -> (Axis, Axis) {
    let wide = u64::from(area.w) * u64::from(rows) >= u64::from(area.h) * u64::from(columns);
    let by_rows = wide != (*crop == Crop::Whole);
    let (n, d) = if by_rows { (area.h, rows) } else { (area.w, columns) };
    (axis(area.w, columns, n, d), axis(area.h, rows, n, d))
}

fn axis(length: u32, count: u32, n: u32, d: u32) -> Axis {
    let (n, d) = (i128::from(n), i128::from(d));
    let (unit, cell) = (2 * d, 2 * n);
    let start = i128::from(length) * d - n * i128::from(count);
    let edge = |index: u32| start + cell * i128::from(index);
    let spans = (0..count).map(|index| span(edge(index), edge(index + 1), unit, i128::from(length))).collect();
    Axis { spans, unit: weight(unit), cell: weight(cell) }
}

fn span(from: i128, to: i128, unit: i128, length: i128) -> Span {
    let pixel = |place: i128| place.div_euclid(unit).clamp(0, length - 1);
    let (first, last) = (pixel(from), pixel(to - 1));
    let alone = first == last;
    let head = if alone { to - from } else { (first + 1) * unit - from };
    let tail = if alone { 0 } else { to - last * unit };
    Span { first: index(first), last: index(last), head: weight(head), tail: weight(tail) }
}

fn weight(value: i128) -> u64 {
    u64::try_from(value).unwrap_or_default()
}

fn index(value: i128) -> usize {
    usize::try_from(value).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn total(axis: &Axis, span: &Span) -> u64 {
        (span.first..=span.last).map(|pixel| axis.weight(span, pixel)).sum()
    }

    #[test]
    fn weights_add_up_to_a_cell() {
        for (w, h, columns, rows) in [(7, 5, 3, 2), (5, 7, 3, 2), (1, 1, 9, 4), (100, 3, 2, 50), (4, 4, 4, 4)] {
            for crop in [Crop::Centre, Crop::Whole] {
                let (across, down) = axes(Area { x: 0, y: 0, w, h }, &crop, columns, rows);
                for axis in [across, down] {
                    assert!(axis.spans.iter().all(|span| total(&axis, span) == axis.cell), "{w} {h} {crop}");
                }
            }
        }
    }

    #[test]
    fn centre_cuts_as_much_on_either_side_and_whole_draws_out() {
        let area = Area { x: 0, y: 0, w: 4, h: 2 };
        let (across, _) = axes(area, &Crop::Centre, 2, 2);
        assert_eq!(
            across.spans,
            [Span { first: 1, last: 1, head: 4, tail: 0 }, Span { first: 2, last: 2, head: 4, tail: 0 }]
        );
        let (_, down) = axes(area, &Crop::Whole, 2, 2);
        assert_eq!(
            down.spans,
            [Span { first: 0, last: 0, head: 8, tail: 0 }, Span { first: 1, last: 1, head: 8, tail: 0 }]
        );
    }
}
