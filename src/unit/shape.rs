//! A triangle unit as it lies in a row: whole, trimmed, or the slice that came off.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{Corner, Shape, Side};

/// Whether a triangle unit is used whole, with a strip cut off, or as that strip.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum Cut {
    /// The whole unit.
    Whole,
    /// The unit with a strip cut off one side.
    Trimmed,
    /// The strip that came off.
    Slice,
}

/// A triangle unit of two fabrics, each named as `C` does: by print or by family.
///
/// Whatever the cut, it shows a right isosceles triangle in one corner, as long as its shorter side,
/// and the rest of the rectangle in the other fabric: a window on the square that it was cut from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Triangle<C> {
    /// Finished side of the whole unit, in cells.
    pub block: u32,
    /// Which part of the whole unit this is.
    pub cut: Cut,
    /// The corner with the right isosceles triangle.
    pub corner: Corner,
    /// Fabric of that triangle.
    pub tip: C,
    /// Fabric of the rest.
    pub rest: C,
}

impl<C: Copy + Ord> Triangle<C> {
    /// The pair of fabrics, lower index first.
    pub fn pair(&self) -> (C, C) {
        (self.tip.min(self.rest), self.tip.max(self.rest))
    }

    /// The same of these fabrics in the place of the pair's first and second.
    pub fn with_pair<D>(&self, first: D, second: D) -> Triangle<D> {
        if self.tip <= self.rest { self.of(first, second) } else { self.of(second, first) }
    }

    /// The same of other fabrics.
    pub fn of<D>(&self, tip: D, rest: D) -> Triangle<D> {
        Triangle { block: self.block, cut: self.cut, corner: self.corner, tip, rest }
    }

    /// Its shape in a row of `height`.
    pub fn shape(&self, width: u32, height: u32) -> Shape {
        Shape { height, width, block: self.block, cut: self.cut }
    }

    /// The corner of the whole unit that the pair's first fabric fills, and so the unit's turn.
    pub fn turn(&self) -> Corner {
        if self.tip <= self.rest { self.corner } else { self.corner.opposite() }
    }

    /// The side off which a strip `width` x `height` was cut, or that the strip itself came from.
    pub fn strip_side(&self, width: u32, height: u32) -> Option<Side> {
        let upright = width < height;
        let near = match self.cut {
            Cut::Whole => return None,
            Cut::Trimmed => true,
            Cut::Slice => false,
        };
        Some(match (upright, if upright { self.corner.is_left() } else { self.corner.is_upper() } == near) {
            (true, true) => Side::Left,
            (true, false) => Side::Right,
            (false, true) => Side::Top,
            (false, false) => Side::Bottom,
        })
    }

    /// Outlines of the tip and of the rest in a `width` x `height` rectangle at (x, y), in cells.
    pub fn outlines(&self, x: u32, y: u32, width: u32, height: u32) -> [Vec<(u32, u32)>; 2] {
        let leg = width.min(height);
        let (right, bottom) = (x + width, y + height);
        let flip = |points: &[(u32, u32)]| {
            let (left, upper) = (self.corner.is_left(), self.corner.is_upper());
            let mut points: Vec<_> = points
                .iter()
                .map(|&(dx, dy)| (if left { x + dx } else { right - dx }, if upper { y + dy } else { bottom - dy }))
                .collect();
            if left != upper {
                points.reverse();
            }
            from_upper_left(points)
        };
        let tip = [(0, 0), (leg, 0), (0, leg)];
        let rest = [(leg, 0), (width, 0), (width, height), (0, height), (0, leg)];
        let mut rest = rest.to_vec();
        rest.dedup();
        [flip(&tip), flip(&rest)]
    }
}

fn from_upper_left(mut points: Vec<(u32, u32)>) -> Vec<(u32, u32)> {
    let first = (0..points.len()).min_by_key(|&i| (points[i].1, points[i].0)).expect("an outline has corners");
    points.rotate_left(first);
    points
}

#[cfg(test)]
mod tests {
    use super::*;

    fn unit(cut: Cut, corner: Corner) -> Triangle<u8> {
        Triangle { block: 4, cut, corner, tip: 1, rest: 0 }
    }

    #[test]
    fn a_whole_unit_splits_on_its_diagonal() {
        let [tip, rest] = unit(Cut::Whole, Corner::UpperRight).outlines(0, 0, 4, 4);
        assert_eq!(tip, [(0, 0), (4, 0), (4, 4)]);
        assert_eq!(rest, [(0, 0), (4, 4), (0, 4)]);
    }

    #[test]
    fn a_trimmed_unit_shows_a_triangle_and_a_cut_off_triangle() {
        // The seam runs from the lower left to the upper right; 1 comes off the left.
        let trimmed = unit(Cut::Trimmed, Corner::UpperLeft);
        assert_eq!(trimmed.strip_side(3, 4), Some(Side::Left));
        let [tip, rest] = trimmed.outlines(0, 0, 3, 4);
        assert_eq!(tip, [(0, 0), (3, 0), (0, 3)]);
        assert_eq!(rest, [(3, 0), (3, 4), (0, 4), (0, 3)]);
    }

    #[test]
    fn a_slice_comes_from_the_side_that_the_trimmed_unit_loses() {
        for corner in Corner::ALL {
            for (w, h) in [(1, 4), (4, 1)] {
                let slice = unit(Cut::Slice, corner).strip_side(w, h);
                assert_eq!(slice, unit(Cut::Trimmed, corner.opposite()).strip_side(w, h));
            }
        }
    }

    #[test]
    fn the_turn_is_the_first_fabrics_corner() {
        assert_eq!(unit(Cut::Whole, Corner::UpperLeft).turn(), Corner::LowerRight);
        assert_eq!(unit(Cut::Whole, Corner::UpperLeft).pair(), (0, 1));
    }
}
