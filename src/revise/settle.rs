//! What is made leaves the stash: the pieces that it was cut from are gone, and those made with it are on hand.

use std::cmp::Reverse;
use std::collections::{BTreeMap, BTreeSet};

use crate::cutting::{FabricCut, Ribbon, SheetCut, SheetKind, cut_off, lacking, remains};
use crate::fabric::{FillerOnHand, Oddment, OnHand, Print, SliceOnHand, Squares, Stash, Supply, UnitOnHand, Yardage};
use crate::make::{Source, ToBuy, UnitWork, Work, make};
use crate::measure::Length;
use crate::plan::{Address, Item, Placed, Plan, RowEnds, State, filler_pile, unit_pile};
use crate::unit::{Corner, Vocabulary};

/// What becomes of units: `made` are marked as cut or sewn now, `lost` are to be made again.
pub struct Marks<'a> {
    /// The plan before the change.
    pub old: &'a Plan,
    /// Units spoilt or lost.
    pub lost: &'a [Address],
    /// Fabrics of which the stash says anew how much there is.
    pub told: &'a [Print],
}

impl Marks<'_> {
    /// The marked plan with its stash as it is now.
    ///
    /// A line of the cutting lists is done as a whole where one of its pieces is made: the rest of it is on hand, under
    /// its number. A sheet that one of them is cut from is cut as the old list lays it out, and what that list says to
    /// buy is bought.
    pub fn settle(&self, marked: Plan) -> Plan {
        let state = |at: Address| state_of(&marked, at);
        let before = |placed: &Placed| if self.old.progress.begun { placed.unit.state } else { State::Free };
        let touched = self.old.placed().iter().any(|placed| {
            let (was, now) = (before(placed), state(placed.address));
            (was != now && (was.is_made() || now.is_made())) || self.lost.contains(&placed.address)
        });
        if !touched {
            return marked;
        }
        let mid = self.mid(&marked);
        let work = make(&mid);
        let few = self.settled(&marked, &mid, &work, false);
        // What is left of a sheet may not be laid out again as it was: then each of its pieces is kept as it is.
        let wants = |plan: &Plan| {
            let buys = make(plan).shopping(&plan.request).iter().map(to_buy).sum::<u64>();
            (lacking(plan).iter().map(|lacking| lacking.area()).sum::<i128>(), buys)
        };
        if wants(&few) == (0, 0) { few } else { self.settled(&marked, &mid, &work, true) }
    }

    /// The old plan with what is made as it was made.
    fn mid(&self, marked: &Plan) -> Plan {
        let mut mid = self.old.clone();
        mid.fabrics.extend(marked.fabrics.iter().skip(mid.fabrics.len()).cloned());
        for placed in self.old.placed() {
            let now = marked.unit(placed.address);
            let newly = now.is_some_and(|now| now.state.is_made());
            let unit = mid.unit_mut(placed.address);
            if !self.old.progress.begun && unit.state.is_made() {
                unit.state = State::Kept;
            }
            if let Some(now) = now.filter(|_| newly && !unit.state.is_made()) {
                unit.piece = now.piece;
            }
        }
        mid
    }

    fn settled(&self, marked: &Plan, mid: &Plan, work: &Work, all: bool) -> Plan {
        let mut plan = marked.clone();
        let mut store = Store::new(mid, work);
        let units: Vec<&UnitWork> = work.rows.iter().flat_map(|row| &row.units).collect();
        let parents = units.iter().filter_map(|unit| match unit.source {
            Source::Offcut(from) if self.now(marked, unit).is_made() => Some(from),
            _ => None,
        });
        // What gave its strip to a slice that is made was trimmed for it.
        for at in parents.collect::<Vec<_>>() {
            let unit = plan.unit_mut(at);
            if !unit.state.is_made() {
                unit.state = State::Cut;
            }
        }
        for unit in &units {
            let (was, now) = (unit.placed.unit.state, self.now(&plan, unit));
            let lost = self.lost.contains(&unit.placed.address);
            store.count(unit, was, now, lost, |to| self.sewn(&plan, to));
        }
        store.lines_on_hand();
        plan.progress.begun = true;
        plan.progress.piles = store.piles.clone();
        plan.hand = store.on_hand();
        let buys = work.shopping(&mid.request);
        for (print, cut) in work.cloth.iter_enumerated().filter(|(print, _)| !self.told.contains(print)) {
            let bought = buys.iter().find(|buys| buys.fabric == print);
            store.cloth(&mut plan, print, cut, bought, all);
        }
        plan
    }

    /// What a unit is now; what is lost was made.
    fn now(&self, plan: &Plan, unit: &UnitWork) -> State {
        let at = unit.placed.address;
        if self.lost.contains(&at) { State::Sewn } else { state_of(plan, at) }
    }

    fn sewn(&self, plan: &Plan, at: Address) -> bool {
        state_of(plan, at) == State::Sewn || self.lost.contains(&at)
    }
}

fn to_buy(buys: &ToBuy) -> u64 {
    buys.squares.iter().map(|squares| u64::from(squares.buy)).sum::<u64>() + u64::from(buys.length.is_some())
}

fn state_of(plan: &Plan, at: Address) -> State {
    plan.unit(at).map_or(State::Free, |unit| unit.state)
}

/// Pieces on hand and lines that are done, as units are counted.
struct Store<'a> {
    mid: &'a Plan,
    work: &'a Work,
    vocabulary: Vocabulary,
    units: BTreeMap<(Length, [Print; 2], Option<Corner>), i64>,
    slices: BTreeMap<(Ribbon, Length), i64>,
    fillers: BTreeMap<(Print, Length, Length), i64>,
    pairs: BTreeSet<usize>,
    cut: BTreeMap<usize, u32>,
    piles: crate::plan::Piles,
}

impl<'a> Store<'a> {
    /// What is on hand before.
    fn new(mid: &'a Plan, work: &'a Work) -> Self {
        let mut store = Self {
            mid,
            work,
            vocabulary: mid.vocabulary(),
            units: BTreeMap::new(),
            slices: BTreeMap::new(),
            fillers: BTreeMap::new(),
            pairs: BTreeSet::new(),
            cut: BTreeMap::new(),
            piles: mid.progress.piles.clone(),
        };
        for unit in &mid.hand.units {
            *store.unit(unit.finished, unit.fabrics, unit.stands) += i64::from(unit.count);
        }
        for slice in &mid.hand.slices {
            let &SliceOnHand { tip, rest, width: cut, leans, stands, .. } = slice;
            let ribbon = Ribbon { tip, rest, block: 0, cut, leans, stands };
            *store.slices.entry((ribbon, slice.from)).or_default() += i64::from(slice.count);
        }
        for filler in &mid.hand.fillers {
            *store.filler(filler.fabric, filler.width, filler.height) += i64::from(filler.count);
        }
        store
    }

    fn unit(&mut self, finished: Length, [one, other]: [Print; 2], stands: Option<Corner>) -> &mut i64 {
        let stands = if one <= other { stands } else { stands.map(Corner::opposite) };
        self.units.entry((finished, [one.min(other), one.max(other)], stands)).or_default()
    }

    fn filler(&mut self, fabric: Print, width: Length, height: Length) -> &mut i64 {
        self.fillers.entry((fabric, width.max(height), width.min(height))).or_default()
    }

    /// A strip of a whole unit; one that its seams take whole is nothing.
    fn strip(&mut self, ribbon: Option<Ribbon>, more: i64) {
        let both = self.vocabulary.seam.both();
        if let Some(ribbon) = ribbon.filter(|ribbon| ribbon.cut > both) {
            let from = self.vocabulary.grid * ribbon.block;
            let ribbon = Ribbon { block: 0, cut: ribbon.cut - both, ..ribbon };
            *self.slices.entry((ribbon, from)).or_default() += more;
        }
    }

    /// Adds pieces of a kind, or takes them away.
    fn item(&mut self, item: Item, more: i64) {
        let grid = self.vocabulary.grid;
        match item {
            Item::Unit { first, second, block, stands } => {
                *self.unit(grid * block, [first, second], stands) += more;
            }
            Item::Filler { fabric, long, short } => *self.filler(fabric, grid * long, grid * short) += more,
            Item::Slice { tip, rest, block, width, leans, stands } => {
                let cut = grid * width + self.vocabulary.seam.both();
                self.strip(Some(Ribbon { tip, rest, block, cut, leans, stands }), more);
            }
        }
    }

    /// Counts what one unit takes and gives as it becomes what it is now.
    fn count(&mut self, unit: &UnitWork, was: State, now: State, lost: bool, sewn: impl Fn(Address) -> bool) {
        let placed = &unit.placed;
        match (was.is_made(), now.is_made()) {
            (false, true) => self.made(unit, now, lost, sewn),
            (true, true) => {
                if was == State::Cut && now == State::Sewn {
                    self.item(placed.item(), -1);
                }
            }
            (true, false) => self.released(placed, was),
            (false, false) => {}
        }
    }

    fn made(&mut self, unit: &UnitWork, now: State, lost: bool, sewn: impl Fn(Address) -> bool) {
        let placed = &unit.placed;
        let held = match unit.source {
            Source::Batch(index) => {
                self.pairs.insert(index);
                placed.item().whole()
            }
            Source::Hand(index) => self.work.hand[index].item,
            Source::Filler(index) => {
                let exact = self.mid.request.row_ends == RowEnds::Exact;
                *self.cut.entry(index).or_default() += u32::from(exact || now == State::Sewn);
                return self.item(placed.item(), i64::from(exact && now == State::Cut));
            }
            Source::Offcut(_) => return self.item(placed.item(), i64::from(now == State::Cut)),
            Source::Sewn => return,
        };
        let parted = matches!(held, Item::Unit { .. });
        let slice = parted && held != placed.item();
        // What is cut lies on hand: a trimmed unit as the whole one that it was, a slice as a strip.
        self.item(held, -i64::from(now == State::Sewn || slice));
        self.item(placed.item(), i64::from(now == State::Cut && slice));
        if parted && !lost {
            let strip = cut_off(placed, &self.vocabulary).filter(|_| !unit.offcut_to.is_some_and(&sewn));
            self.strip(strip.or_else(|| remains(placed, &self.vocabulary)), 1);
        }
    }

    /// What is taken apart, or was cut for a place that it is not to have, lies on hand.
    fn released(&mut self, placed: &Placed, was: State) {
        match cut_off(placed, &self.vocabulary) {
            Some(strip) => {
                let whole = self.vocabulary.grid * strip.block + self.vocabulary.seam.both();
                let stands = strip.stands.map(Corner::opposite);
                let main = Ribbon { tip: strip.rest, rest: strip.tip, cut: whole - strip.cut, stands, ..strip };
                self.strip(Some(main), 1);
                if was == State::Cut {
                    self.item(placed.item(), -1);
                }
            }
            None if was == State::Sewn => self.item(placed.item(), 1),
            None => {}
        }
    }

    /// What else the lines give that are done.
    fn lines_on_hand(&mut self) {
        for &index in &self.pairs.clone() {
            let batch = &self.work.batches[index];
            let (finished, fabrics) = (batch.finished, [batch.first, batch.second]);
            for (stands, made) in batch.gives() {
                *self.unit(finished, fabrics, stands) += i64::from(made);
                let unit = UnitOnHand { finished, fabrics, stands, count: 0 };
                self.piles.put(unit_pile(&unit, &self.mid.fabrics), &batch.id);
            }
        }
        if self.mid.request.row_ends != RowEnds::Exact {
            return;
        }
        let both = self.vocabulary.seam.both();
        for (index, made) in self.cut.clone() {
            let line = &self.work.fillers[index];
            let (width, height) = (line.cut.width - both, line.cut.height - both);
            *self.filler(line.fabric, width, height) += i64::from(line.count) - i64::from(made);
            let filler = FillerOnHand { fabric: line.fabric, width, height, count: 0 };
            self.piles.put(filler_pile(&filler, &self.mid.fabrics), &line.id);
        }
    }

    fn on_hand(&self) -> OnHand {
        let count =
            |count: i64| u32::try_from(count).ok().filter(|count| *count > 0).map(|c| c.min(Stash::MOST_PIECES));
        let units = self.units.iter().filter_map(|(&(finished, fabrics, stands), &n)| {
            Some(UnitOnHand { finished, fabrics, stands, count: count(n)? })
        });
        let slices = self.slices.iter().filter_map(|(&(ribbon, from), &n)| {
            let Ribbon { tip, rest, cut: width, leans, stands, .. } = ribbon;
            Some(SliceOnHand { from, width, tip, rest, leans, stands, count: count(n)? })
        });
        let fillers = self.fillers.iter().filter_map(|(&(fabric, width, height), &n)| {
            Some(FillerOnHand { fabric, width, height, count: count(n)? })
        });
        let most = Stash::MOST_ENTRIES;
        OnHand {
            units: units.take(most).collect(),
            slices: slices.take(most).collect(),
            fillers: fillers.take(most).collect(),
        }
    }

    /// What is left of a fabric's cloth once the lines that are done are cut; of every sheet its pieces, if `all`.
    fn cloth(&self, plan: &mut Plan, print: Print, cut: &FabricCut, bought: Option<&ToBuy>, all: bool) {
        let done = |piece: usize| {
            let id = &cut.pieces[piece].id;
            self.pairs.iter().any(|&index| self.work.batches[index].id == *id)
                || self.cut.keys().any(|&index| self.work.fillers[index].id == *id)
        };
        let pieces = |sheet: &SheetCut| -> Vec<usize> { sheet.layout.counts().into_keys().collect() };
        let begun = cut.sheets.iter().flat_map(pieces).any(done);
        if !begun && bought.is_none() {
            return;
        }
        let fabric = &mut plan.fabrics[print];
        let counted = fabric.supply.is_some();
        let mut supply = fabric.supply.take().or(fabric.remnants.take()).unwrap_or_default();
        for squares in bought.iter().flat_map(|bought| &bought.squares) {
            supply.squares.push(Squares { size: squares.side, count: squares.buy });
        }
        let bolt = bought.and_then(|bought| bought.length);
        let mut off_bolt = Length::ZERO;
        let mut rest = Rest::default();
        for sheet in cut.sheets.iter().filter(|sheet| all || pieces(sheet).into_iter().any(done)) {
            match sheet.kind {
                SheetKind::BoughtLength => off_bolt += sheet.layout.used_length * sheet.count,
                _ => take(&mut supply, sheet),
            }
            for strip in &sheet.layout.strips {
                for at in strip.cuts.iter().filter(|at| !done(at.piece)) {
                    let (width, height) = upright(sheet, (at.width, at.height));
                    rest.piece(width, height, sheet.count, at.piece < cut.squares);
                }
            }
            rest.remains(sheet, self.mid.request.least + self.mid.request.seam.both());
        }
        if self.mid.request.row_ends != RowEnds::Exact {
            for (&index, &made) in &self.cut {
                let line = &self.work.fillers[index];
                if line.fabric == print {
                    rest.piece(line.cut.width, line.cut.height, line.count - made, false);
                }
            }
        }
        if let Some(bolt) = bolt {
            if off_bolt == Length::ZERO {
                supply.yardage.push(Yardage { width: bolt.width, length: bolt.buy.min(Stash::LONGEST) });
            } else {
                // It is straight already, and so no length any more.
                let left = bolt.buy - self.mid.request.end_cut() - off_bolt;
                rest.part(bolt.width, left, self.mid.request.least);
            }
        }
        rest.add_to(&mut supply);
        if counted {
            let other = !supply.yardage.is_empty() || supply.fat_quarters > 0 || !supply.oddments.is_empty();
            fabric.only_squares = supply.squares.iter().map(|squares| squares.size).max().filter(|_| !other);
            fabric.supply = Some(supply);
        } else {
            fabric.remnants = Some(supply);
        }
    }
}

/// Sides as the print lies, of a part of a sheet that may be turned.
fn upright(sheet: &SheetCut, (width, height): (Length, Length)) -> (Length, Length) {
    if sheet.layout.turned { (height, width) } else { (width, height) }
}

/// Takes cut sheets out of what there is.
fn take(supply: &mut Supply, sheet: &SheetCut) {
    let (width, height) = sheet.size();
    let mut count = sheet.count;
    let mut less = |there: &mut u32| {
        let taken = count.min(*there);
        (count, *there) = (count - taken, *there - taken);
    };
    match sheet.kind {
        SheetKind::Square | SheetKind::BoughtSquare => {
            supply.squares.iter_mut().filter(|squares| squares.size == width).for_each(|s| less(&mut s.count));
        }
        SheetKind::FatQuarter => less(&mut supply.fat_quarters),
        SheetKind::Oddment => {
            let alike = supply.oddments.iter_mut().filter(|odd| (odd.width, odd.height) == (width, height));
            alike.for_each(|odd| less(&mut odd.count));
        }
        SheetKind::Length => {
            supply.yardage.retain(|length| {
                let mut there = u32::from((length.width, length.length) == (width, height));
                let alike = there == 1;
                less(&mut there);
                !alike || there == 1
            });
        }
        SheetKind::BoughtLength => {}
    }
    supply.squares.retain(|squares| squares.count > 0);
    supply.oddments.retain(|odd| odd.count > 0);
}

/// What stays of sheets that are cut: pieces as they are wanted, and rectangles.
#[derive(Default)]
struct Rest {
    squares: BTreeMap<Reverse<Length>, u32>,
    pieces: BTreeMap<(Length, Length), u32>,
    parts: BTreeMap<(Length, Length), u32>,
}

impl Rest {
    fn piece(&mut self, width: Length, height: Length, count: u32, square: bool) {
        let counted = match square {
            true => self.squares.entry(Reverse(width)).or_default(),
            false => self.pieces.entry((width, height)).or_default(),
        };
        *counted += count;
    }

    fn remains(&mut self, sheet: &SheetCut, least: Length) {
        if sheet.layout.height.is_none() {
            return;
        }
        if let Some(quarters) = sheet.spare_quarters() {
            *self.squares.entry(Reverse(sheet.layout.width / 2)).or_default() += quarters * sheet.count;
            return;
        }
        for remain in sheet.layout.remains(least) {
            let (width, height) = upright(sheet, (remain.width, remain.height));
            *self.parts.entry((width, height)).or_default() += sheet.count;
        }
    }

    fn part(&mut self, width: Length, height: Length, least: Length) {
        if height >= least {
            *self.parts.entry((width, height.min(Stash::LONGEST))).or_default() += 1;
        }
    }

    fn add_to(self, supply: &mut Supply) {
        for (side, count) in self.squares.into_iter().filter(|(_, count)| *count > 0) {
            match supply.squares.iter_mut().find(|squares| squares.size == side.0) {
                Some(squares) => squares.count += count,
                None => supply.squares.push(Squares { size: side.0, count }),
            }
        }
        let mut parts: Vec<((Length, Length), u32)> = self.parts.into_iter().collect();
        parts.sort_by_key(|((width, height), _)| Reverse((*width.min(height), *width.max(height))));
        for ((width, height), count) in self.pieces.into_iter().filter(|(_, count)| *count > 0).chain(parts) {
            match supply.oddments.iter_mut().find(|odd| (odd.width, odd.height) == (width, height)) {
                Some(odd) => odd.count += count,
                None => supply.oddments.push(Oddment { width, height, count }),
            }
        }
        supply.squares.truncate(Stash::MOST_ENTRIES);
        supply.yardage.truncate(Stash::MOST_ENTRIES);
        supply.oddments.truncate(Stash::MOST_ENTRIES);
    }
}
