//! Whether the scene keeps to what was asked for.

use std::collections::BTreeMap;

use super::fault::{Fault, short};
use super::rows::Step;
use super::scene::Scene;

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
