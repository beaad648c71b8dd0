//! How much cloth cutting layouts take against the least that two stages can take, over random orders.
//!
//! `cargo bench --bench cutting` prints the mean, the worst and the time of each kind of order, then the cloth of whole
//! samples. The bound is for yardage what the layout itself proves, for sheets what `least_sheets` does. Nothing here
//! passes or fails.

use std::time::Instant;

use rowscape::compose::Order;
use rowscape::cutting::layout::{Layout, PieceToCut, Sheet, lay_out, least_sheets};
use rowscape::fabric::{Stash, named, propose};
use rowscape::make::make;
use rowscape::measure::{Length, Ruler};
use rowscape::picture::{Crop, Limits, Picture, salience};
use rowscape::plan::USUAL_ROUNDS as ROUNDS;
use rowscape::plan::{Plan, Request};
use rowscape::stock::compose;

const ORDERS: u64 = 100;

/// A seeded generator: the same orders on every run.
struct Dice(u64);

impl Dice {
    fn roll(&mut self, low: i64, high: i64) -> i64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        low + ((self.0 >> 33) as i64) % (high - low + 1)
    }
}

fn piece(index: i64, width: Length, height: Length, count: i64, turn: bool) -> PieceToCut {
    PieceToCut { id: format!("F{}", index + 1), width, height, count: count as u32, turn }
}

/// An order as quilts have them: squares, strips and fillers of 3 to 12 sizes, `pieces` in all.
fn order(dice: &mut Dice, pieces: (i64, i64), most: i64, turn: bool) -> Vec<PieceToCut> {
    let total = dice.roll(pieces.0, pieces.1);
    let sizes = dice.roll(3, 12).min(total);
    let half = |halves: i64| Length::inches(halves, 2);
    let size = |dice: &mut Dice| match dice.roll(0, 9) {
        0 => (half(20), half(20)),
        1 => (half(10), half(10)),
        2 => (half(dice.roll(16, 36)), half(dice.roll(3, 7))),
        3 => (Length::inches(dice.roll(12, 80), 8), half(dice.roll(3, 20))),
        _ => (half(dice.roll(3, 36)), half(dice.roll(3, 19))),
    };
    let mut counts = vec![1; sizes as usize];
    (sizes..total).for_each(|_| counts[dice.roll(0, sizes - 1) as usize] += 1);
    let pieces = (0..).zip(counts).map(|(index, count)| {
        let (width, height) = size(dice);
        let most = half(most);
        piece(index, width.min(most), height.min(most), count, turn)
    });
    pieces.collect()
}

#[derive(Default)]
struct Seen {
    ratios: Vec<f64>,
    times: Vec<f64>,
    least: usize,
}

impl Seen {
    fn add(&mut self, pieces: &[PieceToCut], sheets: &[Sheet], ratio: impl Fn(&Layout) -> (f64, f64)) {
        let start = Instant::now();
        let layout = lay_out(pieces, sheets).unwrap();
        self.times.push(start.elapsed().as_secs_f64() * 1e3);
        assert!(layout.unplaced.is_empty());
        let (used, bound) = ratio(&layout);
        self.ratios.push(used / bound);
        self.least += usize::from(used <= bound);
    }

    fn print(&mut self, what: &str) {
        let mean = |all: &[f64]| all.iter().sum::<f64>() / all.len() as f64;
        self.times.sort_by(f64::total_cmp);
        self.ratios.sort_by(f64::total_cmp);
        let (times, ratios) = (&self.times, &self.ratios);
        println!(
            "{what:34} {} orders: {:.2} % over the bound on average, {:.1} % at worst, {} at the bound; {:.1} ms, {:.0} ms at worst",
            ratios.len(),
            (mean(ratios) - 1.0) * 100.0,
            (ratios[ratios.len() - 1] - 1.0) * 100.0,
            self.least,
            mean(times),
            times[times.len() - 1],
        );
    }
}

fn yardage(what: &str, pieces: (i64, i64), turn: bool, orders: u64) {
    let cloth = Sheet { id: "yardage".into(), width: Length::inches(42, 1), height: None, count: 1 };
    let mut seen = Seen::default();
    let (mut used, mut bound) = (0.0, 0.0);
    for seed in 0..orders {
        let pieces = order(&mut Dice(seed), pieces, 36, turn);
        seen.add(&pieces, std::slice::from_ref(&cloth), |layout| {
            let sheet = &layout.sheets[0];
            (sheet.used_length.as_inches(), sheet.bound.as_inches())
        });
        let layout = lay_out(&pieces, std::slice::from_ref(&cloth)).unwrap();
        used += layout.sheets[0].used_length.as_inches();
        bound +=
            pieces.iter().map(|p| p.width.as_inches() * p.height.as_inches() * f64::from(p.count) / 42.0).sum::<f64>();
    }
    seen.print(what);
    println!("{:34} all cloth together: {:.1} % over the area of the pieces", "", (used / bound - 1.0) * 100.0);
}

/// Sheets used, and the bound.
fn sheets(what: &str, width: i64, height: i64, most: i64) -> (f64, f64) {
    let (width, height) = (Length::inches(width, 1), Length::inches(height, 1));
    let sheet = Sheet { id: what.into(), width, height: Some(height), count: 100 };
    let mut seen = Seen::default();
    let (mut used, mut bound) = (0.0, 0.0);
    for seed in 0..ORDERS {
        let pieces = order(&mut Dice(seed), (5, 40), most, true);
        let least = least_sheets(&pieces, width, height).unwrap() as f64;
        seen.add(&pieces, std::slice::from_ref(&sheet), |layout| (layout.sheets.len() as f64, least));
        used += least * seen.ratios[seen.ratios.len() - 1];
        bound += least;
    }
    seen.print(what);
    together(what, (used, bound));
    (used, bound)
}

fn together(what: &str, (used, bound): (f64, f64)) {
    println!(
        "{what:34} all together: {used:.0} sheets, bound {bound:.0}, {:.2} % over it",
        (used / bound - 1.0) * 100.0
    );
}

/// The cloth of one sample, all fabrics together.
fn sample(what: &str, stash: Option<&str>) {
    let work = make(&plan(stash));
    let used = work.used();
    let sheets: u64 = work.cloth.iter().map(|cut| cut.count()).sum();
    let over = |used: f64, bound: f64| if bound > 0.0 { (used / bound - 1.0) * 100.0 } else { 0.0 };
    let (length, least) = (used.length.as_inches(), used.least_length.as_inches());
    println!(
        "{what:34} {sheets} sheets cut; lengths {length} in, bound {least} in, {:.2} % over it; squares for fillers {}, bound {}, {:.2} % over it",
        over(length, least),
        used.squares,
        used.least_squares,
        over(used.squares as f64, used.least_squares as f64),
    );
}

/// The lighthouse 54 in wide, as `compose` makes it.
fn plan(stash: Option<&str>) -> Plan {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-sketches");
    let bytes = std::fs::read(folder.join("lighthouse-dusk.png")).expect("the picture can be read");
    let picture = Picture::decode(&bytes, &Limits::default()).expect("it is a picture");
    let (width, height) = (Length::INCH * 54i64, Length::INCH * 72i64);
    let request = Request { width, height, thrift: 100, ..Request::usual(Ruler::Inch) };
    let (columns, rows) = request.cells();
    let cells = picture.cells(&Crop::Centre, columns, rows).expect("cells");
    let focus = salience(&cells, columns, rows);
    let fabrics = match stash {
        Some(name) => {
            let text = std::fs::read_to_string(folder.join(name)).expect("the stash can be read");
            Stash::read(&text).expect("a stash").fabrics()
        }
        None => named(propose(&cells, columns, rows, &focus, 12, request.seed)),
    };
    compose(&Order::new(&request, &cells, &focus, &fabrics), ROUNDS).expect("a scene").0
}

fn main() {
    yardage("yardage, pieces may be turned", (5, 40), true, ORDERS);
    yardage("yardage, print with a direction", (5, 40), false, ORDERS);
    yardage("yardage, 100 to 400 pieces", (100, 400), true, ORDERS / 5);
    let squares = sheets("10 in squares", 10, 10, 20);
    let quarters = sheets("fat quarters, 18 x 22 in", 18, 22, 36);
    together("squares and fat quarters", (squares.0 + quarters.0, squares.1 + quarters.1));
    sample("lighthouse, cloth to buy", None);
    sample("lighthouse, two packs and a length", Some("stash-two-packs.toml"));
}
