//! Questions that change nothing.

use rowscape::job::{one_more, remedy};
use rowscape::make::{RemedyWay, make};
use rowscape::measure::Length;
use rowscape::plan::Depth;
use rowscape::stock::fit;
use rowscape::watch::UNWATCHED;

use rowscape::compose::Order;

use crate::stock::within::{fabrics, picture, request};

fn plan() -> rowscape::plan::Plan {
    let (request, picture, fabrics) = (request(30, 36, Depth::Rows), picture(30, 36, 4), fabrics(&[9, 7, 8, 9], 1));
    fit(&Order::new(&request, &picture, &[], &fabrics), 12).unwrap().plan
}

#[test]
fn a_row_is_eased_sewn_again_cut_again_or_made_otherwise() {
    let plan = plan();
    let mut seen = Vec::new();
    for row in make(&plan).rows {
        let due = row.unfinished.width;
        let way = |off: Length| remedy(&plan, row.address, due + off).unwrap().way;
        assert_eq!(way(Length::ZERO), RemedyWay::Fits);
        assert_eq!((way(Length::inches(1, 8)), way(-Length::inches(1, 8))), (RemedyWay::Ease, RemedyWay::Ease));
        assert_eq!(way(Length::inches(30, 1)), RemedyWay::Change);
        for sixteenths in [-40_i64, -9, -3, 3, 9, 40] {
            let off = Length::inches(1, 16) * sixteenths;
            let answer = remedy(&plan, row.address, due + off).unwrap();
            assert!(answer.way == RemedyWay::Change || off.abs() <= answer.most, "{answer:?}");
            match answer.way {
                // All that is off is spread over both allowances of every seam.
                RemedyWay::Seams { seams, deeper } => {
                    let spread = deeper * 2i64 * seams as i64;
                    assert!((spread - off).abs() < Length::from_ticks(2 * seams as i64));
                }
                RemedyWay::Recut { unit, cut } => {
                    let unit = row.units.iter().find(|one| one.placed.address == unit).unwrap();
                    assert_eq!(unit.cut.unwrap().width - cut.width, off);
                    assert!(cut.width > plan.request.seam.both());
                }
                _ => {}
            }
            seen.push(std::mem::discriminant(&answer.way));
        }
    }
    seen.dedup();
    assert!(seen.len() > 2);
    let nowhere = rowscape::plan::Address { band: 9, column: 1, row: 1, unit: 1 };
    assert!(remedy(&plan, nowhere, Length::INCH).is_err());
}

#[test]
fn what_one_thing_more_would_do_is_told_best_first() {
    let found = one_more(&plan(), &UNWATCHED).unwrap();
    assert!(found.len() <= 3);
    for one in &found {
        assert!(one.error < 1.0 || one.touching[1] < one.touching[0], "{one:?}");
    }
    let worth = |one: &rowscape::answer::OneMore| one.error * 100.0 + one.touching[1] as f64;
    assert!(found.is_sorted_by(|one, other| worth(one) <= worth(other)));
    assert!(!found.is_empty(), "a scarce stash is helped by something");
}
