//! The contact sheet of an audition, as a page and as a picture.

mod account;
mod page;
mod scene;
mod sheet;

pub use account::auditions_account;
pub use page::auditions_html;
pub use sheet::auditions_png;

use typed_index_collections::TiVec;

use super::text::{count, title};
use crate::audition::{Audition, Entry, figures};
use crate::fabric::Print;

/// `Lighthouse dusk, auditioned`.
fn heading(audition: &Audition) -> String {
    format!("{}, auditioned", title(&audition.planned))
}

/// What was tried, in a line.
fn lede(audition: &Audition) -> String {
    let request = &audition.planned.request;
    let (width, height) = (request.ruler.number(request.width), request.ruler.show(request.height));
    let what = if audition.afresh { "composed afresh with each" } else { "the same pieces in each" };
    let stashes = count(audition.entries.len() as u64, "stash", "stashes");
    format!("{stashes}, a top of {width} x {height}, {what}. Best first.")
}

/// What stands below the scene that was tried.
fn as_planned(audition: &Audition) -> String {
    let [(label, figure), ..] = figures(&audition.likeness);
    format!("the scene as planned, {figure} {label}")
}

/// `1`, or `1 =` where others are as good.
fn place(audition: &Audition, entry: &Entry) -> String {
    let equals = audition.entries.iter().filter(|other| other.rank == entry.rank).count();
    if equals > 1 { format!("{} =", entry.rank) } else { entry.rank.to_string() }
}

/// Fabrics that the scene uses, and those that it does not.
fn fabrics(entry: &Entry) -> (Vec<Print>, Vec<Print>) {
    let mut used: TiVec<Print, bool> = vec![false; entry.plan.fabrics.len()].into();
    for patch in entry.plan.placed().iter().flat_map(|unit| unit.patches()) {
        used[patch.fabric] = true;
    }
    used.keys().partition(|&fabric| used[fabric])
}
