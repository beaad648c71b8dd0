//! A picture in fewer pixels, as a file that every browser reads.

use image::codecs::png::{CompressionType, FilterType, PngEncoder};
use image::{ExtendedColorType, ImageEncoder};

use super::{Crop, Picture, PictureError};

impl Picture {
    /// As a PNG of at most `side` pixels along its longer side, whole pixels averaged in linear light, with its width
    /// and height. Up to one pixel less than are averaged is left off at the right and below.
    pub fn reduced(&self, side: u32) -> Result<(Vec<u8>, [u32; 2]), PictureError> {
        let each = self.width().max(self.height()).div_ceil(side.max(1)).max(1);
        let [across, down] = [self.width(), self.height()].map(|side| (side / each).max(1));
        let whole = |cells: u32, pixels: u32| (cells * each).min(pixels);
        let (w, h) = (whole(across, self.width()), whole(down, self.height()));
        let cells = self.cells(&Crop::Region { x: 0, y: 0, w, h }, across, down)?;
        let samples: Vec<u8> = cells.iter().flat_map(|cell| cell.0).collect();
        let mut bytes = Vec::new();
        // Into memory, all of it there.
        PngEncoder::new_with_quality(&mut bytes, CompressionType::Fast, FilterType::Adaptive)
            .write_image(&samples, across, down, ExtendedColorType::Rgb8)
            .expect("a picture of whole pixels");
        Ok((bytes, [across, down]))
    }
}
