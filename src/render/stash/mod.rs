//! A stash as tables and as a picture of its swatches.

mod account;
mod chips;
mod swatches;
mod tables;
mod words;

pub use account::stash_account;
pub use swatches::stash_png;
pub(super) use tables::{right, table};
