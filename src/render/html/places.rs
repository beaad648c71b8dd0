//! Which rows a pair or a filler goes to.

use std::collections::BTreeSet;

use crate::make::{Source, Work};

/// Band, column and row.
type Row = (usize, usize, usize);

/// The rows with a unit from here, as `2.1.3, 4, 7 to 9; 2.2.1`.
pub(super) fn rows_of(work: &Work, source: Source) -> String {
    let from = |row: &&crate::make::RowWork| row.units.iter().any(|unit| unit.source == source);
    let rows = work.rows.iter().filter(from).map(|row| (row.address.band, row.address.column, row.address.row));
    let rows: Vec<Row> = rows.collect::<BTreeSet<_>>().into_iter().collect();
    let columns = rows.chunk_by(|one, other| (one.0, one.1) == (other.0, other.1));
    columns.map(of_column).collect::<Vec<_>>().join("; ")
}

fn of_column(rows: &[Row]) -> String {
    let Some((band, column, _)) = rows.first() else { return String::new() };
    let runs = rows.chunk_by(|one, other| one.2 + 1 == other.2);
    let run = |run: &[Row]| match run {
        [(_, _, first), _, .., (_, _, last)] => format!("{first} to {last}"),
        run => run.iter().map(|row| row.2.to_string()).collect::<Vec<_>>().join(", "),
    };
    format!("{band}.{column}.{}", runs.map(run).collect::<Vec<_>>().join(", "))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rows_of_a_column_are_named_once() {
        let rows = [3, 4, 7, 8, 9, 12].map(|row| (2, 1, row));
        assert_eq!(of_column(&rows), "2.1.3, 4, 7 to 9, 12");
        assert_eq!(of_column(&rows[..1]), "2.1.3");
    }
}
