//! The least sum of costs that each depend on few choices, by choosing for one after the other.
//!
//! Eliminating a choice replaces all costs that it takes part in by one cost over the others of them: the least sum
//! for each of their values. That is exact. Where the others are too many, the costs are parted into groups and the
//! choice is made for each group apart; a least sum of each apart is never above the least of all together, so what
//! comes out is exact or too low, and so a bound at all times.

use std::collections::BTreeSet;

/// Most values that one table holds.
const MOST_VALUES: usize = 1 << 14;
/// Most choices that one table is over.
const MOST_CHOICES: usize = 14;

/// A cost that depends on some choices: by their values, the first choice's changing slowest.
#[derive(Clone, Debug)]
pub struct Table {
    /// The choices, by number, rising.
    pub over: Vec<usize>,
    /// The costs.
    pub costs: Vec<u32>,
}

/// The least sum of tables over `choices` choices of `values` values each, or less.
pub fn least(choices: usize, values: usize, mut tables: Vec<Table>) -> u32 {
    let mut sum = 0;
    let mut others = vec![BTreeSet::new(); choices];
    tables.iter().for_each(|table| join(&mut others, table));
    let mut open: BTreeSet<usize> = (0..choices).collect();
    while let Some(choice) = open.iter().copied().min_by_key(|&choice| (others[choice].len(), choice)) {
        open.remove(&choice);
        others.iter_mut().for_each(|others| {
            others.remove(&choice);
        });
        let (with, without) = tables.into_iter().partition(|table| table.over.contains(&choice));
        tables = without;
        for group in groups(with, values) {
            let table = without_choice(&group, choice, values);
            if table.over.is_empty() {
                sum += table.costs[0];
            } else {
                join(&mut others, &table);
                tables.push(table);
            }
        }
    }
    sum
}

/// Notes which choices a table joins.
fn join(others: &mut [BTreeSet<usize>], table: &Table) {
    for &choice in &table.over {
        others[choice].extend(table.over.iter().filter(|other| **other != choice));
    }
}

/// Tables that may be summed up together without growing too large, the largest first.
fn groups(mut tables: Vec<Table>, values: usize) -> Vec<Vec<Table>> {
    tables.sort_by_key(|table| std::cmp::Reverse(table.over.len()));
    let mut groups: Vec<(BTreeSet<usize>, Vec<Table>)> = Vec::new();
    for table in tables {
        let fits = |over: &BTreeSet<usize>| {
            let count = over.iter().chain(&table.over).collect::<BTreeSet<_>>().len();
            count <= MOST_CHOICES && values.checked_pow(count as u32).is_some_and(|cells| cells <= MOST_VALUES)
        };
        match groups.iter_mut().find(|(over, _)| fits(over)) {
            Some((over, group)) => {
                over.extend(&table.over);
                group.push(table);
            }
            None => groups.push((table.over.iter().copied().collect(), vec![table])),
        }
    }
    groups.into_iter().map(|(_, group)| group).collect()
}

/// The tables' sum with the best value of a choice, over the others.
fn without_choice(group: &[Table], choice: usize, values: usize) -> Table {
    let over: BTreeSet<usize> = group.iter().flat_map(|table| &table.over).copied().collect();
    let over: Vec<usize> = over.into_iter().filter(|&other| other != choice).collect();
    let steps: Vec<Steps> = group.iter().map(|table| Steps::new(table, &over, choice, values)).collect();
    let mut digits = vec![0; over.len()];
    let mut costs = Vec::new();
    loop {
        let at: Vec<usize> = steps.iter().map(|steps| steps.at(&digits)).collect();
        let sum = |value: usize| {
            let parts = group.iter().zip(&steps).zip(&at);
            parts.map(|((table, steps), at)| table.costs[at + value * steps.own]).fold(0, u32::saturating_add)
        };
        costs.push((0..values).map(sum).min().expect("a choice has a value"));
        let Some(turning) = digits.iter().rposition(|&digit| digit + 1 < values) else {
            return Table { over, costs };
        };
        digits[turning] += 1;
        digits[turning + 1..].fill(0);
    }
}

/// How far one value more of each choice leads in a table.
struct Steps {
    own: usize,
    others: Vec<usize>,
}

impl Steps {
    fn new(table: &Table, over: &[usize], choice: usize, values: usize) -> Self {
        let step = |choice: &usize| {
            let place = table.over.iter().position(|other| other == choice);
            place.map_or(0, |place| values.pow((table.over.len() - 1 - place) as u32))
        };
        Self { own: step(&choice), others: over.iter().map(step).collect() }
    }

    fn at(&self, digits: &[usize]) -> usize {
        self.others.iter().zip(digits).map(|(step, digit)| step * digit).sum()
    }
}
