//! An independent check: sews on paper what was written and compares it with the plan, and so all else that is written.

mod asked;
mod cloth;
mod compare;
mod cut;
mod cutting;
mod fabric;
mod fault;
mod finish;
mod iron;
mod join;
mod laid;
mod left;
mod light;
mod list;
mod mat;
mod on_hand;
mod paper;
mod png;
mod prints;
mod prove;
mod proven;
mod request;
mod rows;
mod scene;
mod seams;
mod sew;
mod sheet;
mod stencil;
mod supply;
mod svg;
mod tile;
mod triangle;
mod upright;
mod words;

pub use fault::Fault;
pub use prove::{Files, Folder};
pub use proven::Proven;

inner!(prove::{prove, prove_folder});
