//! A scene within the stash: cloth first, then whole squares, then prints and real sheets.

mod recolour;

pub use recolour::recolour;

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use typed_index_collections::{TiSlice, TiVec};

use super::Have;
use super::deal::{Choose, deal};
use super::ledger::{Ledger, NOTHING, Short, Squares};
use super::patches::{Become, Found, open_units, put_back};
use super::prices::{WithinCloth, adds_in, gap, within_cloth};
use super::prints::{Unsewn, as_far_as_there_is, sewable};
use super::repair::Repair;
use super::short::{Lack, Ruling, Shortage, is_heap};
use super::whole::Slopes;
use crate::compose::{ComposeError, Draft, Free, Order, Problem, Ready, SceneError, release};
use crate::cutting::{Lacking, lacking};
use crate::fabric::{Fabric, Family, Print};
use crate::plan::{Band, Item, Plan, State, USUAL_ROUNDS, remade};
use crate::watch::{Best, News, Stage, Stopped, Watch};

/// Tries to make whole squares and real sheets suffice, each with a little less.
const TRIES: u32 = 16;
/// The least that is counted on less, in cells.
const LEAST_STEP: f64 = 4.0;
/// The part of what a sheet loses that each filler is counted with; found by measuring (`cargo bench --bench stashes`).
const OFFCUTS: f64 = 0.6;
/// Most pieces counted in and out for each thing that units may become: once there is a scene, and until there is one of
/// other families and of plain pieces.
const MOST_ADDS: u64 = 40_000_000;
const UNTIL_RECOLOURED: u64 = 40_000_000;
const UNTIL_PLAIN: u64 = 120_000_000;
/// As many fewer rounds where pieces that are easily cut gave no scene.
const FEWER: u32 = 3;
/// Rounds by the cell for each round by whole squares.
const EACH: u32 = 4;

/// A scene within the stash, and how good it is.
#[derive(Clone, Debug)]
pub struct Fitted {
    /// The plan.
    pub plan: Plan,
    /// How good it is.
    pub gaps: Gaps,
}

/// How far a scene may be from the best that its stash could give.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[cfg_attr(not(feature = "internals"), non_exhaustive)]
pub struct Gaps {
    /// Where cloth may be cut as one will: (answer - bound) / (answer - floor).
    pub cloth: f64,
    /// The plan's own, with whole pairs of squares and real sheets.
    pub whole: f64,
    /// Rounds of prices taken.
    pub rounds: u32,
    /// Triangle units: with no end of cloth, and within the stash.
    pub triangles: [u32; 2],
    /// The picture's error within the stash by that with no end of cloth.
    pub error: f64,
}

impl Gaps {
    /// Whether the picture is still what was wished: half of its triangles or more, and colours a quarter further from it
    /// at most. Both by eye, on one sketch in tops of growing size.
    pub fn keeps_the_picture(&self) -> bool {
        let [wished, made] = self.triangles;
        2 * made >= wished && self.error <= 1.25
    }
}

/// Why a stash gives no scene.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum StockError {
    /// The order makes no scene with any amount of cloth.
    #[error(transparent)]
    Scene(#[from] SceneError),
    /// There is too little, or so it seems: the shortage says whether that is proved.
    #[error("{0}")]
    Short(Box<Shortage>),
}

impl From<ComposeError> for StockError {
    fn from(error: ComposeError) -> Self {
        Self::Scene(error.into())
    }
}

/// Whether the order's fabrics have counts, or anything is on hand, so that a scene must keep within them.
pub fn counted(order: &Order) -> bool {
    !order.hand.is_empty() || order.fabrics.iter().any(|fabric| fabric.supply.is_some())
}

/// What a cell of cloth is worth at the request's thrift, in doubled error.
///
/// At 100 per cent a pair of squares saved may show as much as one big unit of it a just noticeable difference off
/// (2.3 in CIELAB; Mahy, Van Eycken and Oosterlinck, 1994, from memory).
fn thrift(order: &Order) -> f64 {
    f64::from(order.request.thrift) * 0.3
}

/// The best scene of cloth that is free to use, but for stray units whose pairs are saved where that hardly shows.
pub fn free(order: &Order) -> Result<Plan, SceneError> {
    let ready = Ready::new(order)?;
    let problem = ready.problem(order)?;
    let mut bands = problem.solve()?.bands;
    problem.fewer_kinds(&mut bands);
    if order.request.thrift > 0 {
        let have = Have::new(&ready, order.fabrics);
        let mut open = open_units(&ready, &problem, &have, &bands, Become::Recoloured);
        let mut ledger = Ledger::new(&ready, &have, &bands, Squares::Whole);
        Repair::new(&mut ledger, &mut open).thrift(thrift(order));
        put_back(&mut bands, &open);
    }
    let bands = ready.lay_prints(&problem, &bands);
    order.watch.go_on()?;
    Ok(ready.plan(order, bands))
}

/// So that `?` stops a search within a stash.
impl From<Stopped> for StockError {
    fn from(stopped: Stopped) -> Self {
        SceneError::from(stopped).into()
    }
}

/// Composes within the stash where it is counted, and freely where it is not.
pub fn compose(order: &Order, rounds: u32) -> Result<(Plan, Option<Gaps>), StockError> {
    if !counted(order) {
        return Ok((free(order)?, None));
    }
    fit(order, rounds).map(|fitted| (fitted.plan, Some(fitted.gaps)))
}

/// The plan's pieces, all free, each in a print of its family of which there is enough, as far as there is.
pub fn reprint(plan: &Plan, watch: &Watch) -> Result<Plan, SceneError> {
    let order = Order::of(plan, watch);
    let ready = Ready::new(&order)?;
    let bands = by_families(plan.bands.clone(), &ready);
    Ok(ready.plan(&order, as_far_as_there_is(&ready, &order, bands)))
}

/// The bands of a plan to be composed with: what is free names families.
fn by_families(bands: Vec<Band>, ready: &Ready) -> Vec<Band<Draft>> {
    remade(bands, |unit, _| match unit.state {
        State::Free => {
            let piece = unit.piece.with(|print| ready.family(print));
            Draft::Free(Free { width: unit.width, piece: piece.expect("a free unit is of no print that ran out") })
        }
        State::Kept | State::Cut | State::Sewn => Draft::Stands(unit),
    })
}

/// Composes the best scene that it can find within the supplies of the order's fabrics: of pieces that are easily cut;
/// where none is found so, of all that any sheet gives, and last of plain fillers dealt from the sheets.
pub fn fit(order: &Order, rounds: u32) -> Result<Fitted, StockError> {
    match fit_easily(order, rounds) {
        Err(StockError::Short(_) | StockError::Scene(SceneError::Compose(ComposeError::NoFit))) => {
            // Prices need not be the best where there was no scene at all.
            let all = Ready::new(order)?;
            let stock = priced(order, &all, rounds / FEWER)?;
            attempt(order, rounds, &all, stock, &[Become::Recoloured, Become::Plain(Squares::Whole)])
        }
        done => done,
    }
}

/// The same of pieces that are easily cut alone, and refused where no more than other families make it suffice.
pub fn fit_easily(order: &Order, rounds: u32) -> Result<Fitted, StockError> {
    let easy = Ready::easily_cut(order)?;
    attempt(order, rounds, &easy, priced(order, &easy, rounds)?, &[Become::Recoloured])
}

/// What there is, and the best scene that its cloth gives.
fn priced(order: &Order, ready: &Ready, rounds: u32) -> Result<(Have, WithinCloth), StockError> {
    let mut have = Have::new(ready, order.fabrics);
    if order.hand.is_empty() && order.standing.locks.is_empty() && order.standing.wishes.is_empty() {
        have.count_strips();
    }
    let cloth = within_cloth(ready, &mut ready.problem(order)?, &have, rounds)?;
    Ok((have, cloth))
}

/// What units may become is tried in turn until there is a scene; where they may become plain, fillers are dealt last.
fn attempt(
    order: &Order,
    rounds: u32,
    ready: &Ready,
    (have, cloth): (Have, WithinCloth),
    may: &[Become],
) -> Result<Fitted, StockError> {
    let mut problem = ready.problem(order)?;
    let mut search = Search::new(ready, order, have.clone(), 0);
    search.rounds = rounds;
    search.bounds = Some([cloth.bound, cloth.floor]);
    for &may in may {
        (search.may, search.tries, search.adds) = (may, TRIES.max(rounds * 2), 0);
        let first = cloth.bands.clone().map(|bands| Found { bands, cost: cloth.cost });
        let mut found = first.or(cloth.last.clone());
        let mut slopes = Slopes::new(cloth.prices.clone());
        for part in 0..=rounds / EACH {
            let Some(now) = found else { break };
            order.watch.begins(Stage::Squares, part + 1, rounds / EACH + 1)?;
            let bands = now.bands.clone();
            search.take(&problem, now);
            order.watch.go_on()?;
            if search.is_spent()
                || search.is_enough()
                || search.best.as_ref().is_some_and(|(cost, _)| *cost <= cloth.cost)
            {
                break;
            }
            found = Some(slopes.next(ready, &mut problem, &have, &bands)?);
        }
        if search.best.is_some() {
            break;
        }
    }
    if search.best.is_none() && may.contains(&Become::Plain(Squares::Whole)) {
        search.deal(&problem);
        order.watch.go_on()?;
    }
    match search.best.take() {
        Some((cost, bands)) => {
            let mut fitted = fitted(ready, order, &problem, bands, &cloth, cost);
            fitted.plan.request.steps = search.ended.or(order.request.steps);
            Ok(fitted)
        }
        None if search.least.is_empty() => Err(shortage(order, &named(ready, order, &cloth.short))),
        None => Err(shortage(order, &search.least)),
    }
}

/// The best scene so far that can be sewn.
struct Search<'a> {
    ready: &'a Ready,
    order: &'a Order<'a>,
    have: Have,
    best: Option<(i64, Vec<Band>)>,
    /// The least that any scene was short of: families and cells.
    least: Vec<(String, f64)>,
    /// What units may become.
    may: Become,
    /// Tries left for all scenes.
    tries: u32,
    /// Pieces counted in and out so far.
    adds: u64,
    /// Rounds that the effort is for.
    rounds: u32,
    /// Scenes that were brought within whole squares so far, and after how many of them the maker had enough.
    steps: u32,
    ended: Option<u32>,
    /// The bound and the floor of costs.
    bounds: Option<[i64; 2]>,
}

impl<'a> Search<'a> {
    fn new(ready: &'a Ready, order: &'a Order, have: Have, tries: u32) -> Self {
        Self {
            ready,
            order,
            have,
            best: None,
            least: Vec::new(),
            may: Become::Recoloured,
            tries,
            adds: 0,
            rounds: USUAL_ROUNDS,
            steps: 0,
            ended: None,
            bounds: None,
        }
    }

    fn is_spent(&self) -> bool {
        let most = match self.may {
            _ if self.best.is_some() => MOST_ADDS,
            Become::Recoloured => UNTIL_RECOLOURED,
            Become::Plain(_) => UNTIL_PLAIN,
        };
        self.adds > adds_in(self.rounds, most)
    }

    /// Whether the best scene so far is to be the last: the watcher has enough, or had when the brief was first asked.
    fn is_enough(&mut self) -> bool {
        if self.best.is_none() {
            return false;
        }
        if self.order.watch.has_enough() {
            self.ended.get_or_insert(self.steps);
        }
        self.ended.is_some() || self.order.request.steps.is_some_and(|most| self.steps >= most)
    }

    /// Keeps a scene, and tells of it.
    fn keep(&mut self, cost: i64, bands: Vec<Band>) {
        if let Some([bound, floor]) = self.bounds.filter(|_| self.order.watch.is_followed()) {
            let plan = self.ready.plan(self.order, bands.clone());
            let best = Some(Best { plan: &plan, gap: gap(cost, bound, floor) });
            self.order.watch.tell(&News { stage: Stage::Squares, part: 0, parts: 0, best });
        }
        self.best = Some((cost, bands));
    }

    /// Brings a scene within whole squares and real sheets step by step, and keeps it where it is the best.
    fn take(&mut self, problem: &Problem, mut found: Found) {
        let mut have = self.have.clone();
        let mut steps: TiVec<Family, f64> = vec![LEAST_STEP; have.cloth.len()].into();
        let mut before = BTreeMap::new();
        for _ in 0..TRIES.min(self.tries) {
            if self.is_spent() || self.is_enough() || self.order.watch.is_stopped() {
                return;
            }
            self.tries -= 1;
            self.steps += 1;
            let mut bands = found.bands.clone();
            let mut open = open_units(self.ready, problem, &have, &bands, self.may);
            let mut ledger = Ledger::new(self.ready, &have, &bands, Squares::Whole);
            let mut repair = Repair::new(&mut ledger, &mut open);
            let settled = repair.settle().map(|added| added - repair.improve() - repair.swap());
            let settled = settled.map(|added| found.cost + added + repair.thrift(thrift(self.order)));
            self.adds += ledger.adds;
            let cost = match settled {
                Ok(cost) => cost,
                Err(short) => return self.fail(named(self.ready, self.order, &short)),
            };
            if self.best.as_ref().is_some_and(|(best, _)| cost >= *best) {
                return;
            }
            put_back(&mut bands, &open);
            let sewn = self.sewable(problem, &bands).map(|bands| self.ready.plan(self.order, bands));
            found = Found { bands, cost };
            let (short, most) = match sewn {
                Ok(plan) => match unplaced(self.order, &plan) {
                    short if short.is_empty() => return self.keep(cost, plan.bands),
                    short => (short, BTreeMap::new()),
                },
                Err(unsewn) => (named(self.ready, self.order, &unsewn.short), unsewn.most),
            };
            let takes = ledger.need;
            limit(&mut have, &most, &before);
            self.tighten(&mut have, &takes, &short, &mut steps);
            before = most;
            self.fail(short);
        }
    }

    /// Gives each patch a print; what stayed as it was keeps its own, unless that leaves too little for the rest.
    fn sewable(&self, problem: &Problem, bands: &[Band<Draft>]) -> Result<Vec<Band>, Unsewn> {
        let (standing, held) = problem.hold(bands);
        if !held.is_empty()
            && let Ok(mut bands) = sewable(self.ready, self.order, standing)
        {
            release(&mut bands, &held);
            return Ok(bands);
        }
        sewable(self.ready, self.order, bands.to_vec())
    }

    /// Deals plain fillers from the sheets, and brings them nearer to the picture.
    fn deal(&mut self, problem: &Problem) {
        if !(self.order.standing.locks.is_empty() && self.order.standing.wishes.is_empty()) {
            return;
        }
        let (columns, rows) = self.order.request.cells();
        for choose in Choose::ALL {
            self.adds = 0;
            let Some(bands) = deal(self.order, [columns, rows], Some((self.ready, problem)), choose) else { continue };
            let plan = self.ready.plan(self.order, bands.clone());
            let families = by_families(bands.clone(), self.ready);
            let cost = problem.plain_cost(&families);
            self.tries = TRIES;
            self.take(problem, Found { bands: families, cost });
            if self.best.is_none() && unplaced(self.order, &plan).is_empty() {
                self.keep(cost, bands);
            }
            if self.best.is_some() {
                return;
            }
        }
    }

    /// Where something found no room, offcuts are counted; then less cloth than was taken, by twice as much each time.
    fn tighten(
        &self,
        have: &mut Have,
        takes: &TiSlice<Family, f64>,
        short: &[(String, f64)],
        steps: &mut TiSlice<Family, f64>,
    ) {
        for (name, cells) in short {
            let of_it = |prints: &Vec<Print>| self.order.fabrics[prints[0]].family == *name;
            let Some(family) = self.ready.families.position(of_it) else { continue };
            if have.offcuts[family] < OFFCUTS {
                have.offcuts[family] = OFFCUTS;
                continue;
            }
            let less = cells.max(steps[family]);
            steps[family] = 2.0 * less;
            have.cloth[family] = have.cloth[family].map(|have| (have.min(takes[family]) - less).max(0.0));
            have.alike[family] = have.alike[family].map(|have| (have - less).max(0.0));
        }
    }

    /// Remembers what was short where no scene before was short of less.
    fn fail(&mut self, short: Vec<(String, f64)>) {
        let sum = |short: &[(String, f64)]| short.iter().map(|(_, cells)| cells).sum::<f64>();
        if self.least.is_empty() || NOTHING < sum(&short) && sum(&short) < sum(&self.least) {
            self.least = short;
        }
    }
}

fn fitted(ready: &Ready, order: &Order, problem: &Problem, bands: Vec<Band>, cloth: &WithinCloth, cost: i64) -> Fitted {
    let families = by_families(bands.clone(), ready);
    let plan = ready.plan(order, bands);
    let gaps = Gaps {
        cloth: cloth.gap(),
        whole: gap(cost, cloth.bound, cloth.floor),
        rounds: cloth.rounds,
        triangles: [triangles(&cloth.wish), triangles(&families)],
        error: problem.error(&families) as f64 / problem.error(&cloth.wish).max(1) as f64,
    };
    Fitted { plan, gaps }
}

fn triangles(bands: &[Band<Draft>]) -> u32 {
    let rows = bands.iter().flat_map(|band| &band.columns).flat_map(|column| &column.rows);
    rows.flat_map(|row| &row.units).filter(|unit| unit.is_triangle()).count() as u32
}

/// Counts on no more of a piece than could be made, where it was the same with less cloth.
fn limit(have: &mut Have, most: &BTreeMap<Item<Family>, u32>, before: &BTreeMap<Item<Family>, u32>) {
    for (&item, &most) in most.iter().filter(|(item, _)| before.contains_key(item)) {
        let held = have.most.entry(item).or_insert(most);
        *held = most.min(*held);
    }
}

/// What finds no room when the work is made: nothing is promised that cannot be cut.
fn unplaced(order: &Order, plan: &Plan) -> Vec<(String, f64)> {
    let cell = order.request.grid.ticks() as f64;
    let cells = |lacking: &Lacking| lacking.area() as f64 / (cell * cell);
    lacking(plan).into_iter().map(|lacking| (lacking.family.clone(), cells(&lacking))).collect()
}

/// Families by name and cells.
fn named(ready: &Ready, order: &Order, short: &[Short]) -> Vec<(String, f64)> {
    let name = |family: Family| order.fabrics[ready.families[family][0]].family.clone();
    short.iter().map(|short| (name(short.family), short.cells)).collect()
}

/// The error, each family once and in the order of the fabrics.
fn shortage(order: &Order, short: &[(String, f64)]) -> StockError {
    let mut families: Vec<Lack> = Vec::new();
    for Fabric { family, .. } in order.fabrics {
        let cells: f64 = short.iter().filter(|(name, _)| name == family).map(|(_, cells)| cells).sum();
        if cells > 0.0 && families.iter().all(|lack| lack.family != *family) {
            families.push(Lack::new(family, cells, order.request));
        }
    }
    let heap = is_heap(order.fabrics).then(|| order.hand.clone());
    StockError::Short(Box::new(Shortage { families, heap, ruling: Ruling::of(order) }))
}
