//! Backing and batting: that they cover the top with their margin, and what covers them of what is sold.

use super::{Due, Sides};
use crate::measure::{Length, Ruler};
use crate::proof::fault::Fault;
use crate::proof::finish::{BackingFile, usual};
use crate::proof::list::page::fault;

/// Batting as it is sold, in inches.
const PACKS: [(&str, i64, i64); 6] =
    [("craft", 36, 45), ("crib", 45, 60), ("twin", 72, 90), ("full", 81, 96), ("queen", 90, 108), ("king", 120, 120)];
/// Widths of rolls.
const ROLLS: [i64; 5] = [48, 60, 90, 96, 120];

/// How a back may be laid: how many lengths, how long each, how far they reach, and how wide a strip between them is.
struct Way {
    count: i64,
    long: Length,
    reach: Length,
    split: bool,
    upright: bool,
    middle: Option<Length>,
}

impl Due<'_> {
    pub(super) fn layers(&mut self) -> Result<(), Fault> {
        let (asked, ruler) = (self.asked, self.reader.scene.ruler);
        let overhang = asked.overhang(ruler);
        let raw = self.bordered.map(|side| side + self.both());
        let covered = raw.map(|side| side + overhang + overhang);
        if let Some(backing) = &asked.backing {
            self.backing(backing, covered)?;
        }
        if asked.batting {
            self.say(self.size(covered), "batting lie open");
            self.need("Batting".into(), "–".into(), self.size(covered), self.sold(covered));
        }
        if asked.backing.is_some() || asked.batting {
            self.say(self.show(overhang), "past its raw edge");
        }
        Ok(())
    }

    fn backing(&mut self, backing: &BackingFile, covered: Sides) -> Result<(), Fault> {
        let ruler = self.reader.scene.ruler;
        let cloth = backing.width.unwrap_or(self.reader.scene.cloth_width);
        let seam = usual(ruler, 8, 30);
        // Lengths that lie side by side until they cover what they must, each seam taken off.
        let lengths = |across: Length| {
            let reach = |count: i64| {
                let split = backing.halves && count == 2;
                let seams = if split { 2 } else { count - 1 };
                (cloth * count - (seam + seam) * seams, split)
            };
            (1..=3).map(|count| (count, reach(count))).find(|(_, (reach, _))| *reach >= across)
        };
        let way = |across: Length, long: Length, upright: bool| {
            let (count, (reach, split)) = lengths(across)?;
            if !backing.pieced || count == 1 {
                return Some(Way { count, long, reach, split, upright, middle: None });
            }
            // One length less, and a strip that fills what it leaves open, with a seam and its fellow on both sides.
            let (count, seams) = (count - 1, seam + seam + seam + seam);
            let middle = (across - cloth * count + seams).max(seams);
            let reach = cloth * count + middle - seams;
            Some(Way { count, long, reach, split: count == 1, upright, middle: Some(middle) })
        };
        let ways = [way(covered[0], covered[1], true), way(covered[1], covered[0], false)];
        let cheaper = match ways {
            [Some(one), Some(other)] => {
                let price = |way: &Way| (way.long * way.count, way.count, way.middle);
                if price(&other) < price(&one) { Some(other) } else { Some(one) }
            }
            [one, other] => one.or(other),
        };
        let none = || fault("no three lengths of cloth cover the back");
        let Way { count, long, reach, split, upright, middle } = cheaper.ok_or_else(none)?;
        let mut numbers = format!("{count} {} {}", self.show(long), self.show(cloth));
        if split {
            numbers += &format!(" {}", self.show(Length::from_ticks(cloth.ticks() / 2)));
        }
        if let Some(middle) = middle {
            numbers += &format!(" {} {}", self.show(middle), self.show(long));
        }
        if count > 1 || middle.is_some() {
            numbers += &format!(" {} {}", self.show(seam), self.show(reach));
        }
        numbers += &format!(" {}", self.size(covered));
        self.say(
            numbers,
            match (count, upright) {
                (1, _) if middle.is_none() => "selvedges",
                (_, true) => "seams upright",
                (_, false) => "seams level",
            },
        );
        let wide = format!(", {} wide", self.show(cloth));
        let letter = self.backing_letter();
        self.lengths("Backing".into(), letter.as_deref(), [cloth, long], count, &wide);
        if let Some(middle) = middle {
            let part = || "Backing, middle".to_owned();
            let (lots, lacks) = self.shelf.middle(&self.reader.scene.letters, middle, long, seam + seam);
            for lot in lots {
                let count: i64 = lot.off.iter().map(|off| off.gives).sum();
                let cut = format!("{count} of {}", self.size([middle, lot.long]));
                self.line(part(), Some(&lot.letter), cut, &lot.off, Length::ZERO, "");
            }
            if lacks > Length::ZERO {
                let cut = format!("1 of {}", self.size([middle, lacks]));
                self.line(part(), letter.as_deref(), cut, &[], lacks, "");
            }
        }
        Ok(())
    }

    /// The least pack and the least of a roll that cover it, either way round.
    fn sold(&self, [width, height]: Sides) -> String {
        let ruler = self.reader.scene.ruler;
        let inch = |inches: i64| Length::INCH * inches;
        let shown = |length: Length| match ruler {
            Ruler::Inch => length,
            Ruler::Metric => Length::from_ticks(length.ticks() - length.ticks() % Length::CM.ticks()),
        };
        let covers = |one: Length, other: Length| one >= width && other >= height || one >= height && other >= width;
        let pack = PACKS.iter().find(|(_, one, other)| covers(inch(*one), inch(*other)));
        let pack = pack.map(|(name, one, other)| {
            format!("a {name} pack, {} × {}", ruler.number(shown(inch(*one))), self.show(shown(inch(*other))))
        });
        let mut roll: Option<(i128, Length, Length)> = None;
        for wide in ROLLS.map(inch) {
            let lies = [(width, height), (height, width)].into_iter().filter(|(across, _)| *across <= wide);
            for along in lies.map(|(_, along)| along) {
                let area = i128::from(wide.ticks()) * i128::from(along.ticks());
                if roll.is_none_or(|least| (area, wide) < (least.0, least.1)) {
                    roll = Some((area, wide, along));
                }
            }
        }
        let roll =
            roll.map(|(_, wide, along)| format!("{} of a roll {} wide", self.show(along), self.show(shown(wide))));
        match [pack, roll] {
            [Some(pack), Some(roll)] => format!("{pack}, or {roll}"),
            [None, None] => "two widths of a roll, joined".into(),
            [one, other] => one.or(other).unwrap_or_default(),
        }
    }
}
