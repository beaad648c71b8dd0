//! Swatches of prints found in a photo of fabrics on a table: which part is one print, and the colour that it reads as.
//!
//! All is found on a view of the photo of some 600 px, in blocks of 4 px. Blocks differ where the mean colours of the
//! blocks on both sides do, against the spread on both (`edges`): a print's own pattern is spread, its edge is not.
//! What no such edge parts becomes one region (`regions`); the one along the picture's sides is the table (`table`).
//! Regions that together fill their hull better than apart are one print (`outline`). Where prints lie edge to edge, lines
//! as far apart as the pack is wide part them (`laid`). Light is evened out by the table, which is of one stuff, and by a
//! sheet of paper or a grey card where she taps one; what a lamp does to colours is taken back (`light`). A swatch's colour is its
//! mean in linear light without the parts that shadow, fold or glare set off from the others (`colour`).
//!
//! Numbers without a source were found by trial on `tests/swatch`, whose table shows what others do.

mod alike;
mod colour;
mod edges;
mod find;
mod laid;
mod level;
mod light;
mod lines;
mod model;
mod outline;
mod regions;
mod table;
mod thumbnail;
mod view;

pub use alike::twice;
pub use find::find;
#[cfg(feature = "internals")]
pub use light::BY_DAY;
pub use model::{Amid, Asked, Doubt, Found, Marks, Neutral, Point, Swatch, Twin};
