//! What a plan takes over what there is.

use super::FabricCut;
use super::cuts::cuts;
use crate::measure::Length;
use crate::plan::Plan;

/// What a plan takes of one family over what there is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Lacking {
    /// The family.
    pub family: String,
    /// Squares for pairs, by side as cut, the largest first.
    pub squares: Vec<(Length, u32)>,
    /// Cloth for fillers, in square ticks.
    pub fillers: i128,
}

impl Lacking {
    /// All of it, in square ticks.
    pub fn area(&self) -> i128 {
        let square = |(side, count): &(Length, u32)| area(*side, *side) * i128::from(*count);
        self.fillers + self.squares.iter().map(square).sum::<i128>()
    }

    fn add(&mut self, cut: &FabricCut) {
        for left in &cut.unplaced {
            let piece = &cut.pieces[left.piece];
            if left.piece >= cut.squares {
                self.fillers += area(piece.width, piece.height) * i128::from(left.count);
                continue;
            }
            match self.squares.iter_mut().find(|(side, _)| *side == piece.width) {
                Some((_, count)) => *count += left.count,
                None => self.squares.push((piece.width, left.count)),
            }
        }
        self.squares.sort_unstable_by(|one, other| other.cmp(one));
    }
}

/// What finds no cloth where all that a plan takes is cut, by family, in the order of the plan's fabrics.
pub fn lacking(plan: &Plan) -> Vec<Lacking> {
    let mut lacking: Vec<Lacking> = Vec::new();
    let cloth = cuts(plan).cloth;
    let short = plan.fabrics.iter().zip(&cloth).filter(|(_, cut)| !cut.unplaced.is_empty());
    for (fabric, cut) in short {
        let at = lacking.iter().position(|lacking| lacking.family == fabric.family).unwrap_or_else(|| {
            lacking.push(Lacking { family: fabric.family.clone(), squares: Vec::new(), fillers: 0 });
            lacking.len() - 1
        });
        lacking[at].add(cut);
    }
    lacking
}

fn area(width: Length, height: Length) -> i128 {
    i128::from(width.ticks()) * i128::from(height.ticks())
}
