//! Exact lengths, the rulers that show them, seams and amounts of cloth.

mod cloth;
mod length;
mod parse;
mod ruler;
mod seam;

pub use cloth::{Pieces, ShopCuts, pieces_from_cloth, shop_words, yards};
pub use length::Length;
pub use parse::LengthError;
pub use ruler::Ruler;
pub use seam::{Drift, Seam};
