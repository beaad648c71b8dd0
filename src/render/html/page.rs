//! The page as a whole.

use super::sheet::Sheet;
use super::{cutting, joining, leftovers, needs, rows, sizes};
use crate::make::Work;
use crate::plan::Plan;
use crate::render::Options;
use crate::render::text::{escape, title};

/// The build list as one XHTML-clean HTML page without anything from outside.
pub fn build_list(plan: &Plan, work: &Work, options: &Options) -> String {
    let sheet = Sheet::new(plan, work, options);
    let title = escape(&title(plan));
    let sections = [
        needs::opening(&sheet, &title),
        needs::section(&sheet),
        sizes::section(&sheet),
        sizes::safety(),
        cutting::section(&sheet),
        rows::section(&sheet),
        joining::section(&sheet),
        leftovers::section(&sheet),
    ];
    format!("{}{}\n</main>\n</body>\n</html>\n", head(&title), sections.concat())
}

/// The policy keeps the page from ever asking the network for anything.
fn head(title: &str) -> String {
    format!(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\"/>\n\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>\n\
         <meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'\"/>\n\
         <title>{title}: build list</title>\n<style>\n{}</style>\n</head>\n<body>\n<main>\n",
        include_str!("style.css")
    )
}
