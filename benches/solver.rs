//! How long the solver takes on 60 x 80 in at 1/2 in with 12 colours, and how near it comes to a bare loop.
//!
//! `cargo bench` prints the median of several runs, the counts of work done, and the rate of min-plus steps as
//! a share of what a bare loop of the same operation reaches in the same run. Then a table of real stashes: the same
//! top from 12 to 400 families, free and with a price for each pair. Nothing here passes or fails.

use std::hint::black_box;
use std::time::Instant;

use rowscape::compose::{Choice, Design, Labour, Order, PriceList, Problem, refit, scene};
use rowscape::fabric::{Fabric, Fabrics, Family, Rgb, propose};
use rowscape::measure::{Length, Ruler, Seam};
use rowscape::plan::Request;
use rowscape::unit::Vocabulary;
use typed_index_collections::{TiSlice, TiVec};

const COLUMNS: usize = 120;
const ROWS: usize = 160;
const RUNS: usize = 9;

/// A seeded picture of hills and sky with grain.
fn picture() -> Vec<Rgb> {
    let mut state = 1_u32;
    let mut grain = || {
        state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        (state >> 28) as u8
    };
    let cell = |(x, y): (usize, usize)| {
        let hill = 90 + (x * 7 % 50).abs_diff(25);
        let shade = (y * 140 / ROWS) as u8;
        if y < hill {
            Rgb([60 + shade, 90 + shade / 2, 200 - shade + grain()])
        } else {
            Rgb([30 + grain(), 70 + shade / 2, 40 + grain()])
        }
    };
    (0..ROWS).flat_map(|y| (0..COLUMNS).map(move |x| (x, y))).map(cell).collect()
}

fn median(mut run: impl FnMut()) -> f64 {
    let mut times: Vec<f64> = (0..RUNS)
        .map(|_| {
            let start = Instant::now();
            run();
            start.elapsed().as_secs_f64() * 1e3
        })
        .collect();
    times.sort_by(f64::total_cmp);
    times[RUNS / 2]
}

/// Steps a second of `d = min(d, e + c)` over vectors that stay in the cache, on one core.
fn bare_loop() -> f64 {
    let (mut best, step) = (vec![i32::MAX / 2; 4096], vec![7_i32; 4096]);
    let rounds = 20_000;
    let arch = pulp::Arch::new();
    let time = median(|| {
        arch.dispatch(|| {
            for round in 0..rounds {
                for (best, step) in best.iter_mut().zip(&step) {
                    *best = (*best).min(step + round);
                }
            }
        });
        black_box(&best);
    });
    4096.0 * f64::from(rounds) / time * 1e3
}

fn main() {
    let picture = picture();
    let seam = Seam::measured(Length::inches(1, 4), Ruler::Inch);
    let strips = [1i64, 2, 3].map(|n| Length::INCH * n);
    let squares = ["10in".parse().expect("a square")];
    let vocabulary = Vocabulary::new(&squares, seam, Length::inches(1, 2), &strips, Length::INCH).expect("units");
    let palette = propose(&picture, COLUMNS as u32, ROWS as u32, &[], 12, 1);
    let choice =
        |&colour: &Rgb| Choice { colour, sketch: None, two_prints: false, upright: None, cloth: vec![(83, 83)] };
    let choices: TiVec<Family, Choice> = palette.iter().map(choice).collect();
    let design = |choices, edge_step| Design {
        picture: &picture,
        focus: &[],
        columns: COLUMNS,
        choices,
        vocabulary: &vocabulary,
        labour: Labour::new(&vocabulary, &Request::usual(Ruler::Inch)),
        edge_step,
        locks: Vec::new(),
        prices: TiVec::new(),
        edges: Default::default(),
    };
    let bare = bare_loop();
    println!("bare min-plus loop: {:.1} thousand million steps a second and core", bare / 1e9);
    for (name, edge_step) in [("rows", None), ("bands on a 3 in step", Some(6))] {
        let composed = Problem::new(&design(&choices, edge_step)).and_then(|problem| problem.solve()).expect("a scene");
        let time = median(|| {
            black_box(Problem::new(&design(&choices, edge_step)).and_then(|problem| problem.solve()).expect("a scene"));
        });
        let counts = composed.counts;
        let threads = rayon::current_num_threads() as f64;
        let share = (counts.sums + counts.steps) as f64 / (time / 1e3) / threads / bare;
        println!(
            "{name}: {time:.1} ms, {} sums, {} steps, {:.0} % of the bare loop on {threads} threads",
            counts.sums,
            counts.steps,
            share * 100.0
        );
    }
    other_fabrics(&picture, &palette);
    stashes(|choices| Problem::new(&design(choices, Some(6))).expect("a problem"), &choices[Family(0)]);
}

/// Families of any colours, and what each takes against what each of twelve takes.
fn stashes<'a>(problem: impl Fn(&'a TiSlice<Family, Choice>) -> Problem<'a>, like: &Choice) {
    let mut state = 3_u32;
    let mut muted = || {
        state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        20 + (state >> 24) as u8 / 4 * 3
    };
    let mut first = None;
    println!("families      free  a family        priced  a family");
    for families in [12, 25, 50, 100, 200, 400] {
        let choice = |_| Choice { colour: Rgb([muted(), muted(), muted()]), ..like.clone() };
        // Kept for the whole run, as the problem borrows them.
        let choices: &'a TiSlice<Family, Choice> = TiSlice::from_ref(Vec::leak((0..families).map(choice).collect()));
        let free = median(|| {
            black_box(problem(choices).solve().expect("a scene"));
        });
        let mut held = problem(choices);
        let prices = |at: usize| (0..families).map(|family| (family * 7 % 11 + at) as f64).collect();
        let mut round = 0;
        let priced = median(|| {
            round += 1;
            let list = PriceList { cloth: prices(round), closed: vec![false; families].into(), ..PriceList::default() };
            held.set_prices(&list);
            black_box(held.solve().expect("a scene"));
        });
        let each = [free, priced].map(|time| time / families as f64);
        let first = *first.get_or_insert(each);
        let share = |at: usize| each[at] / first[at];
        println!("{families:8} {free:7.1} ms {:8.2} x {priced:9.1} ms {:8.2} x", share(0), share(1));
    }
}

/// The same pieces in another twelve fabrics, tables of costs included.
fn other_fabrics(picture: &[Rgb], palette: &[Rgb]) {
    let request = Request {
        picture: "hills.png".into(),
        width: Length::INCH * 60i64,
        height: Length::INCH * 80i64,
        ..Request::usual(Ruler::Inch)
    };
    let fabric = |(index, colour): (usize, Rgb)| Fabric::new(index.to_string(), index.to_string(), colour);
    let fabrics: Fabrics = palette.iter().copied().enumerate().map(fabric).collect();
    let order = Order::new(&request, picture, &[], &fabrics);
    let (plan, _) = scene(&order).expect("a scene");
    let turned = |&Rgb([r, g, b]): &Rgb| Rgb([b, r, g]);
    let others: Fabrics = palette.iter().map(turned).enumerate().map(fabric).collect();
    let time = median(|| {
        black_box(refit(&plan, &others).expect("a scene"));
    });
    println!("the same pieces in {} other fabrics: {time:.1} ms, {} units", others.len(), plan.placed().len());
}
