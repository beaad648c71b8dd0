//! Hues that the eye parts, however near two colours are otherwise.

use super::{Rgb, ciede2000};
use crate::measure::math::{atan2, length};

/// Colours of less chroma than this are grey, whatever their hue.
const GREY: f64 = 4.0;
/// Two colours as near as this (CIEDE2000) are one, whatever their hues are called.
const ONE: f64 = 6.0;

/// Where on the CIELAB circle a hue is found, in degrees; from one to the next both words are in use.
///
/// Set by what people call colours, `tests/data/colour_names.csv`: red and pink, then brown, orange and yellow, green,
/// blue, purple. Browns there end at 92 and greens begin at 106; greens end at 162 and blues, but for two in a hundred,
/// begin at 171.
const HUES: [(f64, f64); 5] = [(334.0, 405.0), (40.0, 106.0), (94.0, 170.0), (160.0, 314.0), (296.0, 345.0)];

/// Whether two colours are of hues that have no word in common.
pub(super) fn parted(one: Rgb, other: Rgb) -> bool {
    let ([one_of, other_of], near) = ([one, other].map(hues), ciede2000(one, other) <= ONE);
    let greys = [one_of, other_of].iter().any(Option::is_none);
    let shared =
        one_of.zip(other_of).is_some_and(|(one, other)| one.iter().zip(other).any(|(one, other)| *one && other));
    !greys && !shared && !near
}

/// Which of the hues a colour is of; none where it is grey.
fn hues(colour: Rgb) -> Option<[bool; 5]> {
    let lab = colour.lab();
    let angle = atan2(lab.b, lab.a).to_degrees().rem_euclid(360.0);
    let is = |(from, to): (f64, f64)| [angle, angle + 360.0].iter().any(|angle| (from..=to).contains(angle));
    (length(lab.a, lab.b) >= GREY).then(|| HUES.map(is))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rgb(hex: &str) -> Rgb {
        hex.parse().expect(hex)
    }

    #[test]
    fn brown_and_green_are_parted_and_shades_are_not() {
        assert!(parted(rgb("#5a4a2f"), rgb("#3f5138")), "brown and green");
        assert!(parted(rgb("#f3d9dc"), rgb("#d6e6f2")), "pale pink and pale blue");
        assert!(!parted(rgb("#5a4a2f"), rgb("#7a6a4f")), "two browns");
        assert!(!parted(rgb("#5a4a2f"), rgb("#4a4a4a")), "brown and grey");
        assert!(!parted(rgb("#6a4a3a"), rgb("#6a4a40")), "nearly one");
    }
}
