//! A pack of prints on a table, photographed by a phone.

use std::io::Cursor;

use image::codecs::jpeg::JpegEncoder;
use rowscape::swatch::Point;

use super::cloth::{Cloth, Dice, LAMP, Under, noise, spectra};

pub const WIDE: usize = 1200;
pub const TALL: usize = 900;
/// Pixels to a millimetre of cloth.
const PIXELS_PER_MM: f64 = 1.1;

/// How the prints lie.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Lie {
    /// In rows with gaps.
    Apart,
    /// In rows, edge to edge.
    Touching,
    /// Each a little askew.
    Askew,
    /// Overlapping, so that a strip of each shows.
    Fanned,
}

impl Lie {
    pub const ALL: [Self; 4] = [Self::Apart, Self::Askew, Self::Touching, Self::Fanned];
}

/// A print where it lies: the middle, its sides and its turn, in pixels.
#[derive(Clone, Debug)]
pub struct Laid {
    pub cloth: Cloth,
    pub middle: [f64; 2],
    pub sides: [f64; 2],
    pub turn: f64,
}

impl Laid {
    fn within(&self, x: f64, y: f64) -> Option<[f64; 2]> {
        let (dx, dy) = (x - self.middle[0], y - self.middle[1]);
        let (u, v) = (dx * self.turn.cos() + dy * self.turn.sin(), dy * self.turn.cos() - dx * self.turn.sin());
        let inside = u.abs() <= self.sides[0] / 2.0 && v.abs() <= self.sides[1] / 2.0;
        inside.then(|| [u + self.sides[0] / 2.0, v + self.sides[1] / 2.0])
    }
}

/// A photo, and what is in it.
pub struct Photo {
    pub jpeg: Vec<u8>,
    pub laid: Vec<Laid>,
    /// Which print each pixel shows.
    pub shows: Vec<Option<usize>>,
    /// The middle of the sheet of paper.
    pub paper: Point,
}

fn layout(dice: &mut Dice, lie: Lie, cloths: Vec<Cloth>) -> Vec<Laid> {
    let count = cloths.len();
    // The lower tenth is left to the table and the paper.
    let (left, top, width, height) = (50.0, 40.0, WIDE as f64 - 100.0, TALL as f64 * 0.78);
    let place = |at: usize, cloth: Cloth, dice: &mut Dice| match lie {
        Lie::Fanned => {
            let step = width / (count as f64 + 1.0);
            let lean = 0.06 * (at as f64 / count as f64 - 0.5);
            let middle = [left + step * (at as f64 + 1.5), top + height / 2.0 + dice.between(-6.0, 6.0)];
            Laid { cloth, middle, sides: [3.0 * step, height * 0.9], turn: lean }
        }
        _ => {
            let columns = ((count as f64 * width / height).sqrt().ceil() as usize).max(1);
            let rows = count.div_ceil(columns);
            let (across, down) = (width / columns as f64, height / rows as f64);
            let side = across.min(down);
            let part = if lie == Lie::Touching { 1.0 } else { dice.between(0.76, 0.9) };
            let turn = if lie == Lie::Askew { dice.between(-0.14, 0.14) } else { 0.0 };
            let (column, row) = ((at % columns) as f64, (at / columns) as f64);
            let sides = if lie == Lie::Touching { [side, side] } else { [side * part, side * dice.between(0.76, 0.9)] };
            let step = if lie == Lie::Touching { [side, side] } else { [across, down] };
            let middle = [left + (column + 0.5) * step[0], top + (row + 0.5) * step[1]];
            Laid { cloth, middle, sides, turn }
        }
    };
    cloths.into_iter().enumerate().map(|(at, cloth)| place(at, cloth, dice)).collect()
}

/// How light falls, shadows and glare, and what the phone does.
struct Scene {
    fall: [f64; 3],
    shadow: [f64; 4],
    table: usize,
    grain: [f64; 2],
    seed: u64,
}

fn smooth(from: f64, to: f64, at: f64) -> f64 {
    let part = ((at - from) / (to - from)).clamp(0.0, 1.0);
    part * part * (3.0 - 2.0 * part)
}

pub fn photo(seed: u64, lie: Lie, under: Under, count: usize) -> Photo {
    let mut dice = Dice(seed);
    let seen = spectra(under);
    let inks = seen.colours.len();
    let cloths = (0..count).map(|_| Cloth::any(&mut dice, inks)).collect();
    of_cloths(dice, lie, under, cloths)
}

pub fn of_cloths(mut dice: Dice, lie: Lie, under: Under, cloths: Vec<Cloth>) -> Photo {
    let seen = spectra(under);
    let laid = layout(&mut dice, lie, cloths);
    let scene = Scene {
        fall: [dice.between(-0.25, 0.25), dice.between(-0.25, 0.25), dice.between(0.0, 0.25)],
        shadow: [
            dice.between(0.0, 1.0) * WIDE as f64,
            dice.between(0.0, 1.0) * TALL as f64,
            dice.between(120.0, 260.0),
            dice.between(0.6, 0.9),
        ],
        table: dice.below(seen.colours.len()),
        grain: [dice.between(0.02, 0.14), dice.between(30.0, 90.0)],
        seed: dice.next(),
    };
    let folds: Vec<Option<[f64; 3]>> = laid
        .iter()
        .map(|_| {
            (dice.unit() < 0.3).then(|| [dice.between(0.2, 0.8), dice.between(-0.6, 0.6), dice.between(0.06, 0.14)])
        })
        .collect();
    let glares: Vec<Option<[f64; 2]>> =
        laid.iter().map(|_| (dice.unit() < 0.08).then(|| [dice.unit(), dice.unit()])).collect();
    let paper = [WIDE as f64 * dice.between(0.3, 0.7), TALL as f64 * 0.92];
    let mut shows = vec![None; WIDE * TALL];
    let mut pixels = vec![[0.0; 3]; WIDE * TALL];
    for (at, pixel) in pixels.iter_mut().enumerate() {
        let mut sum = [0.0; 3];
        // Two samples for each pixel.
        for (dx, dy) in [(0.25, 0.3), (0.75, 0.7)] {
            let (x, y) = ((at % WIDE) as f64 + dx, (at / WIDE) as f64 + dy);
            let on = laid.iter().enumerate().rev().find_map(|(print, laid)| Some((print, laid.within(x, y)?)));
            let cast = |far: f64| laid.iter().any(|laid| laid.within(x - far, y - far).is_some());
            let on_paper = (x - paper[0]).abs() < 85.0 && (y - paper[1]).abs() < 52.0;
            let mut light = match on {
                Some((print, [u, v])) => {
                    let laid = &laid[print];
                    let mut light = laid.cloth.light(&seen.colours, u / PIXELS_PER_MM, v / PIXELS_PER_MM);
                    if let Some([place, lean, depth]) = folds[print] {
                        let off = u - laid.sides[0] * place - lean * (v - laid.sides[1] / 2.0);
                        let shade = 1.0 + depth * (-(off / 5.0).powi(2) / 2.0).exp() * off.signum();
                        light = light.map(|light| light * shade);
                    }
                    if let Some([gx, gy]) = glares[print] {
                        let far = ((u / laid.sides[0] - gx).powi(2) + (v / laid.sides[1] - gy).powi(2)).sqrt();
                        let shine = 0.25 * (-(far / 0.15).powi(2)).exp();
                        (0..3).for_each(|i| light[i] += shine * seen.white[i]);
                    }
                    shows[at] = Some(print);
                    light
                }
                None if on_paper => seen.white.map(|white| 0.87 * white),
                None => {
                    let grain = noise(scene.seed, (x / scene.grain[1]) as i64, (y / 2.5) as i64);
                    let fine = noise(scene.seed + 1, x as i64, y as i64);
                    let shade = if cast(3.0) { 0.72 } else { 1.0 };
                    let part = shade * (1.0 + scene.grain[0] * (grain - 0.5) + 0.05 * (fine - 0.5));
                    seen.colours[scene.table].map(|light| light * part)
                }
            };
            let (across, down) = (x / WIDE as f64 - 0.5, y / TALL as f64 - 0.5);
            let fall = 1.0 + scene.fall[0] * across * 2.0 + scene.fall[1] * down * 2.0
                - scene.fall[2] * (across * across + down * down) * 2.0;
            let [sx, sy, reach, depth] = scene.shadow;
            let far = ((x - sx).powi(2) + (y - sy).powi(2)).sqrt();
            let shadow = depth + (1.0 - depth) * smooth(reach - 60.0, reach + 60.0, far);
            light = light.map(|light| light * fall * shadow);
            (0..3).for_each(|i| sum[i] += light[i] / 2.0);
        }
        *pixel = sum;
    }
    let jpeg = developed(pixels, &seen.white, under, &mut dice);
    let point = Point { x: paper[0] / WIDE as f64, y: paper[1] / TALL as f64 };
    Photo { jpeg, laid, shows, paper: point }
}

/// What a phone makes of light: balance, exposure, noise, a curve, more colour, sharper, a JPEG.
fn developed(pixels: Vec<[f64; 3]>, white: &[f64; 3], under: Under, dice: &mut Dice) -> Vec<u8> {
    // A lamp is balanced by four fifths; no light to the last step.
    let left = |i: usize| if under == Under::Lamp { (LAMP[1] / LAMP[i]).powf(0.2) } else { 1.0 };
    let balance = [0, 1, 2].map(|i| white[i] * left(i) * (0.05 * dice.normal()).exp());
    // It meters by the strongest colour, so that white is kept.
    let strongest = balance.iter().copied().fold(f64::MAX, f64::min);
    let exposure = strongest * dice.between(0.72, 0.98);
    let pixels: Vec<[f64; 3]> =
        pixels.into_iter().map(|light| [0, 1, 2].map(|i| light[i] / balance[i] * exposure)).collect();
    let pixels = blurred(&pixels, 1.0);
    let noisy: Vec<[f64; 3]> = pixels
        .into_iter()
        .map(|light| light.map(|light| light + dice.normal() * (0.00004 * light.max(0.0) + 0.00001).sqrt()))
        .collect();
    let (curve, vivid) = (dice.between(0.05, 0.3), dice.between(1.0, 1.12));
    let encode = |light: f64| {
        let light = light.clamp(0.0, 1.0);
        if light <= 0.003_130_8 { 12.92 * light } else { 1.055 * light.powf(1.0 / 2.4) - 0.055 }
    };
    let toned: Vec<[f64; 3]> = noisy
        .into_iter()
        .map(|light| {
            let level = light.map(|light| {
                let level = encode(light);
                (1.0 - curve) * level + curve * level * level * (3.0 - 2.0 * level)
            });
            let grey = 0.299 * level[0] + 0.587 * level[1] + 0.114 * level[2];
            level.map(|level| grey + vivid * (level - grey))
        })
        .collect();
    let soft = blurred(&toned, 1.5);
    let sharp = toned.iter().zip(&soft).flat_map(|(level, soft)| {
        [0, 1, 2].map(|i| ((level[i] + 0.4 * (level[i] - soft[i])).clamp(0.0, 1.0) * 255.0).round() as u8)
    });
    let bytes: Vec<u8> = sharp.collect();
    let mut jpeg = Cursor::new(Vec::new());
    let quality = 80 + dice.below(13) as u8;
    JpegEncoder::new_with_quality(&mut jpeg, quality)
        .encode(&bytes, WIDE as u32, TALL as u32, image::ExtendedColorType::Rgb8)
        .unwrap();
    jpeg.into_inner()
}

fn blurred(pixels: &[[f64; 3]], sigma: f64) -> Vec<[f64; 3]> {
    let kernel: Vec<f64> = (-3..=3).map(|at| (-(f64::from(at) / sigma).powi(2) / 2.0).exp()).collect();
    let all: f64 = kernel.iter().sum();
    let pass = |pixels: &[[f64; 3]], down: bool| -> Vec<[f64; 3]> {
        let at = |x: i64, y: i64| y.clamp(0, TALL as i64 - 1) as usize * WIDE + x.clamp(0, WIDE as i64 - 1) as usize;
        (0..pixels.len())
            .map(|pixel| {
                let (x, y) = ((pixel % WIDE) as i64, (pixel / WIDE) as i64);
                let mut sum = [0.0; 3];
                for (by, weight) in (-3..=3).zip(&kernel) {
                    let other = pixels[if down { at(x, y + by) } else { at(x + by, y) }];
                    (0..3).for_each(|i| sum[i] += weight * other[i] / all);
                }
                sum
            })
            .collect()
    };
    pass(&pass(pixels, false), true)
}
