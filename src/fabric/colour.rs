//! Colours as eight-bit sRGB, and how far apart two of them look.

use std::fmt;
use std::str::FromStr;

use palette::Lab;
use palette::color_difference::HyAb;

use super::ciede2000::difference;
use super::light;

/// An eight-bit sRGB colour, written `#rrggbb`.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Rgb(pub [u8; 3]);

/// A text is no colour.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("`{0}` is not a colour: write it as `#3a3a66`")]
pub struct ColourError(String);

impl Rgb {
    /// The colour in CIELAB under D65 (IEC 61966-2-1 to CIE 15).
    pub fn lab(self) -> Lab<palette::white_point::D65, f64> {
        light::lab(self.linear())
    }

    /// CIELAB lightness, 0 to 100.
    pub fn lightness(self) -> f64 {
        self.lab().l
    }

    /// Linear-light red, green and blue, 0 to 1 (IEC 61966-2-1).
    pub fn linear(self) -> [f64; 3] {
        self.0.map(|level| light::LINEAR[usize::from(level)])
    }

    /// The colour that a maker means: in figures, or by a name of CSS, as `cornflower blue`.
    pub fn understood(text: &str) -> Option<Self> {
        let text = text.trim();
        let digits = text.strip_prefix('#').unwrap_or(text);
        let six: String = match digits.len() {
            3 => digits.chars().flat_map(|digit| [digit; 2]).collect(),
            _ => digits.to_owned(),
        };
        format!("#{six}").parse().ok().or_else(|| super::css::named(text))
    }

    /// The nearest eight-bit colour to linear-light red, green and blue.
    pub fn from_linear(linear: [f64; 3]) -> Self {
        Self(light::levels(linear).map(|level| (level.clamp(0.0, 1.0) * 255.0).round() as u8))
    }
}

/// The CIEDE2000 distance of two colours: how near two fabrics look side by side.
pub fn ciede2000(one: Rgb, other: Rgb) -> f64 {
    difference(one.lab(), other.lab())
}

/// The HyAB distance of two colours in CIELAB (Abasi, Tehran, Fairchild, 2020).
pub fn hyab(one: Rgb, other: Rgb) -> f64 {
    one.lab().hybrid_distance(other.lab())
}

impl fmt::Display for Rgb {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let [r, g, b] = self.0;
        write!(f, "#{r:02x}{g:02x}{b:02x}")
    }
}

impl FromStr for Rgb {
    type Err = ColourError;

    fn from_str(text: &str) -> Result<Self, ColourError> {
        let bad = || ColourError(text.chars().take(40).collect());
        let digits = text.trim().strip_prefix('#').ok_or_else(bad)?;
        let plain = digits.len() == 6 && digits.bytes().all(|b| b.is_ascii_hexdigit());
        let value = plain.then(|| u32::from_str_radix(digits, 16).ok()).flatten().ok_or_else(bad)?;
        let [_, r, g, b] = value.to_be_bytes();
        Ok(Self([r, g, b]))
    }
}

impl serde::Serialize for Rgb {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl<'de> serde::Deserialize<'de> for Rgb {
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = <std::borrow::Cow<'de, str>>::deserialize(deserializer)?;
        text.parse().map_err(serde::de::Error::custom)
    }
}

impl schemars::JsonSchema for Rgb {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "Colour".into()
    }

    fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
        schemars::json_schema!({
            "type": "string",
            "description": "an eight-bit sRGB colour",
            "pattern": "^#[0-9a-f]{6}$"
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_and_prints_hex() {
        assert_eq!("#3A3a66".parse::<Rgb>().unwrap().to_string(), "#3a3a66");
        for text in ["", "3a3a66", "#3a3a6", "#3a3a6g", "#+a3a66", "red"] {
            assert!(text.parse::<Rgb>().is_err(), "{text}");
        }
    }

    #[test]
    fn understands_what_makers_write() {
        for text in ["#88bbee", "#8be", "88bbee", " #88BBEE "] {
            assert_eq!(Rgb::understood(text), Some(Rgb([0x88, 0xbb, 0xee])), "{text}");
        }
        assert_eq!(Rgb::understood("cornflower blue"), Some(Rgb([0x64, 0x95, 0xed])));
        for text in ["", "#", "#8b", "#8bz", "sky", "#+8be12", "éé"] {
            assert_eq!(Rgb::understood(text), None, "{text}");
        }
    }

    #[test]
    fn linear_light_and_back() {
        for level in 0..=255 {
            let grey = Rgb([level; 3]);
            assert_eq!(Rgb::from_linear(grey.linear()), grey);
        }
    }
}
