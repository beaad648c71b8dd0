//! Whether the sheets of cloth.csv can be cut as written, are there, and give every square and every filler once.

use std::collections::{BTreeMap, BTreeSet};

use super::cutting::{Fillers, Gives, Pairs, Supply};
use super::fault::{Fault, short};
use super::laid::{Cut, Kind, Laid, Sheet};
use super::paper::Size;
use super::scene::Scene;
use super::supply::Stores;
use crate::measure::Length;

/// The cutting mat: lines of cutting.csv by their ids, and how many pieces of each fabric were cut for them.
struct Mat<'a> {
    scene: &'a Scene,
    lines: BTreeMap<&'a str, &'a Supply>,
    cut: BTreeMap<(&'a str, &'a str), u64>,
}

/// Cuts every sheet on paper; how many sheets that takes.
pub fn check(scene: &Scene, supplies: &[Supply], sheets: &[Laid]) -> Result<u64, Fault> {
    let lines = supplies.iter().map(|supply| (supply.line.text("id"), supply)).collect();
    let mut mat = Mat { scene, lines, cut: BTreeMap::new() };
    let mut stores = Stores::new(scene);
    for laid in sheets {
        let Some(first) = laid.cuts.first() else { continue };
        stores.take(&first.line, &laid.sheet)?;
        two_stages(scene, laid)?;
        laid.cuts.iter().try_for_each(|cut| mat.cut(&laid.sheet, cut))?;
    }
    mat.settle()?;
    Ok(sheets.iter().map(|laid| u64::from(laid.sheet.count)).sum())
}

/// Strips go across the whole sheet, one below the other; pieces lie side by side in their strip.
fn two_stages(scene: &Scene, laid: &Laid) -> Result<(), Fault> {
    let size = laid.sheet.size;
    let mut cuts: Vec<&Cut> = laid.cuts.iter().collect();
    cuts.sort_by_key(|cut| (cut.strip_at, cut.at));
    for cut in &cuts {
        let inside = cut.strip_at + cut.strip_height <= size.height && cut.at + cut.size.width <= size.width;
        if !inside {
            let what = format!("{} does not lie within the sheet of {}", short(&cut.whose), scene.show_size(size));
            return Err(cut.line.fault(what));
        }
        if cut.size.height > cut.strip_height {
            let strip = scene.show(cut.strip_height);
            return Err(cut.line.fault(format!("{} is higher than its strip of {strip}", short(&cut.whose))));
        }
    }
    for (one, next) in cuts.iter().zip(cuts.iter().skip(1)) {
        let same = one.strip_at == next.strip_at;
        if same && one.strip_height != next.strip_height {
            return Err(next.line.fault("two strips begin at one place and are not equally wide"));
        }
        if !same && one.strip_at + one.strip_height > next.strip_at {
            return Err(next.line.fault("its strip lies over the strip before it: strips go across the whole sheet"));
        }
        if same && one.at + one.size.width > next.at {
            let (one, next_to) = (short(&one.whose), short(&next.whose));
            return Err(next.line.fault(format!("{next_to} lies over {one} in its strip")));
        }
    }
    Ok(())
}

/// Checks that cloth is cut without gaps: sheets are numbered, strips follow each other and are as high as their
/// highest piece, pieces follow each other, a length that is bought is as long as its strips, and one that is there is
/// made straight first.
pub fn check_close(scene: &Scene, sheets: &[Laid]) -> Result<(), Fault> {
    let mut numbers: BTreeMap<&str, BTreeSet<u32>> = BTreeMap::new();
    for Laid { sheet, cuts } in sheets {
        let mut cuts: Vec<&Cut> = cuts.iter().collect();
        cuts.sort_by_key(|cut| (cut.strip_at, cut.at));
        // The end of a length that is there comes off first, along its strips where it lies turned.
        let off = if sheet.kind == Kind::Length { scene.asked.end_cut() } else { Length::ZERO };
        let first = if sheet.turned { (Length::ZERO, off) } else { (off, Length::ZERO) };
        let (mut strip, mut end, mut along) = (None, first.0, Length::ZERO);
        for cut in &cuts {
            let begins = strip.replace(cut.strip_at) != Some(cut.strip_at);
            let due = if begins { (end, first.1) } else { (cut.strip_at, along) };
            if (cut.strip_at, cut.at) != due {
                return Err(cut.line.fault("it does not begin where the piece or the strip before it ends"));
            }
            let others = cuts.iter().filter(|other| other.strip_at == cut.strip_at);
            if others.map(|other| other.size.height).max() != Some(cut.strip_height) {
                return Err(cut.line.fault("its strip is higher than the highest of its pieces"));
            }
            (end, along) = (cut.strip_at + cut.strip_height, cut.at + cut.size.width);
        }
        let Some(first) = cuts.first() else { continue };
        if sheet.kind == Kind::BoughtLength && sheet.size.height != end {
            return Err(first.line.fault("what is bought is not as long as its strips"));
        }
        let id = first.line.text("sheet");
        let number = id.strip_prefix(&sheet.fabric).and_then(|rest| rest.strip_prefix('-')?.parse().ok());
        let number = number.filter(|number| *id == format!("{}-{number}", sheet.fabric));
        let number = number.ok_or_else(|| first.line.fault("a sheet is named after its fabric, as `A-3`"))?;
        numbers.entry(&sheet.fabric).or_default().insert(number);
    }
    for (fabric, numbers) in numbers {
        if !numbers.iter().copied().eq(1..=numbers.len() as u32) {
            return Err(Fault::new("cloth.csv", format!("the sheets of fabric {} are not counted", short(fabric))));
        }
    }
    Ok(())
}

impl<'a> Mat<'a> {
    fn cut(&mut self, sheet: &'a Sheet, cut: &'a Cut) -> Result<(), Fault> {
        let Some((id, supply)) = self.lines.get_key_value(cut.whose.as_str()) else {
            let what = format!("a piece is cut for {}, which is no line of cutting.csv", short(&cut.whose));
            return Err(cut.line.fault(what));
        };
        match &supply.gives {
            Gives::Units(pairs) => self.square(sheet, cut, pairs)?,
            Gives::Fillers(fillers) => self.filler(sheet, cut, fillers)?,
            Gives::Hand(_) => {
                let what = format!("a piece is cut for {}, which is on hand already", short(&cut.whose));
                return Err(cut.line.fault(what));
            }
        }
        *self.cut.entry((id, &sheet.fabric)).or_default() += u64::from(sheet.count);
        Ok(())
    }

    fn square(&self, sheet: &Sheet, cut: &Cut, pairs: &Pairs) -> Result<(), Fault> {
        if !pairs.fabrics.contains(&sheet.fabric) {
            return Err(self.of_other_fabric(sheet, cut));
        }
        if cut.size != (Size { width: pairs.square, height: pairs.square }) {
            return Err(self.of_other_size(cut, Size { width: pairs.square, height: pairs.square }));
        }
        let bought = Size { width: pairs.bought, height: pairs.bought };
        let own = self.scene.asked.cut_squares && sheet.kind == Kind::BoughtLength;
        let there =
            self.scene.has_supply(&sheet.fabric) || !matches!(sheet.kind, Kind::BoughtSquare | Kind::BoughtLength);
        if !there && !own && sheet.size != bought {
            let (square, bought) = (self.scene.show_size(sheet.size), self.scene.show(pairs.bought));
            let what = format!("{} is cut from {square}, and its squares are bought as {bought}", short(&cut.whose));
            return Err(cut.line.fault(what));
        }
        Ok(())
    }

    /// A filler may lie either way, but where its print has a direction.
    fn filler(&self, sheet: &Sheet, cut: &Cut, fillers: &Fillers) -> Result<(), Fault> {
        if fillers.fabric != sheet.fabric {
            return Err(self.of_other_fabric(sheet, cut));
        }
        let upright = if sheet.turned { cut.size.on_its_side() } else { cut.size };
        if upright == fillers.cut {
            return Ok(());
        }
        if upright.on_its_side() != fillers.cut {
            return Err(self.of_other_size(cut, fillers.cut));
        }
        if self.scene.is_directional(&sheet.fabric) {
            let what = format!("{} is cut on its side, and its print has an up and a down", short(&cut.whose));
            return Err(cut.line.fault(what));
        }
        Ok(())
    }

    fn of_other_fabric(&self, sheet: &Sheet, cut: &Cut) -> Fault {
        cut.line.fault(format!("{} is not of fabric {}", short(&cut.whose), short(&sheet.fabric)))
    }

    fn of_other_size(&self, cut: &Cut, due: Size) -> Fault {
        let (is, due) = (self.scene.show_size(cut.size), self.scene.show_size(due));
        cut.line.fault(format!("{} is cut {is} here, and must be {due}", short(&cut.whose)))
    }

    /// Every line of cutting.csv has its pieces, no fewer and no more.
    fn settle(&self) -> Result<(), Fault> {
        for (id, supply) in &self.lines {
            let (fabrics, due): (Vec<&String>, u32) = match &supply.gives {
                Gives::Units(pairs) => (pairs.fabrics.iter().collect(), pairs.pairs),
                Gives::Fillers(fillers) => (vec![&fillers.fabric], fillers.count),
                Gives::Hand(_) => continue,
            };
            for fabric in fabrics {
                let cut = self.cut.get(&(id, fabric)).copied().unwrap_or(0);
                if cut != u64::from(due) {
                    let what = format!("{due} pieces of {fabric} are wanted, and cloth.csv cuts {cut}");
                    return Err(supply.line.fault(what));
                }
            }
        }
        Ok(())
    }
}
