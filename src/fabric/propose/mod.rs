//! A palette of fabrics proposed from a picture.

mod cluster;
mod pick;
mod samples;
mod shades;
mod sketch;

pub use pick::{propose, propose_beside};
