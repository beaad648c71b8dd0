//! `audition`: one scene in several stashes, on a contact sheet.

use std::fmt::Write;
use std::path::{Path, PathBuf};

use clap::Args;
use rowscape::audition::{Audition, Entry, FIGURES, RULE, Trial, audition, figures};
use rowscape::compose::{ComposeError, Order, RefitError, SceneError, refit, scene};
use rowscape::fabric::{Fabric, Fabrics, Stash};
use rowscape::make::make;
use rowscape::plan::{Plan, Request, State};
use rowscape::render;
use rowscape::stock::{ROUNDS, StockError, compose, recolour};

use super::Failure;
use super::folder::Folder;
use super::made::{sewn, tables};
use super::read::{read_plan, read_stash};

const EXAMPLES: &str = "Examples:
  rowscape audition lighthouse --stash sample-sketches/stash-cottage.toml --stash my-fabrics.toml --out trials
  rowscape audition lighthouse/plan.json --stash sample-sketches/stash-harbour.toml --afresh --out afresh";

const SHEETS: [&str; 2] = ["auditions.html", "auditions.png"];
const MOST_STASHES: usize = 24;

#[derive(Args)]
#[command(after_help = EXAMPLES)]
pub struct AuditionArguments {
    /// The scene: its plan.json, or the folder that holds it
    pub(super) plan: PathBuf,
    /// Fabrics to try it in, a TOML file; give one for each stash
    #[arg(long, value_name = "FILE", required = true)]
    pub(super) stash: Vec<PathBuf>,
    /// Folder to write the contact sheet and each stash's plan into; made if it is not there
    #[arg(long, value_name = "FOLDER")]
    pub(super) out: PathBuf,
    /// Compose again with each stash; without it, the same pieces in other fabrics
    #[arg(long)]
    afresh: bool,
    /// Write over an audition that the folder holds
    #[arg(long)]
    replace: bool,
}

pub fn run(arguments: &AuditionArguments) -> Result<String, Failure> {
    let (planned, _) = read_plan(&arguments.plan)?;
    let stashes = stashes(&arguments.stash)?;
    let files: Vec<String> = stashes.iter().map(|(name, _)| format!("{name}.plan.json")).collect();
    let names: Vec<&str> = SHEETS.into_iter().chain(files.iter().map(String::as_str)).collect();
    let plan = arguments.plan.join("plan.json");
    let plan = if arguments.plan.is_dir() { &plan } else { &arguments.plan };
    let reading: Vec<&Path> = std::iter::once(plan).chain(&arguments.stash).map(PathBuf::as_path).collect();
    let folder = Folder::open(&arguments.out, &names, arguments.replace, &reading)?;
    let named = stashes.iter().zip(&arguments.stash);
    let trials = named.map(|((name, stash), path)| {
        let plan = if arguments.afresh { afresh(&planned, stash) } else { in_other_fabrics(&planned, stash) };
        Ok(Trial { name: name.clone(), plan: plan.map_err(|failure| failure.of(path))? })
    });
    let trials: Vec<Trial> = trials.collect::<Result<_, Failure>>()?;
    let audition = audition(&planned, trials, arguments.afresh);
    // In the order of the stashes, as their files are named.
    let of = |(name, _): &(String, Stash)| audition.entries.iter().find(|entry| entry.name == *name);
    let sheet = render::auditions_png(&audition).map_err(Failure::new)?;
    let page = render::auditions_html(&audition);
    let shared: [(&str, &[u8]); 2] = [(SHEETS[0], page.as_bytes()), (SHEETS[1], &sheet)];
    let plans = stashes.iter().filter_map(of).map(|entry| written(entry, &shared));
    let plans = plans.collect::<Result<Vec<String>, Failure>>()?;
    let contents: Vec<&[u8]> =
        [page.as_bytes(), &sheet].into_iter().chain(plans.iter().map(String::as_bytes)).collect();
    folder.write(&contents)?;
    Ok(account(&audition, &names, &arguments.out))
}

/// The plan as it is written and proven: where its stash is short, without the counts, for it is yet to be bought.
fn written(entry: &Entry, shared: &[(&str, &[u8])]) -> Result<String, Failure> {
    let mut plan = entry.plan.clone();
    if entry.short.as_ref().is_some_and(|short| !short.is_empty()) {
        plan.fabrics.iter_mut().for_each(|fabric| fabric.supply = None);
    }
    let [rows, cutting, cloth] = tables(&plan, &make(&plan))?;
    let text = rowscape::plan::write_with(&plan, shared);
    sewn(&text, [&rows, &cutting, &cloth]).map(|_| text)
}

/// A refusal before it is known of which file.
struct Refusal {
    what: String,
    hint: &'static str,
}

impl Refusal {
    fn of(self, path: &Path) -> Failure {
        Failure::at(path, self.what).hint(self.hint)
    }
}

fn in_other_fabrics(planned: &Plan, stash: &Stash) -> Result<Plan, Refusal> {
    let plan = refit(planned, &stash.fabrics()).map_err(|error| {
        let hint = match error {
            RefitError::Filler { .. } => "give --afresh, which composes with the fillers that this stash can give",
            RefitError::OneFabric(_) | RefitError::NoFabric => "add fabrics to the stash, or leave it out",
            RefitError::Request(_) => "compose the scene again",
        };
        Refusal { what: error.to_string(), hint }
    })?;
    of_stash(plan, stash)
}

/// Within the stash where that can be; else as if there were enough of every fabric.
fn afresh(planned: &Plan, stash: &Stash) -> Result<Plan, Refusal> {
    let request = Request { colours: None, ..planned.request.clone() };
    let fabrics = stash.fabrics();
    let order = Order::new(&request, &planned.picture, &planned.focus, &fabrics);
    match compose(&Order { hand: &stash.hand, ..order }, ROUNDS) {
        Ok((plan, _)) => Ok(plan),
        Err(StockError::Scene(SceneError::Compose(ComposeError::NoFit)) | StockError::Short(_)) => {
            let free: Fabrics = fabrics.iter().map(|f| Fabric { supply: None, ..f.clone() }).collect();
            let order = Order::new(&request, &planned.picture, &planned.focus, &free);
            of_stash(scene(&order).map_err(|error| refused(&error))?.0, stash)
        }
        Err(StockError::Scene(error)) => Err(refused(&error)),
    }
}

fn refused(error: &SceneError) -> Refusal {
    Refusal { what: error.to_string(), hint: "leave this stash out, or add to it" }
}

/// The plan with what the stash has of each fabric and on hand, within that where its pieces can be.
fn of_stash(plan: Plan, stash: &Stash) -> Result<Plan, Refusal> {
    let plan = Plan { fabrics: stash.fabrics(), hand: stash.hand.clone(), ..plan };
    let counts = plan.fabrics.iter().any(|fabric| fabric.supply.is_some()) || !plan.hand.is_empty();
    if counts { recolour(&plan).map_err(|error| refused(&error)) } else { Ok(plan) }
}

/// Every stash with a name of its own, from its file's.
fn stashes(paths: &[PathBuf]) -> Result<Vec<(String, Stash)>, Failure> {
    if paths.len() > MOST_STASHES {
        let what = format!("{} stashes are too many for one sheet", paths.len());
        return Err(Failure::new(what).hint(format!("try up to {MOST_STASHES} at a time")));
    }
    let mut files: Vec<PathBuf> = Vec::new();
    let mut stashes: Vec<(String, Stash)> = Vec::new();
    for path in paths {
        let stash = read_stash(path)?;
        let file = path.canonicalize().unwrap_or_else(|_| path.clone());
        if files.contains(&file) {
            return Err(Failure::at(path, "is given twice").hint("name each stash once"));
        }
        files.push(file);
        let taken: Vec<&str> = stashes.iter().map(|(name, _)| name.as_str()).collect();
        let name = apart(&stem(path), &taken);
        stashes.push((name, stash));
    }
    Ok(stashes)
}

/// A file's name without what comes after its dot, safe as a part of another.
fn stem(path: &Path) -> String {
    let stem = path.file_stem().map(|stem| stem.to_string_lossy().into_owned()).unwrap_or_default();
    let safe = |c: char| if c.is_alphanumeric() || "-_.()+ ".contains(c) { c } else { '-' };
    let stem: String = stem.chars().map(safe).take(60).collect();
    match stem.trim().trim_start_matches('.') {
        "" => "stash".into(),
        stem => stem.into(),
    }
}

/// The name, numbered where it is taken; great and small letters count as one.
fn apart(name: &str, taken: &[&str]) -> String {
    let free = |name: &String| !taken.iter().any(|other| other.to_lowercase() == name.to_lowercase());
    let numbered = (2..).map(|number: u32| format!("{name}-{number}"));
    std::iter::once(name.to_owned()).chain(numbered).find(free).unwrap_or_default()
}

/// The ranking in a few lines.
fn account(audition: &Audition, names: &[&str], out: &Path) -> String {
    let how = if audition.afresh { "composed afresh with each stash" } else { "the same pieces in each stash" };
    let mut text = format!("{}, {how}\n", audition.planned.request.picture);
    for entry in &audition.entries {
        let figures = figures(&entry.likeness).map(|(label, figure)| format!("{label} {figure}"));
        let _ = writeln!(text, "  {}. {}: {}", entry.rank, entry.name, figures.join(", "));
        entry.why.iter().for_each(|why| {
            let _ = writeln!(text, "     {why}");
        });
    }
    let mut line = |name: &str, words: &str| {
        let _ = writeln!(text, "  {name:<10}{words}");
    };
    line("rule", RULE);
    line("figures", FIGURES);
    let fixed = audition.planned.placed().iter().filter(|unit| unit.unit.state != State::Free).count();
    if fixed > 0 {
        line("note", &format!("{fixed} units of the plan are kept or sewn: this is a trial, and keeps none of them"));
    }
    line("written", &format!("{} in {}", names.join(", "), out.display()));
    text
}
