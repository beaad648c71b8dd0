//! Borders: what is cut and joined, and that each fits round what it is sewn to.

use super::{Due, Sides, Strips};
use crate::measure::Length;
use crate::proof::fault::Fault;
use crate::proof::finish::{BorderFile, CornersFile, FirstFile, JoinsFile, StripsFile, joined, usual};
use crate::proof::list::page::fault;

/// Two strips: at the sides or not, width and length as cut.
type Pair = (bool, Length, Length);

impl Due<'_> {
    pub(super) fn borders(&mut self) -> Result<(), Fault> {
        if self.rounds.is_empty() {
            return Ok(());
        }
        let scene = self.reader.scene;
        let mut size = [scene.size.width, scene.size.height];
        let both = self.both();
        self.say(self.size(size.map(|side| side + both)), "through its middle");
        let (mut cut, mut sewn) = (Vec::new(), Vec::new());
        for number in 0..self.rounds.len() {
            let (border, widths) = (self.rounds[number].border.clone(), self.rounds[number].widths);
            if let Some(units) = self.rounds[number].units {
                self.units(number, &mut cut)?;
                for (at_sides, what, count) in
                    [(true, "both sides", units.sides), (false, "top and bottom, with its corners", units.ends + 2)]
                {
                    size = grown(size, at_sides, widths);
                    let measures = self.size(size.map(|side| side + both));
                    let what = format!("Border {}, {what}", number + 1);
                    sewn.push(vec![what, format!("2 rows of {count}"), measures, String::new()]);
                }
                continue;
            }
            let pairs = self.pairs(&border, size, widths);
            let [strips, stones] = self.border_letters(number);
            self.cut_strips(number + 1, &border, &pairs, &strips, &mut cut)?;
            if border.corners == CornersFile::Cornerstones {
                let stone = widths.map(|width| width + both);
                let what = self.reader.fabric(&stones);
                cut.push(vec![
                    format!("{}, corners", number + 1),
                    what,
                    format!("4 of {}", self.size(stone)),
                    "–".into(),
                ]);
                self.pieces(format!("Border {}, cornerstones", number + 1), Some(&stones), stone, 4, false)?;
            }
            for (at, pair) in pairs.iter().enumerate() {
                size = grown(size, pair.0, widths);
                sewn.push(self.sewn(number + 1, &border, *pair, at, size));
            }
        }
        for number in 0..self.rounds.len() {
            self.say_units(number)?;
        }
        self.reader.page.table("finish-strips", cut)?;
        self.reader.page.table("finish-units", self.rows())?;
        self.reader.page.table("finish-sewn", sewn)
    }

    /// Its strips in the order in which they are sewn on: each as long as the edge that it is sewn to.
    fn pairs(&self, border: &BorderFile, size: Sides, widths: Sides) -> [Pair; 2] {
        let both = self.both();
        let sides_first = border.corners != CornersFile::Square || border.first == FirstFile::Sides;
        let mut now = size;
        let mut pair = |at_sides: bool| {
            let [width, edge] = if at_sides { [widths[0], now[1]] } else { [widths[1], now[0]] };
            if border.corners == CornersFile::Square {
                now = grown(now, at_sides, widths);
            }
            let length = match border.corners {
                // Past both corners of the border, and by 2 in or 5 cm more at each end.
                CornersFile::Mitred => edge + width + width + usual(self.reader.scene.ruler, 64, 200),
                _ => edge + both,
            };
            (at_sides, width + both, length)
        };
        [pair(sides_first), pair(!sides_first)]
    }

    /// What its strips are cut of, and the lines that say how.
    fn cut_strips(
        &mut self,
        number: usize,
        border: &BorderFile,
        pairs: &[Pair; 2],
        letter: &str,
        lines: &mut Vec<Vec<String>>,
    ) -> Result<(), Fault> {
        let fabric = self.reader.fabric(letter);
        let [(_, one, one_long), (_, other, other_long)] = *pairs;
        let part = || format!("Border {number}");
        let line = |cut: String, join: String| vec![number.to_string(), fabric.clone(), cut, join];
        if border.strips == StripsFile::Along {
            let cut = format!(
                "2 of {}, 2 of {}, along the cloth",
                self.size([one, one_long]),
                self.size([other, other_long])
            );
            lines.push(line(cut, "–".into()));
            let cloth = self.along(pairs)?;
            self.lengths(part(), Some(letter), [self.reader.scene.cloth_width, cloth], 1, "");
            return Ok(());
        }
        let mut runs = vec![(one, one_long + one_long), (other, other_long + other_long)];
        if one == other {
            runs = vec![(one, runs[0].1 + runs[1].1)];
        }
        for (wide, needed) in runs {
            let (join, how) = match border.joins {
                JoinsFile::Straight => (self.both(), "with straight seams, pressed open"),
                JoinsFile::Bias => (wide, "on the diagonal, pressed open"),
            };
            let never = || fault(format!("no strips are as long as border {number}"));
            self.row(wide)?;
            let each = self.reader.scene.cloth_width;
            let (count, _) = joined(needed, each, join).ok_or_else(never)?;
            let (cut, _, single) = self.strips(part(), Some(letter), &Strips { wide, each, join, needed, count });
            let join = if single { "–".into() } else { format!("at least {}, {how}", self.show(needed)) };
            lines.push(line(cut, join));
        }
        Ok(())
    }

    /// Strips beside one another, the longest first, row by row.
    fn along(&self, pairs: &[Pair; 2]) -> Result<Length, Fault> {
        let mut strips: Vec<(Length, Length)> =
            pairs.iter().flat_map(|(_, wide, long)| [(*long, *wide), (*long, *wide)]).collect();
        strips.sort();
        let mut cloth = Length::ZERO;
        while let Some((long, wide)) = strips.pop() {
            self.row(wide)?;
            cloth += long;
            let mut used = wide;
            while let Some((_, next)) = strips.last().filter(|(_, next)| used + *next <= self.reader.scene.cloth_width)
            {
                used += *next;
                strips.pop();
            }
        }
        Ok(cloth)
    }

    /// How many pieces so wide lie beside one another on the cloth; a fault where not one does.
    pub(super) fn row(&self, wide: Length) -> Result<i64, Fault> {
        match self.reader.scene.cloth_width.floor_div(wide) {
            ..1 => Err(fault(format!("the cloth gives no strip of {}", self.show(wide)))),
            many => Ok(many),
        }
    }

    fn sewn(
        &self,
        number: usize,
        border: &BorderFile,
        (at_sides, wide, long): Pair,
        at: usize,
        size: Sides,
    ) -> Vec<String> {
        let mitred = border.corners == CornersFile::Mitred;
        let what = match (at_sides, border.corners) {
            (true, _) => "both sides",
            (false, CornersFile::Cornerstones) => "top and bottom, with its corners",
            (false, _) => "top and bottom",
        };
        let over = if mitred { ", mitres over" } else { "" };
        let measures = if mitred && at == 0 { "–".into() } else { self.size(size.map(|side| side + self.both())) };
        vec![
            format!("Border {number}, {what}"),
            format!("2 of {}{over}", self.size([wide, long])),
            measures,
            String::new(),
        ]
    }
}

/// The size with two strips more, at the sides or at the ends.
fn grown([width, height]: Sides, at_sides: bool, [sides, ends]: Sides) -> Sides {
    match at_sides {
        true => [width + sides + sides, height],
        false => [width, height + ends + ends],
    }
}
