//! `stash families`: families proposed by colour, written into the file.

use std::fmt::Write;
use std::path::PathBuf;

use clap::Args;
use rowscape::fabric::{Proposal, Stash};
use rowscape::job;

use super::file::{free, write};
use crate::cli::Failure;
use crate::cli::read::{read_stash, stash_failure};

#[derive(Args)]
#[command(
    after_help = "Examples:\n  rowscape stash families my-fabrics.toml\n  rowscape stash families my-fabrics.toml --out my-families.toml"
)]
pub struct FamiliesArguments {
    /// The stash, a TOML file
    pub(super) file: PathBuf,
    /// Write the stash with its families here; without it, it is printed
    #[arg(long, value_name = "FILE")]
    pub(super) out: Option<PathBuf>,
    /// Write over a file that is there
    #[arg(long)]
    replace: bool,
}

pub fn run(arguments: &FamiliesArguments) -> Result<String, Failure> {
    let path = &arguments.file;
    let text = read_stash(path)?;
    let proposal = job::group(&text).map_err(|error| stash_failure(path, &text, &error))?;
    let Some(out) = &arguments.out else { return Ok(proposal.text) };
    free(out, arguments.replace, path)?;
    let stash = Stash::read(&proposal.text).map_err(|error| stash_failure(out, &proposal.text, &error))?;
    write(out, proposal.text.as_bytes())?;
    Ok(format!("{}\n{}  {:<10}{}\n", path.display(), account(&stash, &proposal), "written", out.display()))
}

/// Each family with its fabrics, new ones first in the file's order.
fn account(stash: &Stash, proposal: &Proposal) -> String {
    if proposal.added.is_empty() {
        return "  every fabric has a family already: nothing was added\n".into();
    }
    let mut families: Vec<&str> = Vec::new();
    for (_, family) in &proposal.added {
        if !families.contains(&family.as_str()) {
            families.push(family);
        }
    }
    let mut text = String::new();
    for family in families {
        let prints = stash.prints.iter().filter(|fabric| fabric.family == family);
        let named: Vec<String> = prints.map(|fabric| format!("{} {}", fabric.letter, fabric.name)).collect();
        let _ = writeln!(text, "  {family}: {}", named.join(", "));
    }
    text
}
