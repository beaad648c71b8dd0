//! The pairs of squares for a number of units of one size: least cloth, then least spare, then fewest pairs.

use super::{AtATime, Square, Vocabulary};
use crate::measure::Length;

/// Pairs of squares sewn alike, all for one size of unit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Pairing {
    /// The squares that are paired, as bought or quartered first.
    pub square: Square,
    /// The method.
    pub at_a_time: AtATime,
    /// One square of each fabric a pair.
    pub pairs: u32,
}

/// One way to a size: a square and a method.
type Way = (Square, AtATime);

/// Some pairs: cloth of each fabric in square ticks, how many, and how many by each method.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Bundle {
    cloth: i128,
    pairs: u32,
    by: [u32; 3],
}

const NONE: Bundle = Bundle { cloth: 0, pairs: 0, by: [0; 3] };

/// The pairs that give at least `needed` units finishing at `finished`; empty where no square gives them.
///
/// Cloth comes first: a quarter counts as a fourth of its square, since four of one fabric are cut from one. Then
/// the least spare units, then the fewest pairs. Yields are 2, 4 and 8, so that of any pairs giving 8 units or more
/// some give 8 exactly; the best 8 may stand for them, and only the last few units are searched.
pub fn pairings(vocabulary: &Vocabulary, finished: Length, needed: u32) -> Vec<Pairing> {
    let ways = ways(vocabulary, finished);
    let few = few(&ways);
    let totals = (0..8).map(|over| u64::from(needed) + over).filter(|total| total % 2 == 0);
    let bundles = totals.filter_map(|total| Some((total, bundle(&few, total)?)));
    let best = bundles.min_by_key(|(total, bundle)| (bundle.cloth, *total, bundle.pairs));
    let Some((_, best)) = best else { return Vec::new() };
    let mut chosen: Vec<Pairing> = ways
        .iter()
        .zip(best.by)
        .filter_map(|(way, pairs)| way.map(|(square, at_a_time)| Pairing { square, at_a_time, pairs }))
        .filter(|pairing| pairing.pairs > 0)
        .collect();
    chosen.sort_by_key(|pairing| std::cmp::Reverse((pairing.square.cut, pairing.at_a_time)));
    chosen
}

/// The squares that may be paired: those of the vocabulary, and quarters of those bought whole.
pub fn pairable(vocabulary: &Vocabulary) -> Vec<Square> {
    let mut squares: Vec<Square> = Vec::new();
    let whole = vocabulary.blocks.iter().map(|block| block.square);
    for square in whole.clone().chain(whole.filter_map(Square::quarter)) {
        if !squares.contains(&square) {
            squares.push(square);
        }
    }
    squares
}

/// For each method the square of least cloth that gives the size; one bought at its size where two are equal.
fn ways(vocabulary: &Vocabulary, finished: Length) -> [Option<Way>; 3] {
    let squares = pairable(vocabulary);
    AtATime::ALL.map(|at_a_time| {
        let gives = |square: &&Square| {
            at_a_time.finished(square.cut, vocabulary.seam.working, vocabulary.grid) == finished
                && finished > Length::ZERO
        };
        let least = squares.iter().filter(gives).min_by_key(|square| (square.cut, square.quartered));
        least.map(|square| (*square, at_a_time))
    })
}

/// The best pairs for exactly 0, 2, 4, 6 and 8 units.
fn few(ways: &[Option<Way>; 3]) -> [Option<Bundle>; 5] {
    let mut few = [Some(NONE), None, None, None, None];
    for half in 1..few.len() {
        let one_more = |(index, way): (usize, &Option<Way>)| {
            let (square, at_a_time) = (*way)?;
            let before = half.checked_sub(at_a_time.yields() as usize / 2)?;
            few[before].map(|bundle: Bundle| bundle.and(index, square))
        };
        few[half] = ways.iter().enumerate().filter_map(one_more).min();
    }
    few
}

/// The best pairs for exactly `total` units.
fn bundle(few: &[Option<Bundle>; 5], total: u64) -> Option<Bundle> {
    let (eights, rest) = (u32::try_from(total / 8).ok()?, few[(total % 8 / 2) as usize]?);
    if eights == 0 {
        return Some(rest);
    }
    let eight = few[4]?;
    let sum = |one: u32, more: u32| one.saturating_mul(eights).saturating_add(more);
    Some(Bundle {
        cloth: eight.cloth * i128::from(eights) + rest.cloth,
        pairs: sum(eight.pairs, rest.pairs),
        by: [0, 1, 2].map(|index| sum(eight.by[index], rest.by[index])),
    })
}

impl Bundle {
    /// One pair more, by the method of this index.
    fn and(mut self, index: usize, square: Square) -> Self {
        self.cloth += i128::from(square.cut.ticks()).pow(2);
        self.pairs += 1;
        self.by[index] += 1;
        self
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::{Ruler, Seam};

    fn vocabulary(squares: &[&str], seam: Length, grid: Length) -> Vocabulary {
        let squares: Vec<Square> = squares.iter().map(|text| text.parse().unwrap()).collect();
        Vocabulary::new(&squares, Seam::measured(seam, Ruler::Inch), grid, &[], grid).unwrap()
    }

    fn inches(squares: &[&str]) -> Vocabulary {
        vocabulary(squares, Length::inches(1, 4), Length::inches(1, 2))
    }

    /// `10 in eight x 1`, one after the other.
    fn words(vocabulary: &Vocabulary, finished: i64, needed: u32) -> String {
        let pairings = pairings(vocabulary, Length::inches(finished, 1), needed);
        let words = pairings.iter().map(|p| {
            let quartered = if p.square.quartered { "/4" } else { "" };
            format!("{}{quartered} {} x {}", p.square.bought(), p.at_a_time.yields(), p.pairs)
        });
        words.collect::<Vec<_>>().join(", ")
    }

    #[test]
    fn minis_come_from_quarters_where_a_whole_pair_is_too_much() {
        let ten = inches(&["10in"]);
        assert_eq!(words(&ten, 4, 1), "10 in/4 2 x 1");
        assert_eq!(words(&ten, 4, 3), "10 in/4 2 x 2");
        assert_eq!(words(&ten, 4, 8), "10 in 8 x 1");
        assert_eq!(words(&ten, 4, 11), "10 in 8 x 1, 10 in/4 2 x 2");
        assert_eq!(words(&ten, 4, 15), "10 in 8 x 2");
        assert_eq!(words(&ten, 9, 3), "10 in 2 x 2");
        assert_eq!(words(&ten, 6, 5), "10 in 4 x 2");
    }

    #[test]
    fn squares_that_are_all_quartered_stay_so() {
        let quartered = inches(&["10in/4"]);
        assert_eq!(words(&quartered, 4, 8), "10 in/4 2 x 4");
        assert_eq!(words(&quartered, 9, 1), "");
        assert_eq!(words(&quartered, 4, 0), "");
    }

    #[test]
    fn a_small_square_as_bought_comes_before_a_quarter_as_large() {
        assert_eq!(words(&inches(&["10in", "5in"]), 4, 1), "5 in 2 x 1");
        assert_eq!(words(&inches(&["10in", "5in"]), 4, 9), "10 in 8 x 1, 5 in 2 x 1");
    }

    /// All ways and all counts, one after another.
    fn brute(vocabulary: &Vocabulary, finished: Length, needed: u32) -> Option<(i128, u32, u32)> {
        let mut ways = Vec::new();
        for square in pairable(vocabulary) {
            for method in AtATime::ALL {
                if method.finished(square.cut, vocabulary.seam.working, vocabulary.grid) == finished {
                    ways.push((i128::from(square.cut.ticks()).pow(2), method.yields()));
                }
            }
        }
        best_of(&ways, needed, (0, 0, 0))
    }

    fn best_of(ways: &[(i128, u32)], needed: u32, sum: (i128, u32, u32)) -> Option<(i128, u32, u32)> {
        let (cloth, made, pairs) = sum;
        if made >= needed {
            return Some((cloth, made - needed, pairs));
        }
        let (&(each, yields), others) = ways.split_first()?;
        let with = best_of(ways, needed, (cloth + each, made + yields, pairs + 1));
        with.into_iter().chain(best_of(others, needed, sum)).min()
    }

    #[test]
    fn nothing_beats_what_is_chosen() {
        let lists: [&[&str]; 7] = [
            &["10in"],
            &["10in/4"],
            &["10in", "5in"],
            &["10in", "10in/4"],
            &["5in", "6in", "10in"],
            &["8in", "6 1/2in", "9in/4"],
            &["10in", "7 1/4in", "5in", "12in"],
        ];
        let mut mixed = 0;
        for (squares, grid) in lists.into_iter().zip([1, 2, 1, 2, 1, 1, 2].map(|n| Length::inches(1, n))) {
            let vocabulary = vocabulary(squares, Length::inches(1, 4), grid);
            for block in &vocabulary.blocks {
                for needed in 0..=26 {
                    let chosen = pairings(&vocabulary, block.finished, needed);
                    let sum = chosen.iter().fold((0, 0, 0), |(cloth, made, pairs), p| {
                        let each = i128::from(p.square.cut.ticks()).pow(2) * i128::from(p.pairs);
                        (cloth + each, made + p.pairs * p.at_a_time.yields(), pairs + p.pairs)
                    });
                    let found = (sum.0, sum.1 - needed, sum.2);
                    assert_eq!(Some(found), brute(&vocabulary, block.finished, needed), "{squares:?} {needed}");
                    mixed += usize::from(chosen.len() > 1);
                }
            }
        }
        assert!(mixed > 20, "{mixed}");
    }

    #[test]
    fn many_units_are_no_more_work_than_few() {
        let ten = inches(&["10in"]);
        assert_eq!(words(&ten, 4, 90_003), "10 in 8 x 11250, 10 in/4 2 x 2");
        assert!(!pairings(&ten, Length::inches(4, 1), u32::MAX).is_empty());
    }
}
