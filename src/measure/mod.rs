//! Exact lengths, the rulers that show them, seams and amounts of cloth.

mod cloth;
mod length;
pub(crate) mod math;
mod parse;
mod price;
mod ruler;
mod seam;

use std::fmt::Display;

inner!(cloth::{ShopCuts, StripsToCut, pieces_from_cloth, shop_words, yards});
pub use length::Length;
pub use parse::LengthError;
pub use price::{Price, PriceError};
pub use ruler::Ruler;
pub use seam::{Drift, Seam};

/// `1 band`, `3 bands`.
pub(crate) fn plural(count: impl Display, what: &str) -> String {
    let count = count.to_string();
    let ending = if count == "1" { "" } else { "s" };
    format!("{count} {what}{ending}")
}
