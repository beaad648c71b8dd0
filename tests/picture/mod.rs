//! A file becomes upright sRGB pixels, then cells of the top.

mod average;
mod decode;
mod heic;
mod hostile;
mod standing_out;

use std::io::Cursor;

use image::{DynamicImage, ImageFormat, RgbImage};
use rowscape::fabric::Rgb;
use rowscape::picture::{Crop, Limits, Picture, PictureError};

/// The formats that are read.
const FORMATS: [ImageFormat; 6] =
    [ImageFormat::Png, ImageFormat::Jpeg, ImageFormat::WebP, ImageFormat::Tiff, ImageFormat::Gif, ImageFormat::Bmp];

fn written(image: &DynamicImage, format: ImageFormat) -> Vec<u8> {
    let mut bytes = Cursor::new(Vec::new());
    image.write_to(&mut bytes, format).unwrap();
    bytes.into_inner()
}

fn png(image: impl Into<DynamicImage>) -> Vec<u8> {
    written(&image.into(), ImageFormat::Png)
}

fn decoded(bytes: &[u8]) -> Result<Picture, PictureError> {
    Picture::decode(bytes, &Limits::default())
}

/// Each pixel as a cell of its own.
fn pixels(picture: &Picture) -> Vec<Rgb> {
    picture.cells(&Crop::Whole, picture.width(), picture.height()).unwrap()
}

/// A harbour: pale sky, dark headland, a red lamp, water with some ripples.
fn harbour(width: u32, height: u32) -> RgbImage {
    RgbImage::from_fn(width, height, |x, y| {
        let ripple = u8::try_from((x * 7 + y * 13) % 23).unwrap();
        if x == width / 2 && y == height / 4 {
            image::Rgb([230, 40, 30])
        } else if y < height / 2 {
            image::Rgb([180, 200, 220 + ripple / 2])
        } else if x < width / 3 {
            image::Rgb([60, 50, 40 + ripple])
        } else {
            image::Rgb([40, 90 + ripple, 130])
        }
    })
}

/// How far two colours differ in the worst channel.
fn apart(one: Rgb, other: Rgb) -> u8 {
    one.0.iter().zip(other.0).map(|(one, other)| one.abs_diff(other)).max().unwrap()
}
