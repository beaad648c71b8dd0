//! Pieced borders: which fabric each unit is of, what its squares give, and how many lie in a row.

use super::{Due, Sides};
use crate::measure::Length;
use crate::proof::fault::Fault;
use crate::proof::finish::{PiecedFile, Units, UnitsFile, usual};
use crate::proof::list::page::fault;

/// Letters of a pieced border from its upper left corner on clockwise, and of what lies behind triangles.
#[derive(Clone, Debug)]
pub(super) struct Ring {
    pub places: Vec<String>,
    pub ground: Option<String>,
}

/// What place of a ring a row begins at, how many units it has, and whether it runs against the ring.
type Row = (&'static str, usize, usize, bool);

impl Due<'_> {
    pub(super) fn pieced_at(&self, number: usize) -> Option<(Units, PiecedFile)> {
        let round = &self.rounds[number];
        Some((round.units?, round.border.pieced.clone()?))
    }

    /// Side of the squares whose pairs give triangle units: the least on a mark that leaves them their seams.
    fn pair(&self, units: Units) -> Result<Length, Fault> {
        let seam = i128::from(self.reader.scene.seam.ticks());
        let step = usual(self.reader.scene.ruler, 2, 2);
        let mut side = units.wide;
        let enough = |side: Length| {
            // side - seam·√2 is at least the unit with two seams.
            let over = i128::from((side - units.wide).ticks()) - 2 * seam;
            over >= 0 && over * over >= 2 * seam * seam
        };
        side = Length::from_ticks(side.ticks() - side.ticks() % step.ticks());
        for _ in 0..10_000 {
            if enough(side) {
                return Ok(side);
            }
            side += step;
        }
        Err(fault("no squares give the units of a border"))
    }

    /// The letters of a pieced border: those asked for in turn, or what is left, in turn while it lasts.
    pub(super) fn ring(&self, units: Units, pieced: &PiecedFile) -> Result<Ring, Fault> {
        let triangles = pieced.units == UnitsFile::Triangles;
        let (darkest, lightest) = self.tones().unwrap_or_default();
        let known = |letter: &&String| self.reader.scene.letters.contains(letter);
        let mut asked: Vec<String> = pieced.fabrics.iter().filter(known).cloned().collect();
        let mut ground = None;
        if triangles {
            let last = if asked.len() > 1 { asked.pop() } else { None };
            let other = if asked.first().is_some_and(|letter| letter == lightest) { darkest } else { lightest };
            ground = Some(last.unwrap_or_else(|| other.to_owned()));
        }
        let all = (2 * (units.sides + units.ends) + 4) as usize;
        if !asked.is_empty() {
            return Ok(Ring { places: (0..all).map(|at| asked[at % asked.len()].clone()).collect(), ground });
        }
        let both = self.both();
        let size = if triangles { [self.pair(units)?; 2] } else { [units.along + both, units.wide + both] };
        let mut room = self.shelf.gives(&self.reader.scene.letters, size);
        room.retain(|(letter, gives)| *gives > 0 && Some(letter) != ground.as_ref());
        room.sort_by_key(|(_, gives)| -gives);
        if triangles {
            room.iter_mut().for_each(|(_, gives)| *gives *= 2);
        }
        if room.is_empty() {
            room = vec![(darkest.to_owned(), 0)];
            if !triangles {
                room.push((lightest.to_owned(), 0));
            }
        }
        let given: i64 = room.iter().map(|(_, gives)| gives).sum();
        if given < all as i64 {
            return Ok(Ring { places: (0..all).map(|at| room[at % room.len()].0.clone()).collect(), ground });
        }
        let mut places = Vec::new();
        let mut next = 0;
        for _ in 0..all {
            let mut at = next;
            while room[at].1 <= 0 {
                at = (at + 1) % room.len();
            }
            room[at].1 -= 1;
            places.push(room[at].0.clone());
            next = (at + 1) % room.len();
        }
        Ok(Ring { places, ground })
    }

    /// What is cut of each fabric, with its lines in the table of what is cut.
    pub(super) fn units(&mut self, number: usize, cut: &mut Vec<Vec<String>>) -> Result<(), Fault> {
        let Some((units, pieced)) = self.pieced_at(number) else { return Ok(()) };
        let ring = self.ring(units, &pieced)?;
        let both = self.both();
        let corner = [units.wide + both, units.wide + both];
        let size = [units.along + both, units.wide + both];
        let corners = corners(units);
        let mut counts: Vec<(String, i64, i64)> = Vec::new();
        for (at, letter) in ring.places.iter().enumerate() {
            let is_corner = i64::from(corners.contains(&at));
            match counts.iter_mut().find(|(known, ..)| known == letter) {
                Some((_, units, corners)) => (*units, *corners) = (*units + 1 - is_corner, *corners + is_corner),
                None => counts.push((letter.clone(), 1 - is_corner, is_corner)),
            }
        }
        // Whether it is of a corner, its letter, its size and how many.
        let mut parts: Vec<(bool, String, Sides, i64)> = Vec::new();
        match pieced.units {
            UnitsFile::Squares => parts.extend(counts.into_iter().map(|(letter, n, m)| (false, letter, size, n + m))),
            UnitsFile::Rectangles => {
                parts.extend(counts.iter().map(|(letter, n, _)| (false, letter.clone(), size, *n)));
                parts.extend(counts.into_iter().map(|(letter, _, m)| (true, letter, corner, m)));
            }
            UnitsFile::Triangles => {
                let pair = [self.pair(units)?; 2];
                parts.extend(counts.into_iter().map(|(letter, n, _)| (false, letter, pair, (n + 1) / 2)));
                let all = parts.iter().map(|part| part.3).sum();
                let ground = ring.ground.clone().unwrap_or_default();
                parts.push((false, ground.clone(), pair, all));
                parts.push((true, ground, corner, 4));
            }
        }
        let name = number + 1;
        for (of_corner, letter, size, count) in parts.into_iter().filter(|part| part.3 > 0) {
            let border = if of_corner { format!("{name}, corners") } else { name.to_string() };
            let line = format!("{count} of {}", self.size(size));
            cut.push(vec![border, self.reader.fabric(&letter), line, "–".into()]);
            let part = format!("Border {name}, {}", if of_corner { "corners" } else { "units" });
            self.pieces(part, Some(&letter), size, count, true)?;
        }
        self.rings[number] = Some(ring);
        Ok(())
    }

    /// What is said of a pieced border.
    pub(super) fn say_units(&mut self, number: usize) -> Result<(), Fault> {
        let Some((units, pieced)) = self.pieced_at(number) else { return Ok(()) };
        let name = number + 1;
        let finish = self.size([units.along, units.wide]);
        let mut numbers = format!("{name} {finish} {} {}", units.sides, units.ends);
        let inside = number.checked_sub(1).map(|inside| &self.rounds[inside]).filter(|inside| inside.evens);
        if let Some([sides, ends]) = inside.map(|inside| inside.widths) {
            numbers += &format!(" {number} {} {}", self.show(sides), self.show(ends));
        }
        if pieced.units == UnitsFile::Triangles {
            let side = self.pair(units)?;
            let trimmed = [units.along + self.both(), units.wide + self.both()];
            let (seam, size) = (self.show(self.reader.scene.seam), self.size(trimmed));
            let ground = self.rings[number].as_ref().and_then(|ring| ring.ground.clone()).unwrap_or_default();
            numbers += &format!(" {} {seam} {size} {ground}", self.show(side));
        }
        let words = match pieced.units {
            UnitsFile::Squares => "is pieced of squares",
            UnitsFile::Rectangles => "is pieced of rectangles",
            UnitsFile::Triangles => "is pieced of triangle units",
        };
        self.say(numbers, words);
        self.say(String::new(), "soon longer or shorter");
        Ok(())
    }

    /// Lines that say which unit follows which.
    pub(super) fn rows(&self) -> Vec<Vec<String>> {
        let mut lines = Vec::new();
        for (number, ring) in self.rings.iter().enumerate() {
            let (Some(ring), Some((units, _))) = (ring, self.pieced_at(number)) else { continue };
            let [first, upper, lower, last] = corners(units);
            let all = ring.places.len();
            let rows: [Row; 4] = [
                ("left side, from the top down", last + 1, all - last - 1, true),
                ("right side, from the top down", upper + 1, lower - upper - 1, false),
                ("top, from the left, corners with it", first, upper + 1, false),
                ("bottom, from the left, corners with it", lower, last - lower + 1, true),
            ];
            for (name, from, count, against) in rows {
                let mut letters: Vec<&str> = ring.places[from..from + count].iter().map(String::as_str).collect();
                if against {
                    letters.reverse();
                }
                lines.push(vec![format!("Border {}, {name}", number + 1), letters.join(" ")]);
            }
        }
        lines
    }
}

/// Places of the corners: upper left, upper right, lower right, lower left.
pub(super) fn corners(units: Units) -> [usize; 4] {
    let (sides, ends) = (units.sides as usize, units.ends as usize);
    let upper = 1 + ends;
    let lower = upper + 1 + sides;
    [0, upper, lower, lower + 1 + ends]
}
