//! A small linear program whose columns come one by one: least cost that meets every row.

/// Whether a row asks for at least or at most its amount.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Sense {
    Least,
    Most,
}

#[derive(Clone, Debug)]
struct Column {
    cost: f64,
    entries: Vec<(usize, f64)>,
}

/// The rows, the columns so far, and the basis.
#[derive(Clone, Debug)]
pub(super) struct Program {
    columns: Vec<Column>,
    basis: Vec<usize>,
    inverse: Vec<Vec<f64>>,
    levels: Vec<f64>,
}

const NEAR: f64 = 1e-9;

impl Program {
    /// Rows alone; what is lacking in a row of `Least` may be had at the cost `lack`.
    pub fn new(rows: &[(Sense, f64)], lack: f64) -> Self {
        let mut columns = Vec::new();
        let mut basis = Vec::new();
        for (row, &(sense, _)) in rows.iter().enumerate() {
            let own = Column { cost: if sense == Sense::Least { lack } else { 0.0 }, entries: vec![(row, 1.0)] };
            basis.push(columns.len());
            columns.push(own);
            if sense == Sense::Least {
                columns.push(Column { cost: 0.0, entries: vec![(row, -1.0)] });
            }
        }
        let unit = |row: usize| (0..rows.len()).map(|at| if at == row { 1.0 } else { 0.0 }).collect();
        let levels = rows.iter().map(|row| row.1).collect();
        Self { columns, basis, inverse: (0..rows.len()).map(unit).collect(), levels }
    }

    /// Adds a column; its number.
    pub fn add(&mut self, cost: f64, entries: Vec<(usize, f64)>) -> usize {
        self.columns.push(Column { cost, entries });
        self.columns.len() - 1
    }

    /// Pivots until no column improves the cost, or `limit` pivots are done.
    pub fn solve(&mut self, limit: usize) {
        for pivot in 0..limit {
            let duals = self.duals();
            let Some(enter) = self.entering(&duals, pivot > limit / 2) else { return };
            let steps = self.steps(enter);
            let Some(leave) = self.leaving(&steps) else { return };
            self.pivot(enter, leave, &steps);
        }
    }

    /// What one more of each row's amount costs.
    pub fn duals(&self) -> Vec<f64> {
        let mut duals = vec![0.0; self.basis.len()];
        for (row, &basic) in self.inverse.iter().zip(&self.basis) {
            let cost = self.columns[basic].cost;
            if cost != 0.0 {
                duals.iter_mut().zip(row).for_each(|(dual, at)| *dual += cost * at);
            }
        }
        duals
    }

    /// Columns in use, with how much of each.
    pub fn levels(&self) -> impl Iterator<Item = (usize, f64)> {
        self.basis.iter().copied().zip(self.levels.iter().copied())
    }

    /// The column that saves most; the first that saves at all where `first` is set, which cannot cycle.
    fn entering(&self, duals: &[f64], first: bool) -> Option<usize> {
        let reduced =
            |column: &Column| column.cost - column.entries.iter().map(|&(row, at)| duals[row] * at).sum::<f64>();
        let scale = duals.iter().fold(1.0_f64, |most, dual| most.max(dual.abs()));
        let mut costs = self.columns.iter().map(reduced).enumerate().filter(|cost| cost.1 < -NEAR * scale);
        if first {
            costs.next().map(|cost| cost.0)
        } else {
            costs.min_by(|a, b| a.1.total_cmp(&b.1)).map(|cost| cost.0)
        }
    }

    fn steps(&self, enter: usize) -> Vec<f64> {
        let entries = &self.columns[enter].entries;
        self.inverse.iter().map(|row| entries.iter().map(|&(at, amount)| row[at] * amount).sum()).collect()
    }

    fn leaving(&self, steps: &[f64]) -> Option<usize> {
        let open = steps.iter().enumerate().filter(|(_, step)| **step > NEAR);
        let ratio = |row: usize| self.levels[row].max(0.0) / steps[row];
        open.map(|(row, _)| row).min_by(|&a, &b| ratio(a).total_cmp(&ratio(b)).then(self.basis[a].cmp(&self.basis[b])))
    }

    fn pivot(&mut self, enter: usize, leave: usize, steps: &[f64]) {
        let by = steps[leave];
        let pivot: Vec<f64> = self.inverse[leave].iter().map(|at| at / by).collect();
        let level = self.levels[leave].max(0.0) / by;
        for (row, &step) in steps.iter().enumerate().filter(|(row, step)| *row != leave && **step != 0.0) {
            self.inverse[row].iter_mut().zip(&pivot).for_each(|(at, pivot)| *at -= step * pivot);
            self.levels[row] -= step * level;
        }
        self.inverse[leave] = pivot;
        self.levels[leave] = level;
        self.basis[leave] = enter;
    }
}
