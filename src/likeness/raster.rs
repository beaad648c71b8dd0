//! A scene as cells.

use crate::fabric::Rgb;
use crate::plan::Plan;

/// The colours of a cell's two halves: two where a diagonal seam crosses it, else twice the same.
pub type Halves = [Rgb; 2];

/// The scene's colours in each cell of the top, row by row.
pub fn raster(plan: &Plan) -> Vec<Halves> {
    let columns = plan.request.cells().0 as usize;
    let mut cells = vec![Halves::default(); plan.picture.len()];
    for placed in plan.placed() {
        let (width, height) = (placed.unit.width, placed.height);
        let colours: Vec<Rgb> = placed.unit.piece.fabrics().map(|print| plan.fabrics[print].colour).collect();
        for (x, y) in (0..height).flat_map(|y| (0..width).map(move |x| (x, y))) {
            let at = (placed.y + y) as usize * columns + (placed.x + x) as usize;
            if let Some(cell) = cells.get_mut(at) {
                *cell = placed.unit.piece.patches_at([x, y], width, height).map(|patch| colours[patch]);
            }
        }
    }
    cells
}
