//! What is left over: units, strips, quarters of squares and cloth.

use std::cmp::Reverse;
use std::collections::BTreeMap;

use resvg::usvg::roxmltree::Node;

use super::Reader;
use super::buy::Left;
use super::page::{fault, of_class};
use crate::measure::Length;
use crate::proof::cutting::Gives;
use crate::proof::fault::Fault;
use crate::proof::laid::{Kind, Laid};
use crate::proof::left::{Counts, What, remains, uncut};
use crate::proof::paper::Size;
use crate::proof::scene::Scene;
use crate::proof::upright::CORNERS;

/// What is left of each fabric's cloth, by its letter, and quarters of squares by their side and then by fabric.
pub struct ClothLeft {
    pub cloth: BTreeMap<String, Left>,
    quarters: BTreeMap<(Reverse<Length>, usize), u64>,
}

impl ClothLeft {
    pub fn of(scene: &Scene, laid: &[Laid]) -> Result<Self, Fault> {
        let (mut whole, mut rest) = (Counts::new(), Counts::new());
        uncut(scene, laid, &mut whole)?;
        laid.iter().for_each(|laid| remains(scene, laid, &mut rest));
        let (mut cloth, mut quarters) = (BTreeMap::<String, Left>::new(), BTreeMap::new());
        let rest = rest.iter().map(|(piece, count)| (piece, count, true));
        for (piece, count, of_cut) in whole.iter().map(|(piece, count)| (piece, count, false)).chain(rest) {
            let (What::Cloth(kind), [letter], [width, height]) = (piece.what, piece.letters.as_slice(), piece.size)
            else {
                continue;
            };
            let index = scene.letters.iter().position(|other| other == letter).unwrap_or(usize::MAX);
            match kind {
                _ if *count == 0 => {}
                Kind::Square if of_cut => *quarters.entry((Reverse(width), index)).or_default() += count,
                _ => {
                    *cloth
                        .entry(letter.clone())
                        .or_default()
                        .entry((kind, Reverse(width), Reverse(height)))
                        .or_default() += count
                }
            }
        }
        Ok(Self { cloth, quarters })
    }
}

impl Reader<'_> {
    pub(super) fn left(&self) -> Result<(), Fault> {
        let left = ClothLeft::of(self.scene, self.written.laid)?;
        let mut lines = self.units_left();
        lines.extend(self.strips_left());
        lines.extend(self.quarters_left(&left));
        self.page.table("left", lines)?;
        let cloth = self.scene.letters.iter().filter_map(|letter| {
            let words = self.left_words(left.cloth.get(letter)?);
            Some(vec![self.fabric(letter), words])
        });
        self.page.table("cloth-left", cloth)?;
        self.cushion()
    }

    /// What spare whole units of one size make: the widest square, of the larger units where two are as wide.
    fn cushion(&self) -> Result<(), Fault> {
        let both = self.scene.both();
        let mut counts: BTreeMap<Length, u64> = BTreeMap::new();
        for supply in self.written.bench.supplies() {
            let Gives::Units(pairs) = &supply.gives else { continue };
            let spare: u64 = pairs.spares(self.scene).into_iter().map(|(_, spare)| spare).sum();
            *counts.entry(pairs.trimmed - both).or_default() += spare;
        }
        let mut best: Option<(Length, Length, i64)> = None;
        for (side, count) in counts {
            let along = (1..=1_000_i64).take_while(|along| (along * along) as u64 <= count).last().unwrap_or(0);
            let width = side * along;
            if along >= 3 && best.is_none_or(|best| width >= best.0) {
                best = Some((width, side, along));
            }
        }
        let due = best.map(|(width, side, along)| {
            let [side, made, raw] = [side, width, width + both].map(|length| self.show(length));
            format!("{} {side} {along} {along} {made} {raw}", along * along)
        });
        let said: Vec<Node> = of_class(self.page.root(), "makes").collect();
        match (said.as_slice(), due) {
            ([], None) => Ok(()),
            ([said], Some(due)) => self.page.figures(*said, "what it says is made of what is left", &due),
            _ => Err(fault("it does not say what is made of what is left, or says too much")),
        }
    }

    fn units_left(&self) -> Vec<Vec<String>> {
        let both = self.scene.both();
        // What is alike of two fabrics and one size, in the order of the lines.
        let mut alike: Vec<([&str; 2], Length, Option<u8>, u64)> = Vec::new();
        for supply in self.written.bench.supplies() {
            let Gives::Units(pairs) = &supply.gives else { continue };
            let ([one, other], side) = (&pairs.fabrics, pairs.trimmed - both);
            for (stands, spare) in pairs.spares(self.scene).into_iter().filter(|(_, spare)| *spare > 0) {
                match alike.iter_mut().find(|of| (of.0, of.1, of.2) == ([one, other], side, stands)) {
                    Some(of) => of.3 += spare,
                    None => alike.push(([one, other], side, stands, spare)),
                }
            }
        }
        let mut sides: BTreeMap<(Reverse<Length>, Option<u8>), Vec<String>> = BTreeMap::new();
        for ([one, other], side, stands, count) in alike {
            sides.entry((Reverse(side), stands)).or_default().push(format!("{one}{other} {count}"));
        }
        let line = |((side, stands), of): ((Reverse<Length>, Option<u8>), Vec<String>)| {
            vec![format!("whole units{}", stood(stands, "first fabric")), self.show(side.0), of.join(" ")]
        };
        sides.into_iter().map(line).collect()
    }

    fn strips_left(&self) -> Vec<Vec<String>> {
        let both = self.scene.both();
        let place = |letter: &String| self.scene.letters.iter().position(|other| other == letter);
        let mut strips: BTreeMap<_, BTreeMap<_, (String, u64)>> = BTreeMap::new();
        for step in self.units() {
            let off = step.unit.as_ref().and_then(|unit| self.written.bench.left_over(step, unit));
            let Some(([tip, rest], left, size)) = off.filter(|(_, _, size)| size.width > both) else { continue };
            let stands = step.unit.as_ref().and_then(|unit| self.written.bench.standing(unit, &tip));
            let size = size.less(both);
            let (one, other) = (place(&tip), place(&rest));
            let of = strips.entry((Reverse(size.height), Reverse(size.width), !left, stands)).or_default();
            of.entry((one.min(other), one.max(other), one)).or_insert((format!("{tip}{rest}"), 0)).1 += 1;
        }
        let lines = strips.into_iter().map(|((Reverse(from), Reverse(width), right, stands), of)| {
            let lean = if right { "right" } else { "left" };
            let what = format!("strips, tip upper {lean}{}", stood(stands, "tip"));
            let of: Vec<String> = of.values().map(|(chips, count)| format!("{chips} {count}")).collect();
            vec![what, self.size(Size { width, height: from }), of.join(" ")]
        });
        lines.collect()
    }

    fn quarters_left(&self, left: &ClothLeft) -> Vec<Vec<String>> {
        let mut lines: Vec<(Length, Vec<String>)> = Vec::new();
        for ((side, index), count) in &left.quarters {
            let some = format!("{} {count}", self.scene.letters.get(*index).map_or("", String::as_str));
            match lines.last_mut() {
                Some(last) if last.0 == side.0 => last.1.push(some),
                _ => lines.push((side.0, vec![some])),
            }
        }
        let line = |(side, of): (Length, Vec<String>)| {
            vec!["squares".into(), format!("{} as cut", self.show(side)), of.join(" ")]
        };
        lines.into_iter().map(line).collect()
    }
}

/// Where a print stands upright: the corner that `which` fills.
fn stood(stands: Option<u8>, which: &str) -> String {
    let corner = stands.and_then(|corner| CORNERS.get(usize::from(corner)));
    corner.map(|corner| format!("; print upright, {which} {corner}")).unwrap_or_default()
}
