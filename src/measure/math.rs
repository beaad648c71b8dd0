//! Floating-point functions with the same bits on every system; those of the standard library are the system's own.
//!
//! Sums, products, quotients, square roots, roundings and fused `mul_add` are exact by IEEE 754 and stay plain.

pub use libm::{atan2, cbrt, cos, exp, log, pow, sin};

/// The length of a vector.
pub fn length(x: f64, y: f64) -> f64 {
    (x * x + y * y).sqrt()
}

/// The square.
pub fn squared(x: f64) -> f64 {
    x * x
}
