//! The frozen scene: what was asked for, the fabrics, and every unit in its place.

mod address;
mod error;
mod file;
mod finishing;
mod item;
mod model;
mod numbers;
mod offer;
mod on_hand;
mod piece;
mod progress;
mod request;
mod unused;
mod written;

pub use address::{Address, AddressError};
pub use error::PlanError;
pub use file::{read, schema, write};
pub use finishing::FinishFabrics;
pub use model::{Band, Column, Placed, Plan, Row, State, Unit};
pub use numbers::{Numbered, Numbers};
pub use offer::Offer;
pub use piece::Piece;
pub use progress::{Piles, Progress, Was, Why, filler_pile, unit_pile};
pub use request::{
    Depth, Effort, Focus, MOST_MARGIN, MOST_ROUNDS, Pressing, Request, RequestError, RowEnds, USUAL_ROUNDS,
};
pub use unused::{Unused, UnusedKind, UnusedWhy};
pub use written::{Written, digest};

inner!(file::write_with);
inner!(item::{Item, items, leans_at});
inner!(model::{Wide, cannot_stand, joined, places, remade, stand, units_mut});
inner!(unused::unused_on_hand);
