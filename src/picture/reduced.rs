//! A picture in fewer pixels, as a file that every browser reads.

use image::codecs::png::{CompressionType, FilterType, PngEncoder};
use image::{ExtendedColorType, ImageEncoder};

use super::{Crop, Picture, PictureError};

/// Pixels that are made at a time.
const STRIP: u32 = 1 << 17;

impl Picture {
    /// As a PNG of at most `side` pixels along its longer side, whole pixels averaged in linear light, with its width
    /// and height. Up to one pixel less than are averaged is left off at the right and below.
    pub fn reduced(&self, side: u32) -> Result<(Vec<u8>, [u32; 2]), PictureError> {
        let each = self.width().max(self.height()).div_ceil(side.max(1)).max(1);
        let [across, down] = [self.width(), self.height()].map(|side| (side / each).max(1));
        let whole = |cells: u32, pixels: u32| (cells * each).min(pixels);
        let mut samples = Vec::new();
        // A strip at a time: sums take twenty times as much as what they become.
        let strip = (STRIP / across).max(1);
        for top in (0..down).step_by(strip as usize) {
            let rows = strip.min(down - top);
            let y = top * each;
            let (w, h) = (whole(across, self.width()), whole(rows, self.height() - y));
            match self.cells(&Crop::Region { x: 0, y, w, h }, across, rows) {
                Ok(cells) => samples.extend(cells.iter().flat_map(|cell| cell.0)),
                // Nothing is to be seen of this strip alone.
                Err(PictureError::Hidden) => samples.resize(samples.len() + (across * rows * 3) as usize, u8::MAX),
                Err(error) => return Err(error),
            }
        }
        let mut bytes = Vec::new();
        // Into memory, all of it there.
        PngEncoder::new_with_quality(&mut bytes, CompressionType::Fast, FilterType::Adaptive)
            .write_image(&samples, across, down, ExtendedColorType::Rgb8)
            .expect("a picture of whole pixels");
        Ok((bytes, [across, down]))
    }
}
