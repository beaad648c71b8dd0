//! How many pieces come from cloth, and what to buy.

use super::{Length, Ruler};

/// Pieces of one size cut from strips across the width of the cloth.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Pieces {
    /// Pieces that one strip gives.
    pub per_strip: i64,
    /// Strips to cut.
    pub strips: i64,
    /// Length of cloth that the strips take.
    pub length: Length,
}

/// `count` pieces of `width` along the strip by `height` across it; `None` where not one fits.
pub fn pieces_from_cloth(count: i64, width: Length, height: Length, cloth_width: Length) -> Option<Pieces> {
    let per_strip = cloth_width.floor_div(width);
    (per_strip > 0).then(|| {
        let strips = Length::from_ticks(count).ceil_div(Length::from_ticks(per_strip));
        Pieces { per_strip, strips, length: height * strips }
    })
}

/// A length in yards where it is whole eighths or thirds of one: `1 3/8 yd`.
pub fn yards(length: Length) -> Option<String> {
    let mut of = [8, 3].into_iter().find(|of| length.is_multiple_of(Length::YARD / *of))?;
    let parts = length.floor_div(Length::YARD / of);
    let (whole, mut part) = (parts / of, parts % of);
    while part > 0 && part % 2 == 0 && of % 2 == 0 {
        (part, of) = (part / 2, of / 2);
    }
    Some(match (whole, part) {
        (whole, 0) => format!("{whole} yd"),
        (0, part) => format!("{part}/{of} yd"),
        (whole, part) => format!("{whole} {part}/{of} yd"),
    })
}

/// The lengths that a shop cuts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ShopCuts {
    /// Eighths, quarters and thirds of a yard.
    Yard,
    /// Quarters of a yard only.
    QuarterYard,
    /// Tenths of a metre.
    TenthMetre,
}

impl ShopCuts {
    /// What shops cut for this ruler.
    pub fn of(ruler: Ruler) -> Self {
        match ruler {
            Ruler::Inch => Self::Yard,
            Ruler::Metric => Self::TenthMetre,
        }
    }

    /// The least length that the shop cuts and that is at least `needed`.
    pub fn round_up(self, needed: Length) -> Length {
        let up = |step: Length| step * needed.ceil_div(step);
        match self {
            Self::Yard => up(Length::YARD / 8).min(up(Length::YARD / 3)),
            Self::QuarterYard => up(Length::YARD / 4),
            Self::TenthMetre => up(Length::METRE / 10),
        }
    }
}
