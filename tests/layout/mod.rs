//! Cutting layouts: checked piece by piece, against published figures, and against a general solver.

mod checker;
mod properties;
mod published;
mod referee;

use rowscape::cutting::layout::{PieceToCut, Sheet};
use rowscape::measure::Length;

fn inches(number: &str) -> Length {
    format!("{} in", number.trim()).parse().unwrap_or_else(|error| panic!("{number}: {error}"))
}

/// Pieces written as `4 of 9.5x2`, with commas between.
fn pieces(text: &str, turn: bool) -> Vec<PieceToCut> {
    let piece = |part: &str| {
        let (count, size) = part.split_once(" of ").unwrap();
        let (width, height) = size.split_once('x').unwrap();
        let count = count.trim().parse().unwrap();
        PieceToCut { id: part.trim().into(), width: inches(width), height: inches(height), count, turn }
    };
    text.split(',').map(piece).collect()
}

fn sheet(width: &str, height: &str, count: u32) -> Sheet {
    Sheet { id: format!("{width} x {height}"), width: inches(width), height: Some(inches(height)), count }
}

fn yardage(width: &str) -> Sheet {
    Sheet { id: "yardage".into(), width: inches(width), height: None, count: 1 }
}
