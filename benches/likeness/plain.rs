//! What a scene is held against: plain grids in the same fabrics, of at least as many units.

use rowscape::fabric::{Rgb, hyab};
use rowscape::likeness::Halves;

/// A plain grid as cells, and how many units it has.
pub struct Grid {
    /// The top's cells.
    pub cells: Vec<Halves>,
    /// How many squares.
    pub units: usize,
}

/// What a grid is laid over.
pub struct Ground<'a> {
    /// The picture's cells.
    pub picture: &'a [Rgb],
    /// Cells across.
    pub columns: usize,
    /// The fabrics.
    pub fabrics: &'a [Rgb],
}

/// How the halves of a cell in a square fall: by the cell's place and the square's side, 0 or 1 for each half.
type Split = fn(usize, usize, usize) -> [usize; 2];

const WHOLE: [Split; 1] = [|_, _, _| [0, 0]];
const DIAGONALS: [Split; 2] = [|x, y, side| halves(x + y + 1, side), |x, y, side| halves(x + side - y, side)];

fn halves(along: usize, side: usize) -> [usize; 2] {
    [usize::from(along > side), usize::from(along >= side)]
}

impl Ground<'_> {
    /// Squares, each in its best fabric.
    pub fn squares(&self, least_units: usize) -> Grid {
        self.grid(least_units, &WHOLE)
    }

    /// Squares split on the better diagonal, each half in its best fabric.
    pub fn triangle_squares(&self, least_units: usize) -> Grid {
        self.grid(least_units, &DIAGONALS)
    }

    /// The largest squares that make enough units; the top's right and lower edge may cut the last ones off.
    fn grid(&self, least_units: usize, splits: &[Split]) -> Grid {
        let rows = self.picture.len() / self.columns;
        let units = |side: usize| self.columns.div_ceil(side) * rows.div_ceil(side);
        let side = (1..=self.columns).rev().find(|&side| units(side) >= least_units).unwrap_or(1);
        let mut cells = vec![Halves::default(); self.picture.len()];
        for (x, y) in (0..rows).step_by(side).flat_map(|y| (0..self.columns).step_by(side).map(move |x| (x, y))) {
            let inside = (y..rows.min(y + side)).flat_map(|v| (x..self.columns.min(x + side)).map(move |u| (u, v)));
            self.lay(&inside.collect::<Vec<_>>(), (x, y, side), splits, &mut cells);
        }
        Grid { cells, units: units(side) }
    }

    fn lay(&self, inside: &[(usize, usize)], square: (usize, usize, usize), splits: &[Split], cells: &mut [Halves]) {
        let (x, y, side) = square;
        let tried = splits.iter().map(|split| {
            let part = |&(u, v): &(usize, usize)| split(u - x, v - y, side);
            let parts: Vec<[usize; 2]> = inside.iter().map(part).collect();
            let (errors, fabrics): (Vec<f64>, Vec<Rgb>) = (0..2).map(|part| self.best(inside, &parts, part)).unzip();
            (errors.iter().sum::<f64>(), parts, fabrics)
        });
        let Some((_, parts, fabrics)) = tried.min_by(|a, b| a.0.total_cmp(&b.0)) else { return };
        for (&(u, v), parts) in inside.iter().zip(&parts) {
            cells[v * self.columns + u] = parts.map(|part| fabrics[part]);
        }
    }

    /// The best fabric of one part of a square, and its error.
    fn best(&self, inside: &[(usize, usize)], parts: &[[usize; 2]], wanted: usize) -> (f64, Rgb) {
        let error = |fabric: Rgb| {
            let cell = |(&(u, v), parts): (&(usize, usize), &[usize; 2])| {
                let count = parts.iter().filter(|&&part| part == wanted).count();
                if count == 0 { 0.0 } else { count as f64 / 2.0 * hyab(fabric, self.picture[v * self.columns + u]) }
            };
            inside.iter().zip(parts).map(cell).sum::<f64>()
        };
        let tried = self.fabrics.iter().map(|&fabric| (error(fabric), fabric));
        tried.min_by(|a, b| a.0.total_cmp(&b.0)).unwrap_or_default()
    }
}
