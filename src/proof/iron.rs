//! Whether seams are pressed as is asked for, and whether what is said of them is so: darker, meets, nests, bias.

use std::collections::BTreeMap;

use super::cut::{Bench, address};
use super::cutting::{Gives, Method};
use super::fault::{Fault, short};
use super::light::{light, shows};
use super::request::PressingFile;
use super::rows::{Press, Record, SEWN, Side, Step, UnitStep};
use super::scene::{Scene, Unit};
use super::seams::{Arm, Arms, Borders, Joint, Way, diagonal, joints};
use crate::measure::Length;

/// What lies under what, along a seam between two units.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Tone {
    /// Neither of these.
    Even,
    /// The allowance lies under the darker fabric all along.
    Darker,
    /// Some of it is dark under a pale fabric.
    Shows,
}

/// Tones by the address of the unit after the seam.
pub type Tones = BTreeMap<String, Tone>;

struct Iron<'a> {
    scene: &'a Scene,
    bench: &'a Bench<'a>,
    steps: BTreeMap<&'a str, &'a Step>,
    joints: BTreeMap<String, Joint>,
    units: BTreeMap<&'a str, &'a Unit>,
}

/// Checks every line of rows.csv and every pair; tells the tones of the seams within rows.
pub fn check(scene: &Scene, steps: &[Step], bench: &Bench) -> Result<Tones, Fault> {
    check_pairs(scene, bench)?;
    let by_address = steps.iter().map(|step| (address(step), step)).collect();
    let units = scene.bands.iter().flatten().flatten().flatten();
    let units: BTreeMap<&str, &Unit> = units.map(|unit| (unit.address.as_str(), unit)).collect();
    let iron = Iron { scene, bench, steps: by_address, joints: joints(scene), units };
    let (mut arms, mut borders) = (Arms::default(), Borders::default());
    for unit in iron.units.values() {
        borders.add(unit);
        if let Some((from, to, towards)) = diagonal(unit) {
            arms.add(from, to, iron.diagonal(unit, &towards));
        }
    }
    borders.sort();
    for step in steps {
        if let Some(joint) = iron.joint(step)? {
            arms.add(joint.from, joint.to, iron.lies(step, joint));
        }
    }
    for step in steps {
        iron.meets(step, &arms)?;
        iron.bias(step)?;
    }
    let units = steps.iter().filter(|step| step.record == Record::Unit);
    Ok(units.filter_map(|step| Some((address(step).to_owned(), iron.tone(step, &borders)?))).collect())
}

/// A pair's diagonals are pressed to its darker fabric, or open where that was asked for.
fn check_pairs(scene: &Scene, bench: &Bench) -> Result<(), Fault> {
    for supply in bench.supplies() {
        let Gives::Units(pairs) = &supply.gives else { continue };
        let open = scene.asked.pressing == PressingFile::Open;
        let of = |letter: &str| scene.fabrics.get(letter).map_or(0, |fabric| light(&fabric.colour));
        let [first, second] = &pairs.fabrics;
        let other = if pairs.press == *first { second } else { first };
        if open != (pairs.press == "open") || (!open && pairs.press != *first && pairs.press != *second) {
            return Err(supply.line.fault("its diagonals are not pressed as was asked for"));
        }
        if !open && of(&pairs.press) > of(other) {
            let what = format!("its diagonals are pressed to {}, and {} is darker", short(&pairs.press), short(other));
            return Err(supply.line.fault(what));
        }
    }
    Ok(())
}

impl Iron<'_> {
    /// The way that a unit's diagonal lies, by the pair that it comes from; of what was on hand nobody knows.
    fn diagonal(&self, unit: &Unit, towards: &[(String, Way)]) -> Way {
        let made = self.steps.get(unit.address.as_str()).and_then(|step| step.unit.as_ref());
        let press = made.and_then(|made| match self.pairs(made) {
            Some(pairs) => Some(pairs.press.as_str()),
            None => self.earlier(made),
        });
        let to = towards.iter().find(|(fabric, _)| Some(fabric.as_str()) == press);
        to.map_or((0, 0), |(_, way)| *way)
    }

    /// The pairs that a unit is made of, or that the unit is whose strip it is.
    fn pairs(&self, unit: &UnitStep) -> Option<&super::cutting::Pairs> {
        match self.source(unit)? {
            Gives::Units(pairs) => Some(pairs),
            _ => None,
        }
    }

    /// The fabric that an earlier list had a unit pressed to: one that is sewn, or that lies under the number of its pairs.
    fn earlier<'b>(&self, unit: &'b UnitStep) -> Option<&'b str> {
        let parent = self.steps.get(unit.from.as_str()).and_then(|step| step.unit.as_ref());
        let from = parent.map_or(&unit.from, |parent| &parent.from);
        let made = from == SEWN || from.starts_with('P');
        let of = |letter: &str| self.scene.fabrics.get(letter).map_or(0, |fabric| light(&fabric.colour));
        let (first, second) = (unit.first.as_str(), unit.second.as_deref()?);
        let dark = if of(second) < of(first) { second } else { first };
        (made && self.scene.asked.pressing == PressingFile::Side).then_some(dark)
    }

    fn source(&self, unit: &UnitStep) -> Option<&Gives> {
        let parent = self.steps.get(unit.from.as_str()).and_then(|step| step.unit.as_ref());
        self.bench.gives(&parent.unwrap_or(unit).from)
    }

    /// The seam to the part before; a line has a way to press it exactly where there is one.
    fn joint(&self, step: &Step) -> Result<Option<&Joint>, Fault> {
        let joint = self.joints.get(address(step)).filter(|_| step.record != Record::Top);
        let open = self.scene.asked.pressing == PressingFile::Open;
        match (joint, step.press) {
            (None, None) => Ok(None),
            (None, Some(_)) => Err(step.line.fault("it is pressed, and is joined to nothing before it")),
            (Some(_), None) => Err(step.line.fault("it does not say which way its seam is pressed")),
            (Some(_), Some(press)) if (press == Press::Open) != open => {
                Err(step.line.fault("its seam is not pressed as was asked for"))
            }
            (joint, Some(_)) => Ok(joint),
        }
    }

    fn lies(&self, step: &Step, joint: &Joint) -> Way {
        let way = match step.press {
            Some(Press::Back) => -1,
            Some(Press::On) => 1,
            _ => 0,
        };
        if joint.is_upright() { (way, 0) } else { (0, way) }
    }

    fn meets(&self, step: &Step, arms: &Arms) -> Result<(), Fault> {
        let Some(joint) = self.joint(step)? else { return Ok(()) };
        let met: Vec<bool> = arms.on(joint).iter().filter_map(|arms| meet(arms, joint.is_upright())).collect();
        let due = (met.len(), met.iter().filter(|nests| **nests).count());
        let said = (step.meets.unwrap_or(0) as usize, step.nests.unwrap_or(0) as usize);
        if said != due {
            let what = format!("seams meet in {} places and nest in {} as written", said.0, said.1);
            return Err(step.line.fault(format!("{what}, and in {} and {} as they are pressed", due.0, due.1)));
        }
        Ok(())
    }

    /// Edges of what was made four at a time are on the bias.
    fn bias(&self, step: &Step) -> Result<(), Fault> {
        let Some(unit) = &step.unit else { return Ok(()) };
        let bias = match self.source(unit) {
            Some(Gives::Units(pairs)) => pairs.method == Method::Four,
            Some(Gives::Hand(_)) => unit.kind.starts_with("small"),
            _ => false,
        };
        let due = if bias { self.outside(address(step)) } else { Vec::new() };
        match step.bias == due {
            true => Ok(()),
            false => Err(step.line.fault("its edges on the bias and on the outside of the top are not those written")),
        }
    }

    fn outside(&self, address: &str) -> Vec<Side> {
        let Some(unit) = self.units.get(address) else { return Vec::new() };
        let corners = || unit.patches.iter().flat_map(|patch| &patch.outline);
        let (width, height) = (self.scene.size.width, self.scene.size.height);
        let none = Length::ZERO;
        let sides = [
            (Side::Top, corners().any(|corner| corner.y == none)),
            (Side::Right, corners().any(|corner| corner.x == width)),
            (Side::Bottom, corners().any(|corner| corner.y == height)),
            (Side::Left, corners().any(|corner| corner.x == none)),
        ];
        sides.into_iter().filter(|side| side.1).map(|side| side.0).collect()
    }

    fn tone(&self, step: &Step, borders: &Borders) -> Option<Tone> {
        let joint = self.joints.get(address(step))?;
        let of = |letter: &str| self.scene.fabrics.get(letter).map_or(0, |fabric| light(&fabric.colour));
        let lit = borders.along(joint).into_iter().map(|(before, after)| (of(before), of(after)));
        let lit: Vec<(i64, i64)> = match step.press? {
            Press::Back => lit.collect(),
            Press::On => lit.map(|(before, after)| (after, before)).collect(),
            Press::Open => return Some(Tone::Even),
        };
        Some(if lit.iter().any(|&(over, under)| shows(over, under)) {
            Tone::Shows
        } else if lit.iter().all(|(over, under)| over <= under) && lit.iter().any(|(over, under)| over < under) {
            Tone::Darker
        } else {
            Tone::Even
        })
    }
}

/// Whether arms from both sides of a joint meet, and then whether they nest: each side one way, the two opposite.
fn meet(arms: &[Arm], upright: bool) -> Option<bool> {
    let across = |arm: &&Arm| if upright { arm.runs.0 } else { arm.runs.1 };
    let lies = |arm: &Arm| if upright { arm.lies.1 } else { arm.lies.0 };
    let side = |side: i8| arms.iter().filter(move |arm| across(arm) == side).map(lies).collect::<Vec<i8>>();
    let (before, after) = (side(-1), side(1));
    let one = *before.first()?;
    after.first()?;
    Some(one != 0 && before.iter().all(|way| *way == one) && after.iter().all(|way| *way == -one))
}
