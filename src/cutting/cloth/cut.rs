//! How one fabric is cut: squares for pairs first, then fillers out of what remains.

use super::model::{Bin, Cloth, FabricCut, PairSquares, SheetCut, SheetKind};
use crate::cutting::layout::{
    Layout, LayoutEffort, PieceAt, PieceToCut, Sheet, SheetLayout, StripCut, Unplaced, lay_out_with,
};
use crate::fabric::Fabric;
use crate::measure::Length;
use crate::plan::Request;

/// Most sizes and most pieces that are laid out at once; where there are more, one lot after the other.
const SIZES: usize = 60;
const PIECES: u64 = 4_000;
/// Most sheets that are cut from at once; where there are more, one lot after the other.
const SHEETS: usize = 120;

/// Cuts the squares and the fillers of one fabric out of its cloth.
///
/// Squares that are there at the size that pairs want serve the pairs. What is left of the pairs comes before
/// the fillers: both together where all squares find room so, or else the squares alone first.
pub fn cut(cloth: &Cloth, squares: &[PairSquares], fillers: &[PieceToCut]) -> FabricCut {
    match *cloth {
        Cloth::ToBuy { width, squares: only, own, remnants: Some((remnants, end)) } => {
            let first = cut(&Cloth::Stash(remnants, end), squares, fillers);
            let left = first.unplaced();
            let (pairs, rest) = left.split_at(squares.len());
            let squares: Vec<PairSquares> =
                squares.iter().zip(pairs).map(|(wanted, &count)| PairSquares { count, ..wanted.clone() }).collect();
            let fillers: Vec<PieceToCut> =
                fillers.iter().zip(rest).map(|(wanted, &count)| PieceToCut { count, ..wanted.clone() }).collect();
            let more = cut(&Cloth::ToBuy { width, squares: only, own, remnants: None }, &squares, &fillers);
            first.and(more)
        }
        _ => cut_from(cloth, squares, fillers),
    }
}

fn cut_from(cloth: &Cloth, squares: &[PairSquares], fillers: &[PieceToCut]) -> FabricCut {
    let mut table = Table::new(cloth, squares, fillers);
    table.precut(squares);
    table.cut_exactly(squares.len());
    if matches!(cloth, Cloth::ToBuy { squares: None, .. }) {
        table.use_squares(squares.len());
    }
    table.close_squares(cloth);
    for from in (0..table.bins.len()).step_by(SHEETS) {
        table.from = from;
        let (pairs, rest) = table.wanted().partition(|&piece| piece < squares.len());
        table.lay_all(pairs, rest);
    }
    FabricCut { squares: squares.len(), ..table.done() }
}

/// The same out of what there is of a fabric, or is bought of it; a print with a direction is not turned.
pub fn cut_of(fabric: &Fabric, request: &Request, squares: &[PairSquares], mut fillers: Vec<PieceToCut>) -> FabricCut {
    fillers.iter_mut().for_each(|filler| filler.turn &= !fabric.directional);
    cut(&Cloth::of(fabric, request), squares, &fillers)
}

/// Cloth and pieces, and how many of each are not cut yet.
pub(super) struct Table {
    pub pieces: Vec<PieceToCut>,
    pub left: Vec<u32>,
    pub bins: Vec<Bin>,
    /// The first bin of those that are cut from now.
    from: usize,
    /// What comes off a length of the stash first.
    end: Length,
    cloth: Vec<Bin>,
    pub sheets: Vec<SheetCut>,
    /// The bin whose squares fillers are cut from as well, where all is bought.
    shared: Option<usize>,
    bought: bool,
}

impl Table {
    fn new(cloth: &Cloth, squares: &[PairSquares], fillers: &[PieceToCut]) -> Self {
        let square = |wanted: &PairSquares| PieceToCut {
            id: wanted.id.clone(),
            width: wanted.square.cut,
            height: wanted.square.cut,
            count: wanted.count,
            turn: true,
        };
        let pieces: Vec<PieceToCut> = squares.iter().map(square).chain(fillers.iter().cloned()).collect();
        let mut bins = bins(cloth, squares);
        let end = if let Cloth::Stash(_, end) = cloth { *end } else { Length::ZERO };
        let there = |bin: &Bin| bin.sheet.count > 0 && real(bin.sheet.width) && bin.sheet.height.is_none_or(real);
        bins.retain(there);
        let cloth_there = bins.clone();
        for bin in bins.iter_mut().filter(|bin| bin.kind == SheetKind::Length) {
            bin.sheet.height = bin.sheet.height.map(|height| height - end);
            bin.sheet.count *= u32::from(there(bin));
        }
        let shared = match cloth {
            Cloth::ToBuy { squares: Some(side), .. } => bins.iter().position(|bin| bin.sheet.width == *side),
            _ => None,
        };
        Self {
            left: pieces.iter().map(|piece| piece.count).collect(),
            pieces,
            cloth: cloth_there,
            bins,
            end,
            from: 0,
            sheets: Vec::new(),
            shared,
            bought: matches!(cloth, Cloth::ToBuy { .. }),
        }
    }

    /// Odd pieces that are just as large as a filler are that filler.
    fn cut_exactly(&mut self, pairs: usize) {
        for bin in 0..self.bins.len() {
            let Bin { kind: SheetKind::Oddment, sheet: Sheet { width, height: Some(height), .. } } = self.bins[bin]
            else {
                continue;
            };
            for piece in self.wanted().filter(|piece| *piece >= pairs).collect::<Vec<_>>() {
                let wanted = &self.pieces[piece];
                let turned = (wanted.width, wanted.height) != (width, height);
                if turned && !(wanted.turn && (wanted.height, wanted.width) == (width, height)) {
                    continue;
                }
                let count = self.left[piece].min(self.bins[bin].sheet.count);
                let at = Length::ZERO;
                let cuts = vec![PieceAt { piece, at, width, height, turned }];
                let strips = vec![StripCut { at, height, cuts }];
                let layout = SheetLayout {
                    sheet: bin,
                    copy: 0,
                    turned: false,
                    width,
                    height: Some(height),
                    strips,
                    used_length: height,
                    bound: Length::ZERO,
                };
                self.take(bin, layout, count);
            }
        }
    }

    /// Whether a square is quartered for fewer than four pairs, without a look at what else it could give.
    pub(super) fn opens(&self, bin: usize) -> bool {
        self.bought && self.shared != Some(bin)
    }

    /// Squares that are bought for pairs serve no fillers, but where squares are all that is bought.
    fn close_squares(&mut self, cloth: &Cloth) {
        if let Cloth::ToBuy { squares, .. } = cloth {
            let all: u32 = self.left.iter().fold(0, |sum, left| sum.saturating_add(*left));
            for bin in self.bins.iter_mut().filter(|bin| bin.kind == SheetKind::BoughtSquare) {
                bin.sheet.count = if *squares == Some(bin.sheet.width) { all } else { 0 };
            }
        }
    }

    /// Pieces that are not cut yet and could be.
    pub(super) fn wanted(&self) -> impl Iterator<Item = usize> + use<> {
        let real = |(piece, left): (&PieceToCut, &u32)| *left > 0 && real(piece.width) && real(piece.height);
        let wanted: Vec<bool> = self.pieces.iter().zip(&self.left).map(real).collect();
        wanted.into_iter().enumerate().filter(|(_, wanted)| *wanted).map(|(piece, _)| piece)
    }

    fn lay_all(&mut self, pairs: Vec<usize>, fillers: Vec<usize>) {
        let both: Vec<usize> = pairs.iter().chain(&fillers).copied().collect();
        let mut lots = self.lots(&both);
        if lots.len() == 1 {
            let lot = lots.remove(0);
            let Some(layout) = self.lay(&lot) else { return };
            if layout.unplaced.iter().all(|left| left.piece >= pairs.len()) {
                return self.accept(&lot, layout);
            }
        }
        for lot in self.lots(&pairs).into_iter().chain(self.lots(&fillers)) {
            if let Some(layout) = self.lay(&lot) {
                self.accept(&lot, layout);
            }
        }
    }

    /// Pieces in lots that are laid out at once.
    fn lots(&self, pieces: &[usize]) -> Vec<Vec<(usize, u32)>> {
        let mut lots: Vec<Vec<(usize, u32)>> = Vec::new();
        let mut room = 0;
        for &piece in pieces {
            let mut left = u64::from(self.left[piece]);
            while left > 0 {
                if room == 0 || lots.last().is_none_or(|lot| lot.len() == SIZES) {
                    lots.push(Vec::new());
                    room = PIECES;
                }
                let take = left.min(room);
                lots.last_mut().into_iter().for_each(|lot| lot.push((piece, take as u32)));
                (left, room) = (left - take, room - take);
            }
        }
        lots
    }

    fn lay(&self, lot: &[(usize, u32)]) -> Option<Layout> {
        let piece = |&(piece, count): &(usize, u32)| PieceToCut { count, ..self.pieces[piece].clone() };
        let pieces: Vec<PieceToCut> = lot.iter().map(piece).collect();
        let bins = self.bins.iter().skip(self.from).take(SHEETS);
        let sheets: Vec<Sheet> = bins.map(|bin| bin.sheet.clone()).collect();
        lay_out_with(&pieces, &sheets, LayoutEffort::Quick).ok()
    }

    fn accept(&mut self, lot: &[(usize, u32)], layout: Layout) {
        let first = self.sheets.len();
        for mut sheet in layout.sheets {
            for cut in sheet.strips.iter_mut().flat_map(|strip| &mut strip.cuts) {
                cut.piece = lot[cut.piece].0;
            }
            sheet.copy = 0;
            sheet.sheet += self.from;
            self.cut(first, sheet.sheet, sheet, 1);
        }
    }

    /// Cuts so many sheets of a bin alike.
    pub(super) fn take(&mut self, bin: usize, layout: SheetLayout, count: u32) {
        if count > 0 {
            self.cut(self.sheets.len(), bin, layout, count);
        }
    }

    /// The same, counted with a sheet from `first` on that is cut alike.
    fn cut(&mut self, first: usize, bin: usize, mut layout: SheetLayout, count: u32) {
        for (piece, each) in layout.counts() {
            self.left[piece] = self.left[piece].saturating_sub(each.saturating_mul(count));
        }
        let kind = self.bins[bin].kind;
        if kind == SheetKind::Length {
            straighten(&mut layout, self.end);
        }
        if self.bins[bin].sheet.height.is_some() {
            self.bins[bin].sheet.count -= count;
        }
        match self.sheets[first..].iter_mut().find(|sheet| sheet.layout == layout) {
            Some(alike) => alike.count += count,
            None => self.sheets.push(SheetCut { id: String::new(), kind, count, layout }),
        }
    }

    fn done(self) -> FabricCut {
        let left = self.left.iter().enumerate().filter(|(_, left)| **left > 0);
        let unplaced = left.map(|(piece, &count)| Unplaced { piece, count }).collect();
        FabricCut { unplaced, pieces: self.pieces, cloth: self.cloth, sheets: self.sheets, squares: 0 }
    }
}

/// The sheets that there are, or those that may be bought.
fn bins(cloth: &Cloth, squares: &[PairSquares]) -> Vec<Bin> {
    let (width, only, own) = match cloth {
        Cloth::Stash(supply, _) => return Bin::of(supply),
        Cloth::ToBuy { width, squares, own, .. } => (*width, *squares, *own && squares.is_none()),
    };
    // What the cloth is too narrow for is bought all the same.
    let sides = squares.iter().filter(|wanted| !own || wanted.square.cut > width).map(|wanted| wanted.square.bought());
    let mut sides: Vec<Length> = sides.chain(only).collect();
    sides.sort_unstable();
    sides.dedup();
    let squares = sides.into_iter().rev().map(|side| Bin::square(SheetKind::BoughtSquare, side, u32::MAX));
    let yardage = only.is_none().then(|| Bin::new(SheetKind::BoughtLength, width, None, 1));
    squares.chain(yardage).collect()
}

/// Moves all that is cut of a length past what comes off its end.
fn straighten(layout: &mut SheetLayout, end: Length) {
    if layout.turned {
        layout.width += end;
        layout.strips.iter_mut().flat_map(|strip| &mut strip.cuts).for_each(|cut| cut.at += end);
        return;
    }
    layout.height = layout.height.map(|height| height + end);
    layout.used_length += end;
    if layout.bound > Length::ZERO {
        layout.bound += end;
    }
    layout.strips.iter_mut().for_each(|strip| strip.at += end);
}

/// Whether a side is one that can be cut.
fn real(side: Length) -> bool {
    Length::ZERO < side && side <= Length::LIMIT
}
