//! Light evened out: how it falls off over the table, and what is white.

use super::Neutral;
use super::view::{BLOCK, View};
use crate::measure::math::{exp, log, squared};

/// Linear light that office paper sends back (some 87 %; common practice, no source), and a grey card (18 %).
const PAPER: f64 = 0.87;
const CARD: f64 = 0.18;
/// The darkest that is reckoned with.
const DARKEST: f64 = 1e-4;
/// How far light may be off what it is in the middle.
const MOST_FALL: f64 = 1.2;
/// Rounds in which what is off the surface loses weight, and how far off that is, in logarithms.
const ROUNDS: usize = 8;
const OFF: f64 = 0.06;
/// A colour of which the table sends back less than this of its strongest.
const FAINT: f64 = 0.25;
/// Ninths of the picture that the table must show in for a plane, and for a curved surface.
const NINTHS: [usize; 2] = [4, 7];
/// A paper from this level of linear light on is too bright to tell its colour.
const FULL: f64 = 0.96;
/// Minkowski's exponent of the mean that stands for white where none is known (Finlayson and Trezzi, 2004).
const SHADES: f64 = 6.0;
/// How much of what that says is believed.
const BELIEVED: f64 = 0.5;

/// Red against blue of a white sheet from which on a lamp is taken to light it too, and alone: phones take out most.
const WARM: [f64; 2] = [1.15, 1.35];
/// What a surface would send back in daylight, by what it does in a lamp's light, white staying white: that of the likeliest
/// reflectance, neighbouring wavelengths 10 nm apart being alike by 0.95 (Pratt and Mancill, 1976, from memory: a Markov
/// process),/// for CIE illuminants A and D65. `tests/swatch` works it out again.
pub const BY_DAY: [[f64; 3]; 3] = [[0.8452, 0.1835, -0.0287], [-0.0376, 1.0178, 0.0198], [0.0168, -0.0287, 1.0119]];

/// The light of a photo.
pub(super) struct Light {
    /// Logarithm of light for each colour over the picture, from -1 to 1 across and down: 1, x, y, xx, xy, yy.
    surface: [[f64; 6]; 3],
    /// What each colour is multiplied by where the surface is 0.
    white: [f64; 3],
    pub known: Known,
    /// How much of the light is a lamp's, 0 to 1.
    lamp: f64,
}

/// What is known of white.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Known {
    /// Whether anything neutral is.
    pub neutral: bool,
    /// Whether it is too bright.
    pub bright: bool,
    /// The strongest colour of light against the weakest.
    pub cast: f64,
}

impl Light {
    /// The light of a photo by its table's blocks and by what is neutral: that, and its pixels.
    pub fn of(view: &View, table: &[usize], neutral: &[(Neutral, Vec<usize>)]) -> Self {
        let surface = surface(view, table);
        let mut light = Self { surface, white: [1.0; 3], known: Known::default(), lamp: 0.0 };
        let sheets = neutral.iter().filter(|(_, pixels)| !pixels.is_empty());
        let sheets: Vec<([f64; 3], f64)> = sheets.map(|(what, pixels)| light.sheet(view, *what, pixels)).collect();
        let count = sheets.len() as f64;
        light.known.neutral = !sheets.is_empty();
        light.known.bright = sheets.iter().any(|(_, raw)| *raw >= FULL);
        let seen = match light.known.neutral {
            true => [0, 1, 2].map(|i| exp(sheets.iter().map(|(white, _)| log(white[i])).sum::<f64>() / count)),
            false => light.shades(view),
        };
        light.white = seen.map(|seen| 1.0 / seen);
        let (least, most) = (seen.iter().copied().fold(f64::MAX, f64::min), seen.iter().copied().fold(0.0, f64::max));
        if light.known.neutral {
            light.lamp = ((seen[0] / seen[2].max(DARKEST) - WARM[0]) / (WARM[1] - WARM[0])).clamp(0.0, 1.0);
        }
        light.known.cast = most / least.max(DARKEST);
        light
    }

    /// What white would be by a sheet, and the brightest of its colours as photographed.
    fn sheet(&self, view: &View, what: Neutral, pixels: &[usize]) -> ([f64; 3], f64) {
        let sends = if matches!(what, Neutral::Paper(_) | Neutral::PaperIn(_)) { PAPER } else { CARD };
        let each = |i: usize| {
            let mut evened: Vec<f64> = pixels.iter().map(|&at| view.light[at][i] * self.even(view, at)[i]).collect();
            middling(&mut evened)
        };
        let raw = |i: usize| middling(&mut pixels.iter().map(|&at| view.light[at][i]).collect::<Vec<_>>());
        let bright = [0, 1, 2].map(raw).into_iter().fold(0.0, f64::max);
        ([0, 1, 2].map(|i| (each(i) / sends).max(DARKEST)), bright)
    }

    /// White by the picture alone: the cast of its brighter parts, believed by half, and no lighter or darker.
    fn shades(&self, view: &View) -> [f64; 3] {
        let step = (view.light.len() / 20_000).max(1);
        let mut sums = [0.0; 3];
        for at in (0..view.light.len()).step_by(step) {
            let even = self.even(view, at);
            (0..3).for_each(|i| sums[i] += crate::measure::math::pow((view.light[at][i] * even[i]).max(0.0), SHADES));
        }
        let cast = sums.map(|sum| log(sum.max(1e-12)) / SHADES);
        let mean = cast.iter().sum::<f64>() / 3.0;
        cast.map(|cast| exp(BELIEVED * (cast - mean)))
    }

    /// What evens light out at a pixel.
    fn even(&self, view: &View, pixel: usize) -> [f64; 3] {
        let (x, y) = ((pixel % view.width) as f64 + 0.5, (pixel / view.width) as f64 + 0.5);
        self.even_at(x / view.width as f64, y / view.height as f64)
    }

    fn even_at(&self, x: f64, y: f64) -> [f64; 3] {
        let terms = terms(x, y);
        self.surface.map(|of| exp(-dot(&of, &terms).clamp(-MOST_FALL, MOST_FALL)))
    }

    /// What light at a place, in fractions of the picture, would be in even daylight.
    pub fn evened(&self, [x, y]: [f64; 2], light: [f64; 3]) -> [f64; 3] {
        let even = self.even_at(x, y);
        let even = [0, 1, 2].map(|i| light[i] * even[i] * self.white[i]);
        let by_day = BY_DAY.map(|row| dot(&row, &even));
        [0, 1, 2].map(|i| even[i] + self.lamp * (by_day[i] - even[i]))
    }
}

fn terms(x: f64, y: f64) -> [f64; 6] {
    let (x, y) = (2.0 * x - 1.0, 2.0 * y - 1.0);
    [1.0, x, y, x * x, x * y, y * y]
}

fn dot<const N: usize>(one: &[f64; N], other: &[f64; N]) -> f64 {
    one.iter().zip(other).map(|(one, other)| one * other).sum()
}

fn middling(values: &mut [f64]) -> f64 {
    values.sort_by(f64::total_cmp);
    values.get(values.len() / 2).copied().unwrap_or(1.0)
}

/// How light falls off over the table, for each colour; 0 on the whole.
fn surface(view: &View, table: &[usize]) -> [[f64; 6]; 3] {
    let blocks = &view.blocks;
    let (width, height) = (view.width as f64, view.height as f64);
    let mut points: Vec<([f64; 6], [f64; 3])> = Vec::new();
    let mut ninths = [0_usize; 9];
    for &block in table {
        let (column, row) = blocks.at(block);
        let (left, top) = (column * BLOCK, row * BLOCK);
        let (right, bottom) = ((left + BLOCK).min(view.width), (top + BLOCK).min(view.height));
        let mut sum = [0.0; 3];
        for at in (top..bottom).flat_map(|y| (left..right).map(move |x| y * view.width + x)) {
            (0..3).for_each(|i| sum[i] += view.light[at][i]);
        }
        let count = ((right - left) * (bottom - top)) as f64;
        let (x, y) = ((left + right) as f64 / 2.0 / width, (top + bottom) as f64 / 2.0 / height);
        ninths[((x * 3.0) as usize).min(2) + 3 * ((y * 3.0) as usize).min(2)] += 1;
        points.push((terms(x, y), sum.map(|sum| log((sum / count).max(DARKEST)))));
    }
    let shown = ninths.iter().filter(|&&count| count * 40 >= table.len().max(1)).count();
    let used = match shown {
        shown if points.len() < 60 || shown < NINTHS[0] => 1,
        shown if shown < NINTHS[1] => 3,
        _ => 6,
    };
    let level = |i: usize| middling(&mut points.iter().map(|(_, values)| values[i]).collect::<Vec<_>>());
    let levels = [0, 1, 2].map(level);
    let brightest = (0..3).max_by(|&a, &b| levels[a].total_cmp(&levels[b])).unwrap_or(0);
    // Of a colour that the table hardly sends back, its light says nothing.
    let by = |i: usize| if levels[i] - levels[brightest] < log(FAINT) { brightest } else { i };
    [0, 1, 2].map(by).map(|i| {
        let of: Vec<(&[f64; 6], f64)> = points.iter().map(|(terms, values)| (terms, values[i])).collect();
        let mut fitted = fitted(&of, used);
        let mean = of.iter().map(|(terms, _)| dot(&fitted, terms)).sum::<f64>() / of.len().max(1) as f64;
        fitted[0] -= mean;
        if used == 1 { [0.0; 6] } else { fitted }
    })
}

/// The surface of so many terms through most of the points: what lies off it, as in shade, loses weight (Tukey).
fn fitted(points: &[(&[f64; 6], f64)], used: usize) -> [f64; 6] {
    let mut surface = [0.0; 6];
    let mut weights = vec![1.0; points.len()];
    for round in 0..ROUNDS {
        let mut rows = [[0.0; 7]; 6];
        for ((terms, value), weight) in points.iter().zip(&weights) {
            for i in 0..used {
                (0..used).for_each(|j| rows[i][j] += weight * terms[i] * terms[j]);
                rows[i][6] += weight * terms[i] * value;
            }
        }
        surface = solved(rows, used);
        let mut off: Vec<f64> = points.iter().map(|(terms, value)| (value - dot(&surface, terms)).abs()).collect();
        let mut sorted = off.clone();
        // Narrower round by round, down to what most points are within.
        let wide = (4.0 * middling(&mut sorted)).max(OFF) * (1.0 + 2.0 / (1.0 + round as f64));
        off.iter_mut().for_each(|off| *off = squared((1.0 - squared(*off / wide)).max(0.0)));
        weights = off;
    }
    surface
}

/// Equations solved by elimination; a row that says nothing gives 0.
fn solved(mut rows: [[f64; 7]; 6], used: usize) -> [f64; 6] {
    for i in 0..used {
        let pivot = (i..used).max_by(|&a, &b| rows[a][i].abs().total_cmp(&rows[b][i].abs())).unwrap_or(i);
        rows.swap(i, pivot);
        if rows[i][i].abs() < 1e-9 {
            continue;
        }
        for j in (0..used).filter(|&j| j != i) {
            let factor = rows[j][i] / rows[i][i];
            (0..7).for_each(|k| rows[j][k] -= factor * rows[i][k]);
        }
    }
    std::array::from_fn(|i| if i < used && rows[i][i].abs() >= 1e-9 { rows[i][6] / rows[i][i] } else { 0.0 })
}
