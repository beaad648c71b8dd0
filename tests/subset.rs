//! So many fabrics of a stash: against every subset on small cases, and what must hold on larger ones.
//!
//! Nothing is published on this problem, so the oracle is our own.

use proptest::prelude::*;
use rowscape::compose::{Labour, Order, Subset, SubsetError, subset};
use rowscape::fabric::{Fabric, Fabrics, Print, Rgb, hyab};
use rowscape::measure::{Length, Ruler};
use rowscape::plan::{Depth, Request};

const CELLS: usize = 36;

fn request(triangles: u32) -> Request {
    Request {
        picture: "harbour.png".into(),
        width: Length::INCH * 6i64,
        height: Length::INCH * 6i64,
        grid: Length::INCH,
        squares: vec!["5in".parse().unwrap()],
        strips: Vec::new(),
        depth: Depth::Rows,
        triangles,
        ..Request::usual(Ruler::Inch)
    }
}

/// Prints of `families`, each with its colour.
fn stash(prints: &[(usize, Rgb)]) -> Fabrics {
    let letters = rowscape::fabric::letters(prints.len());
    let fabric = |(letter, &(family, colour)): (String, &(usize, Rgb))| Fabric {
        family: format!("family {family}"),
        ..Fabric::new(letter.as_str(), format!("print {letter}"), colour)
    };
    letters.into_iter().zip(prints).map(fabric).collect()
}

#[derive(Debug)]
struct Case {
    request: Request,
    picture: Vec<Rgb>,
    focus: Vec<u8>,
    fabrics: Fabrics,
}

impl Case {
    fn take(&self, most: usize) -> Result<Subset, SubsetError> {
        subset(&Order::new(&self.request, &self.picture, &self.focus, &self.fabrics), most)
    }

    fn family(&self, print: Print) -> Vec<Print> {
        self.fabrics.keys().filter(|&other| self.fabrics[other].family == self.fabrics[print].family).collect()
    }

    /// Plainly: each cell in two prints, half each, or in one alone; a family reads as the mean of all its prints.
    fn cost(&self, prints: &[Print]) -> u64 {
        let alone = Labour::new(&self.request.check().unwrap(), &self.request).filler_cell;
        let target =
            |print: &Print| mean(self.family(*print).iter().map(|&print| self.fabrics[print].colour).collect());
        let targets: Vec<Rgb> = prints.iter().map(target).collect();
        let cell = |(at, &colour): (usize, &Rgb)| {
            let weight = self.focus.get(at).map_or(1.0, |&weight| f64::from(weight) / 4.0);
            let costs: Vec<u64> =
                targets.iter().map(|&target| (16.0 * hyab(target, colour) * weight).round() as u64).collect();
            let two =
                (0..costs.len()).flat_map(|i| (0..i).map(move |j| (i, j))).map(|(i, j)| costs[i] + costs[j]).min();
            let one = costs.iter().map(|cost| cost * 2 + u64::from(alone)).min();
            two.into_iter().chain(one).min().unwrap()
        };
        self.picture.iter().enumerate().map(cell).sum()
    }

    /// The least cost of any so many prints.
    fn least(&self, most: usize) -> u64 {
        let all = (1_u32..1 << self.fabrics.len()).filter(|set| set.count_ones() as usize == most);
        let prints = |set: u32| self.fabrics.keys().filter(|print| set >> print.0 & 1 == 1).collect::<Vec<_>>();
        all.map(|set| self.cost(&prints(set))).min().unwrap()
    }
}

fn mean(colours: Vec<Rgb>) -> Rgb {
    let sum = |channel: usize| colours.iter().map(|colour| colour.linear()[channel]).sum::<f64>();
    Rgb::from_linear([0, 1, 2].map(|channel| sum(channel) / colours.len() as f64))
}

fn colour() -> impl Strategy<Value = Rgb> {
    any::<[u8; 3]>().prop_map(|levels| Rgb(levels.map(|level| level / 16 * 17)))
}

fn cases(prints: std::ops::Range<usize>) -> impl Strategy<Value = Case> {
    let prints = proptest::collection::vec((0..5_usize, colour()), prints);
    let focus = prop_oneof![Just(Vec::new()), proptest::collection::vec(1..=16_u8, CELLS)];
    let triangles = prop_oneof![Just(10_u32), Just(100), Just(2_000)];
    (prints, proptest::collection::vec(colour(), CELLS), focus, triangles).prop_map(
        |(prints, picture, focus, triangles)| {
            let fabrics = stash(&prints);
            Case { request: request(triangles), picture, focus, fabrics }
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(150))]

    #[test]
    fn no_subset_is_cheaper(case in cases(2..8), most in 1..8_usize) {
        let most = most.min(case.fabrics.len());
        let found = case.take(most).unwrap();
        prop_assert_eq!(found.prints.len(), most);
        prop_assert!(found.prints.is_sorted_by(|one, other| one < other));
        prop_assert_eq!(found.cost, case.cost(&found.prints));
        prop_assert_eq!(found.cost, case.least(most));
    }
}

/// Forty families of one or two prints each: far more subsets than can be tried.
fn large() -> Case {
    let mut state = 5_u32;
    let mut next = || {
        state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        (state >> 24) as u8
    };
    let mut colour = || Rgb([next(), next(), next()]);
    let prints: Vec<_> = (0..60).map(|print| (print % 40, colour())).collect();
    let picture = (0..CELLS).map(|_| colour()).collect();
    Case { request: request(100), picture, focus: Vec::new(), fabrics: stash(&prints) }
}

#[test]
fn more_fabrics_never_cost_more_and_no_exchange_helps() {
    let case = large();
    let found: Vec<Subset> = (1..=60).map(|most| case.take(most).unwrap()).collect();
    assert!(found.is_sorted_by_key(|subset| std::cmp::Reverse(subset.cost)));
    assert_eq!(found[59].prints, (0..60).map(Print).collect::<Vec<_>>());
    assert!(found[0].cost > 2 * found[19].cost, "{} {}", found[0].cost, found[19].cost);
    for subset in &found[..25] {
        assert_eq!(subset.cost, case.cost(&subset.prints));
        for (at, other) in (0..subset.prints.len()).flat_map(|at| (0..60).map(move |other| (at, other))) {
            let mut prints = subset.prints.clone();
            prints[at] = Print(other);
            prints.sort_unstable();
            prints.dedup();
            assert!(case.cost(&prints) >= subset.cost, "{:?} to {prints:?}", subset.prints);
        }
    }
}

#[test]
fn the_same_prints_come_on_any_number_of_threads() {
    let case = large();
    let on = |threads| rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap().install(|| case.take(12));
    assert_eq!(on(1), on(3));
}

#[test]
fn a_large_flat_area_has_its_pair() {
    let sky = Rgb([140, 170, 200]);
    let near = |by: u8| Rgb([140 + by, 170 + by, 200 + by]);
    let prints = [(0, near(0)), (0, near(2)), (1, Rgb([200, 40, 40])), (1, Rgb([204, 44, 44])), (2, Rgb([20, 20, 30]))];
    let mut picture = vec![sky; CELLS];
    picture[7] = Rgb([202, 42, 42]);
    let case = Case { request: request(100), picture, focus: Vec::new(), fabrics: stash(&prints) };
    assert_eq!(case.take(2).unwrap().prints, [0, 1].map(Print));
    assert_eq!(case.take(3).unwrap().prints.len(), 3);
    assert_eq!(case.take(3).unwrap().prints[..2], [0, 1].map(Print));
}

#[test]
fn painted_sketch_colours_keep_their_fabrics() {
    let lamp = Rgb([255, 220, 0]);
    let prints: Vec<_> = (0..6).map(|print| (print / 2, Rgb([40 * print as u8; 3]))).collect();
    let mut case = large();
    case.fabrics = stash(&prints);
    let sketches = [None, None, None, Some(lamp), Some(Rgb([0, 255, 0])), None];
    case.fabrics.iter_mut().zip(sketches).for_each(|(fabric, sketch)| fabric.sketch = sketch);
    case.picture = vec![Rgb([10; 3]); CELLS];
    case.picture[3] = lamp;
    assert!(case.take(1).unwrap().prints == [Print(3)]);
    let two = case.take(2).unwrap().prints;
    assert!(two.contains(&Print(3)) && !two.contains(&Print(4)), "{two:?}");
    case.picture[4] = Rgb([0, 255, 0]);
    assert_eq!(case.take(2).unwrap().prints, [3, 4].map(Print));
    assert_eq!(case.take(1), Err(SubsetError::Sketched { needed: 2, most: 1 }));
    assert!(case.take(0).unwrap_err().to_string().ends_with("take 2"));
}
