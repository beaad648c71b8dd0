//! Pairs, strips used again and what is left, on tops made by hand.

use proptest::prelude::*;

use super::{Source, Work, make};
use crate::fabric::{Fabric, Fabrics, Lean, OnHand, Print, Rgb, Stash};
use crate::measure::{Length, Ruler};
use crate::plan::{Address, Band, Column, Depth, Numbers, Piece, Plan, Progress, Request, Row, State, Unit};
use crate::proof::{Files, Folder, Proven, prove, prove_folder};
use crate::render::{Options, build_list, cloth_csv, cutting_csv, leftovers_toml, png, rows_csv, svg};
use crate::unit::{Corner, Cut, Shape, Triangle};

fn fabrics() -> Fabrics {
    let names = [("A", "dusk"), ("B", "peach"), ("C", "\"lamp\" \\ white")];
    let fabric = |(letter, name): (&str, &str)| Fabric {
        letter: letter.into(),
        name: name.into(),
        colour: Rgb([10, 20, 30]),
        family: "headland".into(),
        only_squares: None,
        supply: None,
        remnants: None,
        thumbnail: None,
        swatch_width: None,
        directional: false,
        upright: false,
        sketch: (letter == "B").then_some(Rgb([1, 2, 3])),
    };
    names.into_iter().map(fabric).collect()
}

fn request(squares: &[&str], ruler: Ruler) -> Request {
    Request {
        picture: "headland.png".into(),
        squares: squares.iter().map(|text| text.parse().unwrap()).collect(),
        cloth_width: Length::INCH * 42i64,
        depth: Depth::Rows,
        ..Request::usual(ruler)
    }
}

/// A top of one unit a row, each filled up to the widest with fabric C.
fn stacked(request: Request, units: &[(Shape, Corner, usize, usize)]) -> Plan {
    let width = units.iter().map(|(shape, ..)| shape.width).max().unwrap_or(1) + 4;
    let unit = |width, piece| Unit { width, piece, state: State::Free };
    let row = |&(shape, corner, tip, rest): &(Shape, Corner, usize, usize)| {
        let triangle =
            Triangle { block: shape.block, cut: shape.cut, corner, tip: Print(tip), rest: Print(rest), upright: false };
        let units =
            vec![unit(shape.width, Piece::Triangle(triangle)), unit(width - shape.width, Piece::Filler(Print(2)))];
        Row { height: shape.height, units }
    };
    let rows: Vec<Row> = units.iter().map(row).collect();
    let height = rows.iter().map(|row| row.height).sum();
    let request = Request { width: request.grid * width, height: request.grid * height, ..request };
    let picture = vec![Rgb([128; 3]); (width * height) as usize];
    let bands = vec![Band { height, columns: vec![Column { width, rows }] }];
    Plan {
        request,
        fabrics: fabrics(),
        hand: OnHand::default(),
        picture,
        focus: Vec::new(),
        bands,
        numbers: Numbers::NONE,
        progress: Progress::default(),
    }
}

/// A shape in cells: height, width, side of the whole unit, part.
fn shape(height: u32, width: u32, block: u32, cut: Cut) -> Shape {
    Shape { height, width, block, cut }
}

/// The plan made, written and sewn on paper.
fn proven(plan: &Plan) -> (Work, Proven) {
    let (work, options) = (make(plan), Options { pixels: 400, ..Options::default() });
    let json = crate::plan::write(plan);
    assert_eq!(crate::plan::read(&json).expect("the plan holds"), *plan);
    let (rows, cutting) = (rows_csv(plan, &work, &options).unwrap(), cutting_csv(plan, &work, &options).unwrap());
    let cloth = cloth_csv(plan, &work, &options).unwrap();
    let (svg, png) = (svg(plan, &work, &options), png(plan, &work, &options).unwrap());
    let files = Files { plan: &json, rows: &rows, cutting: &cutting, cloth: &cloth };
    let (list, leftovers) = (build_list(plan, &work, &options), leftovers_toml(plan, &work));
    let proven = prove_folder(&Folder {
        files,
        svg: &svg,
        png: &png,
        list: &list,
        leftovers: &leftovers,
        stencil: None,
        prints: None,
    });
    (work, proven.unwrap_or_else(|fault| panic!("{fault}\n{rows}{cutting}{cloth}")))
}

fn at(row: usize) -> Address {
    Address { band: 1, column: 1, row, unit: 1 }
}

fn source(work: &Work, row: usize) -> Source {
    work.rows[row - 1].units[0].source
}

#[test]
fn eleven_minis_come_from_one_pair_and_two_quartered() {
    let mini = (shape(8, 8, 8, Cut::Whole), Corner::UpperLeft, 0, 1);
    let (work, proven) = proven(&stacked(request(&["10in"], Ruler::Inch), &[mini; 11]));
    let lines = |b: &crate::cutting::Batch| (b.id.clone(), b.square.quartered, b.pairs, b.made(), b.needed, b.spare());
    let lines: Vec<_> = work.batches.iter().map(lines).collect();
    assert_eq!(lines, [("P1".into(), false, 1, 8, 8, 0), ("P2".into(), true, 2, 4, 3, 1)]);
    assert_eq!((source(&work, 8), source(&work, 9)), (Source::Batch(0), Source::Batch(1)));
    // One square paired whole and one quartered, of each fabric.
    assert_eq!(proven.squares, 4);
    assert!(work.squares().iter().all(|squares| (squares.bought(), squares.spare_quarters()) == (2, 2)));
}

#[test]
fn quarters_of_one_fabric_share_a_square() {
    let mini = |rest| (shape(8, 8, 8, Cut::Whole), Corner::UpperLeft, 0, rest);
    let (work, proven) = proven(&stacked(request(&["10in"], Ruler::Inch), &[mini(1), mini(1), mini(2), mini(2)]));
    let squares: Vec<_> = work.squares().iter().map(|s| (s.fabric, s.bought(), s.spare_quarters())).collect();
    assert_eq!(squares, [(Print(0), 1, 2), (Print(1), 1, 3), (Print(2), 1, 3)]);
    assert_eq!(proven.squares, 3);
}

/// The strip off 9 in with 3 in cut off is the slice of 2 1/2 in, lying or standing, before its unit or after it.
#[test]
fn a_slice_is_the_strip_off_the_nearest_trimmed_unit() {
    let (trimmed, slice) = (shape(18, 12, 18, Cut::Trimmed), shape(18, 5, 18, Cut::Slice));
    let lying = shape(5, 18, 18, Cut::Slice);
    let units = [
        (slice, Corner::LowerRight, 1, 0),
        (trimmed, Corner::UpperLeft, 0, 1),
        (trimmed, Corner::LowerRight, 0, 1),
        (lying, Corner::LowerLeft, 1, 0),
    ];
    let (work, proven) = proven(&stacked(request(&["10in"], Ruler::Inch), &units));
    assert_eq!((source(&work, 1), source(&work, 4)), (Source::Offcut(at(2)), Source::Offcut(at(3))));
    assert_eq!(work.rows[1].units[0].offcut_to, Some(at(1)));
    assert_eq!((proven.offcuts, proven.squares), (2, 2));
    let rows = rows_csv(&stacked(request(&["10in"], Ruler::Inch), &units), &work, &Options::default()).unwrap();
    assert!(rows.contains("slice: the strip from 1.1.2.1 goes to 1.1.1.1; make 1.1.2.1 first"), "{rows}");
    assert!(rows.contains("cut 3 in off the right; the strip from 1.1.3.1 goes to 1.1.4.1"), "{rows}");
}

#[test]
#[should_panic(expected = "a unit is of a size that the squares give")]
fn a_unit_of_no_square_is_not_made_as_another() {
    make(&stacked(request(&["10in"], Ruler::Inch), &[(shape(7, 7, 7, Cut::Whole), Corner::UpperLeft, 0, 1)]));
}

#[test]
#[should_panic(expected = "the request was checked")]
fn a_request_that_was_never_checked_is_told() {
    let mut plan = stacked(request(&["10in"], Ruler::Inch), &[]);
    plan.request.squares = vec!["1/4in".parse().unwrap()];
    plan.vocabulary();
}

#[test]
fn only_the_same_strip_is_used_again() {
    let trimmed = (shape(18, 12, 18, Cut::Trimmed), Corner::UpperLeft, 0, 1);
    let slice = shape(18, 5, 18, Cut::Slice);
    let others = [
        (slice, Corner::LowerRight, 0, 1),
        (slice, Corner::LowerLeft, 1, 0),
        (slice, Corner::UpperRight, 1, 0),
        (slice, Corner::LowerRight, 1, 2),
        (shape(18, 3, 18, Cut::Slice), Corner::LowerRight, 1, 0),
    ];
    for other in others {
        let (work, proven) = proven(&stacked(request(&["10in"], Ruler::Inch), &[trimmed, other]));
        assert_eq!((proven.offcuts, work.rows[0].units[0].offcut_to), (0, None), "{other:?}");
    }
    let mut sewn = stacked(request(&["10in"], Ruler::Inch), &[trimmed, (slice, Corner::LowerRight, 1, 0)]);
    assert_eq!(proven(&sewn).1.offcuts, 1);
    sewn.bands[0].columns[0].rows[0].units[0].state = State::Sewn;
    assert_eq!(proven(&sewn).1.offcuts, 0);
}

/// Where two seams are no multiple of the grid, one cut never gives both.
#[test]
fn off_the_grid_seams_leave_the_other_part_over() {
    let request = request(&["25cm"], Ruler::Metric);
    let units = [
        (shape(22, 18, 22, Cut::Trimmed), Corner::UpperLeft, 0, 1),
        (shape(22, 2, 22, Cut::Slice), Corner::LowerRight, 1, 0),
    ];
    let plan = stacked(request, &units);
    let (work, proven) = proven(&plan);
    assert_eq!(proven.offcuts, 0);
    // 4 cm cut off finishes 2.5 cm; beside a slice cut at 3.5 cm 18.5 cm of the unit finish.
    let left = work.leftovers(&plan);
    let strips: Vec<_> = left.strips.iter().map(|s| (s.tip, s.rest, s.width, s.leans, s.count)).collect();
    let [a, b] = [0, 1].map(Print);
    assert_eq!(strips, [(a, b, Length::mm(185), Lean::Left, 1), (b, a, Length::mm(25), Lean::Left, 1)]);
    assert!(left.units.is_empty() && left.squares.is_empty());
}

#[test]
fn leftovers_are_a_stash_for_the_next_scene() {
    let mut units = vec![(shape(8, 8, 8, Cut::Whole), Corner::UpperLeft, 0, 1); 3];
    units.push((shape(18, 12, 18, Cut::Trimmed), Corner::UpperRight, 0, 2));
    units.push((shape(12, 12, 12, Cut::Whole), Corner::UpperRight, 1, 2));
    let plan = stacked(request(&["10in"], Ruler::Inch), &units);
    let work = make(&plan);
    let (left, text) = (work.leftovers(&plan), leftovers_toml(&plan, &work));
    let stash = Stash::read(&text).unwrap_or_else(|error| panic!("{error:?}\n{text}"));
    let named = |fabrics: &Fabrics| -> Fabrics {
        fabrics.iter().map(|fabric| Fabric { only_squares: None, supply: None, ..fabric.clone() }).collect()
    };
    assert_eq!(named(&stash.fabrics()), plan.fabrics);
    let spare: Vec<_> = stash.hand.units.iter().map(|u| (u.fabrics, u.finished, u.count)).collect();
    let inches = |n| Length::inches(n, 1);
    let [a, b, c] = [0, 1, 2].map(Print);
    assert_eq!(spare, [([a, b], inches(4), 1), ([a, c], inches(9), 1), ([b, c], inches(6), 3)]);
    let strips: Vec<_> = stash.hand.slices.iter().map(|s| (s.tip, s.rest, s.from, s.width, s.leans, s.count)).collect();
    assert_eq!(strips, [(c, a, inches(9), Length::inches(5, 2), Lean::Right, 1)]);
    assert_eq!(left.strips.len(), 1);
    let squares = |print: Print| stash.prints[print].supply.as_ref().unwrap().squares.clone();
    assert_eq!((squares(a)[0].size, squares(a)[0].count, squares(c).len()), (inches(5), 2, 0));
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(96) })]

    /// Any units of any squares: made once each, every yield held, every strip the slice that it is said to be.
    #[test]
    fn every_unit_is_made_once(metric: bool, list in 0..5_usize,
        picks in proptest::collection::vec((any::<prop::sample::Index>(), 0..4_usize, 0..3_usize, 1..3_usize), 1..26))
    {
        let ruler = if metric { Ruler::Metric } else { Ruler::Inch };
        let lists: [&[&str]; 5] = if metric { [&["25cm"], &["25cm/4"], &["25cm", "12cm"], &["18.5cm"], &["16cm", "25cm/4"]] }
            else { [&["10in"], &["10in/4"], &["10in", "5in"], &["8 1/2in"], &["7in", "10in/4"]] };
        let request = request(lists[list], ruler);
        let shapes = stacked(request.clone(), &[]).vocabulary().shapes();
        // Few kinds, so that many fall together.
        let shapes: Vec<Shape> = shapes.into_iter().step_by(3).collect();
        let units: Vec<_> = picks.iter().map(|(pick, corner, tip, more)| {
            (shapes[pick.index(shapes.len())], Corner::ALL[*corner], *tip, (tip + more) % 3)
        }).collect();
        let plan = stacked(request, &units);
        let (work, proven) = proven(&plan);
        prop_assert_eq!(proven.units, plan.placed().len());
        let offcuts = work.rows.iter().flat_map(|row| &row.units).filter(|u| matches!(u.source, Source::Offcut(_)));
        prop_assert_eq!(offcuts.count(), proven.offcuts);
        prop_assert_eq!(work.squares().iter().map(|s| u64::from(s.bought())).sum::<u64>(), proven.squares);
        prop_assert!(Stash::read(&leftovers_toml(&plan, &work)).is_ok());
    }
}

/// The rows with one cell of one address written anew.
fn rewritten(rows: &str, address: Address, column: &str, new: &str) -> String {
    let mut reader = csv::Reader::from_reader(rows.as_bytes());
    let heads = reader.headers().unwrap().clone();
    let place = heads.iter().position(|head| head == column).unwrap();
    let mut writer = csv::Writer::from_writer(Vec::new());
    writer.write_record(&heads).unwrap();
    for record in reader.records() {
        let mut cells: Vec<String> = record.unwrap().iter().map(str::to_owned).collect();
        if cells[1] == address.to_string() {
            assert_ne!(cells[place], new);
            cells[place] = new.into();
        }
        writer.write_record(cells).unwrap();
    }
    String::from_utf8(writer.into_inner().unwrap()).unwrap()
}

#[test]
fn strips_that_were_used_wrongly_are_found() {
    let (trimmed, slice) = (shape(18, 12, 18, Cut::Trimmed), shape(18, 5, 18, Cut::Slice));
    let units = [
        (trimmed, Corner::UpperLeft, 0, 1),
        (slice, Corner::LowerRight, 1, 0),
        (trimmed, Corner::UpperRight, 0, 1),
        (slice, Corner::LowerLeft, 1, 0),
        (shape(18, 14, 18, Cut::Trimmed), Corner::UpperLeft, 0, 1),
        (slice, Corner::UpperLeft, 1, 0),
    ];
    let plan = stacked(request(&["10in"], Ruler::Inch), &units);
    let (work, sound) = proven(&plan);
    assert_eq!((sound.offcuts, source(&work, 6)), (2, Source::Batch(0)));
    let options = Options::default();
    let (json, cutting) = (crate::plan::write(&plan), cutting_csv(&plan, &work, &options).unwrap());
    let rows = rows_csv(&plan, &work, &options).unwrap();
    let cloth = cloth_csv(&plan, &work, &options).unwrap();
    let fails = |rows: &str, at: usize, what: &str| {
        let fault = prove(&Files { plan: &json, rows, cutting: &cutting, cloth: &cloth }).expect_err(what);
        assert_eq!(fault.at, format!("1.1.{at}.1"), "{fault}");
        assert!(fault.what.contains(what), "{fault}");
    };
    let change = |row: usize, column: &str, new: &str| rewritten(&rows, at(row), column, new);
    // Twice, by two slices; and to a slice that is another's.
    fails(&change(6, "from", "1.1.1.1"), 6, "does not say so");
    fails(&change(3, "offcut", "1.1.2.1"), 3, "comes from 1.1.1.1");
    // Of another width: 2 in comes off the fifth unit.
    let wide = rewritten(&change(6, "from", "1.1.5.1"), at(5), "offcut", "1.1.6.1");
    fails(&wide, 6, "not this slice");
    fails(&change(2, "strip_in", "2.5"), 2, "not this slice");
    // Of another kind: the two strips that lean unlike ways have changed places.
    let mut leaning = rows.clone();
    let places = [(1, "offcut", "1.1.4.1"), (4, "from", "1.1.1.1"), (3, "offcut", "1.1.2.1"), (2, "from", "1.1.3.1")];
    for (row, column, new) in places {
        leaning = rewritten(&leaning, at(row), column, new);
    }
    fails(&leaning, 2, "not this slice");
    // Turned: the strip would show its tip in the wrong fabric or corner.
    fails(&change(2, "turn", "90"), 2, "not this slice");
    let turned = change(2, "turn", "180");
    fails(&turned, 2, "not this slice");
    fails(&rewritten(&turned, at(2), "strip_side", "right"), 2, "diagonal seam");
    // From a pair, of which there are then too few.
    let own = rewritten(&change(2, "from", "P1"), at(1), "offcut", "");
    let fault = prove(&Files { plan: &json, rows: &own, cutting: &cutting, cloth: &cloth }).expect_err("one unit more");
    assert!(fault.what.contains("one more") || fault.what.contains("the rows take"), "{fault}");
}
