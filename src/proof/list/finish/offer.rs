//! A scene of a column or a row more or less, round which the worked out border is as wide at the sides as at the ends.

use std::collections::BTreeSet;

use super::{Due, Sides};
use crate::measure::Length;
use crate::proof::finish::{CornersFile, JoinsFile, Round, StripsFile};

impl Due<'_> {
    pub(super) fn offer(&mut self) {
        let scene = self.reader.scene;
        if worked_out(&self.rounds).is_none_or(|[sides, ends]| sides == ends) {
            return;
        }
        let units = scene.bands.iter().flatten().flatten().flatten();
        let squares: BTreeSet<Length> =
            units.filter(|unit| unit.size.width == unit.size.height).map(|unit| unit.size.width).collect();
        let ones = [[-1, 0], [1, 0], [0, -1], [0, 1]];
        let both = [[-1, -1], [1, 1], [-1, 1], [1, -1]];
        for steps in [ones, both] {
            for square in &squares {
                for [columns, rows] in steps {
                    let top = [scene.size.width + *square * columns, scene.size.height + *square * rows];
                    if top[0] < *square || top[1] < *square {
                        continue;
                    }
                    let Some(even) = self.even(top) else { continue };
                    let mut numbers = String::new();
                    for _ in [columns, rows].into_iter().filter(|step| *step != 0) {
                        numbers += &format!("{} ", self.show(*square));
                    }
                    numbers += &format!("{} {}", self.size(top), self.show(even));
                    let word = |step: i64| if step < 0 { "less, the scene" } else { "more, the scene" };
                    self.say(numbers, word(if rows == 0 { columns } else { rows }));
                    return;
                }
            }
        }
    }

    /// How wide that border is round such a top, where it is so all round and can be sewn.
    fn even(&self, top: Sides) -> Option<Length> {
        let scene = self.reader.scene;
        let rounds = self.asked.rounds(top, scene.ruler).ok()?;
        let [sides, ends] = worked_out(&rounds)?;
        let sewn = |round: &Round| {
            let widest = round.units.map_or(round.widths[0].max(round.widths[1]), |units| units.along.max(units.wide));
            let (border, strip) = (&round.border, widest + self.both());
            let joined = border.strips == StripsFile::Across && border.joins == JoinsFile::Bias;
            let room = if round.units.is_none() && joined { strip + strip } else { strip };
            let mitred = round.units.is_none() && border.corners == CornersFile::Mitred;
            room <= scene.cloth_width && !(mitred && round.widths[0] != round.widths[1])
        };
        (sides == ends && sides >= scene.seam && rounds.iter().all(sewn)).then_some(sides)
    }
}

/// Widths of the border that is worked out to a size.
fn worked_out(rounds: &[Round]) -> Option<Sides> {
    let free = |round: &&Round| round.border.width.is_none() && round.units.is_none() && !round.evens;
    rounds.iter().find(free).map(|round| round.widths)
}
