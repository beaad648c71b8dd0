//! The CIEDE2000 colour difference.

use palette::Lab;
use palette::white_point::D65;

use crate::measure::math::{atan2, cos, exp, length, sin, squared};

/// How near two fabrics look side by side (Sharma, Wu, Dalal, Color Research & Application 30(1), 2005).
pub(super) fn difference(one: Lab<D65, f64>, other: Lab<D65, f64>) -> f64 {
    let mean_chroma = (length(one.a, one.b) + length(other.a, other.b)) / 2.0;
    let stretch = 1.0 + 0.5 * (1.0 - seventh(mean_chroma));
    let [(chroma, hue), (chroma_other, hue_other)] = [one, other].map(|lab| polar(lab.a * stretch, lab.b));
    let (gap, sum) = (hue_other - hue, hue + hue_other);
    let grey = chroma == 0.0 || chroma_other == 0.0;
    let (turn, mean_hue) = match () {
        () if grey => (0.0, sum),
        () if gap.abs() <= 180.0 => (gap, sum / 2.0),
        () => (if gap < 0.0 { gap + 360.0 } else { gap - 360.0 }, (sum + 360.0) / 2.0),
    };
    let (mean_light, mean_chroma) = ((one.l + other.l) / 2.0, (chroma + chroma_other) / 2.0);
    let wave = 1.0 - 0.17 * cos((mean_hue - 30.0).to_radians())
        + 0.24 * cos((2.0 * mean_hue).to_radians())
        + 0.32 * cos((3.0 * mean_hue + 6.0).to_radians())
        - 0.20 * cos((4.0 * mean_hue - 63.0).to_radians());
    let from_middle = squared(mean_light - 50.0);
    let light = (other.l - one.l) / (1.0 + 0.015 * from_middle / (20.0 + from_middle).sqrt());
    let colourful = (chroma_other - chroma) / (1.0 + 0.045 * mean_chroma);
    let side = 2.0 * (chroma * chroma_other).sqrt() * sin((turn / 2.0).to_radians());
    let side = side / (1.0 + 0.015 * mean_chroma * wave);
    let blue = 30.0 * exp(-squared((mean_hue - 275.0) / 25.0));
    let twist = -2.0 * seventh(mean_chroma) * sin((2.0 * blue).to_radians());
    (squared(light) + squared(colourful) + squared(side) + twist * colourful * side).sqrt()
}

/// The part that chroma plays where blues and greys are evened out.
fn seventh(chroma: f64) -> f64 {
    let cube = chroma * chroma * chroma;
    let power = cube * cube * chroma;
    (power / (power + 6_103_515_625.0)).sqrt()
}

/// Chroma, and hue in degrees from 0 to 360.
fn polar(a: f64, b: f64) -> (f64, f64) {
    let hue = if a == 0.0 && b == 0.0 { 0.0 } else { atan2(b, a).to_degrees() };
    (length(a, b), if hue < 0.0 { hue + 360.0 } else { hue })
}

#[cfg(test)]
mod tests {
    use palette::color_difference::Ciede2000;

    use super::*;
    use crate::fabric::Rgb;

    /// `palette` with the system's own functions.
    #[test]
    fn as_palette_has_it() {
        let colours: Vec<Rgb> =
            (0..343_u32).map(|at| Rgb([at % 7, at / 7 % 7, at / 49].map(|p| (p * 42) as u8))).collect();
        for one in &colours {
            for other in &colours {
                let (found, known) = (difference(one.lab(), other.lab()), one.lab().difference(other.lab()));
                assert!((found - known).abs() < 1e-9, "{one} {other}: {found} {known}");
            }
        }
    }

    /// All 34 pairs of the article's Table 1; the table in `tests/data` says where it comes from.
    #[test]
    fn as_published() {
        let pairs = include_str!("../../tests/data/ciede2000.csv");
        let rows = pairs.lines().filter(|line| line.starts_with(|first: char| first.is_ascii_digit()));
        let mut seen = 0;
        for row in rows {
            let n: Vec<f64> = row.split(',').map(|field| field.parse().unwrap()).collect();
            let found = difference(Lab::new(n[1], n[2], n[3]), Lab::new(n[4], n[5], n[6]));
            // Pair 14 sits on a switch of the mean hue, where the last bit decides.
            let near = |known: f64| (found - known).abs() <= 0.000_05 + 1e-9;
            assert!(near(n[7]) || n[0] == 14.0 && near(4.7461), "{row}: {found}");
            seen += 1;
        }
        assert_eq!(seen, 34);
    }
}
