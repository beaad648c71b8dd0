//! Second shades for large areas, so that they can be sewn from units of two near fabrics.
//!
//! Numbers without a source were found by trial, no figures kept; `cargo bench --bench likeness` shows what others do.

use palette::color_difference::HyAb;

use super::samples::{Lab, Sample, nearest, shown};

/// Two fabrics this near or nearer already serve as two shades.
const PARTNERS: f64 = 9.0;
/// Least and most lightness between two shades.
const APART: [f64; 2] = [5.0, 7.5];
/// Share of the picture from which an area wants two shades.
const LARGE: f64 = 0.02;

/// What a colour serves.
struct Area {
    share: f64,
    mean: Lab,
    lightness: f64,
    /// Change of a and b with lightness among the area's own colours.
    slope: [f64; 2],
}

/// Adds at most `count` shades, the largest areas first; the first `fixed` colours stay as they are.
pub(super) fn add_shades(colours: &mut Vec<Lab>, fixed: usize, samples: &[Sample], count: usize) {
    let areas = areas(colours, samples);
    let mut order: Vec<usize> = (0..colours.len()).collect();
    order.sort_by(|&i, &j| areas[j].share.total_cmp(&areas[i].share).then(i.cmp(&j)));
    let mut left = count;
    for (place, i) in order.into_iter().enumerate() {
        let least_two = colours.len() < 2;
        let large = areas[i].share >= LARGE || place == 0;
        if left == 0 || !(least_two || large && partner(colours, i) > PARTNERS) {
            continue;
        }
        let pair = if i < fixed { beside(colours[i], colours) } else { around(colours[i], &areas[i]) };
        colours[i] = pair[0];
        colours.push(pair[1]);
        left -= 1;
    }
}

/// The share of the picture in large areas of one shade; those whose next colour is not much farther count in part.
pub(super) fn single(colours: &[Lab], samples: &[Sample]) -> f64 {
    let alone = |i: usize| ((partner(colours, i) - PARTNERS) / PARTNERS).clamp(0.0, 1.0);
    let areas = areas(colours, samples).into_iter().enumerate().filter(|(_, area)| area.share >= LARGE);
    areas.map(|(i, area)| area.share * alone(i)).sum()
}

/// How far the nearest other colour is.
fn partner(colours: &[Lab], i: usize) -> f64 {
    let others = colours.iter().enumerate().filter(|(j, _)| *j != i);
    others.map(|(_, other)| other.hybrid_distance(colours[i])).fold(f64::INFINITY, f64::min)
}

fn areas(colours: &[Lab], samples: &[Sample]) -> Vec<Area> {
    let mut members: Vec<Vec<&Sample>> = vec![Vec::new(); colours.len()];
    for sample in samples {
        if let Some((i, _)) = nearest(sample.lab, colours) {
            members[i].push(sample);
        }
    }
    members.iter().zip(colours).map(|(members, colour)| area(members, *colour)).collect()
}

fn area(members: &[&Sample], colour: Lab) -> Area {
    let share: f64 = members.iter().map(|sample| sample.area).sum();
    if share <= 0.0 {
        return Area { share: 0.0, mean: colour, lightness: 0.0, slope: [0.0; 2] };
    }
    let mean = members.iter().fold(Lab::new(0.0, 0.0, 0.0), |sum, sample| sum + sample.lab * sample.area) / share;
    let spread = |of: &dyn Fn(Lab) -> f64| -> f64 {
        members.iter().map(|sample| (sample.lab.l - mean.l) * of(sample.lab - mean) * sample.area).sum::<f64>() / share
    };
    let variance = spread(&|off| off.l);
    let slope = |along: f64| (along / variance.max(1.0)).clamp(-0.3, 0.3);
    Area { share, mean, lightness: variance.max(0.0).sqrt(), slope: [slope(spread(&|d| d.a)), slope(spread(&|d| d.b))] }
}

/// Two shades about the area's colour, as far apart as its own colours are, within limits.
fn around(colour: Lab, area: &Area) -> [Lab; 2] {
    let apart = (area.lightness * 1.5).clamp(APART[0], APART[1]);
    // The area's plain mean says what most of it looks like; the colour itself leans to what stands out.
    let middle = (colour + area.mean) / 2.0;
    let shift = |by: f64| Lab::new(middle.l + by, middle.a + by * area.slope[0], middle.b + by * area.slope[1]);
    let centre = middle.l.clamp(apart / 2.0, 100.0 - apart / 2.0) - middle.l;
    [shift(centre + apart / 2.0), shift(centre - apart / 2.0)]
}

/// The colour as it is and one lighter or darker, whichever is farther from all others.
fn beside(colour: Lab, colours: &[Lab]) -> [Lab; 2] {
    // A vivid colour also loses chroma on the way, so its step is shorter.
    let by = |sign: f64| {
        let steps =
            [6.0, 5.0, 4.0, 3.0, 2.0].map(|step| shown(Lab::new(colour.l + sign * step, colour.a, colour.b)).lab());
        steps.into_iter().find(|shade| shade.hybrid_distance(colour) <= 8.5).unwrap_or(steps[4])
    };
    let room = |shade: &Lab| {
        let others = colours.iter().filter(|other| **other != colour);
        let clear = others.map(|other| other.hybrid_distance(*shade)).fold(12.0, f64::min);
        clear - 4.0 * (shade.hybrid_distance(colour) - 6.0).abs()
    };
    let (first, second) = if colour.l >= 55.0 { (by(-1.0), by(1.0)) } else { (by(1.0), by(-1.0)) };
    [colour, if room(&second) > room(&first) + 1.0 { second } else { first }]
}
