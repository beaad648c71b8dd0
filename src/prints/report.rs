//! What prints a scene has come to: touching patches that show one, and what would help.

use typed_index_collections::TiVec;

use super::Rules;
use super::bound::{least, with_one_more};
use super::families::families;
use super::lots::deal;
use crate::fabric::{Family, Print};
use crate::plan::{Plan, RowEnds, items};
use crate::watch::UNWATCHED;

/// Touching patches of one family that show one print.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Report {
    /// How many times two such patches touch.
    pub clashes: usize,
    /// How many of them no choice of prints could avoid that takes no more of any counted print, no more pairs, and
    /// no pieces on hand that are not there.
    pub least: usize,
    /// Families in which one more print would lower that, with how much, most first.
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
    let counted: TiVec<Print, bool> = plan.fabrics.iter().map(|fabric| fabric.supply.is_some()).collect();
    let rules =
        Rules { families: &families, vocabulary: &vocabulary, counted: &counted, spare_ends, watch: &UNWATCHED };
    let deal = deal(&plan.bands, &rules, &items(&plan.hand, &plan.request));
    let least = least(&deal, &families, true);
    let saved = |family: Family| least[family].saturating_sub(with_one_more(&deal, &families, family));
    let short = families.keys().filter(|&family| least[family] > 0);
    let name = |family: Family| plan.fabrics[families[family][0]].family.clone();
    let mut more: Vec<(String, usize)> = short.map(|family| (name(family), saved(family))).collect();
    more.retain(|(_, saved)| *saved > 0);
    more.sort_by_key(|(_, saved)| std::cmp::Reverse(*saved));
    Some(Report { clashes: deal.cost.clashes as usize, least: least.iter().sum(), more })
}

impl Report {
    /// Families that are named as short of a print.
    const MOST_NAMED: usize = 3;

    /// What a maker is told in a line.
    pub fn words(&self) -> String {
        if self.clashes == 0 {
            return "touching patches of one family all show different prints".into();
        }
        let places = if self.clashes == 1 { "1 place".into() } else { format!("{} places", self.clashes) };
        let shown = format!("touching patches show one print in {places}");
        match (self.least, self.named()) {
            (0, _) => shown,
            (least, named) if least == self.clashes => format!("{shown}, none of which can be avoided{named}"),
            (_, named) => format!("{shown}, some of which cannot be avoided{named}"),
        }
    }

    /// Which families want one more print.
    fn named(&self) -> String {
        let names: Vec<String> = self.more.iter().take(Self::MOST_NAMED).map(|(name, _)| format!("{name:?}")).collect();
        match names.as_slice() {
            [] => String::new(),
            [only] => format!(": one more print of {only} would help"),
            [most, rest @ ..] => format!(": one more print of {most} would help most, then of {}", rest.join(" and ")),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn words(clashes: usize, least: usize, more: &[(&str, usize)]) -> String {
        let more = more.iter().map(|&(family, saved)| (family.to_owned(), saved)).collect();
        Report { clashes, least, more }.words()
    }

    #[test]
    fn a_maker_reads_what_is_there_and_what_would_help() {
        assert_eq!(words(0, 0, &[]), "touching patches of one family all show different prints");
        assert_eq!(words(1, 0, &[]), "touching patches show one print in 1 place");
        assert_eq!(words(2, 2, &[]), "touching patches show one print in 2 places, none of which can be avoided");
        assert_eq!(
            words(9, 6, &[("sky", 4), ("sea", 1), ("sand", 1), ("moss", 1)]),
            "touching patches show one print in 9 places, some of which cannot be avoided: one more print of \
             \"sky\" would help most, then of \"sea\" and \"sand\""
        );
    }
}
