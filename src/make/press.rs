//! Which way each seam is pressed, and what it meets.
//!
//! A diagonal is pressed to its darker fabric before anyone knows what it will meet. Straight seams on one line that
//! meet end to end are pressed by turns, so that each two of them nest. That leaves two ways for each such line: the one
//! in which less of a dark allowance lies under a pale fabric; then that in which more ends nest; then the usual one.

#[cfg(test)]
mod tests;

use std::collections::BTreeMap;

use typed_index_collections::TiVec;

use super::seams::{End, Lies, Part, Seam, Seams};
use super::{RowWork, Source, UnitWork};
use crate::cutting::Batch;
use crate::cutting::HandPiece;
use crate::fabric::Print;
use crate::plan::{Address, Placed, Plan, Pressing};

/// Which way a seam is pressed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// To the part before: left or up.
    Before,
    /// To the part itself: right or down.
    After,
    /// Open.
    Open,
}

/// What lies under what where a seam is pressed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Tone {
    /// Neither of these.
    Even,
    /// It lies under the darker fabric all along.
    Darker,
    /// Some of it is dark and lies under a pale fabric.
    Shows,
}

/// A seam that joins a part to the one before.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Joint {
    /// Which way it is pressed.
    pub way: Way,
    /// Places along it where seams of both sides meet.
    pub meets: u32,
    /// Those where they lie opposite ways.
    pub nests: u32,
    /// What lies under what.
    pub tone: Tone,
}

/// Every seam between parts.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Joints(BTreeMap<Part, Joint>);

impl Joints {
    /// The seam that joins a part to the one before; none for the first. 0 stands for what the part is not of.
    pub fn of(&self, band: usize, column: usize, row: usize, unit: usize) -> Option<Joint> {
        self.0.get(&[band, column, row, unit]).copied()
    }

    /// Those that join such parts.
    pub(super) fn only(&self, joins: impl Fn(Part) -> bool) -> Self {
        Self(self.0.iter().filter(|(part, _)| joins(**part)).map(|(part, joint)| (*part, *joint)).collect())
    }
}

impl Way {
    fn sign(self) -> i8 {
        match self {
            Self::Before => -1,
            Self::After => 1,
            Self::Open => 0,
        }
    }

    fn opposite(self) -> Self {
        match self {
            Self::Before => Self::After,
            Self::After => Self::Before,
            Self::Open => Self::Open,
        }
    }
}

/// Light that a fabric throws back, in millionths; the weights are those of ITU-R BT.709.
pub fn light(plan: &Plan, fabric: Print) -> u32 {
    let [red, green, blue] = plan.fabrics[fabric].colour.linear();
    (1e6 * (0.2126 * red + 0.7152 * green + 0.0722 * blue)).round() as u32
}

/// Pale enough for what lies under it to show, where that is half as light: common practice, no source.
const PALE: u32 = 400_000;

fn shows(over: u32, under: u32) -> bool {
    over >= PALE && over / 2 >= under
}

/// The fabric that the diagonals of a pair are pressed to: the darker, or the first where neither is; none where open.
pub fn darker(plan: &Plan, batch: &Batch) -> Option<Print> {
    side_of(plan, batch.first, batch.second)
}

fn side_of(plan: &Plan, first: Print, second: Print) -> Option<Print> {
    let dark = if light(plan, second) < light(plan, first) { second } else { first };
    (plan.request.pressing == Pressing::Side).then_some(dark)
}

/// How every seam between parts is pressed.
pub fn joints(plan: &Plan, hand: &[HandPiece], rows: &[RowWork]) -> Joints {
    let units: BTreeMap<Address, &UnitWork> =
        rows.iter().flat_map(|row| &row.units).map(|unit| (unit.placed.address, unit)).collect();
    // What was made by an earlier list was pressed as lists say; of all else on hand nobody knows.
    let unknown = |source: Source| matches!(source, Source::Hand(index) if !hand[index].was_made_so());
    let from_hand = |unit: &UnitWork| match unit.source {
        Source::Offcut(from) => units.get(&from).is_some_and(|unit| unknown(unit.source)),
        source => unknown(source),
    };
    let towards = |placed: &Placed| {
        let unit = units.get(&placed.address).filter(|unit| !from_hand(unit))?;
        side_of(plan, unit.first, unit.second?)
    };
    press(plan, &Seams::of(plan, &plan.placed(), towards))
}

fn press(plan: &Plan, seams: &Seams) -> Joints {
    let lights: TiVec<Print, u32> = plan.fabrics.keys().map(|fabric| light(plan, fabric)).collect();
    let mut iron = Iron { seams, lights, ways: seams.straight.iter().map(|seam| seam.usual).collect() };
    match plan.request.pressing {
        Pressing::Side => iron.choose(),
        Pressing::Open => iron.ways.fill(Way::Open),
    }
    let joints = seams.straight.iter().zip(&iron.ways);
    Joints(joints.map(|(seam, &way)| (seam.part, iron.joint(seam, way))).collect())
}

struct Iron<'a> {
    seams: &'a Seams,
    lights: TiVec<Print, u32>,
    ways: Vec<Way>,
}

impl Iron<'_> {
    /// Each line of seams that meet end to end takes the better of its two ways.
    fn choose(&mut self) {
        let straight = &self.seams.straight;
        let starts: BTreeMap<_, _> = (0..).zip(straight).map(|(i, s)| ((s.upright, s.at, s.from), i)).collect();
        let next = |i: usize| starts.get(&(straight[i].upright, straight[i].at, straight[i].to)).copied();
        let mut first = vec![true; straight.len()];
        (0..straight.len()).filter_map(next).for_each(|i| first[i] = false);
        for start in (0..straight.len()).filter(|&i| first[i]) {
            let line: Vec<usize> = std::iter::successors(Some(start), |&i| next(i)).collect();
            let usual = straight[start].usual;
            let (other, one) = (self.cost(&line, usual.opposite()), self.cost(&line, usual));
            let better = if other < one { usual.opposite() } else { usual };
            self.lay(&line, better);
        }
    }

    fn lay(&mut self, line: &[usize], first: Way) {
        for (turn, &seam) in line.iter().enumerate() {
            self.ways[seam] = if turn % 2 == 0 { first } else { first.opposite() };
        }
    }

    /// Cells that show through, ends that do not nest, seams that are not pressed as usual.
    fn cost(&mut self, line: &[usize], first: Way) -> (u32, usize, usize) {
        self.lay(line, first);
        let straight = &self.seams.straight;
        let shown = line.iter().map(|&i| self.shown(&straight[i], self.ways[i])).sum();
        let unusual = line.iter().filter(|&&i| self.ways[i] != straight[i].usual).count();
        let places = line.first().map(|&i| straight[i].from).into_iter().chain(line.iter().map(|&i| straight[i].to));
        let upright = line.first().is_some_and(|&i| straight[i].upright);
        let at = line.first().map_or(0, |&i| straight[i].at);
        // What ends at a place of the line meets across it, so on a line that runs the other way.
        let bad = places.flat_map(|place| self.seams.ends_on(!upright, place, at, at));
        let bad = bad.filter(|(_, ends)| self.meet(!upright, ends.iter()) == Some(false)).count();
        (shown, bad, unusual)
    }

    fn shown(&self, seam: &Seam, way: Way) -> u32 {
        let under = |&(_, before, after): &(u32, Print, Print)| self.under(before, after, way);
        self.seams.along(seam).iter().filter(|part| under(part).is_some_and(|(o, u)| shows(o, u))).map(|p| p.0).sum()
    }

    /// Light of the fabric that lies over the allowance, and of that which lies under it.
    fn under(&self, before: Print, after: Print, way: Way) -> Option<(u32, u32)> {
        let (before, after) = (self.lights[before], self.lights[after]);
        match way {
            Way::Before => Some((before, after)),
            Way::After => Some((after, before)),
            Way::Open => None,
        }
    }

    fn tone(&self, seam: &Seam, way: Way) -> Tone {
        let along = self.seams.along(seam);
        let parts: Vec<(u32, u32)> = along.iter().filter_map(|part| self.under(part.1, part.2, way)).collect();
        if parts.iter().any(|&(over, under)| shows(over, under)) {
            Tone::Shows
        } else if parts.iter().all(|(over, under)| over <= under) && parts.iter().any(|(over, under)| over < under) {
            Tone::Darker
        } else {
            Tone::Even
        }
    }

    fn joint(&self, seam: &Seam, way: Way) -> Joint {
        let (mut meets, mut nests) = (0, 0);
        for (place, ends) in self.seams.ends_on(seam.upright, seam.at, seam.from, seam.to) {
            let along = |end: &&End| if seam.upright { end.body.1 } else { end.body.0 };
            let inside = |end: &&End| (place > seam.from || along(end) > 0) && (place < seam.to || along(end) < 0);
            let met = self.meet(seam.upright, ends.iter().filter(inside));
            meets += u32::from(met.is_some());
            nests += u32::from(met == Some(true));
        }
        Joint { way, meets, nests, tone: self.tone(seam, way) }
    }

    /// Whether ends meet on a line and nest: all of one side lie one way along it, all of the other the other way.
    fn meet<'e>(&self, upright: bool, ends: impl Iterator<Item = &'e End>) -> Option<bool> {
        let mut sides: [Vec<i8>; 2] = Default::default();
        for end in ends {
            let across = if upright { end.body.0 } else { end.body.1 };
            let lies = match end.lies {
                Lies::Straight(seam) => self.ways[seam].sign(),
                Lies::Diagonal(right, down) => {
                    if upright {
                        down
                    } else {
                        right
                    }
                }
            };
            match across {
                -1 => sides[0].push(lies),
                1 => sides[1].push(lies),
                _ => {}
            }
        }
        let way = |side: &Vec<i8>| side.first().copied().filter(|way| side.iter().all(|other| other == way));
        let [before, after] = &sides;
        if before.is_empty() || after.is_empty() {
            return None;
        }
        Some(matches!((way(before), way(after)), (Some(one), Some(other)) if one != 0 && one == -other))
    }
}
