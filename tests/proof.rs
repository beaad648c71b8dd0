//! Sewing on paper what was written: whole cases worked out by hand, and every way to spoil them.
//!
//! Sizes and outlines of the cases follow from the design's sewing table by hand: 10 in squares with a 1/4 in seam
//! finish 9, 6 and 4 in; 18.5 cm squares with a 0.75 cm seam finish 10.5 cm, four at a time.

use proptest::prelude::*;
use rowscape::proof::{Fault, Files, Proven, prove};

#[derive(Clone)]
struct Case {
    plan: String,
    rows: String,
    cutting: String,
    cloth: String,
}

macro_rules! case {
    ($name:literal) => {
        Case {
            plan: include_str!(concat!("proof_cases/", $name, "/plan.json")).into(),
            rows: include_str!(concat!("proof_cases/", $name, "/rows.csv")).into(),
            cutting: include_str!(concat!("proof_cases/", $name, "/cutting.csv")).into(),
            cloth: include_str!(concat!("proof_cases/", $name, "/cloth.csv")).into(),
        }
    };
}

fn inch() -> Case {
    case!("inch")
}

fn metric() -> Case {
    case!("metric")
}

#[derive(Clone, Copy, Debug, PartialEq)]
enum Of {
    Plan,
    Rows,
    Cutting,
    Cloth,
}
use Of::{Cloth, Cutting, Plan, Rows};

impl Case {
    fn prove(&self) -> Result<Proven, Fault> {
        prove(&Files { plan: &self.plan, rows: &self.rows, cutting: &self.cutting, cloth: &self.cloth })
    }

    fn text(&mut self, file: Of) -> &mut String {
        match file {
            Plan => &mut self.plan,
            Rows => &mut self.rows,
            Cutting => &mut self.cutting,
            Cloth => &mut self.cloth,
        }
    }

    /// The case with `old`, which must stand exactly once, made `new`.
    fn with(mut self, file: Of, old: &str, new: &str) -> Self {
        let text = self.text(file);
        assert_eq!(text.matches(old).count(), 1, "`{old}`");
        *text = text.replace(old, new);
        self
    }

    fn without_lines(mut self, file: Of, starts: &[&str]) -> Self {
        let text = self.text(file);
        let before = text.lines().count();
        let kept = text.lines().filter(|line| !starts.iter().any(|start| line.starts_with(start)));
        *text = kept.map(|line| format!("{line}\n")).collect();
        assert!(text.lines().count() < before, "{starts:?}");
        self
    }

    fn with_line_twice(mut self, file: Of, start: &str) -> Self {
        let text = self.text(file);
        let line = text.lines().find(|line| line.starts_with(start)).unwrap().to_owned() + "\n";
        *text = text.replace(&line, &line.repeat(2));
        self
    }

    #[track_caller]
    fn fails(self, at: &str, what: &str) {
        let fault = self.prove().expect_err("it must not prove");
        assert_eq!(fault.at, at, "{fault}");
        assert!(fault.what.contains(what), "{fault}");
        assert!(!fault.hint.is_empty());
    }
}

#[test]
fn a_top_in_inches_proves() {
    let proven = inch().prove().unwrap();
    let due =
        Proven { units: 9, patches: 15, rows: 5, columns: 3, bands: 2, fillers: 3, offcuts: 1, squares: 6, sheets: 9 };
    assert_eq!(proven, due);
    assert_eq!(
        proven.to_string(),
        "cut and sewn on paper: 9 units in 5 rows from 6 squares and 3 fillers, out of 9 pieces of cloth, all 15 patches as planned"
    );
}

#[test]
fn a_top_in_centimetres_proves() {
    let proven = metric().prove().unwrap();
    assert_eq!((proven.units, proven.patches, proven.offcuts, proven.squares), (4, 7, 0, 2));
    metric().with(Rows, "12,,,P1,2,right,,", "12,,,P1,2,left,,").fails("1.1.1.2", "diagonal seam");
    metric().with(Rows, "cut_width_cm", "cut_width_in").fails("rows.csv:1", "cut_width_in");
    metric().with(Cloth, "square,1,18.5,18.5,,0,3.5", "square,1,12,12,,0,3.5").fails("B-2", "not what the plan buys");
    metric().with(Rows, "P1,3.5,top", "P1,3.45,top").fails("1.1.2.1", "12 x 3.45 cm");
}

#[test]
fn quartered_squares_prove() {
    // A mini, two at a time from 10 in squares cut in four: what eight at a time gives of whole ones.
    let quartered = || {
        inch()
            .with(Cutting, "P3,A,C,eight,10,10,4.5,4.5,1,8,1,7", "P3,A,C,two,5,10,4.5,4.5,1,2,1,1")
            .with(Cloth, "A-2,A,bought square,1,10,10,,0,10,0,10,10,P3", "A-2,A,bought square,1,10,10,,0,5,0,5,5,P3")
            .with(Cloth, "C-2,C,bought square,1,10,10,,0,10,0,10,10,P3", "C-2,C,bought square,1,10,10,,0,5,0,5,5,P3")
    };
    assert_eq!(quartered().prove().map(|proven| proven.squares), Ok(6));
    quartered().with(Cutting, "two,5,10,", "two,5,5,").fails("P3", "none of those");
    quartered().with(Cutting, "two,5,10,", "two,5,20,").fails("P3", "none of those");
    quartered().with(Cutting, "two,5,10,4.5,4.5,1,2,1,1", "four,5,10,4.5,4.5,1,4,1,3").fails("P3", "give no units");
    quartered().with(Cutting, "4.5,4.5,1,2,1,1", "4.5,4.5,1,8,1,7").fails("P3", "two at a time gives 2");
    let listed = ", { \"cut\": \"5 in\", \"quartered\": true }";
    assert!(quartered().with(Plan, listed, "").prove().is_ok());
    // Quarters are not quartered again.
    quartered().with(Cutting, "two,5,10,4.5,4.5,", "two,2.5,5,1.5,1.5,").fails("P3", "none of those");
}

/// Four quarters of one fabric are one square as bought.
#[test]
fn quarters_are_counted_by_fabric() {
    let pairs = |count: u32| {
        let spare = count * 2 - 1;
        let line = format!("P3,A,C,two,5,10,4.5,4.5,{count},2,1,{spare}");
        let quarter = |letter: &str, number: u32| {
            let (sheet, place) = (2 + number / 4 * 4, number % 4);
            let (strip, at) = (place / 2 * 5, place % 2 * 5);
            format!("{letter}-{sheet},{letter},bought square,1,10,10,,{strip},5,{at},5,5,P3\n")
        };
        let quarters = |letter: &str| (0..count).map(|number| quarter(letter, number)).collect::<String>();
        inch()
            .with(Cutting, "P3,A,C,eight,10,10,4.5,4.5,1,8,1,7", &line)
            .with(Cloth, "A-2,A,bought square,1,10,10,,0,10,0,10,10,P3\n", &quarters("A"))
            .with(Cloth, "C-2,C,bought square,1,10,10,,0,10,0,10,10,P3\n", &quarters("C"))
            .prove()
            .map(|proven| (proven.squares, proven.sheets))
    };
    assert_eq!([1, 4, 5, 8, 9].map(pairs), [(6, 9), (6, 9), (8, 11), (8, 11), (10, 13)].map(Ok));
}

/// The inch case with its fillers, which all end their rows, cut an inch over.
fn spare() -> Case {
    inch()
        .with(Plan, "\"exact\"", "\"spare\"")
        .with(Cutting, "3.5,6.5,1,", "4.5,6.5,1,")
        .with(Cutting, "2.5,4.5,1,", "3.5,4.5,1,")
        .with(Cutting, "6.5,3,1,", "7.5,3,1,")
        .with(Cloth, "3.5,,0,3.5,0,6.5,3.5,F1", "6.5,,0,6.5,0,4.5,6.5,F1")
        .with(Cloth, "0,4.5,2.5,F2", "0,4.5,3.5,F2")
        .with(Cloth, "40,2.5,,0,2.5", "40,3.5,,0,3.5")
        .with(Cloth, "6.5,3,F3", "7.5,3,F3")
        .with(Rows, ",3.5,6.5,F1", ",4.5,6.5,F1")
        .with(Rows, ",2.5,4.5,F2", ",3.5,4.5,F2")
        .with(Rows, ",6.5,3,F3", ",7.5,3,F3")
        .with(Rows, "row,1.1.2,,,,,15,2.5,15.5,3,,", "row,1.1.2,,,,,15,2.5,15.5,3,16.5,3")
        .with(Rows, "row,2.1.1,,,,,9,6,9.5,6.5,", "row,2.1.1,,,,,9,6,9.5,6.5,10.5")
        .with(Rows, "row,2.2.1,,,,,6,4,6.5,4.5,", "row,2.2.1,,,,,6,4,6.5,4.5,7.5")
}

#[test]
fn spare_row_ends_are_cut_over_and_trimmed() {
    assert_eq!(spare().prove(), inch().prove());
    spare().with(Rows, "15.5,3,16.5,3", "15.5,3,15.5,3").fails("1.1.2", "before its ends are trimmed");
    spare().with(Rows, "9.5,6.5,10.5", "9.5,6.5,").fails("2.1.1", "10.5".replace(".5", " 1/2").as_str());
    spare().with(Plan, "\"spare\"", "\"exact\"").fails("1.1.2.2", "not the");
    inch().with(Plan, "\"exact\"", "\"spare\"").fails("1.1.2.2", "not the");
}

#[test]
fn only_fillers_at_row_ends_may_be_cut_over() {
    // A filler of 2 in is moved from the end of row 2.2.1 to the middle of 1.1.2 by splitting the one there.
    let split = |case: Case, over: &str| {
        case.with(Plan, "\"address\": \"1.1.2.2\", \"kind\": \"filler\", \"width\": 12, \"state\": \"free\", \"patches\": [\n            { \"fabric\": \"C\", \"outline\": [[18, 18], [30, 18], [30, 23], [18, 23]] }] }",
            "\"address\": \"1.1.2.2\", \"kind\": \"filler\", \"width\": 4, \"patches\": [{ \"fabric\": \"C\", \"outline\": [[18, 18], [22, 18], [22, 23], [18, 23]] }] }, { \"address\": \"1.1.2.3\", \"kind\": \"filler\", \"width\": 8, \"patches\": [{ \"fabric\": \"C\", \"outline\": [[22, 18], [30, 18], [30, 23], [22, 23]] }] }")
            .with(Rows, "unit,1.1.2.2,filler,C,,,6,2.5,6.5,3,7.5,3,F3,,,,", &format!("unit,1.1.2.2,filler,C,,,2,2.5,2.5,3,{over},3,F4,,,,right,0,0,,\nunit,1.1.2.3,filler,C,,,4,2.5,4.5,3,5.5,3,F3,,,,"))
            .with(Cutting, "7.5,3,1,,,,", &format!("5.5,3,1,,,,\nfiller,F4,C,,,,,{over},3,1,,,,"))
            .with(Cloth, "0,7.5,3,F3", &format!("0,5.5,3,F3\nC-3,C,bought length,1,40,3,,0,3,5.5,{over},3,F4"))
    };
    assert!(split(spare(), "2.5").prove().is_ok());
    split(spare(), "3.5").fails("1.1.2.2", "not the");
}

#[test]
fn wrong_sizes_are_found_where_they_stand() {
    inch().with(Rows, "big,A,B,0,9,9,9.5,9.5", "big,A,B,0,9,9,9.5625,9.5").fails("1.1.1.1", "9 9/16");
    inch().with(Rows, "big,A,B,0,9,9,9.5,9.5", "big,A,B,0,9.0625,9,9.5,9.5").fails("1.1.1.1", "finishes");
    inch().with(Rows, ",3.5,6.5,F1", ",3.5625,6.5,F1").fails("2.1.1.2", "F1 is cut");
    inch().with(Cutting, "6.5,3,1,", "6.5,3.0625,1,").fails("1.1.2.2", "F3 is cut");
    inch().with(Rows, "row,1.1.2,,,,,15,", "row,1.1.2,,,,,15.0625,").fails("1.1.2", "its parts make");
    inch().with(Rows, "column,2.2,,,,,6,6,6.5,", "column,2.2,,,,,6,6,6.5625,").fails("2.2", "its parts make");
    inch().with(Rows, "band,2,,,,,15,6,15.5,6.5", "band,2,,,,,15,6,15.5,6").fails("2", "its parts make");
    inch().with(Rows, "top,top,,,,,15,17.5", "top,top,,,,,15,17").fails("top", "its parts make");
}

#[test]
fn a_plan_that_contradicts_itself_is_found() {
    inch().with(Plan, "\"letter\": \"C\"", "\"letter\": \"a\"").fails("plan.json", "stands for two fabrics");
    inch().with(Plan, "\"name\": \"surf\"", "\"name\": \"Night\"").fails("plan.json", "the name of another");
    inch().with(Plan, "\"least\": \"1 in\"", "\"least\": \"-1 in\"").fails("plan.json", "not more than nothing");
    inch().with(Plan, "\"2 in\", \"3 in\"", "\"0 in\", \"3 in\"").fails("plan.json", "not more than nothing");
    from_stash().with(Plan, "\"42 in\", \"length\"", "\"-42 in\", \"length\"").fails("plan.json", "has no size");
    from_hand()
        .with(Plan, "\"from\": \"6 in\", \"width\": \"2 in\"", "\"from\": \"6 in\", \"width\": \"6 in\"")
        .fails("plan.json", "as wide as its unit");
    // What a triangle unit is said to be, against its outlines.
    let told = |block: u32, cut: &str, corner: &str| {
        let triangle = format!("{{ \"block\": {block}, \"cut\": \"{cut}\", \"corner\": \"{corner}\" }}");
        let kind = "\"kind\": \"big trimmed\", ";
        inch().with(Plan, kind, &format!("{kind}\"triangle\": {triangle}, "))
    };
    assert!(told(18, "trimmed", "lower-left").prove().is_ok());
    told(17, "trimmed", "lower-left").fails("1.1.1.2", "does not give this one");
    told(18, "slice", "lower-left").fails("1.1.1.2", "cut otherwise");
    for corner in ["upper-left", "upper-right", "lower-right"] {
        told(18, "trimmed", corner).fails("1.1.1.2", "not the triangle in its corner");
    }
}

#[test]
fn wrong_turns_and_cuts_are_found() {
    inch().with(Rows, "big,A,B,0,", "big,A,B,180,").fails("1.1.1.1", "changed places");
    inch().with(Rows, "big,A,B,0,", "big,A,B,90,").fails("1.1.1.1", "diagonal seam");
    inch().with(Rows, "small,B,C,270,", "small,C,B,270,").fails("2.1.1.1", "changed places");
    inch().with(Rows, "P2,2.5,bottom", "P2,2.5,top").fails("2.2.2.1", "diagonal seam");
    inch().with(Rows, "P2,2.5,bottom", "P2,2.5,left").fails("2.2.2.1", "2 1/2 x 6 1/2 in");
    inch().with(Rows, "P2,2.5,bottom", "P2,6.5,bottom").fails("2.2.2.1", "cannot come off");
    inch().with(Rows, "P2,2.5,bottom", "P2,,").fails("2.2.2.1", "strip is missing");
    inch().with(Rows, "big,A,B,0,9,9,9.5,9.5,,,P1,,", "big,A,B,0,9,9,9.5,9.5,,,P1,3,left").fails("1.1.1.1", "whole");
    inch().with(Rows, "small slice", "small trimmed").fails("2.2.2.1", "6 1/2 x 4 in");
    inch().with(Rows, "mini", "small").fails("2.2.1.1", "a mini is planned");
    inch().with(Rows, "filler,B", "filler,C").fails("2.2.1.2", "of fabric C");
}

#[test]
fn a_strip_that_seams_take_whole_is_found() {
    let thin = inch().with(Rows, "6,2,6.5,2.5,,,P2,2.5,bottom", "6,2,6.5,0.5,,,P2,0.5,bottom");
    thin.fails("2.2.2.1", "leave nothing");
}

#[test]
fn what_is_missing_or_doubled_is_found() {
    inch().without_lines(Rows, &["unit,1.1.2.2", "row,1.1.2,"]).fails("1.1.2.2", "missing");
    inch().without_lines(Rows, &["unit,2.2.1", "row,2.2.1"]).fails("2.2.1.1", "missing");
    inch().without_lines(Rows, &["row,2.2.1"]).fails("2.2.1", "its row is missing");
    inch().without_lines(Rows, &["top"]).fails("top", "rows.csv ends");
    inch().without_lines(Rows, &["unit", "row", "column", "band", "top"]).fails("1.1.1.1", "rows.csv ends");
    inch().with_line_twice(Rows, "unit,2.1.1.1").fails("2.1.1.1", "twice");
    inch().with_line_twice(Rows, "row,2.1.1").fails("2.1.1", "twice");
    inch().with_line_twice(Rows, "top").fails("top", "after the top");
    inch().with(Rows, "unit,2.1.1.1", "unit,2.1.01.1").fails("2.1.01.1", "out of order");
    inch().with(Rows, "unit,2.1.1.1", "unit,surf").fails("surf", "no address");
    inch().without_lines(Cutting, &["pair,P2"]).fails("2.1.1.1", "neither cut nor paired");
    inch().with_line_twice(Cutting, "pair,P2").fails("P2", "twice");
    inch().with(Cutting, "F3,C,,,,,6.5,3,1", "F4,C,,,,,6.5,3,1").fails("1.1.2.2", "neither cut nor paired");
}

#[test]
fn what_squares_cannot_give_is_found() {
    // 10 in at 1/4 in gives 9.646, 6.718 and 4.646 in: 3/16 in more than the trimmed size is too much each time.
    for (line, more) in
        [("two,10,10,9.5,9.5", "9.6875"), ("four,10,10,6.5,6.5", "6.75"), ("eight,10,10,4.5,4.5", "4.6875")]
    {
        let (method, _) = line.rsplit_once(",10,10,").unwrap();
        let case = inch().with(Cutting, line, &format!("{method},10,10,{more},{more}"));
        assert!(case.prove().unwrap_err().what.contains("give no units"), "{line}");
    }
    inch().with(Cutting, "two,10,10,", "two,12,12,").fails("P1", "none of those");
    inch().with(Cutting, "two,10,10,", "two,10,20,").fails("P1", "none of those");
    inch().with(Cutting, "10,10,9.5,9.5", "10,10,9.5,9").fails("P1", "width and height differ");
    inch().with(Cutting, "P1,A,B", "P1,A,A").fails("P1", "both squares");
    inch().with(Cutting, "P1,A,B", "P1,A,C").fails("1.1.1.1", "the pair is of A and C");
    inch().with(Cutting, "P1,A,B", "P1,A,Z").fails("P1", "`Z`");
    let wider = |case: Case| case.with(Plan, "\"working\": \"1/4 in\"", "\"working\": \"9/32 in\"");
    wider(inch()).fails("plan.json", "not the nearest mark");
    wider(inch().with(Plan, "\"measured\": \"1/4 in\"", "\"measured\": \"0.28 in\"")).fails("1.1.1.1", "finishes");
    inch().with(Plan, "\"40 in\"", "\"2 in\"").fails("A-3", "not what the plan buys");
}

#[test]
fn wrong_counts_are_found() {
    inch().with(Cutting, "1,4,2,2", "1,4,3,1").fails("P2", "the rows take 2");
    inch().with(Cutting, "1,4,2,2", "1,4,2,3").fails("P2", "4 units");
    inch().with(Cutting, "1,4,2,2", "1,5,2,3").fails("P2", "four at a time gives 4");
    inch().with(Cutting, "1,4,2,2", "0,4,0,0").fails("P2", "no pair");
    inch().with(Cutting, "6.5,3,1,", "6.5,3,2,").fails("F3", "the rows take 1");
    inch().with(Cutting, "6.5,3,1,", "6.5,3,0,").fails("F3", "no filler");
    // Without the offcut the slice wants a third unit of a pair that gives two.
    inch()
        .with(Rows, "P1,3,left,1.1.2.1,", "P1,3,left,,")
        .with(Rows, ",1.1.1.2,3,top", ",P1,3,top")
        .fails("1.1.2.1", "one more");
}

#[test]
fn an_offcut_is_the_same_cloth_never_mirrored() {
    // The strip has fabric A in its upper right tip: turned it has it lower right (180, top) or upper left (0, bottom).
    inch()
        .with(Rows, "slice,A,B,180,9", "slice,A,B,0,9")
        .with(Rows, "1.1.1.2,3,top", "1.1.1.2,3,bottom")
        .with(Plan, "[[18, 18], [18, 23], [13, 23]]", "[[0, 18], [5, 18], [0, 23]]")
        .with(Plan, "[[0, 18], [18, 18], [13, 23], [0, 23]]", "[[5, 18], [18, 18], [18, 23], [0, 23]]")
        // Its diagonal then ends where that of 2.1.1.1 begins.
        .with(Rows, "down,1,1,,\ntop", "down,2,2,,\ntop")
        .prove()
        .unwrap();
    // A slice that leans the other way (90, bottom) has the tip in its upper right as it lies: mirrored cloth.
    inch()
        .with(Rows, "slice,A,B,180,9", "slice,A,B,90,9")
        .with(Rows, "1.1.1.2,3,top", "1.1.1.2,3,bottom")
        .fails("1.1.2.1", "not this slice");
    inch().with(Rows, "slice,A,B,180,9", "slice,A,B,0,9").fails("1.1.2.1", "not this slice");
    inch().with(Rows, "1.1.1.2,3,top", "1.1.1.2,2.5,top").fails("1.1.2.1", "not this slice");
    inch().with(Rows, "P1,3,left,1.1.2.1,", "P1,3,left,,").fails("1.1.2.1", "does not say so");
    inch().with(Rows, "P1,3,left,1.1.2.1,", "P1,3,left,1.1.2.2,").fails("1.1.1.2", "comes from F3");
    inch().with(Rows, "P1,3,left,1.1.2.1,", "P1,3,left,9.9.9.9,").fails("1.1.1.2", "no unit");
    inch()
        .with(Rows, "6.5,6.5,,,P2,,,,", "6.5,6.5,,,P2,,,1.1.2.1,")
        .fails("2.1.1.1", "only the strip off a trimmed unit");
    inch().with(Rows, "P2,2.5,bottom,,", "1.1.1.2,2.5,bottom,,").fails("2.2.2.1", "does not say so");
    inch().with(Rows, "P2,2.5,bottom,,", "2.2.2.1,2.5,bottom,2.2.2.1,").fails("2.2.2.1", "which it has not");
    inch()
        .with(Rows, "P1,3,left,1.1.2.1,", "P1,3,left,,")
        .with(Rows, ",1.1.1.2,3,top", ",2.1.1.2,3,top")
        .with(Rows, ",6.5,F1,,,,left", ",6.5,F1,,,1.1.2.1,left")
        .fails("2.1.1.2", "comes from no pair");
}

#[test]
fn seams_must_nest() {
    let pressed = |from: &str, to: &str| inch().with(Rows, from, to);
    // All seams that meet where two rows and where two bands are joined, pressed one way.
    pressed("F3,,,,right", "F3,,,,left").fails("1.1.2", "nest in 1 as written, and in 1 and 0");
    pressed("6.5,,,,,,,left,0", "6.5,,,,,,,right,0").fails("2", "nest in 1 as written, and in 1 and 0");
    pressed("down,1,1,,\ncolumn", "down,1,0,,\ncolumn").fails("1.1.2", "nest in 0 as written");
    pressed("down,1,1,,\ncolumn", "right,1,1,,\ncolumn").fails("1.1.2", "up, down, open");
    pressed("down,1,1,,\ncolumn", "open,1,1,,\ncolumn").fails("1.1.2", "not pressed as was asked for");
    pressed("F3,,,,right,0,0", "F3,,,,,,").fails("1.1.2.2", "does not say which way");
    pressed("9.5,9.5,,,P1,,,,,,", "9.5,9.5,,,P1,,,,left,0,0").fails("1.1.1.1", "joined to nothing before it");
    // Two diagonals that meet in one place, both pressed down.
    metric().with(Rows, "right,,left,1,0", "right,,left,1,1").fails("1.1.1.2", "and in 1 and 0");
}

#[test]
fn diagonals_are_pressed_to_the_darker_fabric() {
    inch().with(Cutting, "1,2,2,0,A", "1,2,2,0,B").fails("P1", "A is darker");
    inch().with(Cutting, "1,2,2,0,A", "1,2,2,0,C").fails("P1", "not pressed as was asked for");
    inch().with(Cutting, "1,2,2,0,A", "1,2,2,0,open").fails("P1", "not pressed as was asked for");
    let open = inch().with(Plan, "\"row_ends\": \"exact\"", "\"row_ends\": \"exact\", \"pressing\": \"open\"");
    open.fails("P1", "not pressed as was asked for");
}

#[test]
fn bias_on_the_outside_is_named() {
    inch().with(Rows, "bottom left", "bottom").fails("2.1.1.1", "on the bias");
    inch().with(Rows, "bottom left", "round").fails("2.1.1.1", "named by their sides");
    inch().with(Rows, "9.5,9.5,,,P1,,,,,,,,", "9.5,9.5,,,P1,,,,,,,top,").fails("1.1.1.1", "on the bias");
}

#[test]
fn a_plan_that_does_not_tile_is_found() {
    inch()
        .with(Plan, "[[18, 18], [30, 18], [30, 23], [18, 23]]", "[[17, 18], [29, 18], [29, 23], [17, 23]]")
        .fails("1.1.2.2", "gap or overlap");
    inch().with(Plan, "[[0, 23], [12, 35], [0, 35]]", "[[0, 23], [0, 35], [12, 35]]").fails("2.1.1.1", "clockwise");
    inch().with(Plan, "\"height\": 23", "\"height\": 24").fails("1.1", "tall");
    inch().with(Plan, "\"17 1/2 in\"", "\"17 in\"").fails("top", "bands are 17 1/2 in tall");
    inch().with(Plan, "\"width\": \"15 in\"", "\"width\": \"16 in\"").fails("1", "wide");
    inch().with(Plan, "\"address\": \"2.1.1.2\"", "\"address\": \"2.1.1.1\"").fails("2.1.1.2", "in the place");
    inch().with(Plan, "\"C\", \"outline\": [[18, 18]", "\"D\", \"outline\": [[18, 18]").fails("1.1.2.2", "`D`");
    inch()
        .with(Plan, "\"C\", \"outline\": [[18, 18]", "\"A\", \"outline\": [[18, 18]")
        .fails("1.1.2.2", "A is planned");
    inch().with(Plan, "\"big slice\"", "\"small slice\"").fails("1.1.2.1", "small slice is planned");
    inch().with(Plan, "\"version\": 1", "\"version\": 2").fails("plan.json", "version 2");
    inch().with(Plan, "\"grid\": \"1/2 in\"", "\"grid\": \"0 in\"").fails("plan.json", "grid");
    inch().with(Plan, "\"bands\": [", "\"strips\": [").fails("plan.json:66", "bands");
}

#[test]
fn broken_files_are_named_with_their_line() {
    inch().with(Rows, "words\n", "notes\n").fails("rows.csv:1", "`notes`");
    inch().with(Rows, "bias,words\n", "bias,bias\n").fails("rows.csv:1", "twice");
    inch().with(Cutting, "needed,spare,press\n", "needed,press\n").fails("cutting.csv:1", "`spare` is missing");
    inch().with(Cutting, "2,2,0,A\n", "2,2,0\n").fails("cutting.csv:2", "13 cells");
    inch().with(Cutting, "pair,P1", "pair,").fails("cutting.csv:2", "id is missing");
    inch().with(Cutting, "pair,P1", "knot,P1").fails("P1", "`knot`");
    inch().with(Rows, "unit,2.2.1.2", "unit,").fails("rows.csv:15", "address is missing");
    inch().with(Rows, "15.5,18,", "15.5,-18,").fails("top", "must be a length");
    inch().with(Cutting, "1,4,2,2", "1,4,2,4000000000").fails("P2", "whole number");
}

/// The cells of a file; no cell of these cases has a comma or a quotation mark in it.
fn cells(text: &str) -> Vec<Vec<String>> {
    text.lines().map(|line| line.split(',').map(str::to_owned).collect()).collect()
}

fn joined(cells: &[Vec<String>]) -> String {
    cells.iter().map(|line| line.join(",") + "\n").collect()
}

/// Whether nothing is said by writing `new` for `old` in the column: notes, a row with no neighbour, its own width.
fn says_nothing(of: Of, line: &[String], heading: &str, old: &str, new: &str) -> bool {
    let number = |text: &str| text.parse::<f64>().ok();
    let same = old == new || (number(old).is_some() && number(old) == number(new) && heading != "turn");
    // Seams that no other seam ends at.
    let alone = ["1.1.2", "2.1.1.2", "2.2.1.2", "2.2.2", "2"].contains(&line[1].as_str());
    let ways = [["left", "right"], ["up", "down"]];
    let lone = heading == "press" && alone && ways.iter().any(|ways| ways.contains(&old) && ways.contains(&new));
    let own_size = line[0] == "row"
        && (heading.starts_with("cut_width") && new == line[8] || heading.starts_with("cut_height") && new == line[9]);
    same || (of == Rows && (heading == "words" || lone || own_size))
}

fn each_cell(case: &Case, of: Of, mut visit: impl FnMut(&[Vec<String>], usize, usize)) {
    let table = cells(case.clone().text(of));
    for line in 0..table.len() {
        (0..table[line].len()).for_each(|column| visit(&table, line, column));
    }
}

#[test]
fn no_cell_may_hold_what_another_holds() {
    let case = inch();
    let mut tried = 0;
    for of in [Rows, Cutting] {
        let mut pool: Vec<String> = cells(&case.rows).into_iter().chain(cells(&case.cutting)).flatten().collect();
        pool.sort();
        pool.dedup();
        each_cell(&case, of, |table, line, column| {
            for new in &pool {
                let mut changed = table.to_vec();
                let old = std::mem::replace(&mut changed[line][column], new.clone());
                let mut spoilt = case.clone();
                *spoilt.text(of) = joined(&changed);
                let idle = line > 0 && says_nothing(of, &table[line], &table[0][column], &old, new);
                if spoilt.prove().is_ok() {
                    assert!(idle || old == *new, "{of:?} {} {}: `{old}` as `{new}`", table[line][1], table[0][column]);
                }
                tried += 1;
            }
        });
    }
    assert!(tried > 10_000);
}

/// Every number and every letter in the bands of the plan, each changed in its turn.
fn spoil(value: &mut serde_json::Value, change: &mut impl FnMut(&mut serde_json::Value)) {
    match value {
        serde_json::Value::Array(parts) => parts.iter_mut().for_each(|part| spoil(part, change)),
        serde_json::Value::Object(parts) => {
            parts.iter_mut().filter(|(key, _)| *key != "state").for_each(|(_, part)| spoil(part, change));
        }
        leaf => change(leaf),
    }
}

#[test]
fn nothing_in_the_bands_of_the_plan_may_change() {
    let plan: serde_json::Value = serde_json::from_str(&inch().plan).unwrap();
    let mut leaves = 0;
    spoil(&mut plan["bands"].clone(), &mut |_| leaves += 1);
    assert!(leaves > 100);
    for target in 0..leaves {
        for by in [-1, 1] {
            let mut changed = plan.clone();
            let mut seen = 0;
            spoil(&mut changed["bands"], &mut |leaf| {
                if seen == target {
                    *leaf = match (leaf.as_i64(), leaf.as_str()) {
                        (Some(number), _) => (number + by).into(),
                        (None, Some("A")) => "B".into(),
                        (None, Some("B")) => "C".into(),
                        _ => "A".into(),
                    };
                }
                seen += 1;
            });
            let spoilt = Case { plan: changed.to_string(), ..inch() };
            assert!(spoilt.prove().is_err(), "leaf {target} by {by}");
        }
    }
}

proptest! {
    #[test]
    fn any_text_ends(text in "\\PC{0,200}", bytes in proptest::collection::vec(any::<u8>(), 0..300)) {
        let bytes = String::from_utf8_lossy(&bytes).into_owned();
        for of in [Plan, Rows, Cutting, Cloth] {
            for junk in [&text, &bytes] {
                for mut case in [inch(), metric()] {
                    let whole = case.text(of).clone();
                    *case.text(of) = junk.clone();
                    prop_assert!(case.prove().is_err());
                    let half = whole.chars().take(whole.len() / 2).collect::<String>();
                    *case.text(of) = half + junk;
                    prop_assert!(case.prove().is_err());
                }
            }
        }
    }

    #[test]
    fn any_cell_ends(of in prop_oneof![Just(Rows), Just(Cutting)], at in any::<(usize, usize)>(), new in "[0-9.]{1,24}|[^,\"\r\n]{0,12}") {
        let mut case = inch();
        let mut table = cells(case.text(of));
        let (line, column) = (at.0 % table.len(), at.1 % table[0].len());
        let (heading, whole) = (table[0][column].clone(), table[line].clone());
        let old = std::mem::replace(&mut table[line][column], new.clone());
        *case.text(of) = joined(&table);
        let idle = line > 0 && says_nothing(of, &whole, &heading, &old, &new);
        prop_assert!(case.prove().is_err() || idle || old == new);
    }

    #[test]
    fn any_number_in_the_plan_ends(at in any::<usize>(), new in any::<u32>()) {
        let mut plan: serde_json::Value = serde_json::from_str(&inch().plan).unwrap();
        let mut leaves = 0;
        spoil(&mut plan.clone(), &mut |_| leaves += 1);
        let mut seen = 0;
        spoil(&mut plan, &mut |leaf| {
            if seen == at % leaves && leaf.is_number() {
                *leaf = new.into();
            }
            seen += 1;
        });
        let _ = Case { plan: plan.to_string(), ..inch() }.prove();
    }
}

/// The inch case out of a stash: of A a fat quarter that gives its squares and its filler, of B squares, of C a length.
fn from_stash() -> Case {
    let supply = |squares: &str, yardage: &str, quarters: u32| {
        let lists = format!("\"squares\": [{squares}], \"yardage\": [{yardage}], \"fat_quarters\": {quarters}");
        format!(", \"supply\": {{ {lists}, \"oddments\": [] }}")
    };
    let mut case = inch();
    let squares = "{ \"size\": \"10 in\", \"count\": 3 }";
    for (family, supply) in [
        ("\"night\"", supply("", "", 1)),
        ("\"surf\"", supply(squares, "", 0)),
        ("\"turf\"", supply("", "{ \"width\": \"42 in\", \"length\": \"1/3 yd\" }", 0)),
    ] {
        let family = format!("\"family\": {family}");
        case = case.with(Plan, &family, &format!("{family}{supply}"));
    }
    let header = case.cloth.lines().next().unwrap();
    case.cloth = format!(
        "{header}\n\
         A-1,A,fat quarter,1,22,18,,0,10,0,10,10,P1\nA-1,A,fat quarter,1,22,18,,0,10,10,10,10,P3\n\
         A-1,A,fat quarter,1,22,18,,10,3.5,0,6.5,3.5,F1\n\
         B-1,B,square,1,10,10,,0,10,0,10,10,P1\nB-2,B,square,1,10,10,,0,10,0,10,10,P2\n\
         B-3,B,square,1,10,10,,0,2.5,0,4.5,2.5,F2\n\
         C-1,C,length,1,42,12,,0,10,0,10,10,P2\nC-1,C,length,1,42,12,,0,10,10,10,10,P3\n\
         C-1,C,length,1,42,12,,0,10,20,6.5,3,F3\n"
    );
    case
}

#[test]
fn a_top_out_of_a_stash_proves() {
    let proven = from_stash().prove().unwrap();
    assert_eq!((proven.squares, proven.sheets), (6, 5));
    // Turned by a quarter, a fat quarter is 18 in wide.
    let turned = from_stash()
        .with(Cloth, "1,22,18,,0,10,0,10,10,P1", "1,18,22,yes,0,10,0,10,10,P1")
        .with(Cloth, "1,22,18,,0,10,10,10,10,P3", "1,18,22,yes,10,10,0,10,10,P3")
        .with(Cloth, "1,22,18,,10,3.5,0,6.5,3.5,F1", "1,18,22,yes,10,10,10,6.5,3.5,F1");
    assert!(turned.prove().is_ok());
}

#[test]
fn sheets_that_are_not_there_are_found() {
    from_stash().with(Plan, "\"fat_quarters\": 1", "\"fat_quarters\": 0").fails("A-1", "is not there");
    from_stash().with(Plan, "\"count\": 3", "\"count\": 2").fails("B-3", "and there are 2");
    from_stash().with(Cloth, "B-3,B,square,1,", "B-3,B,square,2,").fails("B-3", "and there are 3");
    from_stash().with(Plan, "\"1/3 yd\"", "\"1/4 yd\"").fails("C-1", "is not there");
    from_stash().with(Cloth, "B-3,B,square", "B-3,B,bought square").fails("B-3", "not what the plan buys");
    inch().with(Cloth, "A-1,A,bought square", "A-1,A,square").fails("A-1", "is not there");
    inch().with(Cloth, "B-3,B,bought length,1,40", "B-3,B,bought length,1,42").fails("B-3", "not what the plan buys");
}

#[test]
fn what_cannot_be_cut_so_is_found() {
    from_stash().with(Cloth, "0,10,10,10,10,P3\nA", "0,10,9.5,10,10,P3\nA").fails("A-1", "P3 lies over P1");
    from_stash().with(Cloth, ",10,3.5,0,6.5,3.5,F1", ",9.5,3.5,0,6.5,3.5,F1").fails("A-1", "across the whole sheet");
    from_stash().with(Cloth, ",10,3.5,0,6.5,3.5,F1", ",15,3.5,0,6.5,3.5,F1").fails("A-1", "within the sheet");
    from_stash().with(Cloth, ",10,3.5,0,6.5,3.5,F1", ",10,3.5,16,6.5,3.5,F1").fails("A-1", "within the sheet");
    from_stash().with(Cloth, ",10,3.5,0,6.5,3.5,F1", ",10,3,0,6.5,3.5,F1").fails("A-1", "higher than its strip");
    from_stash().with(Cloth, "0,10,20,6.5,3,F3", "0,9,20,6.5,3,F3").fails("C-1", "not equally wide");
    from_stash().with(Cloth, "4.5,2.5,F2", "4.5,2.25,F2").fails("B-3", "must be 2 1/2 x 4 1/2 in");
    from_stash().with(Cloth, "0,2.5,0,4.5,2.5,F2", "0,4.5,0,2.5,4.5,F2").prove().unwrap();
    from_stash().with(Cloth, "B-2,B,square", "B-2,C,square").fails("B-2", "is not there");
    inch().with(Cloth, "B-3,B,bought", "B-3,A,bought").fails("B-3", "F2 is not of fabric A");
    inch().with(Cloth, "B-2,B,bought", "B-2,A,bought").fails("B-2", "P2 is not of fabric A");
    inch().with(Cloth, "0,4.5,2.5,F2", "0,4.5,2.5,F9").fails("B-3", "no line of cutting.csv");
    inch().with(Cloth, "A-2,A,bought square,1,10,10", "A-2,A,bought length,1,40,10").fails("A-2", "bought as 10 in");
}

#[test]
fn every_piece_is_cut_once() {
    from_stash().without_lines(Cloth, &["B-3"]).fails("F2", "cloth.csv cuts 0");
    from_stash().without_lines(Cloth, &["B-2"]).fails("P2", "1 pieces of B are wanted, and cloth.csv cuts 0");
    inch().with(Cloth, "A-1,A,bought square,1", "A-1,A,bought square,2").fails("P1", "cloth.csv cuts 2");
    inch().with(Cloth, "B-2,B", "B-1,B").fails("B-1", "lies over");
    inch().with(Cloth, "A-3,A,bought length,1", "A-3,A,bought length,0").fails("A-3", "no sheet is cut so");
    inch().with_line_twice(Cloth, "C-3").fails("C-3", "F3 lies over F3");
    let twice = "C-3,C,bought length,1,40,3,,0,3,0,6.5,3,F3";
    let other = twice.replace("C-3", "C-4");
    inch().with(Cloth, twice, &format!("{twice}\n{other}")).fails("F3", "cloth.csv cuts 2");
}

#[test]
fn a_print_with_an_up_and_a_down_is_not_turned() {
    let up = |case: Case| case.with(Plan, "\"family\": \"night\"", "\"family\": \"night\", \"directional\": true");
    up(from_stash()).fails("A-1", "an up and a down");
    let upright = up(from_stash()).with(Cloth, ",10,3.5,0,6.5,3.5,F1", ",10,6.5,0,3.5,6.5,F1");
    assert!(upright.prove().is_ok());
}

/// The inch case with its small units, its small slice and the filler of B from what is on hand, told as one list.
fn from_hand() -> Case {
    let hand = r#""on_hand": {
        "units": [{ "finished": "6 in", "fabrics": ["C", "B"], "count": 2 },
                  { "finished": "6 in", "fabrics": ["B", "C"], "count": 1 }],
        "slices": [{ "from": "6 in", "width": "2 in", "tip": "B", "rest": "C", "leans": "right", "count": 2 }],
        "fillers": [{ "fabric": "B", "width": "2 in", "height": "4 in", "count": 1 }]
    },
    "bands": ["#;
    inch()
        .with(Plan, "\"bands\": [", hand)
        .with(Cutting, "pair,P2,B,C,four,10,10,6.5,6.5,1,4,2,2,C\n", "")
        .with(
            Cutting,
            "filler,F2,B,,,,,2.5,4.5,1,,,,\n",
            "unit on hand,H1,B,C,,,,6.5,6.5,3,,1,2,\nright slice on hand,H2,B,C,,,,2.5,6.5,2,,1,1,\n\
             filler on hand,H3,B,,,,,4.5,2.5,1,,1,0,\n",
        )
        .without_lines(Cloth, &["B-2", "B-3", "C-1"])
        .with(Rows, "6.5,6.5,,,P2", "6.5,6.5,,,H1")
        .with(Rows, "P2,2.5,bottom", "H2,2.5,bottom")
        .with(Rows, ",2.5,4.5,F2", ",2.5,4.5,H3")
}

#[test]
fn a_top_out_of_what_is_on_hand_proves() {
    let proven = from_hand().prove().unwrap();
    assert_eq!((proven.units, proven.squares, proven.sheets), (9, 4, 6));
    // The slice may be cut off a unit on hand as well, which is then used up.
    let cut = from_hand()
        .without_lines(Cutting, &["right slice"])
        .with(Cutting, "6.5,6.5,3,,1,2", "6.5,6.5,3,,2,1")
        .with(Rows, "H2,2.5,bottom", "H1,2.5,bottom");
    assert!(cut.prove().is_ok());
}

#[test]
fn pieces_on_hand_that_are_not_there_are_found() {
    from_hand().with(Cutting, "6.5,6.5,3,,1,2", "6.5,6.5,4,,1,3").fails("H1", "and the plan has 3");
    from_hand().with(Cutting, "2.5,6.5,2,,1,1", "2.5,6.5,3,,1,2").fails("H2", "and the plan has 2");
    from_hand().with(Cutting, "4.5,2.5,1,,1,0", "4.5,2.5,2,,1,1").fails("H3", "and the plan has 1");
    from_hand()
        .with(Plan, "\"fabrics\": [\"C\", \"B\"], \"count\": 2", "\"fabrics\": [\"C\", \"B\"], \"count\": 1")
        .fails("H1", "and the plan has 2");
    from_hand().with(Cutting, "6.5,6.5,3,,1,2", "6.5,6.5,3,,1,1").fails("H1", "not 1 needed and 1 spare");
    from_hand().with(Cutting, "6.5,6.5,3,,1,2", "6.5,6.5,3,,2,1").fails("H1", "the rows take 1");
    from_hand().with(Cutting, "6.5,6.5,3,,1,2", "6.5,6.5,3,,0,3").fails("H1", "the rows take 1");
    for (line, user) in [("unit on hand", "2.1.1.1"), ("right slice", "2.2.2.1"), ("filler on hand", "2.2.1.2")] {
        from_hand().without_lines(Cutting, &[line]).fails(user, "neither cut nor paired");
    }
    // One piece cannot be in two places.
    from_hand()
        .with(Cutting, "6.5,6.5,3,,1,2", "6.5,6.5,1,,1,0")
        .with(Rows, "H2,2.5,bottom", "H1,2.5,bottom")
        .fails("2.2.2.1", "H1 gives 1 pieces");
    // The same pieces cannot be counted on two lines.
    let twice = "unit on hand,H1,B,C,,,,6.5,6.5,3,,1,2,";
    let second = from_hand()
        .with(Cutting, twice, &format!("{twice}\n{}", "unit on hand,H4,C,B,,,,6.5,6.5,3,,1,2,"))
        .without_lines(Cutting, &["right slice"])
        .with(Rows, "H2,2.5,bottom", "H4,2.5,bottom");
    second.fails("H4", "counted twice");
}

#[test]
fn pieces_on_hand_of_another_kind_are_found() {
    from_hand().with(Cutting, "H1,B,C,", "H1,A,C,").fails("H1", "and the plan has 0");
    from_hand().with(Cutting, "H1,B,C,", "H1,B,Z,").fails("H1", "`Z`");
    from_hand().with(Cutting, "H1,B,C,,,,6.5,6.5", "H1,B,C,,,,4.5,4.5").fails("H1", "and the plan has 0");
    from_hand().with(Cutting, "H1,B,C,,,,6.5,6.5", "H1,B,C,,,,6.5,4.5").fails("H1", "width and height differ");
    from_hand().with(Cutting, "H1,B,C,,,,6.5", "H1,B,C,two,,,6.5").fails("H1", "method");
    from_hand().with(Cutting, "right slice", "left slice").fails("H2", "and the plan has 0");
    let mirrored = from_hand().with(Cutting, "right slice", "left slice").with(Plan, "\"right\"", "\"left\"");
    mirrored.fails("2.2.2.1", "not this slice");
    from_hand().with(Cutting, "H2,B,C", "H2,C,B").fails("H2", "and the plan has 0");
    let exchanged = from_hand().with(Cutting, "H2,B,C", "H2,C,B").with(
        Plan,
        "\"tip\": \"B\", \"rest\": \"C\"",
        "\"tip\": \"C\", \"rest\": \"B\"",
    );
    exchanged.fails("2.2.2.1", "not this slice");
    from_hand().with(Cutting, "2.5,6.5,2,,1,1", "3,6.5,2,,1,1").fails("H2", "and the plan has 0");
    from_hand().with(Cutting, "H3,B,,", "H3,C,,").fails("H3", "and the plan has 0");
    from_hand().with(Cutting, "H3,B,,", "H3,B,C,").fails("H3", "second");
    from_hand().with(Cutting, "4.5,2.5,1,,1,0", "4.5625,2.5,1,,1,0").fails("H3", "and the plan has 0");
    // A unit is no filler, and a slice no unit.
    from_hand().with(Rows, ",2.5,4.5,H3", ",2.5,4.5,H1").fails("2.2.1.2", "cut width");
    from_hand().with(Rows, "6.5,6.5,,,H1", "6.5,6.5,,,H2").fails("2.1.1.1", "H2");
}
