//! The same pieces in other fabrics, against trying every fabric in every patch, half cell by half cell.

use rowscape::compose::{Labour, Order, PER_HYAB, RefitError, refit, scene};
use rowscape::fabric::{Fabric, Fabrics, Print, Rgb, ciede2000, hyab};
use rowscape::measure::{Length, Ruler};
use rowscape::plan::{Piece, Placed, Plan, Request, State};
use typed_index_collections::TiSlice;

/// A small seeded generator (Knuth's MMIX constants).
struct Seeded(u64);

impl Seeded {
    fn below(&mut self, limit: u32) -> u32 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        ((self.0 >> 33) as u32) % limit
    }

    fn colour(&mut self) -> Rgb {
        // Few levels, so that ties are common.
        Rgb([0; 3].map(|_: u8| (self.below(4) * 85) as u8))
    }

    /// One or two prints a family, the two of one colour, so that the family reads as either.
    fn fabrics(&mut self, families: u32) -> Fabrics {
        let mut fabrics = Fabrics::new();
        for family in 0..families {
            let (colour, prints) = (self.colour(), 1 + self.below(2));
            fabrics.extend((0..prints).map(|print| fabric(&format!("{family}{print}"), family, colour)));
        }
        fabrics
    }
}

fn fabric(letter: &str, family: u32, colour: Rgb) -> Fabric {
    Fabric { family: family.to_string(), ..Fabric::new(letter, letter, colour) }
}

fn request(width: i64, height: i64) -> Request {
    Request {
        picture: "quay.png".into(),
        width: Length::INCH * width,
        height: Length::INCH * height,
        grid: Length::INCH,
        squares: vec!["5in".parse().unwrap()],
        strips: vec![Length::INCH, Length::INCH * 2i64],
        edge_step: Length::INCH * 2i64,
        colours: Some(3),
        detail: 300,
        triangles: 250,
        quiet: 50,
        ..Request::usual(Ruler::Inch)
    }
}

fn plan(seeded: &mut Seeded) -> Plan {
    let (width, height) = (4 + seeded.below(9), 3 + seeded.below(9));
    let picture: Vec<Rgb> = (0..width * height).map(|_| seeded.colour()).collect();
    let weighed = seeded.below(2) == 1;
    let focus: Vec<u8> = (0..width * height).filter(|_| weighed).map(|_| 1 + seeded.below(16) as u8).collect();
    let request = request(width.into(), height.into());
    let fabrics = seeded.fabrics(3);
    let order = Order::new(&request, &picture, &focus, &fabrics);
    scene(&order).unwrap().0
}

/// Twice the cost of one unit with these colours in its tip and rest, by the half cells of its outline.
fn cost(plan: &Plan, placed: &Placed, tip: Rgb, rest: Rgb) -> i64 {
    let columns = plan.request.cells().0;
    let cell = |x: u32, y: u32, colour: Rgb| {
        let at = (y * columns + x) as usize;
        let weight = plan.focus.get(at).map_or(1.0, |&w| f64::from(w) / 4.0);
        (PER_HYAB * hyab(colour, plan.picture[at]) * weight).round() as i64
    };
    let (w, h) = (placed.unit.width, placed.height);
    let cells = (0..h).flat_map(|dy| (0..w).map(move |dx| (dx, dy)));
    let costs = cells.map(|(dx, dy)| {
        let halves = match placed.unit.piece {
            Piece::Filler(_) => 0,
            Piece::Triangle(t) => {
                let across = if t.corner.is_left() { dx } else { w - 1 - dx };
                let down = if t.corner.is_upper() { dy } else { h - 1 - dy };
                match (across + down + 1).cmp(&w.min(h)) {
                    std::cmp::Ordering::Less => 2,
                    std::cmp::Ordering::Equal => 1,
                    std::cmp::Ordering::Greater => 0,
                }
            }
        };
        let (x, y) = (placed.x + dx, placed.y + dy);
        halves * cell(x, y, tip) + (2 - halves) * cell(x, y, rest)
    });
    costs.sum::<i64>() + quiet(plan, placed, tip, rest)
}

/// What a unit of two colours that are nearly one is charged.
fn quiet(plan: &Plan, placed: &Placed, tip: Rgb, rest: Rgb) -> i64 {
    let charged = matches!(placed.unit.piece, Piece::Triangle(_)) && ciede2000(tip, rest) < 10.0;
    let labour = Labour::new(&plan.request.check().unwrap(), &plan.request);
    if charged { i64::from(labour.quiet) } else { 0 }
}

fn unit_cost(plan: &Plan, placed: &Placed) -> i64 {
    let colour = |print: Print| plan.fabrics[print].colour;
    match placed.unit.piece {
        Piece::Filler(fabric) => cost(plan, placed, colour(fabric), colour(fabric)),
        Piece::Triangle(t) => cost(plan, placed, colour(t.tip), colour(t.rest)),
    }
}

fn total(plan: &Plan) -> i64 {
    plan.placed().iter().map(|placed| unit_cost(plan, placed)).sum()
}

/// The cheapest of every choice of fabrics for one unit.
fn cheapest(plan: &Plan, placed: &Placed, fabrics: &Fabrics) -> i64 {
    let prints = fabrics.keys();
    let pairs = prints.clone().flat_map(|tip| prints.clone().map(move |rest| (tip, rest)));
    let costs = pairs.filter_map(|(tip, rest)| {
        let filler = matches!(placed.unit.piece, Piece::Filler(_));
        (filler == (tip == rest)).then(|| cost(plan, placed, fabrics[tip].colour, fabrics[rest].colour))
    });
    costs.min().unwrap()
}

/// Sizes, cuts and corners alone.
fn pieces(plan: &Plan) -> Vec<Placed> {
    let mut placed = plan.placed();
    for unit in &mut placed {
        match &mut unit.unit.piece {
            Piece::Filler(fabric) => *fabric = Print(0),
            Piece::Triangle(t) => (t.tip, t.rest) = (Print(0), Print(0)),
        }
    }
    placed
}

#[test]
fn no_other_choice_of_fabrics_is_cheaper() {
    for seed in 0..400 {
        let mut seeded = Seeded(seed);
        let plan = plan(&mut seeded);
        let families = 2 + seeded.below(4);
        let fabrics = seeded.fabrics(families);
        let other = refit(&plan, &fabrics).unwrap();
        assert_eq!(pieces(&other), pieces(&plan), "seed {seed}");
        assert_eq!(other.fabrics, fabrics);
        for placed in other.placed() {
            if let Piece::Triangle(t) = placed.unit.piece {
                assert_ne!(t.tip, t.rest, "seed {seed}: {} joins a print to itself", placed.address);
            }
            assert_eq!(unit_cost(&other, &placed), cheapest(&plan, &placed, &fabrics), "seed {seed} {placed:?}");
        }
        let own = refit(&plan, &plan.fabrics).unwrap();
        assert!(total(&own) <= total(&plan), "seed {seed}: worse in its own fabrics");
        assert_eq!(rowscape::plan::read(&rowscape::plan::write(&other)).unwrap(), other, "seed {seed}");
    }
}

#[test]
fn nothing_is_kept_in_a_trial() {
    let mut plan = plan(&mut Seeded(7));
    plan.bands[0].columns[0].rows[0].units[0].state = State::Sewn;
    let other = refit(&plan, &plan.fabrics).unwrap();
    assert!(other.placed().iter().all(|placed| placed.unit.state == State::Free));
    assert_eq!(other.request.colours, None, "its fabrics were given, not proposed");
}

/// The only print that may be used where its sketch colour is painted, and nowhere else.
#[test]
fn sketch_colours_are_kept_to() {
    let mut plan = plan(&mut Seeded(3));
    let (lamp, grey) = (Rgb([255, 255, 0]), Rgb([128; 3]));
    plan.picture.fill(lamp);
    let mut fabrics = [fabric("A", 0, lamp), fabric("B", 1, grey), fabric("C", 2, grey)];
    fabrics[1].sketch = Some(lamp);
    let other = refit(&plan, TiSlice::from_ref(&fabrics)).unwrap();
    let uses = |piece: Piece| match piece {
        Piece::Filler(fabric) => fabric == Print(1),
        Piece::Triangle(t) => t.tip == Print(1) || t.rest == Print(1),
    };
    assert!(other.placed().iter().all(|placed| uses(placed.unit.piece)));
}

#[test]
fn what_cannot_be_made_is_refused() {
    let mut plan = plan(&mut Seeded(1));
    assert_eq!(refit(&plan, TiSlice::from_ref(&[])), Err(RefitError::NoFabric));
    let first = plan.placed()[0].address;
    plan.bands[0].columns[0].rows[0].units[0].piece = Piece::Filler(Print(0));
    let size = plan.placed()[0];
    let small = |letter: &str, family, side| Fabric {
        only_squares: Some(Length::inches(side, 2)),
        ..fabric(letter, family, Rgb([90; 3]))
    };
    let longer = i64::from(size.unit.width.max(size.height)) * 2;
    let short = [small("A", 0, longer), small("B", 1, longer)];
    let Err(RefitError::Filler { address, .. }) = refit(&plan, TiSlice::from_ref(&short)) else {
        panic!("a filler longer than its cloth")
    };
    assert_eq!(address, first);
    // A square that is larger by both seams gives it.
    let enough = [small("A", 0, longer + 1), small("B", 1, 60)];
    assert!(refit(&plan, TiSlice::from_ref(&enough)).is_ok());
    let one = refit(&plan, TiSlice::from_ref(&[fabric("A", 0, Rgb([9; 3]))]));
    let triangles = plan.placed().iter().any(|placed| matches!(placed.unit.piece, Piece::Triangle(_)));
    assert_eq!(matches!(one, Err(RefitError::OneFabric(_))), triangles);
}
