//! A scene of plain fillers alone, dealt from the real sheets row by row: plain, but within what there is wherever that
//! suffices with little to spare, and where the search begins when nothing better fits.
//!
//! A filler takes its length off a strip that is open, or a sheet gives up a strip of the row's height (`stock::sheets`).
//! Of all heights that the next row may have, the one that wastes least is taken.

use std::cmp::Reverse;
use std::collections::BTreeSet;

use super::sheets::{PLENTY, Sheet, Sheets};
use crate::compose::{Order, Problem, Ready};
use crate::fabric::Print;
use crate::measure::Length;
use crate::plan::{Band, Column, Piece, Request, Row, State, Unit};

/// Most strips of one height that a sheet is cut into whole.
const STRIPS: i64 = 8;

/// How a deal chooses among the sheets that serve.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Choose {
    /// The nearest colour.
    Nearest,
    /// The nearest among those that waste little.
    Sparing,
    /// What wastes least.
    Least,
}

impl Choose {
    /// From the truest scene to the one that is likeliest to suffice.
    pub const ALL: [Self; 3] = [Self::Nearest, Self::Sparing, Self::Least];

    /// Parts of a sheet that may be wasted, where a nearer colour needs it.
    fn waste(self) -> f64 {
        match self {
            Self::Nearest => 1.0,
            Self::Sparing => 0.15,
            Self::Least => 0.0,
        }
    }
}

/// Sheets of a print, or what is left of one.
#[derive(Clone, Copy)]
struct OfPrint {
    print: Print,
    sheet: Sheet,
}

/// A row of fillers: each print and its width in cells; what it wastes of the sheets that it opens.
type Filled = (Vec<OfPrint>, Vec<(Print, u32)>, f64);

struct Table<'a> {
    order: &'a Order<'a>,
    /// What a place costs in a print; nothing where only room matters.
    scene: Option<(&'a Ready, &'a Problem<'a>)>,
    choose: Choose,
    least: u32,
    columns: u32,
}

/// Deals a top of so many cells, its pieces naming prints; none where the sheets do not suffice so.
pub fn deal(
    order: &Order,
    [columns, rows]: [u32; 2],
    scene: Option<(&Ready, &Problem)>,
    choose: Choose,
) -> Option<Vec<Band>> {
    let request = order.request;
    let least = u32::try_from(request.least.ceil_div(request.grid)).ok()?.max(1);
    let table = Table { order, scene, choose, least, columns };
    let (mut sheets, mut dealt, mut y) = (sheets(order), Vec::new(), 0);
    while y < rows {
        if order.watch.is_stopped() {
            return None;
        }
        let left = rows - y;
        let heights = heights(request, &sheets).chain([left, left / 2, left - left / 2]);
        let heights =
            heights.filter(|&height| (least..=left).contains(&height) && (height == left || left - height >= least));
        let heights: BTreeSet<u32> = heights.collect();
        let heights = heights.into_iter();
        let tried = heights.filter_map(|height| Some((height, table.fill(&sheets, y, height)?)));
        let waste = |(height, filled): &(u32, Filled)| filled.2 / f64::from(*height);
        let (height, (rest, fillers, _)) =
            tried.min_by(|one, other| waste(one).total_cmp(&waste(other)).then(other.0.cmp(&one.0)))?;
        let unit = |(print, width): (Print, u32)| Unit { width, piece: Piece::Filler(print), state: State::Free };
        dealt.push(Row { height, units: fillers.into_iter().map(unit).collect() });
        (sheets, y) = (rest, y + height);
    }
    Some(vec![Band { height: rows, columns: vec![Column { width: columns, rows: dealt }] }])
}

/// Heights of rows that use the whole of a sheet, in one strip or more.
fn heights(request: &Request, sheets: &[OfPrint]) -> impl Iterator<Item = u32> {
    let tall: BTreeSet<Length> = sheets.iter().map(|of| of.sheet.height).collect();
    let part = |height: Length, strips: i64| (height / strips - request.seam.both()).floor_div(request.grid);
    tall.into_iter()
        .flat_map(move |height| (1..=STRIPS).map(move |strips| u32::try_from(part(height, strips)).unwrap_or(0)))
}

/// Every sheet that there is; of cloth without counts a plenty.
fn sheets(order: &Order) -> Vec<OfPrint> {
    let mut sheets = Vec::new();
    for (print, fabric) in order.fabrics.iter_enumerated().filter(|(print, _)| !order.without.contains(print)) {
        match &fabric.supply {
            Some(supply) => sheets.extend(Sheets::of(supply).whole().map(|sheet| OfPrint { print, sheet })),
            None => {
                let side = fabric.only_squares.unwrap_or(order.request.cloth_width);
                sheets.push(OfPrint { print, sheet: Sheet::whole(side, side, PLENTY) });
            }
        }
    }
    sheets
}

impl Table<'_> {
    /// Fills one row from the left.
    fn fill(&self, sheets: &[OfPrint], y: u32, height: u32) -> Option<Filled> {
        let (mut sheets, mut fillers, mut wasted, mut x) = (sheets.to_vec(), Vec::new(), 0.0, 0);
        while x < self.columns {
            let (at, width, waste) = self.next(&sheets, [x, y], height)?;
            let print = sheets[at].print;
            self.cut(&mut sheets, at, width, height);
            fillers.push((print, width));
            (x, wasted) = (x + width, wasted + waste);
        }
        Some((sheets, fillers, wasted))
    }

    /// The sheet for the next filler, its width, and what is wasted.
    fn next(&self, sheets: &[OfPrint], [x, y]: [u32; 2], height: u32) -> Option<(usize, u32, f64)> {
        let request = self.order.request;
        let (both, cell) = (request.seam.both(), request.grid.ticks() as f64);
        let strip = request.grid * height + both;
        let left = self.columns - x;
        let ways = sheets.iter().enumerate().filter(|(_, of)| of.sheet.count > 0 && of.sheet.height >= strip);
        let ways = ways.filter_map(|(at, of)| {
            let most = request.filler_limit(of.sheet.width.min(request.cloth_width)).floor_div(request.grid);
            let most = u32::try_from(most).ok()?.min(left);
            // What remains of the row must be none, or wide enough for one filler more.
            let width = if most == left || left - most >= self.least { most } else { left.checked_sub(self.least)? };
            (width >= self.least).then_some((at, of, width))
        });
        let wasted = |sheet: &Sheet, width: u32| {
            let length = request.grid * width + both;
            // A strip higher than the row loses the rest; a sheet loses what no more such strips use.
            let strips = if sheet.is_strip { 1 } else { sheet.height.floor_div(strip).max(1) };
            let high = sheet.height - strip * strips;
            let lost = high.ticks() as f64 / strips as f64 * sheet.width.ticks() as f64
                + both.ticks() as f64 * strip.ticks() as f64;
            let stub = sheet.width - length;
            let useless = request.filler_limit(stub) < request.least;
            (lost + if useless { stub.ticks() as f64 * strip.ticks() as f64 } else { 0.0 }) / (cell * cell)
        };
        let ways: Vec<(usize, &OfPrint, u32, f64)> =
            ways.map(|(at, of, width)| (at, of, width, wasted(&of.sheet, width) / f64::from(width))).collect();
        let least = ways.iter().map(|way| way.3).fold(f64::INFINITY, f64::min);
        let near = ways.into_iter().filter(|way| way.3 <= least + self.choose.waste() * f64::from(height) + 1e-9);
        // A strip that is open comes before a sheet, and of equals the longest filler.
        let best = near.min_by(|one, other| {
            let cost = |way: &(usize, &OfPrint, u32, f64)| self.cost(way.1.print, [x, y], [way.2, height]);
            let rank = |way: &(usize, &OfPrint, u32, f64)| (!way.1.sheet.is_strip, Reverse(way.2), way.0);
            cost(one).total_cmp(&cost(other)).then_with(|| rank(one).cmp(&rank(other)))
        })?;
        Some((best.0, best.2, best.3 * f64::from(best.2)))
    }

    /// What a cell of a place costs in a print.
    fn cost(&self, print: Print, [x, y]: [u32; 2], [width, height]: [u32; 2]) -> f64 {
        let Some((ready, problem)) = self.scene else { return 0.0 };
        let family = ready.family(print).expect("no sheet is of a print that ran out");
        f64::from(problem.filler_error(family, [x, y], [width, height])) / f64::from(width * height)
    }

    /// Cuts a filler off.
    fn cut(&self, sheets: &mut Vec<OfPrint>, at: usize, width: u32, height: u32) {
        let request = self.order.request;
        let (strip, both) = (request.grid * height + request.seam.both(), request.seam.both());
        let length = request.grid * width + both + request.row_ends.extra(request.ruler);
        let OfPrint { print, sheet } = sheets[at];
        sheets[at].sheet.count -= 1;
        let (beside, below) = sheet.cut(length, strip);
        sheets.extend([Some(beside), below].into_iter().flatten().map(|sheet| OfPrint { print, sheet }));
        let serves = |of: &OfPrint| {
            let sheet = of.sheet;
            sheet.count > 0
                && request.filler_limit(sheet.width) >= request.least
                && sheet.height - both >= request.least
        };
        sheets.retain(serves);
    }
}
