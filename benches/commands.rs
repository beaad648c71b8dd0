//! What each stage of `compose` takes, from the bytes of a picture to the bytes of every file, without suited colours.
//!
//! `cargo bench --bench commands` prints medians for a top of 60 x 80 in, and single runs up to 300 x 300 in with the
//! growth of the whole in area. `-- PICTURE` takes another picture. Nothing here passes or fails.

// Growth is printed to two digits.
#![expect(clippy::disallowed_methods)]

use std::time::Instant;

use rowscape::compose::Order;
use rowscape::fabric::{named, propose};
use rowscape::make::make;
use rowscape::measure::{Length, Ruler};
use rowscape::picture::{Crop, Limits, Picture, level, salience};
use rowscape::plan::USUAL_ROUNDS;
use rowscape::plan::{Request, write_with};
use rowscape::proof::{Files, Folder, prove_folder};
use rowscape::render::{self, Options};
use rowscape::stock::compose;

const STAGES: [&str; 9] =
    ["decode", "cells", "focus", "colours", "compose", "make", "tables and pages", "pictures", "proof"];

/// Milliseconds by stage.
type Times = [f64; STAGES.len()];

/// Runs `work` as the stage after those taken before.
fn stage<T>(times: &mut Vec<f64>, work: impl FnOnce() -> T) -> T {
    let start = Instant::now();
    let made = work();
    times.push(start.elapsed().as_secs_f64() * 1e3);
    made
}

/// One whole command, but for the disk.
fn command(bytes: &[u8], [width, height]: [i64; 2]) -> Times {
    let mut times = Vec::new();
    let picture = stage(&mut times, || Picture::decode(bytes, &Limits::default()).expect("a picture"));
    let request = Request {
        picture: "bench.png".into(),
        width: Length::INCH * width,
        height: Length::INCH * height,
        ..Request::usual(Ruler::Inch)
    };
    let (columns, rows) = request.cells();
    let cells = stage(&mut times, || picture.cells(&Crop::Centre, columns, rows).expect("cells"));
    let (cells, focus) = stage(&mut times, || {
        let cells = level(&cells, columns, rows);
        let focus = salience(&cells, columns, rows);
        (cells, focus)
    });
    let fabrics = stage(&mut times, || named(propose(&cells, columns, rows, &focus, 12, 1)));
    let order = Order::new(&request, &cells, &focus, &fabrics);
    let (plan, _) = stage(&mut times, || compose(&order, USUAL_ROUNDS).expect("a scene"));
    let work = stage(&mut times, || make(&plan));
    let options = Options::default();
    let [rows, cutting, cloth, build, leftovers] = stage(&mut times, || {
        let tables = [render::rows_csv, render::cutting_csv, render::cloth_csv];
        let [rows, cutting, cloth] = tables.map(|table| table(&plan, &work, &options).expect("a table"));
        [rows, cutting, cloth, render::build_list(&plan, &work, &options), render::leftovers_toml(&plan, &work)]
    });
    let (svg, png) = stage(&mut times, || {
        (render::svg(&plan, &work, &options), render::png(&plan, &work, &options).expect("a picture"))
    });
    stage(&mut times, || {
        let texts = [&svg, &build, &rows, &cutting, &cloth, &leftovers].map(|text| text.as_bytes());
        let names = ["picture.svg", "build-list.html", "rows.csv", "cutting.csv", "cloth.csv", "leftovers.toml"];
        let written: Vec<_> = names.into_iter().zip(texts).chain([("picture.png", png.as_slice())]).collect();
        let plan = write_with(&plan, &written);
        let files = Files { plan: &plan, rows: &rows, cutting: &cutting, cloth: &cloth };
        prove_folder(&Folder {
            files,
            svg: &svg,
            png: &png,
            list: &build,
            leftovers: &leftovers,
            stencil: None,
            prints: None,
        })
        .expect("a proof");
    });
    times.try_into().expect("a time for each stage")
}

/// Medians by stage.
fn median(mut runs: Vec<Times>) -> Times {
    std::array::from_fn(|stage| {
        runs.sort_by(|one, other| one[stage].total_cmp(&other[stage]));
        runs[runs.len() / 2][stage]
    })
}

fn main() {
    let named = std::env::args().skip(1).find(|argument| !argument.starts_with("--"));
    let path = named.unwrap_or_else(|| "sample-sketches/lighthouse-dusk.png".into());
    let bytes = std::fs::read(&path).expect("a picture file");
    let times = median((0..7).map(|_| command(&bytes, [60, 80])).collect());
    let whole: f64 = times.iter().sum();
    println!("{path} at 60 x 80 in: {whole:.0} ms");
    for (name, time) in STAGES.iter().zip(times) {
        println!("{name:>18} {time:7.1} ms {:3.0} %", 100.0 * time / whole);
    }
    for side in [100, 200, 300] {
        let times = command(&bytes, [side, side]);
        let all: f64 = times.iter().sum();
        let grown = (side * side) as f64 / 4800.0;
        let power = (all / whole).ln() / grown.ln();
        println!("{side} x {side} in: {all:.0} ms, of it compose {:.0} ms, area to the power of {power:.2}", times[4]);
    }
}
