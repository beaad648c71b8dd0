//! A stash as tables and as a picture of its swatches.

mod account;
mod chips;
mod photos;
mod swatches;
mod tables;
mod words;

pub use account::stash_account;
pub use photos::{Taken, photos_png, swatches_account};
pub use swatches::stash_png;
pub(super) use tables::{right, table};
