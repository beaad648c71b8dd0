//! What a scene is composed of: a brief settled by its picture, the cells, and the fabrics.

use super::brief::{Brief, BriefError, check_finish};
use super::error::JobError;
use crate::answer::Note;
use crate::compose::{Order, subset};
use crate::fabric::{Fabrics, OnHand, Print, Rgb, Stash, named_beside, propose_beside};
use crate::measure::Length;
use crate::picture::{Crop, Limits, Picture, PictureError, level, salience};
use crate::plan::{Effort, Focus, Request, unused_on_hand};
use crate::suit::suited;
use crate::watch::{Stage, Watch};

/// The most dots that are still drawn one by one: 200 by 200.
const SKETCH: u64 = 40_000;
/// Cells up to which a photo's colours are suited at length, 60 by 80 in, and quickly: where that takes about a second.
const FULLY_SUITED: usize = 19_200;
const QUICKLY_SUITED: usize = 38_400;

/// What is read before a size is known.
pub(super) struct Read<'a> {
    pub brief: &'a Brief,
    pub picture: Picture,
    pub crop: Crop,
    pub stash: Option<Stash>,
    /// Fabrics that are held while others are proposed.
    held: Stash,
    mask: Option<Picture>,
    pub watch: &'a Watch,
}

/// All that an order is made of, and what is to be said of it.
pub(super) struct Prepared {
    pub request: Request,
    cells: Vec<Rgb>,
    focus: Vec<u8>,
    fabrics: Fabrics,
    hand: OnHand,
    pub notes: Vec<Note>,
}

impl<'a> Read<'a> {
    pub fn new(brief: &'a Brief, picture: &[u8], mask: Option<&[u8]>, watch: &'a Watch) -> Result<Self, JobError> {
        brief.check()?;
        watch.begins(Stage::Picture, 1, 1)?;
        let mask = match (brief.focus, mask) {
            (Focus::Mask, None) => return Err(BriefError::NoMask.into()),
            (Focus::Mask, Some(mask)) => Some(decode(mask, JobError::Mask)?),
            _ => None,
        };
        let read = |text: &Option<String>| {
            let stash = text.as_deref().map(Stash::read).transpose();
            stash.map_err(|error| JobError::Stash(0, error.into()))
        };
        let (mut stash, held) = (read(&brief.stash)?, read(&brief.held)?);
        if brief.upright_in_triangles && !stash.as_mut().is_some_and(Stash::stand_upright) {
            return Err(BriefError::NoDirectional.into());
        }
        stash.iter_mut().for_each(Stash::turn_the_rest);
        let held = held.unwrap_or_else(|| Stash { prints: Fabrics::new(), hand: OnHand::default() });
        if held.prints.len() > brief.proposed() as usize {
            return Err(BriefError::Held { held: held.prints.len(), asked: brief.proposed() }.into());
        }
        let picture = decode(picture, JobError::Picture)?;
        watch.go_on()?;
        Ok(Self { brief, picture, crop: brief.crop()?, stash, held, mask, watch })
    }

    /// Width to height of what is drawn.
    pub fn aspect(&self) -> Result<(u32, u32), JobError> {
        self.picture.aspect(&self.crop).map_err(JobError::Picture)
    }

    /// The request with a missing side from the picture's shape, and which side that is.
    pub fn settled(&self) -> Result<(Request, Option<Note>), JobError> {
        let request = self.brief.request()?;
        let (across, down) = self.aspect()?;
        let scaled = |length: Length, up: u32, under: u32| {
            let ticks = i128::from(length.ticks()) * i128::from(up) / i128::from(under.max(1));
            Length::from_ticks(i64::try_from(ticks).unwrap_or(i64::MAX / 4)).round_to(request.grid).max(request.grid)
        };
        let (width, height, note) = match (self.brief.width, self.brief.height) {
            (Some(width), Some(height)) => (width, height, None),
            (Some(width), None) => {
                let height = scaled(width, down, across);
                (width, height, Some(Note::Height(height)))
            }
            (None, Some(height)) => {
                let width = scaled(height, across, down);
                (width, height, Some(Note::Width(width)))
            }
            (None, None) => return Err(BriefError::NoSize.into()),
        };
        Ok((Request { width, height, ..request }, note))
    }

    /// All that an order of this size is made of.
    pub fn prepare(&self, mut request: Request) -> Result<Prepared, JobError> {
        request.check()?;
        let (columns, rows) = request.cells();
        let drawn = self.picture.cells(&self.crop, columns, rows).map_err(JobError::Picture)?;
        let is_photo = self.is_photo(columns);
        if self.stash.is_none() {
            request.held = self.held.prints.iter().map(|fabric| fabric.letter.clone()).collect();
            request.suit = self.brief.suit.unwrap_or_else(|| usual_effort(is_photo, drawn.len()));
        }
        let own = self.stash.as_ref().unwrap_or(&self.held);
        let hand = own.hand.clone();
        let upright = |print: Print| own.prints[print].upright;
        let mut notes: Vec<Note> = unused_on_hand(&hand, &upright, &request).into_iter().map(Note::Unused).collect();
        let mut cells = drawn;
        if self.brief.straighten && is_photo {
            let straight = level(&cells, columns, rows);
            notes.extend((straight != cells).then_some(Note::Levelled));
            cells = straight;
        }
        self.watch.go_on()?;
        let focus = match &self.mask {
            Some(mask) => weights(mask, columns, rows)?,
            None if self.brief.focus == Focus::None => Vec::new(),
            None => salience(&cells, columns, rows),
        };
        self.watch.go_on()?;
        let fabrics = match &self.stash {
            Some(stash) => stash.fabrics(),
            None => self.beside(&cells, [columns, rows], &focus),
        };
        self.watch.go_on()?;
        check_finish(&request.finish, &fabrics)?;
        let prepared = Prepared { request, cells, focus, fabrics, hand, notes };
        match (&self.stash, self.brief.colours) {
            (Some(_), Some(most)) => prepared.fewer(most),
            (Some(_), None) => Ok(prepared),
            (None, _) => prepared.suited(self.held.prints.len(), self.watch),
        }
    }

    /// The held fabrics, and those proposed beside them.
    fn beside(&self, cells: &[Rgb], size: [u32; 2], focus: &[u8]) -> Fabrics {
        let held: Vec<Rgb> = self.held.prints.iter().map(|fabric| fabric.colour).collect();
        let count = self.brief.proposed() as usize;
        named_beside(&self.held.prints.raw, propose_beside(&held, cells, size, focus, count, self.brief.seed))
    }

    /// Whether the picture is finer than the top's cells and than a sketch; what is drawn dot by dot is meant so.
    fn is_photo(&self, columns: u32) -> bool {
        let size = self.picture.size(&self.crop);
        size.is_ok_and(|(width, height)| width > columns && u64::from(width) * u64::from(height) > SKETCH)
    }
}

impl Prepared {
    pub fn order<'a>(&'a self, watch: &'a Watch) -> Order<'a> {
        let order = Order::new(&self.request, &self.cells, &self.focus, &self.fabrics);
        Order { hand: &self.hand, watch, ..order }
    }

    /// The proposed fabrics past the held ones, suited to the scene.
    fn suited(mut self, held: usize, watch: &Watch) -> Result<Self, JobError> {
        // Pieces on hand are of fabrics in their places, and while colours are suited these change.
        let order = Order { hand: &OnHand::default(), ..self.order(watch) };
        self.fabrics = suited(&order, held, self.request.suit)?;
        Ok(self)
    }

    /// The best so many fabrics of the stash.
    fn fewer(mut self, most: u32) -> Result<Self, JobError> {
        let whole = Order::new(&self.request, &self.cells, &self.focus, &self.fabrics);
        let taken = subset(&whole, most as usize)?.prints;
        self.notes.extend(left_out(&self.fabrics, &taken, most));
        self.fabrics = taken.iter().filter_map(|&print| self.fabrics.get(print).cloned()).collect();
        self.hand = self.hand.of(&taken);
        Ok(self)
    }
}

/// A picture of the bytes of a file.
pub(super) fn decode(bytes: &[u8], wrong: fn(PictureError) -> JobError) -> Result<Picture, JobError> {
    Picture::decode(bytes, &Limits::default()).map_err(wrong)
}

/// Weights of cells by a picture that is bright where they are to be finer.
pub(super) fn weights(mask: &Picture, columns: u32, rows: u32) -> Result<Vec<u8>, JobError> {
    let mask = mask.mask(&Crop::Centre, columns, rows).map_err(JobError::Mask)?;
    // Black weighs half, middle grey about plain, white four times.
    Ok(mask.into_iter().map(|level| 2 + (u32::from(level).pow(2) * 14 / 65_025) as u8).collect())
}

/// How long a photo's colours are suited to the scene, by its cells.
fn usual_effort(is_photo: bool, cells: usize) -> Effort {
    match cells {
        ..=FULLY_SUITED if is_photo => Effort::Full,
        ..=QUICKLY_SUITED if is_photo => Effort::Quick,
        _ => Effort::None,
    }
}

/// Which fabrics of the stash the scene goes without; nothing where it has them all.
fn left_out(fabrics: &Fabrics, taken: &[Print], most: u32) -> Option<Note> {
    let left = fabrics.keys().filter(|print| !taken.contains(print));
    let left: Vec<String> = left.map(|print| format!("{} {}", fabrics[print].letter, fabrics[print].name)).collect();
    match left.len() {
        0 if taken.len() < most as usize => Some(Note::AllTaken(taken.len() as u32)),
        0 => None,
        _ => Some(Note::LeftOut { taken: most, left }),
    }
}
