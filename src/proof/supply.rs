//! Whether the sheets that are cut are there, or can be bought.

use std::collections::BTreeMap;

use super::fault::{Fault, short};
use super::laid::{KINDS, Kind, Sheet};
use super::scene::Scene;
use super::sheet::Line;
use crate::measure::Length;

/// Sheets of one fabric, kind and size.
type Key<'a> = (&'a str, Kind, Length, Length);

/// What was taken so far.
pub struct Stores<'a> {
    scene: &'a Scene,
    taken: BTreeMap<Key<'a>, u64>,
}

impl<'a> Stores<'a> {
    /// Nothing taken yet.
    pub fn new(scene: &'a Scene) -> Self {
        Self { scene, taken: BTreeMap::new() }
    }

    /// Takes sheets that are cut alike.
    pub fn take(&mut self, line: &Line, sheet: &'a Sheet) -> Result<(), Fault> {
        let size = sheet.upright();
        let Some(fabric) = self.scene.fabrics.get(&sheet.fabric) else {
            return Err(line.fault(format!("no fabric of the plan has the letter `{}`", short(&sheet.fabric))));
        };
        let there = match &fabric.supply {
            Some(supply) => supply.count(sheet.kind, size.width, size.height),
            None if !matches!(sheet.kind, Kind::BoughtSquare | Kind::BoughtLength) => {
                fabric.remnants.as_ref().and_then(|left| left.count(sheet.kind, size.width, size.height))
            }
            None => self.may_be_bought(sheet).then_some(u64::MAX),
        };
        let what = || {
            let kind = KINDS.iter().find(|kind| kind.1 == sheet.kind).map_or("", |kind| kind.0);
            format!("{kind} of {} of fabric {}", self.scene.show_size(size), short(&sheet.fabric))
        };
        let Some(there) = there else {
            let bought = matches!(sheet.kind, Kind::BoughtSquare | Kind::BoughtLength);
            let words = if bought { "is not what the plan buys" } else { "is not there" };
            return Err(line.fault(format!("a {} {words}", what())));
        };
        let taken = self.taken.entry((&sheet.fabric, sheet.kind, size.width, size.height)).or_default();
        *taken += u64::from(sheet.count);
        if *taken > there {
            let taken = *taken;
            return Err(line.fault(format!("{taken} sheets are cut, {}, and there are {there}", what())));
        }
        Ok(())
    }

    /// Squares of a size that is paired or that fillers come from, or cloth as wide as was asked for; where the maker cuts
    /// her squares, only those that may be wider than that.
    fn may_be_bought(&self, sheet: &Sheet) -> bool {
        let (size, only) = (sheet.size, self.scene.fabrics.get(&sheet.fabric).and_then(|f| f.only_squares));
        let own = self.scene.asked.cut_squares && only.is_none();
        let pairs = self.scene.squares.iter().any(|&(paired, bought)| {
            let narrow = self.scene.cloth_width < bought;
            (size.width == paired || size.width == bought) && (!own || narrow)
        });
        match sheet.kind {
            Kind::BoughtSquare => size.width == size.height && (pairs || only == Some(size.width)),
            Kind::BoughtLength => !sheet.turned && only.is_none() && size.width == self.scene.cloth_width,
            _ => false,
        }
    }
}
