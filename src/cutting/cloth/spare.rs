//! Fillers out of squares that are bought anyway: what is left of them first, then one square more.

use super::cut::Table;
use super::model::SheetKind;
use crate::cutting::layout::{LayoutEffort, PieceAt, PieceToCut, Sheet, SheetLayout, StripCut, lay_out_with};
use crate::measure::Length;

/// Most fillers that are looked for in one square.
const MOST: u64 = 40;

impl Table {
    /// Cuts fillers from what is left of quartered squares, the largest first, and the rest from one square more where
    /// that saves a length.
    pub(super) fn use_squares(&mut self, pairs: usize) {
        let is_bought = |kind: SheetKind| kind == SheetKind::BoughtSquare;
        for index in 0..self.sheets.len() {
            let open = |sheet: &super::SheetCut| is_bought(sheet.kind) && sheet.count == 1;
            if open(&self.sheets[index]) && self.sheets[index].spare_quarters().is_some() {
                self.fill_rest(index, pairs);
            }
        }
        let bins = self.sheets.iter().filter(|sheet| is_bought(sheet.kind)).map(|sheet| sheet.layout.sheet);
        if let Some(bin) = bins.max_by_key(|&bin| self.bins[bin].sheet.width) {
            self.one_more(bin, pairs);
        }
    }

    fn fill_rest(&mut self, index: usize, pairs: usize) {
        let area = |piece: &usize| self.pieces[*piece].area();
        let mut fillers: Vec<usize> = self.wanted().filter(|piece| *piece >= pairs).collect();
        fillers.sort_by_key(|piece| (std::cmp::Reverse(area(piece)), *piece));
        for piece in fillers {
            let (width, height, turn) = {
                let piece = &self.pieces[piece];
                (piece.width, piece.height, piece.turn && piece.width != piece.height)
            };
            let ways = [(width, height, false), (height, width, true)];
            let room = |layout: &mut SheetLayout| {
                ways.iter().filter(|way| turn || !way.2).any(|&(width, height, turned)| {
                    place(layout, PieceAt { piece, at: Length::ZERO, width, height, turned })
                })
            };
            while self.left[piece] > 0 && room(&mut self.sheets[index].layout) {
                self.left[piece] -= 1;
            }
        }
    }

    /// All that is left from one square, where it holds that.
    fn one_more(&mut self, bin: usize, pairs: usize) {
        let wanted: Vec<(usize, u32)> = self.wanted().map(|piece| (piece, self.left[piece])).collect();
        let few = wanted.iter().map(|(_, left)| u64::from(*left)).sum::<u64>() <= MOST;
        if wanted.is_empty() || !few || wanted.iter().any(|(piece, _)| *piece < pairs) {
            return;
        }
        let piece = |&(piece, count): &(usize, u32)| PieceToCut { count, ..self.pieces[piece].clone() };
        let pieces: Vec<PieceToCut> = wanted.iter().map(piece).collect();
        let square = Sheet { count: 1, ..self.bins[bin].sheet.clone() };
        let Ok(layout) = lay_out_with(&pieces, &[square], LayoutEffort::Quick) else { return };
        let [sheet] = layout.sheets.as_slice() else { return };
        if layout.unplaced.is_empty() {
            let mut sheet = sheet.clone();
            for cut in sheet.strips.iter_mut().flat_map(|strip| &mut strip.cuts) {
                cut.piece = wanted[cut.piece].0;
            }
            sheet.sheet = bin;
            self.take(bin, sheet, 1);
        }
    }
}

/// Lays a piece at the end of a strip, or into a strip of its own below; whether there was room.
fn place(layout: &mut SheetLayout, piece: PieceAt) -> bool {
    let (across, down) = (layout.width, layout.height.unwrap_or(Length::ZERO));
    let end = |strip: &StripCut| strip.cuts.last().map_or(Length::ZERO, |cut| cut.at + cut.width);
    let fits = |strip: &&mut StripCut| piece.height <= strip.height && end(strip) + piece.width <= across;
    if let Some(strip) = layout.strips.iter_mut().find(fits) {
        let at = end(strip);
        strip.cuts.push(PieceAt { at, ..piece });
        return true;
    }
    let at = layout.used_length;
    let room = piece.width <= across && at + piece.height <= down;
    if room {
        layout.used_length += piece.height;
        layout.strips.push(StripCut { at, height: piece.height, cuts: vec![piece] });
    }
    room
}
