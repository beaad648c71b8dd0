//! Time and cost of scenes, side by side.

use rowscape::finish::Finish;
use rowscape::job::{self, Brief, Effort, Rates, compose};
use rowscape::measure::{Length, Ruler};
use rowscape::watch::UNWATCHED;

use crate::commands::desk::{Desk, rowscape, text};
use crate::commands::hostile::refused;

const SKETCH: &[u8] = include_bytes!("../../sample-sketches/lighthouse-dusk.png");

fn parts(finish: Finish) -> [(&'static str, Effort); 6] {
    let width = Some(Length::INCH * 27i64);
    let brief = Brief { picture: "a.png".into(), width, finish, ..Brief::usual(Ruler::Inch) };
    job::estimate(&compose(&brief, SKETCH, None, &UNWATCHED).unwrap().plan)
}

/// Finishing adds to its own parts alone, and a rate to what it counts.
#[test]
fn each_part_is_what_it_counts() {
    let (top, quilt) = (parts(Finish::default()), parts(Finish::usual()));
    assert_eq!(top[..4], quilt[..4]);
    assert!(top[4..].iter().all(|(_, effort)| *effort == Effort::default()));
    // Bound by hand once round 27 3/4 by 36 3/4 in, and squared up on four sides.
    assert_eq!(quilt[4].1.by_hand, Length::INCH * 129i64);
    let none = Rates { cut: 0, seam: 0, yard: 0, trim: 0, quilting: 0, hand: 0 };
    let cutting = top[0].1;
    assert_eq!((cutting.seconds(&none), cutting.seconds(&Rates { cut: 7, ..none })), (0, 7 * cutting.cuts));
    assert_eq!(quilt[4].1.seconds(&Rates { hand: 36, ..none }), 129);
}

#[test]
fn scenes_stand_side_by_side_with_their_costs() {
    let desk = Desk::new();
    desk.made("sample-sketches/lighthouse-dusk.png", &["--width", "27in", "--finish", "usual"]);
    let out = desk.path("out");
    let out = out.to_str().unwrap();
    let run = |words: &[&str]| rowscape(&[&["estimate", out], words].concat()).output().unwrap();
    let told = text(&run(&[]).stdout);
    assert!(told.contains("quilting") && told.contains("in all") && told.contains("20 s a cut"), "{told}");
    let priced =
        text(&run(&["--price-square", "0,60 €", "--price-length", "14,50 €", "--price-batting", "38 €"]).stdout);
    assert!(priced.contains("38,00 €") && !priced.contains("no price"), "{priced}");
    let own = text(&run(&["--price-square", "1 €", "--price-square", "A=9,00 €", "--price-length", "14,50 €"]).stdout);
    let costs = |told: &str, letter: &str| {
        let line = told.lines().find(|line| line.starts_with(letter) && line.contains('€')).map(str::to_owned);
        line.unwrap_or_else(|| panic!("{letter}: {told}"))
    };
    assert_ne!(costs(&own, "A "), costs(&priced, "A "));
    assert!(own.contains("What has no price"), "the batting has none: {own}");
    refused(&run(&["--price-square", "ZZ=1"]), "no scene has a fabric `ZZ`");
    refused(&run(&["--price-square", "$1", "--price-length", "2 €"]), "one currency");
    refused(&run(&["--price-square", "free"]), "is not a price");
    refused(&run(&["--cut", "-1"]), "--cut");
}
