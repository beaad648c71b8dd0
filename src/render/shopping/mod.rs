//! What to buy, and what is taken of the stash and left of it.

mod account;
mod words;

pub use account::shopping_account;
pub(super) use words::{bought, left_words, taken_words};
