//! Straight lines that part prints: those that earn most, where a line earns by how much colours change along it, and
//! pays for being one and for lying nearer to the last, or further from it, than the others do. How far apart they lie is
//! what all together earn most with.

use rayon::prelude::*;

use super::level::{Level, Line, STEPS, Stretch};
use crate::measure::math::{log, squared};

/// What a line costs, in steps of CIELAB that colours change along it; the most that one earns, and the least that each
/// of all earns on the whole.
const LINE: f64 = 4.0;
const MOST: f64 = 16.0;
const CLEAR: f64 = 5.0;
/// What it costs to lie further from the last than the others do, or nearer, for the square of the ratio's logarithm.
const SPACING: f64 = 12.0;
/// How far apart lines lie at most, in pitches: the last of a fan shows whole.
const FURTHEST: f64 = 3.4;
/// The least that lines lie apart in pixels of the view, and the steps in which that is tried.
const NARROW: f64 = 14.0;
const WIDER: f64 = 1.35;
const FINER: [f64; 3] = [0.87, 1.0, 1.15];
/// How deep both sides of a line are looked at, and how far from a stronger one there is none, in parts of the pitch.
const DEEP: f64 = 0.45;
const APART: f64 = 0.4;
/// How far lines lean to either side from end to end, in parts of their length.
const LEAN: f64 = 0.1;

/// Lines from the left to the right, and what they earn.
#[derive(Clone, Default)]
pub(super) struct Lines {
    pub lines: Vec<Line>,
    earn: f64,
}

/// The strongest line through each column at half its length.
fn changes(of: &Level, stretch: &Stretch, deep: usize) -> Vec<(f64, Line)> {
    let tall = (stretch.rows.len() * STEPS[1]) as f64 / STEPS[0] as f64;
    let steps = (LEAN * tall / 2.0).round() as i64;
    let strongest = |column: usize| {
        let each = (-steps..=steps).map(|step| {
            let line = [(column as i64 - step) as f64, (column as i64 + step) as f64];
            (of.change(line, stretch, deep), line)
        });
        // Of as strong ones, that which leans least.
        let lean = |line: Line| (line[1] - line[0]).abs();
        each.min_by(|a, b| b.0.total_cmp(&a.0).then(lean(a.1).total_cmp(&lean(b.1))))
    };
    let [from, to] = stretch.columns;
    (from..=to).into_par_iter().filter_map(strongest).collect()
}

/// The lines across each stretch that earn most together, all about as far apart; those at its ends are there anyway.
pub(super) fn lines(of: &Level, stretches: &[Stretch]) -> Vec<Lines> {
    let widest = stretches.iter().map(|stretch| stretch.columns[1] - stretch.columns[0]).max().unwrap_or_default();
    let least = NARROW / STEPS[0] as f64;
    let mut best = (vec![Lines::default(); stretches.len()], 0.0);
    let mut pitch = least * WIDER.sqrt();
    while pitch <= widest as f64 / 2.0 * WIDER {
        let deep = ((DEEP * pitch) as usize).max(3);
        let changes: Vec<_> = stretches.iter().map(|stretch| changes(of, stretch, deep)).collect();
        for finer in FINER {
            let tried: Vec<Lines> = changes.iter().map(|changes| spaced(changes, pitch * finer, least)).collect();
            let count = tried.iter().map(|lines| lines.lines.len()).sum::<usize>() as f64;
            // As many again that earn less than half are no better.
            let earn = tried.iter().map(|lines| lines.earn).sum::<f64>() / count.max(1.0).sqrt();
            if earn > best.1 && earn >= CLEAR * count.sqrt() {
                best = (tried, earn);
            }
        }
        pitch *= WIDER;
    }
    best.0
}

/// The lines that earn most if they lie about so far apart.
fn spaced(changes: &[(f64, Line)], pitch: f64, least: f64) -> Lines {
    let last = changes.len() - 1;
    let near = (APART * pitch) as usize;
    let earn = |at: usize| {
        let around = at.saturating_sub(near)..=(at + near).min(last);
        let strongest = changes[around].iter().all(|(change, _)| *change <= changes[at].0);
        if strongest { changes[at].0.min(MOST) - LINE } else { -LINE }
    };
    let gap = |one: usize, other: usize| SPACING * squared(log((other - one) as f64 / pitch));
    // The most that is earned up to a line in each column, and the column of the line before it.
    let mut earned: Vec<Option<(f64, usize)>> = vec![None; changes.len()];
    earned[0] = Some((0.0, 0));
    for at in 1..=last {
        let own = if at == last { 0.0 } else { earn(at) };
        let from = at.saturating_sub((FURTHEST * pitch) as usize);
        let before = (from..at).filter(|before| (at - before) as f64 >= least);
        let each = before.filter_map(|before| Some((earned[before]?.0 + own - gap(before, at), before)));
        earned[at] = each.max_by(|a, b| a.0.total_cmp(&b.0));
    }
    let Some((earn, mut at)) = earned[last] else { return Lines::default() };
    let mut lines = Vec::new();
    while at > 0 {
        lines.push(changes[at].1);
        at = earned[at].map_or(0, |(_, before)| before);
    }
    lines.reverse();
    Lines { lines, earn }
}
