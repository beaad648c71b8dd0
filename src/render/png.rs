//! The drawing as a PNG.

use resvg::tiny_skia::{Color, Pixmap, Transform};
use resvg::usvg::Tree;

use super::svg::stretched;
use super::{Options, RenderError};
use crate::fabric::Rgb;
use crate::make::Work;
use crate::plan::Plan;

const LEAST: u32 = 16;
const MOST: u32 = 12_000;

/// The scene as PNG, `options.pixels` on its longer side.
pub fn png(plan: &Plan, work: &Work, options: &Options) -> Result<Vec<u8>, RenderError> {
    let size = size(plan, options.pixels)?;
    drawn(&stretched(plan, work, options), size).map_err(RenderError::Drawing)
}

/// What an SVG holds, on a white sheet of one pixel a unit, as PNG.
pub(super) fn sheet(body: &str, width: f64, height: f64) -> Result<Vec<u8>, String> {
    let (width, height) = (width.ceil() as u32, height.ceil() as u32);
    let svg =
        format!("<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}\" height=\"{height}\">\n{body}</svg>\n");
    drawn(&svg, (width, height))
}

/// What an SVG holds, over a picture of so many pixels, as PNG.
pub(super) fn over(under: &[Rgb], (width, height): (u32, u32), body: &str) -> Result<Vec<u8>, String> {
    let svg =
        format!("<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}\" height=\"{height}\">\n{body}</svg>\n");
    let tree = Tree::from_str(&svg, &Default::default()).map_err(|error| error.to_string())?;
    let mut pixels = Pixmap::new(width, height).ok_or_else(|| format!("{width} x {height} pixels"))?;
    let samples = under.iter().flat_map(|&Rgb([r, g, b])| [r, g, b, u8::MAX]);
    pixels.data_mut().iter_mut().zip(samples).for_each(|(to, from)| *to = from);
    resvg::render(&tree, Transform::identity(), &mut pixels.as_mut());
    pixels.encode_png().map_err(|error| error.to_string())
}

/// An SVG drawn on white at so many pixels, as PNG.
fn drawn(svg: &str, (width, height): (u32, u32)) -> Result<Vec<u8>, String> {
    let tree = Tree::from_str(svg, &Default::default()).map_err(|error| error.to_string())?;
    let mut pixels = Pixmap::new(width, height).ok_or_else(|| format!("{width} x {height} pixels"))?;
    pixels.fill(Color::WHITE);
    let (across, down) = (width as f32 / tree.size().width(), height as f32 / tree.size().height());
    resvg::render(&tree, Transform::from_scale(across, down), &mut pixels.as_mut());
    pixels.encode_png().map_err(|error| error.to_string())
}

/// Pixels of the top's shape, the longer side as asked.
pub(super) fn size(plan: &Plan, asked: u32) -> Result<(u32, u32), RenderError> {
    if !(LEAST..=MOST).contains(&asked) {
        return Err(RenderError::Pixels { asked, least: LEAST, most: MOST });
    }
    let (width, height) = (plan.request.width.ticks().max(1), plan.request.height.ticks().max(1));
    let longer = i128::from(width.max(height));
    let side = |ticks: i64| ((i128::from(ticks) * i128::from(asked) + longer / 2) / longer).max(1) as u32;
    Ok((side(width), side(height)))
}
