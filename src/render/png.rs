//! The drawing as a PNG.

use resvg::tiny_skia::{Color, Pixmap, Transform};
use resvg::usvg::Tree;

use super::{Options, RenderError, svg};
use crate::make::Work;
use crate::plan::Plan;

const LEAST: u32 = 16;
const MOST: u32 = 12_000;

/// The scene as PNG, `options.pixels` on its longer side.
pub fn png(plan: &Plan, work: &Work, options: &Options) -> Result<Vec<u8>, RenderError> {
    let asked = options.pixels;
    if !(LEAST..=MOST).contains(&asked) {
        return Err(RenderError::Pixels { asked, least: LEAST, most: MOST });
    }
    let failed = |what: &dyn ToString| RenderError::Drawing(what.to_string());
    let tree = Tree::from_str(&svg(plan, work, options), &Default::default()).map_err(|e| failed(&e))?;
    let (width, height) = size(plan, asked);
    let mut pixels = Pixmap::new(width, height).ok_or_else(|| failed(&format!("{width} x {height} pixels")))?;
    pixels.fill(Color::WHITE);
    let (across, down) = (width as f32 / tree.size().width(), height as f32 / tree.size().height());
    resvg::render(&tree, Transform::from_scale(across, down), &mut pixels.as_mut());
    pixels.encode_png().map_err(|e| failed(&e))
}

/// Pixels of the top's shape, the longer side as asked.
fn size(plan: &Plan, asked: u32) -> (u32, u32) {
    let (width, height) = (plan.request.width.ticks().max(1), plan.request.height.ticks().max(1));
    let longer = i128::from(width.max(height));
    let side = |ticks: i64| ((i128::from(ticks) * i128::from(asked) + longer / 2) / longer).max(1) as u32;
    (side(width), side(height))
}
