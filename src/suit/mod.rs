//! Proposed fabrics suited to what will be sewn of them: large triangles seen from across the room.
//!
//! A colour proposed for pixels is a mean over them, which large patches blur once more. Here the scene is composed,
//! the colours are fitted to its pieces as they are seen ([`fit()`]) or chosen anew from its patches, and the scene
//! composed with those is held against the picture again. Colours of a stash are what they are and never come here.

mod anew;
mod choose;
mod fit;
mod guard;
mod median;
mod rounds;
mod seen;
mod tones;

pub use fit::{Seen, fit};
pub use rounds::suited;
