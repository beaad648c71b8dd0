//! What was asked for, as this check reads it in the plan, and whether the scene keeps to it.

use std::collections::BTreeMap;

use serde::Deserialize;

use super::fault::{Fault, short};
use super::rows::Step;
use super::scene::Scene;
use crate::measure::Length;

/// What the maker asked for.
#[derive(Debug, Deserialize)]
pub struct RequestFile {
    /// File name of the picture.
    pub picture: String,
    /// Finished width of the top.
    pub width: Length,
    /// Finished height of the top.
    pub height: Length,
    /// The grid of finished sizes.
    pub grid: Length,
    /// The seam.
    pub seam: SeamFile,
    /// The ruler that sizes are shown in.
    pub ruler: RulerFile,
    /// Squares that are paired.
    pub squares: Vec<SquareFile>,
    /// Strips that may come off.
    pub strips: Vec<Length>,
    /// Least finished side of any piece.
    pub least: Length,
    /// Usable width of yardage.
    pub cloth_width: Length,
    /// How row ends are cut.
    pub row_ends: RowEndsFile,
    edge_step: Length,
}

/// The seam as it is sewn and as it is worked with.
#[derive(Debug, Deserialize)]
pub struct SeamFile {
    measured: Length,
    /// The seam that all sizes have.
    pub working: Length,
}

/// A ruler.
#[derive(Clone, Copy, Debug, Deserialize, PartialEq)]
#[serde(rename_all = "lowercase")]
pub enum RulerFile {
    /// Inches.
    Inch,
    /// Centimetres.
    Metric,
}

/// How row ends are cut.
#[derive(Debug, Deserialize, PartialEq)]
#[serde(rename_all = "lowercase")]
pub enum RowEndsFile {
    /// To size.
    Exact,
    /// Over.
    Spare,
}

/// A square that is paired.
#[derive(Debug, Deserialize)]
pub struct SquareFile {
    /// Its side.
    pub cut: Length,
    /// Whether it is cut from one twice as wide.
    pub quartered: bool,
}

impl RequestFile {
    /// Whether its lengths are something, and its seam the nearest mark to the one that was measured.
    pub fn check(&self) -> Result<(), Fault> {
        let squares = self.squares.iter().map(|square| ("square", square.cut));
        let strips = self.strips.iter().map(|strip| ("strip", *strip));
        let lengths = [
            ("width", self.width),
            ("height", self.height),
            ("grid", self.grid),
            ("seam", self.seam.measured),
            ("working seam", self.seam.working),
            ("least piece", self.least),
            ("step of edges", self.edge_step),
            ("cloth width", self.cloth_width),
        ];
        if let Some((name, _)) =
            lengths.into_iter().chain(squares).chain(strips).find(|(_, length)| *length <= Length::ZERO)
        {
            return Err(Fault::new("plan.json", format!("the {name} asked for is not more than nothing")));
        }
        let (measured, working) = (self.seam.measured, self.seam.working);
        let mark = match self.ruler {
            RulerFile::Inch => Length::inches(1, 32),
            RulerFile::Metric => Length::from_ticks(Length::MM.ticks() / 2),
        };
        let near = (measured - working).abs() + (measured - working).abs() <= mark;
        if !working.is_multiple_of(mark) || !(near || (working == mark && measured < mark)) {
            let what = format!("a seam of {measured} was measured, and {working} is not the nearest mark to it");
            return Err(Fault::new("plan.json", what));
        }
        Ok(())
    }
}

/// Checks that the scene, found to be sewn as `steps` say, is of what was asked for.
pub fn check(scene: &Scene, steps: &[Step]) -> Result<(), Fault> {
    let asked = &scene.asked;
    let units: Vec<_> = scene.bands.iter().flatten().flatten().flatten().collect();
    let sewn: BTreeMap<&str, bool> = units.iter().map(|unit| (unit.address.as_str(), unit.sewn)).collect();
    for unit in units.iter().filter(|unit| unit.patches.len() > 1) {
        if unit.size.width.min(unit.size.height) < asked.least {
            let what = format!("it is {}, and nothing under {}", scene.show_size(unit.size), scene.show(asked.least));
            return Err(Fault::new(&unit.address, format!("{what} was asked for")));
        }
        if !unit.told {
            return Err(Fault::new(&unit.address, "the plan does not say what triangle unit it is"));
        }
    }
    check_cells(scene)?;
    check_only_squares(scene)?;
    for step in steps {
        let Some(unit) = &step.unit else { continue };
        let other = unit.strip.map(|strip| strip.0).filter(|strip| !scene.is_strip(&unit.kind, *strip));
        if let Some(strip) = other {
            return Err(step.line.fault(format!("a strip of {} was not asked for", scene.show(strip))));
        }
        let sewn = |address: &str| sewn.get(address).copied();
        if let Some(to) = &unit.offcut
            && sewn(to) != sewn(step.line.text("address"))
        {
            let what = format!("its strip is to become {to}, and only one of the two is sewn already in the plan");
            return Err(step.line.fault(what));
        }
    }
    Ok(())
}

/// The picture has a colour for each cell of the top, and a weight for each or for none.
fn check_cells(scene: &Scene) -> Result<(), Fault> {
    let [width, height] = [scene.size.width, scene.size.height].map(|side| side.floor_div(scene.asked.grid).max(0));
    let fits = |rows: &[String], letters: usize, known: fn(u8) -> bool| {
        let row = |row: &String| row.len() == letters * width as usize && row.bytes().all(known);
        rows.len() == height as usize && rows.iter().all(row)
    };
    let [picture, focus] = &scene.cells;
    let known = fits(picture, 6, |letter| letter.is_ascii_hexdigit());
    match known && (focus.is_empty() || fits(focus, 1, |letter| (b'a'..=b'p').contains(&letter))) {
        true => Ok(()),
        false => {
            Err(Fault::new("plan.json", format!("its picture or its focus is not {height} rows of {width} cells")))
        }
    }
}

/// Where there are squares and no other cloth, fillers are cut from the largest.
fn check_only_squares(scene: &Scene) -> Result<(), Fault> {
    for (letter, fabric) in &scene.fabrics {
        let Some(supply) = &fabric.supply else { continue };
        if supply.only_squares() != fabric.only_squares {
            let what = format!("fabric {} is cut from the largest square where there is no other cloth", short(letter));
            return Err(Fault::new("plan.json", format!("{what}, and the plan has another")));
        }
    }
    Ok(())
}
