//! Units taken from what was cut and paired: turned, cut across, trimmed.

use std::collections::BTreeMap;

use super::cloth::{Cloth, Patch};
use super::cutting::{Fillers, Gives, Hand, HandKind, Pairs, Supply};
use super::fault::{Fault, short};
use super::paper::{Point, Size, point};
use super::rows::{Record, SEWN, Side, Step, UnitStep};
use super::scene::Scene;
use super::triangle::Part;
use super::upright::{CORNERS, corner_of};
use crate::measure::{Length, Ruler};

/// What lies on the bench: everything cut and paired, and the lines that use it.
pub struct Bench<'a> {
    scene: &'a Scene,
    supplies: Vec<Supply>,
    by_id: BTreeMap<String, usize>,
    by_address: BTreeMap<&'a str, (&'a Step, &'a UnitStep)>,
}

/// A unit ready to be joined, and what its end is cut over.
pub struct Made {
    /// The unit with its seams still on.
    pub unfinished: Cloth,
    /// What shows of it once it is sewn.
    pub finished: Cloth,
    /// Width to trim off at the row's end.
    pub over: Length,
}

impl Made {
    /// What was sewn before, as the plan has it at `at`.
    pub fn sewn(patches: &[Patch], at: Point, size: Size, seam: Length) -> Self {
        let finished = Cloth::planned(patches, at, size.less(seam + seam));
        Self { unfinished: Cloth { size, patches: finished.patches.clone() }, finished, over: Length::ZERO }
    }
}

/// A triangle unit cut across: what is used, and what comes off.
struct Parted {
    part: Part,
    used: Cloth,
    off: Option<Cloth>,
}

impl<'a> Bench<'a> {
    /// Lays out `supplies` for the lines of rows.csv.
    pub fn new(scene: &'a Scene, supplies: Vec<Supply>, steps: &'a [Step]) -> Self {
        let by_id = supplies.iter().enumerate().map(|(i, s)| (s.line.text("id").to_owned(), i)).collect();
        let units = steps.iter().filter(|step| step.record == Record::Unit);
        let by_address = units.filter_map(|step| Some((address(step), (step, step.unit.as_ref()?)))).collect();
        Self { scene, supplies, by_id, by_address }
    }

    /// Everything cut and paired.
    pub fn supplies(&self) -> &[Supply] {
        &self.supplies
    }

    /// What the line of an id gives.
    pub fn gives(&self, id: &str) -> Option<&Gives> {
        self.by_id.get(id).and_then(|&index| self.supplies.get(index)).map(|supply| &supply.gives)
    }

    /// Makes the unit of a line; only at a row's end may a filler be cut over.
    pub fn make(&mut self, step: &Step, unit: &UnitStep, ends: Ends) -> Result<Made, Fault> {
        let Some(&index) = self.by_id.get(&unit.from) else {
            let slice = self.slice_of_offcut(step, unit)?;
            return self.made(step, slice, Length::ZERO);
        };
        let Some(supply) = self.supplies.get(index) else { return Err(self.no_source(step, unit)) };
        let corner = self.stands(step, unit, supply)?;
        let (cloth, over, limit) = match &supply.gives {
            Gives::Fillers(fillers) => {
                let (cloth, over) = self.filler(step, unit, fillers, ends)?;
                (cloth, over, u64::from(fillers.count))
            }
            Gives::Units(pairs) => {
                let parted = self.parted(step, unit, (&pairs.fabrics, pairs.trimmed))?;
                self.gives_offcut(step, unit, &parted)?;
                (parted.used, Length::ZERO, u64::from(pairs.pairs) * u64::from(pairs.yields))
            }
            Gives::Hand(hand) => {
                let (cloth, over) = self.held(step, unit, hand)?;
                (cloth, over, u64::from(hand.there))
            }
        };
        if u64::from(supply.taken) >= limit {
            let what = format!("{} gives {limit} pieces, and this would be one more", unit.from);
            return Err(step.line.fault(what));
        }
        let made = self.made(step, cloth, over)?;
        if let Some(supply) = self.supplies.get_mut(index) {
            supply.taken += 1;
            corner.and_then(|corner| supply.corners.get_mut(corner)).into_iter().for_each(|taken| *taken += 1);
        }
        Ok(made)
    }

    /// The corner that the first fabric of a line fills in a unit taken from it, where a print is to stand upright; it must
    /// be one that the line gives, and a piece on hand be in its own.
    fn stands(&self, step: &Step, unit: &UnitStep, supply: &Supply) -> Result<Option<usize>, Fault> {
        let (Some(turn), Some(second)) = (unit.turn, &unit.second) else { return Ok(None) };
        if ![&unit.first, second].iter().any(|letter| self.scene.is_upright(letter)) {
            return Ok(None);
        }
        match &supply.gives {
            Gives::Units(pairs) => Ok(pairs.fabrics.first().map(|first| corner_of(first, &unit.first, turn))),
            Gives::Hand(hand) => {
                let corner = hand.fabrics.first().map(|first| corner_of(first, &unit.first, turn));
                match hand.stands.map(usize::from) == corner {
                    true => Ok(corner),
                    false => Err(step.line.fault(format!("so turned a print of {} does not stand upright", unit.from))),
                }
            }
            Gives::Fillers(_) => Ok(None),
        }
    }

    /// Checks that the rows took from each line what it says.
    pub fn settle(&self) -> Result<(), Fault> {
        for supply in &self.supplies {
            let (said, pieces) = match &supply.gives {
                Gives::Units(pairs) => (pairs.needed, "units"),
                Gives::Fillers(fillers) => (fillers.count, "fillers"),
                Gives::Hand(hand) => (hand.needed, "pieces on hand"),
            };
            if said != supply.taken {
                let what = format!("{said} {pieces} are needed as written, but the rows take {}", supply.taken);
                return Err(supply.line.fault(what));
            }
            if let Gives::Units(Pairs { lay: Some(lay), fabrics: [first, _], .. }) = &supply.gives {
                for ((corner, needed), taken) in CORNERS.iter().zip(lay.needed).zip(supply.corners) {
                    if needed != taken {
                        let what = format!("with {first} in the {corner} {needed} units are needed as written");
                        return Err(supply.line.fault(format!("{what}, but the rows take {taken}")));
                    }
                }
            }
        }
        Ok(())
    }

    /// Squares as bought that go into pairs: one that is cut in four serves four pairs that have its fabric.
    pub fn squares(&self) -> u64 {
        let (mut whole, mut quarters) = (0_u64, BTreeMap::<(&str, Length), u64>::new());
        for supply in &self.supplies {
            let Gives::Units(pairs) = &supply.gives else { continue };
            for fabric in &pairs.fabrics {
                match pairs.square == pairs.bought {
                    true => whole += u64::from(pairs.pairs),
                    false => *quarters.entry((fabric, pairs.bought)).or_default() += u64::from(pairs.pairs),
                }
            }
        }
        whole + quarters.values().map(|quarters| quarters.div_ceil(4)).sum::<u64>()
    }

    /// Whether the unit is the strip off another.
    pub fn is_offcut(&self, unit: &UnitStep) -> bool {
        unit.from != SEWN && !self.by_id.contains_key(&unit.from)
    }

    /// A piece that was there before: a unit to be used or cut, a strip, or a filler, which may be turned.
    fn held(&self, step: &Step, unit: &UnitStep, hand: &Hand) -> Result<(Cloth, Length), Fault> {
        match (hand.kind, hand.fabrics.as_slice()) {
            (HandKind::Filler, [fabric]) => {
                let lies = if step.unfinished == hand.size { hand.size } else { hand.size.on_its_side() };
                self.filler(step, unit, &Fillers { fabric: fabric.clone(), cut: lies, count: 0 }, Ends::Neither)
            }
            (HandKind::Unit, [one, other]) => {
                let parted = self.parted(step, unit, (&[one.clone(), other.clone()], hand.size.width))?;
                self.gives_offcut(step, unit, &parted)?;
                Ok((parted.used, Length::ZERO))
            }
            (HandKind::Slice(left), [tip, rest]) => {
                step.line.nothing_in(&["offcut"])?;
                let parted = self.parted(step, unit, (&[tip.clone(), rest.clone()], hand.size.height))?;
                let strip = Cloth::strip(tip, rest, hand.size, left);
                match parted.part == Part::Slice && strip.is_turned(&parted.used) {
                    true => Ok((parted.used, Length::ZERO)),
                    false => Err(step.line.fault(format!("{} is not this slice, however it is turned", unit.from))),
                }
            }
            _ => Err(self.no_source(step, unit)),
        }
    }

    fn filler(&self, step: &Step, unit: &UnitStep, fillers: &Fillers, ends: Ends) -> Result<(Cloth, Length), Fault> {
        step.line.nothing_in(&["second", "turn", "strip", "strip_side", "offcut"])?;
        kind(step, unit, "filler")?;
        if unit.first != fillers.fabric {
            let what = format!("it is of fabric {} and {} is of {}", short(&unit.first), unit.from, fillers.fabric);
            return Err(step.line.fault(what));
        }
        let (Some(width), Some(height)) = step.cut else {
            return Err(step.line.fault("the size to cut is missing"));
        };
        let cut = Size { width, height };
        if cut != fillers.cut {
            let (here, there) = (self.scene.show_size(cut), self.scene.show_size(fillers.cut));
            return Err(step.line.fault(format!("it is to be cut {here}, and {} is cut {there}", unit.from)));
        }
        let over = width - step.unfinished.width;
        if height != step.unfinished.height || !self.may_be_over(over, ends) {
            let (cut, unfinished) = (self.scene.show_size(cut), self.scene.show_size(step.unfinished));
            return Err(step.line.fault(format!("cut {cut}, it is not the {unfinished} that it is to measure")));
        }
        Ok((Cloth::plain(&unit.first, cut).cut_out(point(over, Length::ZERO), step.unfinished), over))
    }

    /// With spare row ends, each end of the row is an inch (2.5 cm) over where a filler stands there.
    fn may_be_over(&self, over: Length, ends: Ends) -> bool {
        let extra = match self.scene.ruler {
            Ruler::Inch => Length::INCH,
            Ruler::Metric => Length::mm(25),
        };
        match (self.scene.spare, ends) {
            (false, _) | (true, Ends::Neither) => over == Length::ZERO,
            (true, Ends::One) => over == extra,
            (true, Ends::Both) => over == extra || over == extra + extra,
        }
    }

    fn parted(
        &self,
        step: &Step,
        unit: &UnitStep,
        ([one, other], trimmed): (&[String; 2], Length),
    ) -> Result<Parted, Fault> {
        step.line.nothing_in(&["cut_width", "cut_height"])?;
        let second = step.line.due("second")?;
        if (&unit.first, second) != (one, other) && (&unit.first, second) != (other, one) {
            let what = format!("it is of fabrics {} and {}", short(&unit.first), short(second));
            return Err(step.line.fault(format!("{what}, and the pair is of {one} and {other}")));
        }
        let turn = unit.turn.ok_or_else(|| step.line.fault("the turn is missing"))?;
        let part = part(step, unit)?;
        let whole = Cloth::split(&unit.first, second, trimmed).turned_by(turn);
        match (part, unit.strip) {
            (Part::Whole, None) => Ok(Parted { part, used: whole, off: None }),
            (Part::Whole, Some(_)) => {
                Err(step.line.fault("a strip is cut off it, and its kind is that of a whole unit"))
            }
            (_, None) => Err(step.line.fault("the strip is missing")),
            (_, Some((width, _))) if width >= trimmed => {
                let (strip, trimmed) = (self.scene.show(width), self.scene.show(trimmed));
                Err(step.line.fault(format!("a strip of {strip} cannot come off a unit of {trimmed}")))
            }
            (_, Some((width, side))) => {
                let (main, strip) = part_at(&whole, width, side);
                let (used, off) = match part {
                    Part::Slice => (strip, main),
                    Part::Whole | Part::Trimmed => (main, strip),
                };
                Ok(Parted { part, used, off: Some(off) })
            }
        }
    }

    /// Checks a trimmed unit's word on where its strip goes.
    fn gives_offcut(&self, step: &Step, unit: &UnitStep, parted: &Parted) -> Result<(), Fault> {
        let Some(to) = &unit.offcut else { return Ok(()) };
        if parted.part != Part::Trimmed {
            return Err(step.line.fault("only the strip off a trimmed unit can become a slice"));
        }
        match self.by_address.get(to.as_str()) {
            Some((_, slice)) if slice.from == address(step) => Ok(()),
            Some((_, slice)) => {
                let what = format!("its strip is to become {to}, which comes from {}", short(&slice.from));
                Err(step.line.fault(what))
            }
            None => Err(step.line.fault(format!("its strip is to become {}, which is no unit", short(to)))),
        }
    }

    /// The slice that is the strip of another unit: the same cloth as its own line describes.
    fn slice_of_offcut(&self, step: &Step, unit: &UnitStep) -> Result<Cloth, Fault> {
        let Some(&(parent, cut)) = self.by_address.get(unit.from.as_str()) else {
            return Err(self.no_source(step, unit));
        };
        if cut.offcut.as_deref() != Some(address(step)) {
            return Err(step.line.fault(format!("it is the strip off {}, which does not say so", unit.from)));
        }
        step.line.nothing_in(&["offcut"])?;
        let Some((fabrics, trimmed)) = self.whole(cut) else {
            return Err(parent.line.fault("its strip is used, but it comes from no pair"));
        };
        let slice = self.parted(step, unit, (&fabrics, trimmed))?;
        if slice.part != Part::Slice {
            return Err(step.line.fault("it comes from another unit's strip, and its kind is not that of a slice"));
        }
        let strip = self.parted(parent, cut, (&fabrics, trimmed))?.off;
        let [first, _] = &fabrics;
        let corner = |unit: &UnitStep| unit.turn.map(|turn| corner_of(first, &unit.first, turn));
        if fabrics.iter().any(|letter| self.scene.is_upright(letter)) && corner(cut) != corner(unit) {
            let what = format!("the strip off {} is turned here, and a print of it is to stand upright", unit.from);
            return Err(step.line.fault(what));
        }
        if !strip.is_some_and(|strip| strip.is_turned(&slice.used)) {
            return Err(step
                .line
                .fault(format!("the strip off {} is not this slice, however it is turned", unit.from)));
        }
        Ok(slice.used)
    }

    /// Fabrics and side of the whole unit that a unit is cut from.
    fn whole(&self, unit: &UnitStep) -> Option<([String; 2], Length)> {
        match &self.supplies.get(*self.by_id.get(&unit.from)?)?.gives {
            Gives::Units(pairs) => Some((pairs.fabrics.clone(), pairs.trimmed)),
            Gives::Hand(hand) if hand.kind == HandKind::Unit => {
                Some((hand.fabrics.clone().try_into().ok()?, hand.size.width))
            }
            _ => None,
        }
    }

    /// The corner that a fabric fills in a unit, where a print of it is to stand upright.
    pub fn standing(&self, unit: &UnitStep, fabric: &str) -> Option<u8> {
        let upright = [Some(&unit.first), unit.second.as_ref()];
        let upright = upright.into_iter().flatten().any(|letter| self.scene.is_upright(letter));
        let corner = unit.turn.filter(|_| upright).map(|turn| corner_of(fabric, &unit.first, turn))?;
        u8::try_from(corner).ok()
    }

    /// What comes off a whole unit and is used nowhere, stood up: its tip and rest, whether it leans left, its size.
    pub fn left_over(&self, step: &Step, unit: &UnitStep) -> Option<([String; 2], bool, Size)> {
        let (fabrics, trimmed) = self.whole(unit).filter(|_| unit.offcut.is_none())?;
        let off = self.parted(step, unit, (&fabrics, trimmed)).ok()?.off?;
        let Size { width, height } = off.size;
        let size = Size { width: width.min(height), height: width.max(height) };
        let [one, other] = fabrics;
        let ways = [[one.clone(), other.clone()], [other, one]]
            .into_iter()
            .flat_map(|way| [true, false].map(|left| (way.clone(), left)));
        let mut ways = ways.filter(|([tip, rest], left)| Cloth::strip(tip, rest, size, *left).is_turned(&off));
        ways.next().map(|(way, left)| (way, left, size))
    }

    fn no_source(&self, step: &Step, unit: &UnitStep) -> Fault {
        let what = format!("it comes from {}, which is neither cut nor paired nor a unit", short(&unit.from));
        step.line.fault(what).hint("add the line to cutting.csv, or write the files again from this plan")
    }

    /// The unit with its written sizes held against its cloth.
    fn made(&self, step: &Step, unfinished: Cloth, over: Length) -> Result<Made, Fault> {
        if unfinished.size != step.unfinished {
            let (is, written) = (self.scene.show_size(unfinished.size), self.scene.show_size(step.unfinished));
            return Err(step
                .line
                .fault(format!("cut as written it measures {is}, and {written} unfinished is written")));
        }
        let size = unfinished.size.less(self.scene.both());
        if size.width.min(size.height) <= Length::ZERO {
            let what = format!("its seams leave nothing of {}", self.scene.show_size(unfinished.size));
            return Err(step.line.fault(what));
        }
        if size != step.finished {
            let (is, written) = (self.scene.show_size(size), self.scene.show_size(step.finished));
            return Err(step.line.fault(format!("sewn it finishes {is}, and {written} is written")));
        }
        Ok(Made { finished: unfinished.sewn_in(self.scene.seam), unfinished, over })
    }
}

/// Which ends of its row a unit is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ends {
    /// It stands between others.
    Neither,
    /// It is the first or the last.
    One,
    /// It is the whole row.
    Both,
}

/// The address as written.
pub fn address(step: &Step) -> &str {
    step.line.text("address")
}

fn kind(step: &Step, unit: &UnitStep, due: &str) -> Result<(), Fault> {
    if unit.kind == due {
        return Ok(());
    }
    Err(step.line.fault(format!("its kind is `{}`, and {} gives a {due}", short(&unit.kind), unit.from)))
}

/// The part that the kind names; its size is a name, which the plan has to agree with.
fn part(step: &Step, unit: &UnitStep) -> Result<Part, Fault> {
    let (size, part) = unit.kind.split_once(' ').unwrap_or((&unit.kind, ""));
    match (size, Part::named(part)) {
        ("big" | "small" | "mini", Some(part)) => Ok(part),
        _ => kind(step, unit, "triangle unit").map(|()| Part::Whole),
    }
}

/// The unit without its strip, and the strip of `width` off `side`.
fn part_at(whole: &Cloth, width: Length, side: Side) -> (Cloth, Cloth) {
    let Size { width: across, height: down } = whole.size;
    let upright = |left: Length, width: Length| whole.cut_out(point(left, Length::ZERO), Size { width, height: down });
    let lying = |top: Length, height: Length| whole.cut_out(point(Length::ZERO, top), Size { width: across, height });
    let (nothing, rest) = (Length::ZERO, across - width);
    match side {
        Side::Left => (upright(width, rest), upright(nothing, width)),
        Side::Right => (upright(nothing, rest), upright(rest, width)),
        Side::Top => (lying(width, rest), lying(nothing, width)),
        Side::Bottom => (lying(nothing, rest), lying(rest, width)),
    }
}
