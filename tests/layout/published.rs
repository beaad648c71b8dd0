//! Published yardage: each line of `trade.csv` on pieces from cloth, laid out and counted.

use rowscape::cutting::layout::{Layout, PieceToCut, lay_out};
use rowscape::measure::{Length, ShopCuts};

use crate::layout::checker::check;
use crate::layout::{inches, pieces, sheet, yardage};

struct Figure {
    topic: String,
    input: String,
    expected: String,
    source: String,
}

fn figures(topic: &str) -> Vec<Figure> {
    let text = include_str!("../data/trade.csv");
    let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(text.as_bytes());
    let figure = |record: csv::StringRecord| {
        let field = |at: usize| record[at].to_owned();
        Figure { topic: field(0), input: field(1), expected: field(2), source: field(5) }
    };
    let all = reader.records().map(|record| figure(record.unwrap()));
    all.filter(|figure| figure.topic.starts_with(topic)).collect()
}

impl Figure {
    fn says(&self) -> String {
        format!("{} of {} must be {}: {}", self.topic, self.input, self.expected, self.source)
    }
}

fn piece(width: Length, height: Length, count: u32) -> PieceToCut {
    PieceToCut { id: "F1".into(), width, height, count, turn: false }
}

/// Pieces placed on one sheet when more are asked for than can fit.
fn placed(layout: &Layout) -> usize {
    layout.sheets.iter().flat_map(|sheet| &sheet.strips).map(|strip| strip.cuts.len()).sum()
}

/// Squares per yard and per fat quarter (M. Hohn 2002; Hunter 2005): as many fit, and no more.
#[test]
fn squares_from_a_yard_and_a_fat_quarter() {
    let figures = figures("squares_per_");
    assert_eq!(figures.len(), 41);
    for figure in figures {
        let (across, along) = figure.topic.rsplit('_').next().and_then(|size| size.split_once('x')).unwrap();
        let cut = inches(figure.input.trim_start_matches("cut="));
        let due: usize = figure.expected.parse().unwrap();
        let asked = [piece(cut, cut, due as u32 + 40)];
        let sheets = [sheet(across, along, 1)];
        let layout = lay_out(&asked, &sheets).unwrap();
        check(&asked, &sheets, &layout);
        assert_eq!(placed(&layout), due, "{}", figure.says());
    }
}

/// Pieces per strip, strips, and inches of cloth for so many pieces, as each source has them.
#[test]
fn yardage_for_many_pieces() {
    let figures = figures("yardage");
    let figures: Vec<_> = figures.iter().filter(|figure| figure.topic == "yardage").collect();
    assert_eq!(figures.len(), 5);
    for figure in figures {
        let (what, cloth) = figure.input.split_once(", WOF ").unwrap();
        let asked = pieces(what.trim_end_matches(" in"), false);
        let due: Vec<&str> = figure.expected.split(';').collect();
        let cloth = [yardage(cloth)];
        let layout = lay_out(&asked, &cloth).unwrap();
        check(&asked, &cloth, &layout);
        let sheet = &layout.sheets[0];
        let most = sheet.strips.iter().map(|strip| strip.cuts.len()).max().unwrap();
        let got = (most, sheet.strips.len(), sheet.used_length, sheet.bound);
        let length = inches(due[2]);
        assert_eq!(got, (due[0].parse().unwrap(), due[1].parse().unwrap(), length, length), "{}", figure.says());
    }
}

/// The same cloth as shops cut it (Aug 2019, p. 89; Mar 2012): 15 squares of 4.75 in need 9 1/2 in, so 1/3 yd.
#[test]
fn cloth_is_bought_as_shops_cut_it() {
    let bought = |asked: &str, cloth: &str, cuts| {
        lay_out(&pieces(asked, false), &[yardage(cloth)]).unwrap().sheets[0].to_buy(cuts)
    };
    assert_eq!(bought("15 of 4.75x4.75", "42", ShopCuts::Yard), "1/3 yd".parse().unwrap());
    assert_eq!(bought("36 of 7x7", "44", ShopCuts::QuarterYard), "1 1/4 yd".parse().unwrap());
}

/// Cuts across the width (how-to answer), and 5 in squares from a yard (publisher's precut guide).
#[test]
fn cuts_across_and_squares_from_strips() {
    for figure in figures("cuts_across") {
        let (cloth, cut) = figure.input.trim_start_matches("WOF ").split_once(", cut ").unwrap();
        let cut = inches(cut);
        let one_strip = lay_out(&[piece(cut, cut, 99)], &[sheet(cloth, "3.875", 1)]).unwrap();
        assert_eq!(placed(&one_strip).to_string(), figure.expected, "{}", figure.says());
    }
    for figure in figures("strips_from_yard") {
        let yard = lay_out(&pieces("99 of 5x5", false), &[sheet("40", "36", 1)]).unwrap();
        assert_eq!(placed(&yard).to_string(), figure.expected, "{}", figure.says());
    }
}

/// Strips for a binding from their number and width (how-to pages): each strip is a piece as wide as the cloth.
#[test]
fn binding_strips_across_the_width() {
    let figures = figures("binding_fabric");
    assert_eq!(figures.len(), 2);
    for figure in figures {
        let (count, width) = figure.input.split_once(" strips of ").unwrap();
        let asked = [piece(inches("42"), inches(width), count.parse().unwrap())];
        let layout = lay_out(&asked, &[yardage("42")]).unwrap();
        assert_eq!(layout.sheets[0].used_length, inches(&figure.expected), "{}", figure.says());
    }
}
