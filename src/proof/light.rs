//! How light a fabric is.

use crate::measure::math::pow;

/// Light that `#rrggbb` throws back, in millionths (IEC 61966-2-1, weights of ITU-R BT.709); nothing where it is no colour.
pub fn light(colour: &str) -> i64 {
    let level = |at: usize| colour.get(at..at + 2).and_then(|two| u8::from_str_radix(two, 16).ok()).unwrap_or(0);
    let linear = |at: usize| match f64::from(level(at)) / 255.0 {
        value if value <= 0.04045 => value / 12.92,
        value => pow((value + 0.055) / 1.055, 2.4),
    };
    ((linear(1) * 0.2126 + linear(3) * 0.7152 + linear(5) * 0.0722) * 1e6).round() as i64
}

/// Whether a dark allowance shows through the fabric that lies over it: it is pale, and that under it half as light.
pub fn shows(over: i64, under: i64) -> bool {
    over >= 400_000 && over >= 2 * under
}
