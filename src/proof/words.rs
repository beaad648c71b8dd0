//! The words of rows.csv against all else that its lines say.

use std::collections::BTreeMap;

use super::cutting::{Gives, HandKind, Supply};
use super::fault::Fault;
use super::iron::{Tone, Tones};
use super::rows::{Press, Record, SEWN, Side, Step, UnitStep};
use super::scene::Scene;
use crate::measure::Length;

struct Teller<'a> {
    scene: &'a Scene,
    supplies: BTreeMap<&'a str, &'a Gives>,
    tones: &'a Tones,
}

/// Checks the words of every line; the lines were found to be in order.
pub fn check(scene: &Scene, steps: &[Step], supplies: &[Supply], tones: &Tones) -> Result<(), Fault> {
    let supplies = supplies.iter().map(|supply| (supply.line.text("id"), &supply.gives)).collect();
    let teller = Teller { scene, supplies, tones };
    for (at, step) in steps.iter().enumerate() {
        let due = match (step.record, &step.unit) {
            (Record::Unit, Some(unit)) => teller.unit(step, unit, ends(steps, at)) + &teller.edges(step, unit),
            (Record::Row, _) => teller.row(step, units(steps, at)) + &then(step, "the row above"),
            (Record::Column, _) => teller.part(step.record, parts(steps, at)) + &then(step, "the column before it"),
            (record, _) => teller.part(record, parts(steps, at)) + &then(step, "the band above"),
        };
        let written = step.line.text("words");
        if written != due {
            return Err(step.line.fault("its words do not say what the rest of its line says"));
        }
    }
    Ok(())
}

/// Whether the unit is the first and the last of its row.
fn ends(steps: &[Step], at: usize) -> (bool, bool) {
    let is_unit = |at: Option<usize>| at.and_then(|at| steps.get(at)).is_some_and(|step| step.record == Record::Unit);
    (!is_unit(at.checked_sub(1)), !is_unit(at.checked_add(1)))
}

/// How many parts are joined on a line.
fn parts(steps: &[Step], at: usize) -> usize {
    let Some(step) = steps.get(at) else { return 0 };
    let before = steps.iter().take(at).rev().take_while(|before| before.record < step.record);
    before.filter(|before| before.record as u8 + 1 == step.record as u8).count()
}

/// The units that a row's line ends.
fn units(steps: &[Step], at: usize) -> &[Step] {
    let first = steps.iter().take(at).rposition(|step| step.record != Record::Unit).map_or(0, |before| before + 1);
    steps.get(first..at).unwrap_or_default()
}

fn then(step: &Step, before: &str) -> String {
    joined(step, before).map(|words| format!("; {words}")).unwrap_or_default()
}

/// How a part is joined to the one before.
pub(super) fn joined(step: &Step, before: &str) -> Option<String> {
    let way = match (step.press?, step.record == Record::Column) {
        (Press::Open, _) => "open",
        (Press::Back, true) => "to the left",
        (Press::On, true) => "to the right",
        (Press::Back, false) => "up",
        (Press::On, false) => "down",
    };
    Some(format!("join it to {before} and press that seam {way}; {}", met(step)))
}

/// What is sewn along edges on the bias before the unit is handled.
pub(super) fn staystitched(step: &Step) -> Option<String> {
    let sides: Vec<&str> = step.bias.iter().map(|side| side_words(*side)).collect();
    let edges = match sides.as_slice() {
        [] => return None,
        [side] => format!("its {side} bias edge"),
        [before @ .., last] => format!("its {} and {last} bias edges", before.join(", ")),
    };
    Some(format!("staystitch {edges} before you handle it"))
}

fn met(step: &Step) -> String {
    let (meets, nests) = (step.meets.unwrap_or(0), step.nests.unwrap_or(0));
    let places = if meets == 1 { "1 place".to_owned() } else { format!("{meets} places") };
    let end = match nests {
        _ if meets == 0 => return "no seams meet there".into(),
        _ if step.press == Some(Press::Open) => String::new(),
        0 => " and do not nest".into(),
        1 if meets == 1 => " and nest".into(),
        _ if nests == meets => " and nest in all".into(),
        _ => format!(" and nest in {nests}"),
    };
    format!("seams meet in {places}{end}")
}

impl Teller<'_> {
    fn name(&self, letter: &str) -> &str {
        self.scene.fabrics.get(letter).map_or("", |fabric| fabric.name.as_str())
    }

    fn unit(&self, step: &Step, unit: &UnitStep, ends: (bool, bool)) -> String {
        let (scene, first) = (self.scene, self.name(&unit.first));
        if unit.from == SEWN {
            return SEWN.to_owned();
        }
        let Some(second) = &unit.second else { return self.filler(step, first, ends) };
        let size = unit.kind.split(' ').next().unwrap_or_default();
        let corner = ["upper left", "upper right", "lower right", "lower left"];
        let corner = corner.get(usize::from(unit.turn.unwrap_or_default())).copied().unwrap_or_default();
        let upright = [&unit.first, second].iter().any(|letter| scene.is_upright(letter));
        let (stands, lay) = if upright { (", print upright: do not turn it", "lay") } else { ("", "turn") };
        let lies = format!("{size} unit of {first} and {}, {first} in the {corner}{stands}", self.name(second));
        let Some((width, side)) = unit.strip else { return lies };
        let cut = format!("cut {} off the {}", scene.show(width), side_words(side));
        let (address, from) = (step.line.text("address"), &unit.from);
        let to = |from: &str, to: &str| format!("strip from {from} goes to {to}");
        let how = match self.supplies.get(from.as_str()) {
            Some(Gives::Hand(hand)) if matches!(hand.kind, HandKind::Slice(_)) => {
                format!("slice: take {from}, a strip on hand")
            }
            None if numbers(from) > numbers(address) => {
                format!("slice: the {}; make {from} first", to(from, address))
            }
            None => format!("slice: the {}", to(from, address)),
            Some(_) if unit.kind.ends_with(" slice") => format!("slice: {lay} it so, then {cut} and use that strip"),
            Some(_) => match &unit.offcut {
                Some(slice) => format!("trimmed: {lay} it so, then {cut}; the {}", to(address, slice)),
                None => format!("trimmed: {lay} it so, then {cut}"),
            },
        };
        format!("{lies}; {how}")
    }

    fn filler(&self, step: &Step, name: &str, ends: (bool, bool)) -> String {
        let (Some(width), Some(height)) = step.cut else { return String::new() };
        let ruler = self.scene.ruler;
        let filler = format!("filler of {name}, cut {} x {}", ruler.number(width), ruler.show(height));
        let over = width - step.unfinished.width;
        if over == Length::ZERO {
            return filler;
        }
        let place = match ends {
            (true, true) => "for both ends of the row",
            (true, false) => "at the row's left end",
            _ => "at the row's right end",
        };
        format!("{filler}, {} of it spare {place}", ruler.show(over))
    }

    /// Edges on the bias, and the seam to the unit before.
    fn edges(&self, step: &Step, unit: &UnitStep) -> String {
        if unit.from == SEWN {
            return String::new();
        }
        let mut words = staystitched(step).map(|words| format!("; {words}")).unwrap_or_default();
        let way = match step.press {
            None => return words,
            Some(Press::Open) => "open",
            Some(Press::Back) => "to the left",
            Some(Press::On) => "to the right",
        };
        let tone = match self.tones.get(step.line.text("address")) {
            Some(Tone::Darker) => ", the darker side",
            Some(Tone::Shows) => ", and trim its dark allowance a little narrower than the pale one",
            _ => "",
        };
        words += &format!("; press the seam before it {way}{tone}");
        if step.meets.unwrap_or(0) > 0 {
            words += &format!("; {}", met(step));
        }
        words
    }

    fn row(&self, step: &Step, units: &[Step]) -> String {
        let ways: Vec<Press> = units.iter().filter_map(|unit| unit.press).collect();
        let seams = match ways.as_slice() {
            [] => "it is the one unit",
            ways if ways.contains(&Press::Open) => "press its seams open",
            ways if !ways.contains(&Press::On) => "press its seams to the left",
            ways if !ways.contains(&Press::Back) => "press its seams to the right",
            _ => "press its seams left and right as its units say",
        };
        match step.cut.0 {
            Some(width) => {
                let (sewn, width) = (self.scene.show(width), self.scene.show(step.unfinished.width));
                format!("sewn {sewn} wide; trim the spare off to {width}; {seams}")
            }
            None => seams.to_owned(),
        }
    }

    fn part(&self, record: Record, parts: usize) -> String {
        let (part, end) = match record {
            Record::Column => ("row", ""),
            Record::Band => ("column", ""),
            _ => ("band", "; the top is square when its two diagonals are equal"),
        };
        match parts {
            1 => format!("it is the one {part}{end}"),
            _ => format!("sew its {parts} {part}s together{end}"),
        }
    }
}

pub(super) fn side_words(side: Side) -> &'static str {
    match side {
        Side::Left => "left",
        Side::Right => "right",
        Side::Top => "top",
        Side::Bottom => "bottom",
    }
}

/// An address as it is counted.
pub(super) fn numbers(address: &str) -> Vec<u32> {
    address.split('.').filter_map(|number| number.parse().ok()).collect()
}
