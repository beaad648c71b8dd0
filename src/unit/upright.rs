//! Triangle units in which a print keeps its up and down: which corner it fills, and the pairs that give it.
//!
//! A square that is sewn face down is mirrored across the seam as its unit is opened; the one below it is not. So of a
//! pair sewn along one diagonal the print below stands as it was laid in both units, in one on each side of the seam.
//! No turn gives the other lean: a quarter lays the print, a half sets it on its head. The print face down stands once
//! its square is laid by a quarter, to the side that the diagonal's upper end is on. Eight at a time are sewn along
//! both diagonals, which wants it laid both ways; four at a time are cut across, which turns both prints by 45 degrees.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{AtATime, Corner, Square, Vocabulary, pairable};
use crate::measure::Length;

/// The diagonal that a pair of squares is sewn along, as the lower square lies with its print upright.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum Diagonal {
    /// From the lower left to the upper right.
    Rising,
    /// From the upper left to the lower right.
    Falling,
}

impl Diagonal {
    /// Both.
    pub const ALL: [Self; 2] = [Self::Rising, Self::Falling];

    /// The two corners on its sides.
    pub fn corners(self) -> [Corner; 2] {
        match self {
            Self::Rising => [Corner::UpperLeft, Corner::LowerRight],
            Self::Falling => [Corner::UpperRight, Corner::LowerLeft],
        }
    }

    /// The side that its upper end is on: there the top of a print laid face down points.
    pub fn upper_end(self) -> &'static str {
        match self {
            Self::Rising => "right",
            Self::Falling => "left",
        }
    }

    /// `rising` or `falling`.
    pub fn word(self) -> &'static str {
        match self {
            Self::Rising => "rising",
            Self::Falling => "falling",
        }
    }
}

/// Units by the corner that the first fabric fills, clockwise from the upper left.
pub type ByCorner = [u32; 4];

/// Whether a method keeps prints upright: one of the two, or `both`.
pub fn keeps_upright(at_a_time: AtATime, both: bool) -> bool {
    match at_a_time {
        AtATime::Two => true,
        AtATime::Four => false,
        AtATime::Eight => !both,
    }
}

/// Pairs of squares sewn alike for units with an upright print.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct UprightPairing {
    /// The squares that are paired.
    pub square: Square,
    /// The method.
    pub at_a_time: AtATime,
    /// The diagonal that they are sewn along; none where along both.
    pub diagonal: Option<Diagonal>,
    /// One square of each fabric a pair.
    pub pairs: u32,
}

impl UprightPairing {
    /// Units that one pair gives, by corner.
    pub fn yields(&self) -> ByCorner {
        upright_yields(self.at_a_time, self.diagonal)
    }
}

/// Units that one pair gives, by corner.
pub fn upright_yields(at_a_time: AtATime, diagonal: Option<Diagonal>) -> ByCorner {
    let mut yields = [0; 4];
    let corners = Diagonal::ALL.into_iter().filter(|one| diagonal.is_none_or(|only| only == *one));
    let sewn = corners.clone().count() as u32 * 2;
    corners.flat_map(Diagonal::corners).for_each(|corner| yields[corner as usize] = at_a_time.yields() / sewn);
    yields
}

/// Whether units of a size can be made with an upright print, or with `both` upright.
pub fn stands(vocabulary: &Vocabulary, finished: Length, both: bool) -> bool {
    UprightWays::new(vocabulary, finished, both) != UprightWays { two: None, eight: None }
}

/// The squares of least cloth that give units of one size with an upright print.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct UprightWays {
    two: Option<Square>,
    eight: Option<Square>,
}

impl UprightWays {
    /// For one print upright, or for `both`; a square bought at its size where two are equal.
    pub fn new(vocabulary: &Vocabulary, finished: Length, both: bool) -> Self {
        let squares = pairable(vocabulary);
        let least = |at_a_time: AtATime| {
            let gives = |square: &&Square| {
                keeps_upright(at_a_time, both)
                    && at_a_time.finished(square.cut, vocabulary.seam.working, vocabulary.grid) == finished
                    && finished > Length::ZERO
            };
            squares.iter().filter(gives).min_by_key(|square| (square.cut, square.quartered)).copied()
        };
        Self { two: least(AtATime::Two), eight: least(AtATime::Eight) }
    }

    /// The pairs that give at least `needed` units: least cloth, then least spare, then fewest pairs; those of both
    /// diagonals first, then the rising. Empty where no square gives them.
    pub fn pairings(self, needed: ByCorner) -> Vec<UprightPairing> {
        let Self { two, eight } = self;
        // Pairs by two that each diagonal wants, where none is made by eight.
        let by_two = Diagonal::ALL.map(|diagonal| {
            let [one, other] = diagonal.corners().map(|corner| needed[corner as usize]);
            one.max(other)
        });
        let most = by_two[0].max(by_two[1]).div_ceil(2);
        let cloth = |square: Option<Square>, pairs: u32| {
            let side = square.map_or(0, |square| i128::from(square.cut.ticks()));
            side * side * i128::from(pairs)
        };
        let choice = |eights: u32| -> [u32; 3] {
            let [rising, falling] = by_two.map(|pairs| pairs.saturating_sub(eights.saturating_mul(2)));
            [eights, rising, falling]
        };
        let cost = |&[eights, rising, falling]: &[u32; 3]| {
            let twos = u64::from(rising) + u64::from(falling);
            let cloth = cloth(eight, eights) + cloth(two, rising) + cloth(two, falling);
            (cloth, u64::from(eights) * 8 + twos * 2, u64::from(eights) + twos)
        };
        // As pairs by eight become more, all three grow and shrink along lines that bend where a diagonal wants no pair
        // by two any more: the least is at a bend, beside it, or at an end.
        let bends = by_two.into_iter().flat_map(|pairs| [pairs / 2, pairs.div_ceil(2)]);
        let possible = bends.chain([0]).filter(|&eights| match (two, eight) {
            (Some(_), Some(_)) => true,
            (Some(_), None) => eights == 0,
            (None, Some(_)) => eights == most,
            (None, None) => false,
        });
        let Some([eights, rising, falling]) = possible.map(choice).min_by_key(cost) else { return Vec::new() };
        let pairing = |square: Option<Square>, at_a_time, diagonal, pairs| {
            let square = square.filter(|_| pairs > 0)?;
            Some(UprightPairing { square, at_a_time, diagonal, pairs })
        };
        let all = [
            pairing(eight, AtATime::Eight, None, eights),
            pairing(two, AtATime::Two, Some(Diagonal::Rising), rising),
            pairing(two, AtATime::Two, Some(Diagonal::Falling), falling),
        ];
        all.into_iter().flatten().collect()
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::measure::{Ruler, Seam};

    /// A direction or a place in whole numbers, down being positive.
    type Vector = [i32; 2];
    const UP: Vector = [0, -1];

    /// Mirrored across a line through the middle that runs along `line`: of length 1 or along a diagonal.
    fn mirrored([x, y]: Vector, [a, b]: Vector) -> Vector {
        let (along, length) = (x * a + y * b, a * a + b * b);
        [2 * along * a / length - x, 2 * along * b / length - y]
    }

    fn quarter([x, y]: Vector) -> Vector {
        [-y, x]
    }

    /// One unit as it comes off a pair: where the print below lies of its seam, and where both prints' tops point.
    #[derive(Debug)]
    struct Unit {
        below: Vector,
        tops: [Vector; 2],
    }

    /// The units of a pair: the lower square with its top up, the upper, face down, with its top seen at `top`.
    fn sewn(at_a_time: AtATime, diagonal: Option<Diagonal>, top: Vector) -> Vec<Unit> {
        let line = |diagonal: Diagonal| match diagonal {
            Diagonal::Rising => [1, -1],
            Diagonal::Falling => [1, 1],
        };
        // Each seam, and the side of it that a unit's two layers lie on.
        let seams: Vec<(Vector, Vector)> = match (at_a_time, diagonal) {
            (AtATime::Two, Some(diagonal)) => {
                let across = quarter(line(diagonal));
                vec![(line(diagonal), across), (line(diagonal), across.map(|a| -a))]
            }
            // Lines on both diagonals, cut in quarters: each has a half of one line, and units on both sides of it.
            (AtATime::Eight, None) => {
                let quarters = [[-1, -1], [1, -1], [1, 1], [-1, 1]];
                let both = |corner: Vector| [(corner, quarter(corner)), (corner, quarter(corner).map(|a| -a))];
                quarters.into_iter().flat_map(both).collect()
            }
            // A seam along each side, cut on both diagonals: the layers lie to the middle of it.
            (AtATime::Four, None) => {
                vec![([1, 0], [0, 1]), ([1, 0], [0, -1]), ([0, 1], [1, 0]), ([0, 1], [-1, 0])]
            }
            other => panic!("{other:?} is no method"),
        };
        seams.into_iter().map(|(seam, below)| Unit { below, tops: [UP, mirrored(top, seam)] }).collect()
    }

    /// The corner that lies this way of a unit's seam, where its sides are level and upright.
    fn corner([x, y]: Vector) -> Option<Corner> {
        (x != 0 && y != 0).then_some(match (x < 0, y < 0) {
            (true, true) => Corner::UpperLeft,
            (false, true) => Corner::UpperRight,
            (false, false) => Corner::LowerRight,
            (true, false) => Corner::LowerLeft,
        })
    }

    /// Units by corner in which the prints that are to stand do so, each turned as it has to be for that.
    fn upright(units: &[Unit], both: bool) -> ByCorner {
        let mut counts = [0; 4];
        for unit in units {
            let (mut below, mut tops) = (unit.below, unit.tops);
            for _ in 0..4 {
                if let Some(corner) = corner(below).filter(|_| tops[0] == UP && (!both || tops[1] == UP)) {
                    counts[corner as usize] += 1;
                }
                (below, tops) = (quarter(below), tops.map(quarter));
            }
        }
        counts
    }

    const SIDES: [Vector; 4] = [[0, -1], [1, 0], [0, 1], [-1, 0]];

    #[test]
    fn two_at_a_time_stand_on_both_sides_of_one_diagonal_and_never_lean_the_other_way() {
        for diagonal in Diagonal::ALL {
            let yields = upright_yields(AtATime::Two, Some(diagonal));
            for top in SIDES {
                let units = sewn(AtATime::Two, Some(diagonal), top);
                assert_eq!(upright(&units, false), yields, "the print below, whichever way the other lies");
                let toward = if diagonal.upper_end() == "right" { [1, 0] } else { [-1, 0] };
                let both = if top == toward { yields } else { [0; 4] };
                assert_eq!(upright(&units, true), both, "{diagonal:?}, its top to {top:?}");
            }
        }
    }

    #[test]
    fn eight_at_a_time_keep_one_print_and_half_of_the_other() {
        for top in SIDES {
            let units = sewn(AtATime::Eight, None, top);
            assert_eq!(upright(&units, false), [2; 4]);
            assert_eq!(upright_yields(AtATime::Eight, None), [2; 4]);
            let both = upright(&units, true);
            let stands = if top[1] == 0 { 4 } else { 0 };
            assert_eq!(both.iter().sum::<u32>(), stands, "{both:?}");
        }
        assert!(keeps_upright(AtATime::Eight, false) && !keeps_upright(AtATime::Eight, true));
    }

    #[test]
    fn four_at_a_time_turn_their_prints_by_half_a_right_angle() {
        // A unit's sides run along the diagonals of the square, a print along its sides: no turn by quarters helps.
        for unit in sewn(AtATime::Four, None, UP) {
            assert_eq!(corner(unit.below), None, "its seam is level or upright while its print is");
        }
        assert_eq!(upright(&sewn(AtATime::Four, None, UP), false), [0; 4]);
        assert!(!keeps_upright(AtATime::Four, false) && !keeps_upright(AtATime::Four, true));
    }

    fn vocabulary(squares: &[&str], grid: i64) -> Vocabulary {
        let squares: Vec<Square> = squares.iter().map(|text| text.parse().unwrap()).collect();
        let (seam, grid) = (Seam::measured(Length::inches(1, 4), Ruler::Inch), Length::inches(1, grid));
        Vocabulary::new(&squares, seam, grid, &[], grid).unwrap()
    }

    fn words(squares: &[&str], finished: i64, needed: ByCorner, both: bool) -> String {
        let ways = UprightWays::new(&vocabulary(squares, 2), Length::inches(finished, 1), both);
        let pairings = ways.pairings(needed);
        let words = pairings.iter().map(|p| {
            let lean = p.diagonal.map_or("both", Diagonal::word);
            format!("{} {} {lean} x {}", p.square.cut, p.at_a_time.yields(), p.pairs)
        });
        words.collect::<Vec<_>>().join(", ")
    }

    #[test]
    fn pairs_are_counted_by_lean() {
        assert_eq!(words(&["10in"], 9, [3, 0, 1, 0], false), "10 in 2 rising x 3");
        assert_eq!(words(&["10in"], 9, [1, 1, 1, 1], true), "10 in 2 rising x 1, 10 in 2 falling x 1");
        assert_eq!(words(&["10in"], 6, [1, 0, 0, 0], false), "", "four at a time alone gives them");
        assert_eq!(words(&["10in"], 4, [2, 2, 2, 2], false), "10 in 8 both x 1");
        assert_eq!(words(&["10in"], 4, [2, 2, 2, 2], true), "5 in 2 rising x 2, 5 in 2 falling x 2");
        assert_eq!(words(&["10in"], 4, [3, 2, 0, 2], false), "10 in 8 both x 1, 5 in 2 rising x 1");
        assert_eq!(words(&["10in"], 4, [3, 0, 3, 0], false), "5 in 2 rising x 3");
    }

    /// The least of all numbers of pairs by every method and every pairable square.
    fn brute(vocabulary: &Vocabulary, finished: Length, needed: ByCorner, both: bool) -> Option<(i128, u32, u32)> {
        let most = needed.into_iter().max().unwrap();
        let mut ways: Vec<(i128, ByCorner)> = Vec::new();
        for square in pairable(vocabulary) {
            for (at_a_time, diagonals) in
                [(AtATime::Two, &[Some(Diagonal::Rising), Some(Diagonal::Falling)][..]), (AtATime::Eight, &[None])]
            {
                if at_a_time.finished(square.cut, vocabulary.seam.working, vocabulary.grid) == finished {
                    for &diagonal in diagonals {
                        let top = if diagonal == Some(Diagonal::Falling) { [-1, 0] } else { [1, 0] };
                        let yields = upright(&sewn(at_a_time, diagonal, top), both);
                        // A pair of which half is wrong is not sewn.
                        if yields.iter().sum::<u32>() == at_a_time.yields() {
                            ways.push((i128::from(square.cut.ticks()).pow(2), yields));
                        }
                    }
                }
            }
        }
        fn best(
            ways: &[(i128, ByCorner)],
            most: u32,
            needed: ByCorner,
            sum: (i128, u32, u32),
        ) -> Option<(i128, u32, u32)> {
            let Some((&(cloth, yields), rest)) = ways.split_first() else {
                return (needed == [0; 4]).then_some(sum);
            };
            let tried = (0..=most).filter_map(|pairs| {
                let left = std::array::from_fn(|at| needed[at].saturating_sub(pairs * yields[at]));
                let made = yields.iter().sum::<u32>();
                let sum = (sum.0 + cloth * i128::from(pairs), sum.1 + pairs * made, sum.2 + pairs);
                best(rest, most, left, sum)
            });
            tried.min()
        }
        best(&ways, most, needed, (0, 0, 0))
    }

    proptest! {
        #[test]
        fn nothing_beats_what_is_chosen(needed in prop::array::uniform4(0_u32..5), both: bool, list in 0_usize..5) {
            let lists: [&[&str]; 5] = [&["10in"], &["10in/4"], &["10in", "5in"], &["5in", "6in"], &["10in", "4 3/4in"]];
            let vocabulary = vocabulary(lists[list], 2);
            for block in &vocabulary.blocks {
                let chosen = UprightWays::new(&vocabulary, block.finished, both).pairings(needed);
                let made = |corner: usize| chosen.iter().map(|p| p.pairs * p.yields()[corner]).sum::<u32>();
                let sum = chosen.iter().fold((0, 0, 0), |(cloth, made, pairs), p| {
                    let each = i128::from(p.square.cut.ticks()).pow(2) * i128::from(p.pairs);
                    (cloth + each, made + p.pairs * p.at_a_time.yields(), pairs + p.pairs)
                });
                let found = brute(&vocabulary, block.finished, needed, both);
                if stands(&vocabulary, block.finished, both) {
                    prop_assert!((0..4).all(|corner| made(corner) >= needed[corner]));
                    prop_assert_eq!(Some(sum), found);
                } else {
                    prop_assert!(chosen.is_empty() && (found.is_none() || needed == [0; 4]));
                }
            }
        }
    }
}
