//! A general solver of integer programs against the layout, on orders small enough to list every strip.

use std::collections::BTreeSet;

use microlp::{ComparisonOp, Error, OptimizationDirection, Problem};
use rowscape::cutting::layout::{PieceToCut, Sheet, lay_out, least_sheets};
use rowscape::measure::Length;

use crate::layout::checker::check;

/// A strip that may be cut: its height, and how many of each piece it gives.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Strip {
    height: i64,
    counts: Vec<u32>,
}

/// Every strip in which something is as high as the strip, of sheets `width` wide; sizes in eighths of an inch.
fn strips(pieces: &[PieceToCut], width: i64, turned: bool) -> Vec<Strip> {
    let eighths = |length: Length| length.ticks() / Length::inches(1, 8).ticks();
    let mut ways = Vec::new();
    for (index, piece) in pieces.iter().enumerate() {
        let (w, h) = (eighths(piece.width), eighths(piece.height));
        let (w, h) = if turned { (h, w) } else { (w, h) };
        ways.push((index, w, h));
        if piece.turn && w != h {
            ways.push((index, h, w));
        }
    }
    let mut found = BTreeSet::new();
    let empty = Strip { height: 0, counts: vec![0; pieces.len()] };
    grow(pieces, &ways, width, &empty, &mut found);
    found.into_iter().collect()
}

fn grow(pieces: &[PieceToCut], ways: &[(usize, i64, i64)], room: i64, strip: &Strip, found: &mut BTreeSet<Strip>) {
    let Some((&(index, width, height), rest)) = ways.split_first() else {
        if strip.height > 0 {
            found.insert(strip.clone());
        }
        return;
    };
    let mut strip = strip.clone();
    let mut room = room;
    grow(pieces, rest, room, &strip, found);
    while room >= width && strip.counts[index] < pieces[index].count {
        room -= width;
        strip.counts[index] += 1;
        strip.height = strip.height.max(height);
        grow(pieces, rest, room, &strip, found);
    }
}

/// The least length in eighths of an inch, by the referee.
fn least_length(pieces: &[PieceToCut], width: i64) -> i64 {
    let strips = strips(pieces, width, false);
    let mut problem = Problem::new(OptimizationDirection::Minimize);
    let uses: Vec<_> = strips.iter().map(|s| problem.add_integer_var(s.height as f64, (0, 40))).collect();
    for (index, piece) in pieces.iter().enumerate() {
        let row: Vec<_> = uses.iter().zip(&strips).map(|(var, s)| (*var, f64::from(s.counts[index]))).collect();
        problem.add_constraint(row, ComparisonOp::Ge, f64::from(piece.count));
    }
    problem.solve().unwrap().into_solution().unwrap().objective().round() as i64
}

/// Whether so many sheets of `width` by `height` hold all pieces, by the referee.
fn fit(pieces: &[PieceToCut], (width, height): (i64, i64), sheets: usize) -> bool {
    let lies = if width == height { vec![false] } else { vec![false, true] };
    let mut problem = Problem::new(OptimizationDirection::Minimize);
    let mut cover: Vec<Vec<_>> = vec![Vec::new(); pieces.len()];
    for _ in 0..sheets {
        let mut one_way = Vec::new();
        for &turned in &lies {
            let (width, height) = if turned { (height, width) } else { (width, height) };
            let used = problem.add_integer_var(1.0, (0, 1));
            one_way.push((used, 1.0));
            let mut room = vec![(used, -(height as f64))];
            for strip in strips(pieces, width, turned).into_iter().filter(|strip| strip.height <= height) {
                let var = problem.add_integer_var(0.0, (0, 8));
                room.push((var, strip.height as f64));
                for (row, &count) in cover.iter_mut().zip(&strip.counts).filter(|(_, count)| **count > 0) {
                    row.push((var, f64::from(count)));
                }
            }
            problem.add_constraint(room, ComparisonOp::Le, 0.0);
        }
        problem.add_constraint(one_way, ComparisonOp::Le, 1.0);
    }
    for (row, piece) in cover.into_iter().zip(pieces) {
        problem.add_constraint(row, ComparisonOp::Ge, f64::from(piece.count));
    }
    match problem.solve() {
        Ok(outcome) => outcome.into_solution().is_ok(),
        Err(Error::Infeasible) => false,
        Err(error) => panic!("the referee gave up: {error}"),
    }
}

/// A seeded order of a few sizes, in half inches.
fn order(seed: u64, sizes: u64, most: u64, count: u64) -> Vec<PieceToCut> {
    let mut state = seed.wrapping_mul(0x9e37_79b9_7f4a_7c15) | 1;
    let mut roll = |low: u64, high: u64| {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        low + (state >> 33) % (high - low + 1)
    };
    let piece = |index: u64| {
        let mut side = || Length::inches(roll(3, most) as i64, 2);
        let (width, height) = (side(), side());
        PieceToCut { id: format!("F{index}"), width, height, count: roll(1, count) as u32, turn: roll(0, 3) > 0 }
    };
    (1..=sizes).map(piece).collect()
}

/// Yardage 21 in wide: the layout is the referee's optimum, and the bound never above it.
#[test]
fn yardage_is_as_short_as_can_be() {
    let (mut exact, mut proven, mut cases) = (0, 0, 0);
    for seed in 0..60 {
        let pieces = order(seed, 2 + seed % 4, 36, 3);
        let cloth = [Sheet { id: "cloth".into(), width: Length::inches(21, 1), height: None, count: 1 }];
        let layout = lay_out(&pieces, &cloth).unwrap();
        check(&pieces, &cloth, &layout);
        let sheet = &layout.sheets[0];
        let optimum = Length::inches(least_length(&pieces, 21 * 8), 8);
        assert!(sheet.bound <= optimum && optimum <= sheet.used_length, "case {seed}: {pieces:?}");
        cases += 1;
        exact += usize::from(sheet.used_length == optimum);
        proven += usize::from(sheet.bound == optimum);
    }
    println!("{exact} of {cases} are optimal, {proven} proven so");
    assert_eq!(exact, cases);
}

/// Squares of 10 in and fat quarters: no fewer sheets would do, and the bound never asks for more, but for nearly as many.
#[test]
fn sheets_are_as_few_as_can_be() {
    let (mut exact, mut proven, mut cases) = (0, 0, 0);
    for seed in 0..40 {
        let (size, most) = if seed % 2 == 0 { ((10, 10), 20) } else { ((18, 22), 36) };
        let pieces = order(seed, 2 + seed % 3, most, 2);
        let (width, height) = (Length::inches(size.0, 1), Length::inches(size.1, 1));
        let sheets = [Sheet { id: "square".into(), width, height: Some(height), count: 20 }];
        let layout = lay_out(&pieces, &sheets).unwrap();
        check(&pieces, &sheets, &layout);
        let used = layout.sheets.len();
        let least = least_sheets(&pieces, width, height).unwrap();
        assert!(least <= used as u64, "case {seed}: {pieces:?}");
        if used <= 4 {
            cases += 1;
            proven += usize::from(least == used as u64);
            exact += usize::from(used == 1 || !fit(&pieces, (size.0 * 8, size.1 * 8), used - 1));
        }
    }
    println!("{exact} of {cases} are optimal, {proven} proven so");
    assert_eq!(exact, cases);
    assert!(proven * 10 >= cases * 9, "{proven} of {cases}");
}
