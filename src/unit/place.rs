//! Corners, sides and the outlines of patches.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A corner of a unit as it lies in its row. Clockwise from the upper left, as quarter turns count.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Corner {
    /// Upper left: no turn.
    UpperLeft,
    /// Upper right: one quarter turn clockwise.
    UpperRight,
    /// Lower right: a half turn.
    LowerRight,
    /// Lower left: three quarter turns.
    LowerLeft,
}

impl Corner {
    /// Clockwise from the upper left.
    pub const ALL: [Self; 4] = [Self::UpperLeft, Self::UpperRight, Self::LowerRight, Self::LowerLeft];

    /// Quarter turns clockwise that bring the upper left corner here.
    pub fn quarter_turns(self) -> u32 {
        self as u32
    }

    /// The corner after `turns` quarter turns clockwise.
    pub fn turned(self, turns: u32) -> Self {
        Self::ALL[((self as u32 + turns) % 4) as usize]
    }

    /// The corner across the unit.
    pub fn opposite(self) -> Self {
        self.turned(2)
    }

    /// Whether the corner is on the left side.
    pub fn is_left(self) -> bool {
        matches!(self, Self::UpperLeft | Self::LowerLeft)
    }

    /// Whether the corner is on the upper side.
    pub fn is_upper(self) -> bool {
        matches!(self, Self::UpperLeft | Self::UpperRight)
    }

    /// The corner in words: `upper left`.
    pub fn words(self) -> &'static str {
        match self {
            Self::UpperLeft => "upper left",
            Self::UpperRight => "upper right",
            Self::LowerRight => "lower right",
            Self::LowerLeft => "lower left",
        }
    }
}

/// A side of a unit as it lies in its row.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum Side {
    /// The left side.
    Left,
    /// The right side.
    Right,
    /// The upper side.
    Top,
    /// The lower side.
    Bottom,
}

impl Side {
    /// The side in one word.
    pub fn words(self) -> &'static str {
        match self {
            Self::Left => "left",
            Self::Right => "right",
            Self::Top => "top",
            Self::Bottom => "bottom",
        }
    }
}

/// One visible piece of one fabric: its fabric and its outline in cells, clockwise.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Patch<C> {
    /// Its fabric.
    pub fabric: C,
    /// Corners of the outline in cells of the top, clockwise from the uppermost left one.
    pub outline: Vec<(u32, u32)>,
}
