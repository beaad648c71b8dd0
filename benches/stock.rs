//! How near scenes come to the best that scarce cloth allows, in how many rounds, and how long that takes.
//!
//! `cargo bench --bench stock` composes five pictures at 60 x 80 in in twelve families, first with free cloth, then
//! with so much of each fabric as that took times 0.9, 0.75 and 0.5: of the squares that are cut, and of the
//! length of cloth for fillers. Nothing here passes or fails.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::time::Instant;

use rowscape::compose::{Order, Ready, scene};
use rowscape::cutting::{FabricCut, SheetKind};
use rowscape::fabric::{Fabric, Fabrics, Squares, Supply, Yardage, named, propose};
use rowscape::make::make;
use rowscape::measure::{Length, Ruler};
use rowscape::picture::{Crop, Limits, Picture, salience};
use rowscape::plan::USUAL_ROUNDS as ROUNDS;
use rowscape::plan::{Plan, Request};
use rowscape::stock::{Have, fit, within_cloth};

const PICTURES: [&str; 5] = [
    "sample-sketches/lighthouse-dusk.png",
    "sample-sketches/cliffs-gulls.png",
    "sample-sketches/moonrise-sail.png",
    "tests/data/photos/china_pagoda_lake.jpg",
    "tests/data/photos/sunset_hills.jpg",
];
const SCARCE: [f64; 3] = [0.9, 0.75, 0.5];
const FAMILIES: usize = 12;

fn main() {
    println!("Scenes within scarce cloth: 60 x 80 in, {FAMILIES} families, at most {ROUNDS} rounds\n");
    println!(
        "{:<20} {:>8} {:>10} {:>7} {:>9} {:>12} {:>9}",
        "picture", "of free", "cloth gap", "rounds", "seconds", "whole gap", "seconds"
    );
    for path in PICTURES {
        for share in SCARCE {
            line(&Path::new(env!("CARGO_MANIFEST_DIR")).join(path), share);
        }
    }
}

fn line(path: &PathBuf, share: f64) {
    let request = Request { width: Length::INCH * 60i64, height: Length::INCH * 80i64, ..Request::usual(Ruler::Inch) };
    let (columns, rows) = request.cells();
    let bytes = std::fs::read(path).expect("the picture can be read");
    let picture = Picture::decode(&bytes, &Limits::default()).expect("it is a picture");
    let cells = picture.cells(&Crop::Centre, columns, rows).expect("cells");
    let focus = salience(&cells, columns, rows);
    let free = named(propose(&cells, columns, rows, &focus, FAMILIES, request.seed));
    let (plan, _) = scene(&Order::new(&request, &cells, &focus, &free)).expect("a scene");
    let fabrics = scarce(&plan, share);
    let order = Order::new(&request, &cells, &focus, &fabrics);

    let start = Instant::now();
    let ready = Ready::new(&order).expect("families");
    let mut problem = ready.problem(&order).expect("a problem");
    let cloth = within_cloth(&ready, &mut problem, &Have::new(&ready, &fabrics), ROUNDS).expect("a bound");
    let cloth_time = start.elapsed().as_secs_f64();
    let start = Instant::now();
    let fitted = fit(&order, ROUNDS);
    let name = path.file_stem().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
    let whole = fitted.map_or_else(|_| "short".into(), |fitted| format!("{:.2} %", fitted.gaps.whole * 100.0));
    println!(
        "{name:<20} {share:>8} {:>8.2} % {:>7} {cloth_time:>9.2} {whole:>12} {:>9.2}",
        cloth.gap() * 100.0,
        cloth.rounds,
        start.elapsed().as_secs_f64()
    );
}

/// The fabrics of a free plan with a share of the squares and of the length that it is cut from, the squares whole.
fn scarce(plan: &Plan, share: f64) -> Fabrics {
    let (work, width) = (make(plan), plan.request.cloth_width);
    let supply = |cut: &FabricCut| {
        let (mut squares, mut inches) = (BTreeMap::<Length, u32>::new(), 0.0);
        for sheet in &cut.sheets {
            match sheet.kind {
                SheetKind::BoughtLength => inches += sheet.layout.used_length.as_inches(),
                _ => *squares.entry(sheet.layout.width).or_default() += sheet.count,
            }
        }
        let squares =
            squares.into_iter().map(|(size, count)| Squares { size, count: (f64::from(count) * share).round() as u32 });
        let length = Length::INCH * (inches * share).ceil() as i64;
        let yardage = if inches > 0.0 { vec![Yardage { width, length }] } else { Vec::new() };
        Supply { squares: squares.collect(), yardage, ..Supply::default() }
    };
    let fabrics = plan.fabrics.iter().zip(&work.cloth);
    fabrics.map(|(fabric, cut)| Fabric { supply: Some(supply(cut)), ..fabric.clone() }).collect()
}
