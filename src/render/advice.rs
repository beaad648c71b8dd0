//! Answers to questions that change nothing, in words.

use super::text::count;
use crate::answer::{OneMore, Thing};
use crate::make::{Remedy, RemedyWay};
use crate::measure::{Length, Ruler};
use crate::plan::Address;

/// What to do about a row.
pub fn remedy_words(remedy: &Remedy, row: Address, ruler: Ruler) -> String {
    let (off, due) = (ruler.show(remedy.off.abs()), ruler.show(remedy.due));
    let than = if remedy.off > Length::ZERO { "longer" } else { "shorter" };
    let is = format!("Row {} must measure {due} and is {off} {than}.", row.row_words());
    let least = ruler.show(remedy.most);
    let what = match remedy.way {
        RemedyWay::Fits => return format!("Row {} measures what it must: {due}.\n", row.row_words()),
        RemedyWay::Ease => "Ease it in: press it, pin it to the next row at both ends, in the middle and at each seam, and sew \
             with the longer of the two below."
            .to_owned(),
        RemedyWay::Seams { seams, deeper } => {
            let (by, way) = (ruler.show(deeper.abs()), if deeper > Length::ZERO { "deeper" } else { "narrower" });
            let all = if seams == 1 { "its one seam".to_owned() } else { format!("all its {seams} seams") };
            format!("Sew {all} again, the allowance {by} {way}, and unpick the old stitches. Test the seam before the next row.")
        }
        RemedyWay::Recut { unit, cut } => format!(
            "First measure each unit: one that is off is trimmed or made again. If all are right, cut the filler {unit} again, \
             {} x {}.",
            ruler.number(cut.width),
            ruler.show(cut.height)
        ),
        RemedyWay::Change => {
            "Nothing in it can take up so much: unpick it and measure each unit. Units that are off are told with `revise \
             --lost`, and the scene is changed no more than there is need."
                .to_owned()
        }
    };
    format!("{is}\n{what}\nFrom about {least} on, another scene is the better way.\n")
}

/// What one thing more would do, a line each.
pub fn one_more_words(found: &[OneMore], ruler: Ruler) -> String {
    if found.is_empty() {
        return "Nothing that was tried, one square or one print more of a family, makes the scene better.\n".into();
    }
    let line = |one: &OneMore| {
        let what = match &one.what {
            Thing::Square(letter, side) => format!("one more square of {} of fabric {letter}", ruler.show(*side)),
            Thing::Print(squares, side) => format!(
                "one more print of {:?}, {} of {}",
                one.family,
                count(u64::from(*squares), "square", "squares"),
                ruler.show(*side)
            ),
        };
        let near = (1.0 - one.error) * 100.0;
        let near =
            if near >= 0.05 { format!("{near:.1} % nearer to the picture") } else { "no nearer to the picture".into() };
        let touch = match one.touching {
            [before, after] if before == after => String::new(),
            [before, after] => format!("; one print touches itself in {after} places in place of {before}"),
        };
        format!("  {what}: {near}{touch}\n")
    };
    format!("What would help most, where the rest is composed anew:\n{}", found.iter().map(line).collect::<String>())
}
