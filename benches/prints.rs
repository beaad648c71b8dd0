//! How many touching patches show one print, against what no choice could avoid, and how long the exchanges take.
//!
//! `cargo bench --bench prints` composes every sample sketch 54 in wide from three stashes, within their counts where
//! they have any. Nothing here passes or fails.

use std::path::{Path, PathBuf};
use std::time::Instant;

use rowscape::compose::{Order, scene};
use rowscape::fabric::{Print, Stash};
use rowscape::measure::{Length, Ruler};
use rowscape::picture::{Crop, Limits, Picture, salience};
use rowscape::plan::{Plan, Request};
use rowscape::prints::{Rules, report, spread};
use rowscape::stock::fit;
use rowscape::watch::UNWATCHED;
use typed_index_collections::{TiSlice, TiVec};

const STASHES: [&str; 3] = ["stash-two-packs", "stash-harbour", "stash-cottage"];
const ROUNDS: u32 = 20;

fn main() {
    println!("Touching patches that show one print: 54 in wide, squares of 10 in whole and quartered\n");
    println!(
        "{:<18} {:<16} {:>6} {:>8} {:>8} {:>6} {:>7}",
        "picture", "stash", "square", "units", "clashes", "bound", "ms"
    );
    for path in sketches() {
        for stash in STASHES {
            for square in ["10in", "10in/4"] {
                line(&path, stash, square);
            }
        }
    }
}

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-sketches")
}

fn sketches() -> Vec<PathBuf> {
    let files = std::fs::read_dir(folder()).expect("the folder is there").map(|entry| entry.expect("a file").path());
    let mut found: Vec<PathBuf> = files.filter(|path| path.extension().is_some_and(|ending| ending == "png")).collect();
    found.sort();
    found
}

fn line(path: &Path, stash: &str, square: &str) {
    let name = path.file_stem().expect("a name").to_string_lossy();
    let Some(plan) = plan(path, stash, square) else {
        println!("{name:<18} {stash:<16} {square:>6} {:>8}", "short");
        return;
    };
    let Some(report) = report(&plan) else { return };
    println!(
        "{name:<18} {stash:<16} {square:>6} {:>8} {:>8} {:>6} {:>7.1}",
        plan.placed().len(),
        report.clashes,
        report.least,
        again(&plan)
    );
}

fn plan(path: &Path, stash: &str, square: &str) -> Option<Plan> {
    let picture = Picture::decode(&std::fs::read(path).expect("a file"), &Limits::default()).expect("a picture");
    let (across, down) = picture.aspect(&Crop::Centre).expect("a shape");
    let (width, grid) = (Length::INCH * 54i64, Length::inches(1, 2));
    let height = Length::from_ticks(width.ticks() * i64::from(down) / i64::from(across)).round_to(grid);
    let squares = vec![square.parse().expect("a square")];
    let request = Request { width, height, grid, squares, ..Request::usual(Ruler::Inch) };
    let (columns, rows) = request.cells();
    let cells = picture.cells(&Crop::Centre, columns, rows).expect("cells");
    let focus = salience(&cells, columns, rows);
    let text = std::fs::read_to_string(folder().join(format!("{stash}.toml"))).expect("a stash");
    let fabrics = Stash::read(&text).expect("a stash").fabrics();
    let order = Order::new(&request, &cells, &focus, &fabrics);
    if fabrics.iter().any(|fabric| fabric.supply.is_some()) {
        fit(&order, ROUNDS).ok().map(|fitted| fitted.plan)
    } else {
        scene(&order).ok().map(|(plan, _)| plan)
    }
}

/// Milliseconds of the exchanges once more.
fn again(plan: &Plan) -> f64 {
    let mut names: Vec<&str> = plan.fabrics.iter().map(|fabric| fabric.family.as_str()).collect();
    names.dedup();
    let prints = |name: &&str| plan.fabrics.keys().filter(|&print| plan.fabrics[print].family == **name).collect();
    let families: Vec<Vec<Print>> = names.iter().map(prints).collect();
    let vocabulary = plan.vocabulary();
    let counted: TiVec<Print, bool> = plan.fabrics.iter().map(|fabric| fabric.supply.is_some()).collect();
    let families = TiSlice::from_ref(&families);
    let rules = Rules { families, vocabulary: &vocabulary, counted: &counted, spare_ends: false, watch: &UNWATCHED };
    let mut bands = plan.bands.clone();
    let start = Instant::now();
    spread(&mut bands, &rules);
    start.elapsed().as_secs_f64() * 1e3
}
