//! All that one command makes.

use rowscape::make::{Work, make};
use rowscape::plan::Plan;
use rowscape::proof::{Fault, Files, Folder, Proven, prove, prove_folder};
use rowscape::render::{self, Options};

use super::Failure;

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

/// All that one command makes, before it is written.
pub struct Made {
    pub plan: Plan,
    pub work: Work,
    pub proven: Proven,
    pub notes: Vec<String>,
}

/// Makes the work, renders every file, and proves them as they will be read.
pub fn write_down(plan: Plan, notes: Vec<String>, seams: bool) -> Result<(Made, Vec<Vec<u8>>), Failure> {
    let work = make(&plan);
    let options = Options { seams, ..Options::default() };
    let [json, rows, cutting, cloth] = texts(&plan, &work)?;
    let svg = render::svg(&plan, &work, &options);
    let png = render::png(&plan, &work, &options).map_err(Failure::new)?;
    let leftovers = render::leftovers_toml(&plan, &work);
    let files = Files { plan: &json, rows: &rows, cutting: &cutting, cloth: &cloth };
    let proven =
        prove_folder(&Folder { files, svg: &svg, png: &png, leftovers: &leftovers }).map_err(|f| failed(&f))?;
    let contents = vec![
        json.into_bytes(),
        svg.into_bytes(),
        png,
        render::build_list(&plan, &work, &options).into_bytes(),
        rows.into_bytes(),
        cutting.into_bytes(),
        cloth.into_bytes(),
        leftovers.into_bytes(),
    ];
    Ok((Made { plan, work, proven, notes }, contents))
}

/// The plan, its rows, its cutting and its cloth as they are written, once they were sewn on paper.
pub fn prove_plan(plan: &Plan, work: &Work) -> Result<([String; 4], Proven), Failure> {
    let texts = texts(plan, work)?;
    let [json, rows, cutting, cloth] = &texts;
    let proven = prove(&Files { plan: json, rows, cutting, cloth }).map_err(|fault| failed(&fault))?;
    Ok((texts, proven))
}

fn texts(plan: &Plan, work: &Work) -> Result<[String; 4], Failure> {
    let options = Options::default();
    let json = rowscape::plan::write(plan);
    let rows = render::rows_csv(plan, work, &options).map_err(Failure::new)?;
    let cutting = render::cutting_csv(plan, work, &options).map_err(Failure::new)?;
    let cloth = render::cloth_csv(plan, work, &options).map_err(Failure::new)?;
    Ok([json, rows, cutting, cloth])
}

fn failed(fault: &Fault) -> Failure {
    Failure::new(format!("the proof failed, nothing was written: {fault}"))
        .hint("this is a fault of the program, please report it")
}
