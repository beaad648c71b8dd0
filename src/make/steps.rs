//! The work step by step, in the order of the list: what is done next at the machine.
//!
//! A step's key tells it from every other and stays when the scene is changed: pairs and fillers go by their numbers, a
//! seam by its place and what it joins. So what was ticked stays ticked, where it is still there.

use std::collections::{BTreeMap, BTreeSet};

use super::{Joint, Source, UnitWork, Work};
use crate::cutting::{Batch, HandPiece, made_batches};
use crate::fabric::Print;
use crate::measure::Length;
use crate::plan::{Address, Piece, Placed, Plan, State, digest};

/// A part of the work, in the order of the list.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Chapter {
    /// Squares and fillers are cut, fabric by fabric.
    Cut,
    /// Squares are paired.
    Pair,
    /// Pairs are sewn.
    Sew,
    /// They are cut apart.
    Apart,
    /// Their seams are pressed.
    Press,
    /// Units are trimmed to size.
    Trim,
    /// Strips are cut off.
    Strips,
    /// What was there before is laid out.
    OnHand,
    /// Units are joined to rows.
    Rows,
    /// Rows are joined to columns.
    Columns,
    /// Columns are joined to bands.
    Bands,
    /// Bands are joined to the top.
    Top,
    /// The top is measured and sewn round.
    Finish,
}

/// One thing to do, and to tick.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Step {
    /// What tells it from every other, in this scene and in those that it is changed to.
    pub key: String,
    /// The part of the work that it belongs to.
    pub chapter: Chapter,
    /// What is done.
    pub task: Task,
    /// The fabrics that are in it.
    pub fabrics: Vec<Print>,
    /// Units that it is for; of a seam those on both sides along it.
    pub units: Vec<Address>,
    /// The row that it belongs to, by its first unit.
    pub row: Option<Address>,
    /// Whether the plan says that it is done.
    pub made: bool,
    /// How much it is: pieces, or inches of seam.
    pub amount: u32,
    /// What its tick makes of its units.
    makes: Option<State>,
    /// Another step without whose tick this one's makes nothing of them.
    with: Option<String>,
}

/// What is done.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Task {
    /// Squares of a fabric are cut for pairs.
    Squares(Print, Batch),
    /// Fillers are cut, by index.
    Fillers(usize),
    /// Something is done to pairs of squares that are alike.
    Pairs(Batch),
    /// A strip is cut off a unit.
    Strip(Address),
    /// Pieces on hand are laid out, by index.
    OnHand(usize),
    /// Two parts are joined: the one before and the one that is joined to it.
    Join(Part, Part, Joint),
    /// A row is pressed and measured.
    Row(Address),
    /// The top is measured and sewn round.
    Finish,
}

/// What is joined.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Part {
    /// A unit.
    Unit(Address),
    /// A row, by its first unit.
    Row(Address),
    /// A column: band and number.
    Column(usize, usize),
    /// A band.
    Band(usize),
}

impl Part {
    /// Whether a unit is of it.
    pub fn holds(self, at: Address) -> bool {
        match self {
            Self::Unit(unit) => at == unit,
            Self::Row(row) => (at.band, at.column, at.row) == (row.band, row.column, row.row),
            Self::Column(band, column) => (at.band, at.column) == (band, column),
            Self::Band(band) => at.band == band,
        }
    }
}

/// Every step of a scene that is sewn by this work.
pub fn steps(plan: &Plan, work: &Work) -> Vec<Step> {
    let bench = Bench { plan, work, units: plan.placed() };
    let mut steps = bench.cut();
    let batches = bench.batches();
    for chapter in [Chapter::Pair, Chapter::Sew, Chapter::Apart, Chapter::Press, Chapter::Trim] {
        steps.extend(batches.iter().map(|(batch, made, units)| bench.pairs(chapter, batch, *made, units)));
    }
    steps.extend(bench.strips());
    steps.extend(bench.on_hand());
    steps.extend(bench.rows());
    steps.extend(bench.joins());
    steps.push(bench.finish());
    steps
}

/// What the ticks of steps make of units, where that is more than the plan says already.
pub fn ticked(plan: &Plan, steps: &[Step], ticks: &BTreeSet<&str>) -> Vec<(Address, State)> {
    let is_done = |key: &str| ticks.contains(key);
    let counts = |step: &&Step| is_done(&step.key) && step.with.as_deref().is_none_or(is_done);
    let mut states: BTreeMap<Address, State> = BTreeMap::new();
    for step in steps.iter().filter(counts) {
        for (at, state) in step.units.iter().zip(step.makes.iter().cycle()) {
            let held = states.entry(*at).or_insert(*state);
            *held = *state.max(held);
        }
    }
    states.retain(|at, state| plan.unit(*at).is_some_and(|unit| unit.state < *state));
    states.into_iter().collect()
}

impl Step {
    fn of(chapter: Chapter, key: String, task: Task) -> Self {
        Self {
            key,
            chapter,
            task,
            fabrics: Vec::new(),
            units: Vec::new(),
            row: None,
            made: false,
            amount: 1,
            makes: None,
            with: None,
        }
    }
}

struct Bench<'a> {
    plan: &'a Plan,
    work: &'a Work,
    units: Vec<Placed>,
}

/// Pairs, whether the plan says that they are done, and the units that come from them.
type Line = (Batch, bool, Vec<Address>);

impl Bench<'_> {
    fn letter(&self, print: Print) -> &str {
        &self.plan.fabrics[print].letter
    }

    fn work_units(&self) -> impl Iterator<Item = &UnitWork> {
        self.work.rows.iter().flat_map(|row| &row.units)
    }

    /// Units from a source.
    fn from(&self, source: Source) -> Vec<Address> {
        self.work_units().filter(|unit| unit.source == source).map(|unit| unit.placed.address).collect()
    }

    /// Fabric by fabric: the squares of its pairs, then its fillers.
    fn cut(&self) -> Vec<Step> {
        let mut steps = Vec::new();
        for print in self.plan.fabrics.keys() {
            let pairs = self.work.batches.iter().enumerate().filter(|(_, batch)| batch.pairs > 0);
            for (index, batch) in pairs.filter(|(_, batch)| [batch.first, batch.second].contains(&print)) {
                let units = self.from(Source::Batch(index));
                let key = |of: Print| format!("cut {} {} {}", batch.id, self.letter(of), batch.pairs);
                let other = if batch.first == print { batch.second } else { batch.first };
                steps.push(Step {
                    fabrics: vec![print],
                    makes: Some(State::Cut),
                    units,
                    amount: batch.pairs,
                    // One square is no pair yet.
                    with: Some(key(other)),
                    ..Step::of(Chapter::Cut, key(print), Task::Squares(print, batch.clone()))
                });
            }
            let fillers = self.work.fillers.iter().enumerate().filter(|(_, filler)| filler.count > 0);
            for (index, filler) in fillers.filter(|(_, filler)| filler.fabric == print) {
                let units = self.from(Source::Filler(index));
                let key = format!("cut {} {} {}", filler.id, self.letter(print), filler.count);
                steps.push(Step {
                    fabrics: vec![print],
                    makes: Some(State::Cut),
                    units,
                    amount: filler.count,
                    ..Step::of(Chapter::Cut, key, Task::Fillers(index))
                });
            }
        }
        steps
    }

    /// Pairs that are under way, cut by an earlier list, then those of this one.
    fn batches(&self) -> Vec<Line> {
        let mut lines: Vec<Line> = Vec::new();
        for (index, hand) in self.work.hand.iter().enumerate().filter(|(_, hand)| hand.was_made_so()) {
            let units = self.from(Source::Hand(index));
            let is_cut = |at: &Address| self.plan.unit(*at).is_some_and(|unit| unit.state == State::Cut);
            for batch in made_batches(self.plan, hand) {
                let made = !units.iter().any(is_cut);
                match lines.iter_mut().find(|(one, ..)| one.id == batch.id) {
                    Some((_, done, from)) => {
                        *done &= made;
                        from.extend(&units);
                    }
                    None => lines.push((batch, made, units.clone())),
                }
            }
        }
        let new = self.work.batches.iter().enumerate().filter(|(_, batch)| batch.pairs > 0);
        lines.extend(new.map(|(index, batch)| (batch.clone(), false, self.from(Source::Batch(index)))));
        lines
    }

    fn pairs(&self, chapter: Chapter, batch: &Batch, made: bool, units: &[Address]) -> Step {
        let stage = match chapter {
            Chapter::Pair => "pair",
            Chapter::Sew => "sew",
            Chapter::Apart => "apart",
            Chapter::Press => "press",
            _ => "trim",
        };
        let is_unit = matches!(chapter, Chapter::Press | Chapter::Trim);
        Step {
            fabrics: vec![batch.first, batch.second],
            makes: Some(State::Cut),
            units: units.to_vec(),
            made,
            amount: if is_unit { batch.made() } else { batch.pairs }.max(1),
            ..Step::of(chapter, format!("{stage} {}", batch.id), Task::Pairs(batch.clone()))
        }
    }

    /// Every strip that comes off, those that are used again first.
    fn strips(&self) -> Vec<Step> {
        let is_strip = |unit: &&UnitWork| {
            let from = match unit.source {
                Source::Batch(_) => true,
                Source::Hand(index) => !self.work.hand[index].item.is_slice(),
                _ => false,
            };
            from && unit.strip.is_some()
        };
        let mut units: Vec<&UnitWork> = self.work_units().filter(is_strip).collect();
        units.sort_by_key(|unit| unit.offcut_to.is_none());
        let step = |unit: &UnitWork| {
            let both: Vec<Address> = [Some(unit.placed.address), unit.offcut_to].into_iter().flatten().collect();
            Step {
                fabrics: fabrics(&unit.placed),
                makes: Some(State::Cut),
                units: both,
                row: Some(row_of(unit.placed.address)),
                ..Step::of(
                    Chapter::Strips,
                    format!("strip {}", self.tag(&unit.placed)),
                    Task::Strip(unit.placed.address),
                )
            }
        };
        units.into_iter().map(step).collect()
    }

    /// What was there before this quilt was begun.
    fn on_hand(&self) -> Vec<Step> {
        let there = self.work.hand.iter().enumerate().filter(|(_, hand)| hand.used > 0 && !hand.was_made_so());
        let step = |(index, hand): (usize, &HandPiece)| {
            let units = self.from(Source::Hand(index));
            let fabrics = hand.item.fabrics();
            let letters: Vec<&str> = fabrics.iter().map(|print| self.letter(*print)).collect();
            let key = format!("on hand {} {}", letters.join("+"), short(&format!("{:?}", hand.item)));
            Step { fabrics, units, amount: hand.used, ..Step::of(Chapter::OnHand, key, Task::OnHand(index)) }
        };
        there.map(step).collect()
    }

    /// Row by row: each unit to the one before it, then the row pressed and measured.
    fn rows(&self) -> Vec<Step> {
        let mut steps = Vec::new();
        for row in &self.work.rows {
            let at = row.address;
            let units: Vec<&Placed> = row.units.iter().map(|unit| &unit.placed).collect();
            for two in units.windows(2) {
                let (before, unit) = (two[0], two[1]);
                let Some(joint) = self.joint([at.band, at.column, at.row, unit.address.unit]) else { continue };
                let both = [before.address, unit.address];
                steps.push(Step {
                    fabrics: fabrics(before)
                        .into_iter()
                        .chain(fabrics(unit))
                        .collect::<BTreeSet<_>>()
                        .into_iter()
                        .collect(),
                    units: both.to_vec(),
                    row: Some(at),
                    made: two.iter().all(|placed| placed.unit.state == State::Sewn),
                    amount: inches(row.unfinished.height),
                    makes: Some(State::Sewn),
                    ..Step::of(
                        Chapter::Rows,
                        format!("join {} {}", self.tag(before), self.tag(unit)),
                        Task::Join(Part::Unit(both[0]), Part::Unit(both[1]), joint),
                    )
                });
            }
            let all: BTreeSet<Print> = units.iter().flat_map(|placed| fabrics(placed)).collect();
            steps.push(Step {
                fabrics: all.into_iter().collect(),
                units: units.iter().map(|placed| placed.address).collect(),
                row: Some(at),
                made: units.iter().all(|placed| placed.unit.state == State::Sewn),
                amount: units.len() as u32,
                makes: Some(State::Sewn),
                ..Step::of(Chapter::Rows, self.key("row", units.iter().copied()), Task::Row(at))
            });
        }
        steps
    }

    /// Rows to columns, columns to bands, bands to the top.
    fn joins(&self) -> Vec<Step> {
        let bands = || (1_usize..).zip(&self.plan.bands);
        let mut steps = Vec::new();
        for (band, b) in bands() {
            for (column, c) in (1_usize..).zip(&b.columns) {
                let row = |row: usize| Address { band, column, row, unit: 1 };
                for at in (2..=c.rows.len()).map(row) {
                    let above = row(at.row - 1);
                    let joint = self.joint([band, column, at.row, 0]);
                    let parts = [Part::Row(above), Part::Row(at)];
                    steps.extend(joint.map(|joint| self.join(Chapter::Columns, parts, joint, c.width)));
                }
            }
        }
        for (band, b) in bands() {
            for column in 2..=b.columns.len() {
                let joint = self.joint([band, column, 0, 0]);
                let parts = [Part::Column(band, column - 1), Part::Column(band, column)];
                steps.extend(joint.map(|joint| self.join(Chapter::Bands, parts, joint, b.height)));
            }
        }
        let width = self.plan.request.width.floor_div(self.plan.request.grid) as u32;
        for (band, _) in bands().skip(1) {
            let joint = self.joint([band, 0, 0, 0]);
            let parts = [Part::Band(band - 1), Part::Band(band)];
            steps.extend(joint.map(|joint| self.join(Chapter::Top, parts, joint, width)));
        }
        steps
    }

    fn joint(&self, [band, column, row, unit]: [usize; 4]) -> Option<Joint> {
        self.work.joints.of(band, column, row, unit)
    }

    fn join(&self, chapter: Chapter, [before, part]: [Part; 2], joint: Joint, cells: u32) -> Step {
        let along = self.along(before, part);
        let prints: BTreeSet<Print> = along.iter().flat_map(|placed| fabrics(placed)).collect();
        let name = if chapter == Chapter::Columns { "rows" } else { "parts" };
        Step {
            fabrics: prints.into_iter().collect(),
            units: along.iter().map(|placed| placed.address).collect(),
            row: match part {
                Part::Row(at) => Some(at),
                _ => None,
            },
            amount: inches(self.plan.request.grid * cells),
            makes: Some(State::Sewn),
            ..Step::of(chapter, self.key(name, along.into_iter()), Task::Join(before, part, joint))
        }
    }

    /// Units along the seam between two parts that lie beside each other.
    fn along(&self, before: Part, part: Part) -> Vec<&Placed> {
        let upright = matches!(part, Part::Column(..));
        let start = |placed: &Placed| if upright { placed.x } else { placed.y };
        let end = |placed: &Placed| start(placed) + if upright { placed.unit.width } else { placed.height };
        let all = |of: Part| self.units.iter().filter(move |placed| of.holds(placed.address));
        let seam = all(part).map(start).min();
        let along = all(before).filter(|placed| Some(end(placed)) == seam);
        along.chain(all(part).filter(|placed| Some(start(placed)) == seam)).collect()
    }

    fn finish(&self) -> Step {
        let request = &self.plan.request;
        Step {
            amount: inches((request.width + request.height) * 2i64),
            ..Step::of(Chapter::Finish, "finish".into(), Task::Finish)
        }
    }

    /// A unit by its place and what it is.
    fn tag(&self, placed: &Placed) -> String {
        let Placed { x, y, height, unit, .. } = placed;
        let is = match unit.piece {
            Piece::Filler(fabric) => self.letter(fabric).to_owned(),
            Piece::Triangle(t) => {
                let cut = t.cut.word().map(|word| format!(" {word}")).unwrap_or_default();
                format!("{}/{} {} {}{cut}", self.letter(t.tip), self.letter(t.rest), t.corner.words(), t.block)
            }
        };
        format!("{x},{y} {}x{height} {is}", unit.width)
    }

    /// A row, or a seam, by its units.
    fn key<'a>(&self, name: &str, units: impl Iterator<Item = &'a Placed>) -> String {
        let all: Vec<String> = units.map(|placed| self.tag(placed)).collect();
        format!("{name} {}", short(&all.join(";")))
    }
}

fn fabrics(placed: &Placed) -> Vec<Print> {
    placed.unit.piece.fabrics().collect()
}

fn row_of(at: Address) -> Address {
    Address { unit: 1, ..at }
}

fn inches(length: Length) -> u32 {
    length.as_inches().round().max(1.0) as u32
}

/// Enough of a digest to tell the parts of one top apart.
fn short(text: &str) -> String {
    digest(text.as_bytes())[..12].to_owned()
}
