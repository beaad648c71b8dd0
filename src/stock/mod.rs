//! The best scene within what there is: prices for scarce cloth, then whole squares, then prints.

mod deal;
mod exchange;
mod fit;
mod have;
mod largest;
mod ledger;
mod patches;
mod planes;
mod prices;
mod prints;
mod recombine;
mod repair;
mod row_pool;
mod sheets;
mod short;
mod stocks;
mod swap;
mod whole;

pub use fit::{Fitted, Gaps, StockError, compose, counted, fit, fit_easily, free, recolour, reprint};
pub use have::Have;
pub use largest::{SizeTried, TRIAL_ROUNDS, flat, largest, largest_of_heap};
pub use ledger::Short;
pub use prices::{WithinCloth, gap, within_cloth};
pub use short::{Lack, Ruling, Shortage, is_heap};
