//! Whole squares: a pair gives two, four or eight units of one pair of fabrics, so a lone unit costs a pair.

use std::collections::BTreeMap;

use super::Have;
use super::patches::{Move, Spot};
use crate::compose::{Ready, pair_cloth};
use crate::plan::Piece;
use crate::unit::Cut;

/// Cloth that a family is short of, in cells.
#[derive(Clone, Debug, PartialEq)]
pub struct Short {
    /// The family, by index.
    pub family: usize,
    /// Cells of cloth.
    pub cells: f64,
}

/// Units of one pair of families and one size.
type Class = (usize, usize, u32);

/// What whole squares cost a scene in cells of cloth, kept up to date as units change.
struct Ledger<'a> {
    ready: &'a Ready,
    classes: BTreeMap<Class, u32>,
    /// By block: cloth of one fabric that so many units take.
    cloth: BTreeMap<u32, Vec<f64>>,
    need: Vec<f64>,
    /// Cells of one side of the pairs that join two prints of a family.
    alike: Vec<f64>,
}

fn class(piece: Piece) -> Option<Class> {
    match piece {
        Piece::Triangle(t) if t.cut != Cut::Slice => Some((t.pair().0, t.pair().1, t.block)),
        _ => None,
    }
}

impl<'a> Ledger<'a> {
    fn new(ready: &'a Ready, spots: &[Spot]) -> Self {
        let none = vec![0.0; ready.families.len()];
        let vocabulary = &ready.vocabulary;
        let blocks = vocabulary.blocks.iter().map(|block| vocabulary.cells(block.finished));
        let cloth = blocks.map(|b| (b, (0..=spots.len() as u32).map(|n| pair_cloth(vocabulary, b, n)).collect()));
        let mut ledger =
            Self { ready, classes: BTreeMap::new(), cloth: cloth.collect(), need: none.clone(), alike: none };
        spots.iter().for_each(|spot| ledger.count(spot.placed.unit.piece, spot.cloth, true));
        ledger
    }

    /// Counts a piece in or out.
    fn count(&mut self, piece: Piece, cloth: f64, more: bool) {
        let sign = if more { 1.0 } else { -1.0 };
        let Some(class) = class(piece) else {
            if let Piece::Filler(family) = piece {
                self.need[family] += sign * cloth;
            }
            return;
        };
        let held = self.classes.entry(class).or_default();
        let before = *held;
        *held = if more { before + 1 } else { before.saturating_sub(1) };
        let (now, before) = (*held as usize, before as usize);
        let cells = self.cloth.get(&class.2).map_or(0.0, |cloth| cloth[now] - cloth[before]);
        self.need[class.0] += cells;
        self.need[class.1] += cells;
        if class.0 == class.1 {
            self.alike[class.0] += cells;
        }
    }

    fn change(&mut self, spot: &Spot, piece: Piece) {
        self.count(spot.placed.unit.piece, spot.cloth, false);
        self.count(piece, spot.cloth, true);
    }

    /// Cells over what there is, all families together.
    fn over(&self, have: &Have) -> f64 {
        let more = |(need, have): (&f64, &Option<f64>)| have.map_or(0.0, |have| (need - have).max(0.0));
        let cloth: f64 = self.need.iter().zip(&have.cloth).map(more).sum();
        cloth + self.alike.iter().zip(&have.alike).map(more).sum::<f64>()
    }
}

/// Changes families unit by unit and remainder by remainder until whole squares suffice; the added error.
pub fn within_squares(ready: &Ready, spots: &mut [Spot], have: &Have) -> Result<i64, Vec<Short>> {
    let mut ledger = Ledger::new(ready, spots);
    let mut added = 0;
    let mut over = ledger.over(have);
    while over > 1e-6 {
        let Some((cost, moves)) = best_step(&mut ledger, spots, have, over) else {
            let short = |(family, (need, have)): (usize, (&f64, &Option<f64>))| {
                let cells = need - (*have)?;
                (cells > 1e-6).then_some(Short { family, cells })
            };
            return Err(ledger.need.iter().zip(&have.cloth).enumerate().filter_map(short).collect());
        };
        for (index, piece) in moves {
            ledger.change(&spots[index], piece);
            spots[index].placed.unit.piece = piece;
        }
        added += cost;
        over = ledger.over(have);
    }
    Ok(added)
}

type Step = (i64, Vec<(usize, Piece)>);

/// The step that costs least for the cloth that it brings within bounds.
fn best_step(ledger: &mut Ledger, spots: &[Spot], have: &Have, over: f64) -> Option<Step> {
    let more = |(need, have): (&f64, &Option<f64>)| have.is_some_and(|have| *need > have + 1e-6);
    let alike = ledger.alike.iter().zip(&have.alike).map(more);
    let short: Vec<bool> =
        ledger.need.iter().zip(&have.cloth).map(more).zip(alike).map(|(one, other)| one || other).collect();
    let mut best: Option<(f64, Step)> = None;
    for group in groups(ledger, spots, &short) {
        let mut step: Step = (0, Vec::new());
        for &index in &group {
            if let Some(change) = cheapest(ledger, &spots[index], have) {
                ledger.change(&spots[index], change.piece);
                step.0 += change.cost;
                step.1.push((index, change.piece));
                let gain = over - ledger.over(have);
                let rate = step.0 as f64 / gain.max(1e-9);
                if gain > 1e-6 && best.as_ref().is_none_or(|(held, _)| rate < *held) {
                    best = Some((rate, step.clone()));
                }
            }
        }
        for &(index, piece) in step.1.iter().rev() {
            ledger.count(piece, spots[index].cloth, false);
            ledger.count(spots[index].placed.unit.piece, spots[index].cloth, true);
        }
    }
    best.map(|(_, step)| step)
}

/// Units to change together: fillers of short families alone, and each class's units, cheapest to change first.
fn groups(ledger: &Ledger, spots: &[Spot], short: &[bool]) -> Vec<Vec<usize>> {
    let mut groups: Vec<Vec<usize>> = Vec::new();
    let mut classes: BTreeMap<Class, Vec<(i64, usize)>> = BTreeMap::new();
    for (index, spot) in spots.iter().enumerate() {
        let piece = spot.placed.unit.piece;
        match (piece, class(piece)) {
            (Piece::Filler(family), _) if short[family] => groups.push(vec![index]),
            (_, Some(class)) if short[class.0] || short[class.1] => {
                let least = spot.moves(ledger.ready).map(|change| change.cost).min().unwrap_or(i64::MAX);
                classes.entry(class).or_default().push((least, index));
            }
            _ => {}
        }
    }
    for (_, mut units) in classes {
        units.sort_unstable();
        // A pair gives eight at most, so no remainder is longer.
        groups.push(units.into_iter().take(8).map(|(_, index)| index).collect());
    }
    groups
}

/// The change of a unit that costs least without making anything shorter than it is.
fn cheapest(ledger: &mut Ledger, spot: &Spot, have: &Have) -> Option<Move> {
    let now = spot.placed.unit.piece;
    ledger.count(now, spot.cloth, false);
    let mut changes: Vec<Move> = spot.moves(ledger.ready).collect();
    changes.sort_by_key(|change| change.cost);
    let before = ledger.over(have);
    let found = changes.into_iter().find(|change| {
        ledger.count(change.piece, spot.cloth, true);
        let fits = ledger.over(have) <= before + 1e-6;
        ledger.count(change.piece, spot.cloth, false);
        fits
    });
    ledger.count(now, spot.cloth, true);
    found
}
