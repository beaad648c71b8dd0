//! The best so many prints of a stash: which families, and which of them with two prints.

use typed_index_collections::{TiSlice, TiVec};

use super::exchange::{Offer, best};
use super::scene::{choice, mean};
use super::{CostMap, Labour, Order};
use crate::fabric::{Family, Print, hyab};
use crate::plan::RequestError;
use crate::prints::families;

/// The prints that are to be sewn with.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Subset {
    /// Their places in the stash, in order.
    pub prints: Vec<Print>,
    /// What every cell costs in the best that they give, summed and doubled.
    pub cost: u64,
}

/// Why there is no such subset.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum SubsetError {
    /// The request does not hold.
    #[error(transparent)]
    Request(#[from] RequestError),
    /// More fabrics must stay than may be taken.
    #[error("the picture is painted in the sketch colours of {needed} fabrics, and {most} may be taken: take {needed}")]
    Sketched {
        /// Fabrics whose sketch colour is painted.
        needed: usize,
        /// Fabrics that may be taken.
        most: usize,
    },
}

/// The best `most` prints for the picture.
///
/// The cost of a subset sums over all cells the cheapest of: two prints of one family or of two, half the
/// cell each, as a quiet unit has them; or one print alone at a filler's labour. Prints whose sketch
/// colour is painted are always in. Exact where few subsets can be made; else the best print is added to
/// the best subset of one fewer until no exchange of two prints helps. More prints never cost more.
pub fn subset(order: &Order, most: usize) -> Result<Subset, SubsetError> {
    let vocabulary = order.request.check()?;
    let groups = families(order.fabrics, &[]);
    let choices: TiVec<Family, _> = groups.iter().map(|prints| choice(order, &vocabulary, prints, false)).collect();
    let forced = painted(order);
    let needed = forced.iter().filter(|forced| **forced).count();
    if needed > most {
        return Err(SubsetError::Sketched { needed, most });
    }
    let columns = order.request.cells().0 as usize;
    let map = CostMap::new(order.picture, order.focus, columns, &choices);
    let offer = |(prints, costs): (&Vec<Print>, Vec<u32>)| {
        let forced = prints.iter().filter(|&&print| forced[print]).count();
        Offer { costs, least: forced.min(2), most: prints.len().min(2) }
    };
    let offers: TiVec<Family, Offer> = groups.iter().zip(map.cells).map(offer).collect();
    // Third prints and more change no cost: what must be in is counted beforehand.
    let beyond = groups.iter().map(|prints| prints.iter().filter(|&&print| forced[print]).count().saturating_sub(2));
    let labour = Labour::new(&vocabulary, order.request);
    let found = best(&offers, most - beyond.sum::<usize>(), labour.filler_cell);
    let mut counts: TiVec<Family, usize> = (found.counts.iter().zip(&groups))
        .map(|(count, prints)| (*count).max(prints.iter().filter(|&&print| forced[print]).count()))
        .collect();
    fill(&mut counts, &groups, &found.areas, most);
    let prints = groups.iter().zip(counts).flat_map(|(prints, count)| take(order, &forced, prints, count));
    let mut prints: Vec<Print> = prints.collect();
    prints.sort_unstable();
    Ok(Subset { prints, cost: found.cost })
}

/// For each print whether cells are painted in its sketch colour.
fn painted(order: &Order) -> TiVec<Print, bool> {
    let sketches: TiVec<Print, _> = order.fabrics.iter().map(|fabric| fabric.sketch).collect();
    let found = super::cost::painted(order.picture, &sketches);
    let mut painted: TiVec<Print, bool> = vec![false; sketches.len()].into();
    for print in found.into_iter().flatten() {
        painted[print] = true;
    }
    painted
}

/// More prints for the families with the most cells a print, until there are `most`.
fn fill(
    counts: &mut TiSlice<Family, usize>,
    groups: &TiSlice<Family, Vec<Print>>,
    areas: &TiSlice<Family, u64>,
    most: usize,
) {
    while counts.iter().sum::<usize>() < most {
        let open = groups.keys().filter(|&family| counts[family] < groups[family].len());
        let share = |family: Family| (areas[family] / (counts[family] as u64 + 1), counts[family] > 0);
        let Some(family) = open.max_by_key(|&family| (share(family), std::cmp::Reverse(family))) else { return };
        counts[family] += 1;
    }
}

/// `count` prints of a family: what must be in, what names its sketch colour, then what keeps its mean colour.
fn take(order: &Order, forced: &TiSlice<Print, bool>, prints: &[Print], count: usize) -> Vec<Print> {
    let sketched = prints.iter().copied().find(|&print| order.fabrics[print].sketch.is_some());
    let mut taken: Vec<Print> = prints.iter().copied().filter(|&print| forced[print]).collect();
    let whole = mean(prints.iter().map(|&print| order.fabrics[print].colour));
    while taken.len() < count {
        let off = |print: Print| {
            let colours: Vec<_> = taken.iter().chain([&print]).map(|&print| order.fabrics[print].colour).collect();
            hyab(mean(colours.into_iter()), whole)
        };
        let left = prints.iter().copied().filter(|print| !taken.contains(print));
        let ranked = left.map(|print| (Some(print) != sketched, off(print), print));
        let next = ranked.min_by(|a, b| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)).then(a.2.cmp(&b.2)));
        let Some((.., print)) = next else { break };
        taken.push(print);
    }
    taken
}
