//! The colour profile of a picture, taken to sRGB.

use image::DynamicImage;
use moxcms::{
    CicpColorPrimaries, CicpProfile, ColorProfile, DataColorSpace, Layout, MatrixCoefficients, TransferCharacteristics,
    TransformExecutor, TransformOptions,
};
use rayon::prelude::*;

use super::decode::Pixels;
use crate::fabric::contain::contain;

/// What the numbers of a file's pixels mean.
pub(super) enum Colours {
    /// sRGB, as what says nothing is taken.
    Srgb,
    /// What an ICC profile says.
    Profile(Vec<u8>),
    /// Primaries and transfer by their codes in ITU-T H.273, tables 2 and 3.
    Codes(u16, u16),
}

/// Eight-bit sRGB, and notes where the profile could not be used.
pub(super) fn to_srgb(image: DynamicImage, colours: &Colours) -> (Pixels, Vec<String>) {
    let profile = match colours {
        Colours::Srgb => return (plain(image), Vec::new()),
        Colours::Profile(profile) => understand(profile),
        Colours::Codes(primaries, transfer) => match coded(*primaries, *transfer) {
            Ok(None) => return (plain(image), Vec::new()),
            Ok(Some(profile)) => Ok(profile),
            Err(reason) => Err(reason),
        },
    };
    match profile {
        Ok(profile) => convert(image, &profile),
        Err(reason) => (plain(image), vec![note(reason)]),
    }
}

fn plain(image: DynamicImage) -> Pixels {
    if image.color().has_alpha() {
        Pixels::Alpha(image.into_rgba8().into_raw())
    } else {
        Pixels::Opaque(image.into_rgb8().into_raw())
    }
}

fn note(reason: &str) -> String {
    format!("the picture's colour profile {reason}, so its colours were taken as sRGB and may look a little off")
}

const BROKEN: &str = "is damaged";
const UNFIT: &str = "does not fit its pixels";

fn understand(bytes: &[u8]) -> Result<ColorProfile, &'static str> {
    let profile = contain(|| ColorProfile::new_from_slice(bytes)).and_then(Result::ok).ok_or(BROKEN)?;
    match profile.color_space {
        DataColorSpace::Rgb | DataColorSpace::Gray => Ok(profile),
        DataColorSpace::Cmyk => Err("is meant for printing inks"),
        _ => Err("is of a rare sort"),
    }
}

/// The profile of codes; none where they are those of sRGB, or say nothing.
fn coded(primaries: u16, transfer: u16) -> Result<Option<ColorProfile>, &'static str> {
    let rare = "is of a rare sort";
    let primaries = match u8::try_from(primaries).ok().and_then(|code| CicpColorPrimaries::try_from(code).ok()) {
        Some(CicpColorPrimaries::Reserved) | None => return Err(rare),
        Some(CicpColorPrimaries::Unspecified) => CicpColorPrimaries::Bt709,
        Some(primaries) => primaries,
    };
    let transfer = match transfer {
        // Still pictures under the transfer codes of video are made for screens of sRGB all the same (by eye).
        1 | 2 | 6 | 13 | 14 | 15 => TransferCharacteristics::Srgb,
        4 => TransferCharacteristics::Bt470M,
        5 => TransferCharacteristics::Bt470Bg,
        8 => TransferCharacteristics::Linear,
        16 | 18 => return Err("is meant for screens of high dynamic range"),
        _ => return Err(rare),
    };
    if primaries == CicpColorPrimaries::Bt709 && transfer == TransferCharacteristics::Srgb {
        return Ok(None);
    }
    let matrix = MatrixCoefficients::Identity;
    Ok(Some(ColorProfile::new_from_cicp(CicpProfile {
        color_primaries: primaries,
        transfer_characteristics: transfer,
        matrix_coefficients: matrix,
        full_range: true,
    })))
}

fn convert(image: DynamicImage, profile: &ColorProfile) -> (Pixels, Vec<String>) {
    let grey = profile.color_space == DataColorSpace::Gray;
    if grey && image.color().has_color() {
        return (plain(image), vec![note(UNFIT)]);
    }
    let image = unpacked(image, grey);
    match contain(|| transformed(&image, profile)).flatten() {
        Some(pixels) => (pixels, Vec::new()),
        None => (plain(image), vec![note(BROKEN)]),
    }
}

/// The picture in 8 or 16 bits as it was, coloured, or grey with alpha.
fn unpacked(image: DynamicImage, grey: bool) -> DynamicImage {
    let color = image.color();
    let deep = color.bytes_per_pixel() > color.channel_count();
    match (grey, color.has_alpha(), deep) {
        (false, false, false) => DynamicImage::ImageRgb8(image.into_rgb8()),
        (false, false, true) => DynamicImage::ImageRgb16(image.into_rgb16()),
        (false, true, false) => DynamicImage::ImageRgba8(image.into_rgba8()),
        (false, true, true) => DynamicImage::ImageRgba16(image.into_rgba16()),
        (true, _, false) => DynamicImage::ImageLumaA8(image.into_luma_alpha8()),
        (true, _, true) => DynamicImage::ImageLumaA16(image.into_luma_alpha16()),
    }
}

fn transformed(image: &DynamicImage, from: &ColorProfile) -> Option<Pixels> {
    let srgb = ColorProfile::new_srgb();
    let options = TransformOptions::default();
    let shallow = |layout, to| from.create_transform_8bit(layout, &srgb, to, options).ok();
    let deep = |layout, to| from.create_transform_16bit(layout, &srgb, to, options).ok();
    let (rgb, rgba) = (Layout::Rgb, Layout::Rgba);
    Some(match image {
        DynamicImage::ImageRgb8(image) => {
            Pixels::Opaque(rows::<3, 3, u8>(image, &*shallow(rgb, rgb)?, |sample| sample)?)
        }
        DynamicImage::ImageRgb16(image) => Pixels::Opaque(rows::<3, 3, u16>(image, &*deep(rgb, rgb)?, eight_bits)?),
        DynamicImage::ImageRgba8(image) => {
            Pixels::Alpha(rows::<4, 4, u8>(image, &*shallow(rgba, rgba)?, |sample| sample)?)
        }
        DynamicImage::ImageRgba16(image) => Pixels::Alpha(rows::<4, 4, u16>(image, &*deep(rgba, rgba)?, eight_bits)?),
        DynamicImage::ImageLumaA8(image) => {
            Pixels::Alpha(rows::<2, 4, u8>(image, &*shallow(Layout::GrayAlpha, rgba)?, |sample| sample)?)
        }
        DynamicImage::ImageLumaA16(image) => {
            Pixels::Alpha(rows::<2, 4, u16>(image, &*deep(Layout::GrayAlpha, rgba)?, eight_bits)?)
        }
        _ => return None,
    })
}

/// The nearest of 256 levels.
fn eight_bits(sample: u16) -> u8 {
    u8::try_from((u32::from(sample) + 128) / 257).unwrap_or(u8::MAX)
}

/// Pixels that are converted at a time.
const BATCH: usize = 4096;

fn rows<const FROM: usize, const TO: usize, T: Copy + Default + Send + Sync>(
    source: &[T],
    executor: &(impl TransformExecutor<T> + Sync + ?Sized),
    narrow: impl Fn(T) -> u8 + Sync,
) -> Option<Vec<u8>> {
    let mut target = vec![0; source.len() / FROM * TO];
    let pairs = target.par_chunks_mut(BATCH * TO).zip(source.par_chunks(BATCH * FROM));
    pairs.try_for_each(|(target, source)| {
        let mut wide = vec![T::default(); target.len()];
        contain(|| executor.transform(source, &mut wide))?.ok()?;
        target.iter_mut().zip(&wide).for_each(|(narrowed, sample)| *narrowed = narrow(*sample));
        Some(())
    })?;
    Some(target)
}
