//! stencil.svg: half circles as large as they are marked, in millimetres.

use super::fault::Fault;
use super::finish::{MotifFile, repeats};
use super::scene::Scene;
use crate::measure::Length;

/// Checks that the stencil is there where half circles are quilted, and nowhere else, and each of its numbers.
pub fn check(scene: &Scene, text: Option<&str>) -> Result<(), Fault> {
    let (motif, radius) = scene.asked.finish.quilting(scene.ruler);
    let due = scene.asked.finish.is_layered() && motif == MotifFile::HalfCircles && radius > Length::ZERO;
    let wrong = |what: &str| Err(Fault::new("stencil.svg", what));
    match (due, text) {
        (true, None) => wrong("it is missing, and the quilt is marked by it"),
        (false, Some(_)) => wrong("the quilt is not marked by it: it is of another scene"),
        (true, Some(text)) if text != drawing(radius) => wrong("its lines are not as they are to be marked"),
        _ => Ok(()),
    }
}

fn drawing(radius: Length) -> String {
    let [across, down] = repeats(radius).map(mm);
    let (r, edge) = (mm(radius), 10 * MILLION);
    let (far, low) = (edge + across, edge + down);
    let mut lines = String::new();
    let mut level = edge + r;
    let mut shifted = true;
    while level <= low {
        let arc = |x: i128, y: i128| format!("A{0},{0} 0 0 1 {1},{2}", number(r), number(x), number(y));
        let first = if shifted { level - r } else { level };
        lines += &format!("M{},{}", number(edge), number(first));
        // Feet on the level, a quarter at either end of a row that is shifted.
        let mut foot = edge + if shifted { r } else { 2 * r };
        while foot <= far {
            lines += &arc(foot, level);
            foot += 2 * r;
        }
        if shifted {
            lines += &arc(far, level - r);
        }
        (level, shifted) = (level + r, !shifted);
    }
    let arm = 4 * MILLION;
    let cross = |x: i128, y: i128| {
        let [a, b, c, d, x, y] = [x - arm, x + arm, y - arm, y + arm, x, y].map(number);
        format!("M{a},{y}H{b}M{x},{c}V{d}")
    };
    let marks = [cross(edge, edge), cross(far, edge), cross(edge, low), cross(far, low)].concat();
    let (wide, tall) = (number(far + edge), number(low + edge));
    [
        format!("<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{wide}mm\" height=\"{tall}mm\" viewBox=\"0 0 {wide} {tall}\">"),
        "<g fill=\"none\" stroke=\"#000\" stroke-width=\"0.1\">".into(),
        format!("<path id=\"lines\" d=\"{lines}\"/>"),
        format!("<path id=\"marks\" d=\"{marks}\"/>"),
        "</g>\n</svg>\n".into(),
    ]
    .join("\n")
}

const MILLION: i128 = 1_000_000;

/// Millionths of a millimetre; a tick is 25.
fn mm(length: Length) -> i128 {
    i128::from(length.ticks()) * MILLION / i128::from(Length::MM.ticks())
}

fn number(millionths: i128) -> String {
    let text = format!("{}.{:06}", millionths / MILLION, millionths % MILLION);
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}
