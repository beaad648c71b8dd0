//! Printed cloth of published reflectances, under published light.

use rowscape::fabric::Rgb;

/// Dice with a seed (Steele, Lea and Flood, 2014: SplitMix).
pub struct Dice(pub u64);

impl Dice {
    pub fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^ (mixed >> 31)
    }

    pub fn below(&mut self, count: usize) -> usize {
        (self.next() % count as u64) as usize
    }

    pub fn unit(&mut self) -> f64 {
        (self.next() >> 11) as f64 / (1_u64 << 53) as f64
    }

    pub fn between(&mut self, least: f64, most: f64) -> f64 {
        least + (most - least) * self.unit()
    }

    /// About normal: twelve summed up.
    pub fn normal(&mut self) -> f64 {
        (0..12).map(|_| self.unit()).sum::<f64>() - 6.0
    }
}

/// A place's own number, 0 to 1.
pub fn noise(seed: u64, x: i64, y: i64) -> f64 {
    let mixed = seed ^ (x as u64).wrapping_mul(0x9e37_79b9) ^ (y as u64).wrapping_mul(0xc2b2_ae3d_27d4_eb4f);
    Dice(mixed).unit()
}

/// Which light the cloth lies in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Under {
    Daylight,
    Lamp,
}

/// Linear sRGB, unclamped, of the reflectances under a light, and of a perfect white.
pub struct Spectra {
    pub colours: Vec<[f64; 3]>,
    pub white: [f64; 3],
}

fn table(text: &str) -> Vec<Vec<f64>> {
    let lines = text.lines().filter(|line| !line.starts_with('#')).skip(1);
    lines.map(|line| line.split(',').map(|number| number.parse().unwrap()).collect()).collect()
}

pub fn spectra(under: Under) -> Spectra {
    let samples = table(include_str!("../data/reflectances.csv"));
    let light = table(include_str!("../data/light.csv"));
    let column = if under == Under::Daylight { 4 } else { 5 };
    let full: f64 = light.iter().map(|row| row[column] * row[2]).sum();
    let xyz = |reflected: &dyn Fn(usize) -> f64| {
        [1, 2, 3]
            .map(|i| light.iter().enumerate().map(|(at, row)| reflected(at) * row[column] * row[i]).sum::<f64>() / full)
    };
    // A phone knows lamps: it takes their colours to daylight before it balances white.
    let seen = |reflected: &dyn Fn(usize) -> f64| linear(adapted(xyz(reflected), xyz(&|_| 1.0)));
    Spectra { colours: samples.iter().map(|sample| seen(&|at| sample[at + 1])).collect(), white: seen(&|_| 1.0) }
}

/// From one white to that of D65 (Lam, 1985: the Bradford transform).
fn adapted(xyz: [f64; 3], white: [f64; 3]) -> [f64; 3] {
    const CONES: [[f64; 3]; 3] = [[0.8951, 0.2664, -0.1614], [-0.7502, 1.7135, 0.0367], [0.0389, -0.0685, 1.0296]];
    const BACK: [[f64; 3]; 3] =
        [[0.986_993, -0.147_054, 0.159_963], [0.432_305, 0.518_36, 0.049_291], [-0.008_529, 0.040_043, 0.968_487]];
    let by =
        |matrix: [[f64; 3]; 3], of: [f64; 3]| matrix.map(|row| row.iter().zip(of).map(|(a, b)| a * b).sum::<f64>());
    let (seen, from, to) = (by(CONES, xyz), by(CONES, white), by(CONES, [0.950_47, 1.0, 1.088_83]));
    by(BACK, [0, 1, 2].map(|i| seen[i] * to[i] / from[i]))
}

/// `BY_DAY` by its definition: of all reflectances that a lamp shows so, the likeliest, shown by day.
#[test]
fn by_day_a_lamp_s_colours_are_those_of_the_likeliest_reflectance() {
    const ALIKE: f64 = 0.95;
    // Against how wavelengths go together, any lightness of the whole is as likely as another.
    const WHOLE: f64 = 1e3;
    let light = table(include_str!("../data/light.csv"));
    let weights = |column: usize| -> Vec<[f64; 3]> {
        let full: f64 = light.iter().map(|row| row[column] * row[2]).sum();
        light.iter().map(|row| [1, 2, 3].map(|i| row[column] * row[i] / full)).collect()
    };
    let (day, lamp) = (weights(4), weights(5));
    let together = |one: usize, other: usize| ALIKE.powi(one.abs_diff(other) as i32) + WHOLE;
    let carried: Vec<[f64; 3]> = (0..lamp.len())
        .map(|one| [0, 1, 2].map(|i| (0..lamp.len()).map(|other| together(one, other) * lamp[other][i]).sum()))
        .collect();
    let seen = |weights: &[[f64; 3]], of: &dyn Fn(usize) -> f64| {
        [0, 1, 2].map(|i| weights.iter().enumerate().map(|(at, weight)| weight[i] * of(at)).sum::<f64>())
    };
    let rows = [0, 1, 2].map(|j| seen(&lamp, &|at| carried[at][j]));
    let white = |weights: &[[f64; 3]]| seen(weights, &|_| 1.0);
    for sample in [[0.4, 0.3, 0.1], [0.2, 0.3, 0.2], [0.5, 0.5, 0.05]] {
        // The reflectance that is seen so, as a sum of what is carried.
        let by = cramer(rows, sample);
        let reflected = |at: usize| (0..3).map(|j| by[j] * carried[at][j]).sum::<f64>();
        let given = linear(adapted(sample, white(&lamp)));
        let expected = linear(adapted(seen(&day, &reflected), white(&day)));
        for (row, expected) in rowscape::swatch::BY_DAY.iter().zip(expected) {
            let got: f64 = row.iter().zip(given).map(|(part, light)| part * light).sum();
            assert!((got - expected).abs() < 2e-4, "{got} {expected}");
        }
    }
}

/// Parts of three columns that add up to a sum (Cramer's rule).
fn cramer(columns: [[f64; 3]; 3], sum: [f64; 3]) -> [f64; 3] {
    let determinant = |[a, b, c]: [[f64; 3]; 3]| {
        a[0] * (b[1] * c[2] - b[2] * c[1]) - b[0] * (a[1] * c[2] - a[2] * c[1]) + c[0] * (a[1] * b[2] - a[2] * b[1])
    };
    [0, 1, 2].map(|i| {
        let mut with = columns;
        with[i] = sum;
        determinant(with) / determinant(columns)
    })
}

/// The cast that a lamp leaves where its light is not balanced: that of illuminant A in sRGB.
pub const LAMP: [f64; 3] = [1.82, 0.9, 0.21];

/// IEC 61966-2-1.
fn linear([x, y, z]: [f64; 3]) -> [f64; 3] {
    [3.2406 * x - 1.5372 * y - 0.4986 * z, -0.9689 * x + 1.8758 * y + 0.0415 * z, 0.0557 * x - 0.2040 * y + 1.0570 * z]
}

/// How a print is patterned.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Pattern {
    Plain,
    /// Mottled, as dyed.
    Mottled,
    Dots,
    Stripes,
    Check,
    Floral,
    LargeFloral,
}

impl Pattern {
    pub const ALL: [Self; 7] =
        [Self::Plain, Self::Mottled, Self::Dots, Self::Stripes, Self::Check, Self::Floral, Self::LargeFloral];

    pub fn busy(self) -> bool {
        !matches!(self, Self::Plain | Self::Mottled)
    }
}

/// A print: its pattern in millimetres, and the reflectances in it.
#[derive(Clone, Debug)]
pub struct Cloth {
    pub pattern: Pattern,
    pub inks: [usize; 3],
    pub pitch: f64,
    pub share: f64,
    pub seed: u64,
}

impl Cloth {
    pub fn any(dice: &mut Dice, inks: usize) -> Self {
        let pattern = Pattern::ALL[[0, 0, 1, 1, 2, 2, 3, 4, 5, 5, 5, 6][dice.below(12)]];
        let pitch = match pattern {
            Pattern::LargeFloral => dice.between(28.0, 40.0),
            Pattern::Floral => dice.between(9.0, 20.0),
            _ => dice.between(5.0, 12.0),
        };
        let inks = std::array::from_fn(|_| dice.below(inks));
        Self { pattern, inks, pitch, share: dice.between(0.3, 0.6), seed: dice.next() }
    }

    /// How much of each ink there is at a place, in millimetres.
    pub fn at(&self, x: f64, y: f64) -> [f64; 3] {
        let cell = |pitch: f64| ((x / pitch).floor(), (y / pitch).floor());
        let one = |on: bool, ink: usize| {
            let mut parts = [0.0; 3];
            parts[if on { ink } else { 0 }] = 1.0;
            parts
        };
        match self.pattern {
            Pattern::Plain => one(false, 0),
            Pattern::Mottled => {
                let (i, j) = cell(self.pitch);
                let (u, v) = (x / self.pitch - i, y / self.pitch - j);
                let corner = |di: i64, dj: i64| noise(self.seed, i as i64 + di, j as i64 + dj);
                let top = corner(0, 0) * (1.0 - u) + corner(1, 0) * u;
                let bottom = corner(0, 1) * (1.0 - u) + corner(1, 1) * u;
                let part = 0.16 * (top * (1.0 - v) + bottom * v);
                [1.0 - part, part, 0.0]
            }
            Pattern::Dots => {
                let (i, j) = cell(self.pitch);
                let (u, v) = (x / self.pitch - i - 0.5, y / self.pitch - j - 0.5);
                one((u * u + v * v).sqrt() < 0.25 + 0.2 * self.share, 1)
            }
            Pattern::Stripes => one((x / self.pitch).rem_euclid(1.0) < self.share, 1),
            Pattern::Check => {
                let on = |at: f64| f64::from((at / self.pitch).rem_euclid(1.0) < 0.5);
                let part = (on(x) + on(y)) / 2.0;
                [1.0 - part, part, 0.0]
            }
            Pattern::Floral | Pattern::LargeFloral => {
                let (i, j) = cell(self.pitch);
                for (di, dj) in (-1..=1).flat_map(|di| (-1..=1).map(move |dj| (di, dj))) {
                    let (ci, cj) = (i as i64 + di, j as i64 + dj);
                    let own = |salt: u64| noise(self.seed.wrapping_add(salt), ci, cj);
                    let (cx, cy) =
                        ((ci as f64 + 0.2 + 0.6 * own(1)) * self.pitch, (cj as f64 + 0.2 + 0.6 * own(2)) * self.pitch);
                    let turn = (y - cy).atan2(x - cx);
                    let reach = self.pitch * (0.3 + 0.2 * self.share) * (0.8 + 0.2 * (5.0 * turn + 6.0 * own(3)).cos());
                    let far = ((x - cx).powi(2) + (y - cy).powi(2)).sqrt();
                    if far < reach {
                        return one(true, if far < 0.35 * reach || own(4) < 0.3 { 2 } else { 1 });
                    }
                }
                one(false, 0)
            }
        }
    }

    /// Linear light of the print at a place.
    pub fn light(&self, colours: &[[f64; 3]], x: f64, y: f64) -> [f64; 3] {
        let parts = self.at(x, y);
        [0, 1, 2].map(|i| (0..3).map(|ink| parts[ink] * colours[self.inks[ink]][i]).sum())
    }

    /// The mean of a piece of it in daylight, as it reads.
    pub fn mean(&self, daylight: &Spectra, width: f64, height: f64) -> Rgb {
        let mut sum = [0.0; 3];
        const SIDE: usize = 120;
        for at in 0..SIDE * SIDE {
            let place = |at: usize, whole: f64| (at as f64 + 0.5) / SIDE as f64 * whole;
            let light = self.light(&daylight.colours, place(at % SIDE, width), place(at / SIDE, height));
            (0..3).for_each(|i| sum[i] += light[i] / (SIDE * SIDE) as f64);
        }
        Rgb::from_linear(sum)
    }

    /// What is seen of the middle of a piece from 2 m: each place blurred by a Gaussian of so many millimetres.
    pub fn seen_from_afar(&self, daylight: &Spectra, width: f64, height: f64, sigma: f64) -> Rgb {
        let (mut sum, mut all) = ([0.0; 3], 0.0);
        let step = 1.5;
        let (across, down) = ((width / step) as i64, (height / step) as i64);
        for (i, j) in (0..across).flat_map(|i| (0..down).map(move |j| (i, j))) {
            let (x, y) = ((i as f64 + 0.5) * step, (j as f64 + 0.5) * step);
            let off = ((x - width / 2.0).powi(2) + (y - height / 2.0).powi(2)) / (2.0 * sigma * sigma);
            let weight = (-off).exp();
            let light = self.light(&daylight.colours, x, y);
            (0..3).for_each(|k| sum[k] += weight * light[k]);
            all += weight;
        }
        Rgb::from_linear(sum.map(|sum| sum / all))
    }
}
