//! What to buy, and what is taken of the stash and left of it.

mod account;
mod words;

pub use account::shopping_account;
pub use words::buy_words;
pub(super) use words::{bought, left_words, taken_words};
