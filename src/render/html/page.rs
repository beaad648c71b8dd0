//! The page as a whole.

use maud::html;

use super::sheet::Sheet;
use super::{cutting, joining, leftovers, needs, rows, sizes};
use crate::make::Work;
use crate::plan::Plan;
use crate::render::Options;
use crate::render::markup::page;
use crate::render::text::title;

/// The build list as one XHTML-clean HTML page without anything from outside.
pub fn build_list(plan: &Plan, work: &Work, options: &Options) -> String {
    let sheet = Sheet::new(plan, work, options);
    let title = title(plan);
    let body = html! {
        (needs::opening(&sheet, &title))
        (needs::section(&sheet))
        (sizes::section(&sheet))
        (sizes::safety())
        (cutting::section(&sheet))
        (rows::section(&sheet))
        (joining::section(&sheet))
        (leftovers::section(&sheet))
        "\n"
    };
    page(&format!("{title}: build list"), include_str!("style.css"), &body)
}
