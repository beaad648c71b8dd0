//! The page in the browser: built, and tried in a real one.

use std::path::Path;
use std::process::{Command, Output};

fn cargo(arguments: &[&str]) -> Output {
    let mut cargo = Command::new(env!("CARGO"));
    cargo.args(arguments).current_dir(env!("CARGO_MANIFEST_DIR")).output().expect("cargo runs: it runs this")
}

fn said(output: &Output) -> String {
    [&output.stdout, &output.stderr].map(|bytes| String::from_utf8_lossy(bytes)).join("\n")
}

/// Where Node, npm or Chromium is missing, this fails with the line that installs it.
#[test]
fn it_is_built_and_passes_its_tests_in_a_real_browser() {
    let built = cargo(&["page", "--tests"]);
    assert!(built.status.success(), "{}", said(&built));
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let tests = root.join("src/page/node_modules/.page/all.mjs");
    let mut node = Command::new("node");
    node.arg("--test").arg("--test-reporter=spec").arg(tests).env("ROWSCAPE_ROOT", root);
    let tried = node.output().expect("node runs: the page was just built with it");
    let said = said(&tried);
    assert!(tried.status.success(), "{said}");
    let passed = said.lines().find_map(|line| line.trim().strip_prefix("ℹ pass ")?.parse::<u32>().ok());
    assert!(passed.is_some_and(|passed| passed >= 16), "{said}");
}
