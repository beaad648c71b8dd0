//! picture.png against the plan: the inside of every patch has its fabric's colour.

use std::io::Cursor;

use image::{ImageFormat, ImageReader, Limits, RgbaImage};

use super::cloth::Patch;
use super::fault::{Fault, short};
use super::paper::edges;
use super::scene::Scene;
use crate::measure::math;

const LONGEST: u32 = 12_000;
const MOST_BYTES: u64 = 1 << 30;
/// A drawn line is one pixel thick on a screen of so many.
const SCREEN: f64 = 900.0;

/// Checks the shape of the picture, and every pixel that no seam comes near.
pub fn check(scene: &Scene, bytes: &[u8]) -> Result<(), Fault> {
    let raster = Raster::new(scene, "picture.png", bytes)?;
    for unit in scene.bands.iter().flatten().flatten().flatten() {
        for patch in &unit.patches {
            let colour = scene.fabrics.get(&patch.fabric).and_then(|fabric| rgb(&fabric.colour));
            let colour = colour.ok_or_else(|| fault(format!("fabric {} has no colour", short(&patch.fabric))))?;
            if !raster.inside(patch).all(|(x, y)| raster.level(x, y) == colour) {
                let what = format!("its patch of fabric {} has another colour in picture.png", short(&patch.fabric));
                return Err(Fault::new(&unit.address, what));
            }
        }
    }
    Ok(())
}

/// A picture of the top in pixels.
pub struct Raster {
    picture: RgbaImage,
    /// Pixels to a tick, across and down.
    scale: (f64, f64),
    /// How far in pixels a seam may reach into a patch.
    margin: f64,
}

impl Raster {
    /// Reads a picture of the top's shape.
    pub fn new(scene: &Scene, name: &str, bytes: &[u8]) -> Result<Self, Fault> {
        let picture = read(bytes).map_err(|error| Fault::new(name, format!("it cannot be read: {error}")))?;
        let (width, height) = (scene.size.width.ticks() as f64, scene.size.height.ticks() as f64);
        let (across, down) = (f64::from(picture.width()), f64::from(picture.height()));
        // The shorter side is rounded to a whole pixel.
        let longer = width.max(height) / across.max(down);
        if (width / longer - across).abs().max((height / longer - down).abs()) > 1.0 {
            return Err(Fault::new(name, "it has not the shape of the top"));
        }
        if picture.pixels().any(|pixel| pixel.0[3] != u8::MAX) {
            return Err(Fault::new(name, "it is not filled everywhere"));
        }
        // Where two lines meet at 45 degrees their tip reaches 1 / sin 22.5° = 2.61 halves of their thickness, and none
        // is drawn thinner than a pixel.
        let margin = 1.0 + 2.7 * (across.max(down) / SCREEN).max(1.0) / 2.0;
        Ok(Self { picture, scale: (across / width, down / height), margin })
    }

    /// Pixels to a tick, across and down.
    pub fn scale(&self) -> (f64, f64) {
        self.scale
    }

    /// Red, green and blue of a pixel.
    pub fn level(&self, x: u32, y: u32) -> [u8; 3] {
        let [r, g, b, _] = self.picture.get_pixel(x, y).0;
        [r, g, b]
    }

    /// The pixels of a patch that no seam comes near.
    pub fn inside(&self, patch: &Patch) -> impl Iterator<Item = (u32, u32)> {
        let pixel =
            |point: super::paper::Point| (point.x.ticks() as f64 * self.scale.0, point.y.ticks() as f64 * self.scale.1);
        let sides: Vec<Side> = edges(&patch.outline).map(|(from, to)| Side::new(pixel(from), pixel(to))).collect();
        let corners: Vec<(f64, f64)> = patch.outline.iter().map(|point| pixel(*point)).collect();
        let range = |of: fn(&(f64, f64)) -> f64, most: u32| {
            let (least, last) = corners.iter().map(of).fold((f64::MAX, 0.0_f64), |(a, b), c| (a.min(c), b.max(c)));
            (least.max(0.0) as u32)..(last.ceil() as u32).min(most)
        };
        let (columns, lines) = (range(|c| c.0, self.picture.width()), range(|c| c.1, self.picture.height()));
        let margin = self.margin;
        let each = lines.flat_map(move |y| columns.clone().map(move |x| (x, y)));
        each.filter(move |&(x, y)| {
            let centre = (f64::from(x) + 0.5, f64::from(y) + 0.5);
            sides.iter().all(|side| side.depth(centre) >= margin)
        })
    }
}

fn fault(what: impl std::fmt::Display) -> Fault {
    Fault::new("picture.png", what)
}

fn read(bytes: &[u8]) -> Result<RgbaImage, image::ImageError> {
    let mut reader = ImageReader::with_format(Cursor::new(bytes), ImageFormat::Png);
    let mut limits = Limits::default();
    limits.max_image_width = Some(LONGEST);
    limits.max_image_height = Some(LONGEST);
    limits.max_alloc = Some(MOST_BYTES);
    reader.limits(limits);
    Ok(reader.decode()?.into_rgba8())
}

/// `#rrggbb`.
pub fn rgb(text: &str) -> Option<[u8; 3]> {
    let hex = text.strip_prefix('#').filter(|hex| hex.len() == 6 && hex.bytes().all(|b| b.is_ascii_hexdigit()))?;
    let [_, r, g, b] = u32::from_str_radix(hex, 16).ok()?.to_be_bytes();
    Some([r, g, b])
}

/// An edge, with the way that points to the inside of an outline that runs clockwise.
struct Side {
    from: (f64, f64),
    inward: (f64, f64),
}

impl Side {
    fn new(from: (f64, f64), to: (f64, f64)) -> Self {
        let (right, down) = (to.0 - from.0, to.1 - from.1);
        let length = math::length(right, down).max(f64::MIN_POSITIVE);
        Self { from, inward: (-down / length, right / length) }
    }

    /// How far inside a point is.
    fn depth(&self, (x, y): (f64, f64)) -> f64 {
        (x - self.from.0) * self.inward.0 + (y - self.from.1) * self.inward.1
    }
}
