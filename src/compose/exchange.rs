//! So many prints of families at the least cost: all ways where they are few, else exchanges.

use rayon::prelude::*;
use typed_index_collections::{TiSlice, TiVec};

use crate::fabric::Family;

/// As many ways as are all tried.
const ALL: u64 = 20_000;
/// The cost of nothing at all; three of it stay within 32 bits.
const NEVER: u32 = 1 << 28;

/// A family as it may be taken.
pub(super) struct Offer {
    /// What each cell costs in it.
    pub costs: Vec<u32>,
    /// Prints that must be taken, up to two.
    pub least: usize,
    /// Prints that may be taken, up to two.
    pub most: usize,
}

/// What was found.
pub(super) struct Found {
    /// Prints of each family, up to two.
    pub counts: TiVec<Family, usize>,
    /// Summed cost, doubled.
    pub cost: u64,
    /// Cells that cost least in each family.
    pub areas: TiVec<Family, u64>,
}

/// What the prints taken give each cell: the cheapest alone, and the cheapest two.
#[derive(Clone)]
struct Cells {
    one: Vec<u32>,
    two: Vec<u32>,
}

/// The cheapest `count` prints, or all there are; `alone` is what a cell of one print costs on top.
pub(super) fn best(families: &TiSlice<Family, Offer>, count: usize, alone: u32) -> Found {
    let families = &families.raw;
    let search = Search { families, cells: families.first().map_or(0, |family| family.costs.len()), alone };
    let counts = search.solve(count.min(families.iter().map(|family| family.most).sum()));
    let cost = search.cost(&search.of(&counts));
    let mut areas = vec![0; families.len()];
    for cell in 0..search.cells {
        let taken = (0..families.len()).filter(|&family| counts[family] > 0);
        if let Some(family) = taken.min_by_key(|&family| (families[family].costs[cell], family)) {
            areas[family] += 1;
        }
    }
    Found { counts: counts.into(), cost, areas: areas.into() }
}

struct Search<'a> {
    families: &'a [Offer],
    cells: usize,
    alone: u32,
}

impl Search<'_> {
    /// One print more at a time from the last number of which all ways can be tried.
    fn solve(&self, count: usize) -> Vec<usize> {
        let least: Vec<usize> = self.families.iter().map(|family| family.least).collect();
        let must: usize = least.iter().sum();
        let start = (must..=count).rev().find(|&number| self.ways(number) <= ALL).unwrap_or(must);
        let mut counts = if self.ways(start) <= ALL { self.all(start) } else { least };
        for _ in start..count {
            if let Some((_, family)) = self.addition(&self.of(&counts), &counts, usize::MAX) {
                counts[family] += 1;
            }
            self.exchange(&mut counts);
        }
        counts
    }

    /// In how many ways `count` prints can be taken; `ALL` + 1 stands for more.
    fn ways(&self, count: usize) -> u64 {
        let mut ways = vec![0; count + 1];
        ways[0] = 1_u64;
        for family in self.families {
            let of = |total: usize| {
                let taken = (family.least..=family.most).filter(|&number| number <= total);
                taken.map(|number| ways[total - number]).sum::<u64>().min(ALL + 1)
            };
            ways = (0..=count).map(of).collect();
        }
        ways[count]
    }

    /// The cheapest of all ways; of equals the one with most of the first families.
    fn all(&self, count: usize) -> Vec<usize> {
        let mut rest = vec![self.nothing()];
        for family in self.families.iter().rev() {
            let mut more = rest[rest.len() - 1].clone();
            more.take(family, family.most);
            rest.push(more);
        }
        rest.reverse();
        let mut tried = Tried { rest, counts: Vec::new(), best: None };
        self.branch(&mut tried, &self.nothing(), count);
        tried.best.map_or_else(|| self.families.iter().map(|family| family.least).collect(), |(_, counts)| counts)
    }

    /// Tries all ways that begin as `tried.counts` do, apart from those that cannot be cheapest.
    fn branch(&self, tried: &mut Tried, cells: &Cells, left: usize) {
        let at = tried.counts.len();
        let after = &self.families[at..];
        let (least, most): (usize, usize) =
            (after.iter().map(|family| family.least).sum(), after.iter().map(|family| family.most).sum());
        if left < least || left > most {
            return;
        }
        let bound = self.cost(&cells.with(&tried.rest[at]));
        if tried.best.as_ref().is_some_and(|(best, _)| bound >= *best) {
            return;
        }
        let Some(family) = after.first() else {
            tried.best = Some((bound, tried.counts.clone()));
            return;
        };
        for number in (family.least..=family.most.min(left)).rev() {
            let mut more = cells.clone();
            more.take(family, number);
            tried.counts.push(number);
            self.branch(tried, &more, left - number);
            tried.counts.pop();
        }
    }

    /// The cheapest print to add to `cells`, but none of family `not`.
    fn addition(&self, cells: &Cells, counts: &[usize], not: usize) -> Option<(u64, usize)> {
        let open = (0..counts.len()).filter(|&family| family != not && counts[family] < self.families[family].most);
        let open: Vec<usize> = open.collect();
        open.into_par_iter().map(|family| (self.cost_with(cells, family, counts[family] + 1), family)).min()
    }

    /// Exchanges one print for another while that lowers the cost, the best exchange first.
    fn exchange(&self, counts: &mut [usize]) {
        let mut held = self.cost(&self.of(counts));
        while let Some((cost, from, to)) = self.best_exchange(counts)
            && cost < held
        {
            counts[from] -= 1;
            counts[to] += 1;
            held = cost;
        }
    }

    fn best_exchange(&self, counts: &[usize]) -> Option<(u64, usize, usize)> {
        let mut after = vec![self.nothing()];
        for (family, &count) in self.families.iter().zip(counts).rev() {
            let mut more = after[after.len() - 1].clone();
            more.take(family, count);
            after.push(more);
        }
        let mut before = self.nothing();
        let mut found = None;
        for (from, family) in self.families.iter().enumerate() {
            if counts[from] > family.least {
                let mut without = before.with(&after[counts.len() - 1 - from]);
                without.take(family, counts[from] - 1);
                let swap = self.addition(&without, counts, from).map(|(cost, to)| (cost, from, to));
                found = found.into_iter().chain(swap).min();
            }
            before.take(family, counts[from]);
        }
        found
    }

    fn nothing(&self) -> Cells {
        Cells { one: vec![NEVER; self.cells], two: vec![NEVER; self.cells] }
    }

    fn of(&self, counts: &[usize]) -> Cells {
        let mut cells = self.nothing();
        self.families.iter().zip(counts).for_each(|(family, &count)| cells.take(family, count));
        cells
    }

    fn cost(&self, cells: &Cells) -> u64 {
        let cell = |(one, two): (&u32, &u32)| u64::from((one * 2 + self.alone).min(*two));
        cells.one.iter().zip(&cells.two).map(cell).sum()
    }

    /// What `cells` cost with so many prints of one family more.
    fn cost_with(&self, cells: &Cells, family: usize, count: usize) -> u64 {
        let both = if count > 1 { 0 } else { NEVER };
        let had = cells.one.iter().zip(&cells.two).zip(&self.families[family].costs);
        let cell = |((&one, &two), &cost): ((&u32, &u32), &u32)| {
            let two = two.min(one + cost).min(cost * 2 + both);
            u64::from((one.min(cost) * 2 + self.alone).min(two))
        };
        had.map(cell).sum()
    }
}

impl Cells {
    /// Takes so many prints of a family, none of which were taken.
    fn take(&mut self, family: &Offer, count: usize) {
        if count == 0 {
            return;
        }
        let both = if count > 1 { 0 } else { NEVER };
        for ((one, two), &cost) in self.one.iter_mut().zip(&mut self.two).zip(&family.costs) {
            *two = (*two).min(*one + cost).min(cost * 2 + both);
            *one = (*one).min(cost);
        }
    }

    /// Both together.
    fn with(&self, other: &Self) -> Self {
        let ones = || self.one.iter().zip(&other.one);
        let twos = self.two.iter().zip(&other.two);
        Self {
            one: ones().map(|(one, other)| *one.min(other)).collect(),
            two: ones().zip(twos).map(|((one, other), (two, also))| (one + other).min(*two).min(*also)).collect(),
        }
    }
}

/// A search in progress.
struct Tried {
    /// For each place, what all families from there on give at most.
    rest: Vec<Cells>,
    counts: Vec<usize>,
    best: Option<(u64, Vec<usize>)>,
}
