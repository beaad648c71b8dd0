//! What it costs that tops are divided into bands, columns and rows, and no deeper.

use rowscape::compose::{Choice, Design, Labour, PER_HYAB, Problem};
use rowscape::fabric::{Family, Rgb};
use rowscape::plan::places;
use rowscape::unit::{Shape, Triangle, Vocabulary};
use typed_index_collections::TiVec;

use super::deep::{Deep, Found};
use super::scenes::Sitter;

/// Cells of a small top: 12 x 15 in.
const COLUMNS: usize = 24;
const ROWS: usize = 30;

/// One small top, composed one way.
struct Top {
    /// Mean HyAB above the floor.
    error: f64,
    /// The same with all labour.
    cost: f64,
    units: usize,
}

/// Prints the tables.
pub fn print(sitters: &[Sitter]) {
    println!("\nWhat the limit to bands, columns and rows costs, on the busiest 12 x 15 in of each picture");
    println!("A mean a cell, in HyAB above the floor: cost with labour, error alone; then units");
    for (square, alike) in [("10in", false), ("10in", true), ("10in/4", false), ("10in/4", true)] {
        let edges = if alike { "at most what a seam between rows does" } else { "what they do in scenes" };
        println!("\nSquares of {square}; column edges cost {edges}");
        table(sitters, square, alike);
    }
}

fn table(sitters: &[Sitter], square: &str, alike: bool) {
    let heads = ["rows", "bands, 3 in step", "bands, 1/2 in", "no limit"];
    println!("{:<17} {}", "picture", heads.map(|head| format!("{head:>17}")).join("  "));
    let mut sums = [0.0; 4];
    for sitter in sitters {
        let tops = tops(sitter, square, alike);
        sums.iter_mut().zip(&tops).for_each(|(sum, top)| *sum += top.cost / sitters.len() as f64);
        let words = tops.map(|top| format!("{:>6.2} {:>6.2} {:>3}", top.cost, top.error, top.units));
        println!("{:<17} {}", short(&sitter.name), words.join("  "));
    }
    let means = sums.map(|sum| format!("{:<17}", format!("{sum:>6.2}"))).join("  ");
    println!("{:<17} {}", "mean", means.trim_end());
}

/// Labour as in scenes, or with a column edge at the price of a row seam where it stands on even cloth.
fn labour(sitter: &Sitter, vocabulary: &Vocabulary, alike: bool) -> Labour {
    let labour = Labour::new(vocabulary, &sitter.request);
    // A cell of column edge costs from one to 24 of `column_seam`, by the picture.
    if alike { Labour { column: 0, column_seam: labour.row_seam / 24, ..labour } } else { labour }
}

/// A name that leaves room for the figures.
pub fn short(name: &str) -> String {
    name.chars().take(17).collect()
}

/// Rows, bands on a step of 3 in, bands on every cell, and no limit.
fn tops(sitter: &Sitter, square: &str, alike: bool) -> [Top; 4] {
    let picture = busiest(sitter);
    let request = &sitter.request;
    let squares = [square.parse().expect("a square")];
    let vocabulary = Vocabulary::new(&squares, request.seam, request.grid, &request.strips, request.least);
    let vocabulary = vocabulary.expect("units");
    let choice = |fabric: &rowscape::fabric::Fabric| Choice {
        colour: fabric.colour,
        sketch: None,
        two_prints: false,
        upright: None,
        cloth: vec![(83, 83)],
    };
    let choices: TiVec<Family, Choice> = sitter.fabrics.iter().map(choice).collect();
    let design = |edge_step| Design {
        picture: &picture,
        focus: &[],
        columns: COLUMNS,
        choices: &choices,
        vocabulary: &vocabulary,
        labour: labour(sitter, &vocabulary, alike),
        edge_step,
        locks: Vec::new(),
        prices: TiVec::new(),
        edges: Default::default(),
    };
    let [rows, coarse, fine] = [None, Some(6), Some(1)].map(|step| composed(&design(step)));
    let deep = no_limit(&design(Some(1)));
    assert!(deep.cost <= fine.cost + 1e-9 && fine.cost <= coarse.cost && coarse.cost <= rows.cost, "no yardstick");
    [rows, coarse, fine, deep]
}

/// The part of the picture where most stands out.
fn busiest(sitter: &Sitter) -> Vec<Rgb> {
    let columns = sitter.request.cells().0 as usize;
    let rows = sitter.cells.len() / columns;
    let corners = (0..=rows - ROWS).step_by(6).flat_map(|y| (0..=columns - COLUMNS).step_by(6).map(move |x| (x, y)));
    let cells =
        |(x, y): (usize, usize)| (y..y + ROWS).flat_map(move |v| (x..x + COLUMNS).map(move |u| v * columns + u));
    let weight = |corner: &(usize, usize)| cells(*corner).map(|at| u64::from(sitter.focus[at])).sum::<u64>();
    let busiest = corners.max_by_key(weight).unwrap_or_default();
    cells(busiest).map(|at| sitter.cells[at]).collect()
}

fn composed(design: &Design) -> Top {
    let composed = Problem::new(design).and_then(|problem| problem.solve()).expect("a scene");
    let units = places(&composed.bands).len();
    Top { error: mean(composed.error - composed.floor), cost: mean(composed.cost - composed.floor), units }
}

fn no_limit(design: &Design) -> Top {
    let (cost, found) = Deep::new(design).solve();
    let problem = Problem::new(design).expect("a problem");
    let error = |&((x, y, width, height), unit): &((usize, usize, usize, usize), Found)| match unit {
        Found::Filler(colour) => {
            problem.filler_cost(colour, x, y, width, height) - i64::from(design.labour.rectangle(width * height))
        }
        Found::Triangle(Triangle { block, cut, corner, tip, rest, .. }) => {
            let shape = Shape { height: height as u32, width: width as u32, block, cut };
            i64::from(problem.cloth_cost(shape, corner, tip, rest, x, y))
        }
    };
    let floor = rowscape::compose::CostMap::new(design.picture, &[], design.columns, design.choices).floor();
    let error: i64 = found.iter().map(error).sum();
    Top { error: mean(error - floor), cost: mean(cost - floor), units: found.len() }
}

/// A doubled cost as HyAB a cell.
fn mean(cost: i64) -> f64 {
    cost as f64 / 2.0 / PER_HYAB / (COLUMNS * ROWS) as f64
}
