//! Prints that stand upright in triangle units: how pairs are counted, what is written of them, and what is not proven.
//!
//! That a square sewn face down has to be laid by a quarter for its print to stand is shown by the geometry itself, in
//! `unit::upright`: *common practice, no source*.

use std::collections::BTreeMap;
use std::path::Path;

use rowscape::fabric::{Print, Stash};
use rowscape::job::{self, Brief, Change, JobError, ReviseBrief, TopPart};
use rowscape::make::{Source, Work, make};
use rowscape::measure::Ruler;
use rowscape::plan::{Address, Plan, State, write};
use rowscape::proof::{Files, prove};
use rowscape::render::{Options, cloth_csv, cutting_csv, rows_csv};
use rowscape::unit::{AtATime, Corner, Diagonal};
use rowscape::watch::UNWATCHED;

/// Six invented fabrics of the harbour; those of these letters stand upright, and have so many squares where counted.
fn stash(upright: &[&str], squares: Option<u32>) -> String {
    let fabrics = [
        ("A", "night harbour", "#1d2a44"),
        ("B", "gulls at dusk", "#7a6f9b"),
        ("C", "lamp light", "#f2c46d"),
        ("D", "small masts", "#d98a8f"),
        ("E", "wet rock", "#3a3a44"),
        ("F", "sea foam", "#c9d6d5"),
    ];
    let fabric = |(letter, name, colour): &(&str, &str, &str)| {
        let stands = if upright.contains(letter) { "directional = true\nupright_in_triangles = true\n" } else { "" };
        let counted = squares
            .map(|count| format!("squares = [{{ size = \"10in\", count = {count} }}]\nyardage = \"1 1/2 yd\"\n"));
        let counted = counted.unwrap_or_default();
        format!("[[fabric]]\nletter = \"{letter}\"\nname = \"{name}\"\ncolour = \"{colour}\"\n{stands}{counted}\n")
    };
    fabrics.iter().map(fabric).collect()
}

fn brief(stash: String) -> Brief {
    Brief { stash: Some(stash), width: Some("30in".parse().unwrap()), rounds: 8, ..Brief::usual(Ruler::Inch) }
}

fn composed(brief: &Brief) -> Result<Plan, JobError> {
    let picture = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-sketches/lighthouse-dusk.png");
    job::compose(brief, &std::fs::read(picture).unwrap(), None, &UNWATCHED).map(|scene| scene.plan)
}

/// The plan, of which all files are written and proven.
fn proven(plan: Plan) -> (Plan, Work) {
    let files = job::files(&plan, &Options::default(), &UNWATCHED).expect("what is written comes out right");
    (plan, files.work)
}

/// Counts every unit of pairs with an upright print by its corner, and holds the lines of the list against that.
fn assert_stands(plan: &Plan, work: &Work) -> usize {
    let mut taken: BTreeMap<(usize, Corner), u32> = BTreeMap::new();
    for unit in work.rows.iter().flat_map(|row| &row.units) {
        if let (Source::Batch(index), Some(turn)) = (unit.source, unit.turn) {
            *taken.entry((index, turn)).or_default() += 1;
        }
    }
    let mut stands = 0;
    for (index, batch) in work.batches.iter().enumerate() {
        let prints = [batch.first, batch.second].map(|print| plan.fabrics[print].upright);
        let Some(upright) = batch.upright else {
            assert_eq!(prints, [false; 2], "{}", batch.id);
            continue;
        };
        stands += 1;
        assert!(prints[usize::from(upright.second_below)], "{}: what lies below stands", batch.id);
        assert_eq!(upright.both, prints == [true; 2]);
        let each = match (batch.at_a_time, upright.diagonal) {
            (AtATime::Two, Some(Diagonal::Rising)) => [1, 0, 1, 0],
            (AtATime::Two, Some(Diagonal::Falling)) => [0, 1, 0, 1],
            (AtATime::Eight, None) if !upright.both => [2; 4],
            other => panic!("{}: {other:?} keeps no print upright", batch.id),
        };
        for corner in Corner::ALL {
            let (at, made) = (corner as usize, each[corner as usize] * batch.pairs);
            let used = taken.get(&(index, corner)).copied().unwrap_or(0);
            assert_eq!(upright.needed[at], used, "{} {corner:?}", batch.id);
            assert!(used <= made, "{} {corner:?}: {used} of {made}", batch.id);
        }
    }
    stands
}

#[test]
fn scenes_with_one_and_with_two_upright_prints_are_sewn_and_proven() {
    for upright in [&["D"][..], &["B", "D"]] {
        let (plan, work) = proven(composed(&brief(stash(upright, None))).unwrap());
        let names: Vec<&str> = plan.fabrics.iter().filter(|f| f.upright).map(|f| f.letter.as_str()).collect();
        assert_eq!(names, upright);
        assert!(assert_stands(&plan, &work) > 1);
        let both = work.batches.iter().any(|batch| batch.upright.is_some_and(|upright| upright.both));
        assert_eq!(both, upright.len() == 2);
        // What is left over says which corner it stands in, and so does the stash that it makes.
        let left = work.leftovers(&plan);
        let stands = |print: Print| plan.fabrics[print].upright;
        for unit in &left.units {
            assert_eq!(unit.stands.is_some(), stands(unit.first) || stands(unit.second));
        }
        let files = job::files(&plan, &Options::default(), &UNWATCHED).unwrap();
        let toml = files.files.iter().find(|file| file.name == "leftovers.toml").unwrap();
        let read = Stash::read(std::str::from_utf8(&toml.bytes).unwrap()).unwrap();
        assert!(read.hand.units.iter().any(|unit| unit.stands.is_some()));
        assert_eq!(Stash::read(&read.write()).unwrap(), read);
    }
}

#[test]
fn asked_for_all_the_prints_with_an_up_and_a_down_stand() {
    let directional = stash(&["B", "D"], None).replace("upright_in_triangles = true\n", "");
    let asked = Brief { upright_in_triangles: true, ..brief(directional.clone()) };
    let plan = composed(&asked).unwrap();
    assert_eq!(write(&plan), write(&composed(&brief(stash(&["B", "D"], None))).unwrap()));
    let unasked = composed(&brief(directional)).unwrap();
    assert!(unasked.fabrics.iter().all(|fabric| !fabric.upright));
    let work = make(&unasked);
    assert!(work.batches.iter().all(|batch| batch.upright.is_none()));
    let [_, cutting, _] = tables(&unasked, &work);
    assert!(cutting.lines().next().unwrap().ends_with(",press"));
    let none = Brief { upright_in_triangles: true, ..brief(stash(&[], None)) };
    assert!(composed(&none).unwrap_err().to_string().contains("an up and a down"));
}

#[test]
fn prints_of_one_family_stand_together() {
    let text =
        stash(&["B"], None).replace("name = \"small masts\"", "name = \"small masts\"\nfamily = \"gulls at dusk\"");
    let read = Stash::read(&text).unwrap();
    let upright: Vec<&str> = read.prints.iter().filter(|f| f.upright).map(|f| f.letter.as_str()).collect();
    assert_eq!(upright, ["B", "D"]);
    let (plan, work) = proven(composed(&brief(text)).unwrap());
    assert!(assert_stands(&plan, &work) > 0);
}

#[test]
fn a_counted_stash_is_not_asked_for_more_squares_than_it_has() {
    let mut made = 0;
    for count in [2, 4, 6, 9, 14] {
        for upright in [&["D"][..], &["A", "B", "D"]] {
            match composed(&brief(stash(upright, Some(count)))) {
                Ok(plan) => {
                    let (plan, work) = proven(plan);
                    let stands = assert_stands(&plan, &work);
                    made += usize::from(stands > 0);
                    for (print, _) in plan.fabrics.iter_enumerated() {
                        assert!(work.cloth[print].unplaced.is_empty(), "{count} {upright:?}");
                    }
                }
                Err(error) => assert!(matches!(error, JobError::Stock(_)), "{count} {upright:?}: {error}"),
            }
        }
    }
    assert!(made > 4, "{made}");
}

fn tables(plan: &Plan, work: &Work) -> [String; 3] {
    let options = Options::default();
    let rows = rows_csv(plan, work, &options).unwrap();
    [rows, cutting_csv(plan, work, &options).unwrap(), cloth_csv(plan, work, &options).unwrap()]
}

/// The same table with one cell made something else: of the first line for which that is another text.
fn spoilt(table: &str, column: &str, of: impl Fn(&str) -> Option<String>) -> Option<String> {
    let mut reader = csv::Reader::from_reader(table.as_bytes());
    let at = reader.headers().unwrap().iter().position(|name| name == column)?;
    let mut records: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
    let line = records.iter().position(|record| of(&record[at]).is_some_and(|new| new != record[at]))?;
    let new = of(&records[line][at])?;
    records[line] = records[line].iter().enumerate().map(|(i, old)| if i == at { &new } else { old }).collect();
    let mut writer = csv::Writer::from_writer(Vec::new());
    writer.write_record(csv::Reader::from_reader(table.as_bytes()).headers().unwrap()).unwrap();
    records.iter().for_each(|record| writer.write_record(record).unwrap());
    Some(String::from_utf8(writer.into_inner().unwrap()).unwrap())
}

#[test]
fn the_proof_finds_what_does_not_stand() {
    for upright in [&["D"][..], &["B", "D"]] {
        let (plan, work) = proven(composed(&brief(stash(upright, None))).unwrap());
        let (text, [rows, cutting, cloth]) = (write(&plan), tables(&plan, &work));
        let proves = |plan: &str, rows: &str, cutting: &str| prove(&Files { plan, rows, cutting, cloth: &cloth });
        proves(&text, &rows, &cutting).unwrap();
        let is_one = |old: &str, one: &str, other: &str| (old == one).then(|| other.to_owned());
        let more = |old: &str| old.parse::<u32>().ok().map(|count| (count + 1).to_string());
        let less =
            |old: &str| old.parse::<u32>().ok().and_then(|count| count.checked_sub(1)).map(|count| count.to_string());
        type Change<'a> = (&'a str, &'a dyn Fn(&str) -> Option<String>);
        let changes: [Change; 12] = [
            ("diagonal", &|old| is_one(old, "rising", "falling")),
            ("diagonal", &|old| is_one(old, "falling", "rising")),
            ("diagonal", &|old| is_one(old, "rising", "both")),
            ("diagonal", &|old| is_one(old, "both", "rising")),
            ("diagonal", &|old| is_one(old, "rising", "")),
            ("below", &|old| (!old.is_empty()).then(|| "A".to_owned())),
            ("top_to", &|old| is_one(old, "left", "right")),
            ("top_to", &|old| is_one(old, "right", "left")),
            ("top_to", &|old| (!old.is_empty()).then(String::new)),
            ("upper_left", &more),
            ("lower_right", &less),
            ("upper_right", &less),
        ];
        let mut tried = 0;
        for (column, change) in changes {
            let Some(spoilt) = spoilt(&cutting, column, change) else { continue };
            tried += 1;
            proves(&text, &rows, &spoilt).expect_err(column);
        }
        assert!(tried >= 7, "{tried}");
        // Two units of one line that change places by half a turn are as many as before, and stand on their heads.
        let halves = rows.replace(",180,", ",x,").replace(",0,", ",180,").replace(",x,", ",0,");
        proves(&text, &halves, &cutting).expect_err("turned by half");
        // A scene that does not say that its prints stand has no such columns, and one that does must have them.
        let (turned, asked) = (text.replace("\"upright\": true", "\"upright\": false"), "upright");
        proves(&turned, &rows, &cutting).expect_err(asked);
    }
}

#[test]
fn what_is_cut_and_begun_keeps_its_corners() {
    let (plan, work) = proven(composed(&brief(stash(&["B", "D"], None))).unwrap());
    let upright = |unit: &&rowscape::make::UnitWork| match unit.source {
        Source::Batch(index) => work.batches[index].upright.is_some(),
        _ => false,
    };
    let units: Vec<Address> =
        work.rows.iter().flat_map(|row| &row.units).filter(upright).map(|u| u.placed.address).collect();
    assert!(units.len() > 8);
    let mark = |at: Address, state| Change::Mark(TopPart::Unit(at), state);
    let changes = vec![mark(units[0], State::Cut), mark(units[3], State::Cut), mark(units[6], State::Sewn)];
    let change = ReviseBrief { changes, ..ReviseBrief::default() };
    let (begun, work) = proven(job::revise(&plan, &change, None, None, &UNWATCHED).unwrap().plan);
    assert_stands(&begun, &work);
    assert!(work.hand.iter().any(|hand| hand.item.stands().is_some() && hand.was_made_so()), "cut pairs are on hand");
    // One that was cut is lost: a spare of its corner takes its place, or another is made.
    let lost = ReviseBrief { changes: vec![Change::Lost(units[0])], ..ReviseBrief::default() };
    let (again, work) = proven(job::revise(&begun, &lost, None, None, &UNWATCHED).unwrap().plan);
    assert_stands(&again, &work);
    // Another fabric runs out: the rest is composed around what is made.
    let without = ReviseBrief { without: vec!["C".into()], ..ReviseBrief::default() };
    let (rest, work) = proven(job::revise(&again, &without, None, None, &UNWATCHED).unwrap().plan);
    assert_stands(&rest, &work);
}

#[test]
fn a_kept_unit_that_cannot_stand_is_refused() {
    // Small units come four at a time of squares of 10 in, which turns their prints.
    let plan = composed(&brief(stash(&[], None))).unwrap();
    let small =
        plan.placed().into_iter().find(|placed| placed.unit.piece.cut_from().is_some_and(|(block, _)| block == 12));
    let small = small.expect("a small unit");
    let fabric = small.unit.piece.fabrics().next().unwrap();
    let letter = plan.fabrics[fabric].letter.clone();
    let told = stash(&[&letter], None);
    let changes = vec![Change::Mark(TopPart::Unit(small.address), State::Kept)];
    let kept = ReviseBrief { stash: Some(told.clone()), changes, ..ReviseBrief::default() };
    let refused = job::revise(&plan, &kept, None, None, &UNWATCHED).unwrap_err().to_string();
    assert!(refused.contains("stand upright"), "{refused}");
    // Not kept, it gives way to what stands.
    let free = ReviseBrief { stash: Some(told), ..ReviseBrief::default() };
    let (revised, work) = proven(job::revise(&plan, &free, None, None, &UNWATCHED).unwrap().plan);
    assert!(assert_stands(&revised, &work) > 0);
}
