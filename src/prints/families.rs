//! Which prints read as one.

use crate::fabric::Fabric;

/// Prints by family, families in the order of their first print.
pub(crate) fn families(fabrics: &[Fabric], without: &[usize]) -> Vec<Vec<usize>> {
    let mut names: Vec<&str> = Vec::new();
    let mut families: Vec<Vec<usize>> = Vec::new();
    for (index, fabric) in fabrics.iter().enumerate().filter(|(index, _)| !without.contains(index)) {
        match names.iter().position(|name| *name == fabric.family) {
            Some(at) => families[at].push(index),
            None => {
                names.push(&fabric.family);
                families.push(vec![index]);
            }
        }
    }
    families
}
