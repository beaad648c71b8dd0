//! A scene as cells.

use crate::fabric::{Print, Rgb};
use crate::plan::{Piece, Placed, Plan};
use crate::unit::Triangle;

/// The colours of a cell's two halves: two where a diagonal seam crosses it, else twice the same.
pub type Halves = [Rgb; 2];

/// The scene's colours in each cell of the top, row by row.
pub fn raster(plan: &Plan) -> Vec<Halves> {
    let columns = plan.request.cells().0 as usize;
    let mut cells = vec![Halves::default(); plan.picture.len()];
    for placed in plan.placed() {
        for (x, y) in (0..placed.height).flat_map(|y| (0..placed.unit.width).map(move |x| (x, y))) {
            let at = (placed.y + y) as usize * columns + (placed.x + x) as usize;
            if let Some(cell) = cells.get_mut(at) {
                *cell = fabrics(&placed, x, y).map(|print| plan.fabrics[print].colour);
            }
        }
    }
    cells
}

/// The fabrics of both halves of a cell of the unit.
fn fabrics(placed: &Placed, x: u32, y: u32) -> [Print; 2] {
    match placed.unit.piece {
        Piece::Filler(fabric) => [fabric; 2],
        Piece::Triangle(triangle) => {
            [0, 1].map(|half| if in_tip(&triangle, placed, x, y, half) { triangle.tip } else { triangle.rest })
        }
    }
}

/// Whether a half of a cell lies in the tip, the half nearer to the tip's corner being 0.
fn in_tip(triangle: &Triangle<Print>, placed: &Placed, x: u32, y: u32, half: u32) -> bool {
    let (width, height) = (placed.unit.width, placed.height);
    let from_left = if triangle.corner.is_left() { x } else { width - 1 - x };
    let from_top = if triangle.corner.is_upper() { y } else { height - 1 - y };
    from_left + from_top + half < width.min(height)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::{Address, State, Unit};
    use crate::unit::{Corner, Cut};

    /// How many halves of each cell are in the tip.
    fn halves(corner: Corner, width: u32, height: u32) -> Vec<usize> {
        let triangle = Triangle { block: 3, cut: Cut::Whole, corner, tip: Print(1), rest: Print(0) };
        let unit = Unit { width, piece: Piece::Triangle(triangle), state: State::Free };
        let address = Address { band: 1, column: 1, row: 1, unit: 1 };
        let placed = Placed { address, x: 0, y: 0, height, unit };
        let cells = (0..height).flat_map(|y| (0..width).map(move |x| (x, y)));
        cells.map(|(x, y)| fabrics(&placed, x, y).iter().map(|print| print.0).sum()).collect()
    }

    #[test]
    fn the_seam_halves_the_cells_that_it_crosses() {
        assert_eq!(halves(Corner::UpperLeft, 3, 3), [2, 2, 1, 2, 1, 0, 1, 0, 0]);
        assert_eq!(halves(Corner::LowerLeft, 3, 3), [1, 0, 0, 2, 1, 0, 2, 2, 1]);
        assert_eq!(halves(Corner::UpperRight, 3, 2), [0, 1, 2, 0, 0, 1]);
    }
}
