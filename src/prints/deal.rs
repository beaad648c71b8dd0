//! Who shows which print: lots of cloth, the units that are made of them, and what it costs, kept up to date.

use std::collections::BTreeMap;

use typed_index_collections::TiVec;

use super::strips::Strips;
use crate::fabric::{Family, Print};

/// Stands for no lot and no class.
pub const NONE: usize = usize::MAX;

/// Cloth that is cut together: a pair of squares, or one filler.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Lot {
    /// Its families: one of a filler, two of a pair.
    pub families: Vec<Family>,
    /// The print that it has of each.
    pub prints: Vec<Print>,
    /// What cloth it takes of each print: lots of one kind may exchange their prints.
    pub kind: usize,
    /// Units that it gives.
    pub yields: usize,
    /// Units that are made of it.
    pub units: Vec<usize>,
    /// Where it comes from.
    pub source: Source,
}

/// Where the prints of a lot come from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Source {
    /// They are chosen as it is cut.
    Cloth,
    /// They are those of units or fillers on hand.
    Hand,
    /// They are those of strips on hand, which have a tip and a rest.
    Strip,
}

/// A unit in a scene.
#[derive(Clone, Debug)]
pub struct Unit {
    /// Its lot; none of what stands.
    pub lot: usize,
    /// Units of one class are made of the same families and size.
    pub class: usize,
    /// Whether its tip is of the lot's second print.
    pub turned: bool,
}

/// What is to be low, the first before all.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Cost {
    /// Touching patches that show one print.
    pub clashes: i64,
    /// Strips used again, less than none.
    pub strips: i64,
    /// How near units that look alike are to each other.
    pub alike: i64,
}

/// An exchange; made once more, it is undone.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Move {
    /// Two units of a class are made of each other's lots.
    Swap(usize, usize),
    /// A unit is made of another lot, which has one to spare.
    Shift(usize, usize),
    /// A quiet unit's two patches exchange prints.
    Turn(usize),
    /// A lot is made with another print on one side.
    Change(usize, usize, Print),
    /// Two lots of a kind exchange the prints of one family.
    Exchange([(usize, usize); 2]),
}

/// A scene with a print on every patch.
#[derive(Clone)]
pub struct Deal {
    /// Units by band, column, row and unit.
    pub units: Vec<Unit>,
    /// What they are made of.
    pub lots: Vec<Lot>,
    /// The print that each patch shows, two patches a unit; a filler has one.
    pub shows: Vec<Option<Print>>,
    /// By patch: those of its family that it touches.
    pub touches: Vec<Vec<usize>>,
    /// Units of each class that may be exchanged.
    pub classes: Vec<Vec<usize>>,
    /// By class: its lots, those on hand that no unit is made of among them.
    pub made_of: Vec<Vec<usize>>,
    /// The same where they give more units than there are.
    pub spare: Vec<Vec<usize>>,
    /// Sides of lots that may exchange their prints.
    pub sides: Vec<Vec<(usize, usize)>>,
    /// By lot and side: its place in `sides`.
    pub side_of: Vec<Vec<usize>>,
    /// By unit: units of its class that are near, and what they cost where they look alike.
    pub near: Vec<Vec<(usize, i64)>>,
    /// By unit: its prints whichever way it is turned.
    pub looks: Vec<[Option<Print>; 2]>,
    /// By kind and print: lots more that may be made of it.
    pub room: Vec<TiVec<Print, i64>>,
    /// Strips off trimmed units and slices.
    pub strips: Strips,
    /// What it costs.
    pub cost: Cost,
}

impl Deal {
    /// Whether a move changes anything and takes no cloth that is not there.
    pub fn allows(&self, step: Move) -> bool {
        match step {
            Move::Swap(u, v) => self.looks[u] != self.looks[v] && self.units[u].lot != self.units[v].lot,
            Move::Shift(u, lot) => {
                let lot_now = self.units[u].lot;
                let (now, then) = (&self.lots[lot_now], &self.lots[lot]);
                // A piece on hand leaves its place only to another, so that none goes unused for cloth.
                let held = now.source != Source::Cloth && then.source == Source::Cloth;
                lot != lot_now && then.units.len() < then.yields && now.prints != then.prints && !held
            }
            Move::Turn(unit) => {
                let lot = &self.lots[self.units[unit].lot];
                lot.families.len() == 2 && lot.families[0] == lot.families[1] && lot.source != Source::Strip
            }
            Move::Change(lot, _, print) => {
                let lot = &self.lots[lot];
                lot.source == Source::Cloth && !lot.prints.contains(&print) && self.room[lot.kind][print] > 0
            }
            Move::Exchange([(a, i), (b, j)]) => {
                let (one, other) = (&self.lots[a], &self.lots[b]);
                let shown = !one.units.is_empty() || !other.units.is_empty();
                a != b && shown && !one.prints.contains(&other.prints[j]) && !other.prints.contains(&one.prints[i])
            }
        }
    }

    /// Makes a move that is allowed; the move back.
    pub fn make(&mut self, step: Move) -> Move {
        match step {
            Move::Swap(u, v) => {
                let (a, b) = (self.units[u].lot, self.units[v].lot);
                self.put(u, b);
                self.put(v, a);
                step
            }
            Move::Shift(unit, lot) => {
                let before = self.units[unit].lot;
                self.put(unit, lot);
                Move::Shift(unit, before)
            }
            Move::Turn(unit) => {
                self.units[unit].turned ^= true;
                self.dress(unit);
                step
            }
            Move::Change(lot, side, print) => {
                let before = std::mem::replace(&mut self.lots[lot].prints[side], print);
                let room = &mut self.room[self.lots[lot].kind];
                room[before] += 1;
                room[print] -= 1;
                self.dress_all(lot);
                Move::Change(lot, side, before)
            }
            Move::Exchange([(a, i), (b, j)]) => {
                let held = (self.lots[a].prints[i], self.lots[a].source);
                (self.lots[a].prints[i], self.lots[a].source) = (self.lots[b].prints[j], self.lots[b].source);
                (self.lots[b].prints[j], self.lots[b].source) = held;
                self.dress_all(a);
                self.dress_all(b);
                step
            }
        }
    }

    /// What a move would cost.
    pub fn would_cost(&mut self, step: Move) -> Cost {
        let back = self.make(step);
        let cost = self.cost;
        self.make(back);
        cost
    }

    fn put(&mut self, unit: usize, lot: usize) {
        let before = std::mem::replace(&mut self.units[unit].lot, lot);
        self.lots[before].units.retain(|&other| other != unit);
        self.lots[lot].units.push(unit);
        self.dress(unit);
    }

    fn dress_all(&mut self, lot: usize) {
        for place in 0..self.lots[lot].units.len() {
            self.dress(self.lots[lot].units[place]);
        }
    }

    /// Shows the lot's prints on a unit's patches.
    pub fn dress(&mut self, unit: usize) {
        let Unit { lot, turned, .. } = self.units[unit];
        let prints = &self.lots[lot].prints;
        let (first, second) = (Some(prints[0]), prints.get(1).copied());
        let patches = if turned { [second, first] } else { [first, second] };
        self.show(unit, patches);
    }

    /// Shows prints on a unit's patches, and counts what that changes.
    pub fn show(&mut self, unit: usize, prints: [Option<Print>; 2]) {
        let patches = [2 * unit, 2 * unit + 1];
        let before = patches.map(|patch| self.shows[patch]);
        if before == prints {
            return;
        }
        self.cost.alike -= self.alike(unit);
        self.cost.strips += self.strips.count(unit, before, -1);
        for (patch, print) in patches.into_iter().zip(prints) {
            let before = std::mem::replace(&mut self.shows[patch], print);
            for &other in &self.touches[patch] {
                let other = self.shows[other];
                self.cost.clashes += i64::from(other == print) - i64::from(other == before && before.is_some());
            }
        }
        self.looks[unit] = [prints[0].min(prints[1]), prints[0].max(prints[1])];
        self.cost.strips += self.strips.count(unit, prints, 1);
        self.cost.alike += self.alike(unit);
    }

    /// What a unit costs by those near it that look like it; nothing before it is dressed.
    fn alike(&self, unit: usize) -> i64 {
        let look = self.looks[unit];
        if look == [None; 2] {
            return 0;
        }
        self.near[unit].iter().filter(|(other, _)| self.looks[*other] == look).map(|(_, cost)| cost).sum()
    }

    /// Gathers the sides of lots that may exchange their prints.
    pub fn gather_sides(&mut self) {
        let mut numbers: BTreeMap<(Family, usize), usize> = BTreeMap::new();
        for (index, lot) in self.lots.iter().enumerate() {
            let number = |family: &Family| {
                let next = numbers.len();
                *numbers.entry((*family, lot.kind)).or_insert(next)
            };
            let of: Vec<usize> = lot.families.iter().map(number).collect();
            self.sides.resize(numbers.len(), Vec::new());
            of.iter().enumerate().for_each(|(side, &number)| self.sides[number].push((index, side)));
            self.side_of.push(of);
        }
    }

    /// Gathers the lots of each class that gives more units than the scene has.
    pub fn gather_spare(&mut self) {
        for (class, lots) in self.classes.iter().zip(&self.made_of) {
            let given = lots.iter().map(|&lot| self.lots[lot].yields).fold(0, usize::saturating_add);
            self.spare.push(if given > class.len() { lots.clone() } else { Vec::new() });
        }
    }

    /// The lot and its side that a free unit's patch is of.
    pub fn side(&self, patch: usize) -> (usize, usize) {
        let unit = &self.units[patch / 2];
        (unit.lot, (patch % 2) ^ usize::from(unit.turned))
    }

    /// Patches that show the print of a patch that they touch.
    pub fn clashing(&self) -> impl Iterator<Item = usize> {
        (0..self.shows.len()).filter(|&patch| self.clashes_at(patch))
    }

    /// Whether a patch shows the print of one that it touches.
    pub fn clashes_at(&self, patch: usize) -> bool {
        self.touches[patch].iter().any(|&other| self.shows[other] == self.shows[patch])
    }
}
