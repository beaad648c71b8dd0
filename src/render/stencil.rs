//! Half circles as lines for who cuts a stencil: in millimetres, at full size, to the tick.

use super::text::millionths;
use crate::finish::repeats;
use crate::measure::Length;
use crate::plan::Plan;

/// What is free round the lines, and the arms of the crosses that mark their corners.
const EDGE: Length = Length::mm(10);
const ARM: Length = Length::mm(4);

/// The stencil of a quilt that is quilted in half circles; none of another.
pub fn stencil_svg(plan: &Plan) -> Option<String> {
    Some(drawn(plan.request.finish.stencil(plan.request.ruler)?))
}

/// Rows of half circles, every other row shifted by a radius and cut off at the edges; a cross at each corner.
fn drawn(radius: Length) -> String {
    let [across, down] = repeats(radius);
    let [width, height] = [across, down].map(|side| mm(side + EDGE * 2i64));
    let mut arcs = String::new();
    for row in 1..=down.floor_div(radius) {
        let level = EDGE + radius * row;
        let (shift, from) = if row % 2 == 0 { (Length::ZERO, level) } else { (-radius, level - radius) };
        arcs += &format!("M{},{}", mm(EDGE), mm(from));
        let mut to = EDGE + shift;
        while to < EDGE + across {
            to += radius * 2i64;
            let (x, y) = if to > EDGE + across { (to - radius, level - radius) } else { (to, level) };
            arcs += &format!("A{0},{0} 0 0 1 {1},{2}", mm(radius), mm(x), mm(y));
        }
    }
    let mut crosses = String::new();
    for y in [EDGE, EDGE + down] {
        for x in [EDGE, EDGE + across] {
            let [left, right, up, low] = [x - ARM, x + ARM, y - ARM, y + ARM].map(mm);
            crosses += &format!("M{left},{y}H{right}M{x},{up}V{low}", x = mm(x), y = mm(y));
        }
    }
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}mm\" height=\"{height}mm\" viewBox=\"0 0 {width} {height}\">\n\
         <g fill=\"none\" stroke=\"#000\" stroke-width=\"0.1\">\n\
         <path id=\"lines\" d=\"{arcs}\"/>\n\
         <path id=\"marks\" d=\"{crosses}\"/>\n\
         </g>\n</svg>\n"
    )
}

/// Millimetres; every tick has its own number.
fn mm(length: Length) -> String {
    millionths(i128::from(length.ticks()) * 1_000_000 / i128::from(Length::MM.ticks()))
}
