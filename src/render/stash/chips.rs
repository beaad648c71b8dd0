//! One fabric, and one triangle unit, as they are drawn among the swatches.

use super::words::lines;
use crate::fabric::{Fabric, Rgb, Stash, UnitOnHand, value_step};
use crate::render::lettering::Hand;
use crate::render::palette::grey;
use crate::render::text::px;

pub(super) const INK: &str = "#23211d";
pub(super) const SOFT: &str = "#6b665c";

/// Width and height of a swatch, and of all with its words.
pub(super) const SWATCH: (f64, f64) = (178.0, 92.0);
pub(super) const WHOLE: (f64, f64) = (200.0, 178.0);
/// Side of a unit on hand.
pub(super) const UNIT: f64 = 84.0;

const LETTER: f64 = 26.0;
const NAME: Hand = Hand { height: 13.0, weight: 0.9, ink: INK };
const FINE: Hand = Hand { height: 11.0, weight: 0.8, ink: SOFT };

/// Black or white, whichever reads on it.
fn ink(colour: Rgb) -> &'static str {
    if colour.lightness() > 55.0 { "#111111" } else { "#ffffff" }
}

fn block(x: f64, y: f64, (width, height): (f64, f64), colour: Rgb) -> String {
    format!(
        "<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" fill=\"{colour}\" stroke=\"{INK}\" stroke-width=\"0.8\"/>\n",
        px(x),
        px(y),
        px(width),
        px(height)
    )
}

/// A swatch with its letter, and below it name, lightness step and what there is, on two lines at most.
pub(super) fn swatch(fabric: &Fabric, x: f64, y: f64) -> String {
    let letter = Hand { height: LETTER, weight: 0.85, ink: ink(fabric.colour) };
    let mut out = block(x, y, SWATCH, fabric.colour);
    out += &letter.line(x + 12.0, y + SWATCH.1 - 12.0, &fabric.letter);
    if fabric.directional {
        out += &arrow(x + SWATCH.0 - 20.0, y + 14.0, letter.ink);
    }
    let under = y + SWATCH.1;
    out += &NAME.line(x, under + 21.0, &NAME.cut(&fabric.name, SWATCH.0));
    out += &FINE.line(x, under + 40.0, value_step(fabric.colour).words());
    for (at, line) in (0_u8..).zip(lines(fabric)) {
        out += &FINE.line(x, under + 59.0 + 17.0 * f64::from(at), &FINE.cut(&line, SWATCH.0));
    }
    out
}

/// The print's way up.
fn arrow(x: f64, y: f64, ink: &str) -> String {
    format!("<path d=\"M{} {}v28m-7 -20l7 -8l7 8\" fill=\"none\" stroke=\"{ink}\" stroke-width=\"2\"/>\n", px(x), px(y))
}

/// A fabric in the row from light to dark: its colour, the grey of it below.
pub(super) fn step(fabric: &Fabric, x: f64, y: f64, width: f64) -> String {
    let grey = grey(fabric.colour);
    let mut out = block(x, y, (width, 52.0), fabric.colour) + &block(x, y + 52.0, (width, 52.0), grey);
    for (colour, y) in [(fabric.colour, y), (grey, y + 52.0)] {
        let mut hand = Hand { height: 14.0, weight: 0.9, ink: ink(colour) };
        // Three letters still fit where the most fabrics stand side by side.
        hand.height *= ((width - 5.0) / hand.width(&fabric.letter).max(1.0)).min(1.0);
        out += &hand.centred(x + width / 2.0, y + 26.0 + hand.height / 2.0, &fabric.letter);
    }
    out
}

/// A unit on hand with its two letters, its size and count below.
pub(super) fn unit(stash: &Stash, unit: &UnitOnHand, x: f64, y: f64) -> String {
    let [one, other] = unit.fabrics.map(|print| &stash.prints[print]);
    let mut out = block(x, y, (UNIT, UNIT), other.colour);
    out += &format!("<path d=\"M{} {}h{UNIT}l-{UNIT} {UNIT}z\" fill=\"{}\"/>\n", px(x), px(y), one.colour);
    let letter = |colour: Rgb| Hand { height: 13.0, weight: 0.9, ink: ink(colour) };
    out += &letter(one.colour).centred(x + UNIT * 0.26, y + UNIT * 0.34, &one.letter);
    out += &letter(other.colour).centred(x + UNIT * 0.74, y + UNIT * 0.82, &other.letter);
    let words = format!("{} of {}", unit.count, unit.finished);
    out + &FINE.centred(x + UNIT / 2.0, y + UNIT + 20.0, &FINE.cut(&words, UNIT + 20.0))
}
