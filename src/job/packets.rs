//! A scene in packets for several sewers.

use super::error::JobError;
use super::files::File;
use crate::make::{Packets, make, packets as shared_out};
use crate::plan::{self, Plan};
use crate::render::{self, Options};
use crate::watch::{Stage, Watch};

/// Most sewers of one scene.
pub const MOST_SEWERS: u32 = 60;

/// A scene shared out.
#[derive(Clone, Debug)]
#[cfg_attr(not(feature = "internals"), non_exhaustive)]
pub struct SharedOut {
    /// What each sewer gets, makes and hands back.
    pub packets: Packets,
    /// The pages, as [`file_names`] names them, and the plan that vouches for them.
    pub files: Vec<File>,
}

/// The names of all files for so many sewers.
pub fn file_names(sewers: u32) -> Vec<String> {
    let pages = (1..=sewers).map(|number| format!("packet-{number}.html"));
    ["packets.html".to_owned()].into_iter().chain(pages).chain(["packets.plan.json".to_owned()]).collect()
}

/// Shares a scene out among so many sewers: a page for each, and one for whoever cuts, hands out and joins.
pub fn packets(plan: &Plan, sewers: u32, options: &Options, watch: &Watch) -> Result<SharedOut, JobError> {
    watch.begins(Stage::Files, 1, 1)?;
    if !(1..=MOST_SEWERS).contains(&sewers) {
        return Err(JobError::Sewers { asked: sewers, most: MOST_SEWERS });
    }
    let work = make(plan);
    let few = || JobError::Sewers { asked: sewers, most: u32::try_from(work.rows.len()).unwrap_or(MOST_SEWERS) };
    let packets = shared_out(plan, &work, sewers as usize).ok_or_else(few)?;
    let mut pages = vec![render::packets_list(plan, &work, &packets, options)];
    for at in 0..packets.packets.len() {
        watch.go_on()?;
        pages.push(render::packet_list(plan, &work, &packets, at, options));
    }
    let names = file_names(sewers);
    let written: Vec<(&str, &[u8])> =
        names.iter().map(String::as_str).zip(pages.iter().map(String::as_bytes)).collect();
    let plan = plan::write_with(plan, &written);
    let bytes = pages.into_iter().chain([plan]).map(String::into_bytes);
    let files = names.into_iter().zip(bytes).map(|(name, bytes)| File { name, bytes }).collect();
    Ok(SharedOut { packets, files })
}
