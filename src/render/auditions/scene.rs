//! Scenes and pictures in cells, small enough for a sheet with many of them.

use typed_index_collections::TiVec;

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write;

use crate::fabric::{Fabric, Print, Rgb};
use crate::plan::Plan;
use crate::render::palette::grey;

/// The stroke that closes gaps between neighbours, in cells.
const OVERLAP: f64 = 0.12;

/// In colour, or as greys of the same lightness.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum View {
    Colour,
    Greys,
}

impl View {
    /// The colour as this view shows it.
    pub fn of(self, colour: Rgb) -> Rgb {
        if self == Self::Greys { grey(colour) } else { colour }
    }
}

/// One path a fabric, in cells of the top; stroked in its own colour so that no gap shows.
pub(super) fn patches(plan: &Plan, view: View) -> String {
    let mut outlines: TiVec<Print, String> = vec![String::new(); plan.fabrics.len()].into();
    for patch in plan.placed().iter().flat_map(|unit| unit.patches()) {
        let outline = &mut outlines[patch.fabric];
        for (at, (x, y)) in patch.outline.iter().enumerate() {
            let _ = write!(outline, "{}{x} {y}", if at == 0 { 'M' } else { 'L' });
        }
        outline.push('Z');
    }
    let path = |(fabric, outline): (&Fabric, String)| {
        let colour = view.of(fabric.colour);
        format!("<path fill=\"{colour}\" stroke=\"{colour}\" d=\"{outline}\"/>\n")
    };
    let paths: String = plan.fabrics.iter().zip(outlines).filter(|(_, o)| !o.is_empty()).map(path).collect();
    format!("<g stroke-width=\"{OVERLAP}\" stroke-linejoin=\"round\">\n{paths}</g>\n")
}

/// Edges of cells for pixels: none is blended.
pub(super) const CRISP: &str = "shape-rendering=\"crispEdges\" stroke-width=\"0\"";
/// Edges of cells for paper: each goes a little under the next.
pub(super) const LAPPED: &str = "stroke-width=\"0.12\"";
/// Pictures of more colours than this are shown in fewer, which no eye can tell on a sheet.
const FEW: usize = 256;
/// Between two levels of one channel, where colours are fewer.
const STEP: u8 = 5;

/// One path a colour of the picture's cells, each run of equal cells in a row one rectangle.
pub(super) fn cells(plan: &Plan, view: View, edges: &str) -> String {
    let colours: BTreeSet<Rgb> = plan.picture.iter().copied().collect();
    let coarse = |Rgb(levels): Rgb| Rgb(levels.map(|level| (level / STEP * STEP).saturating_add(STEP / 2)));
    let shown = |colour: Rgb| view.of(if colours.len() > FEW { coarse(colour) } else { colour });
    let mut runs: BTreeMap<Rgb, String> = BTreeMap::new();
    for (y, row) in plan.picture.chunks(plan.request.cells().0.max(1) as usize).enumerate() {
        let row: Vec<Rgb> = row.iter().map(|&colour| shown(colour)).collect();
        let mut x = 0;
        for run in row.chunk_by(|one, other| one == other) {
            let path = runs.entry(run[0]).or_default();
            let _ = write!(path, "M{x} {y}h{}v1h-{}z", run.len(), run.len());
            x += run.len();
        }
    }
    let path = |(colour, path): (Rgb, String)| format!("<path fill=\"{colour}\" stroke=\"{colour}\" d=\"{path}\"/>\n");
    let paths: String = runs.into_iter().map(path).collect();
    format!("<g {edges}>\n{paths}</g>\n")
}
