//! Tops made by hand for the tests: every kind of unit, every side cut off.

use crate::fabric::{Fabric, Fabrics, OnHand, Print, Rgb};
use crate::make::{Work, make};
use crate::measure::{Length, Ruler, Seam};
use crate::plan::{Band, Column, Numbers, Piece, Plan, Progress, Request, Row, RowEnds, State, Unit};
use crate::unit::{Corner, Cut, Triangle};

fn unit(width: u32, piece: Piece) -> Unit {
    Unit { width, piece, state: State::Free }
}

fn filler(width: u32, fabric: usize) -> Unit {
    unit(width, Piece::Filler(Print(fabric)))
}

fn triangle(width: u32, block: u32, cut: Cut, corner: Corner, tip: usize, rest: usize) -> Unit {
    unit(width, Piece::Triangle(Triangle { block, cut, corner, tip: Print(tip), rest: Print(rest), upright: false }))
}

fn row(height: u32, units: &[Unit]) -> Row {
    Row { height, units: units.to_vec() }
}

fn fabrics() -> Fabrics {
    let list = [
        ("A", "dusk violet", [74, 70, 112]),
        ("B", "peach", [240, 178, 134]),
        ("C", "harbour blue", [38, 70, 104]),
        ("D", "lamp white", [244, 240, 226]),
        ("E", "slate", [92, 98, 104]),
    ];
    let fabric = |(letter, name, colour): (&str, &str, [u8; 3])| Fabric::new(letter, name, Rgb(colour));
    list.into_iter().map(fabric).collect()
}

fn request(ruler: Ruler, width: Length, height: Length) -> Request {
    let metric = ruler == Ruler::Metric;
    let squares: &[&str] = if metric { &["25cm"] } else { &["10in", "10in/4"] };
    let (measured, grid) = match ruler {
        Ruler::Metric => (Length::MM * 15i64 / 2, Length::CM),
        Ruler::Inch => (Length::inches(26, 100), Length::inches(1, 2)),
    };
    Request {
        picture: "headland-lighthouse.png".into(),
        width,
        height,
        seam: Seam::measured(measured, ruler),
        squares: squares.iter().map(|text| text.parse().unwrap()).collect(),
        cloth_width: if metric { Length::mm(1060) } else { Length::inches(42, 1) },
        row_ends: if metric { RowEnds::Spare } else { RowEnds::Exact },
        edge_step: grid * 6i64,
        detail: 50,
        triangles: 50,
        ..Request::usual(ruler)
    }
}

fn finish(request: Request, bands: Vec<Band>) -> (Plan, Work) {
    let (width, height) = request.cells();
    let picture = vec![Rgb([128; 3]); (width * height) as usize];
    let plan = Plan {
        request,
        fabrics: fabrics(),
        hand: OnHand::default(),
        picture,
        focus: Vec::new(),
        bands,
        numbers: Numbers::NONE,
        progress: Progress::default(),
    };
    // The plan's own reader is the judge of whether it holds.
    assert_eq!(crate::plan::read(&crate::plan::write(&plan)).expect("the sample holds"), plan);
    let work = make(&plan);
    (plan, work)
}

/// A top of 15 x 35 in: a band of rows, and a band of two columns.
pub(super) fn inch() -> (Plan, Work) {
    use Corner::{LowerLeft, LowerRight, UpperLeft, UpperRight};
    let (whole, trimmed, slice) = (Cut::Whole, Cut::Trimmed, Cut::Slice);
    let sky = Column {
        width: 30,
        rows: vec![
            row(18, &[triangle(18, 18, whole, UpperRight, 0, 1), triangle(12, 18, trimmed, UpperLeft, 1, 0)]),
            row(
                12,
                &[
                    triangle(10, 12, trimmed, LowerRight, 1, 2),
                    triangle(12, 12, whole, LowerLeft, 3, 0),
                    triangle(3, 12, slice, UpperLeft, 3, 4),
                    filler(5, 2),
                ],
            ),
            row(14, &[triangle(18, 18, trimmed, UpperRight, 2, 4), filler(12, 3)]),
            row(12, &[triangle(18, 18, trimmed, LowerLeft, 0, 4), triangle(12, 12, whole, UpperLeft, 0, 3)]),
        ],
    };
    let land = Column {
        width: 18,
        rows: vec![
            row(3, &[triangle(18, 18, slice, UpperLeft, 0, 4)]),
            row(8, &[triangle(8, 8, whole, UpperLeft, 1, 4), triangle(6, 8, trimmed, LowerLeft, 4, 2), filler(4, 2)]),
            row(3, &[filler(12, 0), triangle(3, 3, whole, LowerLeft, 2, 3), triangle(3, 3, whole, LowerLeft, 2, 3)]),
        ],
    };
    let tower = Column {
        width: 12,
        rows: vec![row(12, &[triangle(12, 12, whole, UpperRight, 3, 0)]), row(2, &[filler(12, 3)])],
    };
    let bands = vec![Band { height: 56, columns: vec![sky] }, Band { height: 14, columns: vec![land, tower] }];
    finish(request(Ruler::Inch, Length::inches(15, 1), Length::inches(35, 1)), bands)
}

/// A top of 30 x 33 cm with spare row ends.
pub(super) fn metric() -> (Plan, Work) {
    let rows = vec![
        row(22, &[triangle(22, 22, Cut::Whole, Corner::UpperLeft, 0, 1), filler(8, 2)]),
        row(
            9,
            &[
                filler(6, 3),
                triangle(9, 9, Cut::Whole, Corner::LowerRight, 0, 3),
                triangle(9, 9, Cut::Whole, Corner::LowerRight, 0, 3),
                filler(6, 4),
            ],
        ),
        row(2, &[triangle(22, 22, Cut::Slice, Corner::LowerLeft, 2, 4), filler(8, 2)]),
    ];
    let bands = vec![Band { height: 33, columns: vec![Column { width: 30, rows }] }];
    finish(request(Ruler::Metric, Length::mm(300), Length::mm(330)), bands)
}
