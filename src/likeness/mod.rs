//! How near a top comes to its picture, close to and at a squint, and what pieces that takes.

mod blur;
mod judge;
mod pieces;
mod raster;
mod ssim;

pub use blur::Gaussian;
pub use judge::{Aim, Likeness, judge, likeness};
pub use pieces::{PieceCounts, pieces};
pub use raster::{Halves, raster};
