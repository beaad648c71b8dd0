//! Medians of colours under HyAB, and colours that stand out among many.

use crate::measure::math::length;
use palette::color_difference::HyAb;
use palette::white_point::D65;

pub(super) type Lab = palette::Lab<D65, f64>;

/// Steps toward the median of a and b.
const STEPS: usize = 20;

/// The colour with nearly the least sum of weight times HyAB to all points: the median in L, and in a and b together the point
/// with the least sum of distances, toward which each step goes (Weiszfeld 1937). None of no points.
pub(super) fn median(points: &[(Lab, f64)]) -> Option<Lab> {
    let all: f64 = points.iter().map(|(_, weight)| weight).sum();
    if all <= 0.0 {
        return None;
    }
    let mut by_lightness: Vec<(f64, f64)> = points.iter().map(|(lab, weight)| (lab.l, *weight)).collect();
    by_lightness.sort_by(|one, other| one.0.total_cmp(&other.0));
    let mut below = 0.0;
    let middle = by_lightness.iter().find(|(_, weight)| {
        below += weight;
        below * 2.0 >= all
    });
    let mean = |of: fn(&Lab) -> f64| points.iter().map(|(lab, weight)| of(lab) * weight).sum::<f64>() / all;
    let mut at = (mean(|lab| lab.a), mean(|lab| lab.b));
    for _ in 0..STEPS {
        let (mut a, mut b, mut sum) = (0.0, 0.0, 0.0);
        for (lab, weight) in points {
            let pull = weight / length(lab.a - at.0, lab.b - at.1).max(1e-3);
            (a, b, sum) = (a + lab.a * pull, b + lab.b * pull, sum + pull);
        }
        at = (a / sum, b / sum);
    }
    // A heavy point draws it in ever shorter steps.
    let away = |lab: &Lab, at: (f64, f64)| length(lab.a - at.0, lab.b - at.1);
    let (nearest, _) = points.iter().min_by(|one, other| away(&one.0, at).total_cmp(&away(&other.0, at)))?;
    let sum = |at: (f64, f64)| points.iter().map(|(lab, weight)| away(lab, at) * weight).sum::<f64>();
    let nearest = (nearest.a, nearest.b);
    let at = if sum(nearest) < sum(at) { nearest } else { at };
    Some(Lab::new(middle?.0, at.0, at.1))
}

/// At most so many points that stand for all: always the one that most weight misses by most, by the root of its weight
/// and its distance to those before; none nearer than `apart` to another.
pub(super) fn prominent(points: &[(Lab, f64)], count: usize, apart: f64) -> Vec<Lab> {
    let mut left: Vec<(Lab, f64, f64)> = points.iter().map(|(lab, weight)| (*lab, weight.sqrt(), 1e3)).collect();
    let mut found = Vec::new();
    while found.len() < count {
        let most = left.iter().max_by(|one, other| (one.1 * one.2).total_cmp(&(other.1 * other.2)));
        let Some(&(lab, ..)) = most else { break };
        found.push(lab);
        left.iter_mut().for_each(|(other, _, far)| *far = far.min(other.hybrid_distance(lab)));
        left.retain(|(_, _, far)| *far >= apart);
    }
    found
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn sum(points: &[(Lab, f64)], to: Lab) -> f64 {
        points.iter().map(|(lab, weight)| lab.hybrid_distance(to) * weight).sum()
    }

    fn points() -> impl Strategy<Value = Vec<(Lab, f64)>> {
        let point = (0_u8..100, -60_i8..60, -60_i8..60, 1_u8..5);
        let lab = |(l, a, b, weight)| (Lab::new(f64::from(l), f64::from(a), f64::from(b)), f64::from(weight));
        prop::collection::vec(point.prop_map(lab), 1..12)
    }

    #[test]
    fn one_far_point_does_not_move_a_median() {
        let mut many = vec![(Lab::new(50.0, 0.0, 0.0), 1.0); 5];
        many.push((Lab::new(90.0, 60.0, 0.0), 1.0));
        let middle = median(&many).unwrap();
        assert!(middle.hybrid_distance(Lab::new(50.0, 0.0, 0.0)) < 0.1, "{middle:?}");
        assert_eq!(median(&[]), None);
    }

    proptest! {
        /// Against a plain walk over a lattice about it, and against every point.
        #[test]
        fn no_other_colour_is_nearer_to_all(points in points()) {
            let found = median(&points).unwrap();
            let least = sum(&points, found);
            let all: f64 = points.iter().map(|(_, weight)| weight).sum();
            let lattice = (-3..=3).flat_map(|l| (-3..=3).flat_map(move |a| (-3..=3).map(move |b| [l, a, b])));
            let around = lattice.map(|off| {
                let [l, a, b] = off.map(|off| f64::from(off) * 2.0);
                Lab::new(found.l + l, found.a + a, found.b + b)
            });
            for other in around.chain(points.iter().map(|(lab, _)| *lab)) {
                prop_assert!(sum(&points, other) >= least - 0.25 * all, "{:?} {:?}", other, found);
            }
        }

        #[test]
        fn what_stands_out_stands_apart(points in points(), count in 1_usize..8) {
            let found = prominent(&points, count, 4.0);
            prop_assert!((1..=count).contains(&found.len()));
            for (i, one) in found.iter().enumerate() {
                prop_assert!(found[..i].iter().all(|other| other.hybrid_distance(*one) >= 4.0));
            }
            if found.len() < count {
                let far = |lab: &Lab| found.iter().map(|one| one.hybrid_distance(*lab)).fold(f64::INFINITY, f64::min);
                prop_assert!(points.iter().all(|(lab, _)| far(lab) < 4.0), "one is missed");
            }
        }
    }
}
