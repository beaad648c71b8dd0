//! Which prints read as one.

use typed_index_collections::{TiSlice, TiVec};

use crate::fabric::{Fabric, Family, Print};

/// Prints by family, families in the order of their first print.
pub(crate) fn families(fabrics: &TiSlice<Print, Fabric>, without: &[Print]) -> TiVec<Family, Vec<Print>> {
    let mut names: TiVec<Family, &str> = TiVec::new();
    let mut families: TiVec<Family, Vec<Print>> = TiVec::new();
    for (print, fabric) in fabrics.iter_enumerated().filter(|(print, _)| !without.contains(print)) {
        match names.position(|name| *name == fabric.family) {
            Some(family) => families[family].push(print),
            None => {
                names.push(&fabric.family);
                families.push(vec![print]);
            }
        }
    }
    families
}
