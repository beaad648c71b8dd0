//! `compose --largest`: the largest top of a stash, and what it refuses.

use rowscape::measure::Length;
use rowscape::plan::read;

use crate::commands::desk::{Desk, project, text};
use crate::commands::hostile::refused;

const PICTURE: &str = "sample-sketches/moonrise-sail.png";

/// Four fabrics of so many squares and half a yard each.
fn stash(squares: u32) -> String {
    let fabric = |(letter, colour): (&str, &str)| {
        format!(
            "[[fabric]]\nletter = \"{letter}\"\nname = \"cloth {letter}\"\ncolour = \"{colour}\"\n\
             squares = [{{ size = \"10in\", count = {squares} }}]\n\
             yardage = [{{ width = \"42in\", length = \"1/4 yd\" }}]\n\n"
        )
    };
    [("A", "#1d2a44"), ("B", "#5d5288"), ("C", "#c98f98"), ("D", "#f6ecd8")].map(fabric).concat()
}

#[test]
fn the_largest_top_is_made_and_a_larger_one_is_refused() {
    let desk = Desk::new();
    let small = desk.write("small.toml", stash(4));
    let words = ["--stash", small.to_str().unwrap(), "--depth", "rows", "--grid", "1in", "--tries", "8"];
    let run = desk.compose(&project(PICTURE), &[&words[..], &["--largest"]].concat());
    assert!(run.status.success(), "{}", text(&run.stderr));
    let first = desk.read("out/plan.json");
    let request = read(&first).unwrap().request;
    let said = format!(
        "the largest top that this stash was found to make: {} x {}",
        request.ruler.show(request.width),
        request.ruler.show(request.height)
    );
    assert!(text(&run.stdout).contains(&said), "{said}: {}", text(&run.stdout));
    assert!(desk.proof().status.success());
    let again = desk.compose_into("again", &project(PICTURE), &[&words[..], &["--largest"]].concat());
    assert!(again.status.success() && desk.read("again/plan.json") == first, "the same bytes again");
    // Half as wide again takes more than twice the cloth.
    let wide = request.ruler.show((request.width + request.width / 2).round_to(Length::INCH)).replace(' ', "");
    let run = desk.compose_into("wide", &project(PICTURE), &[&words[..], &["--width", &wide]].concat());
    refused(&run, " is short of about ");
    refused(&run, "`--largest`");
    // Bounded by a width, and of a shape that is given.
    let run = desk.compose_into("narrow", &project(PICTURE), &[&words[..], &["--largest", "--width", "9in"]].concat());
    assert!(run.status.success(), "{}", text(&run.stderr));
    assert_eq!(read(&desk.read("narrow/plan.json")).unwrap().request.width, Length::INCH * 9i64);
    let shaped = [&words[..], &["--largest", "--width", "40in", "--height", "20in"]].concat();
    let run = desk.compose_into("shaped", &project(PICTURE), &shaped);
    assert!(run.status.success(), "{}", text(&run.stderr));
    let shaped = read(&desk.read("shaped/plan.json")).unwrap().request;
    assert!(shaped.width <= Length::INCH * 40i64 && (shaped.width - shaped.height * 2i64).abs() <= Length::INCH);
}

#[test]
fn what_has_no_largest_is_refused() {
    let desk = Desk::new();
    refused(&desk.compose(&project(PICTURE), &["--largest"]), "--stash");
    let free = project("sample-sketches/stash-cottage.toml");
    let run = desk.compose(&project(PICTURE), &["--largest", "--stash", free.to_str().unwrap()]);
    refused(&run, "does not say how much there is of A tarred net");
    let none = desk.write("none.toml", stash(0).replace("1/4 yd", "1 in"));
    refused(&desk.compose(&project(PICTURE), &["--largest", "--stash", none.to_str().unwrap()]), "help:");
    assert!(!desk.path("out").exists(), "a refusal left a folder behind");
}
