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
    let [rows, cutting, cloth] = tables(&plan, &work)?;
    let svg = render::svg(&plan, &work, &options);
    let png = render::png(&plan, &work, &options).map_err(Failure::new)?;
    let build = render::build_list(&plan, &work, &options);
    let leftovers = render::leftovers_toml(&plan, &work);
    let texts = [&build, &rows, &cutting, &cloth, &leftovers].map(|text| text.as_bytes());
    let written = [svg.as_bytes(), &png].into_iter().chain(texts);
    let written: Vec<(&str, &[u8])> = FILES.into_iter().skip(1).zip(written).collect();
    let json = rowscape::plan::write_with(&plan, &written);
    let files = Files { plan: &json, rows: &rows, cutting: &cutting, cloth: &cloth };
    let folder = Folder { files, svg: &svg, png: &png, leftovers: &leftovers };
    let proven = prove_folder(&folder).map_err(|fault| failed(&fault))?;
    let texts = [build, rows, cutting, cloth, leftovers].map(String::into_bytes);
    let contents = [json.into_bytes(), svg.into_bytes(), png].into_iter().chain(texts).collect();
    Ok((Made { plan, work, proven, notes }, contents))
}

/// The rows, the cutting and the cloth as they are written.
pub fn tables(plan: &Plan, work: &Work) -> Result<[String; 3], Failure> {
    let options = Options::default();
    let rows = render::rows_csv(plan, work, &options).map_err(Failure::new)?;
    let cutting = render::cutting_csv(plan, work, &options).map_err(Failure::new)?;
    let cloth = render::cloth_csv(plan, work, &options).map_err(Failure::new)?;
    Ok([rows, cutting, cloth])
}

/// Sews on paper a plan as it is written, with its tables.
pub fn sewn(plan: &str, [rows, cutting, cloth]: [&str; 3]) -> Result<Proven, Failure> {
    prove(&Files { plan, rows, cutting, cloth }).map_err(|fault| failed(&fault))
}

fn failed(fault: &Fault) -> Failure {
    Failure::new(format!("the proof failed, nothing was written: {fault}"))
        .hint("this is a fault of the program, please report it")
}
