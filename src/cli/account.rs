//! The short account of what was made.

use std::collections::BTreeSet;
use std::fmt::Write;
use std::path::Path;

use rowscape::likeness::{Pieces, likeness, pieces};
use rowscape::make::Work;
use rowscape::measure::plural;
use rowscape::plan::Item;
use rowscape::prints::report;
use rowscape::render::shopping_account;

use super::made::{FILES, Made};
use super::screen::width;

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
    let used = placed.iter().flat_map(|unit| unit.unit.piece.fabrics()).collect::<BTreeSet<_>>().len();
    line("top", format!("{} x {} finished, {used} fabrics", show(request.width), show(request.height)));
    let counts = pieces(plan);
    line("pieces", units(&counts));
    line("layout", layout(made));
    line("triangle units", format!("{} % of the area", counts.triangle_share()));
    if !work.batches.is_empty() {
        line("squares", squares(work));
    }
    if !plan.hand.is_empty() {
        line("on hand", on_hand(made));
    }
    if made.proven.offcuts > 0 {
        line("strips", format!("{} used again as slices", made.proven.offcuts));
    }
    if let Some(report) = report(plan) {
        line("prints", report.words());
    }
    let near = likeness(plan);
    line(
        "likeness",
        format!(
            "{:.1} HyAB (colour difference) a cell above the best that these fabrics could do; 0 is best",
            near.error - near.floor
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
    format!("{}\n{text}{}", request.picture, shopping_account(plan, work, width()))
}

fn units(counts: &Pieces) -> String {
    format!(
        "{}: {}, {} trimmed, {}, {}",
        plural(counts.units, "unit"),
        plural(counts.whole, "whole triangle unit"),
        counts.trimmed,
        plural(counts.slices, "slice"),
        plural(counts.fillers, "filler")
    )
}

/// Squares to buy, pairs, and what they leave.
fn squares(work: &Work) -> String {
    let needed = work.squares();
    let bought: u32 = needed.iter().map(|squares| squares.bought()).sum();
    let quarters: u32 = needed.iter().map(|squares| squares.spare_quarters()).sum();
    let pairs: u32 = work.batches.iter().map(|batch| batch.pairs).sum();
    let spare: u32 = work.batches.iter().map(|batch| batch.spare()).sum();
    let quarters = match quarters as usize {
        0 => String::new(),
        n => format!(" and {}", plural(n, "quarter square")),
    };
    format!("{bought} in {pairs} pairs, {spare} units{quarters} left over")
}

/// How much of what was sewn and cut before is used.
fn on_hand(made: &Made) -> String {
    let (plan, work) = (&made.plan, &made.work);
    let words = |what: &str, there: u32, kind: fn(&Item) -> bool| {
        let used: u32 = work.hand.iter().filter(|used| kind(&used.item)).map(|used| used.used).sum();
        (there > 0).then(|| format!("{used} of {}", plural(there, what)))
    };
    let hand = &plan.hand;
    let kinds = [
        words("unit", hand.units.iter().map(|unit| unit.count).sum(), |item| matches!(item, Item::Unit { .. })),
        words("strip", hand.slices.iter().map(|slice| slice.count).sum(), |item| matches!(item, Item::Slice { .. })),
        words("filler", hand.fillers.iter().map(|f| f.count).sum(), |item| matches!(item, Item::Filler { .. })),
    ];
    format!("{} used", kinds.into_iter().flatten().collect::<Vec<_>>().join(", "))
}

fn layout(made: &Made) -> String {
    let bands = &made.plan.bands;
    let columns: usize = bands.iter().map(|band| band.columns.len()).sum();
    let rows = made.plan.rows().len();
    if bands.len() == columns {
        format!("{rows} rows across")
    } else {
        format!("{}, {}, {}", plural(bands.len(), "band"), plural(columns, "column"), plural(rows, "row"))
    }
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
