//! What was changed of a scene, in words.

use crate::plan::{Plan, State, Why};
use crate::render::text::count;

/// What was asked for, a sentence each; equal ones once.
pub(super) fn why(asked: &[Why]) -> Vec<String> {
    let mut all: Vec<String> = Vec::new();
    for words in asked.iter().map(one) {
        if !all.contains(&words) {
            all.push(words);
        }
    }
    all
}

fn one(why: &Why) -> String {
    match why {
        Why::Marked { part, state } => {
            let is = match state {
                State::Free => "may be changed again",
                State::Kept => "is kept as it is",
                State::Cut => "is cut and paired",
                State::Sewn => "is sewn",
            };
            format!("{} {is}.", named(part))
        }
        Why::Lost { unit } => format!("Unit {unit} was lost, and is made again."),
        Why::Turned { unit } => format!("Unit {unit} is turned."),
        Why::Wanted { unit } => format!("Unit {unit} is made otherwise."),
        Why::Exchanged { part, now, then } if part == "all" => format!("Fabric {then} takes the place of {now}."),
        Why::Exchanged { part, now, then } => {
            format!("Fabric {then} takes the place of {now} in {}.", named(part).to_lowercase())
        }
        Why::RanOut { letter } => format!("Fabric {letter} is used no more, but where it is made already."),
        Why::Bought { letter } => format!("There is more of fabric {letter}."),
        Why::Stash => "The stash is told anew.".into(),
        Why::Asked => "Another size, picture or dial is asked for.".into(),
        Why::Finished => "The quilt is finished another way, which changes nothing of the top.".into(),
    }
}

/// A part as it is called: a row by its address, or a rectangle.
fn named(part: &str) -> String {
    let what = match part.split('.').count() {
        _ if part == "all" => return "All of it".into(),
        _ if part.contains(',') => return format!("What lies in {part}"),
        1 => "Band",
        2 => "Column",
        3 => "Row",
        _ => "Unit",
    };
    format!("{what} {part}")
}

/// How far the quilt is.
pub(super) fn done(plan: &Plan) -> String {
    let placed = plan.placed();
    let of = |state: State| placed.iter().filter(|unit| unit.unit.state == state).count() as u64;
    let all = count(placed.len() as u64, "unit", "units");
    match (of(State::Sewn), of(State::Cut)) {
        (0, 0) => format!("Of {all} none is sewn yet."),
        (sewn, 0) => {
            format!("Of {all} {sewn} {} sewn: this list asks for what the rest needs, and no more.", are(sewn))
        }
        (sewn, cut) => format!(
            "Of {all} {sewn} {} sewn and {cut} {} cut: this list asks for what the rest needs, and no more.",
            are(sewn),
            are(cut)
        ),
    }
}

fn are(count: u64) -> &'static str {
    if count == 1 { "is" } else { "are" }
}
