//! What a trial takes over what its stash has, in words.

use crate::cutting::{self, Lacking};
use crate::measure::{Length, Ruler};
use crate::plan::{Plan, Request};

/// What is short, by family; none where no fabric is counted.
pub(super) fn lacking(plan: &Plan) -> Option<Vec<Lacking>> {
    plan.fabrics.iter().any(|fabric| fabric.supply.is_some()).then(|| cutting::lacking(plan))
}

/// A sentence on it.
pub(super) fn sentence(lacking: &[Lacking], request: &Request) -> String {
    if lacking.is_empty() {
        return "Its stash has enough of every fabric.".into();
    }
    let all: Vec<String> = lacking.iter().map(|lacking| words(lacking, request)).collect();
    format!("Its stash is short of {}.", all.join(", "))
}

/// `sky (2 squares of 10 in)`, `sky (2 squares of 10 in, about 120 square inches for fillers)`.
fn words(lacking: &Lacking, request: &Request) -> String {
    let ruler = request.ruler;
    let squares = lacking.squares.iter().map(|(side, count)| {
        let squares = if *count == 1 { "square" } else { "squares" };
        format!("{count} {squares} of {}", ruler.show(*side))
    });
    let fillers = (lacking.fillers > 0).then(|| fillers(lacking.fillers, ruler));
    let parts: Vec<String> = squares.chain(fillers).collect();
    format!("{} ({})", lacking.family, parts.join(", "))
}

/// An area, rounded up.
fn fillers(area: i128, ruler: Ruler) -> String {
    let (side, name) = match ruler {
        Ruler::Inch => (Length::INCH, "square inches"),
        Ruler::Metric => (Length::CM, "square cm"),
    };
    let one = i128::from(side.ticks()).pow(2);
    format!("about {} {name} for fillers", (area + one - 1) / one)
}
