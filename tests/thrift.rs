//! The squares of stray units, saved where a change of their colours hardly shows.

use std::collections::BTreeSet;
use std::path::Path;

use rowscape::compose::{Order, scene};
use rowscape::fabric::{Fabrics, Rgb, named, propose};
use rowscape::likeness::likeness;
use rowscape::make::make;
use rowscape::measure::{Length, Ruler};
use rowscape::picture::{Crop, Limits, Picture};
use rowscape::plan::{Placed, Plan, Request};
use rowscape::stock::free;

/// A sample sketch as cells of a top, with the fabrics proposed for it.
struct Sketch {
    request: Request,
    cells: Vec<Rgb>,
    fabrics: Fabrics,
}

impl Sketch {
    fn new(name: &str) -> Self {
        let request = Request {
            picture: name.into(),
            width: Length::INCH * 36i64,
            height: Length::INCH * 48i64,
            ..Request::usual(Ruler::Inch)
        };
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-sketches").join(name);
        let picture = Picture::decode(&std::fs::read(path).unwrap(), &Limits::default()).unwrap();
        let (columns, rows) = request.cells();
        let cells = picture.cells(&Crop::Centre, columns, rows).unwrap();
        let fabrics = named(propose(&cells, columns, rows, &[], 12, request.seed));
        Self { request, cells, fabrics }
    }

    fn all() -> Vec<Self> {
        ["lighthouse-dusk.png", "cliffs-gulls.png", "moonrise-sail.png"].map(Self::new).into()
    }

    fn composed(&self, thrift: u32) -> Plan {
        let request = Request { thrift, ..self.request.clone() };
        free(&Order::new(&request, &self.cells, &[], &self.fabrics)).unwrap()
    }
}

/// Square inches of the squares that are paired.
fn cloth(plan: &Plan) -> f64 {
    let of = |batch: &rowscape::cutting::Batch| batch.square.cut.as_inches().powi(2) * f64::from(2 * batch.pairs);
    make(plan).batches.iter().map(of).sum()
}

/// Squares that are cut for pairs.
fn squares(plan: &Plan) -> usize {
    make(plan).batches.iter().map(|batch| 2 * batch.pairs as usize).sum()
}

/// Kinds of filler, their sizes, pieces, and squares to cut.
fn kinds(plan: &Plan) -> usize {
    let filler = |placed: &Placed| placed.unit.piece.filler().is_some();
    let fillers: Vec<Placed> = plan.placed().into_iter().filter(filler).collect();
    let size = |placed: &Placed| [placed.unit.width.min(placed.height), placed.unit.width.max(placed.height)];
    let kinds: BTreeSet<_> = fillers.iter().map(|placed| (size(placed), placed.unit.piece.filler())).collect();
    let sizes: BTreeSet<_> = fillers.iter().map(size).collect();
    kinds.len() + sizes.len() + plan.placed().len() + squares(plan)
}

#[test]
fn more_thrift_takes_no_more_squares_and_no_thrift_is_the_free_scene_with_fewer_kinds_of_filler() {
    for sketch in Sketch::all() {
        let name = &sketch.request.picture;
        let (plain, _) = scene(&Order::new(&sketch.request, &sketch.cells, &[], &sketch.fabrics)).unwrap();
        let [none, some, much] = [0, 100, 300].map(|thrift| sketch.composed(thrift));
        let [few, all] = [&none, &plain].map(kinds);
        assert!(few < all, "{name}: {few} kinds and sizes of filler, pieces and squares of {all}");
        assert!(likeness(&none).error <= 1.01 * likeness(&plain).error + 1.0 / 32.0, "{name}");
        assert!(cloth(&some) < cloth(&none) && cloth(&much) <= cloth(&none), "{name}");
        let sizes = |plan: &Plan| plan.placed().iter().map(|p| (p.address, p.unit.width, p.height)).collect::<Vec<_>>();
        assert_eq!(sizes(&some), sizes(&none), "{name}: only colours change");
    }
}

#[test]
fn what_is_saved_shows_no_more_than_its_worth() {
    for sketch in Sketch::all() {
        let (none, some) = (sketch.composed(0), sketch.composed(100));
        // 30 of doubled error for each cell of cloth, four to the square inch; likeness is HyAB a cell, doubled error 32.
        let (columns, rows) = sketch.request.cells();
        let cells = f64::from(columns * rows);
        let added = (likeness(&some).error - likeness(&none).error) * cells * 32.0;
        let worth = (cloth(&none) - cloth(&some)) * 4.0 * 30.0;
        // Each cell's cost is rounded to a whole number.
        assert!(added <= worth + cells, "{}: {added:.0} for {worth:.0}", sketch.request.picture);
    }
}
