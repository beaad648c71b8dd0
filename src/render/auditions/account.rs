//! The ranking for a screen.

use std::fmt::Write;

use crate::audition::{Audition, FIGURES, RULE, figures};
use crate::plan::State;

/// The ranking in a few lines; `written` says what was written, and where.
pub fn auditions_account(audition: &Audition, written: &str) -> String {
    let how = if audition.afresh { "composed afresh with each stash" } else { "the same pieces in each stash" };
    let mut text = format!("{}, {how}\n", audition.planned.request.name());
    for entry in &audition.entries {
        let figures = figures(&entry.likeness).map(|(label, figure)| format!("{label} {figure}"));
        let _ = writeln!(text, "  {}. {}: {}", entry.rank, entry.name, figures.join(", "));
        entry.why.iter().for_each(|why| {
            let _ = writeln!(text, "     {why}");
        });
    }
    let mut line = |name: &str, words: &str| {
        let _ = writeln!(text, "  {name:<10}{words}");
    };
    line("rule", RULE);
    line("figures", FIGURES);
    let fixed = audition.planned.placed().iter().filter(|unit| unit.unit.state != State::Free).count();
    if fixed > 0 {
        line("note", &format!("{fixed} units of the plan are kept or sewn: this is a trial, and keeps none of them"));
    }
    line("written", written);
    text
}
