//! The small picture of a print that a stash and a plan keep: a few kilobytes that decode, or nothing.

use std::io::Cursor;

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use image::{ImageFormat, ImageReader, Limits};

use super::Rgb;
use super::contain::contain;

/// The most bytes of the picture.
const MOST_BYTES: usize = 12 << 10;
/// The most pixels along a side.
const MOST_SIDE: u32 = 256;
/// The most bytes that its decoder may fill.
const MOST_FILLED: u64 = 4 << 20;
const JPEG: &str = "data:image/jpeg;base64,";
const PNG: &str = "data:image/png;base64,";

/// A small picture, checked: a JPEG or PNG as a `data:` address (RFC 2397).
#[derive(Clone, PartialEq, Eq)]
pub struct Thumbnail(String);

/// Why a text is no small picture.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum ThumbnailError {
    /// It is not written as one.
    #[error("is not written as `data:image/jpeg;base64,...` or `data:image/png;base64,...`")]
    Address,
    /// It is too large.
    #[error("is larger than the {} kB and {MOST_SIDE} pixels a side that are kept", MOST_BYTES >> 10)]
    Large,
    /// It does not decode.
    #[error("cannot be read as the JPEG or PNG that it says it is")]
    Broken,
}

impl Thumbnail {
    /// Reads a `data:` address.
    pub fn read(text: &str) -> Result<Self, ThumbnailError> {
        let thumbnail = Self(text.to_owned());
        thumbnail.decoded().map(|_| thumbnail)
    }

    /// The address of a JPEG.
    pub(crate) fn of_jpeg(bytes: &[u8]) -> String {
        format!("{JPEG}{}", STANDARD.encode(bytes))
    }

    /// The address.
    pub fn address(&self) -> &str {
        &self.0
    }

    /// Pixels across, pixels down, and its pixels row by row.
    pub fn pixels(&self) -> (u32, u32, Vec<Rgb>) {
        self.decoded().expect("it was read")
    }

    fn decoded(&self) -> Result<(u32, u32, Vec<Rgb>), ThumbnailError> {
        let (format, text) = match (self.0.strip_prefix(JPEG), self.0.strip_prefix(PNG)) {
            (Some(text), _) => (ImageFormat::Jpeg, text),
            (_, Some(text)) => (ImageFormat::Png, text),
            _ => return Err(ThumbnailError::Address),
        };
        if text.len() > MOST_BYTES.div_ceil(3) * 4 {
            return Err(ThumbnailError::Large);
        }
        let bytes = STANDARD.decode(text).map_err(|_| ThumbnailError::Address)?;
        contain(|| pixels(&bytes, format)).unwrap_or(Err(ThumbnailError::Broken))
    }
}

fn pixels(bytes: &[u8], format: ImageFormat) -> Result<(u32, u32, Vec<Rgb>), ThumbnailError> {
    let reader = || ImageReader::with_format(Cursor::new(bytes), format);
    let (width, height) = reader().into_dimensions().map_err(|_| ThumbnailError::Broken)?;
    if width.max(height) > MOST_SIDE || width.min(height) == 0 {
        return Err(ThumbnailError::Large);
    }
    let mut limits = Limits::no_limits();
    limits.max_alloc = Some(MOST_FILLED);
    let mut reader = reader();
    reader.limits(limits);
    let image = reader.decode().map_err(|_| ThumbnailError::Broken)?.into_rgb8();
    Ok((width, height, image.pixels().map(|pixel| Rgb(pixel.0)).collect()))
}

/// Short: the whole of it says little.
impl std::fmt::Debug for Thumbnail {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "Thumbnail({} characters)", self.0.len())
    }
}

impl serde::Serialize for Thumbnail {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(&self.0)
    }
}

impl<'de> serde::Deserialize<'de> for Thumbnail {
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = <std::borrow::Cow<'de, str>>::deserialize(deserializer)?;
        Self::read(&text).map_err(|error| serde::de::Error::custom(format!("a small picture {error}")))
    }
}

impl schemars::JsonSchema for Thumbnail {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "Thumbnail".into()
    }

    fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
        schemars::json_schema!({
            "type": "string",
            "description": "a small JPEG or PNG as a data: address (RFC 2397)",
            "pattern": "^data:image/(jpeg|png);base64,[A-Za-z0-9+/]+=*$",
            "maxLength": 16_420
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn address(width: u32, height: u32) -> String {
        let mut bytes = Cursor::new(Vec::new());
        image::RgbImage::from_pixel(width, height, image::Rgb([9, 90, 200]))
            .write_to(&mut bytes, ImageFormat::Png)
            .unwrap();
        format!("{PNG}{}", STANDARD.encode(bytes.into_inner()))
    }

    #[test]
    fn only_a_small_picture_that_decodes_is_taken() {
        let whole = address(8, 6);
        assert_eq!(Thumbnail::read(&whole).unwrap().pixels(), (8, 6, vec![Rgb([9, 90, 200]); 48]));
        assert_eq!(Thumbnail::read(&address(256, 1)).err(), None);
        assert_eq!(Thumbnail::read(&address(257, 1)), Err(ThumbnailError::Large));
        assert_eq!(Thumbnail::read(&whole.replace("png", "jpeg")), Err(ThumbnailError::Broken));
        let cut = &whole[..whole.len() - 24];
        assert_eq!(Thumbnail::read(cut), Err(ThumbnailError::Broken));
        let long = format!("{PNG}{}", "A".repeat(MOST_BYTES * 2));
        assert_eq!(Thumbnail::read(&long), Err(ThumbnailError::Large));
        for text in ["", "data:", "data:text/html;base64,PGI+", "https://a.example/b.png", &format!("{PNG}<svg>"), PNG]
        {
            assert!(Thumbnail::read(text).is_err(), "{text}");
        }
    }
}
