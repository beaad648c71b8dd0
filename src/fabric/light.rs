//! Between sRGB, linear light and CIELAB under D65: the steps that `palette` takes, with the same bits on every system.

use std::sync::LazyLock;

use palette::convert::FromColorUnclamped;
use palette::white_point::{Any, D65, WhitePoint};
use palette::{Lab, LinSrgb, Xyz};

use crate::measure::math::{cbrt, pow};

/// Linear light of each level (IEC 61966-2-1).
pub(super) static LINEAR: LazyLock<[f64; 256]> =
    LazyLock::new(|| std::array::from_fn(|level| decoded(level as f64 / 255.0)));

fn decoded(level: f64) -> f64 {
    match level <= 0.04045 {
        true => level / 12.92,
        false => pow(level.mul_add(1.0 / 1.055, 0.055 / 1.055), 2.4),
    }
}

/// A level of sRGB, 0 to 1, of linear light.
fn encoded(light: f64) -> f64 {
    if light <= 0.003_130_8 { light * 12.92 } else { pow(light, 1.0 / 2.4).mul_add(1.055, -0.055) }
}

/// Levels of sRGB, 0 to 1 for those that can be shown, of linear light.
pub fn levels(light: [f64; 3]) -> [f64; 3] {
    light.map(encoded)
}

/// CIELAB of linear-light red, green and blue (CIE 15).
pub fn lab(light: [f64; 3]) -> Lab<D65, f64> {
    lab_by(light, cbrt)
}

/// The same by another cube root.
pub fn lab_by([red, green, blue]: [f64; 3], root: impl Fn(f64) -> f64) -> Lab<D65, f64> {
    let light: Xyz<D65, f64> = FromColorUnclamped::from_color_unclamped(LinSrgb::new(red, green, blue));
    let white: Xyz<Any, f64> = D65::get_xyz();
    let [x, y, z] = [light.x / white.x, light.y / white.y, light.z / white.z]
        .map(|part| if part > 216.0 / 24_389.0 { root(part) } else { part * (841.0 / 108.0) + 4.0 / 29.0 });
    Lab::new((116.0 * y - 16.0).clamp(0.0, 100.0), 500.0 * (x - y), 200.0 * (y - z))
}

/// Linear-light red, green and blue of CIELAB, 0 to 1 for what can be shown.
pub fn of_lab(lab: Lab<D65, f64>) -> [f64; 3] {
    let white: Xyz<Any, f64> = D65::get_xyz();
    let y = (lab.l + 16.0) / 116.0;
    let part = |root: f64| match root > 6.0 / 29.0 {
        true => root * root * root,
        false => (root - 4.0 / 29.0) * (108.0 / 841.0),
    };
    let [x, y, z] = [y + lab.a / 500.0, y, y - lab.b / 200.0].map(part);
    let xyz: Xyz<D65, f64> = Xyz::new(x * white.x, y * white.y, z * white.z);
    let light: LinSrgb<f64> = FromColorUnclamped::from_color_unclamped(xyz);
    [light.red, light.green, light.blue]
}

#[cfg(test)]
mod tests {
    use palette::{IntoColor, Srgb};

    use super::*;
    use crate::fabric::Rgb;

    /// `palette` with the system's own functions: as good as the same.
    #[test]
    fn as_palette_has_it() {
        let near = |one: f64, other: f64| assert!((one - other).abs() < 1e-11 * other.abs().max(1.0), "{one} {other}");
        for at in 0..4096_u32 {
            let rgb = [at % 16, at / 16 % 16, at / 256].map(|part| (part * 17) as u8);
            let srgb: Srgb<f64> = Srgb::from(rgb).into_format();
            let light: LinSrgb<f64> = srgb.into_linear();
            let known: Lab<D65, f64> = light.into_color();
            let found = Rgb(rgb).lab();
            near(found.l, known.l);
            near(found.a, known.a);
            near(found.b, known.b);
            let known = Lab::new(known.l * 1.3 - 10.0, known.a * 1.5, known.b * 1.5);
            let light: LinSrgb<f64> = FromColorUnclamped::from_color_unclamped(known);
            let found = of_lab(known);
            [light.red, light.green, light.blue].iter().zip(found).for_each(|(known, found)| near(found, *known));
            let srgb: Srgb<f64> = Srgb::from_linear(light);
            [srgb.red, srgb.green, srgb.blue].iter().zip(levels(found)).for_each(|(known, found)| near(found, *known));
        }
    }
}
