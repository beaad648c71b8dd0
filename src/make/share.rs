//! Rows shared out among sewers: neighbours, as even as can be, and columns whole where that is nearly as even.

use std::ops::Range;

use super::{RowWork, Source};

/// What a row takes: a seam for each of its units that is not sewn, the last of them to join it, and a trim for each unit
/// made of squares.
pub fn load(row: &RowWork) -> u64 {
    let seams = row.units.iter().filter(|unit| unit.source != Source::Sewn);
    let trims = row.units.iter().filter(|unit| matches!(unit.source, Source::Batch(_)));
    (seams.count() + trims.count()) as u64
}

/// A share may be off the even one by one part in so many, and by a row; a column in two shares is as bad as two shares
/// that are off by that. By eye, on the samples.
const NEARLY: i128 = 10;

/// The rows of each share, in order, none empty: the least squares of what shares are off, with those for columns cut.
///
/// Shares that are cut where the even ones end are off by less than the heaviest row, so that there always are some
/// within the limit, unless a row is heavier than an even share; then any are taken.
pub fn shares(loads: &[u64], last_of_column: &[bool], sewers: usize) -> Vec<Range<usize>> {
    let heaviest = i128::from(loads.iter().copied().max().unwrap_or(0)) * sewers as i128;
    let all: i128 = loads.iter().map(|load| i128::from(*load)).sum();
    let within = shared(loads, last_of_column, sewers, all / NEARLY + heaviest);
    within.or_else(|| shared(loads, last_of_column, sewers, i128::MAX)).unwrap_or_default()
}

/// What is off, squared, and where the last share begins.
type Best = Option<(i128, usize)>;

/// Loads count times the sewers, so that the even share is whole: the sum of all.
fn shared(loads: &[u64], last_of_column: &[bool], sewers: usize, most: i128) -> Option<Vec<Range<usize>>> {
    let mut sums = vec![0_i128];
    loads.iter().for_each(|load| sums.push(sums[sums.len() - 1] + i128::from(*load) * sewers as i128));
    let even = sums[loads.len()] / sewers.max(1) as i128;
    let mut best: Vec<Vec<Best>> = vec![vec![None; loads.len() + 1]];
    best[0][0] = Some((0, 0));
    let cut = 2 * (even / NEARLY).pow(2);
    for share in 1..=sewers {
        let of = |end: usize| {
            let begun = (share - 1..end).rev();
            let near = begun.take_while(|&start| sums[end] - sums[start] - even <= most);
            let ways = near.filter_map(|start| {
                let (off, _) = best[share - 1][start]?;
                let here = sums[end] - sums[start] - even;
                let cut = if end < loads.len() && !last_of_column[end - 1] { cut } else { 0 };
                (here >= -most).then(|| (off + here * here + cut, start))
            });
            ways.min()
        };
        let next = (0..=loads.len()).map(of).collect();
        best.push(next);
    }
    let mut end = loads.len();
    let mut shares = Vec::new();
    for share in (1..=sewers).rev() {
        let (_, start) = best[share][end]?;
        shares.push(start..end);
        end = start;
    }
    shares.reverse();
    Some(shares)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn columns_stay_whole_where_that_is_nearly_as_even() {
        let last = |ends: &[usize]| (0..8).map(|row| ends.contains(&row)).collect::<Vec<_>>();
        // 44 and 36 instead of 40 and 40.
        let loads = [12, 12, 12, 8, 9, 9, 9, 9];
        assert_eq!(shares(&loads, &last(&[3, 7]), 2), [0..4, 4..8]);
        // 62 and 18 would be too uneven.
        let loads = [10, 10, 10, 10, 11, 11, 9, 9];
        assert_eq!(shares(&loads, &last(&[5, 7]), 2), [0..4, 4..8]);
    }

    #[test]
    fn a_row_heavier_than_a_share_is_one() {
        assert_eq!(shares(&[1, 90, 1], &[false, false, true], 3), [0..1, 1..2, 2..3]);
        assert_eq!(shares(&[5], &[true], 2), []);
    }

    proptest! {
        #[test]
        fn every_row_is_in_one_share_and_shares_are_even(
            loads in prop::collection::vec(1..40_u64, 1..60),
            ends in prop::collection::vec(any::<bool>(), 60),
            sewers in 1..9_usize,
        ) {
            prop_assume!(sewers <= loads.len());
            let shares = shares(&loads, &ends, sewers);
            prop_assert_eq!(shares.len(), sewers);
            prop_assert!(shares.iter().all(|share| !share.is_empty()));
            prop_assert_eq!(shares.iter().cloned().flatten().collect::<Vec<_>>(), (0..loads.len()).collect::<Vec<_>>());
            let (all, heaviest) = (loads.iter().sum::<u64>() as f64, *loads.iter().max().unwrap() as f64);
            let even = all / sewers as f64;
            for share in shares {
                let off = (loads[share].iter().sum::<u64>() as f64 - even).abs();
                prop_assert!(heaviest > even || off <= even / 10.0 + heaviest, "{off} off {even}, {heaviest}");
            }
        }
    }
}
