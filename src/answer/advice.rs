//! What one thing more would do to a scene within a stash.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::measure::Length;

/// What one thing more of a family would do.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct OneMore {
    /// The family.
    pub family: String,
    /// What there would be more of.
    pub what: Thing,
    /// The scene's distance to its picture by that of the scene without it.
    pub error: f64,
    /// Places where touching patches show one print, without it and with it.
    pub touching: [usize; 2],
}

/// One thing more.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub enum Thing {
    /// A square of this side, of the fabric with this letter.
    Square(String, Length),
    /// A print, with so many squares of this side.
    Print(u32, Length),
}
