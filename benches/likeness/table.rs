//! Scenes of 72 x 54 in at most, of three kinds of squares: how true, how many units, and what looks like an accident.

use std::path::{Path, PathBuf};

use rayon::prelude::*;
use rowscape::fabric::{Rgb, hyab};
use rowscape::likeness::{likeness, pieces};
use rowscape::measure::Length;
use rowscape::plan::{Effort, Plan};
use rowscape::unit::Square;

use super::scenes::{Sitter, pictures};
use super::yardstick::short;

/// The squares that units are made from; quartered ones give the scenes of squares half as large.
const SQUARES: [&str; 3] = ["10in", "10in/4", "5in"];
/// What is done to suit the colours.
const EFFORTS: [(&str, Effort); 2] = [("as proposed", Effort::None), ("suited", Effort::Full)];
/// Sides of a column edge nearer than this over their reach look alike.
const ALIKE: f64 = 10.0;
const REACH: Length = Length::from_ticks(2 * Length::INCH.ticks());
/// Rows lower than this are low.
const LOW: Length = REACH;

/// What the table shows of a scene, in its order.
type Figures = [f64; 6];

/// Prints the table over the pictures of the folders.
pub fn print(folders: &[&Path]) {
    let mut paths: Vec<PathBuf> = folders.iter().flat_map(|folder| pictures(folder)).collect();
    // A picture that lies in two folders is shown once.
    paths.sort_by(|one, other| one.file_name().cmp(&other.file_name()));
    paths.dedup_by(|one, other| one.file_name() == other.file_name());
    println!("Scenes of 72 x 54 in at most, 12 colours; blurred by 1 in; inches of plain column edge; rows under 2 in");
    for (square, (colours, effort)) in SQUARES.into_iter().flat_map(|square| EFFORTS.map(|effort| (square, effort))) {
        println!(
            "\n{:<22} {:>8} {:>6} {:>10} {:>8} {:>6} {:>9}",
            format!("{square} {colours}"),
            "error",
            "units",
            "triangles",
            "trimmed",
            "edges",
            "low rows"
        );
        let square: Square = square.parse().expect("a square");
        let lines: Vec<(String, Figures)> = paths.par_iter().map(|path| line(path, square, effort)).collect();
        lines.iter().for_each(|(name, figures)| show(name, figures));
        let mean = |i: usize| lines.iter().map(|(_, figures)| figures[i]).sum::<f64>() / lines.len().max(1) as f64;
        show("mean", &std::array::from_fn(mean));
    }
}

fn show(name: &str, [error, units, triangles, trimmed, edges, low]: &Figures) {
    println!("{name:<22} {error:>8.3} {units:>6.0} {triangles:>10.3} {trimmed:>8.3} {edges:>6.1} {low:>9.1}");
}

fn line(path: &Path, square: Square, effort: Effort) -> (String, Figures) {
    let sitter = Sitter::within(path, [72, 54], square).suited(effort);
    let (plan, _) = sitter.compose(100);
    let counts = pieces(&plan);
    let (triangles, all) = counts.triangle_cells;
    let figures = [
        likeness(&plan).squinted,
        counts.units as f64,
        triangles as f64 / all.max(1) as f64,
        counts.trimmed as f64 / counts.units.max(1) as f64,
        plain_edges(&plan),
        plan.rows().iter().filter(|(_, row)| plan.request.grid * row.height < LOW).count() as f64,
    ];
    (short(&sitter.name), figures)
}

/// Inches of column edges along which the picture looks alike on both sides.
fn plain_edges(plan: &Plan) -> f64 {
    let mut top = 0;
    let mut plain = 0;
    for band in &plan.bands {
        let rows = top..top + band.height as usize;
        let mut x = 0;
        for column in band.columns.iter().take(band.columns.len().saturating_sub(1)) {
            x += column.width as usize;
            plain += rows.clone().filter(|&y| contrast(plan, x, y) < ALIKE).count();
        }
        top = rows.end;
    }
    plain as f64 * plan.request.grid.as_inches()
}

/// HyAB between the mean colours on both sides of an edge in one row of cells.
fn contrast(plan: &Plan, x: usize, y: usize) -> f64 {
    let columns = plan.request.cells().0 as usize;
    let reach = REACH.floor_div(plan.request.grid).max(1) as usize;
    let cells = &plan.picture[y * columns..(y + 1) * columns];
    hyab(mean(&cells[x.saturating_sub(reach)..x]), mean(&cells[x..columns.min(x + reach)]))
}

/// The mean in linear light.
fn mean(cells: &[Rgb]) -> Rgb {
    let sum = |channel: usize| cells.iter().map(|cell| cell.linear()[channel]).sum::<f64>();
    Rgb::from_linear(std::array::from_fn(|channel| sum(channel) / cells.len().max(1) as f64))
}
