//! Whether random stashes give scenes, how good these are, and how long that takes.
//!
//! `cargo bench --bench stashes` draws 200 stashes of 6 to 100 families, one to five prints each, 1 to 12 squares and up
//! to a yard (a metre) of each, 1.3 to 15 times what the top takes, and composes six pictures from them at 30 to 80 in.
//! `-- 40..60` draws only these. What a stash gives is counted finished: each square less its seams, each length less
//! its seams and an inch (2 cm) of straightening. Nothing here passes or fails.

use std::ops::Range;
use std::path::Path;
use std::time::Instant;

use rowscape::compose::Order;
use rowscape::fabric::{Fabric, Fabrics, Rgb, Squares, Supply, Yardage};
use rowscape::measure::{Length, Ruler};
use rowscape::picture::{Crop, Limits, Picture, salience};
use rowscape::plan::Request;
use rowscape::plan::USUAL_ROUNDS as ROUNDS;
use rowscape::stock::compose;

const STASHES: u32 = 200;
const PICTURES: [&str; 6] = [
    "sample-sketches/lighthouse-dusk.png",
    "sample-sketches/cliffs-gulls.png",
    "sample-sketches/moonrise-sail.png",
    "sample-sketches/headland-photo.jpg",
    "tests/data/photos/china_pagoda_lake.jpg",
    "tests/data/photos/sunset_hills.jpg",
];
const SQUARES: [(&str, Ruler); 6] = [
    ("10in", Ruler::Inch),
    ("5in", Ruler::Inch),
    ("2.5in", Ruler::Inch),
    ("10in/4", Ruler::Inch),
    ("25cm", Ruler::Metric),
    ("12.5cm", Ruler::Metric),
];

fn main() {
    let asked = std::env::args().skip(1).find_map(|word| {
        let (from, to) = word.split_once("..")?;
        Some(from.parse().ok()?..to.parse().ok()?)
    });
    let range: Range<u32> = asked.unwrap_or(0..STASHES);
    println!(
        "{:>4} {:<16} {:>8} {:>7} {:>8} {:>11} {:>6} {:>9} {:>9} {:>7}",
        "", "picture", "families", "prints", "squares", "top", "ratio", "cloth gap", "whole gap", "seconds"
    );
    let lines: Vec<Line> = range.map(Line::new).collect();
    let mut gaps: Vec<f64> = lines.iter().filter_map(|line| line.whole).collect();
    let made = gaps.len();
    gaps.sort_by(f64::total_cmp);
    let refused = |from: f64| lines.iter().filter(|line| line.whole.is_none() && line.ratio >= from).count();
    println!(
        "\n{made} of {} made; {} refused, {} of them from 1.5 times the top on",
        lines.len(),
        refused(0.0),
        refused(1.5)
    );
    if let (Some(worst), Some(median)) = (gaps.last(), gaps.get(gaps.len() / 2)) {
        println!("whole gap: {:.2} % in the median, {:.2} % in the worst", median * 100.0, worst * 100.0);
    }
    let mut seconds: Vec<f64> = lines.iter().map(|line| line.seconds).collect();
    seconds.sort_by(f64::total_cmp);
    if let (Some(worst), Some(median)) = (seconds.last(), seconds.get(seconds.len() / 2)) {
        println!("seconds: {median:.2} in the median, {worst:.2} in the worst");
    }
}

/// What came of one stash.
struct Line {
    ratio: f64,
    whole: Option<f64>,
    seconds: f64,
}

impl Line {
    fn new(number: u32) -> Self {
        let case = Case::new(number);
        let bytes = std::fs::read(Path::new(env!("CARGO_MANIFEST_DIR")).join(case.picture)).expect("a picture");
        let picture = Picture::decode(&bytes, &Limits::default()).expect("it is a picture");
        let (columns, rows) = case.request.cells();
        let cells = picture.cells(&Crop::Centre, columns, rows).expect("cells");
        let focus = salience(&cells, columns, rows);
        let order = Order::new(&case.request, &cells, &focus, &case.fabrics);
        let start = Instant::now();
        let made = compose(&order, ROUNDS);
        let seconds = start.elapsed().as_secs_f64();
        let (cloth, whole) = match &made {
            Ok((_, Some(gaps))) => (format!("{:.2} %", gaps.cloth * 100.0), format!("{:.2} %", gaps.whole * 100.0)),
            Ok((_, None)) => ("free".into(), "free".into()),
            Err(_) => ("".into(), "refused".into()),
        };
        let ruler = case.request.ruler;
        let name = Path::new(case.picture).file_stem().map(|name| name.to_string_lossy().into_owned());
        println!(
            "{number:>4} {:<16} {:>8} {:>7} {:>8} {:>11} {:>6.2} {cloth:>9} {whole:>9} {seconds:>7.2}",
            name.unwrap_or_default().chars().take(16).collect::<String>(),
            case.families,
            case.fabrics.len(),
            case.squares,
            format!("{:.0} x {:.0}", ruler.decimal(case.request.width), ruler.decimal(case.request.height)),
            case.ratio,
        );
        if let Err(error) = &made {
            println!("     {error}");
        }
        let whole = made.ok().map(|(_, gaps)| gaps.map_or(0.0, |gaps| gaps.whole));
        Self { ratio: case.ratio, whole, seconds }
    }
}

/// A stash and a top.
struct Case {
    squares: &'static str,
    picture: &'static str,
    request: Request,
    fabrics: Fabrics,
    families: u32,
    ratio: f64,
}

impl Case {
    /// Draws until the stash is 1.3 to 15 times what the top takes.
    fn new(number: u32) -> Self {
        let mut dice = Dice(u64::from(number) * 7919 + 17);
        loop {
            let case = Self::drawn(number, &mut dice);
            if (1.3..=15.0).contains(&case.ratio) {
                return case;
            }
        }
    }

    fn drawn(number: u32, dice: &mut Dice) -> Self {
        let (squares, ruler) = SQUARES[dice.below(SQUARES.len() as u32) as usize];
        let inch = |inches: u32| Length::INCH * i64::from(inches);
        let side = |inches: u32| match ruler {
            Ruler::Inch => inch(inches),
            Ruler::Metric => Length::mm(i64::from(inches) * 25).round_to(Length::CM),
        };
        let (width, height) = (side(30 + dice.below(51)), side(30 + dice.below(51)));
        let square: rowscape::unit::Square = squares.parse().expect("a square");
        let request = Request { width, height, squares: vec![square], ..Request::usual(ruler) };
        let families = 6 + dice.below(95);
        let (most_prints, most_squares, most_eighths) = (1 + dice.below(5), 1 + dice.below(12), dice.below(9));
        let mut fabrics = Vec::new();
        for family in 0..families {
            let colour: [u8; 3] = std::array::from_fn(|_| dice.below(256) as u8);
            for print in 0..1 + dice.below(most_prints) {
                let near = colour.map(|level| level.saturating_add(dice.below(12) as u8));
                let squares = vec![Squares { size: square.bought(), count: 1 + dice.below(most_squares) }];
                let eighths = i64::from(dice.below(most_eighths + 1));
                let (wide, length) = match ruler {
                    Ruler::Inch => (inch(42), Length::inches(9, 2) * eighths),
                    Ruler::Metric => (Length::CM * 110i64, Length::mm(125) * eighths),
                };
                let yardage = if eighths > 0 { vec![Yardage { width: wide, length }] } else { Vec::new() };
                let supply = Supply { squares, yardage, ..Supply::default() };
                let fabric = Fabric::new(format!("{family}.{print}"), format!("print {family}.{print}"), Rgb(near));
                fabrics.push(Fabric { family: format!("family {family}"), supply: Some(supply), ..fabric });
            }
        }
        let top = request.width.ticks() as f64 * request.height.ticks() as f64;
        let ratio =
            fabrics.iter().filter_map(|fabric| fabric.supply.as_ref()).map(|s| gives(s, &request)).sum::<f64>() / top;
        Self {
            squares,
            picture: PICTURES[number as usize % PICTURES.len()],
            request,
            fabrics: fabrics.into(),
            families,
            ratio,
        }
    }
}

/// What a print gives finished, in square ticks.
fn gives(supply: &Supply, request: &Request) -> f64 {
    let (both, grid) = (request.seam.both(), request.grid);
    let finished = |length: Length| (length - both).ticks().max(0) / grid.ticks() * grid.ticks();
    let area = |width: Length, height: Length| finished(width) as f64 * finished(height) as f64;
    let straightened = match request.ruler {
        Ruler::Inch => Length::INCH,
        Ruler::Metric => Length::CM * 2i64,
    };
    let squares = supply.squares.iter().map(|squares| area(squares.size, squares.size) * f64::from(squares.count));
    squares.chain(supply.yardage.iter().map(|cloth| area(cloth.width, cloth.length - straightened))).sum()
}

/// Seeded numbers (splitmix64; Steele, Lea and Flood, 2014, from memory).
struct Dice(u64);

impl Dice {
    fn below(&mut self, sides: u32) -> u32 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((mixed ^ (mixed >> 31)) % u64::from(sides)) as u32
    }
}
