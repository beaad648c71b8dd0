//! The check of the target `stash`.

use rowscape::fabric::Stash;

/// Any text as a stash: fabrics that hold, or a mistake marked within the text.
pub fn stash(text: &str) {
    match Stash::read(text) {
        Ok(stash) => {
            let fabrics = stash.fabrics();
            assert!(!fabrics.is_empty() && fabrics.len() <= Stash::MOST_FABRICS);
            let known = |print| assert!(fabrics.get(print).is_some());
            stash.hand.units.iter().flat_map(|unit| unit.fabrics).for_each(known);
            assert!(stash.notes().len() < 100 && stash.totals().free <= fabrics.len());
            let proposal = Stash::propose_families(text).expect("a stash that reads");
            let again = Stash::read(&proposal.text).expect("a stash with families");
            assert_eq!(again.hand.units, stash.hand.units);
            assert!(again.prints.iter().zip(&stash.prints).all(|(new, old)| new.supply == old.supply));
        }
        Err(error) => {
            assert!(!error.message().is_empty());
            assert!(error.span.is_none_or(|span| text.get(span).is_some()));
        }
    }
}
