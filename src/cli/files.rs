//! `files`: every file of a scene from its plan.

use std::path::{Path, PathBuf};

use clap::Args;
use rowscape::answer::Scene;
use rowscape::fabric::{Fabric, Stash};
use rowscape::finish::Finish;
use rowscape::job::{self, FILES, PRINTS, STENCIL};
use rowscape::measure::Ruler;
use rowscape::render;

use super::compose::{Drawn, account, bytes};
use super::folder::Folder;
use super::given::Given;
use super::read::read_plan;
use super::{Failure, screen};

const EXAMPLES: &str = "Examples:
  rowscape files trials/stash-cottage.plan.json --out cottage
  rowscape files lighthouse --out lighthouse-plain --no-seams";

#[derive(Args)]
#[command(after_help = EXAMPLES)]
pub struct FilesArguments {
    /// The scene: any plan.json, or the folder that holds it
    pub(super) plan: PathBuf,
    /// Folder to write the scene into; made if it is not there
    #[arg(long, value_name = "FOLDER")]
    pub(super) out: PathBuf,
    /// Write over a scene that the folder holds
    #[arg(long)]
    replace: bool,
    #[command(flatten)]
    drawn: Drawn,
}

pub fn run(arguments: &FilesArguments) -> Result<String, Failure> {
    let (plan, _) = read_plan(&arguments.plan)?;
    let given = Given { plan: Some(&arguments.plan), ..Given::default() };
    // A plan may be written anew in its own place; another file that is read may not.
    let reading: Vec<&Path> = if arguments.plan.is_dir() { Vec::new() } else { vec![&arguments.plan] };
    let names = names(&arguments.out, &plan.request.finish, plan.request.ruler, pictured(&plan.fabrics.raw))?;
    let folder = Folder::open(&arguments.out, &names, arguments.replace, &reading)?;
    let made = job::files(&plan, &arguments.drawn.options(), &screen::watch());
    let made = made.map_err(|error| given.failure(error))?;
    folder.holding(&made.files).write(&bytes(&made.files))?;
    let scene = Scene::from(plan);
    Ok(render::scene_account(&scene, &made.work, &made.proven, &account(&arguments.out, &made.files)))
}

/// The files of a scene that is finished so, whose fabrics may be `pictured`. What the scene before had beyond these is
/// not left beside it.
pub fn names(out: &Path, finish: &Finish, ruler: Ruler, pictured: bool) -> Result<Vec<&'static str>, Failure> {
    let also = [
        (STENCIL, finish.stencil(ruler).is_some(), "is of another scene, and this one has no stencil"),
        (PRINTS, pictured, "is of another scene, whose fabrics were photographed"),
    ];
    if let Some((name, _, what)) = also.iter().find(|(name, due, _)| !due && out.join(name).exists()) {
        return Err(Failure::at(&out.join(name), *what).hint("move it elsewhere, or give another folder"));
    }
    Ok(FILES.into_iter().chain(also.iter().filter(|(_, due, _)| *due).map(|(name, ..)| *name)).collect())
}

/// Whether any of these was photographed.
pub fn pictured(fabrics: &[Fabric]) -> bool {
    fabrics.iter().any(|fabric| fabric.thumbnail.is_some())
}

/// Whether any fabric of a stash file was.
pub fn pictured_in(stash: &str) -> bool {
    Stash::read(stash).is_ok_and(|stash| pictured(&stash.prints.raw))
}
