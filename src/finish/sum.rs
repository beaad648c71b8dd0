//! All of it together: what is asked for, worked out round a top.

use super::asked::pick;
use super::backing::backing;
use super::batting::batting;
use super::binding::binding;
use super::borders::border;
use super::facing::{FacingWork, facing};
use super::pieced::{even, pieced_border};
use super::strips::Run;
use super::{
    BackingWork, BattingWork, Bed, BindingWork, Border, BorderWork, ComeTo, Finish, FinishError, Joins, MOST_BORDERS,
};
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
        let borders = self.laid(top, binds)?;
        let bordered = borders.last().map_or([top.width, top.height], |border| border.outer);
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

    /// Every border round a top, or why they cannot be.
    pub fn round(&self, top: &Top) -> Result<Vec<BorderWork>, FinishError> {
        self.laid(top, self.binding.as_ref().map_or(Length::ZERO, |binding| binding.finished(top.ruler)))
    }

    /// What the whole quilt is to come to.
    fn wanted(&self) -> Option<[Length; 2]> {
        self.come_to.as_ref().map(|come_to| match come_to {
            ComeTo::Bed(bed) => bed.quilt(),
            ComeTo::Size(size) => *size,
        })
    }

    /// Every border from the top outward, spacers with them.
    ///
    /// A plain border without a width is the spacer of a pieced one that follows, or else what the whole quilt is worked
    /// out by; where there is none such, the outermost pieced border comes as near to what is asked for as it can.
    fn laid(&self, top: &Top, binds: Length) -> Result<Vec<BorderWork>, FinishError> {
        let (ruler, asked) = (top.ruler, &self.borders);
        let is_open = |at: usize| asked[at].pieced.is_none() && asked[at].width.is_none();
        let is_spacer = |at: usize| is_open(at) && asked.get(at + 1).is_some_and(|next| next.pieced.is_some());
        let free: Vec<usize> = (0..asked.len()).filter(|at| is_open(*at) && !is_spacer(*at)).collect();
        let outer = asked.iter().rposition(|border| border.pieced.is_some());
        if free.len() > 1 {
            return Err(FinishError::Free(free.len()));
        }
        if free.first().is_some_and(|free| Some(*free) < outer) {
            return Err(FinishError::FreeInside);
        }
        let mut size = [top.width, top.height];
        let mut borders = Vec::new();
        for (at, border_asked) in asked.iter().enumerate().filter(|(at, _)| !is_spacer(*at)) {
            if let Some(pieced) = &border_asked.pieced {
                let spacer = at.checked_sub(1).filter(|inside| is_spacer(*inside));
                let beyond = asked[at + 1..].iter().filter_map(|border| border.width).sum::<Length>() + binds;
                let target = self.wanted().filter(|_| free.is_empty() && Some(at) == outer);
                let target = target.map(|wanted| wanted.map(|side| side - beyond * 2i64));
                let even = even(border_asked, pieced, size, spacer.is_some(), target, top)?;
                if even.spacer != [Length::ZERO; 2] {
                    let plain = spacer.map_or_else(Border::default, |spacer| asked[spacer].clone());
                    let work = BorderWork { evens: true, ..border(&plain, size, even.spacer, top)? };
                    size = work.outer;
                    borders.push(work);
                }
                borders.push(pieced_border(border_asked, pieced, &even, size, top)?);
            } else {
                let widths = match border_asked.width {
                    Some(width) => [width; 2],
                    None => self.worked_out(size, &asked[at + 1..], binds, ruler, top.seam)?,
                };
                borders.push(border(border_asked, size, widths, top)?);
            }
            size = borders.last().map_or(size, |border: &BorderWork| border.outer);
        }
        match (&self.come_to, free.is_empty() && outer.is_none()) {
            (Some(ComeTo::Size(wanted)), true) => {
                let would = size.map(|side| side + binds * 2i64);
                let fits = would == *wanted;
                if fits { Ok(borders) } else { Err(FinishError::NoFree { wanted: *wanted, would, ruler }) }
            }
            _ => Ok(borders),
        }
    }

    /// Width at the sides and at the ends of the border that the quilt is worked out by.
    fn worked_out(
        &self,
        inner: [Length; 2],
        beyond: &[Border],
        binds: Length,
        ruler: Ruler,
        seam: Length,
    ) -> Result<[Length; 2], FinishError> {
        let wanted = self.wanted().ok_or(FinishError::NoSize)?;
        let beyond = beyond.iter().filter_map(|border| border.width).sum::<Length>() + binds;
        let without = inner.map(|side| side + beyond * 2i64);
        // On the marks of a ruler, so that the quilt is at most two of them less than was asked for.
        let mark = pick(ruler, Length::inches(1, 16), Length::MM);
        let half = |at: usize| mark * ((wanted[at] - without[at]) / 2).floor_div(mark);
        let widths = [half(0), half(1)];
        match widths.iter().any(|width| *width < seam) {
            true => Err(FinishError::NoRoom { wanted, without, ruler }),
            false => Ok(widths),
        }
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
