//! Borders that are pieced of units, so that they come out even.

use super::asked::pick;
use super::borders::{BorderWork, Pieces};
use super::{Border, BorderUnits, FinishError, First, Pieced, Top};
use crate::measure::{Length, Ruler};
use crate::unit::AtATime;

/// Units of one border, all round it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PiecedWork {
    /// What they are.
    pub units: BorderUnits,
    /// Finished length of each along the border.
    pub along: Length,
    /// How many lie at each side, and how many at the top and at the bottom, without the corners.
    pub counts: [i64; 2],
    /// Length along the border and width that each is cut, or trimmed to.
    pub cut: [Length; 2],
    /// Side that a corner is cut.
    pub corner: Length,
    /// Side of the squares that a pair of triangle units is sewn of, two at a time.
    pub pair: Option<Length>,
}

impl PiecedWork {
    /// All places round the border, its corners with them.
    pub fn places(&self) -> usize {
        usize::try_from((self.counts[0] + self.counts[1]) * 2 + 4).unwrap_or_default()
    }

    /// Which of them are corners: the upper left one first, then clockwise.
    pub fn corners(&self) -> [usize; 4] {
        let [side, end] = self.counts.map(|count| usize::try_from(count).unwrap_or_default() + 1);
        [0, end, end + side, end + side + end]
    }
}

/// What makes a pieced border come out even.
pub(super) struct Even {
    /// Finished widths of the plain border inside it, at the sides and at the ends; nothing where it comes out without one.
    pub spacer: [Length; 2],
    /// Finished width of the pieced border.
    pub width: Length,
    along: Length,
    counts: [i64; 2],
}

impl Pieced {
    /// Finished length of each unit along the border; rectangles are twice as long as wide where it does not say.
    fn along(&self, width: Length) -> Length {
        match self.units {
            BorderUnits::Rectangles => self.along.unwrap_or(width * 2i64),
            BorderUnits::Squares | BorderUnits::Triangles => width,
        }
    }
}

/// Widths that a border may have where none is given, the usual 3 in or 7.5 cm first, then by how near they are to it.
fn widths(ruler: Ruler) -> Vec<Length> {
    let (step, usual) = pick_pair(ruler, [Length::inches(1, 8), Length::INCH * 3i64], [Length::mm(5), Length::mm(75)]);
    let steps = usual.floor_div(step);
    let mut widths: Vec<Length> = (steps * 2 / 3..=steps * 3 / 2).map(|steps| step * steps).collect();
    widths.sort_by_key(|width| ((*width - usual).abs(), *width));
    widths
}

fn pick_pair(ruler: Ruler, inch: [Length; 2], metric: [Length; 2]) -> (Length, Length) {
    (pick(ruler, inch[0], metric[0]), pick(ruler, inch[1], metric[1]))
}

/// Units round what is `inner` large, and the spacer that they need: none where it is not asked for and they come out
/// without it. With a `target`, the border comes as near to that outer size as whole units do, and not past it.
pub(super) fn even(
    asked: &Border,
    pieced: &Pieced,
    inner: [Length; 2],
    spaced: bool,
    target: Option<[Length; 2]>,
    top: &Top,
) -> Result<Even, FinishError> {
    let ruler = top.ruler;
    let (least, most) =
        pick_pair(ruler, [Length::inches(1, 2), Length::INCH * 12i64], [Length::mm(15), Length::CM * 30i64]);
    for unit in asked.width.into_iter().chain(pieced.along) {
        if unit < least || unit > most {
            return Err(FinishError::Unit { unit, least, most, ruler });
        }
    }
    let tried = asked.width.map_or_else(|| widths(ruler), |width| vec![width]);
    let usual = tried[0];
    let ways = tried.into_iter().filter_map(|width| {
        let along = pieced.along(width);
        let plain = !spaced && inner.iter().all(|side| side.is_multiple_of(along));
        let counts = [1, 0].map(|axis| match target {
            None if plain => Some(inner[axis].floor_div(along)),
            None => Some(around(inner[axis], along, least, ruler)),
            Some(target) => within(inner[axis], along, target[axis] - width * 2i64, plain, least, ruler),
        });
        let counts = [counts[0]?, counts[1]?];
        let spacer = [0, 1].map(|axis| (along * counts[1 - axis] - inner[axis]) / 2);
        Some(Even { spacer, width, along, counts })
    });
    let key = |even: &Even| {
        let short = |axis: usize, target: [Length; 2]| target[axis] - even.along * even.counts[1 - axis];
        let gap = target.map(|target| (short(0, target) - even.width * 2i64).max(short(1, target) - even.width * 2i64));
        let needs_spacer = even.spacer != [Length::ZERO; 2];
        (gap.unwrap_or(Length::ZERO), target.is_none() && needs_spacer, (even.width - usual).abs(), even.width)
    };
    let room = || FinishError::NoUnits { inner, outer: target.unwrap_or(inner), ruler };
    // One side may come out without a spacer only where both do.
    let sound = |even: &Even| even.spacer == [Length::ZERO; 2] || even.spacer.iter().all(|side| *side >= least);
    ways.filter(sound).min_by_key(key).ok_or_else(room)
}

/// The fewest units that leave room for a spacer, on a mark of the ruler where one of the next few is.
fn around(side: Length, along: Length, least: Length, ruler: Ruler) -> i64 {
    let fewest = (side + least * 2i64).ceil_div(along);
    (fewest..fewest + 8).find(|count| is_marked(along * *count - side, ruler)).unwrap_or(fewest)
}

/// The most units that stay within a length, with room for a spacer or none at all.
fn within(side: Length, along: Length, room: Length, plain: bool, least: Length, ruler: Ruler) -> Option<i64> {
    let most = room.floor_div(along);
    let fewest = if plain { side.floor_div(along) } else { (side + least * 2i64).ceil_div(along) };
    let fits = |count: &i64| !plain || *count == fewest || along * *count - side >= least * 2i64;
    let counts = || (fewest.max(most - 7)..=most).rev().filter(fits);
    let marked = counts().find(|count| is_marked(along * *count - side, ruler));
    marked.or_else(|| counts().next())
}

/// Whether half of a length ends on a mark.
fn is_marked(twice: Length, ruler: Ruler) -> bool {
    twice.is_multiple_of(pick(ruler, Length::inches(1, 8), Length::mm(2)))
}

/// The border of these units round what is `inner` large.
pub(super) fn pieced_border(
    asked: &Border,
    pieced: &Pieced,
    even: &Even,
    inner: [Length; 2],
    top: &Top,
) -> Result<BorderWork, FinishError> {
    let both = top.seam * 2i64;
    let (width, ruler) = (even.width, top.ruler);
    let pair = (pieced.units == BorderUnits::Triangles).then(|| {
        // The least square on a mark whose pair is no smaller than the unit, its seams on.
        let mark = pick(ruler, Length::inches(1, 8), Length::MM);
        let enough = |steps: &i64| AtATime::Two.exact_unfinished(mark * *steps, top.seam) >= width + both;
        mark * (width.floor_div(mark)..).find(enough).unwrap_or_default()
    });
    let corner = width + both;
    let work = PiecedWork {
        units: pieced.units,
        along: even.along,
        counts: even.counts,
        cut: [even.along + both, corner],
        corner,
        pair,
    };
    let strip = pair.unwrap_or(work.cut[0].max(work.cut[1]));
    if strip > top.cloth_width {
        return Err(FinishError::WideStrip { what: "a border", strip, cloth: top.cloth_width, ruler });
    }
    let outer = inner.map(|side| side + width * 2i64);
    let at_sides = Pieces { at: First::Sides, strip: corner, length: inner[1] + both };
    let at_ends = Pieces { at: First::Ends, strip: corner, length: outer[0] + both };
    Ok(BorderWork {
        asked: asked.clone(),
        evens: false,
        sides: width,
        ends: width,
        pieces: [at_sides, at_ends],
        cornerstones: None,
        runs: Vec::new(),
        cloth: Length::ZERO,
        pieced: Some(work),
        inner,
        outer,
    })
}
