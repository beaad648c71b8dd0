//! The sewing arithmetic: what cut squares give, and the shapes that units take in a row.

mod method;
mod pairing;
mod place;
mod shape;
mod upright;
mod vocabulary;

pub use method::{AtATime, Square, SquareError};
inner!(pairing::{Pairing, pairable, pairings});
inner!(upright::{ByCorner, UprightPairing, UprightWays, stands, upright_yields});
pub use place::{Corner, Patch, Side};
pub use shape::{Cut, Triangle};
pub use upright::Diagonal;
pub use vocabulary::{Block, Shape, Strip, Vocabulary, VocabularyError};
