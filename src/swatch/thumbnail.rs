//! The small picture of a swatch: upright, its light evened out, and what it says of the print's pattern.

use image::ExtendedColorType;
use image::codecs::jpeg::JpegEncoder;

use super::Marks;
use super::light::Light;
use super::outline::Askew;
use super::view::{BLOCK, View};
use crate::fabric::{Rgb, Thumbnail};
use crate::measure::math::squared;
use crate::picture::{Crop, Picture};

/// Pixels along the longer side.
pub(super) const LONG: f64 = 96.0;
/// How much of the swatch is shown: its edges are left out.
pub(super) const SHOWN: f64 = 0.84;
const QUALITY: u8 = 82;

/// The small picture as a `data:` address, and the marks of the print.
pub(super) fn thumbnail(picture: &Picture, view: &View, light: &Light, askew: &Askew) -> (String, Marks) {
    let (width, height, cells) = cells(picture, view, light, askew);
    let samples: Vec<u8> = cells.iter().flat_map(|cell| cell.0).collect();
    let mut bytes = Vec::new();
    JpegEncoder::new_with_quality(&mut bytes, QUALITY)
        .encode(&samples, width as u32, height as u32, ExtendedColorType::Rgb8)
        .expect("into memory, and of a size that its format holds");
    (Thumbnail::of_jpeg(&bytes), marks(width, height, &cells))
}

/// Its pixels, sampled from the photo as it is.
fn cells(picture: &Picture, view: &View, light: &Light, askew: &Askew) -> (usize, usize, Vec<Rgb>) {
    let long = askew.width.max(askew.height).max(1e-6);
    let side = |side: f64| ((LONG * side / long).round() as usize).max(4);
    let (width, height) = (side(askew.width), side(askew.height));
    // In pixels of the photo.
    let scale = [f64::from(picture.width()) / view.width as f64, f64::from(picture.height()) / view.height as f64];
    let place = |across: f64, down: f64| {
        let inset = |at: f64| 0.5 + (at - 0.5) * SHOWN;
        let [x, y] = askew.place(inset(across), inset(down));
        [x * BLOCK as f64 * scale[0], y * BLOCK as f64 * scale[1]]
    };
    let corners = [(0.0, 0.0), (1.0, 0.0), (0.0, 1.0), (1.0, 1.0)].map(|(across, down)| place(across, down));
    let reach = |i: usize, most: u32| {
        let of = corners.iter().map(|corner| corner[i]);
        let least = of.clone().fold(f64::MAX, f64::min).floor().clamp(0.0, f64::from(most - 1)) as u32;
        let end = of.fold(0.0, f64::max).ceil().clamp(f64::from(least + 1), f64::from(most)) as u32;
        (least, end - least)
    };
    let ((x, w), (y, h)) = (reach(0, picture.width()), reach(1, picture.height()));
    // About two samples for each pixel that is made.
    let finer = (2.0 * LONG / (long * BLOCK as f64 * scale[0].max(scale[1]) * SHOWN)).min(1.0);
    let fine = |side: u32| ((f64::from(side) * finer).ceil() as u32).clamp(1, side);
    let (columns, rows) = (fine(w), fine(h));
    let sampled = picture.cells(&Crop::Region { x, y, w, h }, columns, rows);
    let sampled = sampled.unwrap_or_else(|_| vec![Rgb([255; 3]); (columns * rows) as usize]);
    let at = |[px, py]: [f64; 2]| {
        let (u, v) = ((px - f64::from(x)) / f64::from(w), (py - f64::from(y)) / f64::from(h));
        let cell = |at: f64, count: u32| ((at * f64::from(count)) as usize).min(count as usize - 1);
        let place = [px / f64::from(picture.width()), py / f64::from(picture.height())];
        light.evened(place, sampled[cell(v, rows) * columns as usize + cell(u, columns)].linear())
    };
    let mut cells = Vec::with_capacity(width * height);
    for (row, column) in (0..height).flat_map(|row| (0..width).map(move |column| (row, column))) {
        let mut sum = [0.0; 3];
        for (dx, dy) in [(0.25, 0.25), (0.75, 0.25), (0.25, 0.75), (0.75, 0.75)] {
            let one = at(place((column as f64 + dx) / width as f64, (row as f64 + dy) / height as f64));
            (0..3).for_each(|i| sum[i] += one[i] / 4.0);
        }
        cells.push(Rgb::from_linear(sum));
    }
    (width, height, cells)
}

/// How lightness varies within squares of three sizes, and how it is spread.
fn marks(width: usize, height: usize, cells: &[Rgb]) -> Marks {
    let values: Vec<f64> = cells.iter().map(|cell| cell.lightness()).collect();
    let grain = [2, 5, 12].map(|side: usize| {
        let side = side.min(width).min(height).max(1);
        let mut sum = [0.0; 2];
        for (top, left) in (0..height / side).flat_map(|top| (0..width / side).map(move |left| (top, left))) {
            let all = (0..side).flat_map(|y| (0..side).map(move |x| (top * side + y) * width + left * side + x));
            let mean = all.clone().map(|at| values[at]).sum::<f64>() / squared(side as f64);
            sum[0] += all.map(|at| squared(values[at] - mean)).sum::<f64>() / squared(side as f64);
            sum[1] += 1.0;
        }
        (sum[0] / f64::max(sum[1], 1.0)).sqrt()
    });
    let mut sorted = values;
    sorted.sort_by(f64::total_cmp);
    let at = |share: f64| sorted.get((share * sorted.len() as f64) as usize).copied().unwrap_or_default();
    Marks { grain, values: [at(0.1), at(0.5), at(0.9)] }
}
