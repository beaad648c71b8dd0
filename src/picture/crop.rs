//! Which part of a picture fills the top.

use std::fmt;
use std::str::FromStr;

use super::{Picture, PictureError};

/// Which part of the picture fills the top.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Crop {
    /// The middle, cut to the top's shape.
    #[default]
    Centre,
    /// All of it, its edge pixels drawn out to the top's shape.
    Whole,
    /// A part in pixels of the upright picture, its middle cut to the top's shape.
    Region {
        /// Pixels left of it.
        x: u32,
        /// Pixels above it.
        y: u32,
        /// Pixels across.
        w: u32,
        /// Pixels down.
        h: u32,
    },
}

/// A text names no crop.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error(
    "`{0}` does not say which part of the picture to use: write `centre`, `whole`, \
     or left, top, width and height in pixels as `120,80,1600,1200`"
)]
pub struct CropError(String);

/// A rectangle of whole pixels inside the picture.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Area {
    pub x: u32,
    pub y: u32,
    pub w: u32,
    pub h: u32,
}

impl Picture {
    /// Pixels across and down of the part that the crop draws on.
    pub fn size(&self, crop: &Crop) -> Result<(u32, u32), PictureError> {
        self.area(crop).map(|area| (area.w, area.h))
    }

    /// Width to height of that part, in lowest terms.
    pub fn aspect(&self, crop: &Crop) -> Result<(u32, u32), PictureError> {
        let (width, height) = self.size(crop)?;
        let common = common_divisor(width, height).max(1);
        Ok((width / common, height / common))
    }

    pub(super) fn area(&self, crop: &Crop) -> Result<Area, PictureError> {
        let (width, height) = (self.width(), self.height());
        let Crop::Region { x, y, w, h } = *crop else {
            return Ok(Area { x: 0, y: 0, w: width, h: height });
        };
        let fits =
            |start: u32, length: u32, whole| length > 0 && start.checked_add(length).is_some_and(|end| end <= whole);
        if fits(x, w, width) && fits(y, h, height) {
            Ok(Area { x, y, w, h })
        } else {
            Err(PictureError::Outside { crop: *crop, width, height })
        }
    }
}

fn common_divisor(one: u32, other: u32) -> u32 {
    if other == 0 { one } else { common_divisor(other, one % other) }
}

impl fmt::Display for Crop {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Centre => f.write_str("centre"),
            Self::Whole => f.write_str("whole"),
            Self::Region { x, y, w, h } => write!(f, "{x},{y},{w},{h}"),
        }
    }
}

impl FromStr for Crop {
    type Err = CropError;

    fn from_str(text: &str) -> Result<Self, CropError> {
        let bad = || CropError(text.chars().take(40).collect());
        match text.trim() {
            "centre" => return Ok(Self::Centre),
            "whole" => return Ok(Self::Whole),
            _ => {}
        }
        let numbers: Option<Vec<u32>> = text.split(',').map(|part| pixels(part.trim())).collect();
        match numbers.ok_or_else(bad)?[..] {
            [x, y, w, h] if w > 0 && h > 0 => Ok(Self::Region { x, y, w, h }),
            _ => Err(bad()),
        }
    }
}

fn pixels(text: &str) -> Option<u32> {
    text.bytes().all(|byte| byte.is_ascii_digit()).then(|| text.parse().ok()).flatten()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_and_prints() {
        for text in ["centre", "whole", "120,80,1600,1200", "0,0,1,1"] {
            assert_eq!(text.parse::<Crop>().unwrap().to_string(), text);
        }
        assert_eq!(" 1, 2, 3, 4 ".parse(), Ok(Crop::Region { x: 1, y: 2, w: 3, h: 4 }));
    }

    #[test]
    fn refuses_what_names_no_part() {
        for text in [
            "",
            "middle",
            "1,2,3",
            "1,2,3,4,5",
            "-1,0,3,3",
            "+1,0,3,3",
            "1,2,0,4",
            "1,2,3,0",
            "1,,3,4",
            "9999999999,0,1,1",
        ] {
            assert!(text.parse::<Crop>().is_err(), "{text}");
        }
        assert!("middle".parse::<Crop>().unwrap_err().to_string().contains("write `centre`, `whole`"));
    }
}
