//! `audition`: one scene in several stashes, on a contact sheet.

use std::path::{Path, PathBuf};

use clap::Args;
use rowscape::job::{self, Candidate, audition_files};
use rowscape::render;

use super::compose::bytes;
use super::folder::Folder;
use super::given::Given;
use super::read::{read_plan, read_stash};
use super::{Failure, screen};

const EXAMPLES: &str = "Examples:
  rowscape audition lighthouse --stash sample-sketches/stash-cottage.toml --stash my-fabrics.toml --out trials
  rowscape audition lighthouse/plan.json --stash sample-sketches/stash-harbour.toml --afresh --out afresh";

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
    let candidates: Vec<Candidate> = stashes.iter().map(|(name, stash)| Candidate { name, stash }).collect();
    let names = audition_files(candidates.iter().map(|candidate| candidate.name));
    let names: Vec<&str> = names.iter().map(String::as_str).collect();
    let plan = arguments.plan.join("plan.json");
    let plan = if arguments.plan.is_dir() { &plan } else { &arguments.plan };
    let reading: Vec<&Path> = std::iter::once(plan).chain(&arguments.stash).map(PathBuf::as_path).collect();
    let given = Given {
        stashes: arguments.stash.iter().map(PathBuf::as_path).zip(stashes.iter().map(|(_, text)| text)).collect(),
        plan: Some(plan),
        ..Given::default()
    };
    let folder = Folder::open(&arguments.out, &names, arguments.replace, &reading)?;
    let tried = job::audition(&planned, &candidates, arguments.afresh, &screen::watch());
    let tried = tried.map_err(|error| given.failure(error))?;
    folder.write(&bytes(&tried.files))?;
    let written = format!("{} in {}", names.join(", "), arguments.out.display());
    Ok(render::auditions_account(&tried.audition, &written))
}

/// The text of every stash with a name of its own, from its file's.
fn stashes(paths: &[PathBuf]) -> Result<Vec<(String, String)>, Failure> {
    let mut files: Vec<PathBuf> = Vec::new();
    let mut stashes: Vec<(String, String)> = Vec::new();
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
