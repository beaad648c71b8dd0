//! build-list.html against all else that is written: every number on it is held against something, or fails.

mod buy;
mod changed;
mod cloth;
mod cut;
mod drawing;
mod finish;
mod join;
mod left;
mod needs;
mod opening;
mod page;
mod prints;
mod rows;
mod sizes;
mod wall;

use std::collections::BTreeMap;

use super::cut::Bench;
use super::cutting::Supply;
use super::fault::Fault;
use super::iron::Tones;
use super::laid::Laid;
use super::paper::Size;
use super::rows::Step;
use super::scene::Scene;
pub use finish::Shelf;
use page::Page;

/// What the page is held against; all of it was found to be in order.
pub struct Written<'a> {
    /// The plan.
    pub scene: &'a Scene,
    /// The lines of rows.csv.
    pub steps: &'a [Step],
    /// What the lines of cutting.csv gave.
    pub bench: &'a Bench<'a>,
    /// The sheets of cloth.csv.
    pub laid: &'a [Laid],
    /// Which allowances show.
    pub tones: &'a Tones,
    /// picture.svg.
    pub svg: &'a str,
}

struct Reader<'a> {
    written: &'a Written<'a>,
    scene: &'a Scene,
    steps: &'a [Step],
    supplies: BTreeMap<&'a str, &'a Supply>,
    page: Page<'a>,
}

/// Checks the list, part by part, and then that no number is left; gives what the finishing leaves of the stash.
pub fn check(written: &Written, text: &str) -> Result<Option<Shelf>, Fault> {
    let by_id = written.bench.supplies().iter().map(|supply| (supply.line.text("id"), supply)).collect();
    let page = Page::parse(text)?;
    let reader = Reader { written, scene: written.scene, steps: written.steps, supplies: by_id, page };
    reader.opening(text)?;
    reader.changed()?;
    reader.map()?;
    reader.needs()?;
    reader.sizes()?;
    reader.cuts()?;
    reader.cloth()?;
    reader.rows()?;
    reader.joins()?;
    reader.left()?;
    let shelf = reader.finish(text)?;
    reader.wall()?;
    reader.page.all_read()?;
    Ok(shelf)
}

impl Reader<'_> {
    fn show(&self, length: crate::measure::Length) -> String {
        self.scene.show(length)
    }

    fn size(&self, size: Size) -> String {
        format!("{} × {}", self.scene.ruler.number(size.width), self.scene.show(size.height))
    }

    fn fabric(&self, letter: &str) -> String {
        let name = self.scene.fabrics.get(letter).map_or("", |fabric| fabric.name.as_str());
        format!("{letter} {name}")
    }
}

/// `1 unit`, `2 units`.
fn count(n: impl Into<u64>, one: &str) -> String {
    match n.into() {
        1 => format!("1 {one}"),
        n => format!("{n} {one}s"),
    }
}

/// `a`, `a and b`, `a, b and c`.
fn listed(items: &[String]) -> String {
    match items {
        [] => String::new(),
        [one] => one.clone(),
        [rest @ .., last] => format!("{} and {last}", rest.join(", ")),
    }
}
