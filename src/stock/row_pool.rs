//! Rows of the scenes found at all prices: scenes are put together anew from them.
//!
//! Numbers without a source were found by trial, no figures kept; `cargo bench --bench stashes` shows what others do.

use std::collections::BTreeMap;

use super::exchange::{Held, Limits, add, exchange};
use super::patches::Found;
use super::planes::evenly;
use crate::compose::{Draft, Layer};
use crate::plan::{Band, Column, Row, joined};

/// Rows exchanged whatever that costs, before better ones are looked for again.
const KICKED: u32 = 3;

/// From one edge to another.
pub type Span = (u32, u32);

/// Rows and columns found so far.
#[derive(Default)]
pub struct RowPool {
    /// Columns by the levels and the edges that they run between, with what their left edge costs.
    columns: BTreeMap<(Span, Span), i64>,
    /// Rows by the edges that they run between.
    rows: BTreeMap<Span, Vec<Held>>,
}

/// A row in its place: the levels of its column, the column's edges, and which of the rows between these edges.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Chosen {
    levels: Span,
    edges: Span,
    row: usize,
}

/// Where a row lies, in cells.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Place {
    /// Upper edge.
    pub y: u32,
    /// Height.
    pub height: u32,
    /// Left and right edge.
    pub edges: Span,
}

impl RowPool {
    /// Adds the layers of a scene; `paid` says of a row what it was priced at, and cells that it takes of each stock.
    pub fn add(&mut self, layers: &[Layer], paid: impl Fn(&Band<Draft>) -> (i64, Vec<f64>)) -> Vec<Chosen> {
        let (mut top, mut chosen) = (0, Vec::new());
        for Layer { band, edges, rows } in layers {
            let (mut left, levels) = (0, (top, top + band.height));
            for ((column, &edge), costs) in band.columns.iter().zip(edges).zip(rows) {
                let edges = (left, left + column.width);
                self.columns.insert((levels, edges), edge);
                let mut y = top;
                for (row, &cost) in column.rows.iter().zip(costs) {
                    let place = Place { y, height: row.height, edges };
                    chosen.push(Chosen { levels, edges, row: self.put(place, row.clone(), cost, &paid) });
                    y += row.height;
                }
                left = edges.1;
            }
            top = levels.1;
        }
        chosen
    }

    /// Adds a row of a cost, prices included; which of those between its edges it is.
    pub fn put(
        &mut self,
        place: Place,
        row: Row<Draft>,
        cost: i64,
        paid: impl Fn(&Band<Draft>) -> (i64, Vec<f64>),
    ) -> usize {
        let Place { y, height, edges } = place;
        let held = self.rows.entry(edges).or_default();
        if let Some(index) = held.iter().position(|other| other.y == y && other.row == row) {
            return index;
        }
        let alone = Column { width: edges.1 - edges.0, rows: vec![row.clone()] };
        let (paid, takes) = paid(&Band { height, columns: vec![alone] });
        let takes = takes.into_iter().enumerate().filter(|(_, takes)| *takes != 0.0).collect();
        held.push(Held { y, cost: cost - paid, takes, row });
        held.len() - 1
    }

    /// Where a row lies.
    pub fn place(&self, row: Chosen) -> Place {
        let held = self.held(row);
        Place { y: held.y, height: held.row.height, edges: row.edges }
    }

    fn held(&self, row: Chosen) -> &Held {
        &self.rows[&row.edges][row.row]
    }

    /// Every row that may stand in the place of one.
    fn others(&self, row: Chosen) -> impl Iterator<Item = (usize, &Held)> {
        let place = self.place(row);
        let held = self.rows[&row.edges].iter().enumerate();
        held.filter(move |(_, held)| (held.y, held.row.height) == (place.y, place.height))
    }

    /// What rows cost, with what is over.
    pub fn worth(&self, chosen: &[Chosen], limits: &Limits) -> f64 {
        self.cost(chosen) as f64 + limits.over(&self.takes(chosen, limits.have))
    }

    /// What rows cost at the prices.
    pub fn priced(&self, chosen: &[Chosen], limits: &Limits) -> f64 {
        self.cost(chosen) as f64 + limits.priced(&self.takes(chosen, limits.have))
    }

    /// Cells that rows take of each stock.
    pub fn takes(&self, chosen: &[Chosen], have: &[f64]) -> Vec<f64> {
        let mut takes = vec![0.0; have.len()];
        chosen.iter().for_each(|row| add(&mut takes, &self.held(*row).takes));
        takes
    }

    fn cost(&self, chosen: &[Chosen]) -> i64 {
        let mut columns: Vec<(Span, Span)> = chosen.iter().map(|row| (row.levels, row.edges)).collect();
        columns.sort_unstable();
        columns.dedup();
        let edges: i64 = columns.iter().filter_map(|column| self.columns.get(column)).sum();
        edges + chosen.iter().map(|row| self.held(*row).cost).sum::<i64>()
    }

    /// Rows exchanged for others of their places as long as that gains.
    pub fn exchanged(&self, chosen: &[Chosen], limits: &Limits) -> Vec<Chosen> {
        self.counted(chosen, limits).0
    }

    /// The same, and the sums that it took.
    fn counted(&self, chosen: &[Chosen], limits: &Limits) -> (Vec<Chosen>, usize) {
        let others: Vec<Vec<(usize, &Held)>> = chosen.iter().map(|row| self.others(*row).collect()).collect();
        let held: Vec<(usize, &Held)> = chosen.iter().map(|row| (row.row, self.held(*row))).collect();
        let (rows, sums) = exchange(held, &others, limits);
        (chosen.iter().zip(rows).map(|(chosen, (row, _))| Chosen { row, ..*chosen }).collect(), sums)
    }

    /// The same after a few rows are exchanged without a look at what that costs, other ones at each turn;
    /// also the sums that it took.
    pub fn kicked(&self, chosen: &[Chosen], turn: u32, limits: &Limits) -> (Vec<Chosen>, usize) {
        let mut kicked = chosen.to_vec();
        for kick in turn * KICKED..(turn + 1) * KICKED {
            let at = evenly(kick, kicked.len());
            let others: Vec<usize> = self.others(kicked[at]).map(|(index, _)| index).collect();
            kicked[at].row = others[evenly(kick.wrapping_mul(7), others.len())];
        }
        self.counted(&kicked, limits)
    }

    /// The scene of these rows.
    pub fn scene(&self, chosen: &[Chosen]) -> Found {
        let mut rows = chosen.to_vec();
        rows.sort_by_key(|row| (row.levels, row.edges, self.place(*row).y));
        let mut bands: BTreeMap<Span, Band<Draft>> = BTreeMap::new();
        for column in rows.chunk_by(|one, other| (one.levels, one.edges) == (other.levels, other.edges)) {
            let Chosen { levels, edges, .. } = column[0];
            let band = bands.entry(levels).or_insert(Band { height: levels.1 - levels.0, columns: Vec::new() });
            let rows = column.iter().map(|row| self.held(*row).row.clone()).collect();
            band.columns.push(Column { width: edges.1 - edges.0, rows });
        }
        Found { bands: joined(bands.values()), cost: self.cost(chosen) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::compose::Free;
    use crate::fabric::Family;
    use crate::plan::Piece;

    fn row(width: u32, height: u32, colour: usize) -> Row<Draft> {
        Row { height, units: vec![Draft::Free(Free { width, piece: Piece::Filler(Family(colour)) })] }
    }

    /// Two columns over a row, one colour a row: takes its cells of it.
    fn scene(colours: [usize; 4]) -> Vec<Layer> {
        let [one, two, three, four] = colours;
        let column = |rows: Vec<Row<Draft>>| Column { width: 3, rows };
        let columns = vec![column(vec![row(3, 2, one), row(3, 2, two)]), column(vec![row(3, 4, three)])];
        let costs = [vec![cost(0, one), cost(1, two)], vec![cost(2, three)]];
        let foot = Column { width: 6, rows: vec![row(6, 2, four)] };
        vec![
            Layer { band: Band { height: 4, columns }, edges: vec![0, 7], rows: costs.to_vec() },
            Layer { band: Band { height: 2, columns: vec![foot] }, edges: vec![0], rows: vec![vec![cost(3, four)]] },
        ]
    }

    fn cost(place: usize, colour: usize) -> i64 {
        [[50, 90, 60], [10, 15, 80], [70, 40, 41], [33, 30, 36]][place][colour]
    }

    fn takes(band: &Band<Draft>) -> Vec<f64> {
        let mut takes = vec![0.0; 3];
        for placed in crate::compose::free(std::slice::from_ref(band)) {
            let Piece::Filler(colour) = placed.unit.piece else { panic!("fillers alone are there") };
            takes[colour.0] += f64::from(placed.unit.width * placed.height);
        }
        takes
    }

    /// Every mixture of three scenes of one colour each, by plain loops.
    #[test]
    fn the_cheapest_mixture_within_the_stock_is_found() {
        let mut pool = RowPool::default();
        let known: Vec<Vec<Chosen>> =
            (0..3).map(|colour| pool.add(&scene([colour; 4]), |band| (0, takes(band)))).collect();
        for have in [[36.0, 36.0, 36.0], [12.0, 12.0, 12.0], [18.0, 6.0, 12.0], [0.0, 30.0, 6.0]] {
            let mixtures = (0..81).map(|at| [at % 3, at / 3 % 3, at / 9 % 3, at / 27]);
            let within = mixtures.filter(|colours| {
                let bands: Vec<Vec<f64>> = scene(*colours).iter().map(|layer| takes(&layer.band)).collect();
                (0..3).all(|colour| bands.iter().map(|takes| takes[colour]).sum::<f64>() <= have[colour])
            });
            let best = within.map(|colours| 7 + (0..4).map(|place| cost(place, colours[place])).sum::<i64>()).min();
            let limits = Limits { have: &have, dear: &[1000.0; 3], prices: &[0.0; 3] };
            let mut chosen = pool.exchanged(&known[0], &limits);
            for turn in 0..40 {
                let (next, _) = pool.kicked(&chosen, turn, &limits);
                chosen = if pool.worth(&next, &limits) < pool.worth(&chosen, &limits) { next } else { chosen };
            }
            let found = pool.scene(&chosen);
            assert_eq!(Some(found.cost), best, "{have:?}");
            assert_eq!(pool.worth(&chosen, &limits), found.cost as f64);
            assert_eq!(crate::plan::places(&found.bands).len(), 4);
        }
    }
}
