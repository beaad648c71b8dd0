//! From the top to the quilt: it changes nothing of the top, comes back from every file, and is refused in words.

use rowscape::finish::{Bed, Binding, Border, BorderUnits, ComeTo, Corners, Finish, Fold, Label, Pieced};
use rowscape::job::{Brief, BriefError, JobError, ReviseBrief, changes, compose, files, revise};
use rowscape::make::{PartCut, SpareCloth};
use rowscape::measure::{Length, Ruler};
use rowscape::plan::{self, Plan, Why};
use rowscape::render::Options;
use rowscape::watch::UNWATCHED;

use crate::commands::desk::{Desk, project, rowscape, text};
use crate::commands::hostile::refused;

const SKETCH: &[u8] = include_bytes!("../../sample-sketches/lighthouse-dusk.png");
const SAMPLE: &str = "sample-sketches/lighthouse-dusk.png";

fn asked() -> Finish {
    let bed =
        Bed { tuck: Length::INCH * 6i64, ..Bed::usual([Length::INCH * 27i64, Length::INCH * 52i64], Ruler::Inch) };
    Finish {
        borders: vec![
            Border { width: Some(Length::INCH), corners: Corners::Mitred, ..Border::default() },
            Border { corners: Corners::Cornerstones, cornerstones: Some("A".into()), ..Border::default() },
        ],
        come_to: Some(ComeTo::Bed(bed)),
        binding: Some(Binding { bias: true, ..Binding::default() }),
        sleeve: true,
        label: Some(Label { maker: "the harbour guild".into(), ..Label::default() }),
        ..Finish::usual()
    }
}

fn brief(finish: Finish) -> Brief {
    let width = Some(Length::INCH * 27i64);
    Brief { picture: "a.png".into(), width, finish, ..Brief::usual(Ruler::Inch) }
}

fn composed(finish: Finish) -> Plan {
    compose(&brief(finish), SKETCH, None, &UNWATCHED).unwrap().plan
}

fn list(plan: &Plan) -> String {
    let made = files(plan, &Options::default(), &UNWATCHED).unwrap();
    let list = made.files.iter().find(|file| file.name == "build-list.html").unwrap();
    String::from_utf8(list.bytes.clone()).unwrap()
}

/// With it asked for at once or afterwards, and without, all units are the same; and without it nothing is said of it.
#[test]
fn it_changes_no_unit_of_the_top() {
    let (plain, finished) = (composed(Finish::default()), composed(asked()));
    assert_eq!((&plain.bands, &plain.fabrics), (&finished.bands, &finished.fabrics));
    assert!(!list(&plain).contains("Finish the quilt") && list(&finished).contains("Finish the quilt"));
    assert!(!plan::write(&plain).contains("\"finish\""));

    let of = |finish| ReviseBrief { finish: Some(finish), ..ReviseBrief::default() };
    let after = revise(&plain, &of(asked()), None, None, &UNWATCHED).unwrap().plan;
    assert_eq!((&after.bands, &after.request.finish), (&plain.bands, &finished.request.finish));
    let work = rowscape::job::work(&after);
    let told = changes(&plain, &after, &work);
    assert_eq!((told.same, told.pairs.len(), told.fillers.len()), (told.units, 0, 0));
    assert_eq!(after.progress.was.as_ref().unwrap().why, [Why::Finished]);
    let without = revise(&after, &of(Finish::default()), None, None, &UNWATCHED).unwrap().plan;
    assert_eq!((&without.bands, without.request.finish.is_none()), (&plain.bands, true));
    // What is not asked for anew stays.
    let kept = revise(&after, &ReviseBrief::default(), None, None, &UNWATCHED).unwrap().plan;
    assert_eq!(kept.request.finish, after.request.finish);
}

#[test]
fn briefs_plans_and_json_say_the_same() {
    let first = composed(asked());
    let read = plan::read(&plan::write(&first)).unwrap();
    assert_eq!(read, first);
    let again = Brief::of(&read);
    assert_eq!(again.finish, asked());
    let json = serde_json::to_string(&again).unwrap();
    assert_eq!(serde_json::from_str::<Brief>(&json).unwrap(), again);
}

#[test]
fn only_fabrics_that_are_there() {
    let border = Border { width: Some(Length::INCH), fabric: Some("Q".into()), ..Border::default() };
    let finish = Finish { borders: vec![border], ..Finish::default() };
    let refusal = compose(&brief(finish.clone()), SKETCH, None, &UNWATCHED).map(|_| ()).unwrap_err();
    assert!(
        matches!(&refusal, JobError::Brief(BriefError::NoFinishFabric { letter, .. }) if letter == "Q"),
        "{refusal}"
    );
    let plain = composed(Finish::default());
    let change = ReviseBrief { finish: Some(finish), ..ReviseBrief::default() };
    assert!(revise(&plain, &change, None, None, &UNWATCHED).is_err());
}

/// What README.md shows can be asked for.
#[test]
fn the_readme_shows_a_file_that_is_read() {
    let readme = std::fs::read_to_string(project("README.md")).unwrap();
    let shown = readme.split("```toml\n").nth(1).unwrap().split("```").next().unwrap();
    let finish: Finish = toml::from_str(shown).unwrap();
    assert_eq!((finish.borders.len(), finish.sleeve, finish.batting), (2, true, true));
    let plan = composed(Finish { borders: vec![], ..finish });
    assert!(plan.request.finishing().unwrap().hang.is_some());
}

/// Options, and a file, say what the brief says.
#[test]
fn options_and_a_file() {
    let desk = Desk::new();
    desk.write("finish.toml", toml::to_string(&asked()).unwrap());
    let file = desk.path("finish.toml");
    desk.made(SAMPLE, &["--width", "27in", "--finish", file.to_str().unwrap()]);
    let written = plan::read(&std::fs::read_to_string(desk.path("out/plan.json")).unwrap()).unwrap();
    assert_eq!(written.request.finish, asked());

    let desk = Desk::new();
    let options = "--width 27in --finish usual --border 2in=B --border fit --bed 27x52in --tuck 6in --bias --sleeve";
    desk.made(SAMPLE, &options.split(' ').collect::<Vec<_>>());
    let written = plan::read(&std::fs::read_to_string(desk.path("out/plan.json")).unwrap()).unwrap();
    let finish = &written.request.finish;
    assert_eq!(finish.borders[0].fabric.as_deref(), Some("B"));
    assert_eq!((&finish.come_to, finish.binding.as_ref().map(|b| b.bias)), (&asked().come_to, Some(true)));
    let quilt = written.request.finishing().unwrap().quilt;
    assert_eq!(quilt, [Length::INCH * 55i64, Length::INCH * 72i64]);
}

/// A facing takes the place of the usual binding, and the quilt is as large as its top.
#[test]
fn a_facing_in_place_of_the_binding() {
    let desk = Desk::new();
    let options = "--width 27in --finish usual --border 2in --facing --facing-strip 3in --facing-fold single";
    desk.made(SAMPLE, &options.split(' ').collect::<Vec<_>>());
    let written = plan::read(&std::fs::read_to_string(desk.path("out/plan.json")).unwrap()).unwrap();
    let work = written.request.finishing().unwrap();
    let facing = work.facing.unwrap();
    assert_eq!((&work.binding, work.quilt, facing.fold), (&None, work.bordered, Fold::Single));
    let [width, height] = work.quilt;
    let half = Length::inches(1, 2);
    assert_eq!((facing.sides, facing.ends), (height + half, width + Length::INCH));
    assert_eq!((facing.run.strip, facing.shows), (Length::INCH * 3i64, Length::inches(5, 2)));
    // Asked for again as a binding, the facing is gone.
    let of = |finish| ReviseBrief { finish: Some(finish), ..ReviseBrief::default() };
    let bound = revise(&written, &of(Finish::usual()), None, None, &UNWATCHED).unwrap().plan;
    assert!(bound.request.finish.facing.is_none() && list(&bound).contains("Binding"));
    assert!(list(&written).contains("none of it shows on the front"));
}

fn written(desk: &Desk) -> Plan {
    plan::read(&std::fs::read_to_string(desk.path("out/plan.json")).unwrap()).unwrap()
}

/// Pieced borders by options: what is asked for, what it comes to, and rows that the list and the picture show.
#[test]
fn pieced_borders_by_options() {
    let desk = Desk::new();
    let options = "--width 27in --border fit --border squares:2in=A,B --border rectangles:1in --binding";
    desk.made(SAMPLE, &options.split(' ').collect::<Vec<_>>());
    let plan = written(&desk);
    let asked: Vec<_> = plan.request.finish.borders.iter().map(|border| border.pieced.clone()).collect();
    let squares = Pieced { fabrics: vec!["A".into(), "B".into()], ..Pieced::default() };
    let rectangles = Pieced { units: BorderUnits::Rectangles, ..Pieced::default() };
    assert_eq!(asked, [None, Some(squares), Some(rectangles)]);
    let finishing = plan.request.finishing().unwrap();
    let work = rowscape::job::work(&plan);
    let cloth = work.finish_cloth(&plan, &finishing);
    let ring = cloth.rings[1].as_ref().unwrap();
    let units = finishing.borders[1].pieced.unwrap();
    assert_eq!(ring.places.len(), units.places());
    let letters: Vec<&str> = ring.places.iter().map(|print| plan.fabrics[*print].letter.as_str()).collect();
    // An even number all round, so that the two take turns at the last corner too.
    assert!(letters.iter().zip(letters.iter().cycle().skip(1)).all(|(one, next)| one != next), "{letters:?}");
    let list = desk.read("out/build-list.html");
    assert!(list.contains("is pieced of squares") && list.contains("is pieced of rectangles"));
    assert!(list.contains("left side, from the top down"));
    let desk = Desk::new();
    refused(
        &desk.compose(&project(SAMPLE), &["--width", "27in", "--border", "stars:2in"]),
        "squares, rectangles or triangles",
    );
    refused(&desk.compose(&project(SAMPLE), &["--width", "27in", "--border", "squares:2in=A,Q"]), "fabric `Q`");
}

/// All that comes off what the top leaves was there: no fabric is short of area, and what is left with it is what there was.
#[test]
fn finishing_comes_off_what_is_left() {
    let stash = "sample-sketches/stash-two-packs.toml";
    let desk = Desk::new();
    let stash_file = project(stash);
    let options =
        "--width 30in --border squares:fit --border 2in=A --binding --sleeve --backing=A --backing-pieced --stash";
    let mut options: Vec<&str> = options.split(' ').collect();
    options.push(stash_file.to_str().unwrap());
    desk.made(SAMPLE, &options);
    let plan = written(&desk);
    let (work, finishing) = (rowscape::job::work(&plan), plan.request.finishing().unwrap());
    let cloth = work.finish_cloth(&plan, &finishing);
    let left = work.leftovers(&plan);
    let area = |width: Length, height: Length| i128::from(width.ticks()) * i128::from(height.ticks());
    let mut off_any = false;
    for print in plan.fabrics.keys() {
        let squares = left.squares.iter().filter(|squares| squares.fabric == print);
        let squares: i128 = squares.map(|s| area(s.side, s.side) * i128::from(s.count)).sum();
        let sum = |all: &[SpareCloth]| -> i128 {
            let of = all.iter().filter(|cloth| cloth.fabric == print);
            of.map(|cloth| area(cloth.width, cloth.height) * i128::from(cloth.count)).sum()
        };
        let before = squares + sum(&left.cloth);
        let used: i128 = cloth
            .parts
            .iter()
            .filter(|part| part.fabric == Some(print))
            .map(|part| {
                let gives: i64 = part.off.iter().map(|off| off.gives).sum();
                match part.cut {
                    PartCut::Pieces { size, .. } => area(size[0], size[1]) * i128::from(gives),
                    PartCut::Strips(run) => {
                        part.off.iter().map(|off| area(run.strip, off.each) * i128::from(off.gives)).sum()
                    }
                    PartCut::Lengths { size, .. } => area(size[0], size[1]) * i128::from(gives),
                }
            })
            .sum();
        off_any |= used > 0;
        assert!(used + sum(&cloth.left) <= before, "{}", plan.fabrics[print].name);
    }
    assert!(off_any, "something comes off the stash");
    // What is left when it is finished is what the file lists.
    let kept = rowscape::fabric::Stash::read(&desk.read("out/leftovers.toml")).unwrap();
    for (print, fabric) in kept.prints.iter_enumerated() {
        let sheets: u64 = fabric.supply.as_ref().unwrap().sheets().map(|sheet| u64::from(sheet.count)).sum();
        let due: u64 =
            cloth.left.iter().filter(|cloth| cloth.fabric == print).map(|cloth| u64::from(cloth.count)).sum();
        assert_eq!(sheets, due, "{}", fabric.name);
    }
}

/// Where the border that is worked out is wider at the sides than at the ends, a scene that mends it is told, not taken.
#[test]
fn a_scene_that_comes_out_more_evenly_is_offered() {
    let plain = composed(Finish::default());
    let [width, height] = [plain.request.width, plain.request.height];
    let round = |sides: Length, ends: Length| {
        let come_to = Some(ComeTo::Size([width + sides * 2i64, height + ends * 2i64]));
        composed(Finish { borders: vec![Border::default()], come_to, ..Finish::default() })
    };
    let three = Length::INCH * 3i64;
    assert_eq!(round(three, three).offer(), None);
    // A row of squares more makes both alike.
    let units = plain
        .rows()
        .iter()
        .flat_map(|(_, row)| row.units.iter().map(|unit| (unit.width, row.height)))
        .collect::<Vec<_>>();
    let square = units.iter().find(|(width, height)| width == height).map(|(width, _)| plain.request.grid * *width);
    let uneven = round(three, three + square.unwrap() / 2);
    let offer = uneven.offer().unwrap();
    assert_eq!(offer.steps[0].abs() + offer.steps[1].abs(), 1, "{offer:?}");
    assert_eq!((uneven.request.width, uneven.request.height), (width, height), "it is not taken by itself");
    assert!(list(&uneven).contains("It would come out more evenly with one"));
}

#[test]
fn what_cannot_be_finished_is_refused() {
    let desk = Desk::new();
    desk.write("odd.toml", "bindings = 3");
    let odd = desk.path("odd.toml");
    let cases = [
        ("--border 45in", "its cloth is 42 in wide"),
        ("--border 3", "has no unit"),
        ("--border fit", "say what bed or what size"),
        ("--border 1in --border 1in --border 1in --border 1in", "3 are the most"),
        ("--binding --binding-width 1/8in", "narrower than its seam of 1/4 in"),
        ("--facing --facing-strip 1/2in", "a facing of strips of 1/2 in cannot be worked with: give from 1 in to 6 in"),
        ("--facing=Q", "fabric `Q`"),
        ("--binding --facing", "cannot be used with"),
        ("--bed twin --drop -2in", "the drop is -2 in"),
        ("--bed hammock", "no bed of those that are named"),
        ("--quilt-size 20inx30in --border fit", "ask for a smaller top"),
        ("--border 22in --border-joins bias", "join them straight"),
        ("--finish usual --quilting rows --quilting-scale 1/8in", "quilting of 1/8 in cannot be worked with"),
        ("--border 2in=Q", "fabric `Q`"),
        ("--backing --overhang -1in", "the overhang is -1 in"),
        ("--backing --backing-width 5in", "more than three lengths"),
    ];
    for (options, says) in cases {
        let options: Vec<&str> = ["--width", "27in"].into_iter().chain(options.split(' ')).collect();
        refused(&desk.compose(&project(SAMPLE), &options), says);
        assert!(!desk.path("out").exists(), "{options:?} left a folder behind");
    }
    let run = desk.compose(&project(SAMPLE), &["--width", "27in", "--finish", odd.to_str().unwrap()]);
    refused(&run, "odd.toml");
    desk.write("bound.toml", "[binding]");
    let bound = desk.path("bound.toml");
    let run = desk.compose(&project(SAMPLE), &["--width", "27in", "--finish", bound.to_str().unwrap(), "--facing"]);
    refused(&run, "a binding and a facing are both asked for");
    let schema = rowscape(&["schema", "brief"]).output().unwrap();
    assert!(text(&schema.stdout).contains("\"finish\""));
}
