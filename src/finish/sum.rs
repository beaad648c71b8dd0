//! All of it together: what is asked for, worked out round a top.

use super::asked::pick;
use super::backing::backing;
use super::batting::batting;
use super::binding::binding;
use super::borders::border;
use super::facing::{FacingWork, facing};
use super::strips::Run;
use super::{BackingWork, BattingWork, Bed, BindingWork, BorderWork, ComeTo, Finish, FinishError, Joins, MOST_BORDERS};
use crate::measure::{Length, Ruler};

/// Most of any length that is given.
const MOST: Length = Length::from_ticks(10 * Length::METRE.ticks());

/// The top that is finished, and how its maker works.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Top {
    /// Finished width.
    pub width: Length,
    /// Finished height.
    pub height: Length,
    /// The seam.
    pub seam: Length,
    /// Usable width of yardage.
    pub cloth_width: Length,
    /// The ruler.
    pub ruler: Ruler,
}

/// All that finishes a quilt.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Finishing {
    /// Borders from the top outward.
    pub borders: Vec<BorderWork>,
    /// Finished size of the top with its borders.
    pub bordered: [Length; 2],
    /// The whole quilt, its binding on.
    pub quilt: [Length; 2],
    /// How it lies on its bed.
    pub hang: Option<Hang>,
    /// What backing and batting reach past the raw edge of the top.
    pub overhang: Length,
    /// The back.
    pub backing: Option<BackingWork>,
    /// The batting.
    pub batting: Option<BattingWork>,
    /// The binding.
    pub binding: Option<BindingWork>,
    /// The facing.
    pub facing: Option<FacingWork>,
    /// The sleeve.
    pub sleeve: Option<SleeveWork>,
}

/// How a quilt lies on a bed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Hang {
    /// The bed.
    pub bed: Bed,
    /// What hangs at each side.
    pub sides: Length,
    /// What hangs at the foot.
    pub foot: Length,
}

impl Hang {
    /// Whether the least that hangs covers the mattress; none where nobody said how deep it is.
    pub fn covers(&self) -> Option<bool> {
        self.bed.depth.map(|depth| self.sides.min(self.foot) >= depth)
    }
}

/// A sleeve at the top of the back.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SleeveWork {
    /// Its strips, joined.
    pub run: Run,
    /// What each of its ends is hemmed by.
    pub hem: Length,
    /// How high it lies, sewn to a tube and pressed flat.
    pub flat: Length,
}

impl Finish {
    /// All of it round a top, or why it cannot be.
    pub fn work(&self, top: &Top) -> Result<Finishing, FinishError> {
        self.check(top.ruler)?;
        let binds = self.binding.as_ref().map_or(Length::ZERO, |binding| binding.finished(top.ruler));
        let widths = self.widths(top, binds)?;
        let mut bordered = [top.width, top.height];
        let mut borders = Vec::new();
        for (asked, widths) in self.borders.iter().zip(widths) {
            let work = border(asked, bordered, widths, top)?;
            bordered = work.outer;
            borders.push(work);
        }
        let quilt = bordered.map(|side| side + binds * 2i64);
        let overhang = self.overhang(top.ruler);
        if overhang < binds && (self.backing.is_some() || self.batting) {
            return Err(FinishError::Overhang { overhang, binding: binds, ruler: top.ruler });
        }
        let covered = bordered.map(|side| side + top.seam * 2i64 + overhang * 2i64);
        let bound = self.binding.as_ref().map(|asked| binding(asked, bordered, top)).transpose()?;
        Ok(Finishing {
            hang: self.hang(quilt),
            backing: self.backing.as_ref().map(|asked| backing(asked, covered, top)).transpose()?,
            batting: self.batting.then(|| batting(covered)),
            binding: bound,
            facing: self.facing.as_ref().map(|asked| facing(asked, bordered, top)).transpose()?,
            sleeve: if self.sleeve { Some(sleeve(quilt[0], top)?) } else { None },
            borders,
            bordered,
            quilt,
            overhang,
        })
    }

    /// Width at the sides and at the ends of every border.
    fn widths(&self, top: &Top, binds: Length) -> Result<Vec<[Length; 2]>, FinishError> {
        let ruler = top.ruler;
        let given: Length = self.borders.iter().filter_map(|border| border.width).sum();
        let without = [top.width, top.height].map(|side| side + (given + binds) * 2i64);
        let wanted = match &self.come_to {
            Some(ComeTo::Bed(bed)) => Some(bed.quilt()),
            Some(ComeTo::Size(size)) => Some(*size),
            None => None,
        };
        let free = self.borders.iter().filter(|border| border.width.is_none()).count();
        let worked_out = match (free, wanted) {
            (0, Some(wanted)) if matches!(self.come_to, Some(ComeTo::Size(_))) && wanted != without => {
                return Err(FinishError::NoFree { wanted, would: without, ruler });
            }
            (0, _) => [Length::ZERO; 2],
            (1, None) => return Err(FinishError::NoSize),
            (1, Some(wanted)) => {
                // On the marks of a ruler, so that the quilt is at most two of them less than was asked for.
                let mark = pick(ruler, Length::inches(1, 16), Length::MM);
                let half = |at: usize| mark * ((wanted[at] - without[at]) / 2).floor_div(mark);
                let widths = [half(0), half(1)];
                if widths.iter().any(|width| *width < top.seam) {
                    return Err(FinishError::NoRoom { wanted, without, ruler });
                }
                widths
            }
            (more, _) => return Err(FinishError::Free(more)),
        };
        Ok(self.borders.iter().map(|border| border.width.map_or(worked_out, |width| [width; 2])).collect())
    }

    fn hang(&self, quilt: [Length; 2]) -> Option<Hang> {
        let Some(ComeTo::Bed(bed)) = &self.come_to else { return None };
        let (sides, foot) = ((quilt[0] - bed.width) / 2, quilt[1] - bed.length - bed.tuck);
        Some(Hang { bed: bed.clone(), sides, foot })
    }

    /// Checks each length by itself.
    fn check(&self, ruler: Ruler) -> Result<(), FinishError> {
        if self.borders.len() > MOST_BORDERS {
            return Err(FinishError::Borders(self.borders.len()));
        }
        if let Some(what) = self.unprintable() {
            return Err(FinishError::Text(what));
        }
        if self.binding.is_some() && self.facing.is_some() {
            return Err(FinishError::TwoEdges);
        }
        let borders = self.borders.iter().map(|border| ("border", border.width));
        let backing = self.backing.iter().map(|backing| ("cloth of the backing", backing.width));
        let binding = self
            .binding
            .iter()
            .flat_map(|binding| [("binding", binding.width), ("binding's allowance", binding.allowance)]);
        if let Some(scale) = self.quilting.as_ref().map(|quilting| quilting.scale(ruler)) {
            let [least, most] = pick_scale(ruler);
            if scale < least || scale > most {
                return Err(FinishError::Scale { scale, least, most, ruler });
            }
        }
        let come_to = self.come_to.iter().flat_map(|come_to| match come_to {
            ComeTo::Bed(bed) => {
                [("width of the mattress", Some(bed.width)), ("length of the mattress", Some(bed.length))]
            }
            ComeTo::Size([width, height]) => {
                [("width of the quilt", Some(*width)), ("height of the quilt", Some(*height))]
            }
        });
        let depth = self.come_to.iter().filter_map(|come_to| match come_to {
            ComeTo::Bed(bed) => Some(("depth of the mattress", bed.depth)),
            ComeTo::Size(_) => None,
        });
        let positive = borders.chain(backing).chain(binding).chain(come_to).chain(depth);
        let drops = self.come_to.iter().flat_map(|come_to| match come_to {
            ComeTo::Bed(bed) => vec![("drop", Some(bed.drop)), ("pillow tuck", Some(bed.tuck))],
            ComeTo::Size(_) => Vec::new(),
        });
        let or_nothing = drops.chain([("overhang", self.overhang)]);
        let given = |(what, length): (&'static str, Option<Length>)| Some((what, length?));
        for (what, length) in positive.filter_map(given) {
            if length <= Length::ZERO {
                return Err(FinishError::NotPositive { what, length, ruler });
            }
            at_most(what, length, ruler)?;
        }
        for (what, length) in or_nothing.filter_map(given) {
            if length < Length::ZERO {
                return Err(FinishError::Negative { what, length, ruler });
            }
            at_most(what, length, ruler)?;
        }
        Ok(())
    }
}

/// Least and most of the scale of quilting: finer is not marked, wider is held by few battings.
fn pick_scale(ruler: Ruler) -> [Length; 2] {
    [pick(ruler, Length::inches(1, 2), Length::CM), pick(ruler, Length::INCH * 12i64, Length::CM * 30i64)]
}

fn at_most(what: &'static str, length: Length, ruler: Ruler) -> Result<(), FinishError> {
    match length > MOST {
        true => Err(FinishError::TooLong { what, length, most: MOST, ruler }),
        false => Ok(()),
    }
}

/// A tube as wide as the quilt less two hems, of a strip 9 in or 23 cm wide (common practice, no source).
fn sleeve(width: Length, top: &Top) -> Result<SleeveWork, FinishError> {
    let strip = pick(top.ruler, Length::INCH * 9i64, Length::CM * 23i64);
    let hem = pick(top.ruler, Length::INCH, Length::mm(25));
    let run = Run::new(strip, width, top.cloth_width, Joins::Straight.takes(strip, top.seam))
        .ok_or(FinishError::WideStrip { what: "the sleeve", strip, cloth: top.cloth_width, ruler: top.ruler })?;
    Ok(SleeveWork { run, hem, flat: (strip - top.seam * 2i64) / 2 })
}
