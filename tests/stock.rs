//! Scenes within a stash: what is written never takes more than there is, and the bound holds.

mod referee;
pub mod within;

use crate::revise::revision;
use proptest::prelude::*;
use rowscape::compose::{ComposeError, Order, Ready, SceneError, scene};
use rowscape::fabric::{OnHand, Print, Squares, Supply, UnitOnHand, Yardage};
use rowscape::make::make;
use rowscape::measure::{Length, Ruler};
use rowscape::plan::{Depth, Plan, State};
use rowscape::revise::{Change, ReviseError, TopPart, revise};
use rowscape::stock::{Gaps, Have, Lack, Ruling, StockError, fit, within_cloth};
use rowscape::watch::UNWATCHED;
use within::{assert_within, fabrics, picture, request};

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
            // Of nothing no filler is cut, and triangle units alone fill no rows.
            Err(StockError::Scene(SceneError::Compose(ComposeError::NoFit))) => {
                prop_assert!(squares.iter().all(|count| *count == 0) && yards == 0);
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
    assert_eq!(fitted.gaps, Gaps { cloth: 0.0, whole: 0.0, rounds: 1, triangles: fitted.gaps.triangles, error: 1.0 });
    assert_eq!(fitted.gaps.triangles[0], fitted.gaps.triangles[1], "no wish gives way");
    let sizes = |plan: &Plan| plan.placed().iter().map(|p| (p.x, p.y, p.unit.width, p.height)).collect::<Vec<_>>();
    assert_eq!(sizes(&fitted.plan), sizes(&free));
    assert_within(&fitted.plan);
}

/// Eight fabrics with two squares and a quarter yard each: a little of much, in few pairs.
#[test]
fn a_drawer_of_a_little_of_much_makes_a_top() {
    let request = request(40, 40, Depth::Bands);
    let picture = picture(40, 40, 7);
    let mut fabrics = fabrics(&[2], 0);
    for fabric in &mut fabrics {
        fabric.only_squares = None;
        let yardage = vec![Yardage { width: Length::INCH * 42i64, length: Length::INCH * 9i64 }];
        fabric.supply.iter_mut().for_each(|supply| supply.yardage.clone_from(&yardage));
    }
    let fitted = fit(&Order::new(&request, &picture, &[], &fabrics), 12).unwrap();
    assert_within(&fitted.plan);
}

/// Four squares that give 9 1/2 in each make a plain top of 19 x 19 in and no more; one half inch more is ruled out by
/// area: 4 x 9 1/2 x 9 1/2 = 361 square inches, worked out by hand.
#[test]
fn squares_are_used_to_the_last_half_inch_and_no_further() {
    let of = |width: i64, height: i64| {
        let mut request = request(10, 10, Depth::Rows);
        request.grid = Length::inches(1, 2);
        (request.width, request.height) = (request.grid * width, request.grid * height);
        let (columns, rows) = request.cells();
        let picture = picture(columns as usize, rows as usize, 2);
        let mut fabrics = fabrics(&[4], 0);
        fabrics.truncate(1);
        fit(&Order::new(&request, &picture, &[], &fabrics), 8)
    };
    assert_within(&of(38, 38).unwrap().plan);
    let Err(StockError::Short(short)) = of(38, 39) else { panic!("there is no more than 361 square inches") };
    assert_eq!(short.ruling, Ruling::Area { gives: 361, takes: 371, ruler: Ruler::Inch });
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

#[test]
fn a_revision_takes_no_more_than_there_is_with_what_is_sewn() {
    let request = request(20, 24, Depth::Rows);
    let (picture, fabrics) = (picture(20, 24, 3), fabrics(&[3], 1));
    let plan = fit(&Order::new(&request, &picture, &[], &fabrics), 12).unwrap().plan;
    let sewn: Vec<_> = plan.placed().into_iter().filter(|placed| placed.address.row == 1).collect();
    let mut asked = revision(&plan, vec![Change::Mark(TopPart::Row(1, 1, 1), State::Sewn)]);
    asked.request.detail = 60;
    let (new, gaps) = revise(&plan, &asked, &UNWATCHED).unwrap();
    assert!(gaps.is_some(), "a plan with counts is composed within them");
    assert_within(&new);
    let still = |unit: &rowscape::plan::Placed| {
        new.placed().iter().any(|now| (now.x, now.y, now.unit.piece) == (unit.x, unit.y, unit.unit.piece))
    };
    assert!(sewn.iter().all(still), "what is sewn stays");
    let mut bare = plan.clone();
    for supply in bare.fabrics.iter_mut().filter_map(|fabric| fabric.supply.as_mut()) {
        (supply.squares, supply.yardage) = (vec![Squares { size: Length::INCH * 2i64, count: 1 }], vec![]);
    }
    asked.fabrics = bare.fabrics.clone();
    let Err(error @ ReviseError::Short(_)) = revise(&bare, &asked, &UNWATCHED) else {
        panic!("a scrap of each is too little")
    };
    let told = error.to_string();
    assert!(
        told.contains("family ") && told.contains(" is short of about ") && told.contains("of 10 in, or "),
        "{told}"
    );
}

/// Five units that finish 6 in fill a top of 12 x 12 in with four of them, and none of 18 x 12 in, which takes six.
#[test]
fn a_heap_is_revised_from_the_heap() {
    let mut fabrics = fabrics(&[0], 0);
    fabrics.iter_mut().for_each(|fabric| (fabric.supply, fabric.only_squares) = (Some(Supply::default()), None));
    let unit = UnitOnHand { finished: Length::INCH * 6i64, fabrics: [Print(0), Print(2)], stands: None, count: 5 };
    let hand = OnHand { units: vec![unit], ..OnHand::default() };
    let (mut request, small) = (request(12, 12, Depth::Rows), picture(12, 12, 1));
    request.strips.truncate(1);
    let order = Order { hand: &hand, ..Order::new(&request, &small, &[], &fabrics) };
    let plan = fit(&order, 12).unwrap().plan;
    let kept = revision(&plan, vec![Change::Mark(TopPart::Row(1, 1, 1), State::Kept)]);
    let (new, _) = revise(&plan, &kept, &UNWATCHED).unwrap();
    let work = make(&new);
    assert_eq!((work.hand.iter().map(|piece| piece.used).sum::<u32>(), work.batches.len()), (4, 0));
    let mut wide = revision(&plan, vec![]);
    (wide.request.width, wide.picture) = (Length::INCH * 18i64, picture(18, 12, 1));
    let told = revise(&plan, &wide, &UNWATCHED).unwrap_err().to_string();
    assert!(told.contains("it has 5 units and no cloth; more units, or cloth, of family 0"), "{told}");
}
