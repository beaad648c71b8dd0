//! Changes of the picture in pixels: a dot of another colour in each patch, and a picture of another shape.

use std::io::Cursor;
use std::sync::Arc;

use image::{ImageFormat, RgbaImage};

use crate::spoilt::change::Change;
use crate::spoilt::scene::Scene;

const FILE: &str = "picture.png";

pub fn pixels(scene: &Scene) -> Vec<Change> {
    let picture = Arc::new(image::load_from_memory(scene.file(FILE)).unwrap().into_rgba8());
    let plan: serde_json::Value = serde_json::from_str(scene.text("plan.json")).unwrap();
    let units = plan["bands"].as_array().unwrap().iter().flat_map(|band| band["columns"].as_array().unwrap());
    let units = units.flat_map(|column| column["rows"].as_array().unwrap());
    let units: Vec<_> = units.flat_map(|row| row["units"].as_array().unwrap()).collect();
    let patches = || units.iter().flat_map(|unit| unit["patches"].as_array().unwrap());
    let corners = |patch: &serde_json::Value| -> Vec<[f64; 2]> {
        let corner = |corner: &serde_json::Value| [0, 1].map(|side| corner[side].as_f64().unwrap());
        patch["outline"].as_array().unwrap().iter().map(corner).collect()
    };
    let most = |side: usize| patches().flat_map(corners).map(|corner| corner[side]).fold(0.0, f64::max);
    let scale = [f64::from(picture.width()) / most(0), f64::from(picture.height()) / most(1)];
    let mut changes = Vec::new();
    for patch in patches() {
        let corners = corners(patch);
        let middle = [0, 1].map(|side| {
            let sum: f64 = corners.iter().map(|corner| corner[side]).sum();
            (sum / corners.len() as f64 * scale[side]) as u32
        });
        let picture = Arc::clone(&picture);
        changes.push(Change::new(FILE, "colour", "pixel", move || {
            let mut picture = RgbaImage::clone(&picture);
            picture.get_pixel_mut(middle[0], middle[1]).0[1] ^= 1;
            written(&picture)
        }));
    }
    let narrow = Arc::clone(&picture);
    changes.push(Change::new(FILE, "length", "width", move || {
        written(&image::imageops::crop_imm(&*narrow, 0, 0, narrow.width() - 9, narrow.height()).to_image())
    }));
    changes
}

fn written(picture: &RgbaImage) -> Vec<u8> {
    let mut bytes = Cursor::new(Vec::new());
    picture.write_to(&mut bytes, ImageFormat::Png).unwrap();
    bytes.into_inner()
}
