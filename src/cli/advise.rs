//! `advise`: questions about a scene that change nothing.

use std::path::PathBuf;

use clap::Args;
use rowscape::job;
use rowscape::job::TopPart;
use rowscape::measure::Length;
use rowscape::render;

use super::given::Given;
use super::read::read_plan;
use super::request::{Measured, measured};
use super::{Failure, screen};

const EXAMPLES: &str = "Examples:
  rowscape advise lighthouse --row 2.1.3 --measures '22 1/4in'
  rowscape advise lighthouse --one-more";

#[derive(Args)]
#[command(after_help = EXAMPLES)]
#[group(id = "question", required = true)]
pub struct AdviseArguments {
    /// The scene: its plan.json, or the folder that holds it
    pub(super) plan: PathBuf,
    /// A row that came out too long or too short: what to do about it
    #[arg(long, value_name = "ROW", requires = "measures", group = "asked")]
    row: Option<TopPart>,
    /// What that row measures from raw edge to raw edge
    #[arg(long, value_name = "LENGTH", requires = "row", value_parser = measured::<Length>)]
    measures: Option<Measured<Length>>,
    /// What one more square or one more print would do to a scene within a stash: the best three
    #[arg(long, group = "asked")]
    one_more: bool,
}

pub fn run(arguments: &AdviseArguments) -> Result<String, Failure> {
    let (plan, _) = read_plan(&arguments.plan)?;
    let given = Given { plan: Some(&arguments.plan), ..Given::default() };
    let ruler = plan.request.ruler;
    match (&arguments.row, &arguments.measures) {
        (Some(TopPart::Row(band, column, row)), Some(measured)) => {
            let at = rowscape::plan::Address { band: *band, column: *column, row: *row, unit: 1 };
            let remedy = job::remedy(&plan, at, measured.value).map_err(|error| given.failure(error))?;
            Ok(render::remedy_words(&remedy, at, ruler))
        }
        (Some(_), _) => Err(Failure::new("--row takes one row").hint("write band, column and row: 2.1.3")),
        _ if plan.fabrics.iter().all(|fabric| fabric.supply.is_none()) => {
            let none = "the scene's fabrics have no counts: there is as much of each as it wants";
            Err(Failure::new(none).hint("ask so of a scene within a stash, as `compose --stash` makes it"))
        }
        _ => {
            let found = job::one_more(&plan, &screen::watch()).map_err(|error| given.failure(error))?;
            Ok(render::one_more_words(&found, ruler))
        }
    }
}
