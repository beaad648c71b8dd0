//! Every file of a scene from its plan, proved before it is given.

use super::error::JobError;
use crate::make::{Work, make};
use crate::plan::{self, Plan};
use crate::proof::{Files, Folder, Proven, prove_folder};
use crate::render::{self, Options};
use crate::watch::{Stage, Watch};

/// The files of a scene, in the order in which they are written.
pub const FILES: [&str; 8] = [
    "plan.json",
    "picture.svg",
    "picture.png",
    "build-list.html",
    "rows.csv",
    "cutting.csv",
    "cloth.csv",
    "leftovers.toml",
];

/// The stencil, written last of a quilt in half circles.
pub const STENCIL: &str = "stencil.svg";

/// The scene in its fabrics as they were photographed, written after all others where any was.
pub const PRINTS: &str = "prints.png";

/// A file to be written.
#[derive(Clone, Debug, PartialEq, Eq)]
#[cfg_attr(not(feature = "internals"), non_exhaustive)]
pub struct File {
    /// Its name.
    pub name: String,
    /// Its bytes.
    pub bytes: Vec<u8>,
}

/// All that a plan gives.
#[derive(Clone, Debug)]
#[cfg_attr(not(feature = "internals"), non_exhaustive)]
pub struct Made {
    /// What is cut and sewn.
    pub work: Work,
    /// What the proof found.
    pub proven: Proven,
    /// Every file, in the order of [`FILES`], and [`STENCIL`] and [`PRINTS`] where there is one.
    pub files: Vec<File>,
}

/// What is cut and sewn for a scene, before any file of it is made.
pub fn work(plan: &Plan) -> Work {
    make(plan)
}

/// Makes the work, renders every file, and proves them as they will be read.
pub fn files(plan: &Plan, options: &Options, watch: &Watch) -> Result<Made, JobError> {
    watch.begins(Stage::Files, 1, 1)?;
    let work = make(plan);
    watch.go_on()?;
    let [rows, cutting, cloth] = tables(plan, &work)?;
    let svg = render::svg(plan, &work, options);
    watch.go_on()?;
    let png = render::png(plan, &work, options)?;
    watch.go_on()?;
    let build = render::build_list(plan, &work, options);
    watch.go_on()?;
    let leftovers = render::leftovers_toml(plan, &work);
    let written: [&[u8]; 7] = [
        svg.as_bytes(),
        &png,
        build.as_bytes(),
        rows.as_bytes(),
        cutting.as_bytes(),
        cloth.as_bytes(),
        leftovers.as_bytes(),
    ];
    let stencil = render::stencil_svg(plan);
    let prints = render::prints_png(plan, &work, options)?;
    watch.go_on()?;
    let marked = stencil.as_ref().map(|text| (STENCIL, text.as_bytes()));
    let pictured = prints.as_ref().map(|bytes| (PRINTS, &bytes[..]));
    let written: Vec<(&str, &[u8])> = FILES.into_iter().skip(1).zip(written).chain(marked).chain(pictured).collect();
    let json = plan::write_with(plan, &written);
    watch.begins(Stage::Proof, 1, 1)?;
    let files = Files { plan: &json, rows: &rows, cutting: &cutting, cloth: &cloth };
    let proven = prove_folder(&Folder {
        files,
        svg: &svg,
        png: &png,
        list: &build,
        leftovers: &leftovers,
        stencil: stencil.as_deref(),
        prints: prints.as_deref(),
    });
    let proven = proven.map_err(|fault| JobError::Proof(fault.into()))?;
    watch.go_on()?;
    let texts = [build, rows, cutting, cloth, leftovers].map(String::into_bytes);
    let bytes = [json.into_bytes(), svg.into_bytes(), png].into_iter().chain(texts);
    let stencil = stencil.map(|text| (STENCIL, text.into_bytes()));
    let prints = prints.map(|bytes| (PRINTS, bytes));
    let named = FILES.into_iter().zip(bytes).chain(stencil).chain(prints);
    let files = named.map(|(name, bytes)| File { name: name.into(), bytes }).collect();
    Ok(Made { work, proven, files })
}

/// The rows, the cutting and the cloth as they are written.
pub(super) fn tables(plan: &Plan, work: &Work) -> Result<[String; 3], JobError> {
    let options = Options::default();
    let rows = render::rows_csv(plan, work, &options)?;
    let cutting = render::cutting_csv(plan, work, &options)?;
    Ok([rows, cutting, render::cloth_csv(plan, work, &options)?])
}
