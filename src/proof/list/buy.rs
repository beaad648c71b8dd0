//! What is to be bought, and what is taken of a stash and left of it, worked out from the sheets that are cut.

use std::cmp::Reverse;
use std::collections::BTreeMap;

use super::{Reader, count};
use crate::measure::{Length, Ruler, shop_words, yards};
use crate::proof::laid::{Kind, Laid, Sheet};
use crate::proof::paper::Size;

/// Most sizes of remains that are named.
const NAMED: usize = 3;

/// Cloth that is left: what it is, its width and height, and how many.
pub type Left = BTreeMap<(Kind, Reverse<Length>, Reverse<Length>), u64>;

impl Reader<'_> {
    /// Sheets of a fabric, in the order of their numbers.
    pub(super) fn sheets_of(&self, letter: &str) -> Vec<&Laid> {
        let mut sheets: Vec<&Laid> = self.written.laid.iter().filter(|laid| laid.sheet.fabric == letter).collect();
        sheets.sort_by_key(|laid| sheet_number(laid));
        sheets
    }

    /// Squares to buy, cloth to buy, and what is cut of that; none where nothing is bought.
    pub(super) fn to_buy(&self, letter: &str) -> Option<[String; 3]> {
        let sheets = self.sheets_of(letter);
        let mut squares: BTreeMap<Reverse<Length>, u64> = BTreeMap::new();
        for sheet in sheets.iter().map(|laid| &laid.sheet).filter(|sheet| sheet.kind == Kind::BoughtSquare) {
            *squares.entry(Reverse(sheet.size.width)).or_default() += u64::from(sheet.count);
        }
        let lengths = sheets.iter().map(|laid| &laid.sheet).filter(|sheet| sheet.kind == Kind::BoughtLength);
        let length: Length = lengths.map(|sheet| sheet.size.height * sheet.count).sum();
        if squares.is_empty() && length == Length::ZERO {
            return None;
        }
        let dash = |words: Vec<String>| if words.is_empty() { "–".to_owned() } else { words.join(" ") };
        let to_buy = squares.iter().map(|(side, needed)| self.squares_to_buy(side.0, *needed));
        let several = squares.len() > 1;
        let cut = squares.iter().map(|(side, needed)| {
            let of = if several { format!(" of {}", self.show(side.0)) } else { String::new() };
            count(*needed, "square") + &of
        });
        let cloth = (length > Length::ZERO).then(|| shop_words(self.scene.ruler, self.as_shops_cut(length)));
        let cut: Vec<String> = cut.chain((length > Length::ZERO).then(|| self.show(length))).collect();
        Some([dash(to_buy.collect()), dash(cloth.into_iter().collect()), cut.join("; ")])
    }

    /// `3 of 10 in or 3/8 yd`: with the margin, and as a length of strips across the cloth.
    fn squares_to_buy(&self, side: Length, needed: u64) -> String {
        let buy = (u128::from(needed) * u128::from(100 + self.scene.asked.margin)).div_ceil(100);
        let bought = format!("{buy} of {}", self.show(side));
        let a_strip = self.scene.cloth_width.floor_div(side).max(0) as u64;
        let Some(strips) = (a_strip > 0).then(|| needed.div_ceil(a_strip)) else { return bought };
        let length = side * i64::try_from(strips).unwrap_or(i64::MAX);
        format!("{bought} or {}", shop_words(self.scene.ruler, self.as_shops_cut(length)))
    }

    /// A length with what straightens its end, and the margin.
    pub(super) fn as_shops_cut(&self, length: Length) -> Length {
        let straight = i128::from((length + self.scene.asked.end_cut()).ticks());
        let over = straight * i128::from(100 + self.scene.asked.margin);
        Length::from_ticks(i64::try_from((over + 99).div_euclid(100)).unwrap_or(i64::MAX / 4))
    }

    /// What is taken of a stash, a line for each kind and size, as the stash lists them.
    pub(super) fn taken(&self, letter: &str) -> Vec<String> {
        let Some(supply) = self.scene.fabrics.get(letter).and_then(|fabric| fabric.supply.as_ref()) else {
            return Vec::new();
        };
        let mut there: Vec<(Kind, Size, u64)> = Vec::new();
        for (kind, (width, height), count) in supply.sheets() {
            let size = Size { width, height };
            match there.iter_mut().find(|seen| (seen.0, seen.1) == (kind, size)) {
                Some(seen) => seen.2 += u64::from(count),
                None => there.push((kind, size, u64::from(count))),
            }
        }
        there.sort_by_key(|(kind, size, _)| {
            (*kind, Reverse(if *kind == Kind::Square { size.width } else { Length::ZERO }))
        });
        let sheets = self.sheets_of(letter);
        let mut words = Vec::new();
        for (kind, size, there) in there {
            let alike = sheets.iter().filter(|laid| (laid.sheet.kind, laid.sheet.upright()) == (kind, size));
            let mut used: Vec<(Length, u64)> = alike.map(|laid| (laid.used(), u64::from(laid.sheet.count))).collect();
            used.sort_unstable();
            if kind == Kind::Length {
                words.extend(used.iter().map(|(used, _)| self.length_words(size, *used)));
            } else if !used.is_empty() {
                words.push(self.taken_words(kind, size, (used.iter().map(|(_, count)| count).sum(), there)));
            }
        }
        words
    }

    fn length_words(&self, size: Size, used: Length) -> String {
        let yards = yards(size.height).filter(|_| self.scene.ruler == Ruler::Inch);
        let of = yards.unwrap_or_else(|| self.show(size.height));
        format!("{} of {of}, {} wide", self.show(used), self.show(size.width))
    }

    fn taken_words(&self, kind: Kind, size: Size, (taken, there): (u64, u64)) -> String {
        match kind {
            Kind::FatQuarter => format!("{taken} of {}", count(there, "fat quarter")),
            Kind::Oddment => format!("{taken} of {there} pieces of {}", self.scene.show_size(size)),
            _ => format!("{taken} of {} of {}", count(there, "square"), self.show(size.width)),
        }
    }

    /// The largest of what is left of a fabric, in words.
    pub(super) fn left_words(&self, left: &Left) -> String {
        let mut all: Vec<_> = left.iter().collect();
        let area = |width: &Reverse<Length>, height: &Reverse<Length>| {
            i128::from(width.0.ticks()) * i128::from(height.0.ticks())
        };
        all.sort_by_key(|((_, width, height), count)| Reverse(area(width, height) * i128::from(**count)));
        let one = |((kind, width, height), n): &(&(Kind, Reverse<Length>, Reverse<Length>), &u64)| match (kind, **n) {
            (Kind::Square, n) => format!("{} of {}", count(n, "square"), self.show(width.0)),
            (Kind::FatQuarter, n) => count(n, "fat quarter"),
            (_, n) => {
                let size = self.scene.show_size(Size { width: width.0, height: height.0 });
                if n == 1 { size } else { format!("{n} of {size}") }
            }
        };
        let mut words: Vec<String> = all.iter().take(NAMED).map(one).collect();
        if all.len() > NAMED {
            words.push("smaller pieces".into());
        }
        words.join(", ")
    }
}

/// The number in a sheet's name: `A-3`.
fn sheet_number(laid: &Laid) -> u64 {
    let id = laid.cuts.first().map_or("", |cut| cut.line.text("sheet"));
    id.rsplit_once('-').and_then(|(_, number)| number.parse().ok()).unwrap_or(u64::MAX)
}

impl Laid {
    /// The length that its strips take.
    pub fn used(&self) -> Length {
        self.cuts.iter().map(|cut| cut.strip_at + cut.strip_height).max().unwrap_or_default()
    }
}

impl Sheet {
    /// Whether it is a square.
    pub fn is_square(&self) -> bool {
        matches!(self.kind, Kind::Square | Kind::BoughtSquare)
    }
}
