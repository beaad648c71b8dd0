//! Fewer kinds of filler, fabric and size, where they are nearly as good: each is one more set-up at the cutting mat.
//!
//! Bands, columns and rows stay where they are. One after another a kind or a whole size is given up, always what costs
//! least for the kinds, sizes and pieces that it spares: the rows that hold it are solved again, exactly, with what is
//! left. As no sum over patches can say how many kinds there are, this comes after the solver, and what it may cost is
//! bounded. A piece more, or a square more to cut, outweighs a kind less.

use std::collections::{BTreeMap, BTreeSet};

use rayon::prelude::*;
use typed_index_collections::TiVec;

use super::trace::Ground;
use super::{Draft, Free, Problem};
use crate::fabric::Family;
use crate::plan::{Address, Band, Placed, Wide};
use crate::unit::{Cut, Pairing, Vocabulary, pairings};

/// A filler's longer and shorter side in cells: turned, it is the same cut.
type Size = [usize; 2];
type Kind = (Size, Family);

/// A kind, or all of one size.
type GivenUp = (Size, Option<Family>);

/// A size of unit in cells, and its two fabrics.
type Pair = (u32, (Family, Family));

/// What all that is given up may add to the error, in thousandths of it, and to error and labour together (by trial on
/// the sketches of the samples, 54 in wide).
const MOST_ERROR: i64 = 10;
const MOST_COST: i64 = 30;

/// A row with its units, as they are now.
struct Lane {
    /// None where it stands as it is.
    ground: Option<Ground>,
    place: [usize; 3],
    units: Vec<Draft>,
    cost: i64,
    error: i64,
}

/// A row solved without what is given up.
struct Instead {
    lane: usize,
    units: Vec<Draft>,
    cost: i64,
    error: i64,
}

/// What fillers there are.
struct Kinds {
    kinds: BTreeSet<Kind>,
    sizes: BTreeSet<Size>,
}

impl Problem<'_> {
    /// Gives up kinds of filler that are hardly missed; none that were there before a change.
    pub fn fewer_kinds(&self, bands: &mut [Band<Draft>]) {
        let error = self.error(bands);
        self.give_up_kinds(bands, [error * MOST_COST / 1000, error * MOST_ERROR / 1000]);
    }

    /// The same where the scene may come to cost so much more, and its error be so much more.
    pub fn give_up_kinds(&self, bands: &mut [Band<Draft>], mut left: [i64; 2]) {
        let mut lanes = self.lanes(bands);
        let old: Vec<Kind> = self.stays.iter().filter_map(|stay| kind(&stay.unit, stay.height as usize)).collect();
        let mut known: BTreeMap<GivenUp, Option<Vec<Instead>>> = BTreeMap::new();
        let mut squares = Squares { vocabulary: self.vocabulary, known: BTreeMap::new() };
        while !self.watch.is_stopped() {
            let now = Kinds::of(lanes.iter().flat_map(Lane::kinds));
            let all = now.may_go().filter(|&gone| !old.iter().any(|&old| is(old, gone)));
            let new: Vec<GivenUp> = all.filter(|gone| !known.contains_key(gone)).collect();
            let new: Vec<_> = new.into_par_iter().map(|gone| (gone, self.without(gone, &now, &lanes))).collect();
            known.extend(new);
            let sewn = Sewn::of(lanes.iter().flat_map(|lane| &lane.units));
            let each = known.iter().filter_map(|(gone, instead)| {
                let (instead, more) = (instead.as_deref()?, more(instead.as_deref()?, &lanes));
                if more[0] > left[0] || more[1] > left[1] {
                    return None;
                }
                let spared = now.len() - then(instead, &lanes).len() - pieces(instead, &lanes);
                let spared = (spared > 0).then(|| FOURTHS * spared - squares.more(&sewn, instead, &lanes))?;
                (spared > 0).then(|| (more[0] * 1000 / spared, *gone, more))
            });
            let Some((_, gone, more)) = each.min() else { break };
            left = [left[0] - more[0], left[1] - more[1]];
            let instead = known.remove(&gone).flatten().expect("the cheapest is one that can be given up");
            let changed: BTreeSet<usize> = instead.iter().map(|row| row.lane).collect();
            for Instead { lane, units, cost, error } in instead {
                let lane = &mut lanes[lane];
                (lane.units, lane.cost, lane.error) = (units, cost, error);
            }
            let before = now;
            let now = Kinds::of(lanes.iter().flat_map(Lane::kinds));
            let grown = !now.kinds.is_subset(&before.kinds);
            // What was found without it is still the best where no row of it changed, and what there is became no more.
            known.retain(|&gone, instead| {
                let held = changed.iter().any(|&lane| lanes[lane].kinds().any(|kind| is(kind, gone)));
                let stands = |row: &Instead| {
                    !changed.contains(&row.lane)
                        && lanes[row.lane].kinds_of(&row.units).all(|kind| now.has(kind, Some(gone)))
                };
                !(held || grown && gone.1.is_some())
                    && now.may_go().any(|other| other == gone)
                    && instead.as_ref().is_none_or(|rows| rows.iter().all(stands))
            });
        }
        // A kind that came late may serve a row that was solved before it.
        let now = Kinds::of(lanes.iter().flat_map(Lane::kinds));
        for lane in &mut lanes {
            let solved =
                lane.ground.as_ref().and_then(|ground| self.traced(ground, Some(&self.widths(lane, &now, None))));
            let Some((units, cost)) = solved.filter(|(_, cost)| *cost < lane.cost) else { continue };
            let error = self.row_error(lane.place, &units);
            if error - lane.error <= left[1] {
                left[1] -= error - lane.error;
                (lane.units, lane.cost, lane.error) = (units, cost, error);
            }
        }
        let rows = bands.iter_mut().flat_map(|band| &mut band.columns).flat_map(|column| &mut column.rows);
        rows.zip(lanes).for_each(|(row, lane)| row.units = lane.units);
    }

    fn lanes(&self, bands: &[Band<Draft>]) -> Vec<Lane> {
        let mut lanes = Vec::new();
        let mut top = 0;
        for band in bands {
            let mut left = 0;
            for column in &band.columns {
                let mut upper = top;
                for row in &column.rows {
                    let place @ [x, y, height] = [left, upper, row.height].map(|cells| cells as usize);
                    let stands = row.units.iter().all(|unit| matches!(unit, Draft::Stands(_)));
                    let ground = (!stands).then(|| self.ground(y, height, x, x + column.width as usize));
                    let cost = ground.as_ref().and_then(|ground| self.traced(ground, None)).map_or(0, |(_, cost)| cost);
                    let error = self.row_error(place, &row.units);
                    lanes.push(Lane { ground, place, units: row.units.clone(), cost, error });
                    upper += row.height;
                }
                left += column.width;
            }
            top += band.height;
        }
        lanes
    }

    /// Doubled error of a row's free units.
    fn row_error(&self, [x, y, height]: [usize; 3], units: &[Draft]) -> i64 {
        let address = Address { band: 0, column: 0, row: 0, unit: 0 };
        let mut x = x as u32;
        let mut error = 0;
        for unit in units {
            let placed = Placed { address, x, y: y as u32, height: height as u32, unit: *unit };
            x += unit.width();
            error += placed.free().map_or(0, |placed| self.patch_error(&placed));
        }
        error
    }

    /// Every row that has it, without it; none where one of them has no other way. Where a whole size goes, those that
    /// are left may be of any fabric.
    fn without(&self, gone: GivenUp, now: &Kinds, lanes: &[Lane]) -> Option<Vec<Instead>> {
        let having = lanes.iter().enumerate().filter(|(_, lane)| lane.kinds().any(|kind| is(kind, gone)));
        let instead = having.map(|(at, lane)| {
            let widths = self.widths(lane, now, Some(gone));
            let (units, cost) = self.traced(lane.ground.as_ref()?, Some(&widths))?;
            let error = self.row_error(lane.place, &units);
            Some(Instead { lane: at, units, cost, error })
        });
        instead.collect()
    }

    /// How wide fillers of each family may be in a row without what is given up, the widest first.
    fn widths(&self, lane: &Lane, now: &Kinds, gone: Option<GivenUp>) -> TiVec<Family, Vec<usize>> {
        let widths = |family: Family| {
            // Sizes go up.
            let sizes = now.sizes.iter().rev().filter(|&&size| now.has((size, family), gone));
            sizes.filter_map(|&size| lane.width(size)).collect()
        };
        self.choices.keys().map(widths).collect()
    }
}

/// What the rows cost more without, in all and in error alone.
fn more(instead: &[Instead], lanes: &[Lane]) -> [i64; 2] {
    let each = instead.iter().map(|row| (row, &lanes[row.lane]));
    each.fold([0; 2], |sum, (row, lane)| [sum[0] + row.cost - lane.cost, sum[1] + row.error - lane.error])
}

/// Pieces that the rows take more without.
fn pieces(instead: &[Instead], lanes: &[Lane]) -> i64 {
    instead.iter().map(|row| row.units.len() as i64 - lanes[row.lane].units.len() as i64).sum()
}

/// Units by size and fabrics: how many are sewn, how many of these are trimmed, and how many slices are used.
struct Sewn(BTreeMap<Pair, [i64; 3]>);

impl Sewn {
    fn of<'a>(units: impl Iterator<Item = &'a Draft>) -> Self {
        let mut sewn = Self(BTreeMap::new());
        units.for_each(|unit| sewn.add(unit, 1));
        sewn
    }

    fn add(&mut self, unit: &Draft, count: i64) {
        let Draft::Free(unit) = unit else { return };
        let Some(t) = unit.piece.triangle() else { return };
        let [units, trimmed, slices] = self.0.entry((t.block, t.pair())).or_default();
        match t.cut {
            Cut::Whole => *units += count,
            Cut::Trimmed => (*units, *trimmed) = (*units + count, *trimmed + count),
            Cut::Slice => *slices += count,
        }
    }
}

/// Of a square: what a quarter of one counts as.
const FOURTHS: i64 = 4;

/// How many fourths of squares are cut for units, a slice being what comes off a trimmed one where there is one.
struct Squares<'a> {
    vocabulary: &'a Vocabulary,
    known: BTreeMap<(u32, i64), i64>,
}

impl Squares<'_> {
    /// How many more the rows take.
    fn more(&mut self, sewn: &Sewn, instead: &[Instead], lanes: &[Lane]) -> i64 {
        let mut change = Sewn(BTreeMap::new());
        for row in instead {
            row.units.iter().for_each(|unit| change.add(unit, 1));
            lanes[row.lane].units.iter().for_each(|unit| change.add(unit, -1));
        }
        let each = change.0.iter().map(|(pair, more)| {
            let before = sewn.0.get(pair).copied().unwrap_or_default();
            let then = [0, 1, 2].map(|at| before[at] + more[at]);
            self.count(pair.0, then) - self.count(pair.0, before)
        });
        each.sum()
    }

    fn count(&mut self, block: u32, [units, trimmed, slices]: [i64; 3]) -> i64 {
        let needed = units + (slices - trimmed).max(0);
        *self.known.entry((block, needed)).or_insert_with(|| {
            let pairs = pairings(self.vocabulary, self.vocabulary.grid * block, needed as u32);
            let each = |pairing: &Pairing| if pairing.square.quartered { 1 } else { FOURTHS };
            pairs.iter().map(|pairing| 2 * i64::from(pairing.pairs) * each(pairing)).sum()
        })
    }
}

/// The kinds that there are then.
fn then(instead: &[Instead], lanes: &[Lane]) -> Kinds {
    let of = |(at, lane): (usize, &Lane)| {
        let row = instead.iter().find(|row| row.lane == at);
        lane.kinds_of(row.map_or(&lane.units, |row| &row.units)).collect::<Vec<_>>()
    };
    Kinds::of(lanes.iter().enumerate().flat_map(of))
}

impl Kinds {
    fn of(kinds: impl Iterator<Item = Kind>) -> Self {
        let kinds: BTreeSet<Kind> = kinds.collect();
        Self { sizes: kinds.iter().map(|(size, _)| *size).collect(), kinds }
    }

    fn len(&self) -> i64 {
        (self.kinds.len() + self.sizes.len()) as i64
    }

    /// Each kind, and each size.
    fn may_go(&self) -> impl Iterator<Item = GivenUp> {
        let kinds = self.kinds.iter().map(|&(size, family)| (size, Some(family)));
        kinds.chain(self.sizes.iter().map(|&size| (size, None)))
    }

    /// Whether there is the kind where that goes; any fabric may have a size that is left where a whole size goes.
    fn has(&self, kind: Kind, gone: Option<GivenUp>) -> bool {
        let size_goes = gone.is_some_and(|gone| gone.1.is_none());
        let there = if size_goes { self.sizes.contains(&kind.0) } else { self.kinds.contains(&kind) };
        there && !gone.is_some_and(|gone| is(kind, gone))
    }
}

impl Lane {
    fn kinds(&self) -> impl Iterator<Item = Kind> {
        self.kinds_of(&self.units)
    }

    fn kinds_of<'a>(&self, units: &'a [Draft]) -> impl Iterator<Item = Kind> + use<'a> {
        let height = self.place[2];
        units.iter().filter_map(move |unit| match unit {
            Draft::Free(unit) => kind(unit, height),
            Draft::Stands(_) => None,
        })
    }

    /// How wide a filler of the size is in this row, where it can lie there.
    fn width(&self, [long, short]: Size) -> Option<usize> {
        let height = self.place[2];
        if height == short { Some(long) } else { (height == long).then_some(short) }
    }
}

/// What filler it is; none where it is none.
fn kind(unit: &Free, height: usize) -> Option<Kind> {
    let width = unit.width as usize;
    unit.piece.filler().map(|family| ([width.max(height), width.min(height)], family))
}

fn is((size, family): Kind, (gone, of): GivenUp) -> bool {
    size == gone && of.is_none_or(|of| of == family)
}
