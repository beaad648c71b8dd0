//! Which prints the pairs of squares are of: those of which most is left.

use std::cmp::Reverse;
use std::collections::BTreeMap;

use super::wanted::Wanted;
use super::{Class, Prints};
use crate::compose::Ready;
use crate::fabric::{Family, Print};
use crate::measure::Length;
use crate::plan::Item;
use crate::stock::ledger::Short;
use crate::stock::sheets::Sheets;
use crate::unit::{ByCorner, Corner, Square, UprightWays, pairings};

/// One pair of squares to be given its prints.
pub(super) struct Pair {
    /// Its families, and the size of its units.
    kind: (Family, Family, u32),
    /// Units that it gives; where a print stands upright, by corner.
    gives: Vec<(Option<Corner>, u32)>,
    square: Square,
}

/// Units of two fabrics and one size, by corner where a print stands upright, else all in the first place.
type Kinds<K> = BTreeMap<(K, K, u32, bool), ByCorner>;

fn kinds<K: Copy + Ord>(classes: &BTreeMap<(K, K, u32, Option<Corner>), u32>) -> Kinds<K> {
    let mut kinds = Kinds::new();
    for (&(one, other, block, stands), &units) in classes {
        let corner = stands.map_or(0, |corner| corner as usize);
        kinds.entry((one, other, block, stands.is_some())).or_default()[corner] += units;
    }
    kinds
}

/// Pairs of squares that so many units of one size take: each its square, and the units that it gives.
fn pairs(ready: &Ready, block: u32, units: u32) -> impl Iterator<Item = (Square, Vec<(Option<Corner>, u32)>)> {
    let vocabulary = &ready.vocabulary;
    pairings(vocabulary, vocabulary.grid * block, units).into_iter().flat_map(|pairing| {
        let pair = (pairing.square, vec![(None, pairing.at_a_time.yields())]);
        std::iter::repeat_n(pair, pairing.pairs as usize)
    })
}

/// The same of units in which a print stands upright, or `both` do.
fn upright_pairs(
    ready: &Ready,
    block: u32,
    units: ByCorner,
    both: bool,
) -> impl Iterator<Item = (Square, Vec<(Option<Corner>, u32)>)> {
    let ways = UprightWays::new(&ready.vocabulary, ready.vocabulary.grid * block, both);
    ways.pairings(units).into_iter().flat_map(|pairing| {
        let corners = Corner::ALL.into_iter().zip(pairing.yields()).filter(|(_, each)| *each > 0);
        let gives = corners.map(|(corner, each)| (Some(corner), each)).collect();
        std::iter::repeat_n((pairing.square, gives), pairing.pairs as usize)
    })
}

impl Prints<'_> {
    /// What each print has.
    pub(super) fn stack_up(&mut self) {
        let mut sides: Vec<Length> = self.ready.vocabulary.blocks.iter().map(|b| b.square.bought()).collect();
        sides.sort_unstable_by_key(|&side| Reverse(side));
        sides.dedup();
        for &print in self.ready.families.iter().flatten() {
            let cloth = self.supply(print).map_or_else(|| Sheets::plenty(&sides), Sheets::of);
            self.cloth.insert(print, cloth);
        }
    }

    /// Gives what stands its squares, in its own prints, the largest first; the pairs that the rest wants.
    pub(super) fn stand(&mut self, wanted: &Wanted) -> Vec<Pair> {
        let mut classes = wanted.classes.clone();
        let mut squares: Vec<(Print, Square)> = Vec::new();
        for ((one, other, block, upright), units) in kinds(&wanted.standing) {
            let both = self.order.fabrics[one].upright && self.order.fabrics[other].upright;
            let pairs: Vec<_> = match upright {
                false => pairs(self.ready, block, units[0]).collect(),
                true => upright_pairs(self.ready, block, units, both).collect(),
            };
            let mut made: BTreeMap<Option<Corner>, u32> = BTreeMap::new();
            for (square, gives) in pairs {
                squares.extend([(one, square), (other, square)]);
                gives.into_iter().for_each(|(corner, each)| *made.entry(corner).or_default() += each);
            }
            for (corner, made) in made {
                let spare = made.saturating_sub(units[corner.map_or(0, |corner| corner as usize)]);
                self.share_spare((one, other, block, corner), spare, &mut classes);
            }
        }
        squares.sort_by_key(|(_, square)| Reverse((square.bought(), !square.quartered)));
        // What stands stands, even where the stock says otherwise.
        for (print, square) in squares {
            self.give(print, square);
        }
        let ready = self.ready;
        let of_kind = |((one, other, block, upright), units): ((Family, Family, u32, bool), ByCorner)| {
            let both = [one, other].iter().all(|&family| ready.choices[family].upright.is_some());
            let pairs: Vec<_> = match upright {
                false => pairs(ready, block, units[0]).collect(),
                true => upright_pairs(ready, block, units, both).collect(),
            };
            pairs.into_iter().map(move |(square, gives)| Pair { kind: (one, other, block), gives, square })
        };
        let mut pairs: Vec<Pair> = kinds(&classes).into_iter().flat_map(of_kind).collect();
        // As `make` deals squares out: by the side bought, whole ones first; then pairs of one family, the harder.
        let same = |pair: &Pair| pair.kind.0 == pair.kind.1;
        pairs.sort_by_key(|pair| Reverse((pair.square.bought(), !pair.square.quartered, same(pair))));
        pairs
    }

    /// Units left over from pairs of what stands, for free units of the same families.
    fn share_spare(
        &mut self,
        (one, other, block, stands): (Print, Print, u32, Option<Corner>),
        spare: u32,
        classes: &mut BTreeMap<Class, u32>,
    ) {
        let (Some(first), Some(second)) = (self.ready.family(one), self.ready.family(other)) else { return };
        let stands = if first <= second { stands } else { stands.map(Corner::opposite) };
        let class = (first.min(second), first.max(second), block, stands);
        let wants = classes.entry(class).or_default();
        let serves = spare.min(*wants);
        *wants -= serves;
        let (one, other) = self.in_order(class.0, (one, other));
        self.laid.entry(class).or_default().push((serves, one, other));
    }

    /// Gives every pair its prints: those with most left.
    pub(super) fn pair_up(&mut self, pairs: Vec<Pair>) -> Vec<Short> {
        let mut short: BTreeMap<Family, f64> = BTreeMap::new();
        let grid = self.ready.vocabulary.grid;
        for pair in &pairs {
            let one = self.take(pair.kind.0, pair, None);
            let other = self.take(pair.kind.1, pair, one);
            for (found, family) in [(one, pair.kind.0), (other, pair.kind.1)] {
                if found.is_none() {
                    let side = pair.square.cut.ticks() as f64 / grid.ticks() as f64;
                    *short.entry(family).or_default() += side * side;
                }
            }
            if let (Some(one), Some(other)) = (one, other) {
                let (first, second, block) = pair.kind;
                for &(corner, each) in &pair.gives {
                    self.laid.entry((first, second, block, corner)).or_default().push((each, one, other));
                }
            } else if pair.gives.iter().all(|(corner, _)| corner.is_none()) {
                // What stands upright is held by its cloth alone: how many could be made goes by their corners.
                self.most.insert(Item::unit(pair.kind.0, pair.kind.1, pair.kind.2), 0);
            }
        }
        for (item, most) in &mut self.most {
            let Item::Unit { first, second, block, stands } = *item else { continue };
            let laid = self.laid.get(&(first, second, block, stands)).into_iter().flatten();
            *most = laid.map(|(yields, ..)| yields).sum();
        }
        short.into_iter().map(|(family, cells)| Short { family, cells }).collect()
    }

    /// A print of the family with a square for the pair, not the pair's other print.
    ///
    /// An opened square comes before a whole one, then the print with most left. A pair of one family takes the two
    /// with most left whatever is open, so that none is used up that the next such pair needs.
    fn take(&mut self, family: Family, pair: &Pair, but: Option<Print>) -> Option<Print> {
        let (side, same) = (pair.square.cut, pair.kind.0 == pair.kind.1);
        let left = |print: &Print| self.cloth[print].left(side);
        let opened = |print: &Print| self.cloth[print].has_opened(side);
        let rank = |&&print: &&Print| {
            let (left, opened) = (left(&print), opened(&print));
            (!same && opened, left, opened, Reverse(print))
        };
        let prints = self.ready.families[family].iter();
        let print = *prints.filter(|print| but != Some(**print) && left(print) > 0).max_by_key(rank)?;
        self.give(print, pair.square).then_some(print)
    }

    /// Takes a square of a print, which is counted where there is one.
    fn give(&mut self, print: Print, square: Square) -> bool {
        let given = self.cloth.get_mut(&print).is_some_and(|cloth| cloth.take(square));
        *self.given.entry((print, square.bought(), square.quartered)).or_default() += u32::from(given);
        given
    }
}

#[cfg(test)]
mod tests {
    use typed_index_collections::TiSlice;

    use super::*;
    use crate::compose::Order;
    use crate::fabric::{Fabric, Rgb, Squares, Supply, Yardage};
    use crate::measure::Ruler;
    use crate::plan::Request;

    fn print(family: &str, supply: Supply) -> Fabric {
        Fabric { family: family.into(), supply: Some(supply), ..Fabric::new("A", "quay", Rgb([90; 3])) }
    }

    fn squares(count: u32) -> Supply {
        Supply { squares: vec![Squares { size: Length::INCH * 10i64, count }], ..Supply::default() }
    }

    /// The prints of so many pairs, made one after the other, of the first family with the other.
    fn paired(fabrics: &[Fabric], square: &str, pairs: &[usize]) -> Vec<(Option<Print>, Option<Print>)> {
        let side = Length::INCH * 12i64;
        let request = Request { width: side, height: side, ..Request::usual(Ruler::Inch) };
        let order = Order::new(&request, &[], &[], TiSlice::from_ref(fabrics));
        let ready = Ready::new(&order).unwrap();
        let (mut prints, _) = Prints::shared_out(&ready, &order, &[]);
        let take = |&other: &usize| {
            let pair =
                Pair { kind: (Family(0), Family(other), 8), gives: vec![(None, 2)], square: square.parse().unwrap() };
            let one = prints.take(Family(0), &pair, None);
            (one, prints.take(Family(other), &pair, one))
        };
        pairs.iter().map(take).collect()
    }

    #[test]
    fn pairs_of_one_family_take_the_two_prints_with_most_left() {
        let fabrics = [1, 3, 2].map(|count| print("sea", squares(count)));
        let made = paired(&fabrics, "10in", &[0; 4]);
        let prints = [(1, 2), (1, 0), (1, 2)].map(|(one, other)| (Some(Print(one)), Some(Print(other))));
        assert_eq!(made, [&prints[..], &[(None, None)]].concat());
    }

    #[test]
    fn a_square_that_is_open_is_no_reason_to_pair_a_print_away() {
        // Five quarters with sand, then as many quarters of the two seas as there are of the first.
        let seas = [1, 2].map(|count| print("sea", squares(count)));
        let fabrics = [&seas[..], &[print("sand", squares(9))]].concat();
        let made = paired(&fabrics, "10in/4", &[1, 1, 1, 1, 0, 0, 0, 0]);
        assert!(made.iter().all(|(one, other)| one.is_some() && other.is_some()), "{made:?}");
    }

    #[test]
    fn a_length_is_paired_to_its_last_square() {
        let [width, length] = [42, 8].map(|inches| Length::INCH * i64::from(inches));
        let length = Supply { yardage: vec![Yardage { width, length }], ..Supply::default() };
        let fabrics = [print("sea", length), print("sand", squares(9))];
        let made = paired(&fabrics, "10in/4", &[1; 9]);
        assert!(made[..8].iter().all(|(one, _)| *one == Some(Print(0))) && made[8].0.is_none(), "{made:?}");
    }
}
