//! Prints on patches against an integer program: bound <= optimum <= answer, and no count is ever exceeded.

mod case;
mod referee;
mod touch;

use case::Case;
use referee::{fewest, taken};
use rowscape::plan::{Placed, Plan, State};
use rowscape::prints::report;
use touch::{clashes, prints_of};

/// Nothing that stands is changed, and no more is taken than before.
fn assert_kept(case: &Case, plan: &Plan) {
    for (before, after) in case.plan.placed().iter().zip(plan.placed()) {
        assert_eq!(
            (before.address, before.unit.width, before.unit.state),
            (after.address, after.unit.width, after.unit.state)
        );
        if before.unit.state != State::Free {
            assert_eq!(before.unit, after.unit);
        }
        let family = |placed: &Placed| prints_of(placed).iter().map(|&print| case.family(print)).collect::<Vec<_>>();
        assert_eq!(family(before), family(&after));
        let prints = prints_of(&after);
        assert!(prints.len() == 1 || prints[0] != prints[1], "{} shows one print twice", after.address);
    }
    let (before, after) = (taken(case, &case.plan), taken(case, plan));
    for (key, count) in after.squares.iter().filter(|((print, _), _)| case.counted[*print]) {
        assert!(count <= before.squares.get(key).unwrap_or(&0), "squares of {key:?}");
    }
    for (key, count) in after.fillers.iter().filter(|((print, _), _)| case.counted[*print]) {
        assert!(count <= before.fillers.get(key).unwrap_or(&0), "fillers of {key:?}");
    }
    for (class, pairs) in &after.pairs {
        assert!(pairs.len() <= before.pairs.get(class).map_or(0, Vec::len), "pairs of {class:?}");
    }
    assert!(after.held >= before.held, "{} on hand are used, and {} were", after.held, before.held);
}

#[test]
fn the_answer_is_nearly_always_the_referees_and_the_bound_never_above() {
    let (mut cases, mut same, mut proven, mut held, mut before, mut after) = (0, 0, 0, 0, 0, 0);
    for seed in 0..240 {
        let case = Case::new(seed);
        let plan = case.spread();
        assert_kept(&case, &plan);
        let (answer, optimum) = (clashes(&case, &plan), fewest(&case));
        let least = report(&plan).map_or(0, |report| {
            assert_eq!(report.clashes, answer, "case {seed}");
            report.least
        });
        assert!(optimum <= answer, "case {seed}: {optimum} <= {answer}");
        // The bound is for what the scene takes in the end, which may be less.
        let best = fewest(&Case { plan: plan.clone(), ..case.clone() });
        assert!(least <= best && best <= answer, "case {seed}: {least} <= {best} <= {answer}");
        cases += 1;
        same += usize::from(answer == optimum);
        proven += usize::from(least == best);
        held += usize::from(!case.plan.hand.is_empty());
        before += clashes(&case, &case.plan);
        after += answer;
    }
    // The rest of the bounds are below because of how counts tie families together.
    assert!(proven * 100 >= cases * 75, "{proven} of {cases}");
    assert!(held * 4 > cases, "{held} of {cases} have pieces on hand");
    println!("{same} of {cases} are the optimum, {proven} bounds are; {before} clashes before, {after} after");
    assert!(same * 100 >= cases * 95, "{same} of {cases}");
    assert!(after * 4 < before * 3);
}
