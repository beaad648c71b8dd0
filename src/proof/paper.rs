//! Outlines on paper: points, the eight headings of an edge, and exact cuts.

use crate::measure::Length;

/// A width and a height.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Size {
    /// Along the row.
    pub width: Length,
    /// Across the row.
    pub height: Length,
}

/// A point; the uppermost left one comes first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Point {
    /// Down from the upper edge.
    pub y: Length,
    /// From the left edge.
    pub x: Length,
}

/// A closed line of points, clockwise.
pub type Outline = Vec<Point>;

impl Size {
    /// The size with `both` seams less each way.
    pub fn less(self, both: Length) -> Self {
        Self { width: self.width - both, height: self.height - both }
    }

    /// The size with width and height exchanged.
    pub fn on_its_side(self) -> Self {
        Self { width: self.height, height: self.width }
    }
}

/// A point from the left and down.
pub fn point(x: Length, y: Length) -> Point {
    Point { y, x }
}

/// The outline of a rectangle, its upper left corner at `at`.
pub fn rectangle(at: Point, size: Size) -> Outline {
    let (right, bottom) = (at.x + size.width, at.y + size.height);
    vec![at, point(right, at.y), point(right, bottom), point(at.x, bottom)]
}

/// The edges of an outline, each from its point to the next.
pub fn edges(outline: &[Point]) -> impl Iterator<Item = (Point, Point)> {
    outline.iter().copied().zip(outline.iter().copied().cycle().skip(1))
}

/// The heading of an edge in eighths of a turn clockwise from the right; `None` where it has none of the eight.
pub fn heading(from: Point, to: Point) -> Option<u8> {
    let (right, down) = (to.x - from.x, to.y - from.y);
    let straight = right == Length::ZERO || down == Length::ZERO || right.abs() == down.abs();
    let of = match (right.cmp(&Length::ZERO) as i8, down.cmp(&Length::ZERO) as i8) {
        (1, 0) => 0,
        (1, 1) => 1,
        (0, 1) => 2,
        (-1, 1) => 3,
        (-1, 0) => 4,
        (-1, -1) => 5,
        (0, -1) => 6,
        (1, -1) => 7,
        _ => return None,
    };
    straight.then_some(of)
}

/// The outline with corners only, from the uppermost left one; empty where it encloses nothing.
pub fn tidy(mut outline: Outline) -> Outline {
    outline.dedup();
    while outline.len() > 1 && outline.first() == outline.last() {
        outline.pop();
    }
    let before = outline.iter().copied().cycle().skip(outline.len().saturating_sub(1));
    let mut corners: Outline = before
        .zip(edges(&outline))
        .filter(|&(before, (here, next))| heading(before, here) != heading(here, next))
        .map(|(_, (here, _))| here)
        .collect();
    if corners.len() < 3 {
        return Vec::new();
    }
    let first = (0..corners.len()).min_by_key(|&i| corners.get(i)).unwrap_or(0);
    corners.rotate_left(first);
    corners
}

/// What of a convex outline lies inside the rectangle at `at`, measured from there.
///
/// Every edge runs straight or at 45 degrees, so it meets a cut as far along as across: a whole number of ticks.
pub fn within(outline: &[Point], at: Point, size: Size) -> Outline {
    let (right, bottom) = (at.x + size.width, at.y + size.height);
    let outline = keep(outline, |p| p.x - at.x);
    let outline = keep(&outline, |p| right - p.x);
    let outline = keep(&outline, |p| p.y - at.y);
    let outline = keep(&outline, |p| bottom - p.y);
    tidy(outline.iter().map(|p| point(p.x - at.x, p.y - at.y)).collect())
}

/// The part of a convex outline whose points are at least nothing deep.
fn keep(outline: &[Point], depth: impl Fn(Point) -> Length) -> Outline {
    let mut kept = Vec::with_capacity(outline.len() + 1);
    for (from, to) in edges(outline) {
        let (here, there) = (depth(from), depth(to));
        if here >= Length::ZERO {
            kept.push(from);
        }
        if here.min(there) < Length::ZERO && here.max(there) > Length::ZERO {
            kept.push(point(towards(from.x, to.x, here.abs()), towards(from.y, to.y, here.abs())));
        }
    }
    kept
}

/// `by` from `from` on the way to `to`.
fn towards(from: Length, to: Length, by: Length) -> Length {
    match to.cmp(&from) {
        std::cmp::Ordering::Less => from - by,
        std::cmp::Ordering::Equal => from,
        std::cmp::Ordering::Greater => from + by,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(x: i64, y: i64) -> Point {
        point(Length::from_ticks(x), Length::from_ticks(y))
    }

    fn size(width: i64, height: i64) -> Size {
        Size { width: Length::from_ticks(width), height: Length::from_ticks(height) }
    }

    #[test]
    fn a_cut_across_the_diagonal_is_exact() {
        // Upper left half of a square of 10; the window starts 3 from the left: the diagonal is x + y = 10.
        let half = [at(0, 0), at(10, 0), at(0, 10)];
        assert_eq!(within(&half, at(3, 0), size(7, 10)), [at(0, 0), at(7, 0), at(0, 7)]);
        assert_eq!(within(&half, at(0, 0), size(3, 10)), [at(0, 0), at(3, 0), at(3, 7), at(0, 10)]);
    }

    #[test]
    fn what_only_touches_is_nothing() {
        let half = [at(0, 0), at(10, 0), at(0, 10)];
        assert!(within(&half, at(5, 5), size(5, 5)).is_empty());
        assert!(within(&half, at(0, 10), size(5, 5)).is_empty());
        assert!(within(&rectangle(at(0, 0), size(3, 3)), at(3, 0), size(3, 3)).is_empty());
    }

    #[test]
    fn tidy_starts_at_the_upper_left_and_has_corners_only() {
        let drawn = vec![at(4, 4), at(0, 4), at(0, 4), at(0, 0), at(2, 0), at(4, 0), at(4, 4)];
        assert_eq!(tidy(drawn), rectangle(at(0, 0), size(4, 4)));
        assert!(tidy(vec![at(0, 0), at(5, 5), at(2, 2)]).is_empty());
        assert!(tidy(Vec::new()).is_empty());
    }

    #[test]
    fn headings_count_clockwise() {
        let around = [(5, 0), (5, 5), (0, 5), (-5, 5), (-5, 0), (-5, -5), (0, -5), (5, -5)];
        for (eighth, (x, y)) in (0..).zip(around) {
            assert_eq!(heading(at(1, 1), at(1 + x, 1 + y)), Some(eighth));
        }
        assert_eq!(heading(at(0, 0), at(2, 1)), None);
        assert_eq!(heading(at(1, 1), at(1, 1)), None);
    }
}
