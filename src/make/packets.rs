//! The work in packets, one for each sewer: a run of rows with all that is paired and cut for it.
//!
//! Every row, pair, filler and piece on hand is in one packet. A pair whose units go to rows of several packets is sewn
//! in one of them, which hands those units over; so with strips that are slices of another packet's rows.

use std::collections::{BTreeMap, BTreeSet};

use super::share::{load, shares};
use super::{RowWork, Source, Work};
use crate::cutting::{Batch, FillerCut, HandPiece, Size, Upright};
use crate::measure::Length;
use crate::plan::{Address, Plan};
use crate::unit::{ByCorner, Corner};

/// A scene in packets.
#[derive(Clone, Debug, PartialEq, Eq)]
#[cfg_attr(not(feature = "internals"), non_exhaustive)]
pub struct Packets {
    /// In the order of their rows.
    pub packets: Vec<Packet>,
    /// Seams between rows, columns and bands of different packets, from the top.
    pub meetings: Vec<Meeting>,
}

/// What one sewer gets, makes and hands back.
#[derive(Clone, Debug, PartialEq, Eq)]
#[cfg_attr(not(feature = "internals"), non_exhaustive)]
pub struct Packet {
    /// Its rows, and what of each line of the whole list is in it; no cloth, which is cut before.
    pub work: Work,
    /// Neighbouring rows of one column, to be joined and handed back.
    pub joined: Vec<JoinedRows>,
    /// What it makes for other packets.
    pub gives: Vec<Handover>,
    /// What other packets make for it.
    pub gets: Vec<Handover>,
    /// Seams to sew in its rows, and units to trim.
    pub load: u64,
}

/// Rows of one column that are joined.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct JoinedRows {
    /// Address of the first.
    pub first: Address,
    /// How many.
    pub rows: usize,
    /// Their size, finished.
    pub finished: Size,
}

/// What goes from one packet to another.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Handover {
    /// The other packet, from 0.
    pub with: usize,
    /// What it is.
    pub what: Handed,
}

/// Units or a strip.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(not(feature = "internals"), non_exhaustive)]
pub enum Handed {
    /// So many units of a batch, by index.
    Units {
        /// The batch.
        batch: usize,
        /// The corner that their first fabric fills, where a print stands upright.
        stands: Option<Corner>,
        /// How many.
        count: u32,
    },
    /// The strip off a unit, which is a slice elsewhere.
    Strip {
        /// The unit that it comes off.
        from: Address,
        /// Where it goes.
        to: Address,
    },
}

/// A seam at which packets meet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Meeting {
    /// What follows it: a row, or with row 0 a column, or with column 0 too a band.
    pub after: [usize; 3],
    /// The packets on both sides of it, from 0.
    pub packets: [BTreeSet<usize>; 2],
    /// Its length, finished.
    pub finished: Length,
}

/// The work for so many sewers; none where there are fewer rows, or no sewer.
pub fn packets(plan: &Plan, work: &Work, sewers: usize) -> Option<Packets> {
    let loads: Vec<u64> = work.rows.iter().map(load).collect();
    let column = |row: &RowWork| (row.address.band, row.address.column);
    let next = work.rows.iter().skip(1).map(column).map(Some).chain([None]);
    let last: Vec<bool> = work.rows.iter().zip(next).map(|(row, next)| next != Some(column(row))).collect();
    let shares = shares(&loads, &last, sewers);
    if shares.is_empty() {
        return None;
    }
    let mut packets: Vec<Packet> = shares
        .iter()
        .map(|share| {
            let rows = &work.rows[share.clone()];
            Packet {
                work: part(work, rows),
                joined: rows.chunk_by(|one, other| column(one) == column(other)).map(joined).collect(),
                gives: Vec::new(),
                gets: Vec::new(),
                load: loads[share.clone()].iter().sum(),
            }
        })
        .collect();
    for (index, batch) in work.batches.iter().enumerate() {
        share_pairs(&mut packets, index, batch);
    }
    hand_strips_over(&mut packets);
    let meetings = meetings(plan, &packets);
    Some(Packets { packets, meetings })
}

/// The rows with their fillers and pieces on hand; units of pairs are counted and their pairs yet to be shared.
fn part(work: &Work, rows: &[RowWork]) -> Work {
    let of = |source: Source| {
        let units = rows.iter().flat_map(|row| &row.units).filter(|unit| unit.source == source);
        u32::try_from(units.count()).unwrap_or(u32::MAX)
    };
    let batch = |(at, batch): (usize, &Batch)| {
        let source = Source::Batch(at);
        let upright = batch.upright.map(|upright| Upright { needed: standing(rows, source), ..upright });
        Batch { pairs: 0, needed: of(source), upright, ..batch.clone() }
    };
    let filler = |(at, filler): (usize, &FillerCut)| FillerCut { count: of(Source::Filler(at)), ..filler.clone() };
    let hand = |(at, hand): (usize, &HandPiece)| {
        let used = of(Source::Hand(at));
        HandPiece { there: used, used, ..hand.clone() }
    };
    let own: BTreeSet<[usize; 3]> = rows.iter().map(|row| key(row.address)).collect();
    let inside = |[band, column, row, unit]: [usize; 4]| {
        own.contains(&[band, column, row]) && (unit > 0 || row > 1 && own.contains(&[band, column, row - 1]))
    };
    Work {
        batches: work.batches.iter().enumerate().map(batch).collect(),
        fillers: work.fillers.iter().enumerate().map(filler).collect(),
        hand: work.hand.iter().enumerate().map(hand).collect(),
        cloth: Vec::new().into(),
        rows: rows.to_vec(),
        joints: work.joints.only(inside),
        drift: work.drift,
    }
}

/// Units of a source by the corner that their first fabric fills.
fn standing(rows: &[RowWork], source: Source) -> ByCorner {
    let mut counts = ByCorner::default();
    let units = rows.iter().flat_map(|row| &row.units).filter(|unit| unit.source == source);
    units.filter_map(|unit| unit.turn).for_each(|corner| counts[corner as usize] += 1);
    counts
}

fn key(at: Address) -> [usize; 3] {
    [at.band, at.column, at.row]
}

fn joined(rows: &[RowWork]) -> JoinedRows {
    let height = rows.iter().map(|row| row.finished.height).sum();
    JoinedRows { first: rows[0].address, rows: rows.len(), finished: Size { height, ..rows[0].finished } }
}

/// Gives each packet the pairs that its rows use up, and those left to the packets that want most of one; what they
/// make for others is handed over.
fn share_pairs(packets: &mut [Packet], index: usize, batch: &Batch) {
    // What a pair gives that is alike: all its units, or where a print stands upright those of each corner.
    let gives = Batch { pairs: 1, ..batch.clone() }.gives();
    let needed = |packet: &Packet, corner: Option<Corner>| {
        let batch = &packet.work.batches[index];
        corner.zip(batch.upright).map_or(batch.needed, |(corner, upright)| upright.needed[corner as usize])
    };
    let wants = |packet: &Packet| gives.iter().map(|(corner, _)| needed(packet, *corner)).collect();
    let mut wants: Vec<Vec<u32>> = packets.iter().map(wants).collect();
    let used_up = |wants: &Vec<u32>| wants.iter().zip(&gives).map(|(want, (_, each))| want / each).min();
    let mut pairs: Vec<u32> = wants.iter().map(|wants| used_up(wants).unwrap_or_default()).collect();
    for (wants, pairs) in wants.iter_mut().zip(&pairs) {
        wants.iter_mut().zip(&gives).for_each(|(want, (_, each))| *want -= pairs * each);
    }
    let mut spare = vec![vec![0; gives.len()]; packets.len()];
    for _ in pairs.iter().sum()..batch.pairs {
        // Units that one more pair would give it.
        let serves = |wants: &Vec<u32>| wants.iter().zip(&gives).map(|(want, (_, each))| *want.min(each)).sum::<u32>();
        let most = (0..wants.len()).rev().max_by_key(|&at| serves(&wants[at])).expect("work is shared among sewers");
        pairs[most] += 1;
        for ((want, spare), (_, each)) in wants[most].iter_mut().zip(&mut spare[most]).zip(&gives) {
            let taken = (*want).min(*each);
            (*want, *spare) = (*want - taken, *spare + each - taken);
        }
    }
    for (place, &(stands, _)) in gives.iter().enumerate() {
        for (to, wants) in wants.iter_mut().enumerate() {
            for (from, spare) in spare.iter_mut().enumerate() {
                let count = wants[place].min(spare[place]);
                if count > 0 {
                    (wants[place], spare[place]) = (wants[place] - count, spare[place] - count);
                    let what = Handed::Units { batch: index, stands, count };
                    packets[from].gives.push(Handover { with: to, what });
                    packets[to].gets.push(Handover { with: from, what });
                    packets[from].work.batches[index].more_needed(stands, count as i32);
                    packets[to].work.batches[index].more_needed(stands, -(count as i32));
                }
            }
        }
    }
    packets.iter_mut().zip(pairs).for_each(|(packet, pairs)| packet.work.batches[index].pairs = pairs);
}

/// Strips that come off units of one packet and are slices of another.
fn hand_strips_over(packets: &mut [Packet]) {
    let homes: BTreeMap<[usize; 3], usize> = packets
        .iter()
        .enumerate()
        .flat_map(|(at, packet)| packet.work.rows.iter().map(move |row| (key(row.address), at)))
        .collect();
    for at in 0..packets.len() {
        let units = packets[at].work.rows.iter().flat_map(|row| &row.units);
        let strips = units.filter_map(|unit| match unit.source {
            Source::Offcut(from) => Some((homes[&key(from)], Handed::Strip { from, to: unit.placed.address })),
            _ => None,
        });
        let away: Vec<_> = strips.filter(|(with, _)| *with != at).collect();
        for (with, what) in away {
            packets[at].gets.push(Handover { with, what });
            packets[with].gives.push(Handover { with: at, what });
        }
    }
}

/// Every seam that has different packets on its sides, or several on one.
fn meetings(plan: &Plan, packets: &[Packet]) -> Vec<Meeting> {
    let grid = plan.request.grid;
    let of = |wanted: &dyn Fn(Address) -> bool| -> BTreeSet<usize> {
        let has = |packet: &Packet| packet.work.rows.iter().any(|row| wanted(row.address));
        packets.iter().enumerate().filter(|(_, packet)| has(packet)).map(|(at, _)| at).collect()
    };
    let mut meetings = Vec::new();
    let mut meet = |after: [usize; 3], before: BTreeSet<usize>, behind: BTreeSet<usize>, finished: Length| {
        if before.union(&behind).count() > 1 {
            meetings.push(Meeting { after, packets: [before, behind], finished });
        }
    };
    for (i, band) in (1..).zip(&plan.bands) {
        if i > 1 {
            meet([i, 0, 0], of(&|at| at.band == i - 1), of(&|at| at.band == i), plan.request.width);
        }
        for (j, column) in (1..).zip(&band.columns) {
            let here = |at: Address, column: usize| (at.band, at.column) == (i, column);
            if j > 1 {
                meet([i, j, 0], of(&|at| here(at, j - 1)), of(&|at| here(at, j)), grid * band.height);
            }
            for row in 2..=column.rows.len() {
                let own = |row: usize| of(&|at| here(at, j) && at.row == row);
                meet([i, j, row], own(row - 1), own(row), grid * column.width);
            }
        }
    }
    meetings
}
