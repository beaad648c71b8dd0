//! What is said first where a scene is far from what was asked for, and what would help.

use crate::likeness::Likeness;
use crate::plan::Plan;
use crate::stock::Gaps;

/// Colours further off than the fabrics allow by this, a cell on average, are seen from across the room; by eye, on the
/// samples, which are at 3 to 5.
const FAR: f64 = 10.0;
/// The same for the fabrics, every cell in its best.
const NO_FABRIC: f64 = 14.0;
/// Lights and darks told apart less well than this make a flat top; by eye.
const FLAT: f64 = 0.7;

/// How near the colours of the top come to the best that its fabrics could do.
pub fn near_words(near: &Likeness) -> &'static str {
    match near.error - near.floor {
        off if off < 2.0 => "as near to the picture as these fabrics can come",
        off if off < 5.0 => "near to what these fabrics could do",
        off if off < FAR => "some way from what these fabrics could do: its finest parts are lost",
        _ => "far from what these fabrics could do",
    }
}

/// Each doubt in a sentence, the greatest first; none for a scene that came out as asked.
pub fn doubts(plan: &Plan, gaps: Option<&Gaps>, near: &Likeness) -> Vec<String> {
    let mut doubts = Vec::new();
    if let Some(gaps) = gaps.filter(|gaps| !gaps.keeps_the_picture()) {
        let [wished, made] = gaps.triangles;
        if 2 * made < wished {
            doubts.push(format!(
                "This is not the scene that you asked for: the stash has cloth for {made} of its {wished} triangle units, and \
                 plain fillers take the place of the others. A smaller top, more squares of its main colours, or --largest \
                 would help."
            ));
        } else {
            doubts.push(
                "This is not the scene that you asked for: too little of the right colours is in the stash, and others \
                 stand in for them. A smaller top, or more of those that ran out, would help."
                    .into(),
            );
        }
    }
    if near.floor >= NO_FABRIC {
        doubts.push(
            "These fabrics are far from the picture's colours, whatever is sewn of them. Fabrics nearer to its main colours, \
             or more of them, would help."
                .into(),
        );
    }
    if near.error - near.floor >= FAR {
        let counted = plan.fabrics.iter().any(|fabric| fabric.supply.is_some());
        let why = if counted { "there is too little of the fabrics that come nearest, or " } else { "" };
        let smaller =
            if plan.request.squares.iter().any(|square| square.quartered) { "" } else { ", quartered squares" };
        doubts.push(format!(
            "This scene is far from its picture: {why}the units are too large for what it shows. A larger top{smaller}, more \
             --detail, or a --crop of the part that matters would help."
        ));
    }
    if near.values < FLAT && near.floor < NO_FABRIC {
        doubts.push(
            "This top is flatter than its picture: lights and darks run together. Fabrics of stronger value, some lighter and \
             some darker, would help."
                .into(),
        );
    }
    doubts
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::render::sample;

    fn said(gaps: Option<Gaps>, near: Likeness) -> usize {
        doubts(&sample::inch().0, gaps.as_ref(), &near).len()
    }

    #[test]
    fn only_what_is_far_is_doubted() {
        let good = Likeness { error: 8.0, floor: 5.0, values: 0.95, ..Likeness::default() };
        let gaps = Gaps { cloth: 0.0, whole: 0.1, rounds: 9, triangles: [100, 90], error: 1.1 };
        assert_eq!(said(Some(gaps), good), 0);
        assert_eq!(said(Some(Gaps { triangles: [100, 40], ..gaps }), good), 1);
        assert_eq!(said(Some(Gaps { error: 1.6, ..gaps }), good), 1);
        assert_eq!(said(None, Likeness { error: 16.0, ..good }), 1);
        assert_eq!(said(None, Likeness { error: 16.0, floor: 15.0, values: 0.3, ..good }), 1);
        assert_eq!(said(None, Likeness { values: 0.5, ..good }), 1);
    }
}
