//! Why a picture cannot be used, and what to do instead.

use super::Crop;

/// A picture, or a part of one, cannot be used.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum PictureError {
    /// There are no bytes at all.
    #[error("the file is empty: copy the picture again from where it came from")]
    Empty,
    /// A phone's format, which has to be saved as JPEG first.
    #[error(
        "this is a photo in {0}, which cannot be read: on the phone, share or export it as JPEG \
         (or set the camera to its `most compatible` format) and use that file"
    )]
    Phone(&'static str),
    /// Something that is known, and is no picture of pixels.
    #[error("this is {0}, not a picture made of pixels: export it as PNG or JPEG and use that file")]
    Other(&'static str),
    /// Nothing that is known.
    #[error("this is not a picture that can be read: save it as PNG, JPEG, HEIC, WebP, TIFF, GIF or BMP")]
    Unknown,
    /// The start is right, the rest is not.
    #[error("the {0} file is cut short or damaged: copy it again, or open it elsewhere and save it as a new PNG")]
    Broken(&'static str),
    /// A rare variant of a known format.
    #[error("this {0} file is of a rare sort that cannot be read: open it elsewhere and save it as a new PNG")]
    Rare(&'static str),
    /// A side is too long.
    #[error(
        "the picture is {width} x {height} px, and at most {most} px a side are taken: \
         scale it down to 4000 px or so, which is ample for any top"
    )]
    TooLong {
        /// Pixels across.
        width: u32,
        /// Pixels down.
        height: u32,
        /// The limit.
        most: u32,
    },
    /// There are too many pixels.
    #[error(
        "the picture is {width} x {height} px, and at most {} million px in all are taken: \
         scale it down to 4000 px or so, which is ample for any top", .most / 1_000_000
    )]
    TooMany {
        /// Pixels across.
        width: u32,
        /// Pixels down.
        height: u32,
        /// The limit.
        most: u64,
    },
    /// Reading it would take too much memory.
    #[error(
        "the {0} file would take too much memory to read: \
         scale it down to 4000 px or so with 8 bits a colour, which is ample for any top"
    )]
    TooHeavy(&'static str),
    /// Every pixel is fully transparent.
    #[error("there is nothing to see, as every pixel is fully transparent: save the picture without transparency")]
    Hidden,
    /// A region reaches outside or holds nothing.
    #[error(
        "the region {crop} is not inside the picture, which is {width} x {height} px: \
         give left, top, width and height in pixels of the upright picture"
    )]
    Outside {
        /// The region that was asked for.
        crop: Crop,
        /// Pixels across.
        width: u32,
        /// Pixels down.
        height: u32,
    },
    /// The grid of the top is empty or far too fine.
    #[error("a top of {columns} x {rows} cells cannot be filled: use 1 to {most} cells in all")]
    Cells {
        /// Cells across.
        columns: u32,
        /// Cells down.
        rows: u32,
        /// The limit.
        most: u64,
    },
}
