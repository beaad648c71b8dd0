//! How many pieces come from cloth, and what to buy.

use super::{Length, Ruler};

/// StripsToCut of one size cut from strips across the width of the cloth.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct StripsToCut {
    /// StripsToCut that one strip gives.
    pub per_strip: i64,
    /// Strips to cut.
    pub strips: i64,
    /// Length of cloth that the strips take.
    pub length: Length,
}

/// `count` pieces of `width` along the strip by `height` across it; `None` where not one fits.
pub fn pieces_from_cloth(count: i64, width: Length, height: Length, cloth_width: Length) -> Option<StripsToCut> {
    let per_strip = cloth_width.floor_div(width);
    (per_strip > 0).then(|| {
        let strips = Length::from_ticks(count).ceil_div(Length::from_ticks(per_strip));
        StripsToCut { per_strip, strips, length: height * strips }
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
    /// Eighths of a yard only.
    EighthYard,
    /// Quarters of a yard only.
    QuarterYard,
    /// Tenths of a metre.
    TenthMetre,
}

impl ShopCuts {
    /// What shops cut for this ruler.
    pub fn of(ruler: Ruler) -> Self {
        match ruler {
            Ruler::Inch => Self::EighthYard,
            Ruler::Metric => Self::TenthMetre,
        }
    }

    /// The least length that the shop cuts and that is at least `needed`.
    pub fn round_up(self, needed: Length) -> Length {
        let up = |step: Length| step * needed.ceil_div(step);
        match self {
            Self::Yard => up(Length::YARD / 8).min(up(Length::YARD / 3)),
            Self::EighthYard => up(Length::YARD / 8),
            Self::QuarterYard => up(Length::YARD / 4),
            Self::TenthMetre => up(Length::METRE / 10),
        }
    }
}

/// What a shop cuts, at least so long: `1 3/8 yd`, `0.4 m`.
pub fn shop_words(ruler: Ruler, needed: Length) -> String {
    let buy = ShopCuts::of(ruler).round_up(needed);
    match ruler {
        Ruler::Metric => {
            let tenths = buy.ceil_div(Length::METRE / 10);
            if tenths % 10 == 0 { format!("{} m", tenths / 10) } else { format!("{}.{} m", tenths / 10, tenths % 10) }
        }
        Ruler::Inch => yards(buy).unwrap_or_else(|| buy.to_string()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shops_are_asked_in_their_own_fractions() {
        let inch = |n| shop_words(Ruler::Inch, Length::inches(n, 1));
        // 2 strips of 4 3/4 in make 9 1/2 in: buy 1/3 yd (American Patchwork & Quilting, Aug 2019, p. 89).
        assert_eq!(yards(ShopCuts::Yard.round_up(Length::inches(19, 2))), Some("1/3 yd".into()));
        assert_eq!(shop_words(Ruler::Inch, Length::inches(19, 2)), "3/8 yd");
        assert_eq!((inch(4), inch(18), inch(49)), ("1/8 yd".into(), "1/2 yd".into(), "1 3/8 yd".into()));
        assert_eq!(shop_words(Ruler::Metric, Length::mm(301)), "0.4 m");
        assert_eq!(shop_words(Ruler::Metric, Length::mm(951)), "1 m");
    }
}
