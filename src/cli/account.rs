//! The short account of what was made.

use std::fmt::Write;
use std::path::Path;

use rowscape::compose::PER_HYAB;
use rowscape::plan::{Piece, Placed};
use rowscape::unit::Cut;

use super::made::{FILES, Made};

/// What `compose` says at the end.
pub fn account(made: &Made, out: &Path) -> String {
    let (plan, work) = (&made.plan, &made.work);
    let request = &plan.request;
    let show = |length| request.ruler.show(length);
    let placed = plan.placed();
    let mut text = String::new();
    let mut line = |name: &str, words: String| {
        let _ = writeln!(text, "  {name:<15}{words}");
    };
    let used = plan.fabrics.iter().enumerate().filter(|(index, _)| uses(&placed, *index)).count();
    line("top", format!("{} x {} finished, {used} fabrics", show(request.width), show(request.height)));
    line("pieces", pieces(&placed));
    line("layout", layout(made));
    let share = triangle_share(&placed);
    line("triangle units", format!("{share} % of the area"));
    let pairs: u32 = work.batches.iter().map(|batch| batch.pairs).sum();
    let spare: u32 = work.batches.iter().map(|batch| batch.spare()).sum();
    let squares = pairs * 2;
    line("squares", format!("{squares} in {pairs} pairs, {spare} units left over"));
    line(
        "likeness",
        format!(
            "{:.1} HyAB (colour difference) a cell above the best that these fabrics could do; 0 is best",
            above_floor(made)
        ),
    );
    if work.drift.between_rows().ticks() != 0 || request.seam.measured != request.seam.working {
        line("seam", seam(made));
    }
    line("proof", made.proven.to_string());
    for note in &made.notes {
        line("note", note.clone());
    }
    line("written", format!("{} in {}", FILES.join(", "), out.display()));
    format!("{}\n{text}", request.picture)
}

fn uses(placed: &[Placed], fabric: usize) -> bool {
    placed.iter().any(|unit| match unit.unit.piece {
        Piece::Filler(used) => used == fabric,
        Piece::Triangle(t) => t.tip == fabric || t.rest == fabric,
    })
}

fn pieces(placed: &[Placed]) -> String {
    let count = |wanted: Option<Cut>| {
        let cut = |unit: &&Placed| match unit.unit.piece {
            Piece::Filler(_) => wanted.is_none(),
            Piece::Triangle(t) => wanted == Some(t.cut),
        };
        placed.iter().filter(cut).count()
    };
    let (whole, trimmed, slices) = (count(Some(Cut::Whole)), count(Some(Cut::Trimmed)), count(Some(Cut::Slice)));
    format!(
        "{}: {}, {trimmed} trimmed, {}, {}",
        counted(placed.len(), "unit"),
        counted(whole, "whole triangle unit"),
        counted(slices, "slice"),
        counted(count(None), "filler")
    )
}

fn layout(made: &Made) -> String {
    let bands = &made.plan.bands;
    let columns: usize = bands.iter().map(|band| band.columns.len()).sum();
    let rows = made.plan.rows().len();
    if bands.len() == columns {
        format!("{rows} rows across")
    } else {
        format!("{}, {}, {rows} rows", counted(bands.len(), "band"), counted(columns, "column"))
    }
}

/// Area of triangle units in whole per cent of the top.
fn triangle_share(placed: &[Placed]) -> u32 {
    let area = |unit: &Placed| u64::from(unit.unit.width) * u64::from(unit.height);
    let all: u64 = placed.iter().map(area).sum();
    let triangles = placed.iter().filter(|unit| matches!(unit.unit.piece, Piece::Triangle(_)));
    (triangles.map(area).sum::<u64>() * 100 / all.max(1)) as u32
}

/// Mean error above every cell in its best colour, in HyAB.
fn above_floor(made: &Made) -> f64 {
    let cells = made.plan.picture.len().max(1) as f64;
    (made.composed.error - made.composed.floor) as f64 / 2.0 / PER_HYAB / cells
}

fn seam(made: &Made) -> String {
    let request = &made.plan.request;
    let (seam, drift) = (request.seam, &made.work.drift);
    // Rounded to what a ruler shows: the exact figure would be a long fraction.
    let near = |length: rowscape::measure::Length| request.ruler.show(length.round_to(request.ruler.seam_step()));
    let care = if drift.needs_care() { "; that is more than easing hides: adjust the seam and test again" } else { "" };
    format!(
        "{} measured, {} worked with: rows will differ by up to {}, the top will finish at about {} x {}{care}",
        request.ruler.show(seam.measured),
        request.ruler.show(seam.working),
        near(drift.between_rows()),
        near(drift.narrowest + drift.between_rows() / 2),
        near(drift.height)
    )
}

/// `1 band`, `3 bands`.
fn counted(count: usize, what: &str) -> String {
    if count == 1 { format!("1 {what}") } else { format!("{count} {what}s") }
}
