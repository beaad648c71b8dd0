//! The unit as sewn against the unit as planned.

use super::cloth::{Cloth, Patch};
use super::fault::Fault;
use super::paper::Point;
use super::rows::{Step, UnitStep};
use super::scene::{Scene, Unit};

/// Checks that the sewn unit, laid at `at`, shows the planned patches, each in its fabric.
pub fn compare(
    scene: &Scene,
    step: &Step,
    unit: &UnitStep,
    planned: &Unit,
    sewn: &Cloth,
    at: Point,
) -> Result<(), Fault> {
    if sewn.size != planned.size {
        let (sewn, plan) = (scene.show_size(sewn.size), scene.show_size(planned.size));
        return Err(step.line.fault(format!("it finishes {sewn}, and {plan} is planned")));
    }
    if unit.kind != planned.kind {
        return Err(step.line.fault(format!("it is a {}, and a {} is planned", unit.kind, planned.kind)));
    }
    let patches = sewn.laid(at);
    if patches == planned.patches {
        return Ok(());
    }
    Err(step.line.fault(difference(&patches, &planned.patches)))
}

fn difference(sewn: &[Patch], planned: &[Patch]) -> String {
    let letters = |patches: &[Patch]| {
        let mut letters: Vec<String> = patches.iter().map(|patch| patch.fabric.clone()).collect();
        letters.sort();
        letters.join(" and ")
    };
    let outlines = |patches: &[Patch]| patches.iter().map(|patch| patch.outline.clone()).collect::<Vec<_>>();
    if letters(sewn) != letters(planned) {
        format!("it shows fabric {}, and {} is planned", letters(sewn), letters(planned))
    } else if outlines(sewn) == outlines(planned) {
        "its two fabrics have changed places: check its turn".into()
    } else {
        "its diagonal seam does not run as planned: check its turn and the side of its strip".into()
    }
}
