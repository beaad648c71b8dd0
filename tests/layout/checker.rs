//! Checks a layout from its rectangles alone: sizes, room, overlaps, counts, and that it can be cut in two stages.

use std::collections::BTreeMap;

use rowscape::cutting::layout::{Layout, PieceToCut, Remain, Sheet, SheetLayout};
use rowscape::measure::Length;

/// Left, top, right, bottom in ticks.
type Box = [i64; 4];

/// Panics where a layout is wrong.
pub fn check(pieces: &[PieceToCut], sheets: &[Sheet], layout: &Layout) {
    let mut copies = BTreeMap::new();
    for sheet in &layout.sheets {
        check_sheet(pieces, &sheets[sheet.sheet], sheet);
        assert!(!sheet.strips.is_empty(), "a sheet is listed and not cut");
        let seen = copies.insert((sheet.sheet, sheet.copy), ());
        assert!(seen.is_none() && sheet.copy < sheets[sheet.sheet].count, "more sheets than there are");
    }
    for (index, piece) in pieces.iter().enumerate() {
        let cuts = layout.sheets.iter().flat_map(|sheet| &sheet.strips).flat_map(|strip| &strip.cuts);
        let placed = cuts.filter(|cut| cut.piece == index).count();
        let left = layout.unplaced.iter().filter(|left| left.piece == index).map(|left| left.count as usize);
        assert_eq!(placed + left.sum::<usize>(), piece.count as usize, "count of {}", piece.id);
    }
}

fn check_sheet(pieces: &[PieceToCut], sheet: &Sheet, layout: &SheetLayout) {
    let (width, height) = match layout.turned {
        false => (sheet.width, sheet.height),
        true => (sheet.height.expect("yardage is never turned"), Some(sheet.width)),
    };
    assert_eq!((layout.width, layout.height), (width, height));
    let mut boxes = Vec::new();
    for cut in layout.strips.iter().flat_map(|strip| strip.cuts.iter().map(move |cut| (strip, cut))) {
        let (strip, cut) = cut;
        let piece = &pieces[cut.piece];
        let size = if cut.turned { (piece.height, piece.width) } else { (piece.width, piece.height) };
        assert_eq!((cut.width, cut.height), size, "size of {}", piece.id);
        // A print keeps its direction on the cloth: on a turned sheet it must be turned too.
        let stays = piece.turn || piece.width == piece.height || cut.turned == layout.turned;
        assert!(stays, "{} has a direction", piece.id);
        boxes.push(corners(cut.at, strip.at, cut.width, cut.height));
    }
    let bottom = height.unwrap_or(layout.used_length).ticks();
    apart_and_inside(&boxes, width.ticks(), bottom);
    assert!(two_stages(&boxes, width.ticks()), "not cut in two stages");
    let ends = layout.strips.iter().map(|strip| (strip.at + strip.height).ticks());
    assert_eq!(layout.used_length.ticks(), ends.max().unwrap(), "used length");
    let remains = layout.remains(Length::ZERO);
    boxes.extend(remains.iter().map(|r: &Remain| corners(r.left, r.top, r.width, r.height)));
    apart_and_inside(&boxes, width.ticks(), bottom);
    let area: i128 = boxes.iter().map(|b| i128::from(b[2] - b[0]) * i128::from(b[3] - b[1])).sum();
    assert_eq!(area, i128::from(width.ticks()) * i128::from(bottom), "pieces and remains make up the sheet");
}

fn corners(left: Length, top: Length, width: Length, height: Length) -> Box {
    [left, top, left + width, top + height].map(Length::ticks)
}

fn apart_and_inside(boxes: &[Box], width: i64, height: i64) {
    for (index, one) in boxes.iter().enumerate() {
        assert!(one[0] >= 0 && one[1] >= 0 && one[2] <= width && one[3] <= height, "outside the sheet: {one:?}");
        assert!(one[0] < one[2] && one[1] < one[3], "no size: {one:?}");
        for other in &boxes[..index] {
            let apart = one[2] <= other[0] || other[2] <= one[0] || one[3] <= other[1] || other[3] <= one[1];
            assert!(apart, "{one:?} and {other:?} overlap");
        }
    }
}

/// Whether cuts across the whole width part the pieces into strips in which no piece lies above another.
fn two_stages(boxes: &[Box], width: i64) -> bool {
    let mut sorted = boxes.to_vec();
    sorted.sort_by_key(|b| b[1]);
    let mut strips: Vec<(i64, Vec<Box>)> = Vec::new();
    for one in sorted {
        match strips.last_mut() {
            Some((bottom, strip)) if one[1] < *bottom => {
                *bottom = (*bottom).max(one[3]);
                strip.push(one);
            }
            _ => strips.push((one[3], vec![one])),
        }
    }
    strips.iter().all(|(_, strip)| {
        let top = strip[0][1];
        let total: i64 = strip.iter().map(|b| b[2] - b[0]).sum();
        total <= width && strip.iter().all(|b| b[1] == top)
    })
}

#[test]
fn the_checker_sees_what_is_wrong() {
    let pieces = crate::layout::pieces("2 of 6x4, 3 of 4x3", false);
    let sheets = [crate::layout::sheet("12", "10", 1)];
    let good = rowscape::cutting::layout::lay_out(&pieces, &sheets).unwrap();
    check(&pieces, &sheets, &good);
    let spoil: [fn(&mut Layout); 7] = [
        |l| l.sheets[0].strips[0].cuts[1].at = Length::inches(5, 1),
        |l| l.sheets[0].strips[0].cuts[1].at = Length::inches(7, 1),
        |l| l.sheets[0].strips[0].at = Length::inches(3, 1),
        |l| l.sheets[0].strips[0].cuts[0].turned = true,
        |l| l.sheets[0].strips[1].cuts.truncate(1),
        |l| l.sheets[0].copy = 1,
        |l| l.sheets[0].used_length = Length::inches(12, 1),
    ];
    for (number, spoil) in spoil.into_iter().enumerate() {
        let mut bad = good.clone();
        spoil(&mut bad);
        let seen = std::panic::catch_unwind(|| check(&pieces, &sheets, &bad));
        assert!(seen.is_err(), "spoilt {number} passes");
    }
    assert!(!two_stages(&[[0, 0, 2, 2], [2, 0, 4, 1], [2, 1, 4, 2]], 4), "one above the other in a strip");
}
