//! The colour profile of a picture, taken to sRGB.

use image::DynamicImage;
use moxcms::{ColorProfile, DataColorSpace, Layout, TransformExecutor, TransformOptions};
use rayon::prelude::*;

use super::contain::contain;

/// Eight-bit sRGB with alpha, and notes where the profile could not be used.
pub(super) fn to_srgb(image: DynamicImage, profile: Option<&[u8]>) -> (Vec<u8>, Vec<String>) {
    let Some(profile) = profile else {
        return (plain(image), Vec::new());
    };
    match understand(profile) {
        Ok(profile) => convert(image, &profile),
        Err(reason) => (plain(image), vec![note(reason)]),
    }
}

fn plain(image: DynamicImage) -> Vec<u8> {
    image.into_rgba8().into_raw()
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

fn convert(image: DynamicImage, profile: &ColorProfile) -> (Vec<u8>, Vec<String>) {
    let grey = profile.color_space == DataColorSpace::Gray;
    if grey && image.color().has_color() {
        return (plain(image), vec![note(UNFIT)]);
    }
    let image = unpacked(image, grey);
    match contain(|| transformed(&image, profile)).flatten() {
        Some(samples) => (samples, Vec::new()),
        None => (plain(image), vec![note(BROKEN)]),
    }
}

/// The picture with alpha, grey or coloured, in 8 or 16 bits as it was.
fn unpacked(image: DynamicImage, grey: bool) -> DynamicImage {
    let deep = image.color().bytes_per_pixel() > image.color().channel_count();
    match (grey, deep) {
        (false, false) => DynamicImage::ImageRgba8(image.into_rgba8()),
        (false, true) => DynamicImage::ImageRgba16(image.into_rgba16()),
        (true, false) => DynamicImage::ImageLumaA8(image.into_luma_alpha8()),
        (true, true) => DynamicImage::ImageLumaA16(image.into_luma_alpha16()),
    }
}

fn transformed(image: &DynamicImage, from: &ColorProfile) -> Option<Vec<u8>> {
    let to = ColorProfile::new_srgb();
    let options = TransformOptions::default();
    let shallow = |layout| from.create_transform_8bit(layout, &to, Layout::Rgba, options).ok();
    let deep = |layout| from.create_transform_16bit(layout, &to, Layout::Rgba, options).ok();
    match image {
        DynamicImage::ImageRgba8(image) => rows::<4, u8>(image, &*shallow(Layout::Rgba)?, |sample| sample),
        DynamicImage::ImageLumaA8(image) => rows::<2, u8>(image, &*shallow(Layout::GrayAlpha)?, |sample| sample),
        DynamicImage::ImageRgba16(image) => rows::<4, u16>(image, &*deep(Layout::Rgba)?, eight_bits),
        DynamicImage::ImageLumaA16(image) => rows::<2, u16>(image, &*deep(Layout::GrayAlpha)?, eight_bits),
        _ => None,
    }
}

/// The nearest of 256 levels.
fn eight_bits(sample: u16) -> u8 {
    u8::try_from((u32::from(sample) + 128) / 257).unwrap_or(u8::MAX)
}

/// Pixels that are converted at a time.
const BATCH: usize = 4096;

fn rows<const CHANNELS: usize, T: Copy + Default + Send + Sync>(
    source: &[T],
    executor: &(impl TransformExecutor<T> + Sync + ?Sized),
    narrow: impl Fn(T) -> u8 + Sync,
) -> Option<Vec<u8>> {
    let mut target = vec![0; source.len() / CHANNELS * 4];
    let pairs = target.par_chunks_mut(BATCH * 4).zip(source.par_chunks(BATCH * CHANNELS));
    pairs.try_for_each(|(target, source)| {
        let mut wide = vec![T::default(); target.len()];
        contain(|| executor.transform(source, &mut wide))?.ok()?;
        target.iter_mut().zip(&wide).for_each(|(narrowed, sample)| *narrowed = narrow(*sample));
        Some(())
    })?;
    Some(target)
}
