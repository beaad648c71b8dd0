//! Plan files: what is written is read again, and nothing else is taken for a plan.

use proptest::prelude::*;
use rowscape::fabric::{Print, Stash, is_unprintable};
use rowscape::make::make;
use rowscape::measure::Ruler;
use rowscape::plan::{Plan, PlanError, Request, read, write};
use rowscape::render::{Options, build_list, leftovers_toml, rows_csv, svg};
use serde_json::{Value, json};

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

/// What a stash may not hold, a plan from elsewhere may not either.
#[test]
fn a_plan_is_read_as_warily_as_a_stash() {
    let refused = |pointer: &str, new: Value| {
        let mut plan: Value = serde_json::from_str(composed()).unwrap();
        *plan.pointer_mut(pointer).unwrap() = new.clone();
        let error = read(&plan.to_string()).expect_err(&format!("{pointer} {new}"));
        assert!(!error.to_string().chars().any(is_unprintable), "{error}");
    };
    let long = "sea".repeat(30);
    let hidden = ["sea\nglass", "sea\u{1b}[2J", "\u{202e}sea", "sea\u{200b}glass", "sea\u{feff}", "sea\u{2028}"];
    for name in hidden.into_iter().chain(["", " sea", long.as_str()]) {
        refused("/fabrics/0/name", name.into());
        refused("/fabrics/0/family", name.into());
    }
    let twin = plan().fabrics[Print(1)].name.to_uppercase();
    refused("/fabrics/0/name", twin.into());
    ["", "ABCD", "é", "A\u{200b}"].into_iter().for_each(|letter| refused("/fabrics/0/letter", letter.into()));
    for picture in ["sail\u{202e}gnp.exe", "sail\n.png", &"sail".repeat(90)] {
        refused("/request/picture", picture.into());
    }
    refused("/request/crop", "whole\u{1b}[31m".into());
    let supplied = |supply: Value| {
        let mut fabric: Value = serde_json::to_value(&plan().fabrics[Print(0)]).unwrap();
        fabric["supply"] = supply;
        fabric
    };
    let supply = |squares: Value, quarters: u64| json!({ "squares": squares, "yardage": [], "fat_quarters": quarters, "oddments": [] });
    refused("/fabrics/0", supplied(supply(json!([]), 100_001)));
    for (size, count) in [("-10 in", 4), ("0 in", 4), ("51 m", 4), ("10 in", 100_001)] {
        refused("/fabrics/0", supplied(supply(json!([{ "size": size, "count": count }]), 0)));
    }
    let many = vec![json!({ "size": "10 in", "count": 1 }); Stash::MOST_ENTRIES + 1];
    refused("/fabrics/0", supplied(supply(many.into(), 0)));
}

/// Whatever name a plan may hold is shown as it is, and leftovers are the stash of it.
#[test]
fn odd_names_come_through_every_file() {
    let names = ["\"night\" \\ sea", "<b>&amp;</b>", "# = [[fabric]]", "\'\'\'", "=1+1", "海 → é", "🧵", "${x} `x` %s"];
    for name in names {
        let mut plan = plan();
        plan.fabrics[Print(0)].name = name.into();
        let plan = read(&write(&plan)).unwrap_or_else(|error| panic!("{name}: {error}"));
        let (work, options) = (make(&plan), Options::default());
        let left = Stash::read(&leftovers_toml(&plan, &work)).unwrap();
        assert_eq!(left.prints[Print(0)].name, name);
        let list = build_list(&plan, &work, &options);
        assert!(!list.contains("<b>&") && !list.chars().any(|c| c != '\n' && is_unprintable(c)), "{name}");
        assert!(roxmltree::Document::parse(&svg(&plan, &work, &options)).is_ok());
        assert!(rows_csv(&plan, &work, &options).is_ok());
    }
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

/// The least side is 1 1/2 in or 3 cm where no whole unit is lost by that and the grid has it.
#[test]
fn narrow_pieces_are_for_squares_that_give_no_others() {
    let least = |ruler: Ruler, square: &str, grid: &str| {
        let (squares, grid) = (vec![square.parse().unwrap()], grid.parse().unwrap());
        ruler.show(Request { squares, grid, ..Request::usual(ruler) }.usual_least())
    };
    assert_eq!(least(Ruler::Inch, "10in", "1/2in"), "1 1/2 in");
    // 5 in squares give 4, 2 1/2 and 1 1/2 in; 3 in squares 2 1/2, 1 1/2 and 1 in.
    assert_eq!(least(Ruler::Inch, "10in/4", "1/2in"), "1 1/2 in");
    assert_eq!(least(Ruler::Inch, "3in", "1/2in"), "1 in");
    assert_eq!(least(Ruler::Inch, "10in", "1in"), "1 in");
    assert_eq!(least(Ruler::Metric, "25cm", "1cm"), "3 cm");
}
