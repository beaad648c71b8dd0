//! The figures of a trial as they are printed and ranked.

use crate::likeness::Likeness;

/// What the figures mean.
pub const FIGURES: &str = "Off is how far the colours are from the picture's, on average: 0 is the picture itself. Value, \
     how well lights and darks are told apart, and shapes are judged at a squint: 1 is as clear as in the picture.";

/// Each figure with what it is called.
pub fn figures(likeness: &Likeness) -> [(&'static str, String); 4] {
    [
        ("off at a squint", tenths(in_tenths(likeness.squinted))),
        ("off close up", tenths(in_tenths(likeness.error))),
        ("value", hundredths(in_hundredths(likeness.values))),
        ("shapes", hundredths(in_hundredths(likeness.ssim))),
    ]
}

/// The figures that rank, best least: what is printed the same ranks the same.
pub(super) fn standing(likeness: &Likeness) -> [i64; 3] {
    [in_tenths(likeness.squinted), -in_hundredths(likeness.values), in_tenths(likeness.error)]
}

fn in_tenths(figure: f64) -> i64 {
    (figure * 10.0).round() as i64
}

fn in_hundredths(figure: f64) -> i64 {
    (figure * 100.0).round() as i64
}

fn tenths(figure: i64) -> String {
    format!("{:.1}", figure as f64 / 10.0)
}

fn hundredths(figure: i64) -> String {
    format!("{:.2}", figure as f64 / 100.0)
}
