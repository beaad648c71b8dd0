//! What stands out in a picture gains weight.

use image::{Rgb as Pixel, RgbImage};
use rowscape::picture::salience;

use super::*;

/// Dusk: sky in a slope of blues, a dark headland and water.
fn dusk() -> RgbImage {
    RgbImage::from_fn(72, 54, |x, y| match (x, y) {
        (_, 0..30) => Pixel([60, 70, 110 + u8::try_from(y).unwrap()]),
        (0..30, _) => Pixel([35, 40, 35]),
        _ => Pixel([40, 60, 90]),
    })
}

fn weights(image: &RgbImage) -> Vec<u8> {
    let cells: Vec<Rgb> = image.pixels().map(|pixel| Rgb(pixel.0)).collect();
    salience(&cells, image.width(), image.height())
}

/// Cells that gained weight.
fn gained(image: &RgbImage) -> usize {
    weights(image).iter().filter(|&&weight| weight != 4).count()
}

fn at(weights: &[u8], x: usize, y: usize) -> u8 {
    weights[y * 72 + x]
}

fn fill(image: &mut RgbImage, xs: std::ops::Range<u32>, ys: std::ops::Range<u32>, colour: [u8; 3]) {
    ys.flat_map(|y| xs.clone().map(move |x| (x, y))).for_each(|(x, y)| image.put_pixel(x, y, Pixel(colour)));
}

#[test]
fn plain_pictures_have_plain_weights() {
    assert_eq!(gained(&RgbImage::from_pixel(72, 54, Pixel([90, 120, 150]))), 0);
    let slope = RgbImage::from_fn(72, 54, |x, y| Pixel([u8::try_from(x + y).unwrap(), 90, 120]));
    assert_eq!(gained(&slope), 0);
    assert_eq!(weights(&RgbImage::from_pixel(1, 1, Pixel([9; 3]))), [4]);
    assert_eq!(salience(&[], 0, 0), [0; 0]);
    assert_eq!(salience(&[Rgb([9; 3]); 5], 2, 2), [4; 5], "a grid of another size");
}

#[test]
fn the_edge_of_a_hill_does_not_stand_out() {
    assert_eq!(gained(&dusk()), 0);
}

#[test]
fn a_lamp_a_mast_and_a_sail_stand_out() {
    let mut image = dusk();
    fill(&mut image, 20..22, 12..14, [250, 240, 190]);
    fill(&mut image, 36..37, 8..28, [235, 230, 220]);
    for step in 0..6 {
        fill(&mut image, 55..56 + step, 36 + step..37 + step, [245, 245, 240]);
    }
    let weights = weights(&image);
    assert!(weights.iter().all(|weight| (4..=8).contains(weight)));
    assert_eq!(at(&weights, 20, 12), 8, "the lamp");
    assert!(at(&weights, 36, 18) >= 6, "the mast");
    assert!(at(&weights, 56, 40) >= 7, "the sail");
    for (x, y) in [(5, 5), (45, 20), (10, 45), (66, 50), (24, 13), (29, 40), (50, 30)] {
        assert_eq!(at(&weights, x, y), 4, "{x} {y}");
    }
}

#[test]
fn at_most_an_eighth_of_the_top_gains() {
    let noise = RgbImage::from_fn(72, 54, |x, y| {
        Pixel([u8::try_from((x * 7919 + y * 104_729 + x * y * 31) % 256).unwrap(); 3])
    });
    let gained = gained(&noise);
    assert!((1..=72 * 54 / 8).contains(&gained), "{gained}");
}
