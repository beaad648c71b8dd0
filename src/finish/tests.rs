//! What is worked out, and what is refused.

use super::*;
use crate::measure::{Length, Ruler};

const IN: fn(i64, i64) -> Length = Length::inches;

fn top() -> Top {
    Top { width: IN(54, 1), height: IN(72, 1), seam: IN(1, 4), cloth_width: IN(42, 1), ruler: Ruler::Inch }
}

fn wide(width: Length) -> Border {
    Border { width: Some(width), ..Border::default() }
}

fn bordered(borders: Vec<Border>) -> Finish {
    Finish { borders, ..Finish::usual() }
}

#[test]
fn nothing_is_asked_for_by_default() {
    let none = Finish::default().work(&top()).unwrap();
    assert!(Finish::default().is_none() && none.borders.is_empty() && none.backing.is_none() && none.binding.is_none());
    assert_eq!(none.quilt, [IN(54, 1), IN(72, 1)]);
}

#[test]
fn square_corners_run_past_what_is_sewn_on_first() {
    let asked = [First::Sides, First::Ends].map(|first| Border { first, ..wide(IN(3, 1)) });
    let [sides, ends] = asked.map(|border| bordered(vec![border]).work(&top()).unwrap().borders.remove(0));
    assert_eq!(sides.pieces.map(|p| (p.strip, p.length)), [(IN(7, 2), IN(145, 2)), (IN(7, 2), IN(121, 2))]);
    assert_eq!(ends.pieces.map(|p| (p.strip, p.length)), [(IN(7, 2), IN(109, 2)), (IN(7, 2), IN(157, 2))]);
    assert_eq!((sides.outer, sides.outer), (ends.outer, [IN(60, 1), IN(78, 1)]));
}

/// A strip that is mitred reaches past its outer corner by more than its seam takes.
#[test]
fn mitres_reach_past_the_corner() {
    let border = Border { corners: Corners::Mitred, ..wide(IN(3, 1)) };
    let work = bordered(vec![border]).work(&top()).unwrap().borders.remove(0);
    let [sides, _] = work.pieces;
    assert!(sides.length - work.outer[1] > IN(1, 4) * 2i64 * 3i64, "{sides:?}");
    assert!(work.cornerstones.is_none());
}

#[test]
fn strips_that_lie_along_the_cloth_have_no_joins() {
    let border = Border { strips: Grain::Along, ..wide(IN(8, 1)) };
    let work = bordered(vec![border]).work(&top()).unwrap().borders.remove(0);
    // Four of 8 1/2 in lie beside one another in 42 in; the longest are 72 1/2 in.
    assert!(work.runs.is_empty());
    assert_eq!(work.cloth, IN(145, 2));
    let narrow = Top { cloth_width: IN(18, 1), ..top() };
    let border = Border { strips: Grain::Along, ..wide(IN(8, 1)) };
    let work = Finish { borders: vec![border], ..Finish::default() }.work(&narrow).unwrap().borders.remove(0);
    assert_eq!(work.cloth, IN(145, 2) + IN(141, 2));
}

#[test]
fn a_border_is_worked_out_to_a_bed() {
    let bed = Bed { depth: Some(IN(10, 1)), ..Bed::usual(bed("twin").unwrap().size, Ruler::Inch) };
    let asked = Finish { come_to: Some(ComeTo::Bed(bed)), ..bordered(vec![wide(IN(1, 1)), Border::default()]) };
    let work = asked.work(&top()).unwrap();
    // 66 by 89 in covers a twin: less 3/8 in of binding on each side, and the inner border.
    assert_eq!(work.quilt, [IN(66, 1), IN(89, 1)]);
    assert_eq!((work.borders[1].sides, work.borders[1].ends), (IN(37, 8), IN(57, 8)));
    let hang = work.hang.unwrap();
    assert_eq!((hang.sides, hang.foot, hang.covers()), (IN(14, 1), IN(14, 1), Some(true)));
}

/// What joined strips make is what is needed, and a strip fewer is not; for borders, bindings, and on the bias.
#[test]
fn cloth_suffices_and_no_strip_is_too_many() {
    for tenths in 1..200 {
        let finished = IN(tenths, 8);
        for joins in [Joins::Straight, Joins::Bias] {
            let Ok(work) = bordered(vec![Border { joins, ..wide(finished) }]).work(&top()) else { continue };
            for run in &work.borders[0].runs {
                assert!(run.made() >= run.needed && run.made() - (run.each - run.join) < run.needed, "{run:?}");
            }
        }
        let binding = |bias| Binding { width: Some(finished), bias, allowance: Some(IN(200, 1)), ..Binding::default() };
        for bias in [false, true] {
            let asked = Finish { binding: Some(binding(bias)), overhang: Some(IN(30, 1)), ..Finish::default() };
            let Ok(work) = asked.work(&top()) else { continue };
            let work = work.binding.unwrap();
            assert!(work.made() >= work.needed, "{work:?}");
        }
    }
}

/// The least square by the trade's rule is the root of length times width: no square gives more, and a good one little less.
#[test]
fn a_bias_strip_is_no_larger_than_its_square() {
    for side in 12..=42 {
        let (side, strip) = (IN(side, 1), IN(9, 4));
        let area = side.as_inches() * side.as_inches();
        let given = bias_from_square(side, strip, IN(1, 4)).as_inches() * strip.as_inches();
        assert!(given <= area && given > 0.7 * area, "{side}: {given} of {area}");
    }
    assert_eq!(bias_from_square(IN(1, 1), IN(9, 4), IN(1, 4)), Length::ZERO);
}

/// Double-fold strips of 2 1/4 in (Univ. of Nebraska-Lincoln Extension and others have 2 1/4 or 2 1/2 in).
#[test]
fn a_usual_binding_takes_a_usual_strip() {
    let width = |fold, finished, ruler| {
        strip_width(fold, finished, if ruler == Ruler::Inch { IN(1, 4) } else { Length::mm(15) / 2 }, ruler)
    };
    assert_eq!(width(Fold::Double, IN(3, 8), Ruler::Inch), IN(9, 4));
    assert_eq!(width(Fold::Single, IN(3, 8), Ruler::Inch), IN(3, 2));
    assert_eq!(width(Fold::Double, Length::CM, Ruler::Metric), Length::CM * 6i64);
}

fn pieced(units: BorderUnits, width: Option<Length>) -> Border {
    Border { width, pieced: Some(Pieced { units, ..Pieced::default() }), ..Border::default() }
}

/// On 54 by 72 in squares of 3 in come out without a spacer: 24 at each side, 18 at each end, and four corners.
#[test]
fn a_pieced_border_comes_out_even() {
    let work = bordered(vec![pieced(BorderUnits::Squares, None)]).work(&top()).unwrap();
    let units = work.borders[0].pieced.unwrap();
    assert_eq!((work.borders.len(), units.counts, units.places()), (1, [24, 18], 88));
    assert_eq!((units.cut, work.bordered), ([IN(7, 2); 2], [IN(60, 1), IN(78, 1)]));
    assert_eq!(units.corners(), [0, 19, 44, 63]);
    // 53 by 71 in are a whole number of no such unit: a spacer of 1/2 in makes them 54 by 72.
    let odd = Top { width: IN(53, 1), height: IN(71, 1), ..top() };
    let given = bordered(vec![pieced(BorderUnits::Squares, Some(IN(3, 1)))]).work(&odd).unwrap();
    let [spacer, border] = &given.borders[..] else { panic!("{given:?}") };
    assert!(spacer.evens && (spacer.sides, spacer.ends) == (IN(1, 2), IN(1, 2)));
    assert_eq!((border.inner, border.pieced.unwrap().counts), ([IN(54, 1), IN(72, 1)], [24, 18]));
    // The units of a triangle border: pairs of 4 in squares give 3 1/2 in (4 - 1/4·√2 = 3.646).
    let triangles = bordered(vec![pieced(BorderUnits::Triangles, Some(IN(3, 1)))]).work(&top()).unwrap();
    assert_eq!(triangles.borders[0].pieced.unwrap().pair, Some(IN(31, 8)));
    let rectangles = bordered(vec![pieced(BorderUnits::Rectangles, Some(IN(3, 2)))]).work(&top()).unwrap();
    assert_eq!(rectangles.borders[0].pieced.unwrap().cut, [IN(7, 2), IN(2, 1)]);
}

/// Whatever the top measures, units fill each side to the tick, and no border is narrower than its seam.
#[test]
fn units_fill_each_side_to_the_tick() {
    for eighths in (160..900).step_by(7) {
        for units in [BorderUnits::Squares, BorderUnits::Rectangles, BorderUnits::Triangles] {
            for (width, spaced) in [(None, false), (None, true), (Some(IN(9, 4)), false), (Some(IN(5, 2)), true)] {
                let top = Top { width: IN(eighths, 8), height: IN(eighths + 53, 8), ..top() };
                let mut borders = vec![pieced(units, width)];
                if spaced {
                    borders.insert(0, Border::default());
                }
                let work = Finish { borders, ..Finish::default() }.work(&top).unwrap();
                let border = work.borders.last().unwrap();
                let units = border.pieced.unwrap();
                assert_eq!(border.inner, [units.along * units.counts[1], units.along * units.counts[0]], "{work:?}");
                assert!(work.borders.len() == 2 || !spaced);
                let spacer = work.borders.first().filter(|first| first.evens);
                assert!(spacer.is_none_or(|spacer| spacer.sides.min(spacer.ends) >= IN(1, 2)));
            }
        }
    }
}

/// Asked to come to a size, a pieced border comes as near as whole units do, and not past it.
#[test]
fn a_pieced_border_comes_near_to_a_size() {
    let size = [IN(70, 1), IN(90, 1)];
    for width in [None, Some(IN(3, 1))] {
        let borders = vec![Border::default(), pieced(BorderUnits::Squares, width)];
        let asked = Finish { come_to: Some(ComeTo::Size(size)), ..bordered(borders) };
        let quilt = asked.work(&top()).unwrap().quilt;
        for (side, wanted) in quilt.into_iter().zip(size) {
            assert!(side <= wanted && wanted - side < IN(3, 1), "{quilt:?}");
        }
    }
    // With a plain border beyond it that gives way, it is met.
    let borders = vec![pieced(BorderUnits::Squares, None), Border::default()];
    let asked = Finish { come_to: Some(ComeTo::Size(size)), ..bordered(borders) };
    assert_eq!(asked.work(&top()).unwrap().quilt, size);
}

/// The strips of a facing: 2 1/2 in folded lie 1 in deep on the back; two of the raw height, two that turn in at both ends.
#[test]
fn a_facing_is_turned_wholly_to_the_back() {
    let faced = |facing| Finish { facing: Some(facing), binding: None, ..bordered(vec![wide(IN(3, 1))]) };
    let work = faced(Facing::default()).work(&top()).unwrap();
    assert_eq!((work.quilt, work.bordered), ([IN(60, 1), IN(78, 1)], [IN(60, 1), IN(78, 1)]));
    let facing = work.facing.unwrap();
    assert_eq!((facing.sides, facing.ends, facing.shows), (IN(157, 2), IN(61, 1), IN(1, 1)));
    assert_eq!(facing.run.needed, IN(279, 1));
    assert!(facing.run.made() >= facing.run.needed);
    let single = faced(Facing { fold: Fold::Single, ..Facing::default() }).work(&top()).unwrap();
    assert_eq!(single.facing.unwrap().shows, IN(2, 1));
    let metric = Top { seam: Length::mm(15) / 2, ruler: Ruler::Metric, cloth_width: Length::CM * 106i64, ..top() };
    assert_eq!(faced(Facing::default()).work(&metric).unwrap().facing.unwrap().run.strip, Length::mm(65));
}

#[test]
fn what_cannot_be_is_refused_in_words() {
    let twin = |drop| Bed { drop, ..Bed::usual(bed("twin").unwrap().size, Ruler::Inch) };
    let come_to = |come_to, borders| Finish { come_to: Some(come_to), ..bordered(borders) };
    let binding =
        |width| Finish { binding: Some(Binding { width: Some(width), ..Binding::default() }), ..Finish::default() };
    let mitred = Border { corners: Corners::Mitred, ..Border::default() };
    let cases = [
        (bordered(vec![wide(IN(45, 1))]), "a border takes strips of 45 1/2 in, and its cloth is 42 in wide"),
        (binding(IN(1, 8)), "a binding of 1/8 in is narrower than its seam of 1/4 in"),
        (come_to(ComeTo::Bed(twin(-IN(1, 1))), vec![]), "the drop is -1 in: it cannot be less than nothing"),
        (bordered(vec![Border::default()]), "a border has no width"),
        (bordered(vec![wide(IN(0, 1))]), "the border is 0 in: it must be more than nothing"),
        (bordered(vec![wide(IN(1, 1)); 4]), "4 borders are asked for"),
        (bordered(vec![wide(IN(1000, 1))]), "more than can be worked with"),
        (come_to(ComeTo::Size([IN(60, 1), IN(80, 1)]), vec![]), "leave out the width of one border"),
        (come_to(ComeTo::Size([IN(50, 1), IN(80, 1)]), vec![Border::default()]), "ask for a smaller top"),
        (come_to(ComeTo::Size([IN(60, 1), IN(80, 1)]), vec![mitred]), "cannot be mitred"),
        (come_to(ComeTo::Size([IN(60, 1), IN(80, 1)]), vec![Border::default(); 2]), "2 borders have no width"),
        (bordered(vec![wide(IN(40, 1))]), "more than three lengths"),
        (bordered(vec![pieced(BorderUnits::Squares, Some(IN(1, 4)))]), "units of 1/4 in cannot be worked with"),
        (
            come_to(
                ComeTo::Size([IN(90, 1), IN(99, 1)]),
                vec![Border::default(), wide(IN(1, 1)), pieced(BorderUnits::Squares, None)],
            ),
            "inside a pieced one, but not next to it",
        ),
        (
            come_to(ComeTo::Size([IN(57, 1), IN(76, 1)]), vec![Border::default(), pieced(BorderUnits::Squares, None)]),
            "ask for a smaller top",
        ),
        (Finish { facing: Some(Facing::default()), ..Finish::usual() }, "the edge takes one of them"),
        (Finish { overhang: Some(IN(1, 4)), ..Finish::usual() }, "do not fill a binding of 3/8 in"),
    ];
    for (asked, due) in cases {
        let error = asked.work(&top()).unwrap_err().to_string();
        assert!(error.contains(due), "{error} / {due}");
    }
}
