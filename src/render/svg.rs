//! The scene as a drawing: one polygon a patch, in finished inches.

use super::Options;
use super::palette::Palette;
use super::text::{escape, inches, title};
use crate::fabric::Print;
use crate::make::{UnitWork, Work};
use crate::measure::Length;
use crate::plan::Plan;
use crate::unit::Patch;

/// The longer side on a screen, in pixels.
const SCREEN: i64 = 900;

/// The scene as SVG.
pub fn svg(plan: &Plan, work: &Work, options: &Options) -> String {
    drawing(plan, work, options, "")
}

/// The scene for a picture in pixels, which it fills: rounded to whole pixels, a side may be a little out of shape.
pub(super) fn stretched(plan: &Plan, work: &Work, options: &Options) -> String {
    drawing(plan, work, options, " preserveAspectRatio=\"none\"")
}

fn drawing(plan: &Plan, work: &Work, options: &Options, shape: &str) -> String {
    let palette = Palette::new(plan, options);
    let units: Vec<&UnitWork> = work.rows.iter().flat_map(|row| &row.units).collect();
    let mut out = head(plan, shape);
    for unit in &units {
        for patch in unit.placed.patches() {
            out += &polygon(plan, unit, &patch, &palette);
        }
    }
    out += "</g>\n";
    if options.seams {
        out += &seams(plan, &units);
    }
    out + "</svg>\n"
}

fn head(plan: &Plan, shape: &str) -> String {
    let request = &plan.request;
    let (width, height) = (request.width, request.height);
    let longer = width.max(height).ticks().max(1);
    let screen = |side: Length| ((i128::from(side.ticks()) * i128::from(SCREEN)) / i128::from(longer)).max(1);
    let size = |side| request.ruler.show(side);
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {} {}\" width=\"{}\" height=\"{}\" role=\"img\"{shape}>\n\
         <title>{}, {} wide and {} tall</title>\n<g stroke-width=\"{}\" stroke-linejoin=\"round\">\n",
        inches(width),
        inches(height),
        screen(width),
        screen(height),
        escape(&title(plan)),
        size(width),
        size(height),
        inches(hairline(plan)),
    )
}

/// About one pixel on a screen: thin enough to be quiet, wide enough to close gaps.
fn hairline(plan: &Plan) -> Length {
    plan.request.width.max(plan.request.height) / SCREEN
}

/// Stroked in its own colour, so that no gap shows between neighbours.
fn polygon(plan: &Plan, unit: &UnitWork, patch: &Patch<Print>, palette: &Palette) -> String {
    let colour = palette.colour(patch.fabric);
    format!(
        "<polygon points=\"{}\" fill=\"{colour}\" stroke=\"{colour}\" data-unit=\"{}\" data-kind=\"{}\" data-fabric=\"{}\"/>\n",
        points(plan, patch, " "),
        unit.placed.address,
        escape(&unit.kind),
        escape(palette.letter(patch.fabric)),
    )
}

fn points(plan: &Plan, patch: &Patch<Print>, between: &str) -> String {
    let grid = plan.request.grid;
    let corner = |&(x, y): &(u32, u32)| format!("{},{}", inches(grid * x), inches(grid * y));
    patch.outline.iter().map(corner).collect::<Vec<_>>().join(between)
}

/// All outlines as one path, so that seams which two patches share are no darker.
pub(super) fn seams(plan: &Plan, units: &[&UnitWork]) -> String {
    let patches = units.iter().flat_map(|unit| unit.placed.patches());
    let outlines: String = patches.map(|patch| format!("M{}Z", points(plan, &patch, "L"))).collect();
    format!(
        "<path d=\"{outlines}\" fill=\"none\" stroke=\"#1d1b18\" stroke-opacity=\"0.3\" stroke-width=\"{}\"/>\n",
        inches(hairline(plan))
    )
}
