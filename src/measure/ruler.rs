//! The two rulers: inches with fractions, and centimetres.

use super::Length;

/// The ruler that the maker works with.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, serde::Serialize, serde::Deserialize, schemars::JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum Ruler {
    /// Inches, in fractions down to 1/64.
    #[default]
    Inch,
    /// Centimetres, as decimals.
    Metric,
}

impl Ruler {
    /// The ruler whose unit the maker wrote.
    pub fn of_text(text: &str) -> Self {
        let text = text.trim_end();
        let metric = text.ends_with("cm") || text.ends_with("mm") || text.ends_with('m');
        if metric { Self::Metric } else { Self::Inch }
    }

    /// The finest seam that every trimmed size then meets on this ruler: 1/32 in or 1/2 mm.
    pub fn seam_step(self) -> Length {
        match self {
            Self::Inch => Length::inches(1, 32),
            Self::Metric => Length::MM / 2,
        }
    }

    /// The least length that a row may be tall or a strip be wide: 1 in or 2 cm.
    pub fn least_strip(self) -> Length {
        match self {
            Self::Inch => Length::INCH,
            Self::Metric => Length::CM * 2i64,
        }
    }

    /// `in` or `cm`.
    pub fn unit(self) -> &'static str {
        match self {
            Self::Inch => "in",
            Self::Metric => "cm",
        }
    }

    /// The length with its unit, exact: `9 1/2 in`, `24.1 cm`.
    pub fn show(self, length: Length) -> String {
        format!("{} {}", self.number(length), self.unit())
    }

    /// The length without its unit, exact: `9 1/2`, `24.1`.
    pub fn number(self, length: Length) -> String {
        match self {
            Self::Inch if length.is_multiple_of(Length::inches(1, 64)) => mixed(length),
            Self::Inch => decimal(length, Length::INCH),
            Self::Metric => decimal(length, Length::CM),
        }
    }

    /// The length in this ruler's unit as a decimal, for drawings and machines.
    pub fn decimal(self, length: Length) -> f64 {
        match self {
            Self::Inch => length.as_inches(),
            Self::Metric => length.as_cm(),
        }
    }
}

fn mixed(length: Length) -> String {
    let sixty_fourths = length.abs().floor_div(Length::inches(1, 64));
    let (whole, mut top, mut bottom) = (sixty_fourths / 64, sixty_fourths % 64, 64);
    while top > 0 && top % 2 == 0 {
        (top, bottom) = (top / 2, bottom / 2);
    }
    let sign = if length < Length::ZERO { "-" } else { "" };
    match (whole, top) {
        (whole, 0) => format!("{sign}{whole}"),
        (0, top) => format!("{sign}{top}/{bottom}"),
        (whole, top) => format!("{sign}{whole} {top}/{bottom}"),
    }
}

/// Exact where ten places suffice, which every length on a ruler does.
fn decimal(length: Length, unit: Length) -> String {
    const PLACES: i128 = 10_000_000_000;
    let scaled = i128::from(length.abs().ticks()) * PLACES / i128::from(unit.ticks());
    let sign = if length < Length::ZERO { "-" } else { "" };
    let text = format!("{sign}{}.{:010}", scaled / PLACES, scaled % PLACES);
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shows_fractions_and_decimals() {
        assert_eq!(Ruler::Inch.show(Length::inches(19, 2)), "9 1/2 in");
        assert_eq!(Ruler::Inch.show(Length::inches(9, 32)), "9/32 in");
        assert_eq!(Ruler::Inch.show(Length::inches(27, 100)), "0.27 in");
        assert_eq!(Ruler::Metric.show(Length::mm(241)), "24.1 cm");
        assert_eq!(Ruler::Metric.show(Length::inches(1, 4)), "0.635 cm");
        assert_eq!(Ruler::Inch.show(-Length::inches(3, 8)), "-3/8 in");
    }
}
