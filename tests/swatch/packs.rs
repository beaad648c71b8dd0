//! What is found in packs of prints, against what was laid.

use rowscape::fabric::{Rgb, ciede2000};
use rowscape::picture::{Limits, Picture};
use rowscape::swatch::{Asked, Found, Neutral, Point, Swatch, find};

use super::cloth::{Under, spectra};
use super::photo::{Lie, Photo, TALL, WIDE, photo};

/// The spread of a Gaussian on the cloth that stands for what is not told apart from 2 m: 12 minutes of arc, past
/// which patterns of cloth melt together (by eye), as a full width at half height.
pub const FROM_AFAR: f64 = 2000.0 * 12.0 / 60.0 * std::f64::consts::PI / 180.0 / 2.355;

/// Which pixels an outline holds, one in three each way.
fn covers(outline: &[Point], x: f64, y: f64) -> bool {
    let next = outline.iter().cycle().skip(1);
    let crossed = outline
        .iter()
        .zip(next)
        .filter(|(a, b)| (a.y > y) != (b.y > y) && x < (b.x - a.x) * (y - a.y) / (b.y - a.y) + a.x);
    crossed.count() % 2 == 1
}

/// The swatch that shares more than half with each print, if there is one.
pub fn matched<'a>(photo: &Photo, found: &'a Found) -> Vec<Option<&'a Swatch>> {
    const STEP: usize = 3;
    let mut own = vec![0.0_f64; photo.laid.len()];
    let mut shared = vec![vec![0.0_f64; photo.laid.len()]; found.swatches.len()];
    let mut whole = vec![0.0_f64; found.swatches.len()];
    for (x, y) in (0..WIDE).step_by(STEP).flat_map(|x| (0..TALL).step_by(STEP).map(move |y| (x, y))) {
        let shows = photo.shows[y * WIDE + x];
        if let Some(print) = shows {
            own[print] += 1.0;
        }
        let (px, py) = (x as f64 / WIDE as f64, y as f64 / TALL as f64);
        for (at, swatch) in found.swatches.iter().enumerate() {
            if covers(&swatch.outline, px, py) {
                whole[at] += 1.0;
                if let Some(print) = shows {
                    shared[at][print] += 1.0;
                }
            }
        }
    }
    (0..photo.laid.len())
        .map(|print| {
            let part = |at: usize| shared[at][print] / (own[print] + whole[at] - shared[at][print]).max(1.0);
            let best = (0..found.swatches.len()).max_by(|&a, &b| part(a).total_cmp(&part(b)))?;
            (part(best) > 0.5).then(|| &found.swatches[best])
        })
        .collect()
}

#[derive(Clone, Debug, Default)]
pub struct Tally {
    pub laid: usize,
    pub found: usize,
    pub proposed: usize,
    pub off: Vec<f64>,
    pub busy: Vec<f64>,
}

impl Tally {
    pub fn add(&mut self, other: Self) {
        self.laid += other.laid;
        self.found += other.found;
        self.proposed += other.proposed;
        self.off.extend(other.off);
        self.busy.extend(other.busy);
    }

    pub fn middling(values: &[f64]) -> f64 {
        let mut sorted = values.to_vec();
        sorted.sort_by(f64::total_cmp);
        sorted.get(sorted.len() / 2).copied().unwrap_or_default()
    }

    pub fn worst(values: &[f64]) -> f64 {
        values.iter().copied().fold(0.0, f64::max)
    }

    pub fn line(&self) -> String {
        format!(
            "{:>4} of {:>4} ({:>5.1} %), {:>3} proposed, CIEDE2000 {:>5.2} median {:>5.1} worst, busy from 2 m {:>5.2} median {:>5.1} worst",
            self.found,
            self.laid,
            100.0 * self.found as f64 / self.laid.max(1) as f64,
            self.proposed,
            Self::middling(&self.off),
            Self::worst(&self.off),
            Self::middling(&self.busy),
            Self::worst(&self.busy)
        )
    }
}

pub fn asked(photo: &Photo, paper: bool) -> Asked {
    Asked { neutral: if paper { vec![Neutral::Paper(photo.paper)] } else { Vec::new() }, ..Asked::default() }
}

pub fn tally(photo: &Photo, paper: bool) -> Tally {
    let picture = Picture::decode(&photo.jpeg, &Limits::default()).unwrap();
    let found = find(&picture, &asked(photo, paper)).unwrap();
    let daylight = spectra(Under::Daylight);
    let mut tally = Tally { laid: photo.laid.len(), proposed: found.swatches.len(), ..Tally::default() };
    for (laid, swatch) in photo.laid.iter().zip(matched(photo, &found)) {
        let Some(swatch) = swatch else { continue };
        tally.found += 1;
        let sides = laid.sides.map(|side| side / 1.1);
        let mean: Rgb = laid.cloth.mean(&daylight, sides[0], sides[1]);
        tally.off.push(ciede2000(swatch.colour, mean));
        if laid.cloth.pattern.busy() {
            let afar = laid.cloth.seen_from_afar(
                &daylight,
                sides[0],
                sides[1],
                sides[0].min(sides[1]).min(6.0 * FROM_AFAR) / 2.0,
            );
            tally.busy.push(ciede2000(swatch.colour, afar));
        }
    }
    tally
}

pub fn pack(seed: u64, lie: Lie, under: Under) -> Photo {
    let most = if lie == Lie::Fanned { 24 } else { 42 };
    photo(seed, lie, under, 20 + (seed as usize * 7) % (most - 19))
}
