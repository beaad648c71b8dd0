//! The largest top that a stash makes, by trial.
//!
//! Numbers without a source were found by trial, no figures kept; `cargo bench --bench stashes` shows what others do.

use typed_index_collections::TiSlice;

use crate::fabric::{Fabric, OnHand, Print, Supply};
use crate::measure::Length;

/// Rounds of prices while sizes are tried.
pub const TRIAL_ROUNDS: u32 = 4;
/// Most sizes in a row that are tried without rows that fill them: whether pieces do goes up and down with the size.
const STEPS: u32 = 12;
/// Most larger sizes in a row for which the stash may not suffice.
const SHORT: u32 = 4;

/// What came of one size.
pub enum SizeTried<T> {
    /// A scene within the stash.
    Made(T),
    /// No rows of these units fill a top of that size, whatever there is.
    NoRows,
    /// The stash does not suffice.
    Short,
}

/// The largest size from `least` to `most` that could be made: by halving, where a size a little smaller stands for one
/// that no rows fill, and from there size by size as long as one of the next can be made.
pub fn largest<T, E>(
    least: u32,
    most: u32,
    mut made: impl FnMut(u32) -> Result<SizeTried<T>, E>,
) -> Result<Option<(u32, T)>, E> {
    let (mut low, mut high, mut best) = (least, most.saturating_add(1), None);
    while low < high {
        let middle = low + (high - low) / 2;
        let mut size = middle;
        let mut tried = made(size)?;
        while matches!(tried, SizeTried::NoRows) && size > low && middle - size < STEPS {
            size -= 1;
            tried = made(size)?;
        }
        match tried {
            SizeTried::Made(scene) => (best, low) = (Some((size, scene)), middle + 1),
            _ => high = middle,
        }
    }
    let mut size = best.as_ref().map_or(most, |(size, _)| *size);
    let [mut unfilled, mut short] = [0; 2];
    while size < most && unfilled < STEPS && short < SHORT {
        size += 1;
        match made(size)? {
            SizeTried::Made(scene) => ([unfilled, short], best) = ([0; 2], Some((size, scene))),
            SizeTried::NoRows => unfilled += 1,
            SizeTried::Short => short += 1,
        }
    }
    Ok(best)
}

/// The same for a heap, of which one size may fit and the next not: every size, from the largest down.
pub fn largest_of_heap<T, E>(
    least: u32,
    most: u32,
    mut made: impl FnMut(u32) -> Result<SizeTried<T>, E>,
) -> Result<Option<(u32, T)>, E> {
    for size in (least..=most).rev() {
        if let SizeTried::Made(scene) = made(size)? {
            return Ok(Some((size, scene)));
        }
    }
    Ok(None)
}

/// All cloth and pieces laid flat, in square ticks: no top is larger. None where a fabric has no counts.
pub fn flat(fabrics: &TiSlice<Print, Fabric>, hand: &OnHand) -> Option<i128> {
    let cloth: i128 = fabrics.iter().map(|fabric| fabric.supply.as_ref().map(cloth)).sum::<Option<i128>>()?;
    Some(cloth + on_hand(hand))
}

/// All pieces on hand laid flat, finished, in square ticks.
pub fn on_hand(hand: &OnHand) -> i128 {
    let units = hand.units.iter().map(|unit| area(unit.finished, unit.finished, unit.count));
    let slices = hand.slices.iter().map(|slice| area(slice.from, slice.width, slice.count));
    let fillers = hand.fillers.iter().map(|filler| area(filler.width, filler.height, filler.count));
    units.chain(slices).chain(fillers).sum()
}

fn cloth(supply: &Supply) -> i128 {
    supply.sheets().map(|sheet| area(sheet.width, sheet.height, sheet.count)).sum()
}

fn area(width: Length, height: Length, count: u32) -> i128 {
    i128::from(width.ticks()) * i128::from(height.ticks()) * i128::from(count)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn search(least: u32, most: u32, made: impl Fn(u32) -> SizeTried<u32>) -> Option<(u32, u32)> {
        largest(least, most, |size| Ok::<_, ()>(made(size))).unwrap()
    }

    #[test]
    fn halving_finds_what_a_plain_search_finds() {
        for limit in 0..60 {
            let fits = |size| if size <= limit { SizeTried::Made(size) } else { SizeTried::Short };
            let plain = (4..=50).rev().find(|size| *size <= limit).map(|size| (size, size));
            assert_eq!(search(4, 50, fits), plain, "{limit}");
        }
    }

    #[test]
    fn sizes_that_no_rows_fill_are_passed_over() {
        // Only every fourth size is filled by rows.
        let fits = |size: u32| match (size.is_multiple_of(4), size <= 37) {
            (false, _) => SizeTried::NoRows,
            (true, true) => SizeTried::Made(size),
            (true, false) => SizeTried::Short,
        };
        assert_eq!(search(3, 90, fits), Some((36, 36)));
        assert_eq!(search(5, 3, fits), None);
    }

    #[test]
    fn a_heap_is_searched_from_the_top() {
        let fits = |size: u32| if [7, 8, 42].contains(&size) { SizeTried::Made(size) } else { SizeTried::Short };
        assert_eq!(largest_of_heap(1, 90, |size| Ok::<_, ()>(fits(size))), Ok(Some((42, 42))));
        assert_eq!(largest_of_heap(9, 41, |size| Ok::<_, ()>(fits(size))), Ok(None));
    }

    #[test]
    fn a_size_that_fails_does_not_hide_larger_ones_near_it() {
        let fits = |size: u32| if size % 5 < 2 && size <= 61 { SizeTried::Made(size) } else { SizeTried::Short };
        assert_eq!(search(1, 100, fits), Some((61, 61)));
    }
}
