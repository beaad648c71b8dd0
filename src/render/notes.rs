//! What is said beside an answer.

use crate::answer::{Again, Missed, Note};
use crate::measure::{Length, Ruler};
use crate::plan::{Address, Unused, UnusedKind, UnusedWhy};
use crate::stock::Gaps;

/// A note in one sentence.
pub fn note_words(note: &Note, ruler: Ruler) -> String {
    let show = |length: &Length| ruler.show(*length);
    let size = |[width, height]: &[Length; 2]| format!("{} x {}", show(width), show(height));
    match note {
        Note::Picture(words) => words.clone(),
        Note::Height(height) => format!("height from the picture's shape: {}", show(height)),
        Note::Width(width) => format!("width from the picture's shape: {}", show(width)),
        Note::Unused(unused) => unused_words(unused),
        Note::Levelled => {
            "a long edge of the picture that is nearly level or upright was made so (--straighten none leaves it)"
                .into()
        }
        Note::LeftOut { taken, left } => {
            format!("the best {taken} fabrics of the stash; {} left out: {}", left.len(), left.join(", "))
        }
        Note::AllTaken(count) => format!("the stash has {count} fabrics: all are taken"),
        Note::Largest(sides) => format!("the largest top that this stash was found to make: {}", size(sides)),
        Note::Next(sides, missed) => format!("of {}, {}", size(sides), missed_words(missed)),
        Note::Within(gaps) => format!("within the stash: {}", gaps_words(gaps)),
        Note::Forced { changed, of } => format!(
            "what there is of the other fabrics did not suffice as it lay: {changed} of {of} pieces without what was left \
             out are changed too; what is bought since is told with --bought"
        ),
        Note::Loosened(further) => format!(
            "changed as little as can be, the scene would be {further} % further from its picture than it need be: more \
             of it is changed (--stay most leaves all that may stay)"
        ),
        Note::Again { unit, from } => again_words(*unit, from),
        Note::OldPicture => {
            "the picture is the old plan's, drawn larger or smaller; give --picture for its finer parts".into()
        }
    }
}

fn again_words(unit: Address, from: &Again) -> String {
    match from {
        Again::Spare(id) => format!("unit {unit}: a spare one of {id} takes its place"),
        Again::Pairs { id, gives, spare } => {
            let spare = if *spare == 0 { "none" } else { &spare.to_string() };
            format!("unit {unit} is made again: {id} gives {gives} units, of which {spare} stay spare")
        }
        Again::Cut(id) => format!("unit {unit} is made again: {id}"),
        Again::Otherwise => {
            format!("unit {unit}: there is too little for one more like it, and the scene is changed there")
        }
    }
}

fn missed_words(missed: &Missed) -> String {
    match missed {
        Missed::Stash(shortage) => {
            let worst = shortage.families.iter().max_by_key(|lack| lack.area);
            let worst = worst.map(|lack| format!(": \"{}\" is short of about {}", lack.family, lack.amount()));
            format!("the next size that was tried, no scene was found{}", worst.unwrap_or_default())
        }
        Missed::Picture(gaps) => {
            let [wished, made] = gaps.triangles;
            format!(
                "the next size that was tried, {made} of {wished} triangle units would be left, and colours {:.0} % \
                 further from the picture",
                (gaps.error - 1.0) * 100.0
            )
        }
    }
}

/// How good a scene is for its stash.
fn gaps_words(gaps: &Gaps) -> String {
    let near = format!("at most {:.1} % from the best that can be sewn of it", gaps.whole * 100.0);
    let [wished, made] = gaps.triangles;
    let fewer = (made < wished).then(|| format!("{made} triangle units in place of {wished}"));
    let further = ((gaps.error - 1.0) * 100.0).round();
    let further = (further >= 1.0).then(|| format!("colours {further:.0} % further from the picture"));
    let gave: Vec<String> = fewer.into_iter().chain(further).collect();
    if gave.is_empty() { near } else { format!("{near}; what the stash costs: {}", gave.join(", ")) }
}

fn unused_words(unused: &Unused) -> String {
    let Unused { kind, sides, count, why, ruler } = unused;
    let name = match kind {
        UnusedKind::Unit => "unit",
        UnusedKind::Strip => "strip",
        UnusedKind::Filler => "filler",
    };
    let size = match sides.as_slice() {
        [short, long] => format!("{} x {}", ruler.number(*short), ruler.show(*long)),
        sides => sides.iter().map(|side| ruler.show(*side)).collect(),
    };
    let (plural, are) = if *count == 1 { ("", "is") } else { ("s", "are") };
    let none = "the squares asked for give no unit of that size";
    let why = match why {
        UnusedWhy::OffGrid { side, grid } => {
            format!("{} is not on the grid of {} (`--grid`)", ruler.show(*side), ruler.show(*grid))
        }
        UnusedWhy::NoUnit(Some(cut)) => {
            format!("{none}, squares of {} two at a time would (`--square`)", ruler.show(*cut))
        }
        UnusedWhy::NoUnit(None) => none.into(),
        UnusedWhy::NoStrip(cut) => {
            format!("no strip asked for gives that width, a strip of {} (`--strips`) would", ruler.show(*cut))
        }
        UnusedWhy::Narrow(least) => format!("the narrowest piece is {} (`--least`)", ruler.show(*least)),
        UnusedWhy::SpareEnds => "with spare row ends every filler is cut anew".into(),
        UnusedWhy::NotStanding => {
            "a print of it is to stand upright, and its entry does not say how it stands (`stands`)".into()
        }
    };
    format!("{count} {name}{plural} of {size} on hand {are} left aside: {why}")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn told(kind: UnusedKind, halves: &[i64], count: u64, why: UnusedWhy) -> String {
        let sides = halves.iter().map(|n| Length::inches(*n, 2)).collect();
        unused_words(&Unused { kind, sides, count, why, ruler: Ruler::Inch })
    }

    #[test]
    fn what_is_left_aside_is_told_with_what_would_use_it() {
        // A square of 8 in sewn two at a time is 7 5/8 in across before trimming, so it finishes at 7 in.
        assert_eq!(
            told(UnusedKind::Unit, &[14], 6, UnusedWhy::NoUnit(Some(Length::INCH * 8i64))),
            "6 units of 7 in on hand are left aside: the squares asked for give no unit of that size, squares of 8 in two at a time would (`--square`)"
        );
        assert_eq!(
            told(UnusedKind::Strip, &[4, 18], 1, UnusedWhy::NoStrip(Length::inches(5, 2))),
            "1 strip of 2 x 9 in on hand is left aside: no strip asked for gives that width, a strip of 2 1/2 in (`--strips`) would"
        );
        assert_eq!(
            told(UnusedKind::Filler, &[1, 9], 2, UnusedWhy::Narrow(Length::INCH)),
            "2 fillers of 1/2 x 4 1/2 in on hand are left aside: the narrowest piece is 1 in (`--least`)"
        );
    }
}
