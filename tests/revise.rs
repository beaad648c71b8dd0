//! A change of mind: what is kept stays, what is wished comes, and the rest is solved again.

use rowscape::compose::{Order, scene};
use rowscape::cutting::{lacking, numbers};
use rowscape::fabric::{Fabric, Fabrics, Print, Rgb, Supply, Yardage};
use rowscape::make::make;
use rowscape::measure::{Length, Ruler, Seam};
use rowscape::plan::{Address, Band, Column, Depth, Piece, Placed, Plan, Request, Row, State, Unit};
use rowscape::revise::{Change, ReviseError, Revision, TopPart, Unmoved, compare, revise};
use rowscape::stock;
use rowscape::unit::Cut;
use rowscape::watch::UNWATCHED;

fn request() -> Request {
    Request {
        picture: "hill".into(),
        width: Length::INCH * 24i64,
        height: Length::INCH * 24i64,
        grid: Length::INCH,
        squares: vec!["10in/4".parse().unwrap()],
        strips: vec![Length::INCH],
        edge_step: Length::INCH * 4i64,
        ..Request::usual(Ruler::Inch)
    }
}

/// A hill of three greens before two blues.
pub fn plan() -> Plan {
    let colours = ["#7fa8d0", "#8fb8d8", "#3f6b3a", "#52803f", "#2b4a2c"];
    let fabric =
        |(index, hex): (usize, &&str)| Fabric::new(["A", "B", "C", "D", "E"][index], *hex, hex.parse().unwrap());
    let fabrics: Fabrics = colours.iter().enumerate().map(fabric).collect();
    let cell = |(x, y): (i32, i32)| {
        let ridge = 8 + (x - 11).abs() / 2;
        let band = if y < ridge { x % 2 } else { 2 + (y - ridge) / 6 };
        fabrics[Print(band.min(4) as usize)].colour
    };
    let picture: Vec<Rgb> = (0..24).flat_map(|y| (0..24).map(move |x| (x, y))).map(cell).collect();
    scene(&Order::new(&request(), &picture, &[], &fabrics)).unwrap().0
}

pub fn revision(plan: &Plan, changes: Vec<Change>) -> Revision {
    let Plan { request, picture, focus, .. } = plan.clone();
    Revision {
        request,
        picture,
        focus,
        fabrics: plan.fabrics.clone(),
        told: Vec::new(),
        without: Vec::new(),
        changes,
        less: 100,
        rounds: 12,
    }
}

fn at(plan: &Plan, wanted: impl Fn(&Placed) -> bool) -> Placed {
    plan.placed().into_iter().find(wanted).expect("a unit of that kind in the scene")
}

fn there(plan: &Plan, place: &Placed) -> Placed {
    let same = |p: &&Placed| (p.x, p.y, p.unit.width, p.height) == (place.x, place.y, place.unit.width, place.height);
    *plan.placed().iter().find(same).expect("a unit in the old one's place")
}

fn is_whole(placed: &Placed) -> bool {
    matches!(placed.unit.piece, Piece::Triangle(t) if t.cut == Cut::Whole)
}

fn uses(plan: &Plan, fabric: usize, but: State) -> bool {
    plan.placed().iter().filter(|placed| placed.unit.state != but).any(|placed| match placed.unit.piece {
        Piece::Filler(print) => print == Print(fabric),
        Piece::Triangle(t) => t.tip == Print(fabric) || t.rest == Print(fabric),
    })
}

#[test]
fn nothing_asked_changes_nothing() {
    let plan = plan();
    let (again, _) = revise(&plan, &revision(&plan, vec![]), &UNWATCHED).unwrap();
    assert_eq!(again, Plan { numbers: numbers(&plan), ..plan.clone() });
    let changes = compare((&plan, &make(&plan)), (&again, &make(&again)));
    assert_eq!((changes.units, changes.same), (plan.placed().len(), plan.placed().len()));
    assert!(changes.kinds.is_empty() && changes.pairs.is_empty() && changes.fillers.is_empty());
}

#[test]
fn every_row_that_is_sewn_stays_whatever_else_is_asked() {
    let plan = plan();
    for (row, _) in plan.rows() {
        let part = TopPart::Row(row.band, row.column, row.row);
        for (detail, depth) in [(400, Depth::Bands), (30, Depth::Bands), (100, Depth::Rows)] {
            let mut asked = revision(&plan, vec![Change::Mark(part, State::Sewn)]);
            (asked.request.detail, asked.request.depth) = (detail, depth);
            asked.without = vec!["D".into()];
            let Ok((new, _)) = revise(&plan, &asked, &UNWATCHED) else { continue };
            for old in plan.placed().iter().filter(|placed| part.holds(placed, Length::INCH)) {
                let stands = there(&new, old);
                assert_eq!((stands.unit.piece, stands.unit.state), (old.unit.piece, State::Sewn));
            }
            if depth == Depth::Bands {
                let rows = new.rows();
                let whole = rows.iter().filter(|(_, row)| row.units.iter().all(|unit| unit.state == State::Sewn));
                assert_eq!(whole.count(), 1, "the row is a row by itself");
            }
            assert!(!uses(&new, 3, State::Sewn), "D ran out");
        }
    }
}

#[test]
fn a_kept_row_may_grow_with_the_top_and_cannot_shrink_with_it() {
    let plan = plan();
    let mut asked = revision(&plan, vec![Change::Mark(TopPart::All, State::Kept)]);
    asked.request.width = Length::INCH * 28i64;
    asked.picture = (0..24 * 28).map(|i| plan.picture[i / 28 * 24 + (i % 28).min(23)]).collect();
    let (wider, _) = revise(&plan, &asked, &UNWATCHED).unwrap();
    plan.placed().iter().for_each(|old| assert_eq!(there(&wider, old).unit.piece, old.unit.piece));
    asked.request.width = Length::INCH * 20i64;
    asked.picture.truncate(20 * 24);
    let refused = revise(&plan, &asked, &UNWATCHED).unwrap_err();
    assert!(matches!(refused, ReviseError::CannotStay { .. }), "{refused}");
}

#[test]
fn a_turned_unit_and_a_new_patch_are_kept_so() {
    let plan = plan();
    let unit = at(&plan, is_whole);
    let Piece::Triangle(was) = unit.unit.piece else { unreachable!() };
    let (new, _) = revise(&plan, &revision(&plan, vec![Change::Turn(unit.address, 1)]), &UNWATCHED).unwrap();
    let Piece::Triangle(now) = there(&new, &unit).unit.piece else { panic!("not a triangle unit") };
    assert_eq!((now.tip, now.rest, now.block), (was.tip, was.rest, was.block));
    assert_ne!(now.corner, was.corner);
    let (many, _) =
        revise(&plan, &revision(&plan, vec![Change::Turn(unit.address, u32::MAX - 2)]), &UNWATCHED).unwrap();
    assert_eq!(there(&many, &unit).unit.piece, there(&new, &unit).unit.piece);
    let four = revision(&plan, vec![Change::Turn(unit.address, 1); 4]);
    assert_eq!(there(&revise(&plan, &four, &UNWATCHED).unwrap().0, &unit).unit.piece, unit.unit.piece);
    let other = (0..5).map(Print).find(|print| ![was.tip, was.rest].contains(print)).unwrap();
    let letter = |print: Print| plan.fabrics[print].letter.clone();
    let patch = |then: Print| Change::Patch { at: unit.address, now: letter(was.tip), then: letter(then) };
    let (new, _) = revise(&plan, &revision(&plan, vec![patch(other)]), &UNWATCHED).unwrap();
    let Piece::Triangle(now) = there(&new, &unit).unit.piece else { panic!("not a triangle unit") };
    assert_eq!((now.tip, now.rest, there(&new, &unit).unit.state), (other, was.rest, State::Kept));
    let both = revise(&plan, &revision(&plan, vec![patch(was.rest)]), &UNWATCHED).unwrap_err();
    assert!(matches!(both, ReviseError::OneFabric { .. }), "{both}");
}

#[test]
fn wishes_are_granted_where_they_were_made() {
    let plan = plan();
    let unit = at(&plan, is_whole);
    for letter in [None, Some("E".to_owned())] {
        let (new, _) =
            revise(&plan, &revision(&plan, vec![Change::Filler(unit.address, letter.clone())]), &UNWATCHED).unwrap();
        let Piece::Filler(print) = there(&new, &unit).unit.piece else { panic!("not a filler") };
        assert!(letter.is_none_or(|letter| plan.fabrics[print].letter == letter));
    }
    for placed in plan.placed() {
        let wish = revise(&plan, &revision(&plan, vec![Change::Whole(placed.address)]), &UNWATCHED);
        let (new, _) = match wish {
            Err(error @ (ReviseError::NoRoom(_) | ReviseError::CannotBe { .. })) => {
                panic!("{}: {error}", placed.address)
            }
            other => other.unwrap(),
        };
        let kept = new.placed().into_iter().filter(|p| p.unit.state == State::Kept);
        assert!(kept.clone().count() == 1 && kept.clone().all(|p| is_whole(&p)), "{}", placed.address);
    }
}

#[test]
fn what_cannot_be_is_refused_with_its_reason() {
    let plan = plan();
    let nowhere = Address { band: 1, column: 9, row: 1, unit: 1 };
    let filler = plan.placed().into_iter().find(|p| matches!(p.unit.piece, Piece::Filler(_)));
    let whole = at(&plan, is_whole).address;
    let mut cases = vec![
        (vec![Change::Mark(TopPart::Unit(nowhere), State::Kept)], "no unit of the plan lies in"),
        (vec![Change::Turn(nowhere, 1)], "no unit of the plan lies in"),
        (vec![Change::Mark(TopPart::Unit(whole), State::Sewn), Change::Turn(whole, 1)], "is sewn"),
        (vec![Change::Filler(whole, Some("Q".into()))], "it has A, B, C, D, E"),
        (vec![Change::Filler(whole, None), Change::Whole(whole)], "reach over what is kept"),
    ];
    if let Some(filler) = filler {
        cases.push((vec![Change::Turn(filler.address, 1)], "nothing to turn"));
    }
    for (changes, reason) in cases {
        let refused = revise(&plan, &revision(&plan, changes), &UNWATCHED).unwrap_err().to_string();
        assert!(refused.contains(reason), "{refused}");
    }
    let sewn = |change: &dyn Fn(&mut Request)| {
        let mut asked = revision(&plan, vec![Change::Mark(TopPart::Unit(whole), State::Sewn)]);
        change(&mut asked.request);
        revise(&plan, &asked, &UNWATCHED).unwrap_err().to_string()
    };
    assert!(
        sewn(&|r| r.seam = Seam::measured(Length::inches(3, 8), Ruler::Inch)).contains("sewn with a seam of 1/4 in")
    );
    assert!(sewn(&|r| r.squares = vec!["14in".parse().unwrap()]).contains("do not give"));
}

#[test]
fn a_wish_that_the_fabrics_cannot_grant_is_named() {
    let plan = plan();
    let wished = at(&plan, is_whole).address;
    let mut alone = revision(&plan, vec![Change::Whole(wished)]);
    alone.without = ["A", "B", "C", "D"].map(String::from).into();
    let mut narrow = revision(&plan, vec![Change::Filler(wished, None)]);
    narrow.request.cloth_width = Length::INCH * 3i64;
    let mut named = narrow.clone();
    named.changes = vec![Change::Filler(wished, Some("C".into()))];
    let cases = [
        (alone, "takes two fabrics"),
        (narrow, "no fabric gives a filler of that size"),
        (named, "fabric C gives no filler of 4 in x 4 in"),
    ];
    for (asked, reason) in cases {
        let refused = revise(&plan, &asked, &UNWATCHED).unwrap_err();
        assert!(matches!(refused, ReviseError::CannotBe { at, .. } if at == wished), "{refused}");
        let said = refused.to_string();
        assert!(said.contains(&format!("at unit {wished} ")) && said.contains(reason), "{said}");
    }
}

#[test]
fn a_place_that_leaves_no_room_is_named() {
    let mut plan = plan();
    let row = |widths: &[u32]| Row {
        height: 4,
        units: widths.iter().map(|&width| Unit { width, piece: Piece::Filler(Print(0)), state: State::Free }).collect(),
    };
    let rows = vec![row(&[12, 12]), row(&[2, 4, 18]), row(&[12, 12]), row(&[12, 12]), row(&[24]), row(&[24])];
    plan.bands = vec![Band { height: 24, columns: vec![Column { width: 24, rows }] }];
    let keep = |unit| Change::Mark(TopPart::Unit(Address { band: 1, column: 1, row: 2, unit }), State::Kept);
    assert!(revise(&plan, &revision(&plan, vec![keep(2)]), &UNWATCHED).is_ok());
    // Two inches to the left of it, and no piece narrower than three.
    let mut asked = revision(&plan, vec![keep(2)]);
    asked.request.least = Length::INCH * 3i64;
    let refused = revise(&plan, &asked, &UNWATCHED).unwrap_err();
    assert!(
        matches!(&refused, ReviseError::NoRoom(Unmoved::Stands(Some(at))) if at.to_string() == "1.1.2.2"),
        "{refused}"
    );
    asked.changes = vec![Change::Filler(Address { band: 1, column: 1, row: 2, unit: 2 }, None)];
    let refused = revise(&plan, &asked, &UNWATCHED).unwrap_err();
    assert!(matches!(&refused, ReviseError::NoRoom(Unmoved::Wanted(at)) if at.to_string() == "1.1.2.2"), "{refused}");
}

/// The hill again, of two blues and three greens, the first of each used up.
#[test]
fn a_wish_comes_in_a_print_of_which_there_is_some() {
    let Plan { request, picture, mut fabrics, .. } = plan();
    for (index, fabric) in fabrics.iter_mut().enumerate() {
        fabric.family = if index < 2 { "sky".into() } else { "land".into() };
        let yardage = [Yardage { width: Length::INCH * 42i64, length: Length::INCH * 90i64 }];
        let there = if [0, 2].contains(&index) { &yardage[..0] } else { &yardage };
        fabric.supply = Some(Supply { yardage: there.to_vec(), ..Supply::default() });
    }
    let order = Order::new(&request, &picture, &[], &fabrics);
    let (plan, _) = stock::compose(&order, 12).unwrap();
    let filler = at(&plan, |placed| matches!(placed.unit.piece, Piece::Filler(_)));
    let whole = *plan.placed().last().unwrap();
    let asked = vec![Change::Filler(filler.address, None), Change::Whole(whole.address)];
    let (revised, _) = revise(&plan, &revision(&plan, asked), &UNWATCHED).unwrap();
    assert_eq!(there(&revised, &filler).unit.state, State::Kept);
    at(&revised, |placed| is_whole(placed) && placed.unit.state == State::Kept);
    assert!(!uses(&revised, 0, State::Sewn) && !uses(&revised, 2, State::Sewn));
    assert!(lacking(&revised).is_empty());
}
