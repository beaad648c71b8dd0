//! How near scenes come to their pictures, against plain grids, against scenes with no limit, and by detail.
//!
//! `cargo bench --bench likeness` composes every sample sketch and test photo 54 in wide, from 10 in squares, in
//! 12 colours, and prints the tables. `cargo bench --bench likeness -- FOLDER` prints the last table alone, over the
//! pictures of the folder too. Nothing here passes or fails, but the last lines say what was beaten.

mod deep;
mod plain;
mod scenes;
mod table;
mod yardstick;

use std::path::{Path, PathBuf};

use rowscape::compose::{Composed, PER_HYAB};
use rowscape::fabric::Rgb;
use rowscape::likeness::{Aim, Halves, Likeness, judge, pieces, raster};
use rowscape::plan::Plan;

use plain::Ground;
use scenes::{Sitter, sitters};
use yardstick::short;

/// Stops of detail, broadest first.
const DETAILS: [u32; 6] = [25, 50, 100, 200, 400, 800];

fn main() {
    let folders = scenes::folders();
    let given: Vec<String> = std::env::args().skip(1).filter(|given| !given.starts_with("--")).collect();
    let all: Vec<&Path> = folders.iter().map(PathBuf::as_path).chain(given.iter().map(Path::new)).collect();
    if !given.is_empty() {
        return table::print(&all);
    }
    let sitters = sitters();
    against_grids(&sitters);
    yardstick::print(&sitters);
    by_detail(&sitters);
    println!();
    table::print(&all);
}

/// What is compared: lower, lower and higher is better.
fn measures(likeness: &Likeness) -> [f64; 3] {
    [likeness.error - likeness.floor, likeness.squinted - likeness.squinted_floor, likeness.ssim]
}

fn against_grids(sitters: &[Sitter]) {
    println!("Scenes against plain grids: 54 in wide, 10 in squares, 12 colours; HyAB a cell above the floor\n");
    println!(
        "{:<18} {:<17} {:>6} {:>8} {:>6} {:>6} {:>6} {:>10} {:>8}",
        "picture", "top", "HyAB", "squinted", "SSIM", "values", "units", "triangles", "trimmed"
    );
    let mut beaten = Vec::new();
    for sitter in sitters {
        beaten.push((short(&sitter.name), against(sitter)));
    }
    for (grid, name) in ["a grid of squares", "a grid of triangle squares"].iter().enumerate() {
        for (measure, what) in ["HyAB", "squinted HyAB", "SSIM"].iter().enumerate() {
            let lost: Vec<&str> = beaten.iter().filter(|b| !b.1[grid][measure]).map(|b| b.0.as_str()).collect();
            let words = if lost.is_empty() { "on every picture".into() } else { format!("not on {}", lost.join(", ")) };
            println!("scene beats {name} in {what}: {words}");
        }
    }
}

/// Prints the lines of one picture; tells for each grid and measure whether the scene is better.
fn against(sitter: &Sitter) -> [[bool; 3]; 2] {
    let (plan, _) = sitter.compose(100);
    let colours: Vec<Rgb> = plan.fabrics.iter().map(|fabric| fabric.colour).collect();
    let columns = plan.request.cells().0 as usize;
    let aim = Aim { picture: &plan.picture, columns, grid: plan.request.grid, fabrics: &colours };
    let ground = Ground { picture: &plan.picture, columns, fabrics: &colours };
    let counts = pieces(&plan);
    let line = |name: &str, top: &str, cells: &[Halves], units: usize, rest: String| {
        let likeness = judge(cells, &aim);
        let [error, squinted, ssim] = measures(&likeness);
        println!(
            "{name:<18} {top:<17} {error:>6.2} {squinted:>8.2} {ssim:>6.2} {:>6.2} {units:>6} {rest}",
            likeness.values
        );
        [error, squinted, -ssim]
    };
    let rest = format!("{:>8} % {:>8}", counts.triangle_share(), counts.trimmed);
    let scene = line(&short(&sitter.name), "scene", &raster(&plan), counts.units, rest);
    let grids = [
        ("squares", ground.squares(counts.units), 0),
        ("triangle squares", ground.triangle_squares(counts.units), 100),
    ];
    grids.map(|(name, grid, share)| {
        let plain = line("", name, &grid.cells, grid.units, format!("{share:>8} % {:>8}", 0));
        std::array::from_fn(|i| scene[i] < plain[i])
    })
}

fn by_detail(sitters: &[Sitter]) {
    println!("\nBy detail in per cent: HyAB a cell above the floor, weighted by focus; units below\n");
    println!("{:<18} {}", "picture", DETAILS.map(|detail| format!("{detail:>8}")).join(" "));
    let mut rough = Vec::new();
    for sitter in sitters {
        let scenes = DETAILS.map(|detail| sitter.compose(detail));
        println!(
            "{:<18} {}",
            short(&sitter.name),
            scenes.each_ref().map(|s| format!("{:>8.2}", weighted(s))).join(" ")
        );
        println!("{:<18} {}", "", scenes.each_ref().map(|s| format!("{:>8}", pieces(&s.0).units)).join(" "));
        if scenes.windows(2).any(|two| two[1].1.error > two[0].1.error) {
            rough.push(sitter.name.as_str());
        }
    }
    let words = if rough.is_empty() { "on every picture".into() } else { format!("not on {}", rough.join(", ")) };
    println!("finer detail never gives more error: {words}");
}

fn weighted((plan, composed): &(Plan, Composed)) -> f64 {
    (composed.error - composed.floor) as f64 / 2.0 / PER_HYAB / plan.picture.len() as f64
}
