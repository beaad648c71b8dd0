//! The scene in its real prints: every patch filled from the photograph of its fabric, to scale, as PNG.

use rayon::prelude::*;

use super::png::{over, size};
use super::svg::seams;
use super::{Options, RenderError};
use crate::fabric::{Fabric, Print, Rgb};
use crate::make::{UnitWork, Work};
use crate::measure::Length;
use crate::plan::Plan;
use crate::unit::Patch;

/// The most samples along a side of a pixel.
const FINEST: f64 = 4.0;

/// The scene in its prints, `options.pixels` on its longer side; nothing where no fabric has a photograph. A fabric
/// without one is painted in its colour.
pub fn prints_png(plan: &Plan, work: &Work, options: &Options) -> Result<Option<Vec<u8>>, RenderError> {
    if plan.fabrics.iter().all(|fabric| fabric.thumbnail.is_none()) {
        return Ok(None);
    }
    let (width, height) = size(plan, options.pixels)?;
    let units: Vec<&UnitWork> = work.rows.iter().flat_map(|row| &row.units).collect();
    let cloths: Vec<Cloth> = plan.fabrics.iter().map(|fabric| Cloth::new(fabric, plan)).collect();
    let patches = Patches::new(plan, &units);
    // Cells of the top to a pixel.
    let [across, down] = [f64::from(patches.columns) / f64::from(width), f64::from(patches.rows) / f64::from(height)];
    let pixel = |at: u32| {
        let (x, y) = (f64::from(at % width), f64::from(at / width));
        let middle = patches.at((x + 0.5) * across, (y + 0.5) * down);
        let fine = middle.map_or(1.0, |print| (cloths[usize::from(print)].finest * across).ceil().clamp(2.0, FINEST));
        let each = (0..(fine * fine) as u32).map(|part| {
            let place = |part: f64| (part + 0.5) / fine;
            let (u, v) = (f64::from(part) % fine, (f64::from(part) / fine).floor());
            let (x, y) = ((x + place(u)) * across, (y + place(v)) * down);
            patches.at(x, y).or(middle).map_or([1.0; 3], |print| cloths[usize::from(print)].light(x, y))
        });
        let sum = each.fold([0.0; 3], |sum: [f64; 3], light| [0, 1, 2].map(|i| sum[i] + light[i]));
        Rgb::from_linear(sum.map(|sum| sum / (fine * fine)))
    };
    let pixels: Vec<Rgb> = (0..width * height).into_par_iter().map(pixel).collect();
    let inch = [plan.request.width, plan.request.height].map(|side| side.as_inches());
    let scale = [f64::from(width) / inch[0], f64::from(height) / inch[1]];
    let lines = if options.seams { seams(plan, &units) } else { String::new() };
    let body = format!("<g transform=\"scale({} {})\">\n{lines}</g>\n", scale[0], scale[1]);
    over(&pixels, (width, height), &body).map(Some).map_err(RenderError::Drawing)
}

/// The cloth of a fabric.
struct Cloth {
    /// Pixels of its photograph across and down, in linear light; one where it has none.
    size: [u32; 2],
    light: Vec<[f64; 3]>,
    /// How many cells of the top the photograph shows across and down.
    cells: [f64; 2],
    /// Pixels of the photograph to a cell.
    finest: f64,
}

impl Cloth {
    fn new(fabric: &Fabric, plan: &Plan) -> Self {
        let flat = || (1, 1, vec![fabric.colour]);
        let (width, height, pixels) = fabric.thumbnail.as_ref().map_or_else(flat, |thumbnail| thumbnail.pixels());
        let shown = fabric.shown_width(plan.request.ruler).as_inches() / plan.request.grid.as_inches();
        let cells = [shown, shown * f64::from(height) / f64::from(width)];
        let light = pixels.iter().map(|pixel| pixel.linear()).collect();
        Self { size: [width, height], light, cells, finest: f64::from(width) / shown }
    }

    /// The light at a place of the top, in cells: the photograph laid beside itself, every other one mirrored, so that no
    /// edge shows.
    fn light(&self, x: f64, y: f64) -> [f64; 3] {
        let [across, down] = [self.along(0, x), self.along(1, y)];
        let mut sum = [0.0; 3];
        for (row, rows) in down {
            for (column, columns) in across {
                let light = self.light[(row * self.size[0] + column) as usize];
                (0..3).for_each(|i| sum[i] += rows * columns * light[i]);
            }
        }
        sum
    }

    /// The two pixels beside a place, and how near each is.
    fn along(&self, side: usize, at: f64) -> [(u32, f64); 2] {
        let tile = at / self.cells[side];
        let part = if tile.floor() % 2.0 == 0.0 { tile.fract() } else { 1.0 - tile.fract() };
        let most = f64::from(self.size[side] - 1);
        let place = (part * f64::from(self.size[side]) - 0.5).clamp(0.0, most);
        let upper = place.fract();
        [(place as u32, 1.0 - upper), ((place as u32 + 1).min(self.size[side] - 1), upper)]
    }
}

/// The patches that show in each cell of the top.
struct Patches {
    columns: u32,
    rows: u32,
    patches: Vec<Patch<Print>>,
    cells: Vec<Vec<usize>>,
}

impl Patches {
    fn new(plan: &Plan, units: &[&UnitWork]) -> Self {
        let count = |side: Length| side.floor_div(plan.request.grid) as u32;
        let (columns, rows) = (count(plan.request.width), count(plan.request.height));
        let mut of = Self { columns, rows, patches: Vec::new(), cells: vec![Vec::new(); (columns * rows) as usize] };
        for patch in units.iter().flat_map(|unit| unit.placed.patches()) {
            let reach = |side: fn(&(u32, u32)) -> u32| {
                let each = patch.outline.iter().map(side);
                each.clone().min().unwrap_or(0)..each.max().unwrap_or(0)
            };
            for (x, y) in reach(|corner| corner.1).flat_map(|y| reach(|corner| corner.0).map(move |x| (x, y))) {
                of.cells[(y * columns + x) as usize].push(of.patches.len());
            }
            of.patches.push(patch);
        }
        of
    }

    /// The print at a place, in cells.
    fn at(&self, x: f64, y: f64) -> Option<Print> {
        let cell = (y as u32).min(self.rows - 1) * self.columns + (x as u32).min(self.columns - 1);
        let holds = |patch: &Patch<Print>| {
            let next = patch.outline.iter().cycle().skip(1);
            patch.outline.iter().zip(next).all(|(&(ax, ay), &(bx, by))| {
                let [ax, ay, bx, by] = [ax, ay, bx, by].map(f64::from);
                (bx - ax) * (y - ay) - (by - ay) * (x - ax) >= 0.0
            })
        };
        let patches = self.cells[cell as usize].iter().map(|&at| &self.patches[at]);
        patches.clone().find(|patch| holds(patch)).map(|patch| patch.fabric)
    }
}
