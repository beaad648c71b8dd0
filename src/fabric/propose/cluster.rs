//! Base colours: k-means over the samples, then a colour wherever the picture is worst served.
//!
//! Numbers without a source were found by trial, no figures kept; `cargo bench --bench likeness` shows what others do.

use std::collections::BTreeMap;

use kmeans_colors::get_kmeans_hamerly;
use palette::color_difference::HyAb;
use palette::white_point::D65;

use super::samples::{Lab, Sample, nearest};
use crate::measure::math::pow;

/// Colours nearer than this are one fabric.
const SAME: f64 = 3.0;
/// Points that k-means sees at about most; it knows no weights, so samples are repeated.
const POINTS: f64 = 3_000.0;
/// Side of the regions of CIELAB that are served or not.
const REGION: f64 = 14.0;
/// Runs of which the best is kept.
const RUNS: u64 = 3;
/// Steps of k-means with fixed centres, from where it ended without them.
const STEPS: usize = 8;

/// At most `count` colours for the samples, beside the `given` ones, which come first and stay; the first `held` of these
/// also draw to them what they serve.
pub(super) fn cluster(samples: &[Sample], given: &[Lab], held: usize, count: usize, seed: u64) -> Vec<Lab> {
    let weights = evened(samples);
    let mut colours = given.to_vec();
    let wanted = count.saturating_sub(given.len());
    // A quarter of the colours is held back for what k-means passes over.
    colours.extend(k_means(samples, &weights, wanted - wanted / 4, seed));
    if held > 0 {
        // The crate's k-means knows no fixed centres: its last steps are taken once more with them.
        (0..STEPS).for_each(|_| settle(&mut colours, given.len(), samples, &weights));
    }
    for _ in 0..2 * count {
        merge(&mut colours, given.len(), samples, &weights);
        if colours.len() >= count {
            break;
        }
        let Some(worst) = worst_served(samples, &weights, &colours) else { break };
        colours.push(worst);
        settle(&mut colours, given.len(), samples, &weights);
    }
    merge(&mut colours, given.len(), samples, &weights);
    colours
}

/// Weights in which a large region of colour counts for less than its area, a small one for more.
fn evened(samples: &[Sample]) -> Vec<f64> {
    let mut regions: BTreeMap<[i32; 3], f64> = BTreeMap::new();
    for sample in samples {
        *regions.entry(region(sample.lab)).or_default() += sample.weight;
    }
    let share = |sample: &Sample| regions.get(&region(sample.lab)).map_or(1.0, |all| pow(all.max(1e-9), -0.4));
    samples.iter().map(|sample| sample.weight * share(sample)).collect()
}

fn region(lab: Lab) -> [i32; 3] {
    [lab.l, lab.a, lab.b].map(|value| (value / REGION).floor() as i32)
}

fn k_means(samples: &[Sample], weights: &[f64], count: usize, seed: u64) -> Vec<Lab> {
    let total: f64 = weights.iter().sum();
    let points: Vec<palette::Lab<D65, f32>> = (samples.iter().zip(weights))
        .flat_map(|(sample, weight)| {
            let copies = (weight / total.max(1e-9) * POINTS).ceil() as usize;
            let point = palette::Lab::new(sample.lab.l as f32, sample.lab.a as f32, sample.lab.b as f32);
            std::iter::repeat_n(point, copies)
        })
        .collect();
    if points.is_empty() || count == 0 {
        return Vec::new();
    }
    let run = |run: u64| {
        let found = get_kmeans_hamerly(count.min(200), 24, 0.01, false, &points, seed.wrapping_add(run));
        let mut colours: Vec<Lab> =
            found.centroids.iter().map(|c| Lab::new(f64::from(c.l), f64::from(c.a), f64::from(c.b))).collect();
        settle(&mut colours, 0, samples, weights);
        colours
    };
    let runs = (0..RUNS).map(run).map(|colours| (error(samples, weights, &colours), colours));
    runs.min_by(|one, other| one.0.total_cmp(&other.0)).map(|(_, colours)| colours).unwrap_or_default()
}

/// The mean squared error of the samples, small regions of colour weighted up.
pub(super) fn mean_error(samples: &[Sample], colours: &[Lab]) -> f64 {
    let weights = evened(samples);
    error(samples, &weights, colours) / weights.iter().sum::<f64>().max(1e-9)
}

fn error(samples: &[Sample], weights: &[f64], colours: &[Lab]) -> f64 {
    let one = |(sample, weight): (&Sample, &f64)| nearest(sample.lab, colours).map_or(0.0, |(_, d)| weight * d * d);
    samples.iter().zip(weights).map(one).sum()
}

/// Moves each colour past the `fixed` ones to the mean of what it serves; drops those that serve nothing.
fn settle(colours: &mut Vec<Lab>, fixed: usize, samples: &[Sample], weights: &[f64]) {
    let mut sums = vec![(Lab::new(0.0, 0.0, 0.0), 0.0); colours.len()];
    for (sample, weight) in samples.iter().zip(weights) {
        if let Some((i, _)) = nearest(sample.lab, colours) {
            sums[i].0 += sample.lab * *weight;
            sums[i].1 += weight;
        }
    }
    let kept = colours.iter().zip(&sums).enumerate();
    *colours = kept
        .filter(|(i, (_, (_, weight)))| *i < fixed || *weight > 0.0)
        .map(|(i, (colour, (sum, weight)))| if i < fixed { *colour } else { *sum / *weight })
        .collect();
}

/// The mean colour of the region with the largest total squared error, if any is worth a fabric.
fn worst_served(samples: &[Sample], weights: &[f64], colours: &[Lab]) -> Option<Lab> {
    let mut regions: BTreeMap<[i32; 3], (f64, Lab, f64)> = BTreeMap::new();
    for (sample, weight) in samples.iter().zip(weights) {
        let far = nearest(sample.lab, colours).map_or(f64::from(u16::MAX), |(_, d)| d);
        let region = regions.entry(region(sample.lab)).or_insert((0.0, Lab::new(0.0, 0.0, 0.0), 0.0));
        region.0 += weight * far * far;
        region.1 += sample.lab * *weight;
        region.2 += weight;
    }
    let means = regions.into_values().map(|(error, sum, weight)| (error, sum / weight.max(1e-12)));
    let new = means.filter(|(_, mean)| nearest(*mean, colours).is_none_or(|(_, d)| d > SAME));
    new.max_by(|one, other| one.0.total_cmp(&other.0)).map(|(_, mean)| mean)
}

/// Makes one of colours that are too near, the nearest two first; the `fixed` ones stay.
fn merge(colours: &mut Vec<Lab>, fixed: usize, samples: &[Sample], weights: &[f64]) {
    while let Some((_, i, j)) = nearest_two(colours, fixed) {
        colours.remove(j);
        if i >= fixed {
            settle(colours, fixed, samples, weights);
        }
    }
}

/// The nearest two colours under the limit, the second of which may go.
fn nearest_two(colours: &[Lab], fixed: usize) -> Option<(f64, usize, usize)> {
    let pairs = (fixed..colours.len()).flat_map(|j| (0..j).map(move |i| (i, j)));
    let far = pairs.map(|(i, j)| (colours[i].hybrid_distance(colours[j]), i, j));
    far.filter(|(d, ..)| *d < SAME).min_by(|one, other| one.0.total_cmp(&other.0))
}
