//! Small tops, stashes for them, and what their tables take, counted from `rows.csv` and `cutting.csv` alone.

use std::collections::BTreeMap;

use rowscape::fabric::{
    Fabric, Fabrics, FillerOnHand, Lean, Oddment, OnHand, Print, Rgb, SliceOnHand, Squares, Supply, UnitOnHand, Yardage,
};
use rowscape::make::make;
use rowscape::measure::{Length, Ruler};
use rowscape::plan::{Depth, Plan, Request};
use rowscape::proof::{Files, Folder, prove_folder};
use rowscape::render::{self, Options};

pub fn request(columns: i64, rows: i64, depth: Depth) -> Request {
    Request {
        picture: "harbour".into(),
        width: Length::INCH * columns,
        height: Length::INCH * rows,
        grid: Length::INCH,
        strips: vec![Length::INCH * 2i64, Length::inches(7, 2)],
        depth,
        edge_step: Length::INCH * 4i64,
        detail: 150,
        ..Request::usual(Ruler::Inch)
    }
}

/// Two prints each of four families, with so many squares each and a length of the first.
pub fn fabrics(squares: &[u32], yards: i64) -> Fabrics {
    let colours = ["#20304a", "#28405c", "#7fa8d0", "#9fc0e0", "#3f6b3a", "#52803f", "#e8d8b0", "#f4e8c8"];
    let fabric = |(index, hex): (usize, &&str)| Fabric {
        letter: ["A", "B", "C", "D", "E", "F", "G", "H"][index].into(),
        name: hex.to_string(),
        colour: hex.parse().unwrap(),
        family: format!("family {}", index / 2),
        only_squares: (index > 0 || yards == 0).then_some(Length::INCH * 10i64),
        sketch: None,
        directional: false,
        upright: false,
        remnants: None,
        thumbnail: None,
        swatch_width: None,
        supply: Some(Supply {
            // In two lots, as two packs give them.
            squares: [0, 1]
                .map(|lot| Squares { size: Length::INCH * 10i64, count: (squares[index % squares.len()] + lot) / 2 })
                .to_vec(),
            yardage: (index == 0 && yards > 0)
                .then_some(Yardage { width: Length::INCH * 42i64, length: Length::INCH * 36i64 * yards })
                .into_iter()
                .collect(),
            ..Supply::default()
        }),
    };
    colours.iter().enumerate().map(fabric).collect()
}

pub fn picture(columns: usize, rows: usize, seed: u32) -> Vec<Rgb> {
    let palette: Vec<Rgb> = fabrics(&[1], 1).iter().map(|fabric| fabric.colour).collect();
    let cell = |(x, y): (usize, usize)| {
        let hill = rows / 2 + (x + seed as usize) % 7;
        let sun = x.abs_diff(columns / 2) + y.abs_diff(rows / 3) < 5;
        palette[if sun {
            7
        } else if y < hill {
            2 + (x / 3) % 2
        } else {
            (y / 4 + seed as usize) % 2 * 4 + x / 9 % 2
        }]
    };
    (0..rows).flat_map(|y| (0..columns).map(move |x| (x, y))).map(cell).collect()
}

/// One line of a table, by its headings.
pub type Line = BTreeMap<String, String>;

/// The lines of a table.
pub fn lines(table: &str) -> Vec<Line> {
    csv::Reader::from_reader(table.as_bytes()).deserialize().map(Result::unwrap).collect()
}

/// Squares as bought, quarters pooled, and square inches of fillers, by letter, as the cutting list says.
fn taken(cutting: &str) -> BTreeMap<String, (f64, f64)> {
    let mut taken: BTreeMap<String, (f64, f64)> = BTreeMap::new();
    for line in lines(cutting) {
        let number = |name: &str| line[name].parse::<f64>().unwrap_or(0.0);
        match line["record"].as_str() {
            "pair" => {
                let whole = number("count") * (number("square_in") / number("bought_in")).powi(2);
                for letter in [&line["fabric"], &line["second"]] {
                    taken.entry(letter.clone()).or_default().0 += whole;
                }
            }
            "filler" => {
                taken.entry(line["fabric"].clone()).or_default().1 +=
                    number("count") * number("width_in") * number("height_in");
            }
            _ => {}
        }
    }
    taken
}

/// By letter: whole squares, and the area that is there in all.
fn there(fabric: &Fabric) -> (f64, f64) {
    let supply = fabric.supply.as_ref().unwrap();
    let squares: u32 = supply.squares.iter().map(|s| s.count).sum();
    let area = |sheet: Oddment| sheet.width.as_inches() * sheet.height.as_inches() * f64::from(sheet.count);
    (f64::from(squares), supply.sheets().map(area).sum())
}

/// A kind of piece on hand: its record, its letters and the sizes that it finishes at, in inches.
type Kind = (String, Vec<String>, [String; 2]);

fn kind(record: &str, letters: &[&String], one: f64, other: f64) -> Kind {
    let mut letters: Vec<String> = letters.iter().map(|letter| letter.to_string()).collect();
    if record == "unit on hand" {
        letters.sort_unstable();
    }
    (record.to_owned(), letters, [one.min(other), one.max(other)].map(|inches| format!("{inches:.4}")))
}

/// How many pieces there are of each kind, summed from the plan's lists.
fn on_hand(plan: &Plan) -> BTreeMap<Kind, u32> {
    let letter = |print: Print| &plan.fabrics[print].letter;
    let units = plan.hand.units.iter().map(|unit| {
        let side = unit.finished.as_inches();
        (kind("unit on hand", &unit.fabrics.map(letter), side, side), unit.count)
    });
    let slices = plan.hand.slices.iter().map(|slice| {
        let record = if slice.leans == Lean::Left { "left slice on hand" } else { "right slice on hand" };
        let letters = [letter(slice.tip), letter(slice.rest)];
        (kind(record, &letters, slice.width.as_inches(), slice.from.as_inches()), slice.count)
    });
    let fillers = plan.hand.fillers.iter().map(|filler| {
        let sides = (filler.width.as_inches(), filler.height.as_inches());
        (kind("filler on hand", &[letter(filler.fabric)], sides.0, sides.1), filler.count)
    });
    let mut there = BTreeMap::new();
    units.chain(slices).chain(fillers).for_each(|(kind, count)| *there.entry(kind).or_default() += count);
    there
}

/// Pieces on hand that the tables take: never more than there are, each line as the rows use it; how many in all.
pub fn assert_hand_within(plan: &Plan, rows: &str, cutting: &str) -> u32 {
    let there = on_hand(plan);
    let both = plan.request.seam.both().as_inches();
    let mut used: BTreeMap<String, u32> = BTreeMap::new();
    lines(rows).iter().for_each(|line| *used.entry(line["from"].clone()).or_default() += 1);
    let (mut kinds, mut all) = (Vec::new(), 0);
    for line in lines(cutting).iter().filter(|line| line["record"].ends_with("on hand")) {
        let number = |name: &str| line[name].parse::<f64>().unwrap();
        let letters: Vec<&String> =
            [&line["fabric"], &line["second"]].into_iter().filter(|letter| !letter.is_empty()).collect();
        let kind = kind(&line["record"], &letters, number("width_in") - both, number("height_in") - both);
        let needed: u32 = line["needed"].parse().unwrap();
        assert!(needed > 0 && needed <= there[&kind], "{line:?} takes {needed} of {}", there[&kind]);
        assert_eq!(needed, used[&line["id"]], "{line:?}");
        assert!(!kinds.contains(&kind), "{kind:?} stands twice");
        kinds.push(kind);
        all += needed;
    }
    all
}

/// Tables of a plan: rows.csv, cutting.csv and cloth.csv.
pub fn tables(plan: &Plan) -> [String; 3] {
    let (work, options) = (make(plan), Options::default());
    assert!(work.cloth.iter().all(|cut| cut.unplaced.is_empty()));
    [
        render::rows_csv(plan, &work, &options).unwrap(),
        render::cutting_csv(plan, &work, &options).unwrap(),
        render::cloth_csv(plan, &work, &options).unwrap(),
    ]
}

/// Nothing is taken that is not there, counted from the tables alone, and they prove; pieces on hand that are used.
pub fn assert_within(plan: &Plan) -> u32 {
    let [rows, cutting, cloth] = tables(plan);
    let taken = taken(&cutting);
    for fabric in &plan.fabrics {
        let (squares, area) = taken.get(&fabric.letter).copied().unwrap_or_default();
        let (has, all) = there(fabric);
        let whole = squares.ceil();
        assert!(squares * 100.0 + area <= all + 1e-6, "{} takes {squares} squares, {area} in of {all}", fabric.letter);
        let ten = Length::INCH * 10i64;
        if fabric.supply.as_ref().unwrap().sheets().all(|sheet| [sheet.width, sheet.height] == [ten; 2]) {
            assert!(whole <= has, "{} takes {whole} squares of {has}", fabric.letter);
        }
    }
    let work = make(plan);
    let (json, leftovers) = (rowscape::plan::write(plan), render::leftovers_toml(plan, &work));
    let options = Options { pixels: 200, ..Options::default() };
    let (svg, png) = (render::svg(plan, &work, &options), render::png(plan, &work, &options).unwrap());
    let list = render::build_list(plan, &work, &options);
    let files = Files { plan: &json, rows: &rows, cutting: &cutting, cloth: &cloth };
    prove_folder(&Folder {
        files,
        svg: &svg,
        png: &png,
        list: &list,
        leftovers: &leftovers,
        stencil: None,
        prints: None,
    })
    .unwrap();
    assert_hand_within(plan, &rows, &cutting)
}

/// Kinds of pieces in a heap: a count for each.
pub const KINDS: usize = 24;

/// A heap of pieces already made, of the first so many prints: units of three sizes, strips of 3 in, and fillers.
pub fn heap(counts: &[u32], prints: usize) -> OnHand {
    let inches = |inches: i64| Length::INCH * inches;
    let mut hand = OnHand::default();
    for (kind, &count) in counts.iter().take(KINDS).enumerate() {
        let (one, step) = (kind % prints, 1 + kind / 3 % (prints - 1));
        let other = (one + step) % prints;
        match kind % 4 {
            0 | 1 => {
                let finished = inches([4, 6, 9][kind / 2 % 3]);
                hand.units.push(UnitOnHand { finished, fabrics: [Print(one), Print(other)], stands: None, count });
            }
            2 => {
                let leans = if kind % 8 == 2 { Lean::Left } else { Lean::Right };
                let (from, width) = (inches(9), inches(3));
                hand.slices.push(SliceOnHand {
                    from,
                    width,
                    tip: Print(one),
                    rest: Print(other),
                    leans,
                    stands: None,
                    count,
                });
            }
            _ => {
                let (width, height) = [(4, 4), (6, 4), (3, 9), (3, 4), (9, 6), (5, 7)][kind / 4 % 6];
                hand.fillers.push(FillerOnHand {
                    fabric: Print(one),
                    width: inches(width),
                    height: inches(height),
                    count,
                });
            }
        }
    }
    hand
}
