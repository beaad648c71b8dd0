//! How one fabric is cut: squares for pairs first, fillers out of what remains, and what is bought.

use rowscape::cutting::layout::{PieceToCut, least_sheets};
use rowscape::cutting::{Cloth, FabricCut, PairSquares, SheetKind, cut};
use rowscape::fabric::{Oddment, Squares, Supply, Yardage};
use rowscape::measure::{Length, ShopCuts};
use rowscape::unit::Square;

fn inches(text: &str) -> Length {
    format!("{text} in").parse().unwrap()
}

/// `3 of 4x2` and so on, in inches.
fn fillers(words: &str, turn: bool) -> Vec<PieceToCut> {
    let piece = |(number, words): (usize, &str)| {
        let (count, size) = words.trim().split_once(" of ").unwrap();
        let (width, height) = size.split_once('x').unwrap();
        let (width, height) = (inches(width), inches(height));
        PieceToCut { id: format!("F{}", number + 1), width, height, count: count.parse().unwrap(), turn }
    };
    words.split(", ").filter(|words| !words.is_empty()).enumerate().map(piece).collect()
}

/// Pairs of 10 in squares, whole and quartered.
fn pairs(whole: u32, quarters: u32) -> Vec<PairSquares> {
    let pairs = |id: &str, square: &str, count| PairSquares { id: id.into(), square: square.parse().unwrap(), count };
    let both = [pairs("P1", "10in", whole), pairs("P2", "10in/4", quarters)];
    both.into_iter().filter(|pairs| pairs.count > 0).collect()
}

fn squares(count: u32) -> Supply {
    Supply { squares: vec![Squares { size: inches("10"), count }], ..Supply::default() }
}

fn length(width: &str, length: &str) -> Supply {
    Supply { yardage: vec![Yardage { width: inches(width), length: inches(length) }], ..Supply::default() }
}

const YARDAGE: Cloth = Cloth::ToBuy { width: Length::inches(42, 1), squares: None, own: false, remnants: None };

/// Sheets by kind and number, each with what is cut of one: `2 square: P1`.
fn told(cut: &FabricCut) -> Vec<String> {
    let one = |sheet: &rowscape::cutting::SheetCut| {
        let ids = sheet.layout.counts().into_iter().map(|(piece, count)| format!("{count} {}", cut.pieces[piece].id));
        format!("{} {}: {}", sheet.count, sheet.kind.words(), ids.collect::<Vec<_>>().join(", "))
    };
    cut.sheets.iter().map(one).collect()
}

/// Every piece is cut or said to find no room, and no bin gives more than it has.
fn check(cut: &FabricCut) {
    let mut counts = vec![0; cut.pieces.len()];
    for sheet in &cut.sheets {
        sheet.layout.counts().into_iter().for_each(|(piece, count)| counts[piece] += count * sheet.count);
    }
    cut.unplaced.iter().for_each(|left| counts[left.piece] += left.count);
    assert!(cut.pieces.iter().zip(counts).all(|(piece, count)| piece.count == count), "{:?}", told(cut));
    for (index, bin) in cut.cloth.iter().enumerate().filter(|(_, bin)| bin.sheet.height.is_some()) {
        let used: u32 = cut.sheets.iter().filter(|s| s.layout.sheet == index).map(|s| s.count).sum();
        assert!(used <= bin.sheet.count, "{}", bin.sheet.id);
    }
}

fn made(cloth: Cloth, squares: &[PairSquares], fillers: &[PieceToCut]) -> FabricCut {
    let made = cut(&cloth, squares, fillers);
    check(&made);
    assert_eq!(made, cut(&cloth, squares, fillers), "the same again");
    made
}

#[test]
fn squares_are_bought_whole_and_quartered_and_fillers_off_the_bolt() {
    let cut = made(YARDAGE, &pairs(3, 6), &fillers("4 of 10x9.5", true));
    let due = ["3 bought square: 1 P1", "1 bought square: 4 P2", "1 bought square: 2 P2", "1 bought length: 4 F1"];
    assert_eq!(told(&cut), due);
    assert_eq!(cut.sheets[2].spare_quarters(), Some(2));
    assert_eq!((cut.used().length, cut.used().least_length), (inches("9.5"), inches("9.5")));
}

#[test]
fn squares_of_the_stash_serve_pairs_and_what_is_opened_serves_fillers() {
    let supply = squares(6);
    let cut = made(Cloth::Stash(&supply, Length::ZERO), &pairs(3, 6), &fillers("2 of 5x4, 1 of 9.5x9", true));
    assert!(cut.unplaced.is_empty());
    assert_eq!(told(&cut), ["3 square: 1 P1", "1 square: 4 P2", "1 square: 2 P2, 2 F1", "1 square: 1 F2"]);
}

#[test]
fn squares_that_are_not_there_are_cut_from_a_length() {
    let supply = Supply { squares: squares(2).squares, ..length("42", "30") };
    let cut = made(Cloth::Stash(&supply, Length::ZERO), &pairs(6, 3), &fillers("3 of 12x5", true));
    assert!(cut.unplaced.is_empty());
    assert_eq!(told(&cut), ["2 square: 1 P1", "1 length: 4 P1, 3 P2, 3 F1"]);
    // Ten inches for the squares, five for all else: 3 of 5 in and 3 of 12 in are 51 in side by side.
    assert_eq!(cut.sheets[1].layout.used_length, inches("20"));
}

#[test]
fn squares_come_before_fillers() {
    let supply = squares(2);
    let cut = made(Cloth::Stash(&supply, Length::ZERO), &pairs(2, 0), &fillers("2 of 10x10", true));
    assert_eq!(told(&cut), ["2 square: 1 P1"]);
    assert_eq!((cut.unplaced[0].piece, cut.unplaced[0].count), (1, 2));
    let supply = length("20", "12");
    let cut = made(Cloth::Stash(&supply, Length::ZERO), &pairs(2, 0), &fillers("3 of 20x4", true));
    assert_eq!(told(&cut), ["1 length: 2 P1"]);
}

/// Each line of trade.csv on pieces from cloth: as long as its source says, and bought as shops cut it.
#[test]
fn fillers_take_the_published_yardage() {
    let mut reader =
        csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(include_bytes!("data/trade.csv").as_slice());
    let records = reader.records().map(Result::unwrap).filter(|record| &record[0] == "yardage");
    let mut seen = 0;
    for record in records {
        let (what, width) = record[1].split_once(", WOF ").unwrap();
        let cloth = Cloth::ToBuy { width: inches(width), squares: None, own: false, remnants: None };
        let cut = made(cloth, &[], &fillers(what.trim_end_matches(" in"), false));
        let due = inches(record[2].split(';').nth(2).unwrap());
        assert_eq!((cut.used().length, cut.used().least_length), (due, due), "{}", &record[5]);
        seen += 1;
    }
    assert_eq!(seen, 5);
    // 15 squares of 4 3/4 in from 42 in: buy 1/3 yd (American Patchwork & Quilting, Aug 2019, p. 89).
    let used = made(YARDAGE, &[], &fillers("15 of 4.75x4.75", false)).used();
    assert_eq!(ShopCuts::Yard.round_up(used.length), "1/3 yd".parse().unwrap());
}

#[test]
fn fillers_come_from_what_is_left_of_squares_before_a_length_is_bought() {
    // One quarter of 10 in is paired: the other three give 5 x 5 and 10 x 5.
    let cut = made(YARDAGE, &pairs(0, 1), &fillers("1 of 5x4.5, 2 of 2.5x5", true));
    assert_eq!(told(&cut), ["1 bought square: 1 P2, 1 F1, 2 F2"]);
    // What is left over finds no room there, and one square more holds it.
    let cut = made(YARDAGE, &pairs(0, 1), &fillers("1 of 9x4, 1 of 9x6, 1 of 4x3", true));
    assert_eq!(told(&cut), ["1 bought square: 1 P2, 1 F1, 1 F3", "1 bought square: 1 F2"]);
    // It does not fit a square: then a length, as where no square is bought.
    let cut = made(YARDAGE, &pairs(0, 1), &fillers("1 of 12x2", true));
    assert_eq!(told(&cut), ["1 bought square: 1 P2", "1 bought length: 1 F1"]);
    let cut = made(YARDAGE, &[], &fillers("1 of 4x2", true));
    assert_eq!(told(&cut), ["1 bought length: 1 F1"]);
}

#[test]
fn squares_that_the_maker_cuts_come_off_the_length_with_the_fillers() {
    let own = Cloth::ToBuy { width: inches("42"), squares: None, own: true, remnants: None };
    let cut = made(own, &pairs(3, 6), &fillers("1 of 10x9.5, 4 of 4x5", true));
    assert_eq!(told(&cut), ["1 bought length: 3 P1, 6 P2, 1 F1, 4 F2"]);
    // Three squares and a filler fill a strip of 10 in; ten quarters and fillers take two of 5 in at most.
    assert!(cut.sheets[0].layout.used_length <= inches("20"));
}

#[test]
fn squares_are_all_that_is_bought_where_there_is_no_other_cloth() {
    let asked = fillers("7 of 6x3, 5 of 4x4, 9 of 2.5x5", true);
    let cloth = Cloth::ToBuy { width: inches("42"), squares: Some(inches("10")), own: false, remnants: None };
    let cut = made(cloth, &pairs(2, 3), &asked);
    assert!(cut.unplaced.is_empty() && cut.sheets.iter().all(|sheet| sheet.kind == SheetKind::BoughtSquare));
    let used = cut.used();
    let least = least_sheets(&asked, inches("10"), inches("10")).unwrap();
    assert!(used.squares <= least + 1 && used.least_squares >= least, "{used:?}, {least}");
    let long = made(cloth, &[], &fillers("1 of 12x2", true));
    assert_eq!(long.unplaced.len(), 1);
}

#[test]
fn a_print_with_a_direction_is_not_turned() {
    let supply =
        Supply { oddments: vec![Oddment { width: inches("20"), height: inches("6"), count: 1 }], ..Supply::default() };
    assert_eq!(made(Cloth::Stash(&supply, Length::ZERO), &[], &fillers("1 of 5x18", true)).unplaced, []);
    assert_eq!(made(Cloth::Stash(&supply, Length::ZERO), &[], &fillers("1 of 5x18", false)).unplaced.len(), 1);
    let supply = Supply { fat_quarters: 1, ..Supply::default() };
    let cut = made(Cloth::Stash(&supply, Length::ZERO), &[], &fillers("1 of 21x17", false));
    assert_eq!((cut.unplaced.len(), told(&cut)), (0, vec!["1 fat quarter: 1 F1".to_owned()]));
}

/// Whatever a plan says: nothing, a tick, a kilometre, more than there can be.
#[test]
fn any_amounts_end() {
    let tick = Length::from_ticks(1);
    let sides = [Length::ZERO, -tick, tick, inches("10"), Length::LIMIT, Length::LIMIT + tick];
    let all = |count| Supply {
        squares: sides.map(|size| Squares { size, count }).to_vec(),
        yardage: sides.map(|width| Yardage { width, length: inches("10") }).to_vec(),
        fat_quarters: count,
        oddments: sides.iter().map(|&width| Oddment { width, height: Length::LIMIT, count }).collect(),
    };
    let mut asked = fillers("9000 of 2x2, 3 of 60x60, 2 of 40x1", true);
    asked.extend(sides.map(|width| PieceToCut { id: "F9".into(), width, height: inches("2"), count: 2, turn: false }));
    let square = |cut| PairSquares { id: "P1".into(), square: Square { cut, quartered: true }, count: 7 };
    let pairs = sides.map(square);
    for count in [0, 1, u32::MAX] {
        made(Cloth::Stash(&all(count), Length::ZERO), &pairs, &asked);
    }
    for side in sides {
        made(Cloth::ToBuy { width: side, squares: None, own: false, remnants: None }, &pairs, &asked[1..]);
        made(Cloth::ToBuy { width: side, squares: Some(side), own: false, remnants: None }, &pairs, &asked[1..]);
    }
}

/// More sizes and more pieces than are laid out at once.
#[test]
fn many_sizes_are_laid_out_lot_after_lot() {
    let sizes = (0..130).map(|n| format!("40 of {}x{}", 2 + n % 13, 2 + n / 13)).collect::<Vec<_>>().join(", ");
    let cut = made(YARDAGE, &[], &fillers(&sizes, true));
    assert!(cut.unplaced.is_empty() && cut.sheets.len() > 1);
}

/// A hundred and thirty oddments, each of another size, and only the last is large enough.
#[test]
fn the_last_of_many_sheets_is_cut_too() {
    let oddment = |n: i64| Oddment { width: Length::INCH + Length::inches(n, 16), height: Length::INCH, count: 1 };
    let mut oddments: Vec<Oddment> = (0..130).map(oddment).collect();
    oddments.push(Oddment { width: inches("12"), height: inches("3"), count: 1 });
    let stash = Supply { oddments, ..Supply::default() };
    let cut = cut(&Cloth::Stash(&stash, Length::ZERO), &[], &fillers("1 of 11x2", true));
    check(&cut);
    assert!(cut.unplaced.is_empty(), "{:?}", cut.unplaced);
    assert_eq!((cut.sheets.len(), cut.sheets[0].layout.sheet), (1, 130));
}
