//! From the bytes of a file to upright sRGB pixels.

use std::io::Cursor;

use image::metadata::Orientation;
use image::{DynamicImage, ImageDecoder, ImageError, ImageFormat, ImageReader};

use super::PictureError;
use super::ends::ends;
use super::heic;
use super::kind::{Format, Kind, kind, png_header};
use super::profile::{Colours, to_srgb};
use crate::fabric::Rgb;
use crate::fabric::contain::contain;

/// How large a picture is taken.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Limits {
    /// The longest side in pixels.
    pub side: u32,
    /// The most pixels in all.
    pub pixels: u64,
    /// The most bytes that its decoder may fill.
    pub bytes: u64,
}

impl Default for Limits {
    fn default() -> Self {
        Self { side: 12_000, pixels: 100_000_000, bytes: 512 << 20 }
    }
}

/// An upright picture in sRGB.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Picture {
    pub(super) width: u32,
    pub(super) height: u32,
    pub(super) pixels: Pixels,
    notes: Vec<String>,
}

/// Pixels row by row from the top left; those of a photo are a quarter fewer bytes without alpha.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Pixels {
    /// Red, green, blue.
    Opaque(Vec<u8>),
    /// Red, green, blue, alpha.
    Alpha(Vec<u8>),
}

impl Picture {
    /// Reads a PNG, JPEG, HEIC, WebP, TIFF, GIF or BMP file, whatever its name.
    pub fn decode(bytes: &[u8], limits: &Limits) -> Result<Self, PictureError> {
        let kind = kind(bytes)?;
        if kind.format == Format::Common(ImageFormat::Png)
            && let Some((width, height)) = png_header(bytes)
        {
            limits.check(width, height)?;
        }
        let raw = contain(|| read(bytes, kind, limits)).unwrap_or(Err(PictureError::Broken(kind.name)))?;
        if !contain(|| ends(bytes, kind.format)).unwrap_or_default() {
            return Err(PictureError::Broken(kind.name));
        }
        Self::from_raw(raw)
    }

    fn from_raw(raw: Raw) -> Result<Self, PictureError> {
        let Raw { image, colours } = raw;
        let (width, height) = (image.width(), image.height());
        let (pixels, notes) = to_srgb(image, &colours);
        if let Pixels::Alpha(samples) = &pixels
            && samples.as_chunks::<4>().0.iter().all(|[.., alpha]| *alpha == 0)
        {
            return Err(PictureError::Hidden);
        }
        Ok(Self { width, height, pixels, notes })
    }

    /// A picture of opaque cells, row by row; `None` where they fill no rectangle.
    pub fn of_cells(cells: &[Rgb], columns: u32) -> Option<Self> {
        let rows = u32::try_from(cells.len()).ok()?.checked_div(columns)?;
        let full = rows > 0 && cells.len() as u64 == u64::from(rows) * u64::from(columns);
        let pixels = Pixels::Opaque(cells.iter().flat_map(|&Rgb(levels)| levels).collect());
        full.then(|| Self { width: columns, height: rows, pixels, notes: Vec::new() })
    }

    /// Pixels across.
    pub fn width(&self) -> u32 {
        self.width
    }

    /// Pixels down.
    pub fn height(&self) -> u32 {
        self.height
    }

    /// What the maker should know about how it was read.
    pub fn notes(&self) -> &[String] {
        &self.notes
    }
}

impl Limits {
    pub(super) fn check(&self, width: u32, height: u32) -> Result<(), PictureError> {
        if width.max(height) > self.side {
            return Err(PictureError::TooLong { width, height, most: self.side });
        }
        if u64::from(width) * u64::from(height) > self.pixels {
            return Err(PictureError::TooMany { width, height, most: self.pixels });
        }
        Ok(())
    }
}

/// What the decoder gave, upright, in 8 or 16 bits.
pub(super) struct Raw {
    pub image: DynamicImage,
    pub colours: Colours,
}

fn read(bytes: &[u8], kind: Kind, limits: &Limits) -> Result<Raw, PictureError> {
    let format = match kind.format {
        Format::Heic => return heic::read(bytes, kind.name, limits),
        Format::Common(format) => format,
    };
    let failed = |error| failure(kind.name, &error);
    let mut allowed = image::Limits::no_limits();
    allowed.max_alloc = Some(limits.bytes);
    let mut reader = ImageReader::with_format(Cursor::new(bytes), format);
    reader.limits(allowed);
    let mut decoder = reader.into_decoder().map_err(failed)?;
    let (width, height) = decoder.dimensions();
    limits.check(width, height)?;
    if decoder.total_bytes() > limits.bytes {
        return Err(PictureError::TooHeavy(kind.name));
    }
    let turn = decoder.orientation().unwrap_or(Orientation::NoTransforms);
    let colours = decoder.icc_profile().unwrap_or_default().map_or(Colours::Srgb, Colours::Profile);
    let mut image = DynamicImage::from_decoder(decoder).map_err(failed)?;
    if matches!(image, DynamicImage::ImageRgb32F(_) | DynamicImage::ImageRgba32F(_)) {
        image = DynamicImage::ImageRgba16(image.into_rgba16());
    }
    image.apply_orientation(turn);
    Ok(Raw { image, colours })
}

fn failure(name: &'static str, error: &ImageError) -> PictureError {
    match error {
        ImageError::Limits(_) => PictureError::TooHeavy(name),
        ImageError::Unsupported(_) => PictureError::Rare(name),
        _ => PictureError::Broken(name),
    }
}
