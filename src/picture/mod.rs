//! A file becomes upright sRGB pixels, then cells of the top.

mod axis;
mod cells;
mod crop;
mod decode;
mod ends;
mod error;
mod heic;
mod kind;
mod profile;
mod reduced;
mod salience;
mod straight;

pub use crate::fabric::hush_contained_panics;
pub use crop::{Crop, CropError};
pub use error::PictureError;

inner!(decode::{Limits, Picture});
inner!(salience::salience);
inner!(straight::level);
