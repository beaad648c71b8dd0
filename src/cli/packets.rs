//! `packets`: a scene shared out among sewers.

use std::path::{Path, PathBuf};

use clap::Args;
use rowscape::job::{self, MOST_SEWERS, packet_files};
use rowscape::render;

use super::compose::{Drawn, bytes};
use super::folder::Folder;
use super::given::Given;
use super::read::read_plan;
use super::{Failure, screen};

const EXAMPLES: &str = "Examples:
  rowscape packets lighthouse --sewers 4 --out lighthouse-packets";

#[derive(Args)]
#[command(after_help = EXAMPLES)]
pub struct PacketsArguments {
    /// The scene: any plan.json, or the folder that holds it
    pub(super) plan: PathBuf,
    /// How many sew it: each gets neighbouring rows, as even as can be, and columns whole where that is nearly as even
    #[arg(long, value_name = "COUNT", value_parser = clap::value_parser!(u32).range(1..=i64::from(MOST_SEWERS)))]
    sewers: u32,
    /// Folder to write the pages into; made if it is not there
    #[arg(long, value_name = "FOLDER")]
    pub(super) out: PathBuf,
    /// Write over packets that the folder holds
    #[arg(long)]
    replace: bool,
    #[command(flatten)]
    drawn: Drawn,
}

pub fn run(arguments: &PacketsArguments) -> Result<String, Failure> {
    let (plan, _) = read_plan(&arguments.plan)?;
    let given = Given { plan: Some(&arguments.plan), ..Given::default() };
    let names = packet_files(arguments.sewers);
    let names: Vec<&str> = names.iter().map(String::as_str).collect();
    let reading: Vec<&Path> = if arguments.plan.is_dir() { Vec::new() } else { vec![&arguments.plan] };
    let folder = Folder::open(&arguments.out, &names, arguments.replace, &reading)?;
    let shared = job::packets(&plan, arguments.sewers, &arguments.drawn.options(), &screen::watch());
    let shared = shared.map_err(|error| given.failure(error))?;
    folder.write(&bytes(&shared.files))?;
    let written = format!("{} in {}", names.join(", "), arguments.out.display());
    Ok(render::packets_account(&shared.packets, &plan, &written))
}
