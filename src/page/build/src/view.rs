//! The view: types checked, then bundled.

use std::path::Path;
use std::process::Command;

use crate::Places;
use crate::tools::{Wrong, of_node, run};

fn esbuild(places: &Places, from: &str, to: &Path) -> Command {
    let mut command = Command::new(places.page.join("node_modules/esbuild/bin/esbuild"));
    command.current_dir(&places.page).arg(from).arg(format!("--outfile={}", to.display()));
    command.args(["--bundle", "--log-level=warning", "--charset=utf8", "--tsconfig=tsconfig.json"]);
    command
}

/// Writes `worker.txt`, `view.js` and `style.css`.
pub fn build(places: &Places) -> Result<(), Wrong> {
    let built = places.out.join("built");
    let minified = ["--minify", "--format=iife", "--target=es2022"];
    let worker = built.join("worker.txt");
    run(esbuild(places, "view/engine/worker.ts", &worker).args(minified))?;
    run(of_node(places, "typescript/bin/tsc").args(["--noEmit", "--project", "tsconfig.json"]))?;
    let loaders = ["--loader:.txt=text", "--loader:.png=binary", "--loader:.jpg=binary"];
    run(esbuild(places, "view/main.tsx", &built.join("view.js")).args(minified).args(loaders))?;
    run(esbuild(places, "view/style/all.css", &built.join("style.css")).arg("--minify"))
}

/// Writes the browser tests, its pictures and its bench as they are run, beside the packages that they use.
pub fn tests(places: &Places) -> Result<(), Wrong> {
    run(of_node(places, "typescript/bin/tsc").args(["--noEmit", "--project", "tests/tsconfig.json"]))?;
    for name in ["all", "gallery", "speed"] {
        let out = places.page.join(format!("node_modules/.page/{name}.mjs"));
        let as_run = ["--format=esm", "--platform=node", "--target=node20", "--packages=external"];
        run(esbuild(places, &format!("tests/{name}.ts"), &out).args(as_run))?;
    }
    Ok(())
}
