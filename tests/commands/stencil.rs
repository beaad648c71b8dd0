//! The stencil: a file for who cuts one, and sheets in the list that print at full size.

use std::path::Path;
use std::process::Command;

use rowscape::finish::Finish;
use rowscape::plan;

use crate::commands::desk::{Desk, rowscape, text};
use crate::commands::hostile::refused;

const SAMPLE: &str = "sample-sketches/lighthouse-dusk.png";
const MARKED: [&str; 6] = ["--width", "27in", "--finish", "usual", "--quilting", "half-circles"];

#[test]
fn it_is_written_with_half_circles_alone_and_proved() {
    let desk = Desk::new();
    desk.made(SAMPLE, &MARKED);
    let drawn = desk.read("out/stencil.svg");
    let drawing = roxmltree::Document::parse(&drawn).unwrap();
    // Two repeats of 6 in do not fit on 6 1/2 in: one does, with 10 mm round it; a half circle is 76.2 mm in radius.
    let root = drawing.root_element();
    assert_eq!((root.attribute("width"), root.attribute("height")), (Some("172.4mm"), Some("172.4mm")));
    assert!(drawn.contains("M10,10A76.2,76.2 0 0 1 86.2,86.2A76.2,76.2 0 0 1 162.4,10M10,162.4A"));
    let kept = plan::read(&desk.read("out/plan.json")).unwrap();
    assert!(desk.read("out/plan.json").contains("\"stencil.svg\""), "its digest is kept");
    assert!(kept.request.finish != Finish::default() && desk.proof().status.success());
    std::fs::write(desk.path("out/stencil.svg"), drawn.replace("76.2,", "76.3,")).unwrap();
    let told = desk.proof();
    assert!(!told.status.success() && text(&told.stderr).contains("stencil.svg"), "{}", text(&told.stderr));
    std::fs::remove_file(desk.path("out/stencil.svg")).unwrap();
    assert!(text(&desk.proof().stderr).contains("it is missing"));

    // Revised without half circles it is not written; beside an old one nothing is.
    let desk = Desk::new();
    desk.made(SAMPLE, &MARKED);
    let revise = |out: &Path| {
        let mut run = rowscape(&["revise"]);
        run.arg(desk.path("out")).args(["--finish", "usual", "--replace", "--out"]).arg(out).output().unwrap()
    };
    refused(&revise(&desk.path("out")), "has no stencil");
    assert!(revise(&desk.path("then")).status.success() && !desk.path("then/stencil.svg").exists());
}

/// Both squares of a printed sheet, measured in the PDF, are as large as they say: within 0.5 %, on letter and A4.
#[test]
fn its_sheets_print_at_full_size() {
    let desk = Desk::new();
    desk.made(SAMPLE, &MARKED);
    let list = desk.read("out/build-list.html");
    for (paper, size, width) in [("letter", "letter", 612.0), ("a4", "A4", 595.3)] {
        let page = list.replacen("</head>", &format!("<style>@page {{ size: {size} }}</style></head>"), 1);
        assert_ne!(page, list);
        desk.write(&format!("{paper}.html"), page);
        let (html, pdf) = (desk.path(&format!("{paper}.html")), desk.path(&format!("{paper}.pdf")));
        let print = format!("--print-to-pdf={}", pdf.display());
        tool(
            "chromium",
            &[
                "--headless",
                "--no-sandbox",
                "--disable-gpu",
                "--no-pdf-header-footer",
                &print,
                &html.display().to_string(),
            ],
        );
        let found = tool("pdftotext", &[&pdf.display().to_string(), "-"]);
        let sheets: Vec<usize> = found
            .split('\u{c}')
            .enumerate()
            .filter(|(_, page)| page.contains("Stencil, sheet"))
            .map(|(at, _)| at + 1)
            .collect();
        assert_eq!(sheets.len(), 1, "{paper}: a sheet of the stencil is on a page of its own");
        let number = sheets[0].to_string();
        let drawn = desk.path(&format!("{paper}.svg"));
        tool(
            "pdftocairo",
            &["-svg", "-f", &number, "-l", &number, &pdf.display().to_string(), &drawn.display().to_string()],
        );
        let drawn = std::fs::read_to_string(drawn).unwrap();
        let drawing = roxmltree::Document::parse(&drawn).unwrap();
        let wide: f64 = drawing.root_element().attribute("width").unwrap().trim_end_matches("pt").parse().unwrap();
        assert!((wide - width).abs() < 0.5, "{paper} is {wide} pt wide");
        let mut squares: Vec<[f64; 2]> = drawing.descendants().filter_map(square).collect();
        squares.sort_by(|one, other| one[0].total_cmp(&other[0]));
        // 72 points are an inch, 2.54 cm.
        for (square, due) in squares.iter().zip([72.0, 72.0 * 5.0 / 2.54]) {
            assert!(square.iter().all(|side| (side / due - 1.0).abs() < 0.005), "{paper}: {square:?}, due {due}");
        }
        assert_eq!(squares.len(), 2, "{paper}: {squares:?}");
    }
}

/// What a tool says; where it is missing, the line that installs it.
fn tool(name: &str, words: &[&str]) -> String {
    let run = Command::new(name).args(words).output();
    let run = run.unwrap_or_else(|_| panic!("{name} is missing: apt-get install chromium poppler-utils"));
    assert!(run.status.success(), "{name}: {}", text(&run.stderr));
    text(&run.stdout)
}

/// Width and height, in points, of a stroked rectangle that is a square.
fn square(node: roxmltree::Node) -> Option<[f64; 2]> {
    let is_line = node.has_tag_name("path") && node.attribute("style")?.contains("fill:none");
    let line = node.attribute("d").filter(|_| is_line)?;
    let numbers = |text: &str| -> Vec<f64> {
        text.split(|c: char| !c.is_ascii_digit() && c != '.' && c != '-').filter_map(|word| word.parse().ok()).collect()
    };
    let points = numbers(line);
    if line.contains('C') || !(3..=4).contains(&line.matches('L').count()) {
        return None;
    }
    let [a, b, c, d, ..] = numbers(node.attribute("transform")?)[..] else { return None };
    let across = |at: usize| (a * points[at] + c * points[at + 1], b * points[at] + d * points[at + 1]);
    let corners: Vec<(f64, f64)> = (0..points.len() / 2).map(|at| across(2 * at)).collect();
    let reach = |of: fn(&(f64, f64)) -> f64| {
        let of: Vec<f64> = corners.iter().map(of).collect();
        of.iter().copied().fold(f64::MIN, f64::max) - of.iter().copied().fold(f64::MAX, f64::min)
    };
    let sides = [reach(|corner| corner.0), reach(|corner| corner.1)];
    (sides[0] > 20.0 && (sides[0] / sides[1] - 1.0).abs() < 0.01).then_some(sides)
}
