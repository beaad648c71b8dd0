//! The seams of the plan in their places: joints between parts, diagonals, and the arms that end in each point.

use std::collections::BTreeMap;

use super::paper::{Point, edges, heading, point};
use super::scene::{Scene, Unit};
use crate::measure::Length;

/// A way right and down; nothing for a seam that is open or not known.
pub type Way = (i8, i8);

/// The way from a diagonal to the patch of each fabric.
pub type Towards = Vec<(String, Way)>;

/// A seam that joins a part to the one before it.
#[derive(Clone, Copy, Debug)]
pub struct Joint {
    /// Where it begins.
    pub from: Point,
    /// Where it ends.
    pub to: Point,
}

/// A seam as it leaves a point.
#[derive(Clone, Copy, Debug)]
pub struct Arm {
    /// The way that it runs.
    pub runs: Way,
    /// The way that its allowance lies.
    pub lies: Way,
}

/// Arms by point, and by point with its two sides exchanged.
#[derive(Default)]
pub struct Arms {
    by_row: BTreeMap<Point, Vec<Arm>>,
    by_column: BTreeMap<Point, Vec<Arm>>,
}

impl Joint {
    /// Whether it runs down.
    pub fn is_upright(&self) -> bool {
        self.from.x == self.to.x
    }
}

impl Arms {
    /// Adds a seam by both its ends.
    pub fn add(&mut self, from: Point, to: Point, lies: Way) {
        let runs = ((to.x - from.x).ticks().signum() as i8, (to.y - from.y).ticks().signum() as i8);
        for (at, runs) in [(from, runs), (to, (-runs.0, -runs.1))] {
            self.by_row.entry(at).or_default().push(Arm { runs, lies });
            self.by_column.entry(point(at.y, at.x)).or_default().push(Arm { runs, lies });
        }
    }

    /// Every point on a joint with the arms that are within its length.
    pub fn on(&self, joint: &Joint) -> Vec<Vec<Arm>> {
        let upright = joint.is_upright();
        let turned = |p: Point| if upright { point(p.y, p.x) } else { p };
        let arms = if upright { &self.by_column } else { &self.by_row };
        let (from, to) = (turned(joint.from), turned(joint.to));
        let inside = |at: &Point, arm: &Arm| {
            let along = if upright { arm.runs.1 } else { arm.runs.0 };
            (*at != from || along > 0) && (*at != to || along < 0)
        };
        let kept = |(at, arms): (&Point, &Vec<Arm>)| arms.iter().copied().filter(|arm| inside(at, arm)).collect();
        arms.range(from..=to).map(kept).collect()
    }
}

/// Every joint by the address of the part that it joins to the one before.
pub fn joints(scene: &Scene) -> BTreeMap<String, Joint> {
    let mut joints = BTreeMap::new();
    let mut y = Length::ZERO;
    for (b, band) in (1..).zip(&scene.bands) {
        let height: Length = band.first().into_iter().flatten().map(|row| tall(row)).sum();
        if b > 1 {
            let joint = Joint { from: point(Length::ZERO, y), to: point(scene.size.width, y) };
            joints.insert(format!("{b}"), joint);
        }
        let mut x = Length::ZERO;
        for (c, column) in (1..).zip(band) {
            let width = column.first().map_or(Length::ZERO, |row| wide(row));
            if c > 1 {
                joints.insert(format!("{b}.{c}"), Joint { from: point(x, y), to: point(x, y + height) });
            }
            let mut top = y;
            for (r, row) in (1..).zip(column) {
                if r > 1 {
                    joints.insert(format!("{b}.{c}.{r}"), Joint { from: point(x, top), to: point(x + width, top) });
                }
                let mut left = x;
                for (u, unit) in (1..).zip(row) {
                    let joint = Joint { from: point(left, top), to: point(left, top + unit.size.height) };
                    if u > 1 {
                        joints.insert(format!("{b}.{c}.{r}.{u}"), joint);
                    }
                    left += unit.size.width;
                }
                top += tall(row);
            }
            x += width;
        }
        y += height;
    }
    joints
}

fn tall(row: &[Unit]) -> Length {
    row.first().map_or(Length::ZERO, |unit| unit.size.height)
}

fn wide(row: &[Unit]) -> Length {
    row.iter().map(|unit| unit.size.width).sum()
}

/// The diagonal of a unit, and the way from it to each patch: none for a filler.
pub fn diagonal(unit: &Unit) -> Option<(Point, Point, Towards)> {
    let sloping = |outline: &[Point]| edges(outline).find(|(from, to)| heading(*from, *to).is_some_and(|h| h % 2 == 1));
    let first = unit.patches.first().and_then(|patch| sloping(&patch.outline))?;
    let towards = unit.patches.iter().filter_map(|patch| {
        let (from, to) = sloping(&patch.outline)?;
        // Outlines run clockwise, so the patch lies a quarter turn clockwise of its edge's heading.
        let way = ((from.y - to.y).ticks().signum() as i8, (to.x - from.x).ticks().signum() as i8);
        Some((patch.fabric.clone(), way))
    });
    Some((first.0, first.1, towards.collect()))
}

/// Which fabrics border on each line that patches have edges on.
#[derive(Default)]
pub struct Borders(BTreeMap<(bool, Length), Vec<Border>>);

/// An edge of a patch: where it begins and ends on its line, whether its patch lies before the line, the fabric.
type Border = (Length, Length, bool, String);

impl Borders {
    /// Adds the edges of a unit.
    pub fn add(&mut self, unit: &Unit) {
        for patch in &unit.patches {
            for (from, to) in edges(&patch.outline) {
                // Clockwise, down is a right edge and leftwards a lower one.
                let (key, one, other, before) = match (from.x == to.x, from.y == to.y) {
                    (true, _) => ((true, from.x), from.y, to.y, to.y > from.y),
                    (_, true) => ((false, from.y), from.x, to.x, to.x < from.x),
                    _ => continue,
                };
                let border = (one.min(other), one.max(other), before, patch.fabric.clone());
                self.0.entry(key).or_default().push(border);
            }
        }
    }

    /// Sorts them; to be called once all are added.
    pub fn sort(&mut self) {
        self.0.values_mut().for_each(|borders| borders.sort());
    }

    /// Pairs of fabrics before and after a joint, wherever the two border on one another.
    pub fn along(&self, joint: &Joint) -> Vec<(&str, &str)> {
        let upright = joint.is_upright();
        let (line, from, to) = match upright {
            true => (joint.from.x, joint.from.y, joint.to.y),
            false => (joint.from.y, joint.from.x, joint.to.x),
        };
        let borders = self.0.get(&(upright, line)).map_or(&[][..], Vec::as_slice);
        let near: Vec<&Border> = borders.iter().filter(|border| border.0 < to && border.1 > from).collect();
        let (before, after): (Vec<&Border>, Vec<&Border>) = near.into_iter().partition(|border| border.2);
        let mut pairs = Vec::new();
        let mut first = 0;
        for one in before {
            let beside = after.iter().enumerate().skip(first).take_while(|(_, other)| other.0 < one.1);
            for (at, other) in beside.filter(|(_, other)| other.1 > one.0) {
                first = at;
                pairs.push((one.3.as_str(), other.3.as_str()));
            }
        }
        pairs
    }
}
