//! A horizon one degree off the level is sewn as one seam.
//!
//! Nothing is published on this; what is asked for is common sense at the sewing table: a seam that steps by half an inch
//! is seen, a horizon half an inch off at its ends is not.

use std::collections::BTreeSet;

use rowscape::compose::{Order, scene};
use rowscape::fabric::{Fabric, Fabrics, Print, Rgb};
use rowscape::measure::{Length, Ruler};
use rowscape::picture::{level, salience};
use rowscape::plan::{Piece, Plan, Request};

const COLUMNS: u32 = 108;
const ROWS: u32 = 72;

/// Sea under a bright sky, their border tilted by so many degrees; cells on it are mixed as it divides them.
fn sea(degrees: f64) -> Vec<Rgb> {
    let [sky, sea] = [Rgb([196, 214, 232]), Rgb([38, 84, 124])].map(Rgb::linear);
    let slope = degrees.to_radians().tan();
    let cell = |x: u32, y: u32| {
        let border = f64::from(ROWS) / 2.0 + 0.2 + slope * (f64::from(x) + 0.5 - f64::from(COLUMNS) / 2.0);
        let wet = (f64::from(y + 1) - border).clamp(0.0, 1.0);
        Rgb::from_linear([0, 1, 2].map(|i| wet * sea[i] + (1.0 - wet) * sky[i]))
    };
    (0..ROWS).flat_map(|y| (0..COLUMNS).map(move |x| (x, y))).map(|(x, y)| cell(x, y)).collect()
}

/// Two prints of sky and two of sea, so that flat areas may be of quiet units.
fn fabrics() -> Fabrics {
    let fabric = |(letter, colour): (&str, Rgb)| {
        let family = if letter < "C" { "sky" } else { "sea" };
        Fabric { family: family.into(), ..Fabric::new(letter, letter, colour) }
    };
    let [sky, sea] = [Rgb([196, 214, 232]), Rgb([38, 84, 124])];
    [("A", sky), ("B", sky), ("C", sea), ("D", sea)].into_iter().map(fabric).collect()
}

fn composed(picture: &[Rgb], focus: &[u8], detail: u32) -> Plan {
    let request = Request {
        width: Length::inches(1, 2) * COLUMNS,
        height: Length::inches(1, 2) * ROWS,
        detail,
        ..Request::usual(Ruler::Inch)
    };
    scene(&Order::new(&request, picture, focus, &fabrics())).unwrap().0
}

/// Heights at which sky meets sea; a triangle unit of both has its own.
fn borders(plan: &Plan) -> BTreeSet<u32> {
    let sky = |print: Print| print < Print(2);
    let mut borders = BTreeSet::new();
    let mut tops = vec![0; COLUMNS as usize];
    for placed in plan.placed() {
        let columns = placed.x as usize..(placed.x + placed.unit.width) as usize;
        match placed.unit.piece {
            Piece::Filler(print) if sky(print) => tops[columns].fill(placed.y + placed.height),
            Piece::Triangle(t) if sky(t.tip) && sky(t.rest) => tops[columns].fill(placed.y + placed.height),
            Piece::Triangle(t) if sky(t.tip) != sky(t.rest) => tops[columns].fill(placed.y + placed.height + 1000),
            _ => {}
        }
    }
    borders.extend(tops);
    borders
}

#[test]
fn a_horizon_one_degree_off_is_one_seam() {
    for degrees in [1.0, -1.0, 0.6] {
        let picture = sea(degrees);
        let level = level(&picture, COLUMNS, ROWS);
        let [plain, straight] = [salience(&picture, COLUMNS, ROWS), salience(&level, COLUMNS, ROWS)];
        for detail in [100, 200, 500] {
            let before = borders(&composed(&picture, &plain, detail));
            let after = borders(&composed(&level, &straight, detail));
            println!("{degrees} degrees, detail {detail}: {before:?} before, {after:?} now");
            assert_eq!(after.len(), 1, "{degrees} degrees, detail {detail}: {after:?}");
        }
    }
}
