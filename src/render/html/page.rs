//! The page as a whole.

use maud::html;

use super::sheet::Sheet;
use super::{changed, cutting, finish, hatch, joining, leftovers, map, needs, rows, sizes, wall};
use crate::fabric::{Print, is_unprintable};
use crate::make::Work;
use crate::plan::Plan;
use crate::render::Options;
use crate::render::finish_words::finishing;
use crate::render::markup::page;
use crate::render::text::title;

/// The build list as one XHTML-clean HTML page without anything from outside.
pub fn build_list(plan: &Plan, work: &Work, options: &Options) -> String {
    let sheet = Sheet::new(plan, work, options);
    let title = title(plan);
    let body = html! {
        (needs::opening(&sheet, &title))
        @if let Some(changed) = changed::section(&sheet) { (changed) }
        (needs::section(&sheet))
        (map::section(&sheet))
        (sizes::section(&sheet))
        (sizes::safety())
        (cutting::section(&sheet))
        (rows::section(&sheet, &html! { (joining::section(&sheet)) (leftovers::section(&sheet)) }))
        (finish::section(&sheet))
        @if options.large_map { (wall::section(&sheet)) }
        "\n"
    };
    page(&format!("{title}: build list"), &style(&sheet, &title), &body)
}

/// The style of a page whose sheets of paper have this title at their foot.
pub(super) fn style(sheet: &Sheet, title: &str) -> String {
    let plan = sheet.plan;
    let was = plan.progress.was.iter().flat_map(|was| was.plan.used());
    let used: std::collections::BTreeSet<Print> = plan.used().into_iter().chain(was).collect();
    let finish =
        finishing(plan).map(|finishing| sheet.work.finish_cloth(plan, &finishing).prints()).unwrap_or_default();
    let used: std::collections::BTreeSet<Print> = used.union(&finish).copied().collect();
    let shown =
        |print: &Print| used.contains(print) || plan.fabrics[*print].has_cloth() || plan.fabrics[*print].directional;
    let upright = plan.fabrics.iter().any(|fabric| fabric.upright);
    [
        include_str!("style.css"),
        if upright { cutting::LAID } else { "" },
        &foot(title),
        &rows::feet(sheet.work),
        &hatch::style(&sheet.palette, sheet.palette.prints().filter(shown)),
    ]
    .concat()
}

/// What stands at the foot of each sheet of paper.
fn foot(title: &str) -> String {
    let safe = |c: char| match c {
        c if is_unprintable(c) => " ".to_owned(),
        '"' | '\\' | '<' | '&' => format!("\\{:x} ", u32::from(c)),
        c => c.to_string(),
    };
    let title: String = title.chars().map(safe).collect();
    format!("@page {{ @bottom-left {{ content: \"{title}\"; }} }}\n")
}
