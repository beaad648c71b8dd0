//! Scenes within a stash: what is written never takes more than there is, and the bound holds.

#[path = "stock/referee.rs"]
mod referee;
#[path = "stock/within.rs"]
mod within;

use proptest::prelude::*;
use rowscape::compose::{Order, Ready, scene};
use rowscape::plan::{Depth, Plan};
use rowscape::stock::{Gaps, Have, Lack, StockError, fit, within_cloth};
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
