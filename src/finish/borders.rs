//! Borders: strips round the top, one border round the other.

use super::asked::pick;
use super::pieced::PiecedWork;
use super::strips::Run;
use super::{Border, Corners, FinishError, First, Grain, Top};
use crate::measure::Length;

/// One border.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BorderWork {
    /// What was asked for, or what stands for a spacer that was put in.
    pub asked: Border,
    /// Whether it makes the pieced border round it come out even.
    pub evens: bool,
    /// Finished width at both sides.
    pub sides: Length,
    /// Finished width at the top and the bottom.
    pub ends: Length,
    /// Its strips, in the order in which they are sewn on.
    pub pieces: [Pieces; 2],
    /// Its corners.
    pub cornerstones: Option<Cornerstones>,
    /// The strips that are joined before its pieces are cut; none where each is cut along the cloth.
    pub runs: Vec<Run>,
    /// The length of cloth that its strips take.
    pub cloth: Length,
    /// Its units, where it is pieced.
    pub pieced: Option<PiecedWork>,
    /// Finished size of what it is sewn round.
    pub inner: [Length; 2],
    /// Finished size with it.
    pub outer: [Length; 2],
}

/// Two strips that are alike.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Pieces {
    /// Where they are sewn on.
    pub at: First,
    /// Width that they are cut.
    pub strip: Length,
    /// Length that they are cut, by the top as it should be.
    pub length: Length,
}

/// Four pieces in the corners.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Cornerstones {
    /// Width and height that they are cut.
    pub cut: [Length; 2],
    /// The length of cloth that they take.
    pub cloth: Length,
}

/// The border of these widths round what is `inner` large.
pub(super) fn border(
    asked: &Border,
    inner: [Length; 2],
    [sides, ends]: [Length; 2],
    top: &Top,
) -> Result<BorderWork, FinishError> {
    let (ruler, cloth) = (top.ruler, top.cloth_width);
    if asked.corners == Corners::Mitred && sides != ends {
        return Err(FinishError::Mitre { sides, ends, ruler });
    }
    let outer = [inner[0] + sides * 2i64, inner[1] + ends * 2i64];
    let pieces = pieces(asked, inner, [sides, ends], top);
    let wide = |strip: Length| FinishError::WideStrip { what: "a border", strip, cloth, ruler };
    let mut work = BorderWork {
        asked: asked.clone(),
        evens: false,
        sides,
        ends,
        pieces,
        cornerstones: None,
        runs: Vec::new(),
        cloth: Length::ZERO,
        pieced: None,
        inner,
        outer,
    };
    if let Some(widest) = pieces.iter().map(|pieces| pieces.strip).max().filter(|strip| *strip > cloth) {
        return Err(wide(widest));
    }
    match asked.strips {
        Grain::Along => work.cloth = along(&pieces, cloth),
        Grain::Across => {
            let strip = pieces[0].strip.max(pieces[1].strip);
            work.runs = across(asked, &pieces, top).ok_or(FinishError::WideJoin { strip, cloth, ruler })?;
            work.cloth = work.runs.iter().map(Run::cloth).sum();
        }
    }
    if asked.corners == Corners::Cornerstones {
        let cut = [sides + top.seam * 2i64, ends + top.seam * 2i64];
        let rows = Length::from_ticks(4).ceil_div(Length::from_ticks(cloth.floor_div(cut[0]).max(1)));
        work.cornerstones = Some(Cornerstones { cut, cloth: cut[1] * rows });
    }
    Ok(work)
}

/// Its strips, by the sizes that all should have.
fn pieces(asked: &Border, inner: [Length; 2], [sides, ends]: [Length; 2], top: &Top) -> [Pieces; 2] {
    let both = top.seam * 2i64;
    let [width, height] = [inner[0] + both, inner[1] + both];
    // Strips that are mitred reach past the outer corner by 2 in or 5 cm at each end, where the mitre is drawn: its seam
    // takes seam · (1 + √2) of that (common practice, no source).
    let over = pick(top.ruler, Length::INCH * 4i64, Length::CM * 10i64);
    let (long, wide) = match (asked.corners, asked.first) {
        (Corners::Square, First::Sides) => (height, width + sides * 2i64),
        (Corners::Square, First::Ends) => (height + ends * 2i64, width),
        (Corners::Cornerstones, _) => (height, width),
        (Corners::Mitred, _) => (inner[1] + ends * 2i64 + over, inner[0] + sides * 2i64 + over),
    };
    let at_sides = Pieces { at: First::Sides, strip: sides + both, length: long };
    let at_ends = Pieces { at: First::Ends, strip: ends + both, length: wide };
    match (asked.corners, asked.first) {
        (Corners::Square, First::Ends) => [at_ends, at_sides],
        _ => [at_sides, at_ends],
    }
}

/// Strips across the cloth, joined: those of one width together.
fn across(asked: &Border, pieces: &[Pieces; 2], top: &Top) -> Option<Vec<Run>> {
    let run =
        |strip: Length, needed: Length| Run::new(strip, needed, top.cloth_width, asked.joins.takes(strip, top.seam));
    let [one, other] = pieces;
    if one.strip == other.strip {
        return Some(vec![run(one.strip, (one.length + other.length) * 2i64)?]);
    }
    pieces.iter().map(|pieces| run(pieces.strip, pieces.length * 2i64)).collect()
}

/// The length of cloth for strips that lie along it, the longest beside one another first.
fn along(pieces: &[Pieces; 2], cloth: Length) -> Length {
    let mut strips: Vec<(Length, Length)> =
        pieces.iter().flat_map(|pieces| [(pieces.length, pieces.strip); 2]).collect();
    strips.sort_unstable_by(|one, other| other.cmp(one));
    let (mut all, mut room) = (Length::ZERO, Length::ZERO);
    for (length, strip) in strips {
        if room < strip {
            (all, room) = (all + length, cloth);
        }
        room = room - strip;
    }
    all
}
