//! A change of a scene.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::brief::{BriefError, DIAL, Sizes, check_finish, check_numbers, in_range};
use super::error::JobError;
use super::prepare::{decode, weights};
use crate::answer::{Again, Note, Scene};
use crate::fabric::{Fabric, Fabrics, OnHand, Print, Rgb, Stash, Supply, stand_together};
use crate::finish::Finish;
use crate::likeness::likeness;
use crate::make::{Source, UnitWork, Work, make};
use crate::measure::Length;
use crate::picture::{Crop, Picture, salience};
use crate::plan::{Depth, Focus, Placed, Plan, Pressing, Progress, Request, RowEnds, USUAL_ROUNDS, Was, Why};
use crate::revise::{Change, Changes, ReviseError, Revision, TopPart, compare, revise as composed};
use crate::stock::Gaps;
use crate::watch::{Stage, Watch};

/// What is to be changed of a plan; what is not given stays as it was. It grows: write it with
/// `..ReviseBrief::default()`.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields, default)]
#[schemars(title = "Rowscape change")]
pub struct ReviseBrief {
    /// What the maker calls the scene.
    pub title: Option<String>,
    /// File name of a picture that is given once more.
    pub picture: Option<String>,
    /// What is to be truer and finer.
    pub focus: Option<Focus>,
    /// Finished width of the top.
    pub width: Option<Length>,
    /// Finished height of the top.
    pub height: Option<Length>,
    /// Sizes of squares, seam, grid and strips.
    pub sizes: Sizes,
    /// Usable width of yardage.
    pub cloth_width: Option<Length>,
    /// Step that the edges of bands and columns are on.
    pub edge_step: Option<Length>,
    /// How row ends are cut.
    pub row_ends: Option<RowEnds>,
    /// How seams are pressed.
    pub pressing: Option<Pressing>,
    /// Whether the maker cuts the squares herself, from lengths, where fabrics are bought.
    pub cut_squares: Option<bool>,
    /// What comes off the end of each length, to make it straight.
    pub end_cut: Option<Length>,
    /// How deep the scene is divided.
    pub depth: Option<Depth>,
    /// Likeness against labour, in per cent.
    pub detail: Option<u32>,
    /// Lean to triangle units, in per cent.
    pub triangles: Option<u32>,
    /// Lean to trimmed units, in per cent.
    pub trims: Option<u32>,
    /// Units of two near fabrics, in per cent.
    pub quiet: Option<u32>,
    /// How much cloth is saved where that hardly shows, in per cent.
    pub thrift: Option<u32>,
    /// Where the dice begin.
    pub seed: Option<u64>,
    /// What is bought over what is cut, in per cent.
    pub margin: Option<u32>,
    /// How much may change: what stays as it was costs so many per cent less. 100 changes as little as can be, 0
    /// composes afresh; not given it is 100, but 0 where another size, picture or dial is asked for, and less where
    /// something is gone and the scene would be more than 5 % further from its picture than it need be.
    pub stay: Option<u32>,
    /// The text of a stash file: what there is now of fabrics with the same letters, and fabrics to take more.
    pub stash: Option<String>,
    /// Cloth bought since.
    pub bought: Vec<Bought>,
    /// Letters of the fabrics that ran out.
    pub without: Vec<String>,
    /// Marks and wishes, in the order given.
    pub changes: Vec<Change>,
    /// Rounds in which scarce cloth is priced.
    pub rounds: u32,
    /// After how many scenes within the stash the search ends; none for as many as are worth it.
    pub steps: Option<u32>,
    /// How the quilt is finished, all of it; it changes nothing of the top.
    pub finish: Option<Finish>,
}

/// More of a fabric that is counted.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Bought {
    /// Its letter.
    pub letter: String,
    /// What was bought.
    pub supply: Supply,
}

impl Default for ReviseBrief {
    fn default() -> Self {
        Self {
            title: None,
            picture: None,
            focus: None,
            width: None,
            height: None,
            sizes: Sizes::default(),
            cloth_width: None,
            edge_step: None,
            row_ends: None,
            pressing: None,
            cut_squares: None,
            end_cut: None,
            depth: None,
            detail: None,
            triangles: None,
            trims: None,
            quiet: None,
            thrift: None,
            seed: None,
            margin: None,
            stay: None,
            stash: None,
            bought: Vec::new(),
            without: Vec::new(),
            changes: Vec::new(),
            rounds: USUAL_ROUNDS,
            steps: None,
            finish: None,
        }
    }
}

impl ReviseBrief {
    /// Checks the numbers, as those of a brief are.
    pub fn check(&self) -> Result<(), BriefError> {
        check_numbers([self.detail, self.triangles, self.trims, self.quiet], self.margin, self.rounds)?;
        in_range("thrift", self.thrift, [0, DIAL[1]])?;
        in_range("what stays, in per cent,", self.stay, [0, 100])
    }
}

/// What changed from one plan to another, which is sewn by this work.
pub fn changes(old: &Plan, new: &Plan, work: &Work) -> Changes {
    compare((old, &make(old)), (new, work))
}

/// Composes a plan again as the brief asks, around what is kept and sewn; `picture` and `mask` are bytes of files.
pub fn revise(
    plan: &Plan,
    brief: &ReviseBrief,
    picture: Option<&[u8]>,
    mask: Option<&[u8]>,
    watch: &Watch,
) -> Result<Scene, JobError> {
    revised(plan, brief, picture, mask, watch).map_err(|error| error.unless(watch.go_on()))
}

fn revised(
    old: &Plan,
    brief: &ReviseBrief,
    picture: Option<&[u8]>,
    mask: Option<&[u8]>,
    watch: &Watch,
) -> Result<Scene, JobError> {
    brief.check()?;
    let mut notes = Vec::new();
    watch.begins(Stage::Picture, 1, 1)?;
    let revision = revision(old, brief, picture, mask, &mut notes)?;
    watch.begins(Stage::Scene, 1, 1)?;
    let (plan, gaps) = match brief.stay {
        None if revision.less == 100 && is_forced(brief) => as_little_as_is_good(old, &revision, &mut notes, watch)?,
        _ => composed(old, &revision, watch)?,
    };
    watch.go_on()?;
    let was = Was {
        plan: Plan { picture: Vec::new(), focus: Vec::new(), progress: Progress::default(), ..old.clone() },
        why: why(old, brief),
    };
    let plan = Plan { progress: Progress { was: Some(Box::new(was)), ..plan.progress }, ..plan };
    notes.extend(gaps.map(Note::Within));
    notes.extend(again(old, &plan, brief));
    notes.extend(forced(old, &plan, brief).filter(|_| revision.less == 100));
    Ok(Scene { plan, gaps, notes })
}

/// Whether something is gone that the scene was made of, so that it must be another.
fn is_forced(brief: &ReviseBrief) -> bool {
    let lost = |change: &Change| matches!(change, Change::Lost(_) | Change::Exchange { part: TopPart::All, .. });
    !brief.without.is_empty() || brief.changes.iter().any(lost)
}

/// A forced change may leave the scene so much further from its picture than the rest composed afresh would be.
const FURTHER: f64 = 1.05;
/// Below this, against the scene before, none is composed afresh to find out: it would hardly be nearer than that.
const HARDLY: f64 = 1.02;
/// Dials that are tried between all that may stay and nothing, by trial on the stories of the tests.
const LOOSER: [u32; 2] = [50, 20];

/// Changes as little as can be, where that is as good as the rest composed afresh; else a little more, and says so.
fn as_little_as_is_good(
    old: &Plan,
    revision: &Revision,
    notes: &mut Vec<Note>,
    watch: &Watch,
) -> Result<(Plan, Option<Gaps>), ReviseError> {
    let error = |plan: &Plan| likeness(plan).error;
    let first = composed(old, revision, watch)?;
    let further = error(&first.0);
    if first.0.progress.by_hand || further <= HARDLY * error(old) {
        return Ok(first);
    }
    let with = |less: u32| composed(old, &Revision { less, ..revision.clone() }, watch);
    let Ok(afresh) = with(0) else { return Ok(first) };
    let least = error(&afresh.0);
    let is_good = |plan: &Plan| error(plan) <= FURTHER * least;
    if is_good(&first.0) {
        return Ok(first);
    }
    notes.push(Note::Loosened(((further / least.max(f64::EPSILON) - 1.0) * 100.0).round() as u32));
    let looser = LOOSER.into_iter().filter_map(|less| with(less).ok()).find(|scene| is_good(&scene.0));
    Ok(looser.unwrap_or(afresh))
}

/// What is asked for, as the list says it.
fn why(old: &Plan, brief: &ReviseBrief) -> Vec<Why> {
    let of = |change: &Change| match change {
        Change::Mark(part, state) => Why::Marked { part: part.to_string(), state: *state },
        Change::Lost(at) => Why::Lost { unit: at.to_string() },
        Change::Turn(at, _) => Why::Turned { unit: at.to_string() },
        Change::Patch { at, .. } | Change::Filler(at, _) | Change::Whole(at) => Why::Wanted { unit: at.to_string() },
        Change::Exchange { part, now, then } => {
            Why::Exchanged { part: part.to_string(), now: now.clone(), then: then.clone() }
        }
    };
    let out = brief.without.iter().map(|letter| Why::RanOut { letter: letter.clone() });
    let bought = brief.bought.iter().map(|bought| Why::Bought { letter: bought.letter.clone() });
    let stash = brief.stash.iter().map(|_| Why::Stash);
    let finished = brief.finish.as_ref().is_some_and(|finish| *finish != old.request.finish);
    let asked = request(old, brief)
        .is_ok_and(|request| Request { finish: old.request.finish.clone(), ..request } != old.request);
    let all = out.chain(bought).chain(stash).chain(brief.changes.iter().map(of)).chain(asked.then_some(Why::Asked));
    all.chain(finished.then_some(Why::Finished)).collect()
}

/// What takes the place of each unit that was lost.
fn again(old: &Plan, new: &Plan, brief: &ReviseBrief) -> Vec<Note> {
    let lost = brief.changes.iter().filter_map(|change| match change {
        Change::Lost(at) => old.placed().into_iter().find(|placed| placed.address == *at),
        _ => None,
    });
    let lost: Vec<Placed> = lost.collect();
    if lost.is_empty() {
        return Vec::new();
    }
    let work = make(new);
    let note = |was: &Placed| {
        let same = |unit: &&UnitWork| {
            let now = &unit.placed;
            (now.x, now.y, now.unit.width, now.height) == (was.x, was.y, was.unit.width, was.height)
                && now.unit.piece == was.unit.piece
        };
        let now = work.rows.iter().flat_map(|row| &row.units).find(same);
        let from = match now.map(|now| now.source) {
            Some(Source::Hand(index)) => Again::Spare(work.hand[index].id.clone()),
            Some(Source::Batch(index)) => {
                let batch = &work.batches[index];
                Again::Pairs { id: batch.id.clone(), gives: batch.made(), spare: batch.spare() }
            }
            Some(Source::Filler(index)) => Again::Cut(work.fillers[index].id.clone()),
            Some(Source::Offcut(from)) => Again::Cut(from.to_string()),
            Some(Source::Sewn) | None => Again::Otherwise,
        };
        Note::Again { unit: was.address, from }
    };
    lost.iter().map(note).collect()
}

/// What is said where more than a tenth of the pieces that none of the fabrics left out is in had to change.
fn forced(old: &Plan, new: &Plan, brief: &ReviseBrief) -> Option<Note> {
    let place = |placed: &Placed| (placed.x, placed.y, placed.unit.width, placed.height);
    let pieces: BTreeMap<_, _> = new.placed().iter().map(|placed| (place(placed), placed.unit.piece)).collect();
    let out = |print: Print| brief.without.contains(&old.fabrics[print].letter);
    let without: Vec<Placed> =
        old.placed().into_iter().filter(|placed| !placed.unit.piece.fabrics().any(out)).collect();
    let changed = without.iter().filter(|was| pieces.get(&place(was)) != Some(&was.unit.piece)).count();
    let many = !brief.without.is_empty() && 10 * changed > without.len();
    many.then_some(Note::Forced { changed, of: without.len() })
}

fn revision(
    old: &Plan,
    brief: &ReviseBrief,
    picture: Option<&[u8]>,
    mask: Option<&[u8]>,
    notes: &mut Vec<Note>,
) -> Result<Revision, JobError> {
    let request = request(old, brief)?;
    request.check()?;
    let (columns, rows) = request.cells();
    let same = request.cells() == old.request.cells() && picture.is_none();
    let cells = match picture {
        _ if same => old.picture.clone(),
        Some(bytes) => {
            let crop: Crop = old.request.crop.parse().unwrap_or_default();
            let picture = decode(bytes, JobError::Picture)?;
            notes.extend(picture.notes().iter().cloned().map(Note::Picture));
            picture.cells(&crop, columns, rows).map_err(JobError::Picture)?
        }
        None => {
            notes.push(Note::OldPicture);
            let cells = Picture::of_cells(&old.picture, old.request.cells().0).ok_or(JobError::NoCells)?;
            cells.cells(&Crop::Centre, columns, rows).map_err(JobError::Picture)?
        }
    };
    let focus = focus(old, brief, mask, &cells, same, [columns, rows])?;
    let alike = old.request.asks_the_same(&request) && same && focus == old.focus;
    let (fabrics, told) = fabrics(old, brief)?;
    if let Some(finish) = &brief.finish {
        check_finish(finish, &fabrics)?;
    }
    // What ran out is back once there is more of it, or where it is asked for by name.
    let is_back = |letter: &&String| {
        told.iter().any(|&print| fabrics[print].letter == **letter)
            || brief.bought.iter().any(|bought| bought.letter == **letter)
            || brief.changes.iter().any(|change| matches!(change, Change::Exchange { then, .. } if then == *letter))
    };
    let out = old.progress.out.iter().filter(|letter| !is_back(letter) && !brief.without.contains(letter));
    let without = brief.without.iter().chain(out).cloned().collect();
    Ok(Revision {
        fabrics,
        told,
        less: brief.stay.unwrap_or(if alike { 100 } else { 0 }),
        request,
        picture: cells,
        focus,
        without,
        changes: brief.changes.clone(),
        rounds: brief.rounds,
    })
}

/// The fabrics with what is told and bought of them; those of which it is told.
fn fabrics(old: &Plan, brief: &ReviseBrief) -> Result<(Fabrics, Vec<Print>), JobError> {
    let mut told = Vec::new();
    let mut stash = Stash { prints: old.fabrics.clone(), hand: OnHand::default() };
    if let Some(text) = &brief.stash {
        for fabric in Stash::read(text).map_err(|error| JobError::Stash(0, error.into()))?.prints {
            match stash.prints.position(|held| held.letter == fabric.letter) {
                Some(print) => {
                    let held = &mut stash.prints[print];
                    (held.supply, held.only_squares, held.remnants) = (fabric.supply, fabric.only_squares, None);
                    held.directional = fabric.directional;
                    // What is cut already was cut for what was asked then.
                    if !old.progress.begun {
                        held.upright = fabric.upright;
                    }
                    told.push(print);
                }
                None => {
                    let family = stash.prints.iter().find(|held| held.family == fabric.family);
                    let upright = family.filter(|_| old.progress.begun).map_or(fabric.upright, |held| held.upright);
                    stash.prints.push(Fabric { upright, ..fabric });
                }
            }
        }
        stand_together(&mut stash.prints);
    }
    for Bought { letter, supply: more } in &brief.bought {
        let Some(held) = stash.prints.iter_mut().find(|held| held.letter == *letter) else {
            return Err(ReviseError::no_fabric(old, letter).into());
        };
        held.supply.as_mut().unwrap_or_else(|| held.remnants.get_or_insert_default()).add(more);
    }
    // What is put together is held to the rules of a stash file.
    Stash::read(&stash.write()).map_err(|error| JobError::Stash(0, error.into()))?;
    Ok((stash.prints, told))
}

/// Weights of the new cells.
fn focus(
    old: &Plan,
    brief: &ReviseBrief,
    mask: Option<&[u8]>,
    cells: &[Rgb],
    same: bool,
    [columns, rows]: [u32; 2],
) -> Result<Vec<u8>, JobError> {
    match (brief.focus, mask) {
        (Some(Focus::None), _) => Ok(Vec::new()),
        (Some(Focus::Auto), _) => Ok(salience(cells, columns, rows)),
        (Some(Focus::Mask), None) => Err(BriefError::NoMask.into()),
        (Some(Focus::Mask), Some(mask)) => weights(&decode(mask, JobError::Mask)?, columns, rows),
        (None, _) if same => Ok(old.focus.clone()),
        (None, _) if old.focus.is_empty() => Ok(Vec::new()),
        (None, _) => Ok(salience(cells, columns, rows)),
    }
}

/// The old request with what is given now.
fn request(plan: &Plan, brief: &ReviseBrief) -> Result<Request, BriefError> {
    let old = &plan.request;
    let mut request = brief.sizes.over(old)?;
    request.width = brief.width.unwrap_or(old.width);
    request.height = brief.height.unwrap_or(old.height);
    request.cloth_width = brief.cloth_width.unwrap_or(old.cloth_width);
    request.edge_step = brief.edge_step.unwrap_or(old.edge_step).round_to(request.grid).max(request.grid);
    request.row_ends = brief.row_ends.unwrap_or(old.row_ends);
    request.pressing = brief.pressing.unwrap_or(old.pressing);
    request.cut_squares = brief.cut_squares.unwrap_or(old.cut_squares);
    request.end_cut = brief.end_cut.or(old.end_cut);
    request.depth = brief.depth.unwrap_or(old.depth);
    request.detail = brief.detail.unwrap_or(old.detail);
    request.triangles = brief.triangles.unwrap_or(old.triangles);
    request.trims = brief.trims.unwrap_or(old.trims);
    request.quiet = brief.quiet.unwrap_or(old.quiet);
    request.thrift = brief.thrift.unwrap_or(old.thrift);
    request.seed = brief.seed.unwrap_or(old.seed);
    request.margin = brief.margin.unwrap_or(old.margin);
    request.focus = brief.focus.unwrap_or(old.focus);
    (request.rounds, request.steps) = (brief.rounds, brief.steps);
    if let Some(finish) = &brief.finish {
        request.finish.clone_from(finish);
    }
    if let Some(title) = &brief.title {
        request.title.clone_from(title);
    }
    if let Some(picture) = &brief.picture {
        request.picture.clone_from(picture);
    }
    Ok(request)
}

/// The JSON Schema of changes.
pub fn schema() -> String {
    format!("{:#}\n", schemars::schema_for!(ReviseBrief).as_value())
}
