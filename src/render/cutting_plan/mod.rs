//! How one sheet is cut, drawn and in words.

mod drawing;
mod words;

pub use drawing::cutting_drawing;
pub(super) use drawing::drawing_within;
pub use words::cutting_words;
