//! What stays as it was costs less: a unit, the seam of a row, the edge of a column.
//!
//! The solver takes an old unit as one more way across its place, at its own cost less so many per cent; what it is
//! priced at is paid in full. At a hundred per cent only what changes costs anything, so a scene that may stay as it
//! was is the best there is, and of all changes the least in error and labour is made.

use super::row::BLOCKED;
use super::{Draft, Free, Problem};
use crate::fabric::{Family, Print};
use crate::plan::{Band, Placed, State, Unit, places, units_mut};

/// A scene before a change, in cells of the new top.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Before {
    /// What stays as it was costs so many per cent less.
    pub less: u32,
    /// Units that may stay, with their prints.
    pub units: Vec<Placed>,
    /// Rows: left, upper, right and lower edge.
    pub rows: Vec<[usize; 4]>,
    /// Left edges of columns, each with its upper and lower end.
    pub edges: Vec<[usize; 3]>,
}

impl Before {
    /// Nothing was there.
    pub const NOTHING: Self = Self { less: 0, units: Vec::new(), rows: Vec::new(), edges: Vec::new() };

    pub(super) fn share(&self, cost: i64) -> i64 {
        cost * i64::from(self.less.min(100)) / 100
    }

    /// What a row's seam costs less, where the row was there.
    pub(super) fn row(&self, row: [usize; 4], cost: i64) -> i64 {
        if self.rows.contains(&row) { self.share(cost) } else { 0 }
    }

    /// What a column's edge costs less, where it was there.
    pub(super) fn edge(&self, edge: [usize; 3], cost: i64) -> i64 {
        if self.edges.contains(&edge) { self.share(cost) } else { 0 }
    }
}

/// Frees what was only held while prints were dealt.
pub fn release(bands: &mut [Band], held: &[usize]) {
    let mut held = held.iter().peekable();
    for (_, unit) in units_mut(bands).enumerate().filter(|(at, _)| held.next_if_eq(&at).is_some()) {
        unit.state = State::Free;
    }
}

/// An old unit as a way across its place in a row.
#[derive(Clone, Copy, Debug)]
pub struct Stay {
    /// Left edge.
    pub from: usize,
    /// Right edge.
    pub to: usize,
    /// What it costs there.
    pub cost: i64,
    /// Its place among the old units.
    pub index: usize,
}

impl Problem<'_> {
    /// Lets what was there before cost less where it may stay: of a family that is left, of a size that can be made.
    pub fn favour(&mut self, before: &Before, family: impl Fn(Print) -> Option<Family>) {
        if before.less == 0 {
            return;
        }
        self.before = before.clone();
        self.before.units = Vec::new();
        self.old = vec![Vec::new(); self.rows];
        for was in &before.units {
            let (right, bottom) = ((was.x + was.unit.width) as usize, (was.y + was.height) as usize);
            let Some(stay) = was.of_families(&family).filter(|_| right <= self.columns && bottom <= self.rows) else {
                continue;
            };
            let (width, height) = (stay.unit.width, stay.height);
            let made = match stay.unit.piece.shape(width, height) {
                Some(shape) => self.shapes.contains(&shape),
                None => width as usize >= self.least && (self.least..=self.tallest).contains(&(height as usize)),
            };
            if made {
                self.old[was.y as usize].push(self.stays.len());
                self.stays.push(stay);
                self.before.units.push(*was);
            }
        }
        // What stays may cost nothing but its cloth.
        self.floor = 0;
    }

    /// Old units that may lie in the row of `height` at `y`, from the left.
    pub(super) fn stays(&self, y: usize, height: usize) -> Vec<Stay> {
        let old = self.old.get(y).map_or(&[][..], Vec::as_slice).iter().copied();
        let old = old.filter(|&index| self.stays[index].height as usize == height);
        let stay = |index: usize| {
            let placed = &self.stays[index];
            let from = placed.x as usize;
            let (cost, price) = self.unit_cost(placed)?;
            let cost = price + cost - self.before.share(cost);
            Some(Stay { from, to: from + placed.unit.width as usize, cost, index })
        };
        old.filter_map(stay).collect()
    }

    /// Rows of `height` at `y` that were there cost less of their seams, which `out` has, by pair of edges.
    pub(super) fn favour_rows(&self, [y, height]: [usize; 2], seams: &[i64], out: &mut [i32]) {
        for &[left, upper, right, lower] in &self.before.rows {
            if [upper, lower] == [y, y + height]
                && let Some(pair) =
                    self.pairs.iter().position(|&(l, r)| [self.edges[l], self.edges[r]] == [left, right])
                && out[pair] < BLOCKED
            {
                out[pair] -= self.before.share(seams[pair]) as i32;
            }
        }
    }

    /// What a unit costs less as it is, because it was there.
    pub fn stays_for(&self, placed: &Placed<Free>) -> i64 {
        let cost = self.stayed(placed).and_then(|_| self.unit_cost(placed));
        cost.map_or(0, |(cost, _)| self.before.share(cost))
    }

    /// The same unit as it was before, with its prints.
    pub fn stayed(&self, placed: &Placed<Free>) -> Option<&Placed> {
        let same = |index: &&usize| {
            let stay = &self.stays[**index];
            (stay.x, stay.height, stay.unit) == (placed.x, placed.height, placed.unit)
        };
        self.old.get(placed.y as usize)?.iter().find(same).map(|&index| &self.before.units[index])
    }

    /// The bands with what stayed as it was standing in its own prints, and the places of that among all units.
    pub fn hold(&self, bands: &[Band<Draft>]) -> (Vec<Band<Draft>>, Vec<usize>) {
        let (mut bands, mut held) = (bands.to_vec(), Vec::new());
        for ((at, placed), unit) in places(&bands).into_iter().enumerate().zip(units_mut(&mut bands)) {
            if let Some(was) = placed.free().and_then(|placed| self.stayed(&placed)) {
                *unit = Draft::Stands(Unit { state: State::Kept, ..was.unit });
                held.push(at);
            }
        }
        (bands, held)
    }
}
