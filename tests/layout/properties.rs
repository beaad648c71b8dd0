//! Any order is laid out rightly, the same each time, and within its bounds.

use proptest::prelude::*;
use rowscape::cutting::layout::{LayoutError, PieceToCut, Sheet, lay_out, least_sheets};
use rowscape::measure::{Length, Ruler, ShopCuts};

use crate::layout::checker::check;
use crate::layout::{inches, pieces, sheet, yardage};

fn any_piece(most: i64) -> impl Strategy<Value = PieceToCut> {
    let side = || {
        prop_oneof![
            (2..=most * 2).prop_map(|n| Length::inches(n, 2)),
            (8..=most * 8).prop_map(|n| Length::inches(n, 8))
        ]
    };
    (side(), side(), 0_u32..8, any::<bool>()).prop_map(|(width, height, count, turn)| PieceToCut {
        id: "F".into(),
        width,
        height,
        count,
        turn,
    })
}

fn any_sheet() -> impl Strategy<Value = Sheet> {
    let side = || (3_i64..50).prop_map(|n| Length::inches(n, 2));
    (side(), side(), 0_u32..5).prop_map(|(w, h, count)| Sheet { id: "S".into(), width: w, height: Some(h), count })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(if cfg!(miri) { 1 } else { 60 }))]

    #[test]
    fn yardage_is_cut_rightly(pieces in prop::collection::vec(any_piece(18), 1..9), width in 18_i64..60) {
        let cloth = [Sheet { id: "cloth".into(), width: Length::inches(width, 1), height: None, count: 1 }];
        let layout = lay_out(&pieces, &cloth).unwrap();
        check(&pieces, &cloth, &layout);
        prop_assert!(layout.unplaced.is_empty());
        for sheet in &layout.sheets {
            let area: i128 = pieces.iter().map(|p| i128::from(p.width.ticks()) * i128::from(p.height.ticks()) * i128::from(p.count)).sum();
            prop_assert!(sheet.bound <= sheet.used_length);
            prop_assert!(area <= i128::from(sheet.bound.ticks()) * i128::from(sheet.width.ticks()));
            prop_assert!(sheet.to_buy(ShopCuts::of(Ruler::Inch)) >= sheet.used_length);
        }
        prop_assert_eq!(&layout, &lay_out(&pieces, &cloth).unwrap());
    }

    #[test]
    fn sheets_are_cut_rightly(
        pieces in prop::collection::vec(any_piece(14), 1..7),
        sheets in prop::collection::vec(any_sheet(), 1..4),
        buy in any::<bool>(),
    ) {
        let mut sheets = sheets;
        sheets.extend(buy.then(|| yardage("42")));
        let layout = lay_out(&pieces, &sheets).unwrap();
        check(&pieces, &sheets, &layout);
        prop_assert!(!buy || layout.unplaced.is_empty());
        prop_assert_eq!(&layout, &lay_out(&pieces, &sheets).unwrap());
    }

    /// Whatever found no room would not fit whole into anything that remains.
    #[test]
    fn room_is_used(pieces in prop::collection::vec(any_piece(10), 1..5), count in 0_u32..4) {
        let sheets = [sheet("20", "11", count)];
        let layout = lay_out(&pieces, &sheets).unwrap();
        for left in &layout.unplaced {
            let piece = &pieces[left.piece];
            for sheet in &layout.sheets {
                let rest = sheet.height.unwrap() - sheet.used_length;
                let (width, height) = if sheet.turned { (piece.height, piece.width) } else { (piece.width, piece.height) };
                prop_assert!(width > sheet.width || height > rest, "{} fits below the strips", piece.id);
            }
        }
        let needed = least_sheets(&pieces, inches("20"), inches("11"));
        if layout.unplaced.is_empty() {
            prop_assert!(needed.unwrap() <= layout.sheets.len() as u64);
        }
    }
}

/// Bounds worked out by hand, where area says less.
#[test]
fn the_fewest_sheets_are_proven() {
    let least = |asked: &str, turn, width: &str, height: &str| {
        least_sheets(&pieces(asked, turn), inches(width), inches(height))
    };
    // Pieces over half a side never share a square, whatever their area: 5 x 30 sq in are less than two.
    assert_eq!(least("5 of 5.5x5.5", true, "10", "10"), Some(5));
    // Beside each piece of 6 in a strip of 4 in is left, which takes two of 4 x 4 and no third.
    assert_eq!(least("2 of 6x10, 5 of 4x4", true, "10", "10"), Some(3));
    // Two stages: a square of 6 in the corner leaves an angle of 4 in, which strips cut into 4 x 10 and 4 x 6.
    assert_eq!(least("1 of 6x6, 2 of 10x4", true, "10", "10"), Some(2));
    assert_eq!(least("1 of 6x6, 1 of 10x4, 1 of 6x4", true, "10", "10"), Some(1));
    // A print that may not be turned still finds its room on a fat quarter that lies on its side.
    assert_eq!(least("2 of 9x22", false, "18", "22"), Some(1));
    assert_eq!(least("1 of 11x2", true, "10", "10"), None);
    assert_eq!(least("0 of 5x5", true, "10", "10"), Some(0));
}

/// Prices and counts as large as they come.
#[test]
fn bounds_of_any_amounts_end() {
    let tick = Length::from_ticks(1);
    let asked = |width, height, count| PieceToCut { id: "F".into(), width, height, count, turn: true };
    let any = [asked(tick, tick, u32::MAX), asked(inches("3"), inches("2"), u32::MAX), asked(tick, Length::LIMIT, 9)];
    for (width, height) in [(Length::LIMIT, Length::LIMIT), (inches("4"), Length::LIMIT)] {
        assert!(least_sheets(&any, width, height).is_some());
    }
    let rows = [asked(inches("3"), inches("2"), u32::MAX)];
    assert_eq!(least_sheets(&rows, inches("6"), inches("4")), Some(u64::from(u32::MAX).div_ceil(4)));
}

#[test]
fn a_square_is_quartered() {
    let pieces = pieces("8 of 5x5", true);
    let sheets = [sheet("10", "10", 40)];
    let layout = lay_out(&pieces, &sheets).unwrap();
    check(&pieces, &sheets, &layout);
    assert_eq!(layout.sheets.len(), 2);
    assert!(layout.sheets.iter().all(|sheet| sheet.strips.len() == 2 && sheet.remains(Length::ZERO).is_empty()));
}

/// Two pieces of half a height stand in one strip only where the fat quarter lies sideways.
#[test]
fn a_fat_quarter_is_turned_where_that_helps() {
    let asked = pieces("1 of 9x22, 2 of 9x11", false);
    let sheets = [sheet("18", "22", 1)];
    let layout = lay_out(&asked, &sheets).unwrap();
    check(&asked, &sheets, &layout);
    assert!(layout.unplaced.is_empty() && layout.sheets[0].turned);
}

/// The smallest sheet that holds all is cut, so that the largest stays whole.
#[test]
fn the_largest_sheet_is_kept() {
    let sheets = [sheet("42", "36", 1), sheet("18", "22", 1), sheet("10", "10", 1)];
    let layout = lay_out(&pieces("4 of 5x5", true), &sheets).unwrap();
    assert_eq!(layout.sheets.iter().map(|sheet| sheet.sheet).collect::<Vec<_>>(), [2]);
    let layout = lay_out(&pieces("6 of 6x6", true), &sheets).unwrap();
    assert_eq!(layout.sheets.iter().map(|sheet| sheet.sheet).collect::<Vec<_>>(), [1]);
}

/// Only what the sheets at hand do not hold is bought.
#[test]
fn yardage_is_bought_for_the_rest() {
    let sheets = [yardage("42"), sheet("10", "10", 2)];
    let asked = pieces("3 of 10x10", true);
    let layout = lay_out(&asked, &sheets).unwrap();
    check(&asked, &sheets, &layout);
    assert_eq!(layout.sheets[0].used_length, inches("10"));
    assert_eq!(layout.sheets[0].to_buy(ShopCuts::Yard), inches("12"));
    assert_eq!(layout.sheets.len(), 3);
}

#[test]
fn a_print_with_a_direction_is_not_turned() {
    let cloth = [yardage("42")];
    let length = |turn| lay_out(&pieces("4 of 9x18", turn), &cloth).unwrap().sheets[0].used_length;
    assert_eq!((length(false), length(true)), (inches("18"), inches("18")));
    let length = |turn| lay_out(&pieces("2 of 2x20", turn), &cloth).unwrap().sheets[0].used_length;
    assert_eq!((length(false), length(true)), (inches("20"), inches("2")));
}

#[test]
fn what_cannot_be_laid_out_is_refused() {
    let refuse = |pieces: &[PieceToCut], sheets: &[Sheet]| lay_out(pieces, sheets).unwrap_err();
    let nothing = PieceToCut { id: "F1".into(), width: Length::ZERO, height: inches("2"), count: 1, turn: true };
    assert!(matches!(refuse(&[nothing], &[]), LayoutError::Size { .. }));
    assert!(matches!(refuse(&[], &[sheet("0", "4", 1)]), LayoutError::Size { .. }));
    let many = |count| {
        pieces("1 of 2x2, 1 of 3x3", true).into_iter().map(move |p| PieceToCut { count, ..p }).collect::<Vec<_>>()
    };
    assert!(matches!(refuse(&many(u32::MAX), &[]), LayoutError::Pieces { .. }));
    assert!(lay_out(&many(10_000), &[yardage("42")]).unwrap().unplaced.is_empty());
    assert_eq!(lay_out(&[], &[yardage("42")]).unwrap().sheets, []);
    assert_eq!(lay_out(&pieces("2 of 50x50", true), &[yardage("42")]).unwrap().unplaced[0].count, 2);
}

/// Sizes of a tick and of a kilometre, on the same cloth.
#[test]
fn extreme_sizes_end_well() {
    let tick = Length::from_ticks(1);
    let piece = |width, height, count| PieceToCut { id: "F".into(), width, height, count, turn: true };
    let asked = [
        piece(tick, tick, 9),
        piece(Length::LIMIT, Length::LIMIT, 9),
        piece(tick, Length::LIMIT, 9),
        piece(inches("3"), inches("2"), 9),
    ];
    for width in [tick, inches("42"), Length::LIMIT] {
        let cloth = [Sheet { id: "S".into(), width, height: None, count: 1 }];
        check(&asked, &cloth, &lay_out(&asked, &cloth).unwrap());
        let cloth = [Sheet { id: "S".into(), width, height: Some(width), count: 3 }];
        check(&asked, &cloth, &lay_out(&asked, &cloth).unwrap());
    }
}
