//! Whether outlines fill a rectangle with no gap and no overlap.

use std::collections::BTreeMap;

use super::paper::{Outline, Size};
use super::paper::{Point, edges, heading, rectangle};
use crate::measure::Length;

/// A line that edges lie on: by which of four ways it runs, and where.
type Line = (u8, Length);

/// Whether the outline is convex and runs once round clockwise, along the eight headings.
pub fn runs_round(outline: &[Point]) -> bool {
    let headings: Option<Vec<u8>> = edges(outline).map(|(from, to)| heading(from, to)).collect();
    let Some(headings) = headings else { return false };
    let next = headings.iter().cycle().skip(1);
    let turns: Vec<u32> = headings.iter().zip(next).map(|(h, n)| (u32::from(*n) + 8 - u32::from(*h)) % 8).collect();
    turns.iter().all(|turn| (1..=3).contains(turn)) && turns.iter().sum::<u32>() == 8
}

/// The first point where `outlines` leave a gap, overlap, or leave the rectangle.
///
/// Walked clockwise, the edges of outlines that tile a rectangle cancel each other all along, but for the
/// rectangle's own. Conversely, where they cancel, every point of the paper is enclosed as often as the rectangle
/// encloses it, once inside and never outside; and an outline that runs round once encloses a point once or not at
/// all. An edge adds one at its start and takes one at its end, on its line: all is cancelled when nothing is left.
pub fn leak<'a>(outlines: impl IntoIterator<Item = &'a Outline>, at: Point, size: Size) -> Option<Point> {
    let mut ends: BTreeMap<(Point, Line), i64> = BTreeMap::new();
    let mut add = |outline: &[Point], one: i64| {
        for (from, to) in edges(outline) {
            let line = line(from, to);
            *ends.entry((from, line)).or_default() += one;
            *ends.entry((to, line)).or_default() -= one;
        }
    };
    outlines.into_iter().for_each(|outline| add(outline, 1));
    add(&rectangle(at, size), -1);
    ends.into_iter().find(|(_, left)| *left != 0).map(|((point, _), _)| point)
}

fn line(from: Point, to: Point) -> Line {
    match heading(from, to) {
        Some(0 | 4) => (0, from.y),
        Some(2 | 6) => (1, from.x),
        Some(1 | 5) => (2, from.x - from.y),
        _ => (3, from.x + from.y),
    }
}

#[cfg(test)]
mod tests {
    use super::super::paper::point;
    use super::*;

    fn at(x: i64, y: i64) -> Point {
        point(Length::from_ticks(x), Length::from_ticks(y))
    }

    fn outline(points: &[(i64, i64)]) -> Outline {
        points.iter().map(|&(x, y)| at(x, y)).collect()
    }

    fn leak_of(outlines: &[Outline]) -> Option<Point> {
        assert!(outlines.iter().all(|o| runs_round(o)));
        leak(outlines, at(0, 0), Size { width: Length::from_ticks(8), height: Length::from_ticks(4) })
    }

    #[test]
    fn pieces_that_meet_leave_nothing() {
        let left = outline(&[(0, 0), (4, 0), (0, 4)]);
        let right = outline(&[(4, 0), (8, 0), (8, 4), (0, 4)]);
        assert_eq!(leak_of(&[left, right]), None);
    }

    #[test]
    fn equal_areas_that_do_not_meet_are_found() {
        let upper = outline(&[(0, 0), (8, 0), (8, 2), (0, 2)]);
        let moved = outline(&[(0, 1), (8, 1), (8, 3), (0, 3)]);
        assert_eq!(leak_of(&[upper.clone(), moved]), Some(at(0, 1)));
        assert_eq!(leak_of(&[upper.clone(), upper.clone()]), Some(at(0, 0)));
        assert_eq!(leak_of(&[upper]), Some(at(0, 2)));
    }

    #[test]
    fn only_once_round_clockwise_will_do() {
        for wrong in [
            vec![(0, 0), (0, 4), (4, 0)],
            vec![(0, 0), (4, 0), (4, 4), (2, 2), (0, 4)],
            vec![(0, 0), (4, 4), (4, 0), (0, 4)],
            vec![(0, 0), (4, 2), (0, 4)],
            vec![(0, 0), (4, 0), (4, 4), (0, 4), (0, 0), (4, 0), (4, 4), (0, 4)],
            vec![(0, 0), (2, 0), (4, 0), (0, 4)],
            vec![(1, 1)],
            vec![],
        ] {
            assert!(!runs_round(&outline(&wrong)), "{wrong:?}");
        }
    }
}
