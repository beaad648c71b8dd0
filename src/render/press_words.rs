//! How seams are pressed, and what they meet, the same in every output.

use super::text::count;
use crate::make::{Joint, RowWork, Tone, UnitWork, Way, Work};

/// `left`, `up`, `open` and so on; `upright` for a seam that runs down.
pub(super) fn way(way: Way, upright: bool) -> &'static str {
    match (way, upright) {
        (Way::Before, true) => "left",
        (Way::After, true) => "right",
        (Way::Before, false) => "up",
        (Way::After, false) => "down",
        (Way::Open, _) => "open",
    }
}

/// The seams between a row's units, from the left.
pub(super) fn within(work: &Work, row: &RowWork) -> Vec<Joint> {
    let at = row.address;
    (2..=row.units.len()).filter_map(|unit| work.joints.of(at.band, at.column, at.row, unit)).collect()
}

/// The seam that joins a unit to the one before: which way, over what, and what meets there.
pub(super) fn unit_seam(joint: Joint) -> String {
    seam(joint, "the seam before it")
}

/// The same of a seam that is called otherwise.
pub(super) fn seam(joint: Joint, named: &str) -> String {
    let tone = match joint.tone {
        Tone::Even => "",
        Tone::Darker => ", the darker side",
        Tone::Shows => ", and trim its dark allowance a little narrower than the pale one",
    };
    let press = match joint.way {
        Way::Open => format!("press {named} open"),
        side => format!("press {named} to the {}{tone}", way(side, true)),
    };
    if joint.meets == 0 { press } else { format!("{press}; {}", met(joint)) }
}

/// All seams within a row in one line; nothing where there is none.
pub(super) fn row_seams(joints: &[Joint]) -> Option<String> {
    let first = joints.first()?;
    Some(match first.way {
        Way::Open => "press its seams open".into(),
        _ if joints.iter().any(|joint| joint.way != first.way) => {
            "press its seams left and right as its units say".into()
        }
        side => format!("press its seams to the {}", way(side, true)),
    })
}

/// How a part is joined to the one before, `the row above`: pressed which way, and what meets there.
pub(super) fn join(joint: Joint, before: &str, upright: bool) -> String {
    let press = match joint.way {
        Way::Open => "open".to_owned(),
        side if upright => format!("to the {}", way(side, true)),
        side => way(side, false).to_owned(),
    };
    format!("join it to {before} and press that seam {press}; {}", met(joint))
}

pub(super) fn met(joint: Joint) -> String {
    let places = count(joint.meets, "place", "places");
    match (joint.meets, joint.nests) {
        (0, _) => "no seams meet there".into(),
        _ if joint.way == Way::Open => format!("seams meet in {places}"),
        (_, 0) => format!("seams meet in {places} and do not nest"),
        (1, 1) => "seams meet in 1 place and nest".into(),
        (meets, nests) if meets == nests => format!("seams meet in {places} and nest in all"),
        (_, nests) => format!("seams meet in {places} and nest in {nests}"),
    }
}

/// What is sewn along edges on the bias before the unit is handled; nothing where there is none.
pub(super) fn staystitch(unit: &UnitWork) -> Option<String> {
    let sides: Vec<&str> = unit.bias.iter().map(|side| side.words()).collect();
    let edges = if sides.len() > 1 { "bias edges" } else { "bias edge" };
    let sides = match sides.split_last()? {
        (last, []) => (*last).to_owned(),
        (last, before) => format!("{} and {last}", before.join(", ")),
    };
    Some(format!("staystitch its {sides} {edges} before you handle it"))
}
