//! Where the seams of a top run, where they end, and which fabrics lie along them.

use std::collections::BTreeMap;

use super::press::Way;
use crate::fabric::Print;
use crate::plan::{Placed, Plan};

/// Band, column, row and unit that a seam joins to the one before; 0 where the part is no smaller.
pub type Part = [usize; 4];

/// A straight seam between two parts.
#[derive(Clone, Copy, Debug)]
pub struct Seam {
    /// The part that it joins to the one before.
    pub part: Part,
    /// Whether it runs down; else across.
    pub upright: bool,
    /// The line that it is on, in cells.
    pub at: u32,
    /// Where it begins on that line.
    pub from: u32,
    /// Where it ends.
    pub to: u32,
    /// Where it is pressed if nothing speaks against it.
    pub usual: Way,
}

/// How a seam that ends at a point lies there.
#[derive(Clone, Copy, Debug)]
pub enum Lies {
    /// As the straight seam of this number is pressed.
    Straight(usize),
    /// Right and down, or left and up; nothing where it is open or nobody knows.
    Diagonal(i8, i8),
}

/// A seam's end.
#[derive(Clone, Copy, Debug)]
pub struct End {
    /// Which way the seam runs from here, right and down.
    pub body: (i8, i8),
    /// How it lies.
    pub lies: Lies,
}

/// Where patches border on a line, from the first on: from, to, fabric.
type Borders = Vec<(u32, u32, Print)>;

/// All seams of a top.
pub struct Seams {
    /// The straight ones, by address.
    pub straight: Vec<Seam>,
    /// Ends on each line that runs down, then across: by line and place.
    ends: [BTreeMap<(u32, u32), Vec<End>>; 2],
    /// By whether the line runs down, the line, and whether the patch lies before it.
    borders: BTreeMap<(bool, u32, bool), Borders>,
}

impl Seams {
    /// The seams of a plan; `towards` tells which fabric a unit's diagonal is pressed to, where that is known.
    pub fn of(plan: &Plan, placed: &[Placed], towards: impl Fn(&Placed) -> Option<Print>) -> Self {
        let mut seams = Self { straight: straight(plan), ends: Default::default(), borders: BTreeMap::new() };
        for (number, seam) in seams.straight.clone().into_iter().enumerate() {
            let lies = Lies::Straight(number);
            match seam.upright {
                true => {
                    seams.end((seam.at, seam.from), End { body: (0, 1), lies });
                    seams.end((seam.at, seam.to), End { body: (0, -1), lies });
                }
                false => {
                    seams.end((seam.from, seam.at), End { body: (1, 0), lies });
                    seams.end((seam.to, seam.at), End { body: (-1, 0), lies });
                }
            }
        }
        for unit in placed {
            seams.unit(unit, towards(unit));
        }
        seams.borders.values_mut().for_each(|borders| borders.sort_unstable());
        seams
    }

    fn unit(&mut self, unit: &Placed, towards: Option<Print>) {
        for (number, patch) in unit.patches().into_iter().enumerate() {
            let next = patch.outline.iter().cycle().skip(1);
            for (&(x, y), &(x2, y2)) in patch.outline.iter().zip(next) {
                let (right, down) = (sign(x, x2), sign(y, y2));
                match (right, down) {
                    (0, _) => self.borders(true, x, down > 0, (y.min(y2), y.max(y2), patch.fabric)),
                    (_, 0) => self.borders(false, y, right < 0, (x.min(x2), x.max(x2), patch.fabric)),
                    // Outlines run clockwise, so the patch lies to the right hand of its edge.
                    _ if number == 0 => {
                        let lies = match towards {
                            None => Lies::Diagonal(0, 0),
                            Some(fabric) if fabric == patch.fabric => Lies::Diagonal(-down, right),
                            Some(_) => Lies::Diagonal(down, -right),
                        };
                        self.end((x, y), End { body: (right, down), lies });
                        self.end((x2, y2), End { body: (-right, -down), lies });
                    }
                    _ => {}
                }
            }
        }
    }

    fn borders(&mut self, upright: bool, line: u32, before: bool, border: (u32, u32, Print)) {
        self.borders.entry((upright, line, before)).or_default().push(border);
    }

    fn end(&mut self, (x, y): (u32, u32), end: End) {
        let [down, across] = &mut self.ends;
        down.entry((x, y)).or_default().push(end);
        across.entry((y, x)).or_default().push(end);
    }

    /// What ends on a line between two places: each place with its ends.
    pub fn ends_on(&self, upright: bool, line: u32, from: u32, to: u32) -> impl Iterator<Item = (u32, &[End])> {
        let ends = &self.ends[usize::from(!upright)];
        ends.range((line, from)..=(line, to)).map(|(&(_, place), ends)| (place, ends.as_slice()))
    }

    /// What lies along a seam: how many cells, the fabric before it and the one after it.
    pub fn along(&self, seam: &Seam) -> Vec<(u32, Print, Print)> {
        let side = |before: bool| {
            let all = self.borders.get(&(seam.upright, seam.at, before)).map_or(&[][..], Vec::as_slice);
            &all[all.partition_point(|border| border.1 <= seam.from)..]
        };
        let (before, after) = (side(true), side(false));
        let (mut i, mut j, mut at) = (0, 0, seam.from);
        let mut along = Vec::new();
        while let (Some(one), Some(two)) = (before.get(i), after.get(j)) {
            if at >= seam.to {
                break;
            }
            let end = one.1.min(two.1).min(seam.to);
            along.push((end - at, one.2, two.2));
            (i, j, at) = (i + usize::from(one.1 == end), j + usize::from(two.1 == end), end);
        }
        along
    }
}

fn sign(from: u32, to: u32) -> i8 {
    to.cmp(&from) as i8
}

/// Rows' seams by turns left and right, long seams down, columns to the one with fewer rows.
fn straight(plan: &Plan) -> Vec<Seam> {
    let mut seams = Vec::new();
    let mut top = 0;
    for (b, band) in (1..).zip(&plan.bands) {
        let width = band.columns.iter().map(|column| column.width).sum();
        if b > 1 {
            let part = [b, 0, 0, 0];
            seams.push(Seam { part, upright: false, at: top, from: 0, to: width, usual: Way::After });
        }
        let (mut left, mut before) = (0, usize::MAX);
        for (c, column) in (1..).zip(&band.columns) {
            let rows = column.rows.len();
            if c > 1 {
                let usual = if rows < before { Way::After } else { Way::Before };
                let (from, to) = (top, top + band.height);
                seams.push(Seam { part: [b, c, 0, 0], upright: true, at: left, from, to, usual });
            }
            let mut y = top;
            for (r, row) in (1..).zip(&column.rows) {
                if r > 1 {
                    let (from, to) = (left, left + column.width);
                    seams.push(Seam { part: [b, c, r, 0], upright: false, at: y, from, to, usual: Way::After });
                }
                let usual = if r % 2 == 1 { Way::Before } else { Way::After };
                let mut x = left;
                for (u, unit) in (1..).zip(&row.units) {
                    if u > 1 {
                        let (from, to) = (y, y + row.height);
                        seams.push(Seam { part: [b, c, r, u], upright: true, at: x, from, to, usual });
                    }
                    x += unit.width;
                }
                y += row.height;
            }
            (left, before) = (left + column.width, rows);
        }
        top += band.height;
    }
    seams
}
