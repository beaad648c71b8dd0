//! K medians: of many candidates the few that serve all items best.
//!
//! An item has one face or two, and each face takes the cheapest candidate that is chosen; two faces of one item take
//! different ones. The sum over all items is first brought down greedily, then by swaps of one for another until none
//! helps. For a swap it is enough to know the three cheapest of each face: one may go, and two faces may want the same.

/// Most times that all candidates are tried for a swap.
const PASSES: usize = 6;

/// What the faces of all items cost in each candidate.
pub(super) struct Items {
    candidates: usize,
    /// By face, then candidate.
    costs: Vec<f64>,
    /// The first face of each item, and whether the next is its second.
    items: Vec<(usize, bool)>,
}

/// A candidate with its cost; candidates stand by cost, then by index.
type Priced = (f64, usize);
const NONE: Priced = (f64::INFINITY, usize::MAX);

impl Items {
    /// No items yet.
    pub(super) fn new(candidates: usize) -> Self {
        Self { candidates, costs: Vec::new(), items: Vec::new() }
    }

    /// Adds an item by what each of its faces, one or two, costs in each candidate.
    pub(super) fn push(&mut self, faces: &[Vec<f64>]) {
        let first = self.faces();
        self.items.push((first, faces.len() > 1));
        faces.iter().take(2).for_each(|costs| self.costs.extend(&costs[..self.candidates]));
    }

    /// So many candidates, the `fixed` ones first; all where there are no more.
    pub(super) fn choose(&self, fixed: &[usize], count: usize) -> Vec<usize> {
        let mut chosen = fixed.to_vec();
        while chosen.len() < count.min(self.candidates) {
            let tops = self.tops(&chosen);
            let free = (0..self.candidates).filter(|candidate| !chosen.contains(candidate));
            let sums = free.map(|candidate| (self.with(&tops, candidate), candidate));
            let Some((_, best)) = sums.min_by(|one, other| one.0.total_cmp(&other.0)) else { break };
            chosen.push(best);
        }
        self.swap(&mut chosen, fixed.len());
        chosen
    }

    /// The candidate that each face takes.
    pub(super) fn taken(&self, chosen: &[usize]) -> Vec<usize> {
        let tops = self.tops(chosen);
        let of = |&(face, two): &(usize, bool)| {
            let first = [tops[face][0], tops[face][1]];
            if two {
                let second = &tops[face + 1];
                differing(first, [second[0], second[1]]).1.to_vec()
            } else {
                vec![first[0].1]
            }
        };
        self.items.iter().flat_map(of).collect()
    }

    /// Swaps what is not fixed for what is better, until nothing is.
    fn swap(&self, chosen: &mut [usize], fixed: usize) {
        let mut tops = self.tops(chosen);
        let mut sum = self.sum(&tops);
        for _ in 0..PASSES {
            let before = sum;
            for candidate in 0..self.candidates {
                if chosen.contains(&candidate) {
                    continue;
                }
                let (swapped, place) = self.best_swap(&tops, candidate, chosen, fixed);
                if swapped < sum - 1e-9 * sum.abs() {
                    chosen[place] = candidate;
                    tops = self.tops(chosen);
                    sum = swapped;
                }
            }
            if sum >= before {
                break;
            }
        }
    }

    /// The least sum with the candidate in the place of a chosen one, and that place.
    fn best_swap(&self, tops: &[[Priced; 3]], candidate: usize, chosen: &[usize], fixed: usize) -> (f64, usize) {
        let mut sum = 0.0;
        let mut more = vec![0.0; self.candidates];
        for item in &self.items {
            let kept = self.least(item, tops, usize::MAX, candidate);
            sum += kept;
            let faces = if item.1 { 2 } else { 1 };
            let missed: Vec<usize> = (0..faces).flat_map(|i| [0, 1].map(|k| tops[item.0 + i][k].1)).collect();
            for (i, &gone) in missed.iter().enumerate() {
                if gone != usize::MAX && !missed[..i].contains(&gone) {
                    more[gone] += self.least(item, tops, gone, candidate) - kept;
                }
            }
        }
        let places = (fixed..chosen.len()).map(|place| (sum + more[chosen[place]], place));
        places.min_by(|one, other| one.0.total_cmp(&other.0)).unwrap_or((f64::INFINITY, 0))
    }

    fn with(&self, tops: &[[Priced; 3]], candidate: usize) -> f64 {
        self.items.iter().map(|item| self.least(item, tops, usize::MAX, candidate)).sum()
    }

    fn sum(&self, tops: &[[Priced; 3]]) -> f64 {
        self.with(tops, usize::MAX)
    }

    /// What an item costs without one of the chosen and with a candidate more.
    fn least(&self, item: &(usize, bool), tops: &[[Priced; 3]], gone: usize, more: usize) -> f64 {
        let two = |face: usize| {
            let more = self.costs[face * self.candidates..].get(more).map_or(NONE, |cost| (*cost, more));
            least_two(&tops[face], gone, more)
        };
        if item.1 { differing(two(item.0), two(item.0 + 1)).0 } else { two(item.0)[0].0 }
    }

    fn faces(&self) -> usize {
        self.costs.len() / self.candidates.max(1)
    }

    /// The three cheapest of the chosen for each face.
    fn tops(&self, chosen: &[usize]) -> Vec<[Priced; 3]> {
        let of = |costs: &[f64]| chosen.iter().fold([NONE; 3], |top, &i| held(top, (costs[i], i)));
        self.costs.chunks_exact(self.candidates.max(1)).map(of).collect()
    }
}

/// The three least of four, in order.
fn held([first, second, third]: [Priced; 3], new: Priced) -> [Priced; 3] {
    if less(new, first) {
        [new, first, second]
    } else if less(new, second) {
        [first, new, second]
    } else if less(new, third) {
        [first, second, new]
    } else {
        [first, second, third]
    }
}

fn less(one: Priced, other: Priced) -> bool {
    one.0 < other.0 || (one.0 == other.0 && one.1 < other.1)
}

/// The two least without the one that is gone and with one more.
fn least_two(top: &[Priced; 3], gone: usize, more: Priced) -> [Priced; 2] {
    let [first, second] = match top.iter().position(|(_, candidate)| *candidate == gone) {
        Some(0) => [top[1], top[2]],
        Some(1) => [top[0], top[2]],
        _ => [top[0], top[1]],
    };
    if less(more, first) {
        [more, first]
    } else if less(more, second) {
        [first, more]
    } else {
        [first, second]
    }
}

/// The least that two faces cost in different candidates, and these; in the same one where there is no other.
fn differing(one: [Priced; 2], other: [Priced; 2]) -> (f64, [usize; 2]) {
    let pair = |i: usize, j: usize| (one[i].0 + other[j].0, [one[i].1, other[j].1]);
    if one[0].1 != other[0].1 || (one[1].1 == usize::MAX && other[1].1 == usize::MAX) {
        return pair(0, 0);
    }
    let (first, second) = (pair(1, 0), pair(0, 1));
    if second.0 < first.0 { second } else { first }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    /// What an item costs in the chosen candidates, by trying all of them.
    fn plain_item(faces: &[Vec<f64>], chosen: &[usize]) -> f64 {
        let alone = chosen.len() == 1;
        let mut least = f64::INFINITY;
        for &one in chosen {
            if faces.len() == 1 {
                least = least.min(faces[0][one]);
                continue;
            }
            for &other in chosen {
                if one != other || alone {
                    least = least.min(faces[0][one] + faces[1][other]);
                }
            }
        }
        least
    }

    fn plain(items: &[Vec<Vec<f64>>], chosen: &[usize]) -> f64 {
        items.iter().map(|faces| plain_item(faces, chosen)).sum()
    }

    fn held_items(candidates: usize, items: &[Vec<Vec<f64>>]) -> Items {
        let mut held = Items::new(candidates);
        items.iter().for_each(|faces| held.push(faces));
        held
    }

    /// Faces cost what whole numbers up to nine say, so that many tie.
    fn cases() -> impl Strategy<Value = (usize, Vec<Vec<Vec<f64>>>, usize, usize)> {
        (2_usize..7).prop_flat_map(|candidates| {
            let face = prop::collection::vec((0_u8..10).prop_map(f64::from), candidates);
            let item = prop::collection::vec(face, 1..3);
            (Just(candidates), prop::collection::vec(item, 1..8), 1..=candidates, 0_usize..3)
        })
    }

    #[test]
    fn the_two_halves_of_a_unit_differ() {
        let items = [vec![vec![0.0, 5.0, 9.0], vec![0.0, 9.0, 4.0]]];
        let held = held_items(3, &items);
        assert_eq!(held.choose(&[], 2), [0, 2]);
        assert_eq!(held.taken(&[0, 1, 2]), [0, 2]);
    }

    proptest! {
        /// Against sums by plain loops: the choice is what it says, no swap is better, and one median is the best.
        #[test]
        fn no_swap_is_better((candidates, items, count, fixed) in cases()) {
            let held = held_items(candidates, &items);
            let fixed: Vec<usize> = (0..fixed.min(count)).collect();
            let chosen = held.choose(&fixed, count);
            prop_assert_eq!(chosen.len(), count);
            prop_assert_eq!(&chosen[..fixed.len()], &fixed[..]);
            let sum = plain(&items, &chosen);
            prop_assert!((held.sum(&held.tops(&chosen)) - sum).abs() < 1e-9);
            for place in fixed.len()..count {
                for other in (0..candidates).filter(|other| !chosen.contains(other)) {
                    let mut swapped = chosen.clone();
                    swapped[place] = other;
                    prop_assert!(plain(&items, &swapped) >= sum - 1e-9, "{:?} {:?}", chosen, swapped);
                }
            }
        }

        /// The sum of a swap is what plain loops find after it.
        #[test]
        fn a_swap_costs_what_it_says((candidates, items, count, _) in cases()) {
            let held = held_items(candidates, &items);
            let chosen: Vec<usize> = (0..count).collect();
            for candidate in count..candidates {
                let (sum, place) = held.best_swap(&held.tops(&chosen), candidate, &chosen, 0);
                let all = (0..count).map(|place| {
                    let mut swapped = chosen.clone();
                    swapped[place] = candidate;
                    plain(&items, &swapped)
                });
                let all: Vec<f64> = all.collect();
                prop_assert!((all[place] - sum).abs() < 1e-9);
                prop_assert!(all.iter().all(|other| *other >= sum - 1e-9));
            }
        }

        #[test]
        fn each_face_takes_what_its_item_costs_least_in((candidates, items, count, _) in cases()) {
            let chosen: Vec<usize> = (0..count).collect();
            let taken = held_items(candidates, &items).taken(&chosen);
            let mut face = 0;
            for faces in &items {
                let own = &taken[face..face + faces.len()];
                let cost: f64 = faces.iter().zip(own).map(|(costs, taken)| costs[*taken]).sum();
                prop_assert_eq!(cost, plain_item(faces, &chosen));
                prop_assert!(own.len() == 1 || count == 1 || own[0] != own[1]);
                face += faces.len();
            }
        }
    }
}
