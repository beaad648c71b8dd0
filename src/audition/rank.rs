//! Trials in their order.

use super::figures::standing;
use super::groups::{Group, groups, worst};
use super::model::{Audition, Entry, Trial};
use super::{short, why};
use crate::likeness::likeness;
use crate::plan::Plan;

/// How trials are ranked, in words.
pub const RULE: &str = "Ranked by how near each comes to the picture at a squint; where that is equal, by how well \
     it tells lights and darks apart, then by how near it comes close up.";

/// Judges and ranks trials of a plan; equals stay in the order given.
pub fn audition(planned: &Plan, trials: Vec<Trial>, afresh: bool) -> Audition {
    let groups = groups(planned);
    let mut entries: Vec<Entry> = trials.into_iter().map(|trial| entry(trial, &groups)).collect();
    entries.sort_by_key(|entry| standing(&entry.likeness));
    for at in 0..entries.len() {
        let shared = at > 0 && standing(&entries[at].likeness) == standing(&entries[at - 1].likeness);
        entries[at].rank = if shared { entries[at - 1].rank } else { at + 1 };
    }
    let why: Vec<Vec<String>> = (0..entries.len()).map(|at| why::why(&entries, at)).collect();
    entries.iter_mut().zip(why).for_each(|(entry, why)| entry.why = why);
    Audition { planned: planned.clone(), likeness: likeness(planned), afresh, entries }
}

fn entry(trial: Trial, groups: &[Group]) -> Entry {
    let Trial { name, plan } = trial;
    let (likeness, worst, short) = (likeness(&plan), worst(&plan, groups), short::lacking(&plan));
    Entry { rank: 1, name, likeness, worst, short, why: Vec::new(), plan }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fabric::Print;
    use crate::fabric::{Fabric, Oddment, OnHand, Rgb, Supply};
    use crate::measure::{Length, Ruler};
    use crate::plan::{Band, Column, Depth, Numbers, Piece, Progress, Request, Row, State, Unit};

    /// A top of two fillers, the picture being exactly that in black and yellow.
    fn plan(colours: [[u8; 3]; 2]) -> Plan {
        let fabric =
            |(index, colour): (usize, [u8; 3])| Fabric::new(["A", "B"][index], ["night", "lamp"][index], Rgb(colour));
        let unit = |fabric| Unit { width: 10, piece: Piece::Filler(fabric), state: State::Free };
        let rows = vec![Row { height: 12, units: vec![unit(Print(0)), unit(Print(1))] }];
        let cell = |at: usize| if at % 20 < 10 { Rgb([0; 3]) } else { Rgb([250, 220, 60]) };
        Plan {
            request: Request {
                picture: "lamp.png".into(),
                width: Length::INCH * 20i64,
                height: Length::INCH * 12i64,
                grid: Length::INCH,
                squares: vec!["5in".parse().unwrap()],
                strips: vec![],
                depth: Depth::Rows,
                edge_step: Length::INCH,
                ..Request::usual(Ruler::Inch)
            },
            fabrics: colours.into_iter().enumerate().map(fabric).collect(),
            hand: OnHand::default(),
            picture: (0..240).map(cell).collect(),
            focus: vec![],
            bands: vec![Band { height: 12, columns: vec![Column { width: 20, rows }] }],
            numbers: Numbers::NONE,
            progress: Progress::default(),
        }
    }

    fn tried(sets: &[(&str, [[u8; 3]; 2])]) -> Audition {
        let trial = |&(name, colours): &(&str, _)| Trial { name: name.into(), plan: plan(colours) };
        audition(&plan([[9; 3]; 2]), sets.iter().map(trial).collect(), false)
    }

    const TRUE: [[u8; 3]; 2] = [[0, 0, 0], [250, 220, 60]];
    const GREY: [[u8; 3]; 2] = [[0, 0, 0], [218, 218, 218]];
    const FLAT: [[u8; 3]; 2] = [[130, 130, 130], [130, 130, 130]];

    #[test]
    fn the_picture_itself_is_first_and_plain_grey_last() {
        let ranked = tried(&[("flat", FLAT), ("grey", GREY), ("true", TRUE)]);
        let names: Vec<(usize, &str)> = ranked.entries.iter().map(|entry| (entry.rank, entry.name.as_str())).collect();
        assert_eq!(names, [(1, "true"), (2, "grey"), (3, "flat")]);
        let [first, second, third] = ranked.entries.as_slice() else { panic!("three entries") };
        assert_eq!((first.likeness.error, first.likeness.squinted), (0.0, 0.0));
        assert!(first.why[0].starts_with("Nearest to the picture") && first.why[0].contains("than grey"));
        assert!(first.why[2].starts_with("Has a fabric near every colour"), "{:?}", first.why);
        // Its yellow is missing, at the second filler, which is half of the top.
        let worst = second.worst.as_ref().unwrap();
        assert_eq!((worst.share, worst.at.to_string().as_str(), worst.fabric), (0.5, "1.1.1.2", Print(1)));
        assert!(second.why[2].contains(&worst.name) && second.why[2].contains("B (lamp)"), "{:?}", second.why);
        assert!(third.why[1].starts_with("Flatter in lights and darks than true"), "{:?}", third.why);
    }

    #[test]
    fn equals_share_a_place_in_the_order_given() {
        let ranked = tried(&[("one", GREY), ("two", GREY), ("three", FLAT)]);
        let names: Vec<(usize, &str)> = ranked.entries.iter().map(|entry| (entry.rank, entry.name.as_str())).collect();
        assert_eq!(names, [(1, "one"), (1, "two"), (3, "three")]);
        assert!(ranked.entries[..2].iter().all(|entry| entry.why[0].contains("choose by eye")));
    }

    /// Each filler finishes 10 x 12 in, so it is cut 10 1/2 x 12 1/2 in: 131 1/4 square inches.
    #[test]
    fn what_a_stash_is_short_of_is_said_and_does_not_rank() {
        let piece = |count| {
            let piece = Oddment { width: Length::INCH * 11i64, height: Length::INCH * 13i64, count };
            Some(Supply { oddments: vec![piece], ..Supply::default() })
        };
        let trial = |name: &str, counts: [u32; 2]| {
            let mut plan = plan(TRUE);
            plan.fabrics.iter_mut().zip(counts).for_each(|(fabric, count)| fabric.supply = piece(count));
            Trial { name: name.into(), plan }
        };
        let audition = audition(&plan(TRUE), vec![trial("short", [1, 0]), trial("enough", [1, 1])], false);
        let [short, enough] = audition.entries.as_slice() else { panic!("two entries") };
        assert_eq!((short.rank, enough.rank), (1, 1), "as like as each other");
        assert_eq!(short.why.last().unwrap(), "Its stash is short of lamp (about 132 square inches for fillers).");
        assert_eq!(enough.why.last().unwrap(), "Its stash has enough of every fabric.");
    }

    #[test]
    fn one_trial_alone_is_compared_with_nothing() {
        assert_eq!(tried(&[("grey", GREY)]).entries[0].why.len(), 1);
    }
}
