//! Plan files: what is written is read again, and nothing else is taken for a plan.

use proptest::prelude::*;
use rowscape::plan::{Plan, PlanError, read, write};

fn composed() -> &'static str {
    static TEXT: std::sync::OnceLock<String> = std::sync::OnceLock::new();
    TEXT.get_or_init(|| {
        let folder = tempfile::tempdir().unwrap();
        let root = env!("CARGO_MANIFEST_DIR");
        let run = std::process::Command::new(env!("CARGO_BIN_EXE_rowscape"))
            .arg("compose")
            .arg(format!("{root}/sample-sketches/moonrise-sail.png"))
            .args(["--width", "18in", "--square", "10in/4", "--focus", "auto", "--out"])
            .arg(folder.path().join("out"))
            .output()
            .unwrap();
        assert!(run.status.success(), "{}", String::from_utf8_lossy(&run.stderr));
        std::fs::read_to_string(folder.path().join("out/plan.json")).unwrap()
    })
}

fn plan() -> Plan {
    read(composed()).unwrap()
}

#[test]
fn what_is_written_is_read_again() {
    let (bare, written) = composed().split_once(",\n  \"written\": {").unwrap();
    assert!(written.ends_with("\"\n  }\n}\n"), "what was written with it comes last");
    assert!(write(&plan()) == format!("{bare}\n}}\n"), "all else is said again");
    let mut fine = plan();
    fine.focus.clear();
    assert_eq!(read(&write(&fine)).unwrap(), fine);
}

#[test]
fn other_files_are_refused_with_the_reason() {
    let text = composed();
    let refused = |from: &str, to: &str| read(&text.replacen(from, to, 1)).unwrap_err();
    assert!(matches!(refused("\"version\": 1", "\"version\": 9"), PlanError::Version(9)));
    assert!(matches!(refused("rowscape-plan", "bread-recipe"), PlanError::Foreign(name) if name == "bread-recipe"));
    assert!(matches!(refused("\"width\": \"18 in\"", "\"width\": \"18.3 in\""), PlanError::Request(_)));
    assert!(matches!(refused("\"1.1.1.1\"", "\"1.1.1.2\""), PlanError::Inconsistent { at, .. } if at == "1.1.1.1"));
}

/// Seeds of the fuzz target that are whole plans.
#[test]
fn kept_plans_are_read() {
    for name in ["inch", "metric", "columns"] {
        let path = format!("{}/fuzz/corpus/plan/{name}.json", env!("CARGO_MANIFEST_DIR"));
        let plan = read(&std::fs::read_to_string(path).unwrap()).unwrap_or_else(|error| panic!("{name}: {error}"));
        assert_eq!(read(&write(&plan)).unwrap(), plan);
    }
}

#[test]
fn lists_without_end_and_parts_without_size_are_refused() {
    let text = composed();
    let many = format!("\"strips\": [{}", "\"1 in\", ".repeat(50));
    let refused = |from: &str, to: &str| read(&text.replacen(from, to, 1)).unwrap_err().to_string();
    assert!(refused("\"strips\": [", &many).contains("48 are the most"));
    let empty = "\"bands\": [{\"height\": 0, \"columns\": []},";
    assert!(refused("\"bands\": [", empty).contains("sum to 0 cells"));
    let band = "\"bands\": [{\"height\": 0, \"columns\": [{\"width\": 36, \"rows\": []}]},";
    assert!(refused("\"bands\": [", band).contains("column 1.1: it has no size"));
    let column = "\"columns\": [{\"width\": 0, \"rows\": []},";
    assert!(refused("\"columns\": [", column).contains("must make"));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    /// Any number in the plan may become any other: an answer comes, and what is read holds together.
    #[test]
    fn any_number_may_change(which in 0..4_000_usize, to in prop_oneof![0..40_u64, any::<u64>()]) {
        let text = composed();
        let starts: Vec<usize> = text.match_indices(": ").map(|(at, _)| at + 2)
            .filter(|at| text.as_bytes()[*at].is_ascii_digit()).collect();
        let at = starts[which % starts.len()];
        let end = at + text[at..].bytes().take_while(u8::is_ascii_digit).count();
        if let Ok(plan) = read(&format!("{}{to}{}", &text[..at], &text[end..])) {
            let (width, height) = plan.request.cells();
            let area: u64 = plan.placed().iter().map(|p| u64::from(p.unit.width) * u64::from(p.height)).sum();
            prop_assert_eq!(area, u64::from(width) * u64::from(height));
        }
    }

    #[test]
    fn any_cut_text_is_refused(part in 0.0..1.0_f64) {
        let text = composed().trim_end();
        let at = ((text.len() as f64) * part) as usize;
        prop_assert!(read(&text[..at]).is_err());
    }
}
