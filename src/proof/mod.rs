//! An independent check: sews on paper what was written and compares it with the plan.

mod cloth;
mod compare;
mod cut;
mod cutting;
mod fault;
mod hand;
mod join;
mod laid;
mod mat;
mod paper;
mod prove;
mod proven;
mod rows;
mod scene;
mod sew;
mod sheet;
mod supply;
mod tile;

pub use fault::Fault;
pub use prove::{Files, prove};
pub use proven::Proven;
