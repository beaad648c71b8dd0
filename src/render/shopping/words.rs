//! Amounts of cloth in the words of a shop and of a cupboard.

use crate::cutting::{SheetKind, Size};
use crate::make::{LengthToBuy, SpareCloth, Taken, ToBuy, Work};
use crate::measure::{Length, Ruler, shop_words, yards};
use crate::plan::Plan;
use crate::render::text::{by, count};

/// Most sizes of remains that are named.
const MOST_REMAINS: usize = 3;

/// Squares to buy, one size after the other: `26 of 10 in`.
pub(in crate::render) fn bought(ruler: Ruler, to_buy: &ToBuy) -> Vec<String> {
    to_buy.squares.iter().map(|squares| format!("{} of {}", squares.buy, ruler.show(squares.side))).collect()
}

/// `12 of 20 squares of 10 in`, `27 1/2 in of 1 yd of 42 in`.
pub(in crate::render) fn taken_words(plan: &Plan, work: &Work, taken: &Taken) -> String {
    let ruler = plan.request.ruler;
    let size = Size { width: taken.width, height: taken.height };
    let there = work.cloth.get(taken.fabric).map_or(0, |cut| {
        let alike = cut.cloth.iter().filter(|bin| {
            (bin.kind, bin.sheet.width, bin.sheet.height) == (taken.kind, taken.width, Some(taken.height))
        });
        alike.map(|bin| bin.sheet.count).fold(0, u32::saturating_add)
    });
    match taken.kind {
        SheetKind::Length => {
            let of = yards(taken.height).filter(|_| ruler == Ruler::Inch).unwrap_or_else(|| ruler.show(taken.height));
            format!("{} of {of}, {} wide", ruler.show(taken.used), ruler.show(taken.width))
        }
        SheetKind::FatQuarter => format!("{} of {}", taken.count, count(there, "fat quarter", "fat quarters")),
        SheetKind::Oddment => format!("{} of {} pieces of {}", taken.count, there, by(ruler, size)),
        _ => format!("{} of {} of {}", taken.count, count(there, "square", "squares"), ruler.show(taken.width)),
    }
}

/// The largest remains of a fabric: `8 squares of 10 in`, `42 x 8 1/2 in`, `smaller pieces`.
pub(in crate::render) fn left_words<'a>(ruler: Ruler, left: impl Iterator<Item = &'a SpareCloth>) -> Vec<String> {
    let mut left: Vec<&SpareCloth> = left.collect();
    let area = |cloth: &SpareCloth| i128::from(cloth.width.ticks()) * i128::from(cloth.height.ticks());
    left.sort_by_key(|cloth| std::cmp::Reverse(area(cloth) * i128::from(cloth.count)));
    let one = |cloth: &&SpareCloth| {
        let size = by(ruler, Size { width: cloth.width, height: cloth.height });
        match (cloth.kind, cloth.count) {
            (SheetKind::Square, n) => {
                format!("{} of {}", count(n, "square", "squares"), ruler.show(cloth.width))
            }
            (SheetKind::FatQuarter, n) => count(n, "fat quarter", "fat quarters"),
            (_, 1) => size,
            (_, n) => format!("{n} of {size}"),
        }
    };
    let mut words: Vec<String> = left.iter().take(MOST_REMAINS).map(one).collect();
    if left.len() > MOST_REMAINS {
        words.push("smaller pieces".into());
    }
    words
}

/// Lengths to buy of all fabrics together.
pub(super) fn all_lengths(lengths: impl Iterator<Item = LengthToBuy>) -> Length {
    lengths.map(|length| length.buy).sum()
}

/// What is bought of each fabric: its letter, then squares and lengths as a shop has them.
pub fn buy_words(plan: &Plan, work: &Work) -> Vec<(String, Vec<String>)> {
    let ruler = plan.request.ruler;
    let words = |buy: &ToBuy| {
        let squares = buy
            .squares
            .iter()
            .map(|squares| format!("{} of {}", count(squares.buy, "square", "squares"), ruler.show(squares.side)));
        let length = buy.length.map(|length| shop_words(ruler, length.buy));
        (plan.fabrics[buy.fabric].letter.clone(), squares.chain(length).collect())
    };
    work.shopping(&plan.request).iter().map(words).collect()
}
