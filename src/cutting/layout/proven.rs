//! The fewest sheets that two stages can take, proven: whole sheets, whose contents may be shared out.
//!
//! Relaxed problem: x sheets, each cut in some way, at least as many of each piece as are asked for, the fewest
//! sheets. Ways to cut are found as they are needed: the best strip of each height by a bounded knapsack, then
//! the best strips on top of each other. Any prices prove a bound: where no sheet is worth more than `most`,
//! pieces worth `all` need at least all / most sheets. Prices are whole numbers, so that floating point, which
//! only proposes them, cannot spoil that.
//!
//! No price that counts a piece by its sides proves more: such prices are among those that are tried here.

use super::filler::{Filled, Stack, usage};
use super::one_sheet::{OneSheet, Rounding};
use super::simplex::{Program, Sense};

/// What a sheet costs, so that prices are whole numbers.
const WHOLE: i64 = 1 << 30;
/// Most pivots each time that more ways to cut are asked for.
const PIVOTS: usize = 400;

/// A bound, and the prices that prove it.
#[derive(Clone, Debug, Default)]
pub(super) struct Proven {
    pub sheets: u64,
    pub prices: Vec<i64>,
}

/// At least so many sheets of one size, which may lie in the way of any of the `stacks`; `known` are ways to cut.
pub(super) fn proven(stacks: &[Stack], counts: &[i64], known: &[Filled], rounds: usize) -> Proven {
    let rows: Vec<_> = counts.iter().map(|&count| (Sense::Least, count as f64)).collect();
    let mut program = Program::new(&rows, WHOLE as f64 * 2.0);
    let mut pool: Vec<Vec<i64>> = Vec::new();
    known.iter().for_each(|filled| _ = admit(&mut program, &mut pool, usage(&filled.patterns, counts.len())));
    let (mut sheet, mut best) = (OneSheet::default(), Proven::default());
    for _ in 0..rounds {
        program.solve(PIVOTS);
        let prices: Vec<i64> = program.duals().iter().map(|dual| (dual.floor() as i64).clamp(0, WHOLE * 2)).collect();
        let (mut most, mut grown) = (1, false);
        for stack in stacks {
            let (value, patterns) = sheet.fill(&stack.order, stack.height, counts, &prices, Rounding::Down);
            most = most.max(value);
            grown |= value > WHOLE && admit(&mut program, &mut pool, usage(&patterns, counts.len()));
        }
        let sheets = least(&prices, counts, most);
        if sheets >= best.sheets {
            best = Proven { sheets, prices };
        }
        if !grown {
            break;
        }
    }
    best
}

/// Sheets for all pieces where none is worth more than `most`.
fn least(prices: &[i64], counts: &[i64], most: i64) -> u64 {
    let all: i128 = prices.iter().zip(counts).map(|(&price, &count)| i128::from(price) * i128::from(count)).sum();
    u64::try_from((all + i128::from(most) - 1) / i128::from(most)).unwrap_or(0)
}

/// Whether a way to cut is new; adds it.
fn admit(program: &mut Program, pool: &mut Vec<Vec<i64>>, used: Vec<i64>) -> bool {
    let new = used.iter().any(|&count| count > 0) && !pool.contains(&used);
    if new {
        let entries = used.iter().enumerate().filter(|used| *used.1 > 0).map(|(kind, &count)| (kind, count as f64));
        program.add(WHOLE as f64, entries.collect());
        pool.push(used);
    }
    new
}
