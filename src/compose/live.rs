//! Colours that cannot matter in a part of the top are left out of its sums.
//!
//! One colour outdoes another in a part where it costs no more in any cell of it nor in any price; of two that cost
//! the same everywhere the first does. A unit with the outdone colour costs no less with the other in its place. As
//! its two fabrics must differ, a colour is left out of units where two others outdo it: one of the two is not the
//! other half's. It is left out of fillers where one that gives them as long outdoes it. What outdoes it may be left
//! out itself, but then others outdo that, and as no circle of colours outdo each other, some are always kept that
//! cost no more. So the least cost is the same, and ties are settled where the chosen rows are traced, among all.

use std::ops::Range;

use super::Problem;
use crate::fabric::Family;

/// Colours that can matter about one row of places.
#[derive(Default)]
pub struct Live {
    /// For units, by part of a row, `PART` places each.
    pub units: Vec<Vec<Family>>,
    /// For fillers.
    pub fillers: Vec<Family>,
}

/// So many neighbouring places of a row share what is known of colours.
pub const PART: usize = 32;

/// Cells looked at across and down a part for the colours that may outdo others.
const LOOKS: [usize; 2] = [4, 3];
/// After every colour.
const NO_COLOUR: Family = Family(usize::MAX);

impl Problem<'_> {
    /// All colours everywhere.
    pub fn all_live(&self) -> Live {
        let all: Vec<Family> = self.choices.keys().collect();
        Live { units: vec![all.clone(); self.parts().count()], fillers: all }
    }

    /// The colours that can matter in any row with its upper edge there.
    #[inline(always)]
    pub(super) fn live(&self, uppers: Range<usize>) -> Live {
        let rows = uppers.start..(uppers.end - 1 + self.tallest).min(self.rows);
        let widest = self.shapes.iter().map(|shape| shape.width as usize).max().unwrap_or(1);
        let mut units = Vec::new();
        for from in self.parts() {
            let columns = from..(from + PART + widest).min(self.columns);
            units.push(self.not_outdone(&rows, &columns, 2, |_, _| true));
        }
        Live {
            units,
            fillers: self.not_outdone(&rows, &(0..self.columns), 1, |one, other| self.longer_fillers(one, other)),
        }
    }

    /// Where the parts of a row begin.
    fn parts(&self) -> impl Iterator<Item = usize> {
        (0..self.columns).step_by(PART)
    }

    /// Colours that fewer than so many others outdo in a part.
    #[inline(always)]
    fn not_outdone(
        &self,
        rows: &Range<usize>,
        columns: &Range<usize>,
        enough: usize,
        also: impl Fn(Family, Family) -> bool,
    ) -> Vec<Family> {
        let best = self.best_of_some(rows, columns);
        let mut live = Vec::new();
        for colour in self.choices.keys() {
            let mut outdone = 0;
            for &other in &best {
                if outdone < enough && self.outdoes(other, colour, rows, columns) && also(other, colour) {
                    outdone += 1;
                }
            }
            if outdone < enough {
                live.push(colour);
            }
        }
        live
    }

    /// The two cheapest colours of some cells.
    fn best_of_some(&self, rows: &Range<usize>, columns: &Range<usize>) -> Vec<Family> {
        let look = |range: &Range<usize>, at: usize, of: usize| range.start + range.len() * (2 * at + 1) / (2 * of);
        let cells = (0..LOOKS[0] * LOOKS[1]).map(|at| {
            let (x, y) = (look(columns, at % LOOKS[0], LOOKS[0]), look(rows, at / LOOKS[0], LOOKS[1]));
            y * self.columns + x
        });
        let mut best = Vec::new();
        for cell in cells {
            let mut two = [(u32::MAX, NO_COLOUR); 2];
            for (colour, cells) in self.cells.iter_enumerated() {
                let cost = (cells[cell], colour);
                two = [two[0].min(cost), two[1].min(two[0].max(cost))];
            }
            best.extend(two.map(|(_, colour)| colour).into_iter().filter(|&colour| colour != NO_COLOUR));
        }
        best.sort_unstable();
        best.dedup();
        best
    }

    /// Whether one colour outdoes another in a part.
    #[inline(always)]
    fn outdoes(&self, one: Family, other: Family, rows: &Range<usize>, columns: &Range<usize>) -> bool {
        let mut cheaper = one < other;
        for y in rows.clone() {
            let part = y * self.columns + columns.start..y * self.columns + columns.end;
            let (mut dearer, mut differs) = (false, false);
            for (one, other) in self.cells[one][part.clone()].iter().zip(&self.cells[other][part]) {
                dearer |= one > other;
                differs |= one != other;
            }
            if dearer {
                return false;
            }
            cheaper |= differs;
        }
        cheaper && one != other && self.prices.no_dearer(one, other)
    }

    fn longer_fillers(&self, one: Family, other: Family) -> bool {
        self.heights.iter().all(|&height| self.choices[one].longest(height) >= self.choices[other].longest(height))
    }
}

#[cfg(test)]
mod tests {
    use typed_index_collections::TiVec;

    use crate::compose::{Choice, Design, Labour, PriceList, Problem};
    use crate::fabric::{Family, Rgb};
    use crate::measure::{Length, Ruler, Seam};
    use crate::unit::Vocabulary;

    /// A picture of sea beside sand. Pink is nowhere near, and sea again is the same as sea.
    #[test]
    fn outdone_colours_are_left_out_until_the_others_are_dearer() {
        let [sea, deep, sand, pink] =
            [[40, 90, 140], [30, 70, 120], [210, 190, 150], [250, 90, 200]].map(|colour: [u8; 3]| Rgb(colour));
        let picture: Vec<Rgb> = (0..90 * 20).map(|cell| if cell % 90 < 60 { sea } else { sand }).collect();
        let choice =
            |(colour, long)| Choice { colour, sketch: None, two_prints: false, upright: None, cloth: vec![(long, 20)] };
        let choices: TiVec<Family, Choice> =
            [(sea, 30), (deep, 30), (sand, 30), (pink, 30), (sea, 40)].into_iter().map(choice).collect();
        let seam = Seam::measured(Length::inches(1, 4), Ruler::Inch);
        let squares = ["5in".parse().unwrap()];
        let vocabulary = Vocabulary::new(&squares, seam, Length::inches(1, 2), &[], Length::INCH).unwrap();
        let mut problem = Problem::new(&Design {
            picture: &picture,
            focus: &[],
            columns: 90,
            choices: &choices,
            vocabulary: &vocabulary,
            labour: Labour::NONE,
            edge_step: None,
            locks: vec![],
            prices: vec![].into(),
            edges: Default::default(),
        })
        .unwrap();
        let live = problem.live(0..1);
        // Sea alone: the second sea is the second that a unit may want. Sand comes in towards the right.
        assert_eq!(live.units[0], [0, 4].map(Family));
        assert!(live.units[2].contains(&Family(2)) && !live.units[2].contains(&Family(3)));
        // The second sea gives longer fillers.
        assert_eq!(live.fillers, [0, 2, 4].map(Family));
        // What is cheaper than the sea comes back in, and all do where one sea alone is as cheap as they are.
        for (cloth, live) in
            [([1.0, 1.0, 1.0, 0.5, 1.0], &[0, 3, 4][..]), ([1.0, 1.0, 1.0, 1.0, 2.0], &[0, 1, 2, 3, 4])]
        {
            problem.set_prices(&PriceList { cloth: cloth.to_vec().into(), ..PriceList::default() });
            let found: Vec<usize> = problem.live(0..1).units[0].iter().map(|colour| colour.0).collect();
            assert_eq!(found, live);
        }
    }
}
