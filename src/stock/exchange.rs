//! Rows exchanged for others of their place, one or two at a time, as long as the scene gets cheaper.

use crate::compose::Draft;
use crate::plan::Row;

/// Most exchanges.
const STEPS: usize = 400;
/// Most sums, after which no more exchanges are looked for.
const SUMS: usize = 10_000_000;

/// Cells of some stocks, by index in rising order.
pub type Takes = Vec<(usize, f64)>;

/// A row that was found at some prices.
pub struct Held {
    /// Upper edge.
    pub y: u32,
    /// Cost without prices.
    pub cost: i64,
    /// Cells that it takes of each stock.
    pub takes: Takes,
    /// The row.
    pub row: Row<Draft>,
}

/// What there is of each stock in cells.
pub struct Limits<'a> {
    /// Cells.
    pub have: &'a [f64],
    /// What a cell costs, of which the dearest rows that are looked at follow; at most `dear`.
    pub prices: &'a [f64],
    /// What a cell over it costs.
    pub dear: &'a [f64],
}

/// A row, and which it is.
pub type Indexed<'a> = (usize, &'a Held);

/// A row for another: its place, the other, and what that adds to the cost and to each stock.
struct Change<'a> {
    place: usize,
    to: Indexed<'a>,
    cost: f64,
    takes: Takes,
    /// Both, at the prices.
    priced: f64,
}

impl Limits<'_> {
    /// What cells over what there is cost.
    pub fn over(&self, takes: &[f64]) -> f64 {
        takes.iter().enumerate().map(|(stock, takes)| self.over_of(stock, *takes)).sum()
    }

    fn over_of(&self, stock: usize, takes: f64) -> f64 {
        (takes - self.have[stock]).max(0.0) * self.dear[stock]
    }

    /// What more cells add to that.
    fn more_over(&self, takes: &[f64], more: &Takes) -> f64 {
        let of = |&(stock, more): &(usize, f64)| {
            self.over_of(stock, takes[stock] + more) - self.over_of(stock, takes[stock])
        };
        more.iter().map(of).sum()
    }

    /// What so many cells cost at the prices.
    pub fn priced(&self, takes: &[f64]) -> f64 {
        takes.iter().zip(self.prices).map(|(takes, price)| takes * price).sum()
    }

    /// What a row costs at the prices.
    fn row(&self, row: &Held) -> f64 {
        row.cost as f64 + row.takes.iter().map(|&(stock, takes)| takes * self.prices[stock]).sum::<f64>()
    }
}

/// The rows of a scene, each by its index among those of its place, exchanged for others as long as that gains.
/// Also the sums that it took.
pub fn exchange<'a>(
    mut chosen: Vec<Indexed<'a>>,
    others: &[Vec<Indexed<'a>>],
    limits: &Limits,
) -> (Vec<Indexed<'a>>, usize) {
    let mut sums = 0;
    let mut takes = vec![0.0; limits.have.len()];
    chosen.iter().for_each(|(_, held)| add(&mut takes, &held.takes));
    let priced: Vec<Vec<f64>> =
        others.iter().map(|others| others.iter().map(|other| limits.row(other.1)).collect()).collect();
    for _ in 0..STEPS {
        let changes = changes(&chosen, others, &priced, &takes, limits, &mut sums);
        let Some(best) = best(&changes, &takes, limits, &mut sums).filter(|_| sums < SUMS) else { break };
        for change in best.into_iter().map(|change| &changes[change]) {
            add(&mut takes, &change.takes);
            chosen[change.place] = change.to;
        }
    }
    (chosen, sums)
}

/// Adds to each sum.
pub fn add(sums: &mut [f64], more: &Takes) {
    more.iter().for_each(|&(stock, more)| sums[stock] += more);
}

/// What one takes more than another, by stock.
fn less(one: &Takes, other: &Takes) -> Takes {
    let (mut one, mut other) = (one.iter().copied().peekable(), other.iter().copied().peekable());
    let mut less = Takes::new();
    loop {
        let at = one.peek().map(|one| one.0).into_iter().chain(other.peek().map(|other| other.0)).min();
        let Some(at) = at else { return less };
        let mine = one.next_if(|one| one.0 == at).map_or(0.0, |one| one.1);
        let its = other.next_if(|other| other.0 == at).map_or(0.0, |other| other.1);
        if mine != its {
            less.push((at, mine - its));
        }
    }
}

/// What is lost at most by keeping to the prices: no change that costs more at them can gain (weak duality).
fn lost(takes: &[f64], limits: &Limits) -> f64 {
    limits.over(takes) - limits.priced(takes) + limits.priced(limits.have)
}

/// Every change that may gain, the cheapest at the prices first; `priced` says what each row costs at them.
fn changes<'a>(
    chosen: &[Indexed<'a>],
    others: &[Vec<Indexed<'a>>],
    priced: &[Vec<f64>],
    takes: &[f64],
    limits: &Limits,
    sums: &mut usize,
) -> Vec<Change<'a>> {
    let now: Vec<f64> = chosen.iter().map(|(_, held)| limits.row(held)).collect();
    let dearer = priced.iter().zip(&now).flat_map(|(priced, now)| priced.iter().map(move |priced| priced - now));
    let most = lost(takes, limits) - dearer.fold(0.0, f64::min);
    let mut changes = Vec::new();
    for (place, (&(index, held), others)) in chosen.iter().zip(others).enumerate() {
        *sums += others.len();
        for (&to, priced) in others.iter().zip(&priced[place]) {
            let priced = priced - now[place];
            if to.0 != index && priced < most {
                let (cost, takes) = ((to.1.cost - held.cost) as f64, less(&to.1.takes, &held.takes));
                *sums += takes.len();
                changes.push(Change { place, to, cost, takes, priced });
            }
        }
    }
    changes.sort_by(|one, other| one.priced.total_cmp(&other.priced));
    changes
}

/// The change, or the two of different places, that save most.
fn best(changes: &[Change], takes: &[f64], limits: &Limits, sums: &mut usize) -> Option<Vec<usize>> {
    let (over, lost) = (limits.over(takes), lost(takes, limits));
    let mut best = (-0.5, None);
    let mut after = takes.to_vec();
    for (index, one) in changes.iter().enumerate() {
        let alone = one.cost + limits.more_over(takes, &one.takes);
        if alone < best.0 {
            best = (alone, Some(vec![index]));
        }
        add(&mut after, &one.takes);
        for (second, other) in changes.iter().enumerate().skip(index + 1) {
            *sums += 1;
            if one.priced + other.priced >= lost + best.0 {
                break;
            }
            if other.place == one.place || one.cost + other.cost - over >= best.0 {
                continue;
            }
            *sums += other.takes.len();
            let both = alone + other.cost + limits.more_over(&after, &other.takes);
            if both < best.0 {
                best = (both, Some(vec![index, second]));
            }
        }
        // As it was, to the last bit.
        one.takes.iter().for_each(|&(stock, _)| after[stock] = takes[stock]);
    }
    best.1
}

#[cfg(test)]
mod tests {
    use super::*;

    fn held(cost: i64, takes: [f64; 2]) -> Held {
        Held { y: 0, cost, takes: takes.into_iter().enumerate().collect(), row: Row { height: 1, units: Vec::new() } }
    }

    fn worth(chosen: &[Indexed], limits: &Limits) -> f64 {
        let takes = |stock: usize| chosen.iter().map(|(_, held)| held.takes[stock].1).sum();
        chosen.iter().map(|(_, held)| held.cost as f64).sum::<f64>() + limits.over(&[takes(0), takes(1)])
    }

    /// Each exchange alone takes too much of one fabric; both together take just what there is. Worked out by hand.
    #[test]
    fn two_rows_are_exchanged_where_one_alone_gains_nothing() {
        let rows = [held(100, [5.0, 5.0]), held(60, [9.0, 1.0]), held(101, [5.0, 5.0]), held(70, [1.0, 9.0])];
        let [one, two, three, four] = [0, 1, 2, 3].map(|row| (row, &rows[row]));
        let limits = Limits { have: &[10.0, 10.0], prices: &[2.0, 2.0], dear: &[50.0, 50.0] };
        let (chosen, _) = exchange(vec![one, three], &[vec![one, two], vec![three, four]], &limits);
        assert_eq!(chosen.iter().map(|(row, _)| *row).collect::<Vec<_>>(), [1, 3]);
    }

    #[test]
    fn no_exchange_of_one_or_two_rows_is_left_that_gains() {
        for seed in 0..200_i64 {
            let dice = |at: i64, sides: i64| (seed * 7919 + at * 104_729 + seed * at * 31) % sides;
            let row = |at: i64| held(dice(at, 90), [dice(at + 50, 9) as f64, dice(at + 90, 7) as f64]);
            let rows: Vec<Vec<Held>> = (0..4).map(|place| (0..4).map(|at| row(place * 4 + at)).collect()).collect();
            let others: Vec<Vec<Indexed>> = rows.iter().map(|rows| rows.iter().enumerate().collect()).collect();
            let chosen = others.iter().map(|rows| rows[0]).collect();
            let limits = Limits { have: &[12.0, 10.0], prices: &[(seed % 11) as f64, 6.0], dear: &[11.0, 13.0] };
            let (chosen, _) = exchange(chosen, &others, &limits);
            let best = worth(&chosen, &limits);
            for (one, other) in (0..4).flat_map(|one| (0..4).map(move |other| (one, other))) {
                for (first, second) in others[one].iter().flat_map(|f| others[other].iter().map(move |s| (f, s))) {
                    let mut changed = chosen.clone();
                    (changed[one], changed[other]) = (*first, *second);
                    assert!(worth(&changed, &limits) > best - 0.5 - 1e-9, "seed {seed}");
                }
            }
        }
    }
}
