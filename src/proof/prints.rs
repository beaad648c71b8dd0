//! prints.png against the plan: the inside of every patch shows the photograph of its fabric, where and as large as it is.

use std::ops::RangeInclusive;

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use image::RgbaImage;

use super::cloth::Patch;
use super::fabric::FabricFile;
use super::fault::{Fault, short};
use super::png::{Raster, rgb};
use super::scene::Scene;
use crate::measure::{Length, Ruler};

/// How far a level may be off what is seen in the photograph around a place: roundings, there and back.
const STEPS: u8 = 3;
/// The longest side of a small picture.
const LONGEST: u32 = 256;

/// Checks that the picture is there where a fabric has a photograph, and nowhere else, and what it shows.
pub fn check(scene: &Scene, bytes: Option<&[u8]>) -> Result<(), Fault> {
    let due = scene.fabrics.values().any(|fabric| fabric.thumbnail.is_some());
    let bytes = match (due, bytes) {
        (true, None) => return Err(fault("it is missing, and the plan holds photographs of its fabrics")),
        (false, Some(_)) => return Err(fault("no fabric of the plan has a photograph: it is of another scene")),
        (false, None) => return Ok(()),
        (true, Some(bytes)) => bytes,
    };
    let raster = Raster::new(scene, "prints.png", bytes)?;
    for unit in scene.bands.iter().flatten().flatten().flatten() {
        for patch in &unit.patches {
            let fabric = scene.fabrics.get(&patch.fabric);
            let print = fabric.and_then(|fabric| Print::new(fabric, scene.ruler, &raster));
            let print = print.ok_or_else(|| fault(format!("fabric {} has no colour", short(&patch.fabric))))?;
            if !shown(&raster, patch, &print) {
                let what = format!("its patch of fabric {} shows another print in prints.png", short(&patch.fabric));
                return Err(Fault::new(&unit.address, what));
            }
        }
    }
    Ok(())
}

fn fault(what: impl std::fmt::Display) -> Fault {
    Fault::new("prints.png", what)
}

/// A print as it lies over the picture.
struct Print {
    photo: RgbaImage,
    /// Pixels of the picture that the photograph covers, across and down.
    tile: [f64; 2],
}

impl Print {
    fn new(fabric: &FabricFile, ruler: Ruler, raster: &Raster) -> Option<Self> {
        let photo = match &fabric.thumbnail {
            Some(address) => photo(address)?,
            None => {
                let [r, g, b] = rgb(&fabric.colour)?;
                RgbaImage::from_pixel(1, 1, image::Rgba([r, g, b, 255]))
            }
        };
        // Where nobody said how wide it is.
        let usual = if ruler == Ruler::Inch { Length::inches(5, 1) } else { Length::mm(120) };
        let wide = fabric.swatch_width.unwrap_or(usual).ticks() as f64;
        let tall = wide * f64::from(photo.height()) / f64::from(photo.width());
        let (across, down) = raster.scale();
        Some(Self { photo, tile: [wide * across, tall * down] })
    }

    /// The least and the most of each level that the photograph has around a pixel of the picture.
    fn around(&self, x: u32, y: u32) -> [RangeInclusive<u8>; 3] {
        let (columns, rows) =
            (self.reach(x, self.tile[0], self.photo.width()), self.reach(y, self.tile[1], self.photo.height()));
        let (mut least, mut most) = ([u8::MAX; 3], [0; 3]);
        for row in rows {
            for column in columns.clone() {
                let level = self.photo.get_pixel(column, row).0;
                for i in 0..3 {
                    (least[i], most[i]) = (least[i].min(level[i]), most[i].max(level[i]));
                }
            }
        }
        [0, 1, 2].map(|i| least[i].saturating_sub(STEPS)..=most[i].saturating_add(STEPS))
    }

    /// Pixels of the photograph that may show in one of the picture: it runs to and fro.
    fn reach(&self, pixel: u32, tile: f64, count: u32) -> RangeInclusive<u32> {
        let (from, to) = (f64::from(pixel) / tile, f64::from(pixel + 1) / tile);
        let last = f64::from(count - 1);
        if to - from >= 1.0 {
            return 0..=count - 1;
        }
        let fold = |at: f64| {
            let twice = at - 2.0 * (at / 2.0).floor();
            if twice > 1.0 { 2.0 - twice } else { twice }
        };
        let (one, other) = (fold(from), fold(to));
        // Past a fold the end of the photograph shows.
        let turned = from.floor() != to.floor();
        let end = if (from.floor() as i64) % 2 == 0 { 1.0 } else { 0.0 };
        let (mut low, mut high) = (one.min(other), one.max(other));
        if turned {
            (low, high) = (low.min(end), high.max(end));
        }
        let at = |part: f64, off: f64| (part * f64::from(count) + off).clamp(0.0, last) as u32;
        at(low, -1.5)..=at(high, 1.5)
    }
}

/// The small picture of a `data:` address (RFC 2397).
fn photo(address: &str) -> Option<RgbaImage> {
    let bytes = STANDARD.decode(address.split_once(";base64,")?.1).ok()?;
    let photo = image::load_from_memory(&bytes).ok()?.into_rgba8();
    let sides = 1..=LONGEST;
    (sides.contains(&photo.width()) && sides.contains(&photo.height())).then_some(photo)
}

/// Whether the inside of a patch shows its print.
fn shown(raster: &Raster, patch: &Patch, print: &Print) -> bool {
    raster.inside(patch).all(|(x, y)| {
        let levels = raster.level(x, y);
        print.around(x, y).iter().zip(levels).all(|(range, level)| range.contains(&level))
    })
}
