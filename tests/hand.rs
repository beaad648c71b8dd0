//! Units, strips and fillers on hand: used first, never more than there are, and told in the plan file.

use crate::stock::within::{KINDS, assert_within, fabrics, heap, picture, request};
use proptest::prelude::*;
use rowscape::audition::{Trial, audition};
use rowscape::compose::{Order, refit};
use rowscape::cutting::lacking;
use rowscape::fabric::{Fabrics, FillerOnHand, OnHand, Print, UnitOnHand};
use rowscape::make::make;
use rowscape::measure::Length;
use rowscape::plan::{Depth, Item, Plan, Request, RowEnds, read, write};
use rowscape::revise::{Revision, revise};
use rowscape::stock::{Fitted, StockError, fit, recolour, reprint};
use rowscape::watch::UNWATCHED;
use serde_json::{Value, json};

const COLUMNS: usize = 20;
const ROWS: usize = 24;
const ROUNDS: u32 = 8;

fn top(row_ends: RowEnds, depth: Depth) -> Request {
    Request { row_ends, ..request(COLUMNS as i64, ROWS as i64, depth) }
}

fn fitted(request: &Request, fabrics: &Fabrics, hand: &OnHand, seed: u32) -> Result<Fitted, StockError> {
    let picture = picture(COLUMNS, ROWS, seed);
    fit(&Order { hand, ..Order::new(request, &picture, &[], fabrics) }, ROUNDS)
}

/// A scene from a few squares, with the heap's pieces in it.
fn plan() -> Plan {
    let hand = heap(&[3; KINDS], 8);
    fitted(&top(RowEnds::Exact, Depth::Rows), &fabrics(&[6], 1), &hand, 3).unwrap().plan
}

/// What a revision and an audition make of a plan with pieces on hand: anything but a panic.
fn looked_at_again(plan: &Plan) {
    let Plan { request, picture, focus, .. } = plan.clone();
    let revision = Revision {
        request,
        picture,
        focus,
        fabrics: plan.fabrics.clone(),
        told: Vec::new(),
        without: Vec::new(),
        changes: Vec::new(),
        less: 0,
        rounds: 12,
    };
    if let Ok((revised, _)) = revise(plan, &revision, &UNWATCHED) {
        make(&revised);
    }
    let trial = Trial { name: "the heap".into(), plan: plan.clone() };
    assert_eq!(audition(plan, vec![trial], false).entries.len(), 1);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]

    #[test]
    fn no_plan_takes_more_than_the_heap_has(counts in proptest::collection::vec(0..9_u32, KINDS),
        squares in proptest::collection::vec(0..5_u32, 4), yards in 0..2_i64, seed in 0..9_u32, bands: bool,
        spare: bool) {
        let depth = if bands { Depth::Bands } else { Depth::Rows };
        let request = top(if spare { RowEnds::Spare } else { RowEnds::Exact }, depth);
        match fitted(&request, &fabrics(&squares, yards), &heap(&counts, 8), seed) {
            Ok(fitted) => {
                assert_within(&fitted.plan);
                prop_assert!(fitted.gaps.whole >= 0.0 && (0.0..=1.0).contains(&fitted.gaps.cloth));
                prop_assert_eq!(&read(&write(&fitted.plan)).unwrap(), &fitted.plan);
                looked_at_again(&fitted.plan);
            }
            Err(StockError::Short(what)) => prop_assert!(!what.to_string().is_empty()),
            Err(other) => prop_assert!(false, "{other}"),
        }
    }
}

#[test]
fn what_is_on_hand_is_used_first() {
    let plan = plan();
    let used = assert_within(&plan);
    let work = make(&plan);
    assert!(used > 0);
    // Where a pair is sewn or a filler cut, none of its kind is left on hand.
    for batch in &work.batches {
        let block = plan.vocabulary().cells(batch.finished);
        let item = Item::unit(batch.first, batch.second, block);
        let left = rowscape::plan::items(&work.hand_left(&plan), &plan.request);
        assert_eq!(left.get(&item), None, "{item:?} is left, and {} are sewn", batch.pairs);
    }
}

#[test]
fn spare_row_ends_use_no_filler_on_hand() {
    let mut units = 0;
    for seed in 0..4 {
        let request = top(RowEnds::Spare, Depth::Bands);
        let plan = fitted(&request, &fabrics(&[8], 1), &heap(&[4; KINDS], 8), seed).unwrap().plan;
        let filler = |used: &&rowscape::cutting::HandPiece| matches!(used.item, Item::Filler { .. });
        let work = make(&plan);
        assert_eq!(work.hand.iter().find(filler), None, "seed {seed}");
        units += assert_within(&plan);
    }
    assert!(units > 0, "no unit on hand was used");
}

#[test]
fn sizes_that_the_scene_has_not_are_left_alone() {
    let (request, fabrics) = (top(RowEnds::Exact, Depth::Bands), fabrics(&[20], 1));
    let finished = |text: &str| text.parse::<Length>().unwrap();
    let unit =
        |size: &str| UnitOnHand { finished: finished(size), fabrics: [Print(0), Print(3)], stands: None, count: 50 };
    let filler = |width: &str, height: &str| FillerOnHand {
        fabric: Print(2),
        width: finished(width),
        height: finished(height),
        count: 50,
    };
    let hand = OnHand {
        // Off the grid, and no size that squares of 10 in give.
        units: vec![unit("5 1/2in"), unit("4.01in"), unit("5in"), unit("48in")],
        slices: heap(&[7; KINDS], 8)
            .slices
            .into_iter()
            .map(|s| rowscape::fabric::SliceOnHand { width: finished("1 3/4in"), ..s })
            .collect(),
        fillers: vec![filler("3 1/4in", "6in"), filler("6in", "1/2in"), filler("30in", "25in")],
    };
    let with = fitted(&request, &fabrics, &hand, 2).unwrap().plan;
    let without = fitted(&request, &fabrics, &OnHand::default(), 2).unwrap().plan;
    assert_eq!(with.bands, without.bands);
    assert!(make(&with).hand.is_empty());
    assert_eq!(make(&with).hand_left(&with), hand);
}

/// The plan file with something on hand changed.
fn refused(at: &str, to: Value) -> String {
    let mut value: Value = serde_json::from_str(&write(&plan())).unwrap();
    *value.pointer_mut(at).unwrap_or_else(|| panic!("no {at}")) = to;
    read(&value.to_string()).expect_err(at).to_string()
}

/// The best fabric of each patch is more than the stash that the scene came from has.
#[test]
fn the_same_pieces_are_made_again_from_what_they_came_from() {
    let (mut short, mut again) = (0, 0);
    for (seed, few) in (0..10).flat_map(|seed| [1, 3, 5].map(|few| (seed, few))) {
        let (request, stash) = (top(RowEnds::Exact, Depth::Bands), fabrics(&[9, 9, few, few, 9, 9, 9, 9], 1));
        let Ok(Fitted { plan, .. }) = fitted(&request, &stash, &heap(&[1; KINDS], 8), seed) else { continue };
        let refitted = Plan { hand: plan.hand.clone(), ..refit(&plan, &plan.fabrics).unwrap() };
        let lacks = |plan: &Plan| !lacking(plan).is_empty();
        let shapes = |plan: &Plan| plan.placed().iter().map(|p| (p.address, p.unit.width)).collect::<Vec<_>>();
        if lacks(&reprint(&refitted, &UNWATCHED).unwrap()) {
            short += 1;
            let recoloured = recolour(&refitted, &UNWATCHED).unwrap();
            assert_eq!(shapes(&recoloured), shapes(&plan));
            if !lacks(&recoloured) {
                again += 1;
                assert_within(&recoloured);
            }
        }
    }
    assert!(short > 3 && again == short, "{again} of {short}");
}

#[test]
fn what_is_on_hand_is_written_and_read() {
    let plan = plan();
    let again = read(&write(&plan)).unwrap();
    assert_eq!(again.hand, plan.hand);
    assert_eq!(write(&again), write(&plan));
}

#[test]
fn what_cannot_be_on_hand_is_refused() {
    for (at, letter) in
        [("units/0/fabrics/0", "Z"), ("slices/0/tip", "ZZ"), ("slices/0/rest", ""), ("fillers/0/fabric", "?")]
    {
        let message = refused(&format!("/on_hand/{at}"), json!(letter));
        assert!(message.contains(&format!("no fabric has the letter `{letter}`")), "{message}");
    }
    for at in ["units/0/finished", "slices/0/from", "slices/0/width", "fillers/0/width", "fillers/0/height"] {
        for size in ["0 in", "60 m"] {
            let message = refused(&format!("/on_hand/{at}"), json!(size));
            assert!(message.contains("is no size of a piece"), "{at}: {message}");
        }
        assert!(!refused(&format!("/on_hand/{at}"), json!("-4 in")).is_empty());
    }
    for at in ["units/0/count", "slices/0/count", "fillers/0/count"] {
        let message = refused(&format!("/on_hand/{at}"), json!(u32::MAX));
        assert!(message.contains("more than can be counted"), "{at}: {message}");
        assert!(!refused(&format!("/on_hand/{at}"), json!(-1)).is_empty());
    }
    let twice = refused("/on_hand/units/0/fabrics", json!(["A", "A"]));
    assert!(twice.contains("a triangle unit joins two fabrics"), "{twice}");
    let slice = json!({ "from": "9 in", "width": "3 in", "tip": "B", "rest": "B", "leans": "left", "count": 1 });
    let twice = refused("/on_hand/slices/0", slice.clone());
    assert!(twice.contains("a triangle unit joins two fabrics"), "{twice}");
    let mut upright = slice;
    (upright["rest"], upright["leans"]) = (json!("A"), json!("up"));
    assert!(refused("/on_hand/slices/0", upright).contains("up"));
    assert!(refused("/on_hand/units/0", json!({ "size": "4 in" })).contains("size"));
}

/// Counts of one kind in many lists sum past what a number holds.
#[test]
fn counts_that_sum_without_end_do_no_harm() {
    let mut plan = plan();
    let unit = UnitOnHand { count: 100_000, ..plan.hand.units[0] };
    plan.hand.units.extend(vec![unit; 45_000]);
    assert!(make(&plan).hand.iter().all(|used| used.used <= used.there));
    // No stash holds so many, so no plan does.
    assert!(read(&write(&plan)).is_err());
}
