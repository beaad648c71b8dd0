//! The work step by step: in order, each once, and what is ticked stands when the scene is changed.

use std::collections::{BTreeMap, BTreeSet};

use rowscape::answer::{Chapter, Part, Step, Task};
use rowscape::fabric::Print;
use rowscape::job::{ReviseBrief, revise, steps, ticked, work};
use rowscape::make::Source;
use rowscape::plan::{Address, Plan, State};
use rowscape::render::{build_list, chapter_words, step_words};
use rowscape::revise::{Change, TopPart};
use rowscape::watch::UNWATCHED;

use super::revise::plan;

fn keys<'a>(steps: impl IntoIterator<Item = &'a Step>) -> Vec<String> {
    steps.into_iter().map(|step| step.key.clone()).collect()
}

/// The plan with what is ticked marked, and no more.
fn changed(plan: &Plan, ticks: &[String], brief: ReviseBrief) -> Plan {
    let changes = ticked(plan, ticks).into_iter().chain(brief.changes.clone()).collect();
    revise(plan, &ReviseBrief { changes, ..brief }, None, None, &UNWATCHED).unwrap().plan
}

fn states(plan: &Plan, ticks: &[String]) -> BTreeMap<Address, State> {
    let of = |change: Change| match change {
        Change::Mark(TopPart::Unit(at), state) => (at, state),
        other => panic!("{other:?}"),
    };
    ticked(plan, ticks).into_iter().map(of).collect()
}

#[test]
fn every_seam_and_every_piece_has_a_step_in_the_order_of_the_work() {
    let plan = plan();
    let (work, steps) = (work(&plan), steps(&plan));
    assert_eq!(keys(&steps).into_iter().collect::<BTreeSet<_>>().len(), steps.len(), "each key once");
    assert!(steps.is_sorted_by_key(|step| step.chapter));
    let of = |chapter| steps.iter().filter(move |step| step.chapter == chapter);
    let units = plan.placed().len();
    let joins = of(Chapter::Rows).filter(|step| matches!(step.task, Task::Join(Part::Unit(_), ..))).count();
    assert_eq!(joins, units - plan.rows().len());
    let columns: usize = plan.bands.iter().map(|band| band.columns.len()).sum();
    assert_eq!(of(Chapter::Columns).count(), plan.rows().len() - columns);
    assert_eq!(of(Chapter::Bands).count(), columns - plan.bands.len());
    assert_eq!(of(Chapter::Top).count(), plan.bands.len() - 1);
    for chapter in [Chapter::Pair, Chapter::Sew, Chapter::Apart, Chapter::Press, Chapter::Trim] {
        assert_eq!(of(chapter).count(), work.batches.len());
    }
    assert_eq!(of(Chapter::Cut).count(), 2 * work.batches.len() + work.fillers.len());
    let strips = work
        .rows
        .iter()
        .flat_map(|row| &row.units)
        .filter(|unit| unit.strip.is_some() && matches!(unit.source, Source::Batch(_)));
    assert_eq!(of(Chapter::Strips).count(), strips.count());
    // Squares cut are two for each pair, and every unit is made of something that is cut.
    let squares: u32 = of(Chapter::Cut).filter(|one| matches!(one.task, Task::Squares(..))).map(|one| one.amount).sum();
    assert_eq!(squares, 2 * work.batches.iter().map(|batch| batch.pairs).sum::<u32>());
}

#[test]
fn steps_say_what_the_list_says() {
    let plan = plan();
    let (work, steps) = (work(&plan), steps(&plan));
    let list = build_list(&plan, &work, &Default::default());
    let words = step_words(&plan, &work, &steps);
    for (step, said) in steps.iter().zip(&words) {
        assert!(!said.title.is_empty() && !said.words.is_empty(), "{}", step.key);
        for line in &said.words {
            let first = line.chars().next().unwrap();
            assert!(line.ends_with(['.', ':']) && (first.is_uppercase() || first.is_ascii_digit()), "{line}");
        }
        match &step.task {
            Task::Pairs(batch) | Task::Squares(_, batch) => assert!(list.contains(&format!("<b>{}</b>", batch.id))),
            Task::Join(_, part, joint) => {
                let upright = matches!(part, Part::Unit(_) | Part::Column(..));
                let side = said.words.iter().any(|line| {
                    line.contains(&format!("to the {}", said.press)) || line.contains(&format!(" {};", said.press))
                });
                assert!(side, "{upright} {joint:?} {:?}", said.words);
            }
            _ => {}
        }
    }
    for chapter in steps.iter().map(|step| step.chapter) {
        for caution in chapter_words(chapter).cautions {
            assert!(list.contains(caution), "{caution}");
        }
    }
}

#[test]
fn a_pair_is_cut_once_both_its_squares_are() {
    let plan = plan();
    let steps = steps(&plan);
    let squares: Vec<&Step> = steps.iter().filter(|step| matches!(step.task, Task::Squares(..))).collect();
    let one = squares[0];
    let other = squares.iter().find(|step| step.units == one.units && step.key != one.key).unwrap();
    assert_eq!(states(&plan, std::slice::from_ref(&one.key)), BTreeMap::new());
    let both = states(&plan, &[one.key.clone(), other.key.clone()]);
    assert_eq!(both, one.units.iter().map(|at| (*at, State::Cut)).collect());
    let filler = steps.iter().find(|step| matches!(step.task, Task::Fillers(_))).unwrap();
    let cut = states(&plan, std::slice::from_ref(&filler.key));
    assert_eq!(cut, filler.units.iter().map(|at| (*at, State::Cut)).collect());
}

#[test]
fn all_that_is_ticked_is_sewn() {
    let plan = plan();
    let all = states(&plan, &keys(&steps(&plan)));
    assert_eq!(all, plan.placed().iter().map(|placed| (placed.address, State::Sewn)).collect());
    // Keys of no step tick nothing.
    assert_eq!(states(&plan, &["sew P999".into(), String::new(), "\u{202e}".into()]), BTreeMap::new());
}

#[test]
fn what_is_ticked_stands_when_a_fabric_runs_out_and_a_unit_is_spoilt() {
    let plan = plan();
    let before = steps(&plan);
    let first = plan.rows()[0].0;
    let in_first = |step: &&Step| step.row == Some(first) && step.chapter == Chapter::Rows;
    let used: BTreeSet<Address> = before.iter().filter(in_first).flat_map(|step| step.units.clone()).collect();
    // All that the first row needs is made, and it is sewn.
    let made = |step: &&Step| step.chapter < Chapter::Rows && step.units.iter().any(|at| used.contains(at));
    let mut ticks = keys(before.iter().filter(|step| made(step) || in_first(step)));
    // Another line is cut, but not sewn.
    let under_way = before.iter().find(|step| {
        matches!(step.task, Task::Pairs(_)) && !ticks.contains(&step.key) && step.chapter == Chapter::Pair
    });
    let Some(under_way) = under_way else { panic!("every pair is in the first row") };
    let Task::Pairs(batch) = &under_way.task else { unreachable!() };
    let is_square = |step: &&Step| matches!(&step.task, Task::Squares(_, of) if of.id == batch.id);
    ticks.extend(keys(before.iter().filter(is_square)));
    let held = states(&plan, &ticks);
    let out = plan.fabrics.iter().map(|fabric| fabric.letter.clone()).find(|letter| {
        let free = plan.placed().into_iter().filter(|placed| !held.contains_key(&placed.address));
        let shows = |print: Print| plan.fabrics[print].letter == *letter;
        free.into_iter().any(|placed| placed.unit.piece.fabrics().any(shows))
    });
    let then = changed(&plan, &ticks, ReviseBrief { without: vec![out.unwrap()], ..ReviseBrief::default() });
    let places: BTreeMap<_, _> =
        then.placed().iter().map(|now| ((now.x, now.y, now.unit.width, now.height), now.unit)).collect();
    for was in plan.placed().iter().filter(|was| held.contains_key(&was.address)) {
        let now = places[&(was.x, was.y, was.unit.width, was.height)];
        assert_eq!((now.piece, now.state), (was.unit.piece, held[&was.address]), "{}", was.address);
    }
    // Seams that were ticked are there still, and done; pairs that were cut are yet to be sewn, under their number.
    let after = steps(&then);
    for step in before.iter().filter(in_first) {
        let same = after.iter().find(|other| other.key == step.key);
        assert!(same.is_some_and(|step| step.made), "{}", step.key);
    }
    for chapter in ["pair", "sew", "apart", "press", "trim"] {
        let key = format!("{chapter} {}", batch.id);
        assert!(after.iter().any(|step| step.key == key && !step.made), "{key} in {:?}", keys(&after));
    }
    // The same ticks make no more of the new scene than it says already.
    assert_eq!(states(&then, &ticks), BTreeMap::new());

    let lost = *used.iter().find(|at| then.unit(**at).is_some_and(|unit| unit.state == State::Sewn)).unwrap();
    let again = changed(&then, &ticks, ReviseBrief { changes: vec![Change::Lost(lost)], ..ReviseBrief::default() });
    let open = steps(&again);
    let seams = open.iter().filter(|step| step.chapter == Chapter::Rows && step.units.contains(&lost));
    assert!(seams.clone().count() > 0 && seams.into_iter().all(|step| !step.made), "its seams are to be sewn again");
    let words = step_words(&again, &work(&again), &open);
    assert!(words.iter().all(|said| !said.words.is_empty()));
}
