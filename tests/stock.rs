//! Scenes within a stash: what is written never takes more than there is, and the bound holds.
//!
//! The amounts are counted here from `rows.csv` and `cutting.csv` alone.

use std::collections::BTreeMap;

use proptest::prelude::*;
use rowscape::compose::{Order, Ready, scene};
use rowscape::fabric::{Fabric, OnHand, Rgb, Squares, Supply, UnitOnHand, Yardage};
use rowscape::make::make;
use rowscape::measure::{Length, Ruler};
use rowscape::plan::{Depth, Plan, Request, State};
use rowscape::proof::{Files, prove};
use rowscape::render::{self, Options};
use rowscape::revise::{Change, Part, ReviseError, Revision, revise};
use rowscape::stock::{Gaps, Have, Lack, StockError, fit, within_cloth};

fn request(columns: i64, rows: i64, depth: Depth) -> Request {
    Request {
        picture: "harbour".into(),
        width: Length::INCH * columns,
        height: Length::INCH * rows,
        grid: Length::INCH,
        strips: vec![Length::INCH * 2i64],
        depth,
        edge_step: Length::INCH * 4i64,
        detail: 150,
        ..Request::usual(Ruler::Inch)
    }
}

/// Two prints each of four families, with so many squares each and a length of the first.
fn fabrics(squares: &[u32], yards: i64) -> Vec<Fabric> {
    let colours = ["#20304a", "#28405c", "#7fa8d0", "#9fc0e0", "#3f6b3a", "#52803f", "#e8d8b0", "#f4e8c8"];
    let fabric = |(index, hex): (usize, &&str)| Fabric {
        letter: ["A", "B", "C", "D", "E", "F", "G", "H"][index].into(),
        name: hex.to_string(),
        colour: hex.parse().unwrap(),
        family: format!("family {}", index / 2),
        only_squares: (index > 0).then_some(Length::INCH * 10i64),
        sketch: None,
        directional: false,
        supply: Some(Supply {
            // In two lots, as two packs give them.
            squares: [0, 1]
                .map(|lot| Squares { size: Length::INCH * 10i64, count: (squares[index % squares.len()] + lot) / 2 })
                .to_vec(),
            yardage: (index == 0)
                .then_some(Yardage { width: Length::INCH * 42i64, length: Length::INCH * 36i64 * yards })
                .into_iter()
                .collect(),
            ..Supply::default()
        }),
    };
    colours.iter().enumerate().map(fabric).collect()
}

fn picture(columns: usize, rows: usize, seed: u32) -> Vec<Rgb> {
    let palette: Vec<Rgb> = fabrics(&[1], 1).iter().map(|fabric| fabric.colour).collect();
    let cell = |(x, y): (usize, usize)| {
        let hill = rows / 2 + (x + seed as usize) % 7;
        let sun = x.abs_diff(columns / 2) + y.abs_diff(rows / 3) < 5;
        palette[if sun {
            7
        } else if y < hill {
            2 + (x / 3) % 2
        } else {
            (y / 4 + seed as usize) % 2 * 4 + x / 9 % 2
        }]
    };
    (0..rows).flat_map(|y| (0..columns).map(move |x| (x, y))).map(cell).collect()
}

/// Squares as bought, quarters pooled, and cells of fillers, by letter, as the cutting list says.
fn taken(plan: &Plan) -> BTreeMap<String, (f64, f64)> {
    let (work, options) = (make(plan), Options::default());
    let cutting = render::cutting_csv(plan, &work, &options).unwrap();
    let mut reader = csv::Reader::from_reader(cutting.as_bytes());
    let mut taken: BTreeMap<String, (f64, f64)> = BTreeMap::new();
    for line in reader.deserialize::<BTreeMap<String, String>>() {
        let line = line.unwrap();
        let number = |name: &str| line[name].parse::<f64>().unwrap_or(0.0);
        match line["record"].as_str() {
            "pair" => {
                let whole = number("count") * (number("square_in") / number("bought_in")).powi(2);
                for letter in [&line["fabric"], &line["second"]] {
                    taken.entry(letter.clone()).or_default().0 += whole;
                }
            }
            "filler" => {
                taken.entry(line["fabric"].clone()).or_default().1 +=
                    number("count") * number("width_in") * number("height_in");
            }
            _ => {}
        }
    }
    taken
}

/// By letter: whole squares, and the area that is there in all.
fn there(fabric: &Fabric) -> (f64, f64) {
    let supply = fabric.supply.as_ref().unwrap();
    let squares: u32 = supply.squares.iter().map(|s| s.count).sum();
    let lengths: f64 = supply.yardage.iter().map(|y| y.width.as_inches() * y.length.as_inches()).sum();
    (f64::from(squares), f64::from(squares) * 100.0 + lengths)
}

fn assert_within(plan: &Plan) {
    let taken = taken(plan);
    for fabric in &plan.fabrics {
        let (squares, area) = taken.get(&fabric.letter).copied().unwrap_or_default();
        let (has, all) = there(fabric);
        let whole = squares.ceil();
        assert!(squares * 100.0 + area <= all + 1e-6, "{} takes {squares} squares, {area} in of {all}", fabric.letter);
        if fabric.supply.as_ref().unwrap().yardage.is_empty() {
            assert!(whole <= has, "{} takes {whole} squares of {has}", fabric.letter);
        }
    }
    let work = make(plan);
    let options = Options::default();
    let rows = render::rows_csv(plan, &work, &options).unwrap();
    let cutting = render::cutting_csv(plan, &work, &options).unwrap();
    let cloth = render::cloth_csv(plan, &work, &options).unwrap();
    assert!(work.cloth.iter().all(|cut| cut.unplaced.is_empty()));
    prove(&Files { plan: &rowscape::plan::write(plan), rows: &rows, cutting: &cutting, cloth: &cloth }).unwrap();
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]

    #[test]
    fn no_plan_takes_more_than_there_is(squares in proptest::collection::vec(0..9_u32, 4), yards in 0..3_i64,
        seed in 0..9_u32, bands: bool) {
        let request = request(20, 24, if bands { Depth::Bands } else { Depth::Rows });
        let (picture, fabrics) = (picture(20, 24, seed), fabrics(&squares, yards));
        match fit(&Order::new(&request, &picture, &[], &fabrics), 12) {
            Ok(fitted) => {
                assert_within(&fitted.plan);
                prop_assert!(fitted.gaps.whole >= 0.0 && (0.0..=1.0).contains(&fitted.gaps.cloth));
            }
            Err(StockError::Short(what)) => {
                prop_assert!(!what.families.is_empty(), "{what}");
                prop_assert!(what.families.iter().all(|lack| lack.area > 0 && lack.squares > 0), "{what}");
                let ours = |lack: &Lack| fabrics.iter().any(|fabric| fabric.family == lack.family);
                prop_assert!(what.families.iter().all(ours), "{what}");
            }
            Err(other) => prop_assert!(false, "{other}"),
        }
    }
}

#[test]
fn where_cloth_is_plenty_the_answer_is_the_free_one_and_the_gap_nothing() {
    let request = request(20, 24, Depth::Bands);
    let (picture, fabrics) = (picture(20, 24, 3), fabrics(&[60], 9));
    let order = Order::new(&request, &picture, &[], &fabrics);
    let fitted = fit(&order, 12).unwrap();
    let (free, _) = scene(&order).unwrap();
    assert_eq!(fitted.gaps, Gaps { cloth: 0.0, whole: 0.0, rounds: 1 });
    let sizes = |plan: &Plan| plan.placed().iter().map(|p| (p.x, p.y, p.unit.width, p.height)).collect::<Vec<_>>();
    assert_eq!(sizes(&fitted.plan), sizes(&free));
    assert_within(&fitted.plan);
}

/// The bound against separate slow code: L(p) from the scene's own patches and from plain sums of cloth.
#[test]
fn the_bound_is_never_above_the_answer_and_more_cloth_never_raises_it() {
    let request = request(20, 24, Depth::Rows);
    let picture = picture(20, 24, 5);
    let mut last = i64::MAX;
    for squares in 2..9 {
        let fabrics = fabrics(&[squares, squares, squares + 1, squares], 0);
        let order = Order::new(&request, &picture, &[], &fabrics);
        let ready = Ready::new(&order).unwrap();
        let mut problem = ready.problem(&order).unwrap();
        let cloth = within_cloth(&ready, &mut problem, &Have::new(&ready, &fabrics), 60).unwrap();
        if cloth.bands.is_some() {
            assert!(cloth.bound <= cloth.cost, "{squares}");
        }
        assert!(
            cloth.bound as f64 <= last as f64 * 1.02,
            "{squares} squares: the bound rose from {last} to {}",
            cloth.bound
        );
        last = cloth.bound;
    }
}

fn revision(plan: &Plan, changes: Vec<Change>) -> Revision {
    let Plan { request, picture, focus, .. } = plan.clone();
    Revision { request, picture, focus, without: Vec::new(), changes, rounds: 12 }
}

#[test]
fn a_revision_takes_no_more_than_there_is_with_what_is_sewn() {
    let request = request(20, 24, Depth::Rows);
    let (picture, fabrics) = (picture(20, 24, 3), fabrics(&[3], 1));
    let plan = fit(&Order::new(&request, &picture, &[], &fabrics), 12).unwrap().plan;
    let sewn: Vec<_> = plan.placed().into_iter().filter(|placed| placed.address.row == 1).collect();
    let mut asked = revision(&plan, vec![Change::Mark(Part::Row(1, 1, 1), State::Sewn)]);
    asked.request.detail = 60;
    let (new, gaps) = revise(&plan, &asked).unwrap();
    assert!(gaps.is_some(), "a plan with counts is composed within them");
    assert_within(&new);
    let still = |unit: &rowscape::plan::Placed| {
        new.placed().iter().any(|now| (now.x, now.y, now.unit.piece) == (unit.x, unit.y, unit.unit.piece))
    };
    assert!(sewn.iter().all(still), "what is sewn stays");
    let mut bare = plan.clone();
    for supply in bare.fabrics.iter_mut().filter_map(|fabric| fabric.supply.as_mut()) {
        (supply.squares, supply.yardage) = (vec![Squares { size: Length::INCH * 10i64, count: 1 }], vec![]);
    }
    let Err(error @ ReviseError::Short(_)) = revise(&bare, &asked) else { panic!("one square of each is too little") };
    let told = error.to_string();
    assert!(
        told.contains("family ") && told.contains(" is short of about ") && told.contains("of 10 in, or "),
        "{told}"
    );
    assert!(error.hint().is_some());
}

/// Five units that finish 6 in fill a top of 12 x 12 in with four of them, and none of 18 x 12 in, which takes six.
#[test]
fn a_heap_is_revised_from_the_heap() {
    let mut fabrics = fabrics(&[0], 0);
    fabrics.iter_mut().for_each(|fabric| (fabric.supply, fabric.only_squares) = (Some(Supply::default()), None));
    let unit = UnitOnHand { finished: Length::INCH * 6i64, fabrics: [0, 2], count: 5 };
    let hand = OnHand { units: vec![unit], ..OnHand::default() };
    let (request, small) = (request(12, 12, Depth::Rows), picture(12, 12, 1));
    let order = Order { hand: &hand, ..Order::new(&request, &small, &[], &fabrics) };
    let plan = fit(&order, 12).unwrap().plan;
    let kept = revision(&plan, vec![Change::Mark(Part::Row(1, 1, 1), State::Kept)]);
    let (new, _) = revise(&plan, &kept).unwrap();
    let work = make(&new);
    assert_eq!((work.hand.iter().map(|piece| piece.used).sum::<u32>(), work.batches.len()), (4, 0));
    let mut wide = revision(&plan, vec![]);
    (wide.request.width, wide.picture) = (Length::INCH * 18i64, picture(18, 12, 1));
    let told = revise(&plan, &wide).unwrap_err().to_string();
    assert!(told.contains("it has 5 units and no cloth; more units, or cloth, of family 0"), "{told}");
}
