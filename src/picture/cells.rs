//! Pixels averaged over the cells of the top, in linear light.
//!
//! Every sum is a whole number: 20-bit linear light times alpha times the
//! exact area of the pixel in the cell. One division ends it, so the result
//! does not depend on threads or on the order of the pixels. A row's sum stays
//! below 2^63 for any picture of at most 2^32 pixels a side.

use std::sync::LazyLock;

use rayon::prelude::*;

use super::axis::{Axis, Span, axes};
use super::crop::Area;
use super::decode::Pixels;
use super::{Crop, Picture, PictureError};
use crate::fabric::Rgb;

/// The most cells of a top.
const MOST_CELLS: u64 = 1 << 20;
/// Full linear light.
const LIGHT: u32 = (1 << 20) - 1;
/// Weights of red, green and blue in lightness, of 10,000 (ITU-R BT.709).
const LUMA: [u64; 3] = [2126, 7152, 722];
/// A white opaque pixel in a mask's sums.
const FULL_MASK: u128 = 10_000 * 255;

static LINEAR: LazyLock<[u64; 256]> = LazyLock::new(|| {
    std::array::from_fn(|level| {
        let level = u8::try_from(level).unwrap_or(u8::MAX);
        let [light, ..] = Rgb([level; 3]).linear();
        (light * f64::from(LIGHT)).round() as u64
    })
});

impl Picture {
    /// The mean colour of each cell in linear light, row by row.
    ///
    /// Pixels count by their alpha; a cell with nothing opaque is white.
    pub fn cells(&self, crop: &Crop, columns: u32, rows: u32) -> Result<Vec<Rgb>, PictureError> {
        let linear = &*LINEAR;
        let sums = self.sums(crop, columns, rows, |[r, g, b, alpha]| {
            let alpha = u64::from(alpha);
            let light = |level: u8| linear[usize::from(level)] * alpha;
            [light(r), light(g), light(b), alpha]
        })?;
        if sums.iter().all(|[.., alpha]| *alpha == 0) {
            return Err(PictureError::Hidden);
        }
        Ok(sums.into_par_iter().map(mean).collect())
    }

    /// The mean lightness of each cell, black 0 to white 255, row by row.
    ///
    /// It is the grey as painted, not linear light; transparent counts as black.
    pub fn mask(&self, crop: &Crop, columns: u32, rows: u32) -> Result<Vec<u8>, PictureError> {
        let area = self.area(crop)?;
        let sums = self.sums(crop, columns, rows, |[r, g, b, alpha]| {
            let luma: u64 = LUMA.iter().zip([r, g, b]).map(|(weight, level)| weight * u64::from(level)).sum();
            [luma * u64::from(alpha)]
        })?;
        let (across, down) = axes(area, crop, columns, rows);
        let full = FULL_MASK * u128::from(across.cell) * u128::from(down.cell);
        let level = |[sum]: [u128; 1]| u8::try_from((sum + full / 2) / full).unwrap_or(u8::MAX);
        Ok(sums.into_iter().map(level).collect())
    }

    /// Each cell's samples times their exact areas.
    fn sums<const N: usize>(
        &self,
        crop: &Crop,
        columns: u32,
        rows: u32,
        sample: impl Fn([u8; 4]) -> [u64; N] + Sync,
    ) -> Result<Vec<[u128; N]>, PictureError> {
        let area = self.area(crop)?;
        let count = u64::from(columns) * u64::from(rows);
        if count == 0 || count > MOST_CELLS {
            return Err(PictureError::Cells { columns, rows, most: MOST_CELLS });
        }
        let axes = axes(area, crop, columns, rows);
        Ok(match &self.pixels {
            Pixels::Opaque(samples) => {
                let opaque = |[r, g, b]: [u8; 3]| sample([r, g, b, u8::MAX]);
                self.sums_of(samples, area, axes, opaque)
            }
            Pixels::Alpha(samples) => self.sums_of(samples, area, axes, sample),
        })
    }

    fn sums_of<const C: usize, const N: usize>(
        &self,
        samples: &[u8],
        area: Area,
        (across, down): (Axis, Axis),
        sample: impl Fn([u8; C]) -> [u64; N] + Sync,
    ) -> Vec<[u128; N]> {
        let (pixels, _) = samples.as_chunks::<C>();
        let of_row = |row: usize| {
            let start = (row + area.y as usize) * self.width as usize + area.x as usize;
            pixels.get(start..start + area.w as usize).unwrap_or_default()
        };
        let row = |span: &Span| {
            let mut row = vec![[0; N]; across.spans.len()];
            for y in span.first..=span.last {
                add_row(&mut row, of_row(y), &across, down.weight(span, y), &sample);
            }
            row
        };
        down.spans.par_iter().flat_map_iter(row).collect()
    }
}

fn add_row<const C: usize, const N: usize>(
    cells: &mut [[u128; N]],
    pixels: &[[u8; C]],
    across: &Axis,
    weight: u64,
    sample: &impl Fn([u8; C]) -> [u64; N],
) {
    for (cell, span) in cells.iter_mut().zip(&across.spans) {
        let mut sum = [0_u64; N];
        let inner = pixels.get(span.first + 1..span.last).unwrap_or_default();
        inner.iter().for_each(|pixel| add(&mut sum, sample(*pixel), 1));
        sum.iter_mut().for_each(|sum| *sum *= across.unit);
        for (place, share) in [(span.first, span.head), (span.last, span.tail)] {
            if let Some(pixel) = pixels.get(place) {
                add(&mut sum, sample(*pixel), share);
            }
        }
        cell.iter_mut().zip(sum).for_each(|(cell, sum)| *cell += u128::from(sum) * u128::from(weight));
    }
}

fn add<const N: usize>(sums: &mut [u64; N], sample: [u64; N], weight: u64) {
    sums.iter_mut().zip(sample).for_each(|(sum, sample)| *sum += sample * weight);
}

fn mean([r, g, b, alpha]: [u128; 4]) -> Rgb {
    if alpha == 0 {
        return Rgb([255; 3]);
    }
    let full = alpha as f64 * f64::from(LIGHT);
    Rgb::from_linear([r, g, b].map(|sum| sum as f64 / full))
}
