//! The one exact length type.

use std::fmt;
use std::iter::Sum;
use std::ops::{Add, AddAssign, Div, Mul, Neg, Rem, Sub};

/// An exact length: a count of 1/40 000 mm, in which 1/64 in, 0.001 in and 0.01 mm are whole.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Length(i64);

impl Length {
    /// No length at all.
    pub const ZERO: Self = Self(0);
    /// One inch, 25.4 mm exactly (NIST Handbook 44, App. C).
    pub const INCH: Self = Self(1_016_000);
    /// One centimetre.
    pub const CM: Self = Self(400_000);
    /// One millimetre.
    pub const MM: Self = Self(40_000);
    /// One yard, 36 in (NIST Handbook 44, App. C).
    pub const YARD: Self = Self(36 * 1_016_000);
    /// One metre.
    pub const METRE: Self = Self(40_000_000);
    /// The longest length that is read from the maker: one kilometre.
    pub const LIMIT: Self = Self(40_000_000_000);

    /// A length of `ticks` of 1/40 000 mm.
    pub const fn from_ticks(ticks: i64) -> Self {
        Self(ticks)
    }

    /// `numerator / denominator` inches, where that is a whole number of ticks; rounded down otherwise.
    pub const fn inches(numerator: i64, denominator: i64) -> Self {
        Self(Self::INCH.0 * numerator / denominator)
    }

    /// `count` millimetres.
    pub const fn mm(count: i64) -> Self {
        Self(Self::MM.0 * count)
    }

    /// The count of 1/40 000 mm.
    pub const fn ticks(self) -> i64 {
        self.0
    }

    /// This length in inches as a decimal, for display and drawings only.
    pub fn as_inches(self) -> f64 {
        self.0 as f64 / Self::INCH.0 as f64
    }

    /// This length in centimetres as a decimal, for display and drawings only.
    pub fn as_cm(self) -> f64 {
        self.0 as f64 / Self::CM.0 as f64
    }

    /// Whether this is a whole number of `step`s.
    pub const fn is_multiple_of(self, step: Self) -> bool {
        step.0 != 0 && self.0 % step.0 == 0
    }

    /// How many whole `step`s fit; of steps of no length, none.
    pub const fn floor_div(self, step: Self) -> i64 {
        match self.0.checked_div_euclid(step.0) {
            Some(count) => count,
            None => 0,
        }
    }

    /// How many `step`s cover this length.
    pub const fn ceil_div(self, step: Self) -> i64 {
        -Self(-self.0).floor_div(step)
    }

    /// The nearest multiple of `step`, halves upward.
    pub const fn round_to(self, step: Self) -> Self {
        Self(Self(self.0 + step.0 / 2).floor_div(step) * step.0)
    }

    /// The length without its sign.
    pub const fn abs(self) -> Self {
        Self(self.0.abs())
    }
}

impl Add for Length {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl AddAssign for Length {
    fn add_assign(&mut self, other: Self) {
        self.0 += other.0;
    }
}

impl Sub for Length {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}

impl Neg for Length {
    type Output = Self;
    fn neg(self) -> Self {
        Self(-self.0)
    }
}

impl Mul<i64> for Length {
    type Output = Self;
    fn mul(self, count: i64) -> Self {
        Self(self.0 * count)
    }
}

impl Mul<u32> for Length {
    type Output = Self;
    fn mul(self, count: u32) -> Self {
        Self(self.0 * i64::from(count))
    }
}

impl Div<i64> for Length {
    type Output = Self;
    fn div(self, count: i64) -> Self {
        Self(self.0 / count)
    }
}

impl Rem for Length {
    type Output = Self;
    fn rem(self, step: Self) -> Self {
        Self(self.0 % step.0)
    }
}

impl Sum for Length {
    fn sum<I: Iterator<Item = Self>>(lengths: I) -> Self {
        lengths.fold(Self::ZERO, Add::add)
    }
}

impl fmt::Display for Length {
    /// Inches on a 1/64 in mark, else centimetres with few places, else inches where they have an end, else centimetres.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        // An inch is 127 of some power of 2 and 5, so that other multiples have decimals without end.
        let ends = self.is_multiple_of(Self::from_ticks(127)) && !self.is_multiple_of(Self::mm(1) / 100);
        let inches = self.is_multiple_of(Self::inches(1, 64)) || ends;
        let ruler = if inches { super::Ruler::Inch } else { super::Ruler::Metric };
        f.write_str(&ruler.show(*self))
    }
}

impl serde::Serialize for Length {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl<'de> serde::Deserialize<'de> for Length {
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = <std::borrow::Cow<'de, str>>::deserialize(deserializer)?;
        text.parse().map_err(serde::de::Error::custom)
    }
}

impl schemars::JsonSchema for Length {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "Length".into()
    }

    fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
        schemars::json_schema!({
            "type": "string",
            "description": "a length with its unit, as `9 1/2 in`, `9.5in` or `24.1 cm`",
            "pattern": r"^-?[0-9].*(in|cm|mm|yd|m)$"
        })
    }
}
