//! What holds for any tiny picture and any sizes: it composes and is proven, or is refused; nothing panics.

use proptest::prelude::*;
use proptest::test_runner::TestCaseError;
use rowscape::compose::{Order, SceneError, scene};
use rowscape::fabric::{Fabric, Fabrics, Rgb, letters};
use rowscape::finish::Finish;
use rowscape::make::make;
use rowscape::measure::{Length, Ruler, Seam};
use rowscape::plan::{Depth, Effort, Focus, Plan, Pressing, Request, RowEnds, read, write};
use rowscape::proof::{Files, prove};
use rowscape::render::{Options, cloth_csv, cutting_csv, rows_csv, svg};
use rowscape::unit::Square;

/// The longest length that is read, in ticks.
const LIMIT: i64 = Length::LIMIT.ticks();

/// Lengths as makers ask for them, and some that nobody does.
fn length(most: i64) -> impl Strategy<Value = Length> {
    prop_oneof![
        6 => (1..=most * 2).prop_map(|halves| Length::inches(halves, 2)),
        4 => (1..=most * 5).prop_map(|halves| Length::mm(halves * 5)),
        1 => (1..=most * 64).prop_map(|parts| Length::inches(parts, 64)),
        1 => (-20..most * 1_016_000).prop_map(Length::from_ticks),
    ]
}

fn square() -> impl Strategy<Value = Square> {
    (length(12), any::<bool>()).prop_map(|(cut, quartered)| Square { cut, quartered })
}

prop_compose! {
    /// Sizes that mostly hold, all drawn on one ruler's grid.
    fn sensible()(metric: bool, columns in 2..20_i64, rows in 2..20_i64, quartered in proptest::bool::weighted(0.3),
        side in 3..22_i64, step in 1..4_i64, strips in proptest::collection::vec(1..8_i64, 0..4), seam in 1..4_i64,
        least in 1..4_i64, cloth in 8..90_i64, spare: bool, bands: bool, edge in 1..9_i64,
        detail in 10..2_000_u32, triangles in 10..2_000_u32) -> Request
    {
        let (ruler, grid, fine) = if metric { (Ruler::Metric, Length::CM, Length::MM * 5i64 / 2) }
            else { (Ruler::Inch, Length::inches(1, 2), Length::inches(1, 8)) };
        let grid = grid * step / 2;
        let mut strips: Vec<Length> = strips.into_iter().map(|strip| grid * strip).collect();
        strips.sort_unstable();
        strips.dedup();
        Request {
            picture: "harbour.png".into(), crop: "centre".into(), width: grid * columns, height: grid * rows, grid,
            seam: Seam::measured(fine * seam, ruler), ruler, strips, least: grid * least,
            squares: vec![Square { cut: if metric { Length::CM } else { Length::inches(1, 2) } * side, quartered }],
            cloth_width: grid * cloth, row_ends: if spare { RowEnds::Spare } else { RowEnds::Exact },
            pressing: if detail % 7 == 0 { Pressing::Open } else { Pressing::Side },
            cut_squares: triangles % 3 == 0, end_cut: (detail % 4 == 0).then_some(fine),
            depth: if bands { Depth::Bands } else { Depth::Rows }, edge_step: grid * edge,
            colours: None, detail, triangles, trims: triangles / 2 + 5, quiet: 10 + detail % 4 * 30,
            thrift: detail % 3 * 100, suit: if detail % 2 == 0 { Effort::Full } else { Effort::None },
            seed: 1, margin: detail % 40, title: if metric { String::new() } else { "Harbour mouth".into() },
            straighten: spare, focus: if bands { Focus::None } else { Focus::Auto }, rounds: 1 + detail % 90,
            steps: (detail % 5 == 0).then_some(triangles), held: if detail % 3 == 0 { vec!["A".into()] } else { Vec::new() },
            finish: Finish { batting: detail % 3 == 1, overhang: spare.then_some(fine), ..Finish::default() },
        }
    }
}

prop_compose! {
    /// The same with some lengths that are anything.
    fn requests()(sound in sensible(), odd in proptest::collection::vec((0..8_usize, length(30)), 0..3),
        squares in proptest::option::weighted(0.2, proptest::collection::vec(square(), 0..3))) -> Request
    {
        let mut request = sound;
        for (field, length) in odd {
            match field {
                0 => request.width = length,
                1 => request.height = length,
                2 => request.grid = length,
                3 => request.seam = Seam::measured(length, request.ruler),
                4 => request.least = length,
                5 => request.cloth_width = length,
                6 => request.edge_step = length,
                _ => request.strips = vec![length],
            }
        }
        request.squares = squares.unwrap_or(request.squares);
        request
    }
}

fn colour() -> impl Strategy<Value = Rgb> {
    prop_oneof![any::<[u8; 3]>().prop_map(Rgb), (0..3_u8).prop_map(|level| Rgb([level * 100; 3]))]
}

/// Prints with families and some that are squares only.
fn fabrics() -> impl Strategy<Value = Fabrics> {
    let print = (0..4_usize, colour(), proptest::option::weighted(0.1, length(12)));
    proptest::collection::vec(print, 0..7).prop_map(|prints| {
        let fabric = |(letter, (family, colour, only_squares)): (String, (usize, Rgb, Option<Length>))| Fabric {
            family: format!("family {family}"),
            only_squares,
            ..Fabric::new(letter.as_str(), format!("print {letter}"), colour)
        };
        letters(prints.len()).into_iter().zip(prints).map(fabric).collect()
    })
}

/// Composes a picture made of `colours` over and over.
fn composed(request: &Request, fabrics: &Fabrics, colours: &[Rgb], focus: bool) -> Option<Result<Plan, SceneError>> {
    let (columns, rows) = request.check().map_or((1, 1), |_| request.cells());
    let cells = columns as usize * rows as usize;
    // Small tops only, so that many are tried.
    (cells <= 900).then(|| {
        let picture: Vec<Rgb> = colours.iter().copied().cycle().take(cells).collect();
        let focus: Vec<u8> = if focus { (0..cells).map(|cell| 1 + (cell % 16) as u8).collect() } else { Vec::new() };
        let order = Order::new(request, &picture, &focus, fabrics);
        scene(&order).map(|(plan, _)| plan)
    })
}

/// Every column of every band, and every row in it, is as wide and tall as what holds it.
fn sums(plan: &Plan) -> Result<(), TestCaseError> {
    let (columns, rows) = plan.request.cells();
    prop_assert_eq!(plan.bands.iter().map(|band| band.height).sum::<u32>(), rows);
    for band in &plan.bands {
        prop_assert_eq!(band.columns.iter().map(|column| column.width).sum::<u32>(), columns);
        for column in &band.columns {
            prop_assert_eq!(column.rows.iter().map(|row| row.height).sum::<u32>(), band.height);
            for row in &column.rows {
                prop_assert_eq!(row.units.iter().map(|unit| unit.width).sum::<u32>(), column.width);
            }
        }
    }
    Ok(())
}

/// Written, read again, made, rendered and sewn on paper.
fn holds(plan: &Plan) -> Result<(), TestCaseError> {
    sums(plan)?;
    let json = write(plan);
    match read(&json) {
        Ok(again) => prop_assert_eq!(&again, plan),
        Err(error) => return Err(TestCaseError::fail(format!("{error}\n{:?}", plan.request))),
    }
    let (work, options) = (make(plan), Options::default());
    prop_assert!(svg(plan, &work, &options).ends_with("</svg>\n"));
    let (rows, cutting) = (rows_csv(plan, &work, &options), cutting_csv(plan, &work, &options));
    let (rows, cutting) = (rows.map_err(fail)?, cutting.map_err(fail)?);
    let cloth = cloth_csv(plan, &work, &options).map_err(fail)?;
    let proven = prove(&Files { plan: &json, rows: &rows, cutting: &cutting, cloth: &cloth });
    let proven =
        proven.map_err(|fault| TestCaseError::fail(format!("{fault}\n{:?}\n{rows}{cutting}", plan.request)))?;
    prop_assert_eq!(proven.units, plan.placed().len());
    Ok(())
}

fn fail(error: impl ToString) -> TestCaseError {
    TestCaseError::fail(error.to_string())
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(400) })]

    #[test]
    fn what_is_composed_is_proven(request in requests(), fabrics in fabrics(),
        colours in proptest::collection::vec(colour(), 1..40), focus: bool)
    {
        if let Some(Ok(plan)) = composed(&request, &fabrics, &colours, focus) {
            holds(&plan)?;
        }
    }

    #[test]
    fn sound_sizes_are_composed_or_refused_with_the_reason(request in sensible(), fabrics in fabrics(),
        colours in proptest::collection::vec(colour(), 1..40))
    {
        match composed(&request, &fabrics, &colours, false) {
            Some(Ok(plan)) => holds(&plan)?,
            Some(Err(error)) => prop_assert!(error.to_string().len() > 10),
            None => prop_assert!(request.cells().0 * request.cells().1 > 900),
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(4_000) })]

    #[test]
    fn any_length_reads_as_it_prints(ticks in prop_oneof![-LIMIT..=LIMIT, -9_000_000..9_000_000_i64], marks in 1..300_i64) {
        for length in [Length::from_ticks(ticks), Length::inches(marks, 64), Length::mm(marks) / 4] {
            prop_assert_eq!(length.to_string().parse::<Length>(), Ok(length));
            prop_assert_eq!(Ruler::Metric.show(length).parse::<Length>(), Ok(length));
        }
    }

    #[test]
    fn any_text_is_a_length_or_is_told(text in "[-+]?[0-9]{0,22}[ ./]?[0-9/]{0,12} ?(in|cm|mm|yd|m|\"|″|½|)") {
        match text.parse::<Length>() {
            Ok(length) => prop_assert_eq!(length.to_string().parse::<Length>(), Ok(length)),
            Err(error) => prop_assert!(!error.to_string().is_empty()),
        }
    }
}

/// A top lower than the least row: refused, where the solver once divided its rows by none.
#[test]
fn a_top_lower_than_any_unit_is_refused() {
    let ten = "10in".parse().unwrap();
    let request = Request {
        picture: "harbour.png".into(),
        width: Length::INCH * 9i64,
        height: Length::INCH * 9i64,
        grid: Length::INCH,
        squares: vec![ten],
        strips: Vec::new(),
        depth: Depth::Rows,
        ..Request::usual(Ruler::Inch)
    };
    let night = Rgb([16, 24, 48]);
    let night = Fabric::new("A", "night", night);
    for squares in [Vec::new(), vec![ten]] {
        for least in [1_i64, 2, 8, 9] {
            let request = Request { squares: squares.clone(), least: Length::INCH * least, ..request.clone() };
            if let Some(Ok(plan)) = composed(&request, &vec![night.clone()].into(), &[Rgb([9; 3])], false) {
                holds(&plan).unwrap();
            }
        }
    }
}
