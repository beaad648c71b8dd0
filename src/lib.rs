//! From a photo or sketch to a scene that can be pieced, and the work for it, row by row.
//!
//! One way through: a [`picture`] becomes cells of the top; with [`fabric`]s and the [units](mod@unit) that the
//! squares give, [`compose`] finds the best scene; the frozen [`plan`] holds it; [`make`] works out what to
//! cut and sew; [`render`] writes it down; [`proof`] sews on paper what was written and compares.

pub mod audition;
pub mod compose;
pub mod cutting;
pub mod fabric;
pub mod likeness;
pub mod make;
pub mod measure;
pub mod picture;
pub mod plan;
pub mod prints;
pub mod proof;
pub mod render;
pub mod revise;
pub mod stock;
pub mod suit;
pub mod unit;
