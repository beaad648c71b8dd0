//! What stashes add up to, worked out by hand or by slower ways.

use proptest::prelude::*;
use rowscape::fabric::Print;
use rowscape::measure::{Length, yards};
use rowscape::unit::AtATime;

use crate::looked_through::{fabric, read};

const ALL: &str = r##"
[[fabric]]
letter = "A"
name = "evening sky"
colour = "#8fb0c9"
squares = [{ size = "10in", count = 4 }, { size = "5in", count = 7 }]
yardage = [{ width = "42in", length = "1 yd" }, { width = "42in", length = "1/2 yd" }]

[[fabric]]
letter = "B"
name = "morning sky"
colour = "#a5c2d6"
directional = true
fat_quarters = 2
oddments = [{ width = "7in", height = "12in", count = 3 }]

[[pack]]
size = "10in"
count = 5
prints = ["B", "A"]

[[unit]]
finished = "6in"
fabrics = ["B", "A"]
count = 12

[[slice]]
from = "9in"
width = "2 1/2in"
tip = "A"
rest = "B"
leans = "right"
count = 3

[[filler]]
fabric = "B"
width = "4in"
height = "9in"
count = 2
"##;

#[test]
fn all_is_added_up() {
    let stash = read(ALL);
    let totals = stash.totals();
    let squares: Vec<_> = totals.squares.iter().map(|s| (s.size, s.count, s.pairs)).collect();
    // Of 10 in, A has 4 and 2 of the pack, B 3: three pairs. Of 5 in there is only A.
    assert_eq!(squares, [(Length::inches(10, 1), 9, 3), (Length::inches(5, 1), 7, 0)]);
    assert_eq!(AtATime::ALL.map(|method| totals.squares[0].at_most(method)), [6, 12, 24]);
    let sizes: Vec<Length> = totals.squares[0].gives.iter().map(|(_, finished)| *finished).collect();
    assert_eq!(sizes, [9, 6, 4].map(|inches| Length::inches(inches, 1)));
    assert_eq!((totals.cloth.len(), totals.cloth[0].length), (1, Length::inches(54, 1)));
    assert_eq!((totals.fat_quarters, totals.oddments, totals.slices, totals.fillers), (2, 3, 3, 2));
    assert_eq!((totals.units.as_slice(), totals.free), ([(Length::inches(6, 1), 12)].as_slice(), 0));
    // 42 x 54, twice 18 x 22 and three times 7 x 12 in, at 0.00064516 square metres to the square inch.
    assert!((totals.square_metres - 3_312.0 * 0.000_645_16).abs() < 1e-9, "{}", totals.square_metres);
    assert!(stash.prints[Print(1)].directional, "kept for cutting");
}

#[test]
fn a_print_free_to_use_pairs_with_all() {
    let text = fabric("A", "sky", "#ffffff", "squares = [{ size = \"10in\", count = 7 }]")
        + &fabric("B", "sea", "#000000", "");
    let totals = read(&text).totals();
    assert_eq!((totals.squares[0].pairs, totals.free), (7, 1));
}

#[test]
fn metric_squares_have_the_metric_seam() {
    let text = fabric("A", "sky", "#ffffff", "squares = [{ size = \"18.5cm\", count = 2 }]");
    let sizes: Vec<Length> = read(&text).totals().squares[0].gives.iter().map(|(_, finished)| *finished).collect();
    // 18.5 cm less √2 seams and two seams: 15.9; over √2: 10.5; half: 6.7; on whole centimetres.
    assert_eq!(sizes, [15, 10, 6].map(|cm| Length::CM * i64::from(cm)));
}

#[test]
fn the_largest_counts_add_up() {
    let squares = "{ size = \"50 m\", count = 100000 }, ".repeat(200);
    let lines = format!(
        "squares = [{squares}]\noddments = [{}]\n",
        squares.replace("size = \"50 m\"", "width = \"50 m\", height = \"50 m\"")
    );
    let prints = (0..2).map(|i| fabric(&i.to_string(), &format!("sky {i}"), "#ffffff", &lines));
    let totals = read(&prints.collect::<String>()).totals();
    assert_eq!((totals.squares[0].pairs, totals.oddments), (20_000_000, 40_000_000));
}

#[test]
fn lengths_in_yards() {
    let words = |inches: i64| yards(Length::inches(inches, 2));
    assert_eq!(
        [9, 24, 72, 99, 216].map(words),
        ["1/8 yd", "1/3 yd", "1 yd", "1 3/8 yd", "3 yd"].map(|w| Some(w.into()))
    );
    assert_eq!(words(10), None);
}

proptest! {
    #[test]
    fn pairs_are_as_many_as_by_pairing_the_two_commonest(counts in prop::collection::vec(0..30_u32, 1..7)) {
        let entry = |(i, n): (usize, &u32)| fabric(&i.to_string(), &format!("sky {i}"), "#ffffff", &format!("squares = [{{ size = \"5in\", count = {n} }}]"));
        let totals = read(&counts.iter().enumerate().map(entry).collect::<String>()).totals();
        let (mut left, mut pairs) = (counts.clone(), 0);
        loop {
            left.sort_unstable_by(|one, other| other.cmp(one));
            let [one, other, ..] = left.as_mut_slice() else { break };
            if *other == 0 {
                break;
            }
            (*one, *other, pairs) = (*one - 1, *other - 1, pairs + 1);
        }
        prop_assert_eq!(totals.squares[0].pairs, pairs);
    }
}
