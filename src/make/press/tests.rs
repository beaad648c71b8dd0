//! Small tops made by hand, and how their seams lie.

use crate::fabric::{Fabric, OnHand, Print, Rgb};
use crate::make::{Joint, Tone, Way, Work, make};
use crate::measure::Ruler;
use crate::plan::{Band, Column, Numbers, Piece, Plan, Pressing, Progress, Request, Row, State, Unit};
use crate::unit::{Corner, Cut, Side, Triangle};

const NIGHT: usize = 0;
const DUSK: usize = 1;
const LAMP: usize = 2;

fn filler(width: u32, fabric: usize) -> Unit {
    Unit { width, piece: Piece::Filler(Print(fabric)), state: State::Free }
}

fn small(corner: Corner) -> Unit {
    let triangle =
        Triangle { block: 12, cut: Cut::Whole, corner, tip: Print(NIGHT), rest: Print(DUSK), upright: false };
    Unit { width: 12, piece: Piece::Triangle(triangle), state: State::Free }
}

fn row(height: u32, units: &[Unit]) -> Row {
    Row { height, units: units.to_vec() }
}

fn band(columns: Vec<Vec<Row>>) -> Band {
    let column = |rows: Vec<Row>| Column { width: rows[0].units.iter().map(|unit| unit.width).sum(), rows };
    Band { height: columns[0].iter().map(|row| row.height).sum(), columns: columns.into_iter().map(column).collect() }
}

fn top(bands: Vec<Band>, pressing: Pressing) -> Work {
    let width: u32 = bands[0].columns.iter().map(|column| column.width).sum();
    let height = bands.iter().map(|band| band.height).sum::<u32>();
    let usual = Request::usual(Ruler::Inch);
    let request = Request { width: usual.grid * width, height: usual.grid * height, pressing, ..usual };
    let colours = [("A", "night", [20, 24, 40]), ("B", "dusk", [110, 110, 130]), ("C", "lamp", [250, 240, 200])];
    let fabrics = colours.into_iter().map(|(letter, name, colour)| Fabric::new(letter, name, Rgb(colour)));
    let picture = vec![Rgb([128; 3]); (width * height) as usize];
    make(&Plan {
        request,
        fabrics: fabrics.collect(),
        hand: OnHand::default(),
        picture,
        focus: Vec::new(),
        bands,
        numbers: Numbers::NONE,
        progress: Progress::default(),
    })
}

fn joint(work: &Work, [band, column, row, unit]: [usize; 4]) -> Joint {
    work.joints.of(band, column, row, unit).expect("a seam")
}

fn met(joint: Joint) -> (u32, u32) {
    (joint.meets, joint.nests)
}

/// Two bands of two columns, all of whose seams meet: at the edges of columns and bands as within them.
fn meeting() -> Vec<Band> {
    let rows = || vec![row(6, &[filler(6, DUSK), filler(6, DUSK)]), row(6, &[filler(6, DUSK), filler(6, DUSK)])];
    vec![band(vec![rows(), rows()]), band(vec![rows(), rows()])]
}

#[test]
fn all_that_meets_nests_within_and_between_columns_and_bands() {
    let work = top(meeting(), Pressing::Side);
    for address in [[1, 1, 2, 0], [1, 2, 2, 0], [2, 1, 2, 0], [1, 2, 0, 0], [2, 2, 0, 0]] {
        assert_eq!(met(joint(&work, address)), (1, 1), "{address:?}");
    }
    assert_eq!(met(joint(&work, [2, 0, 0, 0])), (3, 3));
    assert_eq!(work.joints.of(1, 0, 0, 0), None);
}

#[test]
fn what_is_pressed_open_meets_and_does_not_nest() {
    let work = top(meeting(), Pressing::Open);
    assert_eq!(joint(&work, [2, 0, 0, 0]), Joint { way: Way::Open, meets: 3, nests: 0, tone: Tone::Even });
}

#[test]
fn a_seam_that_meets_nothing_is_not_pressed_under_the_paler() {
    // Rows are pressed left and right by turns; in the second one the dark side is on the left.
    let rows = vec![row(6, &[filler(24, DUSK)]), row(6, &[filler(10, NIGHT), filler(14, LAMP)])];
    let work = top(vec![band(vec![rows])], Pressing::Side);
    assert_eq!(joint(&work, [1, 1, 2, 2]), Joint { way: Way::Before, meets: 0, nests: 0, tone: Tone::Darker });
    // Where it meets one that would show as much the other way, it shows, and says so.
    let dark_left = || row(6, &[filler(10, NIGHT), filler(14, LAMP)]);
    let work = top(vec![band(vec![vec![dark_left(), dark_left()]])], Pressing::Side);
    let tones = [1, 2].map(|row| joint(&work, [1, 1, row, 2]).tone);
    assert_eq!((tones, met(joint(&work, [1, 1, 2, 0]))), ([Tone::Darker, Tone::Shows], (1, 1)));
}

#[test]
fn diagonals_that_meet_nest_only_where_they_lie_opposite() {
    // Both are pressed to night. On the edge between them one lies up and the other down, or both up.
    let pair = |one, two| vec![band(vec![vec![row(12, &[small(one), small(two)])]])];
    let apart = top(pair(Corner::UpperRight, Corner::UpperRight), Pressing::Side);
    assert_eq!(met(joint(&apart, [1, 1, 1, 2])), (0, 0));
    let opposite = top(pair(Corner::UpperLeft, Corner::LowerLeft), Pressing::Side);
    assert_eq!(met(joint(&opposite, [1, 1, 1, 2])), (1, 1));
    let alike = top(pair(Corner::UpperLeft, Corner::UpperRight), Pressing::Side);
    assert_eq!(met(joint(&alike, [1, 1, 1, 2])), (1, 0));
}

#[test]
fn bias_on_the_outside_is_flagged_in_the_first_and_the_last_row_too() {
    let rows = [Corner::UpperLeft; 3].map(|corner| row(12, &[small(corner), small(corner), small(corner)]));
    let work = top(vec![band(vec![rows.to_vec()])], Pressing::Side);
    let bias = |row: usize, unit: usize| work.rows[row].units[unit].bias.clone();
    assert_eq!((bias(0, 0), bias(0, 1)), (vec![Side::Top, Side::Left], vec![Side::Top]));
    assert_eq!((bias(1, 1), bias(1, 2)), (vec![], vec![Side::Right]));
    assert_eq!((bias(2, 1), bias(2, 2)), (vec![Side::Bottom], vec![Side::Right, Side::Bottom]));
}
