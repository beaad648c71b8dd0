//! The short account of what was made, for a screen.

use std::fmt::Write;

use super::finish_words::{finishing, offer_words};
use super::honest::{doubts, near_words};
use super::{note_words, shopping_account};
use crate::answer::{Figures, Scene};
use crate::likeness::PieceCounts;
use crate::make::Work;
use crate::measure::{Length, plural};
use crate::plan::{Item, Plan, State};
use crate::prints::report;
use crate::proof::Proven;
use crate::revise::{Changes, Count};

/// Where an account is read.
#[derive(Clone, Debug)]
pub struct Account {
    /// What was written, and where.
    pub written: String,
    /// Letters in a line of a table, at most.
    pub width: u16,
}

/// What was made, to buy and left.
pub fn scene_account(scene: &Scene, work: &Work, proven: &Proven, account: &Account) -> String {
    let plan = &scene.plan;
    let request = &plan.request;
    let figures = Figures::of(plan, scene.gaps);
    let show = |length| request.ruler.show(length);
    let mut text = String::new();
    let mut line = |name: &str, words: String| {
        let _ = writeln!(text, "  {name:<15}{words}");
    };
    let size = format!("{} x {}", show(request.width), show(request.height));
    line("top", format!("{size} finished, {} fabrics", figures.fabrics));
    if let Some([width, height]) = finishing(plan).map(|finishing| finishing.quilt) {
        line("quilt", format!("{} x {}, from edge to edge", show(width), show(height)));
    }
    if let Some(offer) = offer_words(plan) {
        line("offer", offer);
    }
    line("pieces", units(&figures.pieces));
    line("layout", layout(figures.layout));
    line("triangle units", format!("{} % of the area", figures.triangle_share));
    if !work.batches.is_empty() {
        line("squares", squares(work));
    }
    if !plan.hand.is_empty() {
        line("on hand", on_hand(plan, work));
    }
    if proven.offcuts > 0 {
        line("strips", format!("{} used again as slices", proven.offcuts));
    }
    if let Some(report) = report(plan) {
        line("prints", report.words());
    }
    let near = figures.likeness;
    line("likeness", near_words(&near).into());
    if work.drift.between_rows().ticks() != 0 || request.seam.measured != request.seam.working {
        line("seam", seam(plan, work));
    }
    line("proof", proven.to_string());
    for note in &scene.notes {
        line("note", note_words(note, request.ruler));
    }
    line("written", account.written.clone());
    let doubts: String = doubts(plan, scene.gaps.as_ref(), &near).iter().map(|doubt| format!("  {doubt}\n")).collect();
    format!("{}\n{doubts}{text}{}", request.name(), shopping_account(plan, work, account.width))
}

fn units(counts: &PieceCounts) -> String {
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
fn on_hand(plan: &Plan, work: &Work) -> String {
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

fn layout([bands, columns, rows]: [usize; 3]) -> String {
    if bands == columns {
        format!("{rows} rows across")
    } else {
        format!("{}, {}, {}", plural(bands, "band"), plural(columns, "column"), plural(rows, "row"))
    }
}

fn seam(plan: &Plan, work: &Work) -> String {
    let request = &plan.request;
    let (seam, drift) = (request.seam, &work.drift);
    // Rounded to what a ruler shows: the exact figure would be a long fraction.
    let near = |length: Length| request.ruler.show(length.round_to(request.ruler.seam_step()));
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

/// What changed, in a few lines; `before` is where the old plan is kept.
pub fn changes_account(changes: &Changes, plan: &Plan, before: &str) -> String {
    let mut text = String::new();
    let mut line = |name: &str, words: String| {
        let _ = writeln!(text, "  {name:<15}{words}");
    };
    let count = |state: State| plan.placed().iter().filter(|placed| placed.unit.state == state).count();
    let [kept, cut, sewn, free] = [State::Kept, State::Cut, State::Sewn, State::Free].map(count);
    line("stands", format!("kept {kept}, cut {cut}, sewn {sewn}, free {free}"));
    let new = changes.units - changes.same;
    line("changed", format!("new or elsewhere {new}, as they were {}", changes.same));
    for (name, counts) in [("pieces", &changes.kinds), ("pairs", &changes.pairs), ("fillers", &changes.fillers)] {
        for Count { what, before, after } in counts {
            line(name, format!("{what}: {before}, now {after}"));
        }
    }
    line("old plan", format!("kept as {before}"));
    text
}
