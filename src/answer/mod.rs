//! Answers as values: a scene with its figures, and what is to be said beside it.

mod note;
mod scene;

pub use note::{Missed, Note};
pub use scene::{Answer, Figures, Scene, schema};
