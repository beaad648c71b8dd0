//! One scene in several stashes.

use super::error::JobError;
use super::files::{File, tables};
use crate::audition::{Audition, Entry, Trial, audition as ranked};
use crate::compose::{ComposeError, Order, SceneError, refit, scene};
use crate::fabric::{Fabric, Fabrics, Stash};
use crate::make::make;
use crate::plan::{self, Plan, Request};
use crate::proof::{Files, prove};
use crate::render;
use crate::stock::{StockError, compose, recolour};
use crate::watch::{Stage, Watch};

/// Most stashes on one sheet.
const MOST_STASHES: usize = 24;
/// The sheet that shows all trials.
const SHEETS: [&str; 2] = ["auditions.html", "auditions.png"];

/// A stash to try.
#[derive(Clone, Copy, Debug)]
pub struct Candidate<'a> {
    /// What it is called: its plan is written as `NAME.plan.json`.
    pub name: &'a str,
    /// The stash, a TOML text.
    pub stash: &'a str,
}

/// A scene tried in stashes.
#[derive(Clone, Debug)]
#[cfg_attr(not(feature = "internals"), non_exhaustive)]
pub struct Auditioned {
    /// The trials, ranked.
    pub audition: Audition,
    /// The contact sheet as a page and as a picture, then each stash's plan in the order given.
    pub files: Vec<File>,
}

/// Tries a scene in each stash: composed afresh, or the same pieces in other fabrics.
pub fn audition(plan: &Plan, candidates: &[Candidate], afresh: bool, watch: &Watch) -> Result<Auditioned, JobError> {
    tried(plan, candidates, afresh, watch).map_err(|error| error.unless(watch.go_on()))
}

fn tried(planned: &Plan, candidates: &[Candidate], afresh: bool, watch: &Watch) -> Result<Auditioned, JobError> {
    if candidates.len() > MOST_STASHES {
        return Err(JobError::ManyStashes(candidates.len(), MOST_STASHES));
    }
    let quiet = watch.quietly();
    let read = |(at, candidate): (usize, &Candidate)| {
        let mut stash = Stash::read(candidate.stash).map_err(|error| JobError::Stash(at, error.into()))?;
        stash.turn_the_rest();
        Ok(stash)
    };
    let stashes = candidates.iter().enumerate().map(read).collect::<Result<Vec<_>, JobError>>()?;
    let trial = |(at, (stash, candidate)): (usize, (&Stash, &Candidate))| {
        watch.begins(Stage::Stash, at as u32 + 1, stashes.len() as u32)?;
        let plan = if afresh { composed(planned, stash, &quiet) } else { in_other_fabrics(planned, stash, at, &quiet) };
        let plan = plan.map_err(|error| error.in_stash(at))?;
        Ok(Trial { name: candidate.name.to_owned(), plan })
    };
    let trials = stashes.iter().zip(candidates).enumerate().map(trial).collect::<Result<Vec<_>, JobError>>()?;
    let audition = ranked(planned, trials, afresh);
    watch.begins(Stage::Files, 1, 1)?;
    let sheet = render::auditions_png(&audition)?;
    let page = render::auditions_html(&audition).into_bytes();
    let shared: [(&str, &[u8]); 2] = [(SHEETS[0], &page), (SHEETS[1], &sheet)];
    // In the order of the stashes, as their files are named.
    let mut plans = Vec::new();
    for candidate in candidates {
        watch.go_on()?;
        let entry = audition.entries.iter().find(|entry| entry.name == candidate.name);
        plans.extend(entry.map(|entry| written(entry, &shared)).transpose()?);
    }
    let [page_name, sheet_name] = SHEETS.map(String::from);
    let sheets = [File { name: page_name, bytes: page }, File { name: sheet_name, bytes: sheet }];
    Ok(Auditioned { audition, files: sheets.into_iter().chain(plans).collect() })
}

/// The names of all files of an audition of so many stashes.
pub fn file_names<'a>(names: impl Iterator<Item = &'a str>) -> Vec<String> {
    SHEETS.into_iter().map(String::from).chain(names.map(|name| format!("{name}.plan.json"))).collect()
}

/// The plan as it is written and proven: where its stash is short, without the counts, for it is yet to be bought.
fn written(entry: &Entry, shared: &[(&str, &[u8])]) -> Result<File, JobError> {
    let mut plan = entry.plan.clone();
    if entry.short.as_ref().is_some_and(|short| !short.is_empty()) {
        plan.fabrics.iter_mut().for_each(|fabric| fabric.supply = None);
    }
    let [rows, cutting, cloth] = tables(&plan, &make(&plan))?;
    let text = plan::write_with(&plan, shared);
    prove(&Files { plan: &text, rows: &rows, cutting: &cutting, cloth: &cloth })
        .map_err(|fault| JobError::Proof(fault.into()))?;
    Ok(File { name: format!("{}.plan.json", entry.name), bytes: text.into_bytes() })
}

fn in_other_fabrics(planned: &Plan, stash: &Stash, at: usize, watch: &Watch) -> Result<Plan, JobError> {
    let plan = refit(planned, &stash.fabrics()).map_err(|error| JobError::Refit(at, error.into()))?;
    of_stash(plan, stash, watch)
}

/// Within the stash where that can be; else as if there were enough of every fabric.
fn composed(planned: &Plan, stash: &Stash, watch: &Watch) -> Result<Plan, JobError> {
    let request = Request { colours: None, steps: None, ..planned.request.clone() };
    let fabrics = stash.fabrics();
    let order = Order { watch, ..Order::new(&request, &planned.picture, &planned.focus, &fabrics) };
    match compose(&Order { hand: &stash.hand, ..order }, request.rounds) {
        Ok((plan, _)) => Ok(plan),
        Err(StockError::Scene(SceneError::Compose(ComposeError::NoFit)) | StockError::Short(_)) => {
            watch.go_on()?;
            let free: Fabrics = fabrics.iter().map(|f| Fabric { supply: None, remnants: None, ..f.clone() }).collect();
            let order = Order { watch, ..Order::new(&request, &planned.picture, &planned.focus, &free) };
            of_stash(scene(&order)?.0, stash, watch)
        }
        Err(StockError::Scene(error)) => Err(error.into()),
    }
}

/// The plan with what the stash has of each fabric and on hand, within that where its pieces can be.
fn of_stash(plan: Plan, stash: &Stash, watch: &Watch) -> Result<Plan, JobError> {
    let plan = Plan { fabrics: stash.fabrics(), hand: stash.hand.clone(), ..plan };
    let counts = plan.fabrics.iter().any(|fabric| fabric.supply.is_some()) || !plan.hand.is_empty();
    if counts { Ok(recolour(&plan, watch)?) } else { Ok(plan) }
}
