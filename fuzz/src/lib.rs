//! What each fuzz target checks, so that the tests can try every seed of the corpus without a fuzzer.

mod brief;
mod lengths;
mod picture;
mod plan;
mod stash;
mod written;

pub use brief::brief;
pub use lengths::lengths;
pub use picture::picture;
pub use plan::plan;
pub use stash::stash;
pub use written::{cloth, cutting, drawing, leftovers, list, pixels, rows};
