//! A phone's HEIC file, decoded by `heic-decoder`, which turns it upright itself.

use heic_decoder::hevc::nal::{NAL_SPS, parse_nal_header};
use heic_decoder::hevc::params::{Sps, parse_sps};
use heic_decoder::isobmff::{ParsedHeif, ResolvedImage, parse};
use heic_decoder::{HeifError, bitreader, decode, probe};
use image::{DynamicImage, ImageBuffer};

use super::PictureError;
use super::decode::{Limits, Raw};
use super::profile::Colours;

/// Bytes of a sample as the decoder keeps it.
const SAMPLE: u64 = size_of::<i32>() as u64;
/// Most pictures that one is put together of, ten times as many as 48 megapixels of a phone have.
const MOST_TILES: usize = 2_000;

/// The picture, upright, in 8 bits a colour or, where it has more, in 16.
pub(super) fn read(bytes: &[u8], name: &'static str, limits: &Limits) -> Result<Raw, PictureError> {
    let failed = |error| failure(name, &error);
    let info = probe(bytes).map_err(failed)?;
    let side = |side: usize| u32::try_from(side).unwrap_or(u32::MAX);
    limits.check(side(info.coded_width), side(info.coded_height))?;
    if filled(&parse(bytes).map_err(failed)?).map_err(failed)? > limits.bytes {
        return Err(PictureError::TooHeavy(name));
    }
    let decoded = decode(bytes).map_err(failed)?;
    let colours = match (&decoded.metadata.icc_profile, decoded.color_info) {
        (Some(profile), _) => Colours::Profile(profile.clone()),
        (None, Some(codes)) => Colours::Codes(codes.color_primaries, codes.transfer_characteristics),
        (None, None) => Colours::Srgb,
    };
    if decoded.alpha.as_ref().is_some_and(|alpha| alpha.premultiplied) {
        return Err(RARE);
    }
    let (width, height) = (side(decoded.width), side(decoded.height));
    let deep = decoded.bit_depth_luma.max(decoded.bit_depth_chroma) > 8;
    let image = match (decoded.alpha.is_some(), deep) {
        (false, false) => packed(width, height, decoded.to_rgb8().map_err(failed)?.data, DynamicImage::ImageRgb8),
        (false, true) => packed(width, height, decoded.to_rgb16().map_err(failed)?.data, DynamicImage::ImageRgb16),
        (true, false) => packed(width, height, decoded.to_rgba8().map_err(failed)?.data, DynamicImage::ImageRgba8),
        (true, true) => packed(width, height, decoded.to_rgba16().map_err(failed)?.data, DynamicImage::ImageRgba16),
    };
    Ok(Raw { image: image.ok_or(PictureError::Broken(name))?, colours })
}

fn packed<P: image::Pixel>(
    width: u32,
    height: u32,
    samples: Vec<P::Subpixel>,
    image: impl Fn(ImageBuffer<P, Vec<P::Subpixel>>) -> DynamicImage,
) -> Option<DynamicImage> {
    ImageBuffer::from_raw(width, height, samples).map(image)
}

/// Bytes of the samples of all that is coded in the file: what it shows may be a small part of that.
fn filled(file: &ParsedHeif) -> Result<u64, HeifError> {
    if file.images.len() > MOST_TILES {
        return Ok(u64::MAX);
    }
    let own: u64 = file.images.iter().chain(&file.reference_image).map(samples).sum::<Result<u64, HeifError>>()?;
    let alpha = file.alpha.as_ref().map_or(Ok(0), |alpha| filled(&alpha.image))?;
    Ok(own.saturating_mul(SAMPLE).saturating_add(alpha))
}

/// Samples of a coded picture, of its lightness and of both its colours.
fn samples(image: &ResolvedImage) -> Result<u64, HeifError> {
    let nal = image.hevc_config.nalus_of_type(NAL_SPS).next();
    let (_, payload) = parse_nal_header(nal.ok_or(HeifError::MalformedHevc("no SPS"))?)?;
    let sps: Sps = parse_sps(&bitreader::strip_emulation_prevention(payload))?;
    let all = u64::from(sps.pic_width_in_luma_samples) * u64::from(sps.pic_height_in_luma_samples);
    let colour = match sps.chroma_format_idc {
        0 => 0,
        _ => 2 * all / u64::from(sps.sub_width_c() * sps.sub_height_c()),
    };
    Ok(all + colour)
}

const RARE: PictureError = PictureError::Phone("a rare sort of HEIC format");

fn failure(name: &'static str, error: &HeifError) -> PictureError {
    match error {
        HeifError::LimitExceeded(_) => PictureError::TooHeavy(name),
        HeifError::Unsupported(_) => RARE,
        _ => PictureError::Broken(name),
    }
}
