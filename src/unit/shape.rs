//! A triangle unit as it lies in a row: whole, trimmed, or the slice that came off.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{Corner, Shape, Side};

/// Whether a triangle unit is used whole, with a strip cut off, or as that strip.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
#[cfg_attr(not(feature = "internals"), non_exhaustive)]
pub enum Cut {
    /// The whole unit.
    Whole,
    /// The unit with a strip cut off one side.
    Trimmed,
    /// The strip that came off.
    Slice,
}

impl Cut {
    /// Every cut.
    pub const ALL: [Self; 3] = [Self::Whole, Self::Trimmed, Self::Slice];

    /// Its place in `ALL`.
    #[inline(always)]
    pub const fn index(self) -> usize {
        match self {
            Self::Whole => 0,
            Self::Trimmed => 1,
            Self::Slice => 2,
        }
    }

    /// The word after the unit's size; none for a whole unit.
    pub fn word(self) -> Option<&'static str> {
        match self {
            Self::Whole => None,
            Self::Trimmed => Some("trimmed"),
            Self::Slice => Some("slice"),
        }
    }

    /// Whether nothing is cut off: a square, the same when its fabrics are exchanged and it is turned by half.
    #[inline(always)]
    pub const fn is_whole(self) -> bool {
        match self {
            Self::Whole => true,
            Self::Trimmed | Self::Slice => false,
        }
    }

    /// Whether it is a strip off another unit, which may be there already.
    pub const fn is_strip(self) -> bool {
        match self {
            Self::Whole | Self::Trimmed => false,
            Self::Slice => true,
        }
    }

    /// Whether a strip comes off it that another unit may be.
    pub const fn gives_strip(self) -> bool {
        match self {
            Self::Whole | Self::Slice => false,
            Self::Trimmed => true,
        }
    }

    /// Corners that make different units: a whole unit's other two are the same with its fabrics exchanged.
    pub fn corners(self) -> &'static [Corner] {
        if self.is_whole() { &Corner::ALL[..2] } else { &Corner::ALL }
    }
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
    /// Whether a print in it stands upright, so that it is sewn for its corner and never turned.
    pub upright: bool,
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
        let &Self { block, cut, corner, upright, .. } = self;
        Triangle { block, cut, corner, tip, rest, upright }
    }

    /// The corner that the pair's first fabric fills, where it must be sewn for that.
    pub fn stands(&self) -> Option<Corner> {
        self.upright.then(|| self.turn())
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

    /// Which halves of a cell lie in the tip, the half nearer to the tip's corner first.
    pub fn in_tip(&self, [x, y]: [u32; 2], width: u32, height: u32) -> [bool; 2] {
        let from_left = if self.corner.is_left() { x } else { width - 1 - x };
        let from_top = if self.corner.is_upper() { y } else { height - 1 - y };
        [0, 1].map(|half| from_left + from_top + half < width.min(height))
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
        Triangle { block: 4, cut, corner, tip: 1, rest: 0, upright: false }
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
    fn the_seam_halves_the_cells_that_it_crosses() {
        let halves = |corner, width: u32, height: u32| -> Vec<usize> {
            let cells = (0..height).flat_map(|y| (0..width).map(move |x| [x, y]));
            let in_tip = |cell| unit(Cut::Whole, corner).in_tip(cell, width, height);
            cells.map(|cell| in_tip(cell).into_iter().filter(|half| *half).count()).collect()
        };
        assert_eq!(halves(Corner::UpperLeft, 3, 3), [2, 2, 1, 2, 1, 0, 1, 0, 0]);
        assert_eq!(halves(Corner::LowerLeft, 3, 3), [1, 0, 0, 2, 1, 0, 2, 2, 1]);
        assert_eq!(halves(Corner::UpperRight, 3, 2), [0, 1, 2, 0, 0, 1]);
    }

    #[test]
    fn the_turn_is_the_first_fabrics_corner() {
        assert_eq!(unit(Cut::Whole, Corner::UpperLeft).turn(), Corner::LowerRight);
        assert_eq!(unit(Cut::Whole, Corner::UpperLeft).pair(), (0, 1));
    }
}
