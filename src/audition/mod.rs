//! The same scene tried in several stashes, ranked, with the reasons.

mod figures;
mod groups;
mod model;
mod rank;
mod short;
mod why;

pub use figures::{FIGURES, figures};
pub use groups::{Group, Served, groups};
pub use model::{Audition, Entry, Trial};
pub use rank::{RULE, audition};
