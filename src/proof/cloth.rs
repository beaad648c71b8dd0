//! A piece of cloth on paper, plain or sewn: its size and its patches.

use super::paper::{Outline, Point, Size, point, rectangle, tidy, within};
use crate::measure::Length;

/// One visible piece of one fabric.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Patch {
    /// Corners clockwise from the uppermost left.
    pub outline: Outline,
    /// Letter of its fabric.
    pub fabric: String,
}

/// A rectangle of patches, its upper left corner at nothing.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Cloth {
    /// Width and height.
    pub size: Size,
    /// Patches in the order of their outlines.
    pub patches: Vec<Patch>,
}

const CORNER: Point = Point { y: Length::ZERO, x: Length::ZERO };

impl Cloth {
    /// One fabric all over.
    pub fn plain(fabric: &str, size: Size) -> Self {
        Self { size, patches: vec![Patch { outline: rectangle(CORNER, size), fabric: fabric.into() }] }
    }

    /// A square split from lower left to upper right: `first` in the upper left corner, `second` in the lower right.
    pub fn split(first: &str, second: &str, side: Length) -> Self {
        let (right, down, far) = (point(side, Length::ZERO), point(Length::ZERO, side), point(side, side));
        let half = |corners: [Point; 3], fabric: &str| Patch { outline: corners.to_vec(), fabric: fabric.into() };
        let patches = [half([CORNER, right, down], first), half([right, far, down], second)];
        Self::of(Size { width: side, height: side }, patches)
    }

    /// A strip of a split square, stood up: a right isosceles triangle of `tip` in an upper corner, the rest of `rest`.
    pub fn strip(tip: &str, rest: &str, size: Size, left: bool) -> Self {
        let square = match left {
            true => Self::split(tip, rest, size.height),
            false => Self::split(tip, rest, size.height).turned(),
        };
        // Where the tip's half runs out, as wide as the strip.
        let from = if left { size.height - size.width } else { Length::ZERO };
        square.cut_out(point(from, Length::ZERO), size)
    }

    /// Planned patches of a piece whose upper left corner is at `at`.
    pub fn planned(patches: &[Patch], at: Point, size: Size) -> Self {
        let moved = |patch: &Patch| {
            let outline = patch.outline.iter().map(|corner| point(corner.x - at.x, corner.y - at.y)).collect();
            Patch { outline, fabric: patch.fabric.clone() }
        };
        Self::of(size, patches.iter().map(moved))
    }

    fn of(size: Size, patches: impl IntoIterator<Item = Patch>) -> Self {
        let tidied = patches.into_iter().map(|patch| Patch { outline: tidy(patch.outline), ..patch });
        let mut patches: Vec<Patch> = tidied.filter(|patch| !patch.outline.is_empty()).collect();
        patches.sort();
        Self { size, patches }
    }

    fn redrawn(&self, size: Size, redraw: impl Fn(&[Point]) -> Outline) -> Self {
        let patch = |patch: &Patch| Patch { outline: redraw(&patch.outline), fabric: patch.fabric.clone() };
        Self::of(size, self.patches.iter().map(patch))
    }

    /// The cloth after one quarter turn clockwise.
    pub fn turned(&self) -> Self {
        let turn = |p: &Point| point(self.size.height - p.y, p.x);
        self.redrawn(self.size.on_its_side(), |outline| outline.iter().map(turn).collect())
    }

    /// The cloth after `quarters` quarter turns clockwise.
    pub fn turned_by(self, quarters: u8) -> Self {
        (0..quarters % 4).fold(self, |cloth, _| cloth.turned())
    }

    /// The rectangle of `size` at `at`, cut out.
    pub fn cut_out(&self, at: Point, size: Size) -> Self {
        self.redrawn(size, |outline| within(outline, at, size))
    }

    /// What shows once `seam` is sewn away on all four sides.
    pub fn sewn_in(&self, seam: Length) -> Self {
        self.cut_out(point(seam, seam), self.size.less(seam + seam))
    }

    /// The patches with the upper left corner laid at `at`.
    pub fn laid(&self, at: Point) -> Vec<Patch> {
        let moved = |p: &Point| point(p.x + at.x, p.y + at.y);
        self.redrawn(self.size, |outline| outline.iter().map(moved).collect()).patches
    }

    /// Whether this is the same cloth as `other`, turned but never turned over.
    pub fn is_turned(&self, other: &Self) -> bool {
        (0..4).any(|quarters| self.clone().turned_by(quarters) == *other)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ticks(n: i64) -> Length {
        Length::from_ticks(n)
    }

    fn strip(turns: u8, left: i64) -> Cloth {
        let size = Size { width: ticks(3), height: ticks(10) };
        Cloth::split("A", "B", ticks(10)).turned_by(turns).cut_out(point(ticks(left), ticks(0)), size)
    }

    #[test]
    fn a_quarter_turn_brings_the_first_fabric_to_the_upper_right() {
        let turned = Cloth::split("A", "B", ticks(10)).turned();
        let corners = |fabric: &str| &turned.patches.iter().find(|p| p.fabric == fabric).unwrap().outline;
        let at = |x, y| point(ticks(x), ticks(y));
        assert_eq!(*corners("A"), [at(0, 0), at(10, 0), at(10, 10)]);
        assert_eq!(*corners("B"), [at(0, 0), at(10, 10), at(0, 10)]);
    }

    #[test]
    fn four_turns_change_nothing() {
        let unit = strip(0, 0);
        assert_eq!(unit.turned().turned().turned().turned(), unit);
        assert_ne!(unit.turned().turned(), unit);
    }

    #[test]
    fn a_strip_has_four_kinds_of_cloth() {
        // Mostly one fabric or mostly the other, leaning one way or the other: turned they never agree.
        let kinds = [strip(0, 0), strip(0, 7), strip(1, 0), strip(1, 7)];
        for (i, one) in kinds.iter().enumerate() {
            assert!(one.is_turned(&one.turned()));
            assert!(kinds[i + 1..].iter().all(|other| !one.is_turned(other)));
        }
        assert!(strip(2, 7).is_turned(&strip(0, 0)), "a half turn and the other side are the same strip");
    }
}
