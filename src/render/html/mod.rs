//! The build list: one page that prints well, in the order of the work.

mod changed;
mod cloth;
mod cutting;
mod drawings;
mod finish;
mod hatch;
mod joining;
mod leftovers;
mod map;
mod methods;
mod needs;
mod on_hand;
mod packets;
mod page;
mod places;
mod rows;
mod sheet;
mod sizes;
mod wall;

pub(super) use joining::{PINNING, SQUARE, diagonal};
pub(super) use methods::drawing;
pub use packets::{packet_list, packets_list};
pub use page::build_list;
