//! What is left over as a stash file, for the next scene.

use std::cmp::Reverse;

use super::finish_words::finishing;
use crate::cutting::SheetKind;
use crate::fabric::{
    Fabric, FillerOnHand, Oddment, OnHand, Print, SliceOnHand, Squares, Stash, Supply, UnitOnHand, Yardage,
};
use crate::make::{Leftovers, SpareCloth, Work};
use crate::measure::Length;
use crate::plan::Plan;

const HEADER: &str =
    "# What is left of this scene: give it to the next with --stash, or copy parts of it into your own.\n\n";

/// The stash of what is left when `work` is sewn and finished: its fabrics with their cloth, its units and strips.
pub fn leftovers_toml(plan: &Plan, work: &Work) -> String {
    let mut left = work.leftovers(plan);
    if let Some(finishing) = finishing(plan) {
        // What is left of squares is among what finishing is cut off.
        (left.cloth, left.squares) = (work.finish_cloth(plan, &finishing).left, Vec::new());
    }
    let print = |(print, fabric): (Print, &Fabric)| Fabric {
        supply: Some(supply(&left, print)),
        only_squares: None,
        ..fabric.clone()
    };
    let mut hand = work.hand_left(plan);
    hand.units.extend(left.units.iter().map(|unit| UnitOnHand {
        finished: unit.finished,
        fabrics: [unit.first, unit.second],
        stands: unit.stands,
        count: unit.count,
    }));
    hand.slices.extend(left.strips.iter().map(|strip| SliceOnHand {
        from: strip.from,
        width: strip.width,
        tip: strip.tip,
        rest: strip.rest,
        leans: strip.leans,
        stands: strip.stands,
        count: strip.count,
    }));
    let stash = Stash { prints: plan.fabrics.iter_enumerated().map(print).collect(), hand: listed(hand) };
    HEADER.to_owned() + &stash.write()
}

/// What is left of one fabric; nothing is said as an empty list, since without one it would be free to use.
fn supply(left: &Leftovers, fabric: Print) -> Supply {
    let cloth: Vec<SpareCloth> = left.cloth.iter().filter(|cloth| cloth.fabric == fabric).copied().collect();
    let of = |kind: SheetKind| {
        let of_kind = cloth.iter().filter(|cloth| cloth.kind == kind);
        largest(of_kind.map(|cloth| (cloth.width, cloth.height, *cloth)).collect())
    };
    let whole = of(SheetKind::Square).into_iter().map(|cloth| (cloth.width, cloth.count));
    let quarters = left.squares.iter().filter(|squares| squares.fabric == fabric);
    let squares = whole.chain(quarters.map(|squares| (squares.side, squares.count)));
    let squares = largest(squares.map(|(size, count)| (size, size, (size, most(count)))).collect());
    let length = |cloth: SpareCloth| Yardage { width: cloth.width, length: cloth.height };
    let lengths = of(SheetKind::Length).into_iter();
    let lengths = lengths.flat_map(|cloth| vec![length(cloth); cloth.count.min(Stash::MOST_ENTRIES as u32) as usize]);
    Supply {
        squares: squares.into_iter().map(|(size, count)| Squares { size, count }).collect(),
        yardage: lengths.take(Stash::MOST_ENTRIES).collect(),
        fat_quarters: of(SheetKind::FatQuarter).first().map_or(0, |cloth| most(cloth.count)),
        oddments: of(SheetKind::Oddment)
            .into_iter()
            .map(|cloth| Oddment { width: cloth.width, height: cloth.height, count: most(cloth.count) })
            .collect(),
    }
}

/// As many kinds and pieces as a stash may list.
fn listed(hand: OnHand) -> OnHand {
    let units = hand.units.into_iter().map(|unit| UnitOnHand { count: most(unit.count), ..unit });
    let slices = hand.slices.into_iter().map(|slice| SliceOnHand { count: most(slice.count), ..slice });
    let fillers = hand.fillers.into_iter().map(|filler| FillerOnHand { count: most(filler.count), ..filler });
    OnHand {
        units: largest(units.map(|unit| (unit.finished, unit.finished, unit)).collect()),
        slices: largest(slices.map(|slice| (slice.from, slice.width, slice)).collect()),
        fillers: largest(fillers.map(|filler| (filler.width, filler.height, filler)).collect()),
    }
}

/// As many kinds as a stash may list, in order; where there are more, the largest pieces.
fn largest<T>(all: Vec<(Length, Length, T)>) -> Vec<T> {
    let mut kept: Vec<(Length, Length, T)> = all;
    kept.retain(|(width, height, _)| (*width).max(*height) <= Stash::LONGEST);
    if kept.len() > Stash::MOST_ENTRIES {
        kept.sort_by_key(|(width, height, _)| Reverse((*width, *height)));
        kept.truncate(Stash::MOST_ENTRIES);
    }
    kept.into_iter().map(|(_, _, one)| one).collect()
}

fn most(count: u32) -> u32 {
    count.min(Stash::MOST_PIECES)
}
