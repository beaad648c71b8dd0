//! What prints a scene has come to: touching patches that show one, and what would help.

use super::Rules;
use super::bound::{least, with_more};
use super::lots::deal;
use crate::compose::families;
use crate::plan::{Plan, RowEnds};

/// Touching patches of one family that show one print.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Report {
    /// How many times two such patches touch.
    pub clashes: usize,
    /// How many of them no choice of prints could avoid.
    pub least: usize,
    /// Families in which one more print would avoid some of those, with how many, most first.
    pub more: Vec<(String, usize)>,
}

/// Counts what touches; nothing where no family of the scene has two prints.
pub fn report(plan: &Plan) -> Option<Report> {
    let families = families(&plan.fabrics, &[]);
    if families.iter().all(|prints| prints.len() < 2) {
        return None;
    }
    let vocabulary = plan.vocabulary();
    let spare_ends = plan.request.row_ends == RowEnds::Spare;
    let deal = deal(&plan.bands, &Rules { families: &families, vocabulary: &vocabulary, counted: &[], spare_ends });
    let least = least(&deal, &families);
    let saved = |family: usize| least[family].saturating_sub(with_more(&deal, &families, family, 1));
    let short = (0..families.len()).filter(|&family| least[family] > 0);
    let name = |family: usize| plan.fabrics[families[family][0]].family.clone();
    let mut more: Vec<(String, usize)> = short.map(|family| (name(family), saved(family))).collect();
    more.retain(|(_, saved)| *saved > 0);
    more.sort_by_key(|(_, saved)| std::cmp::Reverse(*saved));
    Some(Report { clashes: deal.cost.clashes as usize, least: least.iter().sum(), more })
}
