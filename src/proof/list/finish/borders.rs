//! Borders: what is cut and joined, and that each fits round what it is sewn to.

use super::{Due, Sides};
use crate::measure::Length;
use crate::proof::fault::Fault;
use crate::proof::finish::{BorderFile, CornersFile, FirstFile, JoinsFile, StripsFile, joined, usual};
use crate::proof::list::page::fault;

/// Two strips: at the sides or not, width and length as cut.
type Pair = (bool, Length, Length);

impl Due<'_> {
    pub(super) fn borders(&mut self) -> Result<(), Fault> {
        let asked = self.asked;
        if asked.borders.is_empty() {
            return Ok(());
        }
        let scene = self.reader.scene;
        let mut size = [scene.size.width, scene.size.height];
        let both = self.both();
        self.say(self.size(size.map(|side| side + both)), "through its middle");
        let (mut cut, mut sewn) = (Vec::new(), Vec::new());
        for (number, border) in asked.borders.iter().enumerate() {
            let widths = self.widths[number];
            let pairs = self.pairs(border, size, widths);
            let [strips, stones] = self.border_letters(number);
            let cloth = self.strips(number + 1, border, &pairs, &strips, &mut cut)?;
            let wide = scene.cloth_width;
            self.need_of(format!("Border {}", number + 1), Some(strips), self.show(cloth), [wide, cloth], "");
            if border.corners == CornersFile::Cornerstones {
                let stone = widths.map(|width| width + both);
                let a_row = self.row(stone[0])?;
                let rows = (1..=4).find(|rows| rows * a_row >= 4).unwrap_or(4);
                let cloth = stone[1] * rows;
                let what = self.reader.fabric(&stones);
                cut.push(vec![
                    format!("{}, corners", number + 1),
                    what,
                    format!("4 of {}", self.size(stone)),
                    "–".into(),
                ]);
                let part = format!("Border {}, cornerstones", number + 1);
                self.need_of(part, Some(stones), self.show(cloth), [wide, cloth], "");
            }
            for (at, pair) in pairs.iter().enumerate() {
                size = grown(size, pair.0, widths);
                sewn.push(self.sewn(number + 1, border, *pair, at, size));
            }
        }
        self.reader.page.table("finish-strips", cut)?;
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

    /// The length of cloth that its strips take, and the lines that say how they are cut.
    fn strips(
        &self,
        number: usize,
        border: &BorderFile,
        pairs: &[Pair; 2],
        letter: &str,
        lines: &mut Vec<Vec<String>>,
    ) -> Result<Length, Fault> {
        let fabric = self.reader.fabric(letter);
        let [(_, one, one_long), (_, other, other_long)] = *pairs;
        let line = |cut: String, join: String| vec![number.to_string(), fabric.clone(), cut, join];
        if border.strips == StripsFile::Along {
            let cut = format!(
                "2 of {}, 2 of {}, along the cloth",
                self.size([one, one_long]),
                self.size([other, other_long])
            );
            lines.push(line(cut, "–".into()));
            return self.along(pairs);
        }
        let mut runs = vec![(one, one_long + one_long), (other, other_long + other_long)];
        if one == other {
            runs = vec![(one, runs[0].1 + runs[1].1)];
        }
        let mut cloth = Length::ZERO;
        for (strip, needed) in runs {
            let (takes, how) = match border.joins {
                JoinsFile::Straight => (self.both(), "with straight seams, pressed open"),
                JoinsFile::Bias => (strip, "on the diagonal, pressed open"),
            };
            let never = || fault(format!("no strips are as long as border {number}"));
            self.row(strip)?;
            let (count, _) = joined(needed, self.reader.scene.cloth_width, takes).ok_or_else(never)?;
            let join = if count > 1 { format!("at least {}, {how}", self.show(needed)) } else { "–".into() };
            lines.push(line(format!("{count} of {} across the cloth", self.show(strip)), join));
            cloth += strip * count;
        }
        Ok(cloth)
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
    fn row(&self, wide: Length) -> Result<i64, Fault> {
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
